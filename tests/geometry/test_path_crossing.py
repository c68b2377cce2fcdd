"""Where paths meet, against chords, closed forms and other libraries."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from fontTools.misc import bezierTools
from hypothesis import given, settings
from path_strategies import chains, circle, cubics, lines

from drafting.errors import GeometryError
from drafting.geometry import Path, Point, nearest_to


def check_met(a: Path, b: Path) -> tuple:
    """Check that each crossing lies on both paths, and return the crossings."""
    found = a.crossings(b)
    for c in found:
        assert a.at(c.s).distance(c.point) < 3e-6
        assert b.at(c.t).distance(c.point) < 3e-6
    assert [c.s for c in found] == sorted(c.s for c in found)
    return found


def chord_crossings(a: Path, b: Path) -> list[Point]:
    """Return where fine chords of two paths cross at a clear angle (oracle: shapely)."""
    met = shapely.intersection(shapely.LineString(a.flatten(1e-3)), shapely.LineString(b.flatten(1e-3)))
    found = []
    for part in shapely.get_parts(met):
        if part.geom_type == "Point":
            p = Point(part.x, part.y)
            angle = abs(a.tangent(a.nearest(p)[0]).cross(b.tangent(b.nearest(p)[0])))
            if angle > 0.05:
                found.append(p)
    return found


@given(chains(3), chains(3))
@settings(deadline=None, max_examples=120, derandomize=True)
def test_every_crossing_of_the_chords_is_found_and_lies_on_both(a, b):
    """Oracle: shapely's crossings of fine chords; none is missed, none is given twice."""
    found = check_met(a, b)
    for p in chord_crossings(a, b):
        assert any(c.point.distance(p) < 0.1 for c in found)
    pairs = [(c.s, c.t) for c in found]
    for i, (s, t) in enumerate(pairs):
        assert all(abs(s - u) > 1e-6 or abs(t - v) > 1e-6 for u, v in pairs[:i])


@pytest.mark.parametrize("shift", [0.0, 13.0, 41.0, -27.0])
def test_curves_cross_where_fonttools_says(shift):
    """Oracle: fontTools' curve-curve crossings (good to some hundredths of a millimetre)."""
    a = Path.cubic(Point(0, 0), Point(60, 150), Point(120, -150), Point(180, 10))
    b = Path.cubic(Point(10, 60 + shift), Point(70, -90), Point(100, 140), Point(160, -50 + shift))
    expected = bezierTools.curveCurveIntersections(a.segments[0].tolist(), b.segments[0].tolist())
    found = check_met(a, b)
    assert len(found) == len({round(crossing.t1, 2) for crossing in expected}) >= 1
    for crossing in expected:
        assert any(c.point.distance(Point(*crossing.pt)) < 0.1 for c in found)


@given(cubics, lines)
@settings(deadline=None, max_examples=60, derandomize=True)
def test_a_line_and_a_curve_cross_alike_in_both_orders(a, b):
    """Swapping the two swaps the lengths and nothing else."""
    found, swapped = check_met(a, b), check_met(b, a)
    assert sorted((round(c.s, 4), round(c.t, 4)) for c in found) == sorted(
        (round(c.t, 4), round(c.s, 4)) for c in swapped
    )


def test_round_rings_cross_where_circles_do():
    """Two circles of 100 mm, 120 mm apart, cross at x = 60, y = 80 and -80 (Pythagoras)."""
    found = circle(100.0).crossings(circle(100.0, Point(120, 0)))
    assert [(round(c.point.x, 1), abs(round(c.point.y, 0))) for c in found] == [(60.0, 80.0), (60.0, 80.0)]
    assert found[0].point.y == pytest.approx(-found[1].point.y, abs=1e-6)


def test_touching_circles_touch_once():
    """A touch from outside, from inside, and by a tangent; just apart is no touch."""
    assert [c.point.x for c in circle(50.0).crossings(circle(30.0, Point(80, 0)))] == pytest.approx([50.0])
    inner = circle(30.0).turned(math.pi / 4).moved(Point(20, 0))
    outer = circle(50.0).turned(0.3)
    gap = outer.nearest(inner.at(0))[1]
    assert gap > 0.0
    tangent = Path.straight(Point(-60, 50), Point(60, 50))
    assert [c.point.y for c in circle(50.0).crossings(tangent)] == pytest.approx([50.0])
    assert circle(50.0).crossings(tangent.moved(Point(0, 0.001))) == ()
    assert len(circle(50.0).crossings(tangent.moved(Point(0, -0.001)))) == 2
    assert circle(50.0).crossings(circle(30.0, Point(80.001, 0))) == ()
    assert len(circle(50.0).crossings(circle(30.0, Point(79.999, 0)))) == 2


def test_two_crests_touch_within_a_segment():
    """Crest against trough, inside both segments: one touch, to well below a hundredth."""
    crest = Path.cubic(Point(0, 0), Point(20, 40), Point(60, 40), Point(80, 0))
    trough = Path.cubic(Point(-3, 70), Point(22, 20), Point(58, 20), Point(83, 70))
    low = min(trough.points(np.linspace(0, trough.length, 2001))[:, 1])
    touching = trough.moved(Point(0.0, 30.0 - trough.bounds[1]))
    assert low == pytest.approx(trough.bounds[1], abs=1e-3)
    found = crest.crossings(touching)
    assert [(round(c.point.x, 3), round(c.point.y, 4)) for c in found] == [(40.0, 30.0)]
    assert len(crest.crossings(touching.moved(Point(0.0, -0.01)))) == 2
    assert crest.crossings(touching.moved(Point(0.0, 0.01))) == ()


def test_paths_that_share_an_end_meet_there():
    """Corner to corner, straight on, and smoothly on: one meeting, at both ends."""
    a = Path.straight(Point(0, 0), Point(10, 0))
    for b in (
        Path.straight(Point(10, 0), Point(20, 0)),
        Path.straight(Point(10, 0), Point(10, 9)),
        Path.cubic(Point(10, 0), Point(20, 0), Point(30, 10), Point(30, 30)),
    ):
        assert [(c.s, c.t) for c in a.crossings(b)] == [(10.0, 0.0)]
        assert [(c.s, c.t) for c in b.crossings(a)] == [(0.0, 10.0)]
    first, second = circle(70.0).split(160.0)
    ends = [(c.s, c.t) for c in first.crossings(second)]
    assert ends == [(0.0, pytest.approx(second.length)), (pytest.approx(160.0), 0.0)]


def test_an_end_that_lies_on_the_other_path_meets_it():
    """A line that ends on a curve at a grazing or a clear angle, rounding included."""
    arc = circle(90.0).between(0.0, 130.0)
    for s in (17.0, 50.0, 111.0):
        p, way = arc.at(s), arc.tangent(s)
        for angle in (0.02, 0.3, 1.5, -0.7):
            out = Path.straight(p, p + way.turned(-angle) * 40.0 if angle > 0 else p - way.turned(angle) * 40.0)
            found = [c for c in arc.crossings(out) if c.t < 1.0]
            assert len(found) == 1
            assert found[0].s == pytest.approx(s, abs=1e-3)


def test_a_shared_stretch_gives_its_ends():
    """Lines that overlap, and a curve with part of itself."""
    a = Path.straight(Point(0, 0), Point(100, 0))
    b = Path.straight(Point(130, 0), Point(40, 0))
    assert [(c.s, c.t) for c in a.crossings(b)] == [(40.0, pytest.approx(90.0)), (100.0, pytest.approx(30.0))]
    arc = circle(90.0).between(0.0, 130.0)
    assert [c.s for c in arc.crossings(arc.between(20.0, 60.0))] == pytest.approx([20.0, 60.0], abs=1e-5)


def test_a_joint_is_met_once():
    """A line through a corner, and through the closing point of a ring."""
    bent = Path.polyline([Point(0, 0), Point(10, 10), Point(20, 0)])
    assert [c.s for c in bent.crossings(Path.straight(Point(10, 20), Point(10, 0)))] == pytest.approx(
        [math.hypot(10, 10)]
    )
    ring = circle(50.0)
    found = ring.crossings(Path.straight(Point(-80, 0), Point(80, 0)))
    assert [c.s for c in found] == pytest.approx([0.0, ring.length / 2])


def test_the_chooser_decides_and_a_tie_is_refused():
    """Nearest to a point, first and last; two alike or none is an error."""
    ring, line = circle(50.0), Path.straight(Point(-80, 0), Point(80, 0))
    assert ring.crossing(line, nearest_to(Point(-9, 4))).point.near(Point(-50, 0))
    assert ring.crossing(line, lambda c: c.s).point.near(Point(50, 0))
    assert ring.crossing(line, lambda c: -c.s).point.near(Point(-50, 0))
    assert ring.crossing(line, lambda c: c.t).point.near(Point(-50, 0))
    with pytest.raises(GeometryError, match="chosen alike"):
        ring.crossing(line, nearest_to(Point(0, 7)))
    with pytest.raises(GeometryError, match="don't cross"):
        ring.crossing(line.moved(Point(0, 90)), lambda c: c.s)


def test_crossings_are_exact_to_a_millionth():
    """A parabola y = x^2/100 (a cubic holds it exactly) and lines: roots by the quadratic formula."""
    parabola = Path.cubic(Point(-100, 100), Point(-100 / 3, -100 / 3), Point(100 / 3, -100 / 3), Point(100, 100))
    for slope, height in ((0.0, 25.0), (0.3, 7.0), (-0.8, 10.0)):
        line = Path.straight(Point(-150, height - 150 * slope), Point(150, height + 150 * slope))
        root = math.sqrt(slope * slope + height / 25.0)
        expected = [50 * (slope - root), 50 * (slope + root)]
        assert [c.point.x for c in parabola.crossings(line)] == pytest.approx(expected, abs=1e-7)


@given(chains(), lines)
@settings(deadline=None, max_examples=60, derandomize=True)
def test_the_parts_between_cuts_are_the_path(path: Path, line: Path) -> None:
    """Cut where another path crosses it: the parts follow each other, none crosses within, and nothing is lost."""
    cuts = path.cuts_by((line,), 0.5)
    parts = path.cut_at(cuts, 0.5)
    assert len(parts) <= len(cuts) + 1
    assert math.fsum(part.length for part in parts) == pytest.approx(path.length, abs=1e-6)
    assert Path.join(*parts).same_as(path, 1e-5)
    for part in parts:
        assert part.length > 0.4999
        assert part.cuts_by((line,), 0.51) == []


def test_cuts_too_near_to_each_other_or_an_end_are_one() -> None:
    """No part is shorter than asked for; a path that isn't cut is the very same."""
    path = Path.straight(Point(0, 0), Point(100, 0))
    assert path.spans([60.0, 30.0, 30.05, 0.05, 99.99], 0.1) == [(0.0, 30.0), (30.0, 60.0), (60.0, 100.0)]
    assert path.cut_at([0.0, 100.0])[0] is path
    across = [Path.straight(Point(x, -10), Point(x, 10)) for x in (100.0, 70.0, 20.0, 70.0)]
    assert path.cuts_by(across) == pytest.approx([20.0, 70.0])
