"""Tests of the lay: parts on the cloth."""
