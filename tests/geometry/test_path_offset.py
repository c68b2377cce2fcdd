"""Parallels of paths: against the true parallel and shapely's buffer."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from path_strategies import circle, gentle, points, shares

from drafting.errors import GeometryError
from drafting.geometry import Path, Point, hook

SQUARE = Path.polyline([Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100), Point(0, 0)])


def true_parallel(path: Path, d: float, n: int = 400) -> np.ndarray:
    """Return points at exactly ``d`` to the right of places on a path."""
    ss = shares(path, n)
    way = path.tangents(ss)
    return path.points(ss) + d * np.stack((way[:, 1], -way[:, 0]), axis=1)


@given(gentle(), st.floats(-20.0, 20.0).filter(lambda d: abs(d) > 0.5))
@settings(deadline=None, max_examples=80, derandomize=True)
def test_a_parallel_keeps_its_distance_along_smooth_curves(path, d):
    """Within 0.02 mm both ways: of the true parallel's points, and of the offset's from the path."""
    bends = [path.curvature(s) for s in (0.0, *shares(path, 60), path.length)]
    if min(1.0 + d * k for k in bends) < 0.1 or max(map(abs, bends)) > 1.0:  # a bend under a millimetre isn't smooth
        return
    made = path.offset(d)
    line = shapely.LineString(made.flatten(5e-4))
    assert shapely.distance(line, shapely.points(true_parallel(path, d))).max() < 0.0205
    assert made.corners() == ()
    assert made.start.near(path.start + path.tangent(0.0).right * d, 1e-9)
    assert made.end.near(path.end + path.tangent(path.length).right * d, 1e-9)
    assert len(made.segments) <= 12


@given(points, points.filter(lambda p: p.length > 1.0), st.floats(-60.0, 60.0))
@settings(deadline=None, max_examples=40, derandomize=True)
def test_a_straight_line_moves_square_to_itself(start, way, d):
    """Straight stays straight, equally long and at the distance; positive is to the right."""
    path = Path.straight(start, start + way)
    made = path.offset(d)
    assert made.is_straight
    assert made.length == pytest.approx(path.length)
    assert made.start.near(start + way.unit.right * d, 1e-9)


def test_outwards_of_an_anticlockwise_ring_is_positive():
    """A round ring grows and shrinks as a circle does, and its parallel is closed and smooth."""
    ring = circle(100.0)
    for d in (15.0, -15.0, 60.0, -60.0):
        made = ring.offset(d)
        assert made.closed
        assert made.corners() == ()
        assert made.area == pytest.approx(math.pi * (100.0 + d) ** 2, rel=2e-3)
        assert made.length == pytest.approx(ring.length + 2.0 * math.pi * d, abs=0.05)


def test_outer_corners_are_mitred_and_inner_ones_trimmed():
    """A square stays a square of straight lines: exact areas, four corners."""
    out, within = SQUARE.offset(10.0), SQUARE.offset(-10.0)
    assert (out.area, within.area) == (pytest.approx(14400.0), pytest.approx(6400.0))
    assert len(out.segments) == len(within.segments) == 4
    assert out.bounds == pytest.approx((-10, -10, 110, 110))
    step = Path.polyline([Point(0, 0), Point(50, 0), Point(50, 50), Point(120, 50)])
    assert [tuple(p) for p in step.offset(10.0).segments[:, 3].tolist()] == [
        pytest.approx(p) for p in ((60, -10), (60, 40), (120, 40))
    ]


def test_a_very_sharp_corner_is_blunt():
    """A spike of 5 degrees doesn't run out to a far point."""
    tip = Point(100, 0)
    spike = Path.polyline([Point(0, 0), tip, tip + Point.polar(math.radians(175), 100)])
    made = spike.offset(10.0)
    reach = max(tip.distance(Point(*p)) for p in made.flatten().tolist() if p[0] > 100)
    assert 10.0 < reach < 40.0
    assert len(made.segments) == 3


@pytest.mark.parametrize("d", [8.0, 20.0, -8.0, -14.0])
def test_a_ring_of_curves_and_corners_agrees_with_shapely(d):
    """A bodice-like outline: the difference from shapely's mitred buffer is a sliver."""
    ring = Path.join(
        Path.straight(Point(0, 0), Point(240, 10)),
        hook(Point(240, 10), Point(-0.1, 1), Point(230, 200), Point(0.2, 1)),
        hook(Point(230, 200), Point(-1, 0.1), Point(180, 380), Point(0.1, 1)),
        Path.straight(Point(180, 380), Point(80, 420)),
        hook(Point(80, 420), Point(0, -1), Point(0, 340), Point(-1, 0)),
        Path.straight(Point(0, 340), Point(0, 0)),
    )
    made = shapely.Polygon(ring.offset(d).flatten(1e-3))
    true = shapely.Polygon(ring.flatten(1e-3)).buffer(d, join_style="mitre", mitre_limit=20.0)
    assert made.is_valid
    assert made.symmetric_difference(true).area < 0.01 * ring.length


def test_a_bend_too_tight_to_follow_is_trimmed():
    """A U with a bend of 10 mm, followed at 20 mm inside: the loop of the parallel is cut off."""
    bend = hook(Point(0, 0), Point(1, 0), Point(0, 20), Point(-1, 0))
    path = Path.join(
        Path.straight(Point(-100, -60), Point(0, 0)).with_ends(Point(-100, -60), Point(0, 0)),
        bend,
        Path.straight(Point(0, 20), Point(-100, 80)),
    )
    made = path.offset(-20.0)
    solid = shapely.LineString(path.flatten(1e-3)).buffer(19.9)
    assert not shapely.LineString(made.flatten(1e-2)).intersects(solid)
    assert made.start.near(path.start + path.tangent(0.0).left * 20.0, 1e-9)
    soft = Path.cubic(Point(-80, 40), Point(40, -60), Point(-40, -60), Point(80, 40))
    inside = soft.offset(-45.0)
    clear = shapely.LineString(soft.flatten(1e-3))
    assert shapely.distance(clear, shapely.points(inside.points(shares(inside, 200)))).min() > 44.9


def test_a_bend_beside_an_end_leaves_the_end_its_parallel():
    """An armhole that turns by 6 mm within 10 of the underarm: its parallel begins level with where it should, and no
    place of it, nor of its run straight on past the end, lies nearer to the path."""
    armhole = Path.cubic(Point(252.1, -225.5), Point(223.3, -242.1), Point(218.1, -71.4), Point(233.9, -41.3))
    for path, d in ((armhole, 10.0), (armhole.reversed(), -10.0)):
        made = path.offset(d)
        foot, at = (made.start, path.start) if d > 0.0 else (made.end, path.end)
        way = path.tangent(0.0) if d > 0.0 else -path.tangent(path.length)
        assert (foot - at).cross(way) == pytest.approx(10.0, abs=0.05)
        assert -3.0 <= (foot - at).dot(way) <= 0.0
        run_on = shapely.LineString([tuple(foot - way * 8.0), tuple(foot)])
        for line in (run_on, shapely.LineString(made.flatten())):
            assert line.distance(shapely.LineString(path.flatten())) == pytest.approx(10.0, abs=0.05)


def test_a_parallel_that_cannot_be_is_refused():
    """Nothing is left of a small ring at a great distance, nor at the end of a tight bend."""
    with pytest.raises(GeometryError):
        circle(20.0).offset(-30.0)
    with pytest.raises(GeometryError, match="parallel"):
        circle(20.0).between(0.0, 40.0).offset(-30.0)
    with pytest.raises(GeometryError, match="leaves nothing"):
        Path.polyline([Point(0, 0), Point(100, 0), Point(100, 5), Point(0, 5)]).offset(-10.0)


def test_no_distance_is_no_change():
    """The parallel at nought is the path."""
    assert SQUARE.offset(0.0) == SQUARE


def test_the_way_back_offsets_to_the_other_side():
    """Reversing the path and the sign gives the same parallel, reversed."""
    path = hook(Point(0, 0), Point(1, 0.5), Point(150, 60), Point(1, -0.2))
    assert path.offset(12.0).reversed().same_as(path.reversed().offset(-12.0), 0.02)
