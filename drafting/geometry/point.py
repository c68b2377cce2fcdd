"""Points and directions of the plane, in millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterator
from math import isfinite

from drafting.errors import NoAnswer
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class Point:
    """A point or a vector (x to the viewer's right, y up), in millimetres.

    >>> Point(3, 4).length
    5.0
    >>> Point(1, 0).turned(math.pi / 2).near(Point(0, 1))
    True
    """

    x: float
    y: float

    def __init__(self, x: float, y: float) -> None:  # written out: a draft makes some ten thousand points
        if not isfinite(x + y):  # one test for both: a sum is finite only if its terms are
            raise NoAnswer(f"a point needs finite coordinates, not ({x}, {y})")
        _SET_X(self, x)
        _SET_Y(self, y)

    def __iter__(self) -> Iterator[float]:
        yield self.x
        yield self.y

    def __add__(self, other: Point) -> Point:
        return Point(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Point:
        return Point(self.x * factor, self.y * factor)

    __rmul__ = __mul__

    def __neg__(self) -> Point:
        return Point(-self.x, -self.y)

    @property
    def length(self) -> float:
        """Distance from the origin."""
        return math.hypot(self.x, self.y)

    @property
    def angle(self) -> float:
        """Direction in radians, anticlockwise from +x, in (-pi, pi]."""
        return math.atan2(self.y, self.x)

    @property
    def unit(self) -> Point:
        """The same direction with length 1; a GeometryError for the zero vector."""
        size = self.length
        if size == 0.0:
            raise NoAnswer("the zero vector has no direction")
        return Point(self.x / size, self.y / size)

    @property
    def left(self) -> Point:
        """The vector turned a quarter anticlockwise (to the left of its direction)."""
        return Point(-self.y, self.x)

    @property
    def right(self) -> Point:
        """The vector turned a quarter clockwise (to the right of its direction)."""
        return Point(self.y, -self.x)

    def turned(self, angle: float) -> Point:
        """Return the vector turned anticlockwise about the origin by ``angle`` radians."""
        c, s = math.cos(angle), math.sin(angle)
        return Point(self.x * c - self.y * s, self.x * s + self.y * c)

    def dot(self, other: Point) -> float:
        """Return the scalar product."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        """Return the z component of the vector product; positive if ``other`` lies to the left."""
        return self.x * other.y - self.y * other.x

    def to(self, other: Point, share: float) -> Point:
        """Return the point at ``share`` of the way to ``other`` (0 here, 1 there)."""
        return Point(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)

    def distance(self, other: Point) -> float:
        """Return the distance to another point."""
        return math.hypot(self.x - other.x, self.y - other.y)

    def near(self, other: Point, within: float = TOLERANCE.same_point) -> bool:
        """Tell whether the other point is the same point, within ``within`` mm."""
        return self.distance(other) <= within

    @staticmethod
    def polar(angle: float, length: float = 1.0) -> Point:
        """Return the vector of ``length`` in the direction ``angle`` (radians)."""
        return Point(math.cos(angle) * length, math.sin(angle) * length)


_SET_X, _SET_Y = (Point.__dict__[name].__set__ for name in ("x", "y"))


def turn(a: Point, b: Point) -> float:
    """Return the angle (radians, anticlockwise positive, in (-pi, pi]) from direction a to direction b."""
    return math.atan2(a.cross(b), a.dot(b))
