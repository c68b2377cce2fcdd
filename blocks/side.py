"""The side seam: through the bust, waist and hip widths as one fair line."""

from __future__ import annotations

from drafting.geometry import Path, Point
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class SideSeam:
    """A side seam on the +x half, from the underarm down to the hip and on to the hem.

    Between the heights ``top``, ``waist`` and ``hip`` (y, mm, falling) it is the cubic spline in y through
    ``x_top``, ``x_waist`` and ``x_hip``, its curvature continuous; it leaves the underarm with the slope ``lean``,
    straight down where that is 0, and passes the hip with the slope ``flare`` (mm outwards per mm down), straight on
    to ``hem``.
    """

    top: float
    waist: float
    hip: float
    hem: float
    x_top: float
    x_waist: float
    x_hip: float
    flare: float
    lean: float = 0.0

    @property
    def waist_slope(self) -> float:
        """The slope at the waist (mm outwards per mm down) that makes curvature continuous there."""
        h, g = self.top - self.waist, self.waist - self.hip
        rise = 3.0 * ((self.x_waist - self.x_top) / (h * h) + (self.x_hip - self.x_waist) / (g * g))
        return (rise - self.flare / g - self.lean / h) / (2.0 * (1.0 / h + 1.0 / g))

    def x(self, y: float) -> float:
        """Return how far the seam lies from the centre at the height ``y``."""
        if y >= self.waist:
            return _hermite(self.x_top, self.lean, self.x_waist, self.waist_slope, self.top - self.waist, self.top - y)
        if y >= self.hip:
            return _hermite(
                self.x_waist, self.waist_slope, self.x_hip, self.flare, self.waist - self.hip, self.waist - y
            )
        return self.x_hip + self.flare * (self.hip - y)

    def slope(self, y: float) -> float:
        """Return the seam's slope (mm outwards per mm down) at the height ``y``."""
        step = 0.01
        return (self.x(y - step) - self.x(y + step)) / (2.0 * step)

    @property
    def path(self) -> Path:
        """The seam from the hem up to the underarm, as it stands in the ring of a piece on the +x half."""
        heights = [self.top, self.waist, self.hip, self.hem]
        slopes = [self.lean, self.waist_slope, self.flare, self.flare]
        parts = []
        for i in range(3):
            a, b = heights[i], max(heights[i + 1], self.hem)
            if a <= b:
                continue
            if b > heights[i + 1]:
                parts.append(_span(self, a, b, slopes[i], self.slope(b)))
            else:
                parts.append(_span(self, a, b, slopes[i], slopes[i + 1]))
        return Path.join(*parts).reversed()


def _hermite(x0: float, s0: float, x1: float, s1: float, h: float, down: float) -> float:
    t = down / h
    u = 1.0 - t
    return x0 * u * u * (1.0 + 2.0 * t) + x1 * t * t * (3.0 - 2.0 * t) + h * (s0 * t * u * u - s1 * t * t * u)


def _span(side: SideSeam, a: float, b: float, sa: float, sb: float) -> Path:
    h = (a - b) / 3.0
    start, end = Point(side.x(a), a), Point(side.x(b), b)
    return Path.cubic(start, start + Point(sa * h, -h), end - Point(sb * h, -h), end)


def draw_side(
    top: float,
    bust: tuple[float, float],
    waist: tuple[float, float],
    hip: tuple[float, float],
    hem: float,
    flare: float,
    lean: float = 0.0,
) -> SideSeam:
    """Draw the seam through (half width, height) at bust, waist and hip, starting at the height ``top``.

    The width at the top follows from the width wanted at the bust level: it enters linearly, so two trials give it.
    """

    def trial(x_top: float) -> SideSeam:
        return SideSeam(top, waist[1], hip[1], hem, x_top, waist[0], hip[0], flare, lean)

    one, two = trial(bust[0]), trial(bust[0] + 1.0)
    gain = two.x(bust[1]) - one.x(bust[1])
    return trial(bust[0] + (bust[0] - one.x(bust[1])) / gain)
