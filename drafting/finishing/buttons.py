"""Buttonholes as they are printed: a line from end to end; buttons stay marked points."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.finishing.cutpiece import Mark
from drafting.garment import Piece
from drafting.garment.buttons import buttonholes

KIND = "buttonhole"


def buttonhole_marks(piece: Piece) -> Iterator[Mark]:
    """Yield a mark for each buttonhole of a piece, from its outer to its inner end."""
    return (Mark(KIND, name, path) for name, path in buttonholes(piece.drills).items())
