"""A front armhole as a cutter draws it: from the shoulder's end in to the narrowest place, and from there round.

    part                    rule                                                                      source
    the narrowest place     half the across front, at 0.47 of the armhole's height: lower, to 0.36,   common practice:
                            where on a narrow front the upper part would slant too much; higher, to   0.40 to 0.55
                            0.60, where a wide one hardly comes in from the shoulder
    a front as wide as      through half the across front, at 0.47 again; it leans in there, and is   common practice
    the shoulders, or       narrowest higher up: a broad chest is no narrower for short shoulders
    wider
    from there down         a quarter of a round, its handles about half of the way in and up, as     from memory
                            an ellipse's; shorter in where it would be longer than the back's
    from there up           leaves upright, arrives square to the shoulder                            common practice

Both parts bend alike where they meet, so that no place shows.
"""

from __future__ import annotations

import math

from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.redraw.shapes.curve import Curve, gentle_handle
from drafting.trade import TradeValue, trade_row

NARROWEST = trade_row((0.36, 0.47, 0.60), "share", "common practice", "0.40 to 0.55")
"""Of its height above the underarm at which a front armhole is narrowest: at least, usually, and at most."""

SLANTS = trade_row((0.28, 0.40, 0.85), "share", "derived", "by drawing: half is an arc")
"""Of the shoulder's slope, that the upper part of a front armhole slants inwards by: at least, with less it would turn
in close to the shoulder; with so much it isn't narrowest higher than usual; and at most, with more it bends back."""

ROUNDS = trade_row((0.36, 0.54), "share", "derived", "by drawing: with more it bends most in two places")
"""Of the way in from the side that the handle at the underarm takes: at least, and usually."""

LONGEST_IN = TradeValue(0.75, "share", "derived", "by drawing")
"""Of that way at most, where a narrow armhole must turn gently enough at the underarm to be sewn."""

ROUND_UP = TradeValue(0.51, "share", "derived", "by drawing")
"""Of the way up to the narrowest place that the handle below it takes."""

HELD_AT_TOP = TradeValue(0.33, "share", "derived", "a third: as even as a cubic is")
"""Of the upper part's height that its handle at the shoulder takes."""

EVEN = TradeValue(0.8, "share", "derived", "by drawing")
"""Of what an armhole comes in by, that its handle at the shoulder comes in at most."""

MOST_LEANT = TradeValue(0.6, "share", "derived", "by drawing: with more it is all but straight below")
"""Of the way in from the side that an armhole which leans in at its across width may lean back out below it at most."""

LEAST_LEAN = TradeValue(0.02, "share", "derived", "a degree: a shoulder that is all but level")
"""Of its length that the handle at the shoulder comes in at least, where it is counted with."""


@dataclass(frozen=True, slots=True)
class HollowCurve:
    """Two cubics that meet at the across width: ``lower`` from the underarm, ``upper`` to the shoulder."""

    lower: Curve
    upper: Curve

    @property
    def length(self) -> float:
        """The arc length (mm)."""
        return self.lower.length + self.upper.length

    @property
    def path(self) -> Path:
        """The curve as a path."""
        return Path.join(self.lower.path, self.upper.path)

    def sheared(self, shear: Affine) -> HollowCurve:
        """Return the curve sheared along its levels."""
        lower, upper = (Curve(*(shear.apply(p) for p in (k.a, k.b, k.c, k.d))) for k in (self.lower, self.upper))
        return HollowCurve(lower, upper)

    def x_at_level(self, y: float) -> float:
        """Return x where the curve crosses the level ``y``."""
        return (self.lower if y <= self.lower.d.y else self.upper).x_at_level(y)


def place_across(underarm: Point, shoulder: Point, slope: float, across: float) -> Point:
    """Return where a front armhole passes half its width across, ``across`` (mm), or as near to it as it comes.

    It is narrowest there, where that is in from the shoulder's end by a little at least; and no farther in than its
    upper part may slant from there.
    """
    up, slope_in = shoulder.y - underarm.y, max(math.tan(slope), LEAST_LEAN)
    slant = (shoulder.x - across) / (slope_in * up)
    (least, usual, most), (flat, even, steep) = NARROWEST, SLANTS
    within = usual + (most - usual) * min(max(slant / (flat * (1.0 - most)), 0.0), 1.0)
    height = max(min(max(usual, 1.0 - slant / even), within, 1.0 - slant / steep), least)
    return Point(max(across, shoulder.x - steep * (1.0 - height) * slope_in * up), underarm.y + height * up)


def hollow_curve(
    underarm: Point, leave: Point, across: Point, shoulder: Point, slope: float, full: float, radii: tuple[float, float]
) -> HollowCurve:
    """Draw the armhole from the underarm, left in the direction ``leave``, through its across width to the shoulder.

    ``full`` is the share of its handle at the underarm; ``radii`` (mm) its least there, and what it is rounded to where
    the handle is no longer than usual for that. One that leans in at the across width is one upright there, sheared:
    what is a fair curve stays one.
    """
    lean = _lean_in(underarm, across, shoulder, slope)
    shear = Affine(xy=lean, dx=-lean * across.y)
    away, sheared = Point(leave.x + lean * leave.y, leave.y), math.atan(math.tan(slope) + lean)
    curve = _draw_upright(shear.apply(underarm), away, across, shear.apply(shoulder), sheared, full, radii)
    return curve.sheared(Affine(xy=-lean, dx=lean * across.y)) if lean else curve


def _lean_in(underarm: Point, across: Point, shoulder: Point, slope: float) -> float:
    """How much (mm per mm up) an armhole leans in at its across width, where it couldn't come in above it as it should.

    By as much as its upper part slants inwards by the least beside the leaning line.
    """
    flat, high = SLANTS[0], shoulder.y - across.y
    wanted = (flat * max(math.tan(slope), LEAST_LEAN) - (shoulder.x - across.x) / high) / (1.0 - flat)
    return min(max(wanted, 0.0), MOST_LEANT * (underarm.x - across.x) / (across.y - underarm.y))


def _draw_upright(
    underarm: Point,
    leave: Point,
    narrowest: Point,
    shoulder: Point,
    slope: float,
    full: float,
    radii: tuple[float, float],
) -> HollowCurve:
    """Draw an armhole that stands upright where it is narrowest."""
    up, arrive = Point(0.0, 1.0), Point(1.0, 0.0).turned(-slope).left
    down = ROUND_UP * (narrowest.y - underarm.y)
    way = underarm.x - narrowest.x
    least, rounder = (gentle_handle(r, abs((narrowest - up * down - underarm).cross(leave.unit))) for r in radii)
    reach = min(max(full * way, least, min(rounder, ROUNDS[1] * way)), LONGEST_IN * way)
    lower = Curve.leaving(underarm, leave, reach, narrowest, up, down)
    bend = max(lower.b.x - narrowest.x, 0.0) / (down * down)
    return HollowCurve(lower, _draw_upper(narrowest, bend, shoulder, arrive))


def _draw_upper(narrowest: Point, bend: float, shoulder: Point, arrive: Point) -> Curve:
    """The upper part, bent at the narrowest place as the lower is, so that it turns one way only if it can.

    It does where its handle at the narrowest place ends below the tangent at the shoulder.
    """
    across, high, lean = shoulder.x - narrowest.x, shoulder.y - narrowest.y, max(arrive.x, LEAST_LEAN)
    room = max(high - across * arrive.y / lean, (1.0 - SLANTS[2]) * high)
    hold = max(min(HELD_AT_TOP * high, EVEN * across / lean), (across - bend * room * room) / lean)
    aside = max(across - arrive.x * hold, 0.0)
    return Curve.leaving(narrowest, Point(0.0, 1.0), math.sqrt(aside / bend), shoulder, arrive, hold)
