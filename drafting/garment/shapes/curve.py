"""Single curves that the blocks draw, with what a solve needs of them worked out quickly.

A cutter's curve here is one cubic: two ends, a direction and a reach at each. One cubic has no kink and no bump,
and bends back at most once, so it is fair by construction.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from drafting.geometry import Path, Point

# Gauss-Legendre, 12 nodes on [0, 1] (half of the symmetric table), for lengths inside a solve.
_HALF = (
    (0.1252334085114689, 0.2491470458134028),
    (0.3678314989981802, 0.2334925365383548),
    (0.5873179542866175, 0.2031674267230659),
    (0.7699026741943047, 0.1600783285433462),
    (0.9041172563704749, 0.1069393259953184),
    (0.9815606342467192, 0.0471753363865118),
)
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
        low, high = 0.0, 1.0
        rising = self.d.y > self.a.y
        for _ in range(60):
            middle = (low + high) / 2.0
            if (self._y(middle) < y) == rising:
                low = middle
            else:
                high = middle
        return self.at((low + high) / 2.0).x

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

    def _y(self, t: float) -> float:
        u = 1.0 - t
        return u * u * u * self.a.y + 3.0 * u * u * t * self.b.y + 3.0 * u * t * t * self.c.y + t * t * t * self.d.y

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
