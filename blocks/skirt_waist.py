"""The darted waist of one half of a skirt, drawn as it is sewn: how many darts, where, how long, and the edge itself.

Between the darts each part is an arc that meets the legs square, so that the waist runs smooth once they are closed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from types import MappingProxyType

from blocks.cones import arc
from blocks.waistline import HalfWaist
from drafting.errors import CannotDraft
from drafting.garment import Face
from drafting.garment.darts import Dart, dart_name, draw_dart, intake
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_points import LEAST_DART
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

DEEPEST_ALONE = trade_table({Face.FRONT: 32.0, Face.BACK: 22.0}, "mm", "from memory")
"""At the mouth up to which one dart serves: deeper, the intake is shared by two."""

USUAL_SKIRT_DART = TradeValue(35.0, "mm", "common practice", "2.5 to 3.5 cm; beyond, a further dart")
"""At the mouth of a skirt's dart at most, where a further one can share."""

DEEPEST_SKIRT_DART = TradeValue(48.0, "mm", "from memory")
"""At the mouth of a skirt's dart at most: deeper darts poke out at their points."""

MOST_SKIRT_DARTS: Mapping[Face, int] = MappingProxyType({Face.FRONT: 2, Face.BACK: 3})
"""Darts of a half at most: over a full seat three (common practice)."""

SKIRT_DART_PLACES = {
    1: trade_row((0.5,), "share", "from memory"),
    2: trade_row((0.38, 0.70), "share", "from memory"),
    3: trade_row((0.30, 0.53, 0.76), "share", "from memory"),
}
"""Of the sewn half waist, from the centre, at which one, two or three darts stand."""

SKIRT_DART_LENGTHS = {
    Face.FRONT: trade_row((0.5, 0.45), "share", "common practice", "9 to 11 cm"),
    Face.BACK: trade_row((0.7, 0.62, 0.54), "share", "common practice", "12 to 15 cm"),
}
"""Of waist to hip that darts are long, the one nearest to the centre first."""

SKIRT_DART_SHARES = {
    1: trade_row((1.0,), "share", "derived", "all of it"),
    2: trade_row((0.55, 0.45), "share", "common practice"),
    3: trade_row((0.36, 0.34, 0.30), "share", "from memory"),
}
"""Of the intake that each dart takes out: the one near the centre is deeper, the seat is fullest there."""


@dataclass(frozen=True, slots=True)
class Spaced:
    """The darts of one half: where they stand along the sewn waist (mm from the centre), how long, how deep."""

    at: tuple[float, ...]
    lengths: tuple[float, ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class WaistEdge:
    """The waist of a half from the centre outwards: its parts, the darts between them as in the +x ring, its end."""

    parts: tuple[Path, ...]
    darts: tuple[Dart, ...]
    end: Point

    @property
    def intakes(self) -> tuple[float, ...]:
        """What each dart takes out at its mouth (mm)."""
        return tuple(map(intake, self.darts))


def space_darts(face: Face, half: HalfWaist, intake: float, fall: float) -> Spaced:
    """Place the darts that take out ``intake`` mm of a half: where the bodice's end, else by rule."""
    if intake < LEAST_DART:
        return Spaced((), (), ())
    most = MOST_SKIRT_DARTS[face]
    if intake > most * DEEPEST_SKIRT_DART:
        raise CannotDraft(
            ("waist_girth", "hip_girth"),
            say("{count} darts of {intake} each are needed in a half {face}", count=most, intake=mm(intake / most),
                face=face),
            short_by=intake - most * DEEPEST_SKIRT_DART,
            help="measure waist and hip again",
        )  # fmt: skip
    count = _count_darts(face, intake, len(half.darts))
    at = tuple(share * half.length for share in SKIRT_DART_PLACES[count])
    at = _meeting(at, half) if half.darts else at
    lengths = tuple(share * fall for share in SKIRT_DART_LENGTHS[face][:count])
    shares = tuple(SKIRT_DART_SHARES[count])
    even = half.darts and shares[0] * intake > USUAL_SKIRT_DART
    return Spaced(at, lengths, (1.0 / count,) * count if even else shares)


def _count_darts(face: Face, intake: float, theirs: int) -> int:
    """How many darts share an intake, so that none is deeper than usual where a further one may stand.

    They are as many as ``theirs``, the bodice's, or as few more as it takes, where each is worth sewing.
    """
    for count in range(theirs, MOST_SKIRT_DARTS[face] + 1) if theirs else ():
        if intake <= count * USUAL_SKIRT_DART and SKIRT_DART_SHARES[count][-1] * intake >= LEAST_DART:
            return count
    if intake <= DEEPEST_ALONE[face]:
        return 1
    deep = SKIRT_DART_SHARES[2][0] * intake > USUAL_SKIRT_DART
    return MOST_SKIRT_DARTS[face] if deep else 2


def _meeting(at: tuple[float, ...], half: HalfWaist) -> tuple[float, ...]:
    """Move darts to where the bodice's end; those left over stand evenly from there to the side."""
    theirs = half.darts[: len(at)]
    more = len(at) - len(theirs)
    step = (half.length - theirs[-1]) / (more + 1)
    return (*theirs, *(theirs[-1] + step * i for i in range(1, more + 1)))


def draw_waist(half: HalfWaist, darts: Spaced, intake: float, lean: float) -> WaistEdge:
    """Draw the waist of a half from (0, 0) outwards, its darts open.

    Each part is an arc: it leaves a leg square, arrives at the next one square and is as long as it is sewn.
    """
    opened = [math.asin(share * intake / 2.0 / size) for share, size in zip(darts.shares, darts.lengths, strict=True)]
    leaves, arrives = (0.0, *opened), (*opened, math.atan(lean))
    at = Point(0.0, 0.0)
    parts, drawn = [], []
    for i, (a, b) in enumerate(pairwise((0.0, *darts.at, half.length))):
        parts.append(_arc_between(at, -leaves[i], arrives[i], b - a))
        at = parts[-1].end
        if i < len(opened):
            down = Point(math.sin(opened[i]), -math.cos(opened[i])) * darts.lengths[i]
            far = Point(at.x + 2.0 * down.x, at.y)
            drawn.append(draw_dart(dart_name("skirt"), far, at + down, at))
            at = far
    return WaistEdge(tuple(parts), tuple(drawn), at)


def _arc_between(start: Point, leaves: float, arrives: float, length: float) -> Path:
    """Return the arc of ``length`` mm from ``start``, leaving and arriving in directions given from +x (rad)."""
    sweep = arrives - leaves
    if abs(sweep) < TOLERANCE.tangent / 10.0:
        return Path.straight(start, start + Point.polar(leaves, length))
    flat = arc(Point(0.0, length / abs(sweep)), length / abs(sweep), abs(sweep))
    if sweep < 0.0:
        flat = flat.reflected(Point(0.0, 0.0), Point(1.0, 0.0))
    return flat.turned(leaves).moved(start)
