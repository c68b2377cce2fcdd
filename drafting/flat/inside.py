"""What is seen of the face that is turned away: its neck above that in front, and a hem that is longer."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from drafting.flat.bands import draw_bands
from drafting.flat.laying import FaceLay, is_lower, move_shapes, see_through
from drafting.flat.shapes import FlatKind, FlatShape, Points, join_points
from drafting.garment import Garment, Role


def draw_inside(garment: Garment, lay: FaceLay, behind: FaceLay) -> Iterator[FlatShape]:
    """Yield the wrong side of the face behind where it is seen from this one, its bands with it."""
    neck = see_through(lay, behind, Role.NECKLINE)
    if neck is not None:
        yield from _between(garment, behind, Role.NECKLINE, *neck)
    hem = see_through(lay, behind, Role.HEM)
    if hem is not None and is_lower(hem[1], hem[0]):
        yield from _between(garment, behind, Role.HEM, *hem)


def _between(
    garment: Garment, behind: FaceLay, role: Role, own: Points, other: Points, move: Callable[[Points], Points]
) -> Iterator[FlatShape]:
    yield FlatShape(FlatKind.INSIDE, join_points([other, own[::-1]]))
    yield FlatShape(FlatKind.EDGE, other)
    bands = draw_bands(garment, behind.names, behind.lies, frozenset({role}))
    for shape in move_shapes(bands, move):
        yield replace(shape, kind=FlatKind.INSIDE, piece="") if shape.kind is FlatKind.CLOTH else shape
