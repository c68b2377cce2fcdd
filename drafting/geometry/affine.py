"""Affine maps of the plane: moves, turns and reflections."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from drafting.errors import NoAnswer
from drafting.geometry.point import Point
from drafting.record import dataclass

ORIGIN = Point(0.0, 0.0)


def lengths_along(points: npt.NDArray[np.float64], way: Point) -> npt.NDArray[np.float64]:
    """Return how far along a unit direction each of an array of points, shape (..., 2), lies from the origin (mm)."""
    along: npt.NDArray[np.float64] = points[..., 0] * way.x + points[..., 1] * way.y
    return along


@dataclass(frozen=True, slots=True)
class Affine:
    """The map (x, y) -> (xx*x + xy*y + dx, yx*x + yy*y + dy); ``Affine()`` leaves everything where it is.

    >>> Affine.turn(math.pi / 2, Point(1, 0)).apply(Point(2, 0)).near(Point(1, 1))
    True
    """

    xx: float = 1.0
    xy: float = 0.0
    dx: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    dy: float = 0.0

    @staticmethod
    def move(by: Point) -> Affine:
        """Return the translation by a vector (mm)."""
        return Affine(dx=by.x, dy=by.y)

    @staticmethod
    def turn(angle: float, about: Point = ORIGIN) -> Affine:
        """Return the turn by ``angle`` radians, anticlockwise positive, about a fixed point."""
        c, s = math.cos(angle), math.sin(angle)
        return Affine(c, -s, about.x - c * about.x + s * about.y, s, c, about.y - s * about.x - c * about.y)

    @staticmethod
    def mirror(x: float = 0.0) -> Affine:
        """Return the reflection in the vertical line at ``x`` (mm)."""
        return Affine(xx=-1.0, dx=2.0 * x)

    @staticmethod
    def reflect(a: Point, b: Point) -> Affine:
        """Return the reflection in the line through two points; a GeometryError if they are one point."""
        if a == b:
            raise NoAnswer("a line of reflection needs two different points")
        u = (b - a).unit
        c, s = u.x * u.x - u.y * u.y, 2.0 * u.x * u.y
        return Affine(c, s, a.x - c * a.x - s * a.y, s, -c, a.y - s * a.x + c * a.y)

    def then(self, other: Affine) -> Affine:
        """Return the map that applies this one first and ``other`` afterwards."""
        o = other
        return Affine(
            o.xx * self.xx + o.xy * self.yx,
            o.xx * self.xy + o.xy * self.yy,
            o.xx * self.dx + o.xy * self.dy + o.dx,
            o.yx * self.xx + o.yy * self.yx,
            o.yx * self.xy + o.yy * self.yy,
            o.yx * self.dx + o.yy * self.dy + o.dy,
        )

    def apply(self, point: Point) -> Point:
        """Return the image of a point."""
        x, y = point.x, point.y
        return Point(self.xx * x + self.xy * y + self.dx, self.yx * x + self.yy * y + self.dy)

    def apply_all(self, points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Return the images of an array of points, shape (..., 2)."""
        x, y = points[..., 0], points[..., 1]
        moved = np.empty_like(points, dtype=np.float64)
        moved[..., 0] = self.xx * x + self.xy * y + self.dx
        moved[..., 1] = self.yx * x + self.yy * y + self.dy
        return moved

    @property
    def flips(self) -> bool:
        """Whether the map turns the plane over (a mirror does, a turn does not)."""
        return self.xx * self.yy - self.xy * self.yx < 0.0
