"""The darted waist of one half of a skirt, drawn as it is sewn: how many darts, where, how long, and the edge itself.

Between the darts each part is an arc that meets the legs square, so that the waist runs smooth once they are closed.
"""

from __future__ import annotations

import math
from itertools import pairwise

from blocks.cones import arc
from blocks.waistline import HalfWaist
from drafting.errors import CannotDraft
from drafting.garment import Face
from drafting.garment.darts import Dart, dart_name, draw_dart, intake
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

LEAST_SKIRT_DART = TradeValue(7.0, "mm", "from memory")
"""At the mouth of a skirt's dart at least: less isn't worth a dart, and goes into the side seam."""

DEEPEST_ALONE = trade_table({Face.FRONT: 32.0, Face.BACK: 22.0}, "mm", "from memory")
"""At the mouth up to which one dart serves: deeper, the intake is shared by two."""

DEEPEST_SKIRT_DART = TradeValue(48.0, "mm", "from memory")
"""At the mouth of a skirt's dart at most: deeper darts poke out at their points."""

SKIRT_DART_PLACES = {
    "one dart": trade_row((0.5,), "share", "from memory"),
    "two darts": trade_row((0.38, 0.70), "share", "from memory"),
}
"""Of the sewn half waist, from the centre, at which darts stand."""

SKIRT_DART_LENGTHS = {
    Face.FRONT: trade_row((0.5, 0.45), "share", "common practice", "9 to 11 cm"),
    Face.BACK: trade_row((0.7, 0.62), "share", "common practice", "12 to 15 cm"),
}
"""Of waist to hip that darts are long, the one nearest to the centre first."""

SKIRT_DART_SHARES = trade_row((0.55, 0.45), "share", "common practice")
"""Of the intake that each of two darts takes out: the one near the centre is deeper, the seat is fullest there."""


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
    if intake < LEAST_SKIRT_DART:
        return Spaced((), (), ())
    count = 1 if intake <= DEEPEST_ALONE[face] else 2
    if intake > 2.0 * DEEPEST_SKIRT_DART:
        raise CannotDraft(
            ("waist_girth", "hip_girth"),
            say("two darts of {intake} each are needed in a half {face}", intake=mm(intake / 2.0), face=face),
            short_by=intake - 2.0 * DEEPEST_SKIRT_DART,
            help="measure waist and hip again",
        )
    at = tuple(share * half.length for share in SKIRT_DART_PLACES["one dart" if count == 1 else "two darts"])
    if half.darts:
        at = _meeting(at, half)
    lengths = tuple(share * fall for share in SKIRT_DART_LENGTHS[face][: len(at)])
    shares = (1.0,) if len(at) == 1 else SKIRT_DART_SHARES
    return Spaced(at, lengths, shares)


def _meeting(at: tuple[float, ...], half: HalfWaist) -> tuple[float, ...]:
    """Move darts to where the bodice's end; what is left over stands halfway from there to the side."""
    theirs = half.darts[:2]
    if len(at) <= len(theirs):
        return theirs[: len(at)]
    return (theirs[0], (theirs[0] + half.length) / 2.0)


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
