"""Single curves that the blocks draw, with what a solve needs of them worked out quickly.

A cutter's curve here is one cubic: two ends, a direction and a reach at each. One cubic has no kink and no bump,
and bends back at most once, so it is fair by construction.
"""

from __future__ import annotations

import math

from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

# Gauss-Legendre, 12 nodes on [0, 1] (half of the symmetric table), for lengths inside a solve.
_HALF = (
    (0.1252334085114689, 0.2491470458134028),
    (0.3678314989981802, 0.2334925365383548),
    (0.5873179542866175, 0.2031674267230659),
    (0.7699026741943047, 0.1600783285433462),
    (0.9041172563704749, 0.1069393259953184),
    (0.9815606342467192, 0.0471753363865118),
)
_SAME = TOLERANCE.same_point * TOLERANCE.same_point / 100.0  # of a parameter between 0 and 1
_NODES = tuple(((1.0 + s * x) / 2.0, w / 2.0) for x, w in _HALF for s in (-1.0, 1.0))


@dataclass(frozen=True, slots=True)
class Curve:
    """A cubic from ``a`` to ``d`` with handles ``b`` and ``c`` (mm)."""

    a: Point
    b: Point
    c: Point
    d: Point

    @staticmethod
    def leaving(a: Point, out: Point, reach: float, d: Point, arrive: Point, hold: float) -> Curve:
        """Leave ``a`` in direction ``out`` for ``reach`` mm; arrive at ``d`` along ``arrive`` over ``hold`` mm."""
        return Curve(a, a + out.unit * reach, d - arrive.unit * hold, d)

    def at(self, t: float) -> Point:
        """Return the point at parameter ``t`` (0..1)."""
        u = 1.0 - t
        p, q, r, s = u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t
        return Point(
            p * self.a.x + q * self.b.x + r * self.c.x + s * self.d.x,
            p * self.a.y + q * self.b.y + r * self.c.y + s * self.d.y,
        )

    def x_at_level(self, y: float) -> float:
        """Return x where the curve, whose y goes one way only, crosses the level ``y``."""
        c0, c1, c2 = self.a.y - y, 3.0 * (self.b.y - self.a.y), 3.0 * (self.a.y - 2.0 * self.b.y + self.c.y)
        c3 = self.d.y - self.a.y + 3.0 * (self.b.y - self.c.y)
        rising = self.d.y > self.a.y
        low, high, t = 0.0, 1.0, 0.5
        for _ in range(60):  # Newton's steps, halving where one would leave the bracket
            f = c0 + t * (c1 + t * (c2 + t * c3))
            if (f < 0.0) == rising:
                low = t
            else:
                high = t
            slope = c1 + t * (2.0 * c2 + t * 3.0 * c3)
            step = t - f / slope if slope else low
            if not low < step < high:
                step = (low + high) / 2.0
            if abs(step - t) <= _SAME:
                break
            t = step
        return self.at(step).x

    def parameter_at_x(self, x: float) -> float:
        """Return the parameter (0..1) at which the curve, whose x goes one way only, has this x."""
        low, high = 0.0, 1.0
        rising = self.d.x > self.a.x
        for _ in range(60):
            middle = (low + high) / 2.0
            if (self.at(middle).x < x) == rising:
                low = middle
            else:
                high = middle
        return (low + high) / 2.0

    @property
    def length(self) -> float:
        """The arc length (mm), to about a micrometre for the plain curves drawn here."""
        ex, ey = self.b.x - self.a.x, self.b.y - self.a.y
        fx, fy = self.c.x - self.b.x, self.c.y - self.b.y
        gx, gy = self.d.x - self.c.x, self.d.y - self.c.y
        total = 0.0
        for t, weight in _NODES:
            u = 1.0 - t
            p, q, r = u * u, 2.0 * u * t, t * t
            total += weight * math.hypot(p * ex + q * fx + r * gx, p * ey + q * fy + r * gy)
        return 3.0 * total

    @property
    def path(self) -> Path:
        """The curve as a path."""
        return Path.cubic(self.a, self.b, self.c, self.d)
