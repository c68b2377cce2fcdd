"""Tests of finishing."""
