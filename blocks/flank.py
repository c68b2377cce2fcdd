"""The side seam of a fitted bodice: one fair line through underarm, bust and waist, and on to the hip.

Drawn on the +x half as x against y: straight below the underarm, so that the armhole that leaves it squarely doesn't
dip; a cubic from there to the waist, and for a longer bodice another from waist to hip, their curvature continuous. To
the waist the line ends there without bend, as it runs nearly straight (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.shapes import Curve
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

STRAIGHT_TOP = TradeValue(45.0, "mm", "common practice", "straight for 4 to 5 cm, then square to the armhole")
"""Of a side seam below the underarm that is straight."""

MOST_STRAIGHT = TradeValue(0.3, "share", "from memory")
"""Of the way from underarm to waist that is straight at most."""


@dataclass(frozen=True, slots=True)
class Flank:
    """A side seam from ``top`` (underarm) to ``waist``, and on to ``hip`` where there is one.

    ``lean`` is the slope at the top (mm outwards per mm down); at the hip the line is upright.
    """

    top: Point
    waist: Point
    lean: float
    hip: Point | None = None

    @property
    def _knee(self) -> Point:
        """Where the straight part below the underarm ends."""
        straight = min(float(STRAIGHT_TOP), MOST_STRAIGHT * (self.top.y - self.waist.y))
        return self.top + Point(self.lean * straight, -straight)

    @property
    def waist_slope(self) -> float:
        """The slope at the waist (mm outwards per mm down)."""
        knee = self._knee
        h, x0, x1 = knee.y - self.waist.y, knee.x, self.waist.x
        if self.hip is None:
            return 1.5 * (x1 - x0) / h - self.lean / 2.0
        g = self.waist.y - self.hip.y
        rise = 3.0 * ((x1 - x0) / (h * h) + (self.hip.x - x1) / (g * g))
        return (rise - self.lean / h) / (2.0 * (1.0 / h + 1.0 / g))

    def x(self, y: float) -> float:
        """Return how far the seam lies from the centre at the height ``y``."""
        return self._at(y)[0]

    def slope(self, y: float) -> float:
        """Return the slope (mm outwards per mm down) at the height ``y``."""
        return self._at(y)[1]

    def _spans(self) -> Iterator[tuple[Point, float, Point, float]]:
        """Each stretch from the underarm down, by its ends and the slopes there."""
        knee, slope = self._knee, self.waist_slope
        yield self.top, self.lean, knee, self.lean
        yield knee, self.lean, self.waist, slope
        if self.hip is not None:
            yield self.waist, slope, self.hip, 0.0

    def _at(self, y: float) -> tuple[float, float]:
        spans = list(self._spans())
        a, sa, b, sb = next((span for span in spans if y >= span[2].y), spans[-1])
        h = a.y - b.y
        t = (a.y - y) / h
        u = 1.0 - t
        x = a.x * u * u * (1.0 + 2.0 * t) + b.x * t * t * (3.0 - 2.0 * t) + h * (sa * t * u * u - sb * t * t * u)
        slope = 6.0 * (b.x - a.x) * t * u / h + sa * u * (1.0 - 3.0 * t) + sb * t * (3.0 * t - 2.0)
        return x, slope

    def _curves(self, high: float, low: float) -> Iterator[Curve]:
        """The line from the height ``high`` down to ``low``, stretch by stretch."""
        for a, _, b, _ in self._spans():
            upper, lower = min(high, a.y), max(low, b.y)
            if upper - lower <= TOLERANCE.same_point:
                continue
            (xa, sa), (xb, sb) = self._at(upper), self._at(lower)
            third = (upper - lower) / 3.0
            yield Curve(
                Point(xa, upper),
                Point(xa + sa * third, upper - third),
                Point(xb - sb * third, lower + third),
                Point(xb, lower),
            )

    @property
    def length(self) -> float:
        """The length of the seam from underarm to waist or hip (mm)."""
        return sum(curve.length for curve in self._curves(self.top.y, self._end))

    @property
    def _end(self) -> float:
        return self.waist.y if self.hip is None else self.hip.y

    def path(self, high: float, low: float | None = None) -> Path:
        """Return the seam up to the height ``high`` from ``low`` or its end, as it stands in a ring on the +x half."""
        curves = self._curves(high, self._end if low is None else low)
        return Path.join(*(curve.path for curve in curves)).reversed()


def draw_flank(top: float, lean: float, through: Point, waist: Point, hip: Point | None) -> Flank:
    """Draw the seam from the height ``top`` through a point at the bust, the waist, and the hip where there is one.

    Where the seam starts at the top follows: it enters linearly, so two trials give it.
    """
    one = Flank(Point(through.x, top), waist, lean, hip)
    if abs(top - through.y) <= 0.0:
        return one
    gain = Flank(Point(through.x + 1.0, top), waist, lean, hip).x(through.y) - one.x(through.y)
    return Flank(Point(through.x + (through.x - one.x(through.y)) / gain, top), waist, lean, hip)
