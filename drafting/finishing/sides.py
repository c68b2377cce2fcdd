"""Whose side is whose: words and marks that keep a lopsided piece from being cut turned over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafting.finishing.allowance import NetEdge
from drafting.finishing.cutpiece import Mark
from drafting.garment import Piece, Side
from drafting.geometry import Path, Point
from drafting.trade import TradeValue

LONG_EDGE = TradeValue(60.0, "mm", "derived", "by drawing")
"""Of edge: a shorter one comes last in telling a side."""

OUTER = TradeValue(0.25, "share", "derived", "by drawing")
"""Of the way between the two sides, from the middle, beyond which an edge stands for its side."""


def side_words(piece: Piece) -> str:
    """Return whose side a piece belongs to, "" if to both."""
    return f"wearer's {piece.side}" if piece.side is not Side.NONE else ""


def side_marks(piece: Piece, edges: Sequence[NetEdge]) -> Iterator[Mark]:
    """The edges beside which a piece that has both says whose side is whose: those farthest out first."""
    if piece.side is Side.NONE and {Side.LEFT, Side.RIGHT} <= {edge.side for edge in edges}:
        left, right = (_longest_first(edges, side) for side in (Side.LEFT, Side.RIGHT))
        a, b = _middle_of(left[0]), _middle_of(right[0])
        across = piece.grain.unit.right
        across = across * (a - b).dot(across)
        for side, paths, way in ((Side.LEFT, left, across), (Side.RIGHT, right, -across)):
            outwards = [((_middle_of(path) - a.to(b, 0.5)).dot(way), path) for path in paths]
            kept = [(out, path) for out, path in outwards if path is paths[0] or out >= OUTER * way.dot(way)]
            for _, path in sorted(kept, key=lambda each: (each[1].length < LONG_EDGE, -each[0])):
                yield Mark("side", f"wearer's {side}", path)


def _longest_first(edges: Sequence[NetEdge], side: Side) -> list[Path]:
    return sorted((edge.path for edge in edges if edge.side is side), key=lambda path: -path.length)


def _middle_of(path: Path) -> Point:
    return path.at(path.length / 2.0)
