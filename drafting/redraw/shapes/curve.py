"""Single curves that the blocks draw, with what a solve needs of them worked out quickly.

A cutter's curve here is one cubic: two ends, a direction and a reach at each. One cubic has no kink and no bump,
and bends back at most once, so it is fair by construction.
"""

from __future__ import annotations

import math

from drafting.geometry import Path, Point
from drafting.geometry.measure import TWELVE, Coefficients, arc, coefficients, place, velocity
from drafting.geometry.solve import newton
from drafting.record import dataclass


def gentle_handle(radius: float, aside: float) -> float:
    """Return how long (mm) a handle is for its curve to start with the least radius.

    The curvature at an end is 2/3 of how far (mm) the other handle lies ``aside``, over the square of this end's own.
    """
    return math.sqrt(radius * aside / 1.5)


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

    @property
    def coefs(self) -> Coefficients:
        """The curve as two cubic polynomials."""
        return coefficients([[p.x, p.y] for p in (self.a, self.b, self.c, self.d)])

    def at(self, t: float) -> Point:
        """Return the point at parameter ``t`` (0..1)."""
        return Point(*place(self.coefs, t))

    def x_at_level(self, y: float) -> float:
        """Return x where the curve, whose y goes one way only, crosses the level ``y``."""
        k = self.coefs

        def rise(t: float) -> tuple[float, float]:
            return place(k, t)[1] - y, velocity(k, t)[1]

        return place(k, newton(rise, 0.0, 1.0, rising=self.d.y > self.a.y))[0]

    def parted(self, t: float) -> tuple[Curve, Curve]:
        """Return both parts of the curve, parted at parameter ``t`` (0..1)."""
        ab, bc, cd = self.a.to(self.b, t), self.b.to(self.c, t), self.c.to(self.d, t)
        abc, bcd = ab.to(bc, t), bc.to(cd, t)
        middle = abc.to(bcd, t)
        return Curve(self.a, ab, abc, middle), Curve(middle, bcd, cd, self.d)

    def y_at(self, x: float) -> float:
        """Return y where the curve, whose x goes one way only, has this x."""
        k = self.coefs

        def run(t: float) -> tuple[float, float]:
            return place(k, t)[0] - x, velocity(k, t)[0]

        return place(k, newton(run, 0.0, 1.0, rising=self.d.x > self.a.x))[1]

    @property
    def least_x(self) -> float:
        """The least x on the curve (mm)."""
        a, b, c, d = self.a.x, self.b.x, self.c.x, self.d.x
        # The slope is (b-a)(1-t)^2 + 2(c-b)(1-t)t + (d-c)t^2, but for a factor.
        square, line, rest = (b - a) - 2.0 * (c - b) + (d - c), 2.0 * ((c - b) - (b - a)), b - a
        under = line * line - 4.0 * square * rest
        half = -0.5 * (line + math.copysign(math.sqrt(max(under, 0.0)), line))
        turns = ([half / square] if square else []) + ([rest / half] if half else [])
        return min(a, d, *(self.at(t).x for t in turns if 0.0 < t < 1.0))

    @property
    def length(self) -> float:
        """The arc length (mm), to about a micrometre for the plain curves drawn here."""
        return arc(self.coefs, 0.0, 1.0, TWELVE)

    @property
    def path(self) -> Path:
        """The curve as a path."""
        return Path.cubic(self.a, self.b, self.c, self.d)
