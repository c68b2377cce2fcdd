"""Whose side is whose: words and marks that keep a lopsided piece from being cut turned over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafting.finishing.allowance import NetEdge
from drafting.finishing.cutpiece import Mark
from drafting.garment import Piece, Side
from drafting.geometry import Path

INSIDE = 16.0
"""How far inside its edge the note of a side stands (mm)."""

LONG = 45.0
"""How long the line is along which the note is written (mm)."""


def side_words(piece: Piece) -> str:
    """Return whose side a piece belongs to, "" if to both."""
    return f"wearer's {piece.side}" if piece.side is not Side.NONE else ""


def side_marks(piece: Piece, edges: Sequence[NetEdge]) -> Iterator[Mark]:
    """A note beside the longest edge of the wearer's left, and of the right, on a piece that has both."""
    if piece.side is Side.NONE and {Side.LEFT, Side.RIGHT} <= {edge.side for edge in edges}:
        for side in (Side.LEFT, Side.RIGHT):
            longest = max((e for e in edges if e.side is side), key=lambda e: e.path.length)
            yield Mark("side", f"wearer's {side} this side", _beside(longest.path))


def _beside(path: Path) -> Path:
    """A short straight line inside the middle of an edge, along it."""
    middle = path.length / 2.0
    along = path.tangent(middle)
    half = along * (min(LONG, path.length) / 2.0)
    at = path.at(middle) + along.left * INSIDE
    return Path.straight(at - half, at + half)
