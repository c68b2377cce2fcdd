"""Lines within a piece that was cut open: bridged across the gaps, and drawn to edges that were drawn again."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from drafting.garment.edges import DRAWN_ON
from drafting.geometry import Path, Point, nearest_to
from drafting.redraw.truing import Part
from drafting.tolerance import TOLERANCE


def bridged(path: Path, parts: Sequence[Part]) -> Path:
    """Return the moved stretches of a level, with straight lines across what opened between them."""
    moved = [path.between(part.low, part.high).transformed(part.move) for part in parts]
    out = [moved[0]]
    for one, two in pairwise(moved):
        if one.end.distance(two.start) > TOLERANCE.joint:
            out.append(Path.straight(one.end, two.start))
        out.append(two)
    return Path.join(*out)


def meets(path: Path, chords: Sequence[tuple[Point, Point]]) -> list[float]:
    """Return the lengths, in order, at which a path crosses straight chords; straight by straight in closed form."""
    if not path.is_straight:
        return sorted(c.s for chord in chords for c in path.crossings(Path.straight(*chord)))
    a, along = path.start, path.end - path.start
    length, found = along.length, []
    for start, end in chords:
        across, gap = end - start, start - a
        square = along.cross(across)
        if abs(square) > TOLERANCE.same_point * length * across.length:
            t, u = gap.cross(across) / square, gap.cross(along) / square
            if 0.0 < t < 1.0 and 0.0 < u < 1.0:
                found.append(t * length)
    return sorted(found)


def drawn_to(path: Path, edge: Path, at_end: bool) -> Path:
    """Draw a path on, or cut it back, at one end to an edge near it."""
    tip = path.end if at_end else path.start
    long = path.extended(0.0 if at_end else DRAWN_ON, DRAWN_ON if at_end else 0.0)
    near = [c for c in long.crossings(edge) if c.point.distance(tip) <= DRAWN_ON]
    if not near:
        return path
    found = min(near, key=nearest_to(tip))
    return long.between(0.0, found.s) if at_end else long.between(found.s, long.length)
