"""Generated paths for the geometry tests."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import strategies as st

from drafting.geometry import Path, Point, hook

ORIGIN = Point(0.0, 0.0)
numbers = st.floats(-300.0, 300.0).map(lambda v: round(v, 3))
points = st.builds(Point, numbers, numbers)


def _apart(control: tuple[Point, ...]) -> bool:
    return control[0].distance(control[-1]) > 1.0


cubics = st.tuples(points, points, points, points).filter(_apart).map(lambda c: Path.cubic(*c))
"""Any cubic: loops, cusps and folds included."""

lines = st.tuples(points, points).filter(_apart).map(lambda c: Path.straight(*c))


@st.composite
def chains(draw: st.DrawFn, most: int = 4) -> Path:
    """Return one to four segments, straight or curved, end to end."""
    here = draw(points)
    parts = []
    for _ in range(draw(st.integers(1, most))):
        a, b, there = draw(points), draw(points), draw(points.filter(lambda p, q=here: p.distance(q) > 1.0))
        parts.append(Path.cubic(here, a, b, there) if draw(st.booleans()) else Path.straight(here, there))
        here = there
    return Path.join(*parts)


@st.composite
def gentle(draw: st.DrawFn) -> Path:
    """Return one curve like an armhole's or a hip's: a chord of 80 to 400 mm, no bend tighter than some 25 mm."""
    chord = draw(st.floats(80.0, 400.0))
    first, last = draw(st.floats(-0.9, 0.9)), draw(st.floats(-0.9, 0.9))
    return hook(Point(0.0, 0.0), Point.polar(first), Point(chord, 0.0), Point.polar(last))


def circle(radius: float, centre: Point = ORIGIN) -> Path:
    """Return a circle of four quarter arcs, anticlockwise from +x (0.03 % out of round)."""
    at = [centre + Point.polar(i * math.pi / 2.0, radius) for i in range(5)]
    way = [Point.polar((i + 1) * math.pi / 2.0) for i in range(5)]
    return Path.join(*(hook(at[i], way[i], at[i + 1], way[i + 1]) for i in range(4)))


def shares(path: Path, n: int) -> np.ndarray:
    """Return n equal steps of length along a path."""
    return np.linspace(0.0, path.length, n)
