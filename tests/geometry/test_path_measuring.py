"""Lengths, places, areas, bounds and chords of paths, against quadrature and other libraries."""

from __future__ import annotations

import copy
import math
import pickle
from itertools import pairwise

import numpy as np
import pytest
import shapely
from fontTools.misc import bezierTools
from hypothesis import given, settings
from hypothesis import strategies as st
from path_strategies import chains, circle, cubics, points, shares
from scipy.integrate import quad

from drafting.errors import GeometryError
from drafting.geometry import Path, Point

CUSP = Path.cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0))
FOLD = Path.cubic(Point(0, 0), Point(200, 0), Point(-100, 0), Point(100, 0))
LOOP = Path.cubic(Point(0, 0), Point(300, 200), Point(-200, 200), Point(100, 0))


def speed(control: np.ndarray, t: float) -> float:
    legs = 3.0 * np.diff(control, axis=0)
    v = (1 - t) ** 2 * legs[0] + 2 * t * (1 - t) * legs[1] + t * t * legs[2]
    return math.hypot(*v)


def true_length(path: Path, pieces: int = 16) -> float:
    """Return the length by adaptive quadrature (QUADPACK), in pieces so that no cusp is missed."""
    edges = np.linspace(0.0, 1.0, pieces + 1)
    return sum(
        quad(lambda t, c=control: speed(c, t), a, b, limit=400, epsabs=1e-7, epsrel=1e-10)[0]
        for control in path.segments
        for a, b in pairwise(edges)
    )


@given(cubics)
@settings(deadline=None, max_examples=60, derandomize=True)
def test_length_agrees_with_quadrature_for_any_cubic(path):
    """A thousandth of a millimetre, loops and near-cusps included (oracle: scipy's QUADPACK)."""
    assert path.length == pytest.approx(true_length(path), abs=1e-4)


@pytest.mark.parametrize("path", [CUSP, FOLD, LOOP], ids=["cusp", "fold", "loop"])
def test_length_of_cusped_and_folded_curves(path):
    """The hard cases: speed vanishes inside the segment."""
    assert path.length == pytest.approx(true_length(path, 64), abs=1e-4)


@pytest.mark.parametrize("miss", [0.0, 1e-9, 1e-6, 1e-3, 0.1, 1.0])
def test_length_of_a_curve_that_nearly_turns_back(miss):
    """However near the turning point comes to a cusp, the length keeps its accuracy."""
    path = Path.cubic(Point(0, 0), Point(200, miss), Point(-100, -miss), Point(100, 0))
    assert path.length == pytest.approx(true_length(path, 64), abs=1e-4)


@given(cubics)
@settings(deadline=None, max_examples=30, derandomize=True)
def test_length_agrees_with_fonttools(path):
    """Oracle: fontTools' arc length at a fine tolerance."""
    control = [complex(*p) for p in path.segments[0].tolist()]
    assert path.length == pytest.approx(bezierTools.calcCubicArcLengthC(*control, tolerance=1e-5), abs=0.02)


@given(chains(), st.floats(0.0, 1.0))
@settings(deadline=None, max_examples=80, derandomize=True)
def test_a_place_lies_its_length_from_the_start(path, share):
    """at(s) inverts the length to better than a ten-thousandth of a millimetre (oracle: quadrature)."""
    s = share * path.length
    part = path.between(0.0, s) if s > 0.01 else None
    if part is not None:
        assert true_length(part, 8) == pytest.approx(s, abs=1e-4)
        assert part.end.near(path.at(s), 2e-6)
        assert part.length == pytest.approx(s, abs=2e-6)


@given(chains(), st.floats(0.0, 1.0))
@settings(deadline=None, max_examples=80, derandomize=True)
def test_parts_of_a_split_add_up_to_the_whole(path, share):
    """Split anywhere: lengths, areas and ends agree, and the parts join to the same curve."""
    s = share * path.length
    if not 0.001 < s < path.length - 0.001:
        return
    first, second = path.split(s)
    assert first.length + second.length == pytest.approx(path.length, abs=1e-5)
    assert first.start == path.start
    assert second.end == path.end
    assert first.end == second.start
    rejoined = Path.join(first, second)
    assert rejoined.area == pytest.approx(path.area, abs=1e-6 * max(1.0, abs(path.area)))
    assert rejoined.same_as(path, 1e-5)


@given(chains())
@settings(deadline=None, max_examples=50, derandomize=True)
def test_many_places_at_once_agree_with_one_by_one(path):
    """The array forms give what the single forms give."""
    ss = shares(path, 23)
    one_by_one = np.array([tuple(path.at(s)) for s in ss])
    assert np.abs(path.points(ss) - one_by_one).max() < 1e-7
    assert path.points(ss)[-1] == pytest.approx(tuple(path.end), abs=1e-9)
    inner = ss[1:-1]
    steps = np.diff(np.array(path.table.starts))
    if steps.min() > 1.0:
        directions = np.array([tuple(path.tangent(s)) for s in inner])
        assert np.abs(np.hypot(*path.tangents(inner).T) - 1.0).max() < 1e-12
        assert np.abs(path.tangents(inner) - directions).max() < 1e-3


@given(cubics)
@settings(deadline=None, max_examples=60, derandomize=True)
def test_bounds_agree_with_fonttools(path):
    """Oracle: fontTools' exact bounds of a cubic."""
    expected = bezierTools.calcCubicBounds(*[tuple(p) for p in path.segments[0].tolist()])
    assert path.bounds == pytest.approx(expected, abs=1e-9)


@given(chains())
@settings(deadline=None, max_examples=40, derandomize=True)
def test_area_agrees_with_the_chords(path):
    """The closed form against the shoelace sum of a fine flattening."""
    x, y = path.flatten(1e-4).T
    shoelace = 0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    assert path.area == pytest.approx(shoelace, abs=0.01 + 1e-4 * path.length)


def test_area_is_positive_anticlockwise_and_agrees_with_shapely():
    """A round ring: area near pi r squared, equal to shapely's of its chords."""
    ring = circle(100.0)
    assert ring.area == pytest.approx(math.pi * 1e4, rel=6e-4)
    assert ring.area == pytest.approx(shapely.Polygon(ring.flatten(1e-4)).area, rel=1e-5)
    assert ring.reversed().area == pytest.approx(-ring.area)


@given(chains(), st.sampled_from([0.01, 0.05, 1.0]))
@settings(deadline=None, max_examples=40, derandomize=True)
def test_chords_stray_no_farther_than_allowed(path, tol):
    """Oracle: shapely's distance from places on the curve to the chords; both ends are kept."""
    chords = path.flatten(tol)
    assert chords[0].tolist() == list(path.start)
    assert chords[-1].tolist() == list(path.end)
    places = shapely.points(path.points(shares(path, 200)))
    assert shapely.distance(shapely.LineString(chords), places).max() <= tol * 1.001


@given(chains())
@settings(deadline=None, max_examples=40, derandomize=True)
def test_reversing_twice_is_no_change(path):
    """The way back is as long, ends where the way out began and faces the other way."""
    back = path.reversed()
    assert back.reversed() == path
    assert back.length == pytest.approx(path.length, abs=1e-6)
    assert (back.start, back.end) == (path.end, path.start)
    assert back.area == pytest.approx(-path.area, abs=1e-6)


@given(chains(), st.floats(-math.pi, math.pi), points)
@settings(deadline=None, max_examples=40, derandomize=True)
def test_rigid_motions_keep_lengths_and_areas(path, angle, by):
    """Turning and moving keep both; a mirror keeps the length and turns the area's sign; twice is no change."""
    moved = path.turned(angle, by).moved(by)
    assert moved.length == pytest.approx(path.length, abs=1e-5)
    assert moved.area == pytest.approx(path.area, abs=1e-5 * max(1.0, abs(path.area)))
    over = path.mirrored(by.x)
    assert over.area == pytest.approx(-path.area, abs=1e-5 * max(1.0, abs(path.area)))
    assert over.mirrored(by.x).same_as(path)
    twice = path.reflected(by, by + Point(3, 4)).reflected(by, by + Point(3, 4))
    assert twice.same_as(path, 1e-5)
    assert path.reflected(Point(by.x, 0.0), Point(by.x, 1.0)).same_as(over, 1e-5)


def test_a_round_arc_has_the_curvature_of_its_radius_to_the_left():
    """Anticlockwise is a positive bend; clockwise a negative one."""
    ring = circle(80.0)
    bends = [ring.curvature(s) for s in shares(ring, 40)]
    assert bends == pytest.approx([1.0 / 80.0] * 40, rel=0.025)
    assert ring.reversed().curvature(33.0) == pytest.approx(-1.0 / 80.0, rel=0.02)


def test_the_tangent_is_right_where_handles_have_no_length():
    """A handle of no length hands the direction on to the next control point."""
    a, b, c = Point(0, 0), Point(30, 40), Point(100, 0)
    assert Path.cubic(a, a, b, c).tangent(0.0).near(Point(0.6, 0.8))
    assert Path.cubic(c, b, a, a).tangent(Path.cubic(c, b, a, a).length).near(Point(-0.6, -0.8))
    bare = Path.cubic(a, a, c, c)
    assert bare.tangent(0.0).near(Point(1, 0))
    assert bare.tangent(bare.length).near(Point(1, 0))
    assert bare.tangents(np.array([0.0, bare.length])).tolist() == [[1, 0], [1, 0]]
    assert bare.at(50.0).near(Point(50, 0), 1e-7)


def test_at_a_corner_the_direction_is_the_one_that_leaves():
    """Also a hair before the corner, so that rounding doesn't choose."""
    path = Path.polyline([Point(0, 0), Point(10, 0), Point(10, 10)])
    assert path.tangent(10.0 - 1e-9) == path.tangent(10.0) == Point(0, 1)
    assert path.corners() == ((10.0, pytest.approx(math.pi / 2)),)
    assert path.split(10.0 - 1e-9)[0].end == Point(10, 0)
    assert len(path.split(10.0)[1].segments) == 1


def test_turning_counts_corners_and_closes_rings():
    """Any simple anticlockwise ring turns once about, whatever its corners; half a figure of eight not at all."""
    square = Path.polyline([Point(0, 0), Point(9, 0), Point(9, 9), Point(0, 9), Point(0, 0)])
    assert square.turning() == pytest.approx(2 * math.pi)
    assert circle(50.0).turning() == pytest.approx(2 * math.pi)
    assert circle(50.0).reversed().turning() == pytest.approx(-2 * math.pi)
    assert circle(50.0).corners() == ()
    assert LOOP.turning() == pytest.approx(2 * math.pi - 2 * math.atan2(200, 300), abs=1e-9)


@given(chains(), points, points)
@settings(deadline=None, max_examples=40, derandomize=True)
def test_a_path_drawn_over_meets_its_new_ends(path, start, end):
    """Both ends exact; moving both alike is a move."""
    drawn = path.with_ends(start, end)
    assert (drawn.start, drawn.end) == (start, end)
    by = Point(7.0, -3.0)
    assert path.with_ends(path.start + by, path.end + by).same_as(path.moved(by), 1e-6)


def test_drawing_over_keeps_straights_straight_and_smooth_joints_smooth():
    """A straight run into a curve: no corner appears."""
    path = Path.join(
        Path.straight(Point(0, 0), Point(60, 0)), circle(40.0).between(0, 50).turned(-math.pi / 2).moved(Point(60, 40))
    )
    drawn = path.with_ends(Point(0, 5), Point(120, 30))
    assert path.corners() == drawn.corners() == ()
    assert drawn.between(0.0, 30.0).is_straight


@given(chains(), points)
@settings(deadline=None, max_examples=60, derandomize=True)
def test_the_nearest_place_is_nearer_than_any_other(path, point):
    """Against three hundred places along the path, and the place is where it says."""
    s, distance = path.nearest(point)
    places = path.points(shares(path, 300))
    assert distance <= np.hypot(places[:, 0] - point.x, places[:, 1] - point.y).min() + 1e-9
    assert path.at(s).distance(point) == pytest.approx(distance, abs=1e-5)


@given(chains(), st.floats(-250.0, 250.0))
@settings(deadline=None, max_examples=80, derandomize=True)
def test_the_level_is_met_where_the_height_changes_side(path, y):
    """Every place found lies on the level, and between them the path keeps to one side of it."""
    found = path.cross_level(y)
    assert list(found) == sorted(found)
    assert all(abs(path.at(s).y - y) < 2e-6 for s in found)
    heights = path.points(shares(path, 400))[:, 1] - y
    changes = int((np.sign(heights[1:]) * np.sign(heights[:-1]) < 0).sum())
    assert len(found) >= changes


def test_a_level_that_touches_or_holds_the_path():
    """A crest is met once, an end is met, a stretch in the level gives its ends, and a level above none."""
    crest = Path.cubic(Point(0, 0), Point(0, 40), Point(60, 40), Point(60, 0))
    assert crest.cross_level(30.0) == (pytest.approx(crest.length / 2, abs=1e-4),)
    assert crest.cross_level(0.0) == (0.0, crest.length)
    assert crest.cross_level(30.001) == ()
    flat = Path.polyline([Point(0, 0), Point(0, 5), Point(10, 5), Point(10, 0)])
    assert flat.cross_level(5.0) == (5.0, 15.0)
    assert flat.cross_level(2.0) == (2.0, 18.0)


def test_straight_lines_are_exact():
    """No quadrature error on straight lines, and parts of straight lines are straight."""
    path = Path.straight(Point(0, 0), Point(300, 400))
    assert path.length == 500.0
    assert path.at(125.0) == Point(75, 100)
    assert path.is_straight
    assert path.between(100, 200).is_straight
    assert Path.polyline([Point(0, 0), Point(1, 1), Point(3, 3)]).is_straight
    assert not Path.polyline([Point(0, 0), Point(3, 3), Point(1, 1)]).is_straight
    assert not CUSP.is_straight
    assert Path.cubic(Point(0, 0), Point(0, 0), Point(9, 0), Point(9, 0)).is_straight


def test_extending_runs_straight_on():
    """Length grows by what was added, and no corner appears."""
    path = circle(60.0).between(10.0, 100.0)
    longer = path.extended(20.0, 5.0)
    assert longer.length == pytest.approx(path.length + 25.0)
    assert longer.corners() == ()
    assert path.extended(0.0, 0.0) == path


def test_the_same_curve_in_other_segments_is_the_same():
    """Comparison is of curves, not of segments; direction counts."""
    path = LOOP
    cut = Path.join(*path.split(77.0))
    assert len(cut.segments) == 2
    assert path.same_as(cut)
    assert path != cut
    assert not path.same_as(path.reversed())
    assert not path.same_as(path.moved(Point(0.001, 0)))


def test_paths_are_values():
    """Equal by their numbers, hashable, read-only, and whole after pickling and copying."""
    again = Path.of(np.array(LOOP.segments))
    assert again == LOOP
    assert hash(again) == hash(LOOP)
    assert pickle.loads(pickle.dumps(LOOP)) == LOOP
    assert copy.deepcopy(LOOP) == LOOP
    assert not copy.copy(LOOP).segments.flags.writeable
    with pytest.raises(ValueError, match="read-only"):
        LOOP.segments[0, 0, 0] = 5.0
    with pytest.raises(AttributeError):
        LOOP.segments = again.segments
    with pytest.raises(AttributeError):
        LOOP.name = "loop"
    source = np.array(LOOP.segments)
    kept = Path.of(source)
    source[0, 0, 0] = 99.0
    assert kept == LOOP


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Path.of(np.full((1, 4, 2), np.nan)), "finite coordinates"),
        (lambda: Path.of(np.zeros((0, 4, 2))), "shape"),
        (lambda: Path.of(np.zeros((4, 2))), "shape"),
        (lambda: Path.join(), "nothing"),
        (lambda: Path.join(CUSP, CUSP), "broken"),
        (lambda: Path.polyline([Point(1, 1), Point(1, 1)]), "two different"),
        (lambda: CUSP.at(CUSP.length + 1.0), "isn't on a path"),
        (lambda: CUSP.at(math.nan), "isn't on a path"),
        (lambda: CUSP.points(np.array([-1.0])), "on"),
        (lambda: CUSP.points(np.array([math.nan])), "on"),
        (lambda: CUSP.between(5.0, 5.0), "no part"),
        (lambda: CUSP.split(0.0), "no part"),
        (lambda: CUSP.flatten(0.0), "sagitta"),
        (lambda: Path.straight(Point(1, 1), Point(1, 1)).tangent(0.0), "no direction"),
    ],
)
def test_questions_without_an_answer_are_refused(make, words):
    """Each refusal says what is wrong."""
    with pytest.raises(GeometryError, match=words):
        make()


def test_ends_that_nearly_meet_are_made_to_meet():
    """Within the joint tolerance ends snap together, and a ring closes; a part without length is dropped."""
    gap = Point(0.00005, 0.0)
    path = Path.join(
        Path.straight(Point(0, 0), Point(9, 0)),
        Path.straight(Point(9, 0) + gap, Point(9, 9)),
        Path.straight(Point(9, 9), Point(9, 9)),
        Path.straight(Point(9, 9), Point(0, 0) + gap),
    )
    assert len(path.segments) == 3
    assert path.segments[0, 3].tolist() == path.segments[1, 0].tolist()
    assert path.closed
    assert path.start == path.end
