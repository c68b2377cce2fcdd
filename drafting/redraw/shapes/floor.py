"""The floor of an armhole: level beside the side seam, so that front and back run into each other as a round.

    part                    rule                                                                      source
    the floor               square to the side seam, 4 mm up at most after 2 cm along it; where that  from memory
                            falls, over half of its fall
    from there up           to the across width, where it runs on as the armhole above it: as it was  derived
                            without its floor, and as much bent

The armhole keeps its ends, its across width and all that lies above it.
"""

from __future__ import annotations

import math

import numpy as np

from drafting.geometry import Path, Point, root, turn
from drafting.geometry.fair import STRAIGHT, peaks
from drafting.geometry.measure import place, velocity
from drafting.geometry.solve import newton
from drafting.redraw.shapes.curve import Curve, gentle_handle
from drafting.redraw.shapes.hollow import HollowCurve
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

FLOOR_LONG, FLOOR_RISES = (
    TradeValue(20.0, "mm", "from memory", "level for 1.5 to 2 cm"),
    TradeValue(4.0, "mm", "from memory", "0.4 cm at most"),
)
"""Of an armhole beside its side seam that is its floor, and by how much that rises at most, square to the seam."""

DRAWN_RISES = TradeValue(3.8, "mm", "derived", "what no tape shows below that")
"""By how much a floor rises that is drawn."""

FARTHEST_ALONG = TradeValue(0.88, "share", "derived", "by drawing: its turn keeps a radius of 1.7 cm")
"""Of the way along the floor to where the armhole's line at its across width meets it, that the handle there takes."""

MOST_UPRIGHT, LESS_HELD = (
    TradeValue(0.95, "share", "derived", "by drawing: with more it bends back"),
    TradeValue(0.4, "share", "derived", "by drawing: it is straight for less beside the shoulder"),
)
"""Of the way from its own direction at the across width to that of its handle at the shoulder, by which an armhole
stands up there for its floor at most; and by what share that handle becomes shorter."""

STRAIGHTER = trade_row(
    (0.15, 0.08, 0.04, 0.02, 0.0, 0.3, 0.5), "share", "derived", "by drawing: in turn, until it bends most once"
)
"""By which the handle at the across width is longer, of an armhole drawn with a floor."""

STRAIGHTENED = TradeValue(4.0, "times", "derived", "by drawing: a low floor bends most twice else")
"""Of the share of a floor that is drawn, the share of that by which the handle is longer."""

FLOORED_RADIUS = TradeValue(17.0, "mm", "derived", "from the allowance")
"""Of radius at least that an armhole keeps where it is drawn anew for its floor: as a woven's at its ends."""

FARTHEST_DOWN = TradeValue(0.85, "share", "derived", "by drawing")
"""Of the way down from the across width to the floor that the handle there takes at most."""


def rise_of_floor(path: Path) -> float:
    """Return by how much (mm) a path that leaves an underarm rises over its floor."""
    s = min(float(FLOOR_LONG), path.length)
    way = _floor_way(path.tangent(0.0).unit)
    return way.cross(path.at(s) - path.start) * math.copysign(1.0, way.cross(path.end - path.start))


def _floor_way(out: Point) -> Point:
    """The direction (a unit vector) of the floor of a path that leaves an underarm in the direction ``out``.

    It leaves the side seam squarely; from a side that leans it would dip, and hook up to that, so that half of what it
    falls is taken off it (from memory: lowest at the side or a little before it).
    """
    return Point(out.x, out.y / 2.0).unit if out.y < 0.0 else out


def has_floor(path: Path) -> bool:
    """Return whether a path that leaves an underarm has a floor there."""
    return rise_of_floor(path) <= FLOOR_RISES


def lay_floor(curve: Curve, level: float) -> Curve | HollowCurve:
    """Return the armhole with a floor, through its across width at the ``level`` (mm, y); as it is where it has one.

    First the turn beside the floor is drawn tighter; where that isn't enough the armhole stands more upright at the
    across width, too. One that is too narrow for a floor has as much of it as leaves its turn gentle enough.
    """
    if _rise(curve) <= DRAWN_RISES:
        return curve
    first, *others = STRAIGHTER
    usual = _lay(curve, level, first)
    if _bends_once(usual):
        return usual
    return next((way for by in others if _bends_once(way := _lay(curve, level, by))), usual)


def _bends_once(curve: Curve | HollowCurve) -> bool:
    parts = (curve,) if isinstance(curve, Curve) else (curve.lower, curve.upper)
    return peaks(np.array([bend for part in parts for bend in _bends(part, SEEN_AT)]), STRAIGHT / 2.0) <= 1


def _lay(curve: Curve, level: float, straighter: float) -> Curve | HollowCurve:
    """Lay the floor; the handle above the across width longer by a share of it, or ``straighter``."""
    lower, upper = curve.parted(_t_at_level(curve, level))
    own = lower.a.distance(lower.b)

    def draw(share: float) -> HollowCurve:
        above = _stand_up(_less_bent(upper, straighter * min(STRAIGHTENED * share, 1.0)), max(share - 1.0, 0.0))
        return HollowCurve(_draw_below(lower, above, own, min(share, 1.0)), above)

    def over(share: float) -> float:
        return _rise(draw(share).lower) - DRAWN_RISES

    if over(0.0) <= 0.0:
        return curve
    share = 2.0 if over(2.0) >= 0.0 else root(over, 0.0, 2.0, within=TOLERANCE.joint / 1000.0)[0]
    if _tightest(draw(share).lower) < FLOORED_RADIUS:
        # A narrow armhole turns up beside its floor at once: it has as much of one as leaves it a gentle turn.
        found = [(_tightest(draw(share * k / TURN_TRIALS).lower), k) for k in range(TURN_TRIALS + 1)]
        share *= max(found, key=lambda each: (min(each[0], float(FLOORED_RADIUS)), each[1]))[1] / TURN_TRIALS
    return draw(share)


TURN_TRIALS = 12
"""Shares of a floor that are tried where the armhole turns tightly."""


SEEN_AT = 40
"""Places on each part of an armhole at which its bends are taken."""


def _tightest(curve: Curve) -> float:
    """The least radius of a curve (mm), at most that of the places where it is taken."""
    return 1.0 / max(*_bends(curve, TURN_TRIALS), TOLERANCE.tangent)


def _bends(curve: Curve, count: int) -> list[float]:
    """How much a curve is bent (1/mm), from its start to its end."""
    k, found = curve.coefs, []
    for t in (i / count for i in range(count + 1)):
        (dx, dy), ddx, ddy = velocity(k, t), 6.0 * k[0] * t + 2.0 * k[2], 6.0 * k[1] * t + 2.0 * k[3]
        found.append(abs(dx * ddy - dy * ddx) / math.hypot(dx, dy) ** 3)
    return found


def _less_bent(upper: Curve, share: float) -> Curve:
    """The part above the across width, its handle there longer by a share: less bent, so that it bends least there."""
    return Curve(upper.a, upper.a + (upper.b - upper.a) * (1.0 + share), upper.c, upper.d)


def _stand_up(upper: Curve, share: float) -> Curve:
    """The part above the across width, leaving it by a share of what it may more towards the shoulder's end."""
    if share == 0.0:
        return upper
    out, c = upper.b - upper.a, upper.d.to(upper.c, 1.0 - share * LESS_HELD)
    b = upper.a + out.turned(share * MOST_UPRIGHT * turn(out, c - upper.a))
    hold = upper.d - upper.c
    least = gentle_handle(FLOORED_RADIUS, abs((b - upper.d).cross(hold.unit)))
    return Curve(upper.a, b, upper.d - hold.unit * min(max(upper.d.distance(c), least), hold.length), upper.d)


def _draw_below(lower: Curve, above: Curve, own: float, share: float) -> Curve:
    """The part below the across width, its handle at the underarm longer than its ``own`` by a share of what it may.

    It ends as much bent as what is ``above`` begins.
    """
    out, along = (lower.b - lower.a).unit, (above.b - above.a).unit
    turns, bend = out.cross(along), _bend_at_end(Curve(above.d, above.c, above.b, above.a))
    way, height = ((lower.d - lower.a).cross(along) / turns, out.cross(lower.d - lower.a) / turns)
    reach = own + share * max(FARTHEST_ALONG * way - own, 0.0)
    most = FARTHEST_DOWN * height
    down = min(math.sqrt(abs((way - reach) * turns) / (1.5 * bend)), most) if bend > 0.0 else most
    return Curve.leaving(lower.a, out, reach, lower.d, along, down)


def _t_at_level(curve: Curve, y: float) -> float:
    k = curve.coefs

    def rise(t: float) -> tuple[float, float]:
        return place(k, t)[1] - y, velocity(k, t)[1]

    return newton(rise, 0.0, 1.0, rising=True)


def _rise(curve: Curve) -> float:
    """By how much (mm) a curve rises over its floor, as far off its start in a straight line."""
    k, out = curve.coefs, (curve.b - curve.a).unit

    def beyond(t: float) -> tuple[float, float]:
        (x, y), (dx, dy) = place(k, t), velocity(k, t)
        x, y = x - curve.a.x, y - curve.a.y
        return x * x + y * y - FLOOR_LONG * FLOOR_LONG, 2.0 * (x * dx + y * dy)

    way, end = _floor_way(out), Point(*place(k, newton(beyond, 0.0, 1.0, rising=True)))
    return way.cross(end - curve.a) * math.copysign(1.0, way.cross(curve.d - curve.a))


def _bend_at_end(curve: Curve) -> float:
    """How much a curve is bent where it ends (1/mm)."""
    last = curve.d - curve.c
    return abs((curve.c - curve.b).cross(last.unit)) / (1.5 * last.length * last.length)
