"""Figures of speed and size, as ratios within one run: ``python -m tests.bench``."""
