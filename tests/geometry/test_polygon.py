"""Rings of chords, judged by shapely (GEOS)."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafting.geometry import (
    Point,
    are_inside,
    crosses_itself,
    deepest_inside,
    distances_between,
    distances_to,
    is_crossed,
    is_inside,
    meets_itself_at,
    signed_area,
)
from drafting.tolerance import TOLERANCE

U = np.array([(0, 0), (90, 0), (90, 80), (60, 80), (60, 30), (30, 30), (30, 80), (0, 80)], float)
BOW = np.array([(0, 0), (100, 100), (100, 0), (0, 100)], float)


@st.composite
def rings(draw: st.DrawFn) -> np.ndarray:
    """Return a ragged ring of 5 to 14 corners, simple or not."""
    random = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    n = draw(st.integers(5, 14))
    angle = np.sort(random.uniform(0.0, math.tau, n)) + random.normal(0.0, 0.18, n)
    size = random.uniform(60.0, 100.0, n)
    return np.stack((size * np.cos(angle), size * np.sin(angle)), axis=1)


@pytest.mark.parametrize("repeated", [False, True])
def test_inside_agrees_with_shapely(repeated: bool):
    """Points of a grid, in and out of a U, whether its first point is repeated or not."""
    grid = np.array([(x + 0.5, y + 0.5) for x in range(-10, 100, 7) for y in range(-10, 100, 7)])
    ring = np.concatenate((U, U[:1])) if repeated else U
    assert (are_inside(grid, ring) == shapely.contains_xy(shapely.Polygon(U), *grid.T)).all()
    assert is_inside(Point(10.0, 70.0), ring)
    assert not is_inside(Point(45.0, 70.0), ring)


@given(rings())
def test_a_ring_is_simple_where_shapely_says_so(ring: np.ndarray):
    """A ring in general position crosses itself, or touches itself, exactly where it isn't simple."""
    way = np.exp(1j * np.angle(np.diff(np.append(ring, ring[:1], axis=0) @ (1.0, 1j))))
    assume(np.abs(way + np.roll(way, -1)).min() > 2.0 * TOLERANCE.tangent)  # what turns all but back is a spike here
    simple = shapely.LinearRing(ring).is_simple
    assert crosses_itself(ring) is not simple
    assert (meets_itself_at(ring, touching=True) is None) is simple


def test_a_touch_is_no_crossing():
    """A corner that lies on another chord, and a spike, are told apart from chords that run over each other."""
    touch = np.array([(0, 0), (100, 0), (100, 50), (50, 0), (0, 50)], float)
    spike = np.array([(0, 0), (100, 0), (200, 0), (100, 0.05), (100, 80)], float)
    assert not crosses_itself(touch)
    assert meets_itself_at(touch, touching=True) == Point(0.0, 0.0)
    assert not crosses_itself(spike)
    assert meets_itself_at(spike, touching=True) == Point(200.0, 0.0)
    assert crosses_itself(BOW)
    assert not crosses_itself(np.repeat(U, 2, axis=0))


@given(rings())
def test_area_agrees_with_shapely(ring: np.ndarray):
    """Signed: anticlockwise is positive; of a ring that crosses itself what shapely reckons as its area too."""
    area = signed_area(ring)
    assert abs(area) == pytest.approx(shapely.Polygon(ring).area)
    assert signed_area(ring[::-1]) == pytest.approx(-area)
    assert signed_area(np.concatenate((ring, ring[:1]))) == pytest.approx(area)


@given(rings(), st.integers(0, 2**32 - 1))
def test_crossed_agrees_with_shapely(ring: np.ndarray, seed: int):
    """Whether one of two lines in general position crosses a ring."""
    starts, ends = np.random.default_rng(seed).uniform(-120.0, 120.0, (2, 2, 2))
    outline = shapely.LinearRing(ring)
    wanted = [shapely.LineString(pair).crosses(outline) for pair in zip(starts, ends, strict=True)]
    assert is_crossed(ring, starts, ends) is any(wanted)


@given(rings(), st.integers(0, 2**32 - 1))
def test_distances_agree_with_shapely(ring: np.ndarray, seed: int):
    """From points anywhere to the nearest of a ring's chords, chords without length among them."""
    points = np.random.default_rng(seed).uniform(-150.0, 150.0, (7, 2))
    ring = np.concatenate((ring, ring[-1:]))
    wanted = shapely.distance(shapely.LinearRing(ring), shapely.points(points))
    assert distances_to(points, ring, np.roll(ring, -1, axis=0)) == pytest.approx(wanted, abs=1e-9)
    assert (distances_between(points, ring) == distances_to(points, ring, ring)).all()


@given(rings())
@settings(deadline=None, max_examples=30)
def test_the_deepest_point_is_as_deep_as_the_inscribed_circle_reaches(ring: np.ndarray):
    """GEOS's largest inscribed circle, to the figure asked for; the depth told is that of the point told."""
    polygon = shapely.Polygon(ring)
    assume(polygon.is_valid)
    at, depth = deepest_inside(ring, 0.5)
    circle = shapely.maximum_inscribed_circle(polygon, tolerance=0.01)
    assert polygon.contains(shapely.Point(*at))
    assert depth == pytest.approx(polygon.exterior.distance(shapely.Point(*at)))
    assert circle.length - 0.51 <= depth <= circle.length + 0.01
