"""The side seam of a fitted bodice: one fair line through underarm, bust and waist, and on to the hip.

Drawn on the +x half as x against y: a cubic from underarm to waist, and for a longer bodice another from waist to hip,
their curvature continuous. To the waist the line ends there without bend, as it runs nearly straight (common practice).
"""

from __future__ import annotations

from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.shapes import Curve


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
    def waist_slope(self) -> float:
        """The slope at the waist (mm outwards per mm down)."""
        h, x0, x1 = self.top.y - self.waist.y, self.top.x, self.waist.x
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

    def _at(self, y: float) -> tuple[float, float]:
        if y >= self.waist.y or self.hip is None:
            a, sa, b, sb = self.top, self.lean, self.waist, self.waist_slope
        else:
            a, sa, b, sb = self.waist, self.waist_slope, self.hip, 0.0
        h = a.y - b.y
        t = (a.y - y) / h
        u = 1.0 - t
        x = a.x * u * u * (1.0 + 2.0 * t) + b.x * t * t * (3.0 - 2.0 * t) + h * (sa * t * u * u - sb * t * t * u)
        slope = 6.0 * (b.x - a.x) * t * u / h + sa * u * (1.0 - 3.0 * t) + sb * t * (3.0 * t - 2.0)
        return x, slope

    def curve(self, high: float, low: float) -> Curve:
        """Return the line from the height ``high`` down to ``low``, both above the waist or both below it."""
        (xa, sa), (xb, sb) = self._at(high), self._at(low)
        third = (high - low) / 3.0
        return Curve(
            Point(xa, high),
            Point(xa + sa * third, high - third),
            Point(xb - sb * third, low + third),
            Point(xb, low),
        )

    @property
    def length(self) -> float:
        """The length of the seam from underarm to waist or hip (mm)."""
        upper = self.curve(self.top.y, self.waist.y).length
        return upper if self.hip is None else upper + self._lower.length

    @property
    def _lower(self) -> Curve:
        """The line from the waist, itself included, down to the hip."""
        assert self.hip is not None
        a, b, sa = self.waist, self.hip, self.waist_slope
        third = (a.y - b.y) / 3.0
        return Curve(a, Point(a.x + sa * third, a.y - third), Point(b.x, b.y + third), b)

    def path(self, high: float) -> Path:
        """Return the seam from its lower end up to the height ``high``, as it stands in a ring on the +x half."""
        upper = self.curve(high, self.waist.y).path
        return (Path.join(upper, self._lower.path) if self.hip is not None else upper).reversed()


def draw_flank(top: float, lean: float, through: Point, waist: Point, hip: Point | None) -> Flank:
    """Draw the seam from the height ``top`` through a point at the bust, the waist, and the hip where there is one.

    Where the seam starts at the top follows: it enters linearly, so two trials give it.
    """
    one = Flank(Point(through.x, top), waist, lean, hip)
    if abs(top - through.y) <= 0.0:
        return one
    gain = Flank(Point(through.x + 1.0, top), waist, lean, hip).x(through.y) - one.x(through.y)
    return Flank(Point(through.x + (through.x - one.x(through.y)) / gain, top), waist, lean, hip)
