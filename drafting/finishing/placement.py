"""Where an applied piece is to lie, marked on the piece beneath: its outline there, and a point at each end of it.

The points are marked on the cloth (a tack or a drilled hole, common practice); the line between them is the opening.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.finishing.clipping import clip_paths
from drafting.finishing.cutpiece import Mark
from drafting.garment import Applied, Piece
from drafting.geometry import Array, Point
from drafting.saying import Name, say
from drafting.sides import sideless

KIND = "placement"


def placement_marks(piece: Piece, polygon: Array) -> Iterator[Mark]:
    """Yield where each applied piece lies, cut to what is shown of the net outline, a polygon."""
    applied = piece.of_kind(Applied)
    for each, kept in zip(applied, clip_paths([each.path for each in applied], polygon), strict=True):
        yield from (Mark(KIND, _words(each), path) for path in kept)


def placement_points(piece: Piece) -> tuple[tuple[str, Point], ...]:
    """Return the ends of each applied piece's opening, to be marked on the cloth."""
    return tuple((_words(each), at) for each in piece.of_kind(Applied) for at in (each.path.start, each.path.end))


def _words(each: Applied) -> str:
    return str(say("{name:spoken} here", name=Name(sideless(each.name))))
