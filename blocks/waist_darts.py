"""Waist shaping: how the suppression is shared over side seam and darts, and the waist line drawn through the darts.

The whole suppression of a half block is (bust + ease - waist - ease) / 2 (derived); this page shares it out:

    where               takes                                                              source
    side seam           the first 20 mm, then a fifth of the rest, at most 50 mm           common practice
    front dart          what leaves the waist a quarter and 1 cm: half of the darts, more  common practice
                        by what the bust is fuller in front, less 1 cm; at most 35 mm
    a shaped front      1.5 cm at least, half of little; up to 2.5 cm before the back      from memory
                        gets a second dart
    over a belly        the waist has 2.5 cm more in front: the front few or none          from memory
    back dart           what is left; two where it is more than 35 mm, 11 to 9             common practice
    to a waist seam     two in the back from 21 mm on, where the seat is so full that a    from memory
                        skirt has two
    less than 1 cm      isn't worth a dart: the side of the same half takes it; from half  common practice
                        of that on the front has one of 1 cm, where the back keeps one
    a back without      where the seat is fuller than the waist it keeps a dart of 12 to   from memory
                        14 mm, and the side seam gives it
    to a full hip       where the side would stand out from waist to hip by more than      from memory
                        45 mm on each face, the darts take more, and the side less

A waist that is wider than the bust has no darts, and the side seams run outwards.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from drafting.garment.darts import Dart, dart_name, draw_dart, draw_inner_dart
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.redraw.dart_points import FRONT_OF_WAIST_DARTS, LEAST_DART, SHAPED_FRONT, SHARED_BY_TWO, SIDE_MOST
from drafting.redraw.hemline import LEVEL_RISE
from drafting.redraw.shapes import Curve, gentle_handle
from drafting.trade import TradeValue, trade_row

FIRST_AT_SIDE = TradeValue(20.0, "mm", "from memory")
"""Of a half's waist suppression that the side seam takes first, front and back edge together."""
MOST_AT_SIDE = TradeValue(50.0, "mm", "from memory")
"""Of a half's waist suppression that the side seam takes at most, front and back edge together."""

LEAST_AT_SIDE = TradeValue(5.0, "mm", "from memory", "a side nearly straight down to the waist")
"""Of a half's waist suppression that the side seam keeps over a full hip, front and back edge together."""

SIDE_OF_REST = TradeValue(0.2, "share", "from memory")
"""Of what is over that the side seam takes too."""

FRONT_WAIST_MORE = trade_row((10.0, 25.0), "mm", "common practice", "1 cm; over a belly 2 to 3 cm (from memory)")
"""By which a front's half waist is more than a quarter of the waist, and a back's less: flat, and over a belly."""

USUAL_WAIST_DART = TradeValue(35.0, "mm", "common practice", "3 to 3.5 cm")
"""Of intake in one waist dart at most, where another can share."""
MOST_IN_DART = TradeValue(37.0, "mm", "from memory")
"""Of intake at most in the waist dart of a front."""
MOST_IN_BACK = TradeValue(67.0, "mm", "from memory")
"""Of intake at most in a half back's two waist darts."""

GREATEST_SUPPRESSION = TradeValue(
    MOST_AT_SIDE + MOST_IN_DART + MOST_IN_BACK,
    "mm",
    "derived",
    "the side seam and three darts, each at its most",
)
"""Of a half's waist suppression at most that can be shared out."""

MOST_OF_FRONT = TradeValue(0.5, "share", "common practice", "the back takes as much or more")
"""Of what the waist darts of a half take in that its front's takes at most."""

FIRST_BACK_SHARE = TradeValue(0.55, "share", "from memory")
"""Of what two darts of a back take in that the first, near the centre, has."""

KEPT_BACK_SHARE = TradeValue(0.5, "share", "from memory")
"""Of what a half back's hip is more than its waist that it keeps as a dart where the bust leaves none."""
KEPT_BACK = trade_row((12.0, 14.0), "mm", "from memory", "1.5 cm; one of 1 cm isn't worth its work there")
"""Of intake at least and at most of such a dart."""

FRONT_OF_SPARED = TradeValue(0.37, "share", "common practice", "the back takes 1.5 to 2 times what the front does")
"""Of what the darts take in over a full hip that the front's do, at least."""

SWINGS_APART = TradeValue(15.0, "mm", "from memory", "a side that swings out behind alone twists the seam")
"""By which one face's side stands out from waist to hip beyond the other's at most."""

FULL_SEAT = TradeValue(34.0, "mm", "common practice", "a skirt's dart takes out 3.5 cm at most")
"""Of what darts take out between waist and hip in a half back, from which a skirt has two of them there."""

SEAT_AT_SIDE = TradeValue(1.0 / 3.0, "share", "common practice")
"""Of a half back's suppression between waist and hip that the side seam takes."""

WAIST_RADIUS = TradeValue(17.0, "mm", "derived", "from the allowance of 1.5 cm")
"""Of radius at least where the waist bends to meet the side: its allowance may lie inside the turn."""

_TURNS = 4  # the mouth's height settles in two or three


@dataclass(frozen=True, slots=True)
class Suppression:
    """What each place takes in of a half's waist (mm): ``side`` over both edges, the darts' intakes, a centre back.

    Of the side the front's edge takes half and what it is ``ahead``, the back's as much less.
    """

    side: float
    front: float = 0.0
    back: float = 0.0
    second: float = 0.0
    centre: float = 0.0
    ahead: float = 0.0

    @property
    def whole(self) -> float:
        """All of it."""
        return self.side + self.front + self.back + self.second + self.centre

    @property
    def back_alone(self) -> bool:
        """Whether the back has a dart, no deeper than one that is kept there, and the front none."""
        return self.front == 0.0 < self.back <= KEPT_BACK[1] and self.second == 0.0


def share(whole: float, fuller: float = 0.0, flat: float = 1.0) -> Suppression:
    """Share out a half's waist suppression of ``whole`` mm; more than ``GREATEST_SUPPRESSION`` is left out.

    ``fuller`` is by how much (mm) the half front is wider than the half back at the bust, ``flat`` how flat the front
    is below it: 1, or less over a belly, down to 0.
    """
    whole = min(whole, GREATEST_SUPPRESSION)
    rest = (1.0 - SIDE_OF_REST) * (whole - FIRST_AT_SIDE)
    if rest < LEAST_DART:
        return Suppression(whole)
    wanted = min(front_part(rest, fuller, flat), USUAL_WAIST_DART)
    front = worth_sewing(wanted) if rest >= 2.0 * LEAST_DART else wanted if wanted >= LEAST_DART else 0.0
    back = min(max(rest - max(wanted, front), min(rest, LEAST_DART)), MOST_IN_BACK)
    left = whole - front - back
    side = min(left, MOST_AT_SIDE if front else whole)
    front += left - side
    # What the front's dart was to take, and the back's, their own edges of the side have where the darts don't.
    ahead = ((wanted - front) - (rest - wanted - back)) / 2.0 if front < 2.0 * LEAST_DART else 0.0
    # A small rest would make a second dart not worth sewing, so the two are made 11 to 9.
    first = back if back <= USUAL_WAIST_DART else FIRST_BACK_SHARE * back
    return Suppression(side, front, first, back - first, ahead=ahead)


def worth_sewing(wanted: float) -> float:
    """Return what a dart takes in that is to take in so much (mm): ``LEAST_DART`` from half of that on, or nothing."""
    return max(wanted, LEAST_DART) if wanted >= LEAST_DART / 2.0 else 0.0


def front_part(rest: float, fuller: float, flat: float) -> float:
    """Return what the front takes of the ``rest`` (mm) that a half's darts take in, be it worth a dart or not.

    The side seam lies at a quarter of the waist with 1 cm more to the front, as at the bust it lies by ``fuller`` / 2;
    nearer to the front where that is too little for a flat one, or would give the back a second dart.
    """
    first, full = SHAPED_FRONT
    shaped = min(max(rest - USUAL_WAIST_DART, min(first, rest / 2.0)), full)
    by_side = (rest + fuller) / 2.0 - waist_forward(flat)
    front = min(max(by_side, flat * max(FRONT_OF_WAIST_DARTS[0] * rest, shaped)), MOST_OF_FRONT * rest)
    return max(front, 0.0)


def waist_forward(flat: float) -> float:
    """Return by how much (mm) a front's half waist is more than a quarter of the waist, on a front so ``flat``."""
    usual, belly = FRONT_WAIST_MORE
    return belly + flat * (usual - belly)


def keep_back_dart(taken: Suppression, hollow: float) -> Suppression:
    """Return the suppression with a dart kept in the back: its hollow over the seat is there whatever the belly is.

    ``hollow`` is by how much (mm) a half back's hip is more than its waist. What the dart takes in the side seam gives.
    """
    least, most = KEPT_BACK
    kept = min(KEPT_BACK_SHARE * hollow, most)
    if taken.back >= kept or kept < least:
        return taken
    return Suppression(taken.whole - taken.front - kept, taken.front, kept, ahead=taken.ahead)


def spare_side(taken: Suppression, hollow: float, flat: float) -> Suppression:
    """Return the suppression with more in the darts where the side would stand out too far from waist to hip.

    ``hollow`` is by how much (mm) a half's hip is more than its waist. The back takes more than the front, which takes
    none over a belly, each dart no more than usual; the side seam keeps ``LEAST_AT_SIDE``.
    """
    darts = taken.whole - taken.side
    over = min(hollow - darts - 2.0 * SIDE_MOST, taken.side - LEAST_AT_SIDE)
    if over <= 0.0:
        return taken
    front = min(max(flat * FRONT_OF_SPARED * (darts + over), taken.front), USUAL_WAIST_DART)
    # A front without one may have what the back has beyond a dart of its own.
    front = max(min(worth_sewing(front), darts + over - KEPT_BACK[0]), taken.front)
    if front < LEAST_DART:
        front = taken.front
    back = min(taken.back + taken.second + over - (front - taken.front), MOST_IN_BACK)
    first = FIRST_BACK_SHARE * back if taken.second > 0.0 or back > MOST_IN_DART else back
    ahead = 0.0 if front > taken.front == 0.0 else taken.ahead
    return Suppression(taken.whole - front - back, front, first, back - first, ahead=ahead)


def even_swings(front: float, back: float) -> float:
    """Return by how much waist and hip lie nearer to the back (mm each), for the side to stand out evenly at the hip.

    ``front`` and ``back`` are by how much (mm) each face's side stands out from waist to hip: of what they have
    together neither has more than ``SIDE_MOST``, nor much more than the other, as far as evening them out gives that.
    """
    apart = abs(front - back)
    over = min(max(max(front, back) - SIDE_MOST, (apart - SWINGS_APART) / 2.0, 0.0), apart / 2.0)
    return math.copysign(over / 2.0, front - back)


def split_over_seat(taken: Suppression, hollow: float) -> Suppression:
    """Return the suppression with the back's dart shared by two, to meet those of a skirt over a full seat.

    ``hollow`` is by how much (mm) a half back's hip is more than its waist. One stays where the second isn't worth it.
    """
    second = max((1.0 - FIRST_BACK_SHARE) * taken.back, LEAST_DART)
    if taken.second > 0.0 or taken.back < SHARED_BY_TWO or (1.0 - SEAT_AT_SIDE) * hollow <= FULL_SEAT:
        return taken
    return replace(taken, back=taken.back - second, second=second)


@dataclass(frozen=True, slots=True)
class WaistDart:
    """Where a dart at the waist is to be, upright: its middle, its intake, the heights of its upper and lower point."""

    name: str
    x: float
    intake: float
    upper: float
    lower: float

    def slope(self, y: float) -> float:
        """The slope square to its outer leg, where its mouth lies at the height ``y``."""
        return self.intake / 2.0 / (self.upper - y)

    def at_edge(self, inner: Point, outer: Point) -> Dart:
        """Draw it open in the lower edge, between the ends of its mouth nearer to the centre and to the side."""
        return draw_dart(dart_name(self.name), inner, Point(self.x, self.upper), outer)

    def within(self, y: float) -> Dart:
        """Draw it as one with two points, widest at the height ``y``."""
        reach = Point(self.intake / 2.0, 0.0)
        upper, waist, lower = (Point(self.x, height) for height in (self.upper, y, self.lower))
        return draw_inner_dart(dart_name(self.name), upper, waist - reach, lower, waist + reach)


@dataclass(frozen=True, slots=True)
class WaistLine:
    """The lower edge of a half drawn to the waist: its curves between the darts, and the height of each mouth."""

    curves: tuple[Curve, ...]
    mouths: tuple[float, ...]

    @property
    def end(self) -> Point:
        """The side's lower end."""
        return self.curves[-1].d

    @property
    def length(self) -> float:
        """The waist of the half, without the darts' intakes (mm)."""
        return sum(curve.length for curve in self.curves)


def draw_waist(
    waist: float, centre: float, darts: Sequence[WaistDart], x_side: float, slope_side: float, rise: float = 0.0
) -> WaistLine:
    """Draw the waist from the centre at the height ``centre`` to the side at ``x_side``, the darts in order between.

    The line is level at the centre, meets each leg and the side seam square, so that it runs on smoothly once the
    darts and the side are sewn; its heights are those of a line that bends evenly, but for a side's end that would
    lie farther from the body's ``waist`` than a level edge is trued by: there it bends only near the side. ``rise`` is
    by how much each place lies higher than that, per mm from the centre.
    """
    at, slope = Point(0.0, centre), 0.0
    curves: list[Curve] = []
    mouths: list[float] = []
    for dart in darts:
        x, y = dart.x - dart.intake / 2.0, at.y
        for _ in range(_TURNS):
            y = at.y + (x - at.x) * ((slope - dart.slope(y)) / 2.0 + rise)
        curves.append(_edge(at, slope, Point(x, y), -dart.slope(y)))
        mouths.append(y)
        at, slope = Point(dart.x + dart.intake / 2.0, y), dart.slope(y)
    even = at.y + (x_side - at.x) * ((slope + slope_side) / 2.0 + rise)
    end = Point(x_side, max(waist - LEVEL_RISE, min(even, waist + LEVEL_RISE)))
    held = 1.0 if end.y == even else min(abs((end.y - at.y) / (even - at.y)), 1.0)
    return WaistLine((*curves, _edge(at, slope, end, slope_side, held)), tuple(mouths))


def centre_above(dart: WaistDart, mouth: float) -> float:
    """Return the height of the waist at the centre for which the first dart's mouth lies at the height ``mouth``.

    It lies no higher above that than a level edge is trued by; the mouth then lies a little lower.
    """
    return mouth + min((dart.x - dart.intake / 2.0) * dart.slope(mouth) / 2.0, LEVEL_RISE)


def _edge(a: Point, slope_a: float, b: Point, slope_b: float, held: float = 1.0) -> Curve:
    """A stretch of the waist; the handle at its end is shortened to the share that is ``held`` of how far it falls.

    It keeps as much as leaves the turn its radius.
    """
    reach, leave, arrive = a.distance(b) / 3.0, Point(1.0, slope_a), Point(1.0, slope_b)
    gentle = gentle_handle(WAIST_RADIUS, abs((a + leave.unit * reach - b).cross(arrive.unit)))
    return Curve.leaving(a, leave, reach, b, arrive, min(max(reach * held, gentle), reach))
