"""Tests of what is sewn onto the face of a piece."""
