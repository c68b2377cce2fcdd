"""The table of fit: what is held against the body, in the order in which it is told."""

from __future__ import annotations

from drafting.garment import Brief, Garment
from drafting.proof.fit.armholes import armhole_rows
from drafting.proof.fit.levels import level_rows
from drafting.proof.fit.row import FitRow
from drafting.proof.fit.shoulders import shoulder_rows

TAKERS = (level_rows, armhole_rows, shoulder_rows)
"""What takes the figures of a garment, each of one thing."""


def fit_rows(garment: Garment, brief: Brief) -> tuple[FitRow, ...]:
    """Return all rows of a garment."""
    return tuple(row for take in TAKERS for row in take(garment, brief))
