"""The side seam: through the bust, waist and hip widths as one fair line."""

from __future__ import annotations

import math
from itertools import pairwise

from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.trade import TradeValue

WIDER_AT_TOP = TradeValue(3.0, "mm", "from memory", "from the bust up the side stands upright or leans in")
"""By which a side lies farther out at the underarm than at the bust at most."""

STEEPEST_FAIR = TradeValue(3.0, "times", "derived", "by F. N. Fritsch and R. E. Carlson 1980, for a monotone cubic")
"""Of its mean slope, that a cubic's slope at one end may be at most for it to run one way only, where it is 0 at the
other."""


NARROWER_BELOW = TradeValue(2.0, "mm", "from memory", "the waist is where a side is narrowest")
"""By which a side comes in below the waist at most, where bust and hip lie farther out and it turns at the bust."""


@dataclass(frozen=True, slots=True)
class SideSeam:
    """A side seam on the +x half, from the underarm down to the hip and on to the hem.

    Between the heights ``top``, ``bust``, ``waist`` and ``hip`` (y, mm, falling) it is cubic in y, through ``x_top``,
    ``x_bust``, ``x_waist`` and ``x_hip``; its curvature is continuous at the waist, as a rule, and at the bust where
    the waist's slope carries on above it. It leaves the underarm with the slope ``lean``, straight down where that is
    0, passes the bust with ``bust_slope`` and the hip with ``flare`` (mm outwards per mm down), straight on to ``hem``.
    """

    top: float
    bust: float
    waist: float
    hip: float
    hem: float
    x_top: float
    x_bust: float
    bust_slope: float
    x_waist: float
    x_hip: float
    flare: float
    lean: float = 0.0

    @property
    def waist_slope(self) -> float:
        """The slope at the waist (mm outwards per mm down) that makes curvature continuous there.

        Less steep where a side that turns at a low bust would come in far below the waist.
        """
        h, g = self.bust - self.waist, self.waist - self.hip
        rise = 3.0 * ((self.x_waist - self.x_bust) / (h * h) + (self.x_hip - self.x_waist) / (g * g))
        smooth = (rise - self.flare / g - self.bust_slope / h) / (2.0 * (1.0 / h + 1.0 / g))
        out = self.x_hip - self.x_waist
        if self.top == self.bust or self.x_bust < self.x_waist or out < 0.0:
            return smooth
        # With the slope s at its upper end the cubic comes in by s*s*g / (4 * (3 * out / g - 2 * s)), nearly.
        by = 4.0 * NARROWER_BELOW
        return max(smooth, -(by + math.sqrt(by * (by + 3.0 * out))) / g)

    @property
    def _knots(self) -> tuple[tuple[float, float, float], ...]:
        """Height, distance from the centre and slope at underarm, bust, waist and hip."""
        return (
            (self.top, self.x_top, self.lean),
            (self.bust, self.x_bust, self.bust_slope),
            (self.waist, self.x_waist, self.waist_slope),
            (self.hip, self.x_hip, self.flare),
        )

    def x(self, y: float) -> float:
        """Return how far the seam lies from the centre at the height ``y``."""
        for (top, x0, s0), (low, x1, s1) in pairwise(self._knots):
            if y >= low and top > low:
                return _hermite(x0, s0, x1, s1, top - low, top - y)
        return self.x_hip + self.flare * (self.hip - y)

    def slope(self, y: float) -> float:
        """Return the seam's slope (mm outwards per mm down) at the height ``y``."""
        step = 0.01
        return (self.x(y - step) - self.x(y + step)) / (2.0 * step)

    @property
    def path(self) -> Path:
        """The seam from the hem up to the underarm, as it stands in the ring of a piece on the +x half."""
        heights = [*(y for y, _, _ in self._knots), self.hem]
        slopes = [*(slope for _, _, slope in self._knots), self.flare]
        parts = []
        for i in range(len(heights) - 1):
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

    From the waist it runs on over the bust as one cubic, where that leaves it hardly farther out at the underarm. Over
    a bust that lies low, far below the underarm, it turns at the bust and stands upright from there.
    """
    across, level = bust

    def one_cubic(x_top: float, slope: float) -> SideSeam:
        return SideSeam(top, top, waist[1], hip[1], hem, x_top, x_top, slope, waist[0], hip[0], flare, slope)

    def through_bust(slope: float) -> SideSeam:
        """Where it starts enters the width at the bust linearly, so that two trials give that start."""
        one, two = one_cubic(across, slope), one_cubic(across + 1.0, slope)
        short, gain = across - one.x(level), two.x(level) - one.x(level)
        return one_cubic(across + short / gain, slope)

    upright, h = through_bust(0.0), top - level
    if upright.x_top - across <= WIDER_AT_TOP:
        return through_bust(lean)
    slope = max(upright.slope(level), -STEEPEST_FAIR * WIDER_AT_TOP / h)
    x_top = across + WIDER_AT_TOP - lean * h / 2.0
    return SideSeam(top, level, waist[1], hip[1], hem, x_top, across, slope, waist[0], hip[0], flare, lean)
