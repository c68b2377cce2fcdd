"""Tests of how files come into a folder: together or not at all, whatever fails or stops, over none but our own."""
