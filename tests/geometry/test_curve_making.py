"""Curves made through points or between directions, and how fair they are."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from path_strategies import circle, gentle, points, shares
from scipy.interpolate import CubicSpline
from scipy.optimize import least_squares

from drafting.errors import GeometryError
from drafting.geometry import (
    Path,
    Point,
    bends_back,
    bumps,
    curvature_profile,
    curve_through,
    fit_cubic,
    hook,
    kinks,
)


@pytest.mark.parametrize("degrees", [5, 30, 60, 90, 120])
def test_a_hook_over_an_arc_is_that_arc(degrees):
    """Radius kept within 0.03 % up to a quarter turn (common knowledge of cubic arcs: 2.7e-4 at 90 degrees)."""
    angle = math.radians(degrees)
    arc = hook(Point(100, 0), Point(0, 1), Point.polar(angle, 100), Point.polar(angle + math.pi / 2))
    out = np.abs(np.hypot(*arc.points(shares(arc, 200)).T) - 100.0).max()
    assert out < (0.03 if degrees <= 90 else 0.2)
    assert arc.length == pytest.approx(100 * angle, rel=2e-3)


@given(points, points, st.floats(-1.5, 1.5), st.floats(-1.5, 1.5), st.floats(0.2, 3.0))
@settings(deadline=None, max_examples=80, derandomize=True)
def test_a_hook_leaves_and_arrives_as_told_and_its_handles_never_cross(p0, p1, first, last, tension):
    """Directions at both ends; a hook that bends one way only never bends back."""
    if p0.distance(p1) < 5.0:
        return
    chord = p1 - p0
    t0, t1 = chord.turned(first).unit, chord.turned(last).unit
    made = hook(p0, t0, p1, t1, tension)
    assert made.tangent(0.0).near(t0, 1e-9)
    assert made.tangent(made.length).near(t1, 1e-9)
    if first < -0.05 and last > 0.05:
        legs = np.diff(made.segments[0], axis=0)
        assert (legs[:-1, 0] * legs[1:, 1] - legs[:-1, 1] * legs[1:, 0] > -1e-6).all()


spaced = st.lists(st.tuples(st.floats(15.0, 80.0), st.floats(-40.0, 40.0)), min_size=1, max_size=7)


@given(spaced, st.booleans(), st.booleans())
@settings(deadline=None, max_examples=60, derandomize=True)
def test_a_curve_through_points_passes_them_with_continuous_curvature(steps, first, last):
    """Interpolates; no kink at the points; curvature is the same on both sides of each (G2)."""
    through, x = [Point(0, 0)], 0.0
    for dx, y in steps:
        x += dx
        through.append(Point(x, y))
    start, end = Point.polar(0.4) if first else None, Point.polar(-0.6) if last else None
    path = curve_through(through, start, end)
    assert len(path.segments) == len(through) - 1
    assert all(path.nearest(p)[1] < 1e-9 for p in through)
    assert path.corners() == ()
    joints = path.table.starts[1:-1]
    for i, _ in enumerate(joints):
        before, after = Path.of(path.segments[i : i + 1]), Path.of(path.segments[i + 1 : i + 2])
        assert before.curvature(before.length) == pytest.approx(after.curvature(0.0), abs=1e-6, rel=1e-6)
    if start:
        assert path.tangent(0.0).near(start, 1e-9)
    if end:
        assert path.tangent(path.length).near(end, 1e-9)


def test_a_curve_through_points_of_a_circle_is_nearly_round():
    """Five points of a quarter circle, end directions given: within 0.01 mm of the circle of 100 mm."""
    through = [Point.polar(i * math.pi / 8, 100) for i in range(5)]
    path = curve_through(through, Point(0, 1), Point(-1, 0))
    assert np.abs(np.hypot(*path.points(shares(path, 300)).T) - 100.0).max() < 0.01
    assert path.length == pytest.approx(50 * math.pi, abs=0.02)


def test_a_curve_through_points_agrees_with_scipy_on_its_own_knots():
    """Oracle: scipy's clamped cubic spline with the same knots gives the same points."""
    through = [Point(0, 0), Point(40, 30), Point(90, 35), Point(150, 0)]
    path = curve_through(through, Point(0, 1), Point(1, -1))
    velocity = 3.0 * (path.segments[:, 1] - path.segments[:, 0])
    h = np.hypot(*velocity.T)[0], *(np.diff(path.table.starts)[1:])
    knots = np.concatenate(([0.0], np.cumsum(h)))
    ends = [(1, velocity[0] / h[0]), (1, np.array(tuple(Point(1, -1).unit)))]
    spline = CubicSpline(knots, np.array([tuple(p) for p in through]), bc_type=ends)
    gaps = [path.nearest(Point(*spline(k)))[1] for k in np.linspace(0.0, knots[-1], 50)]
    assert max(gaps) < 0.05


def test_two_points_alone_make_a_straight_line():
    """Without directions there is nothing to bend for; with one, the other end follows as a parabola."""
    assert curve_through([Point(0, 0), Point(30, 40)]).is_straight
    bent = curve_through([Point(0, 0), Point(50, 20)], start=Point(1, 0))
    assert bends_back(bent) == 0
    with pytest.raises(GeometryError, match="same point"):
        curve_through([Point(0, 0), Point(0, 0), Point(1, 1)])
    with pytest.raises(GeometryError, match="two points"):
        curve_through([Point(0, 0)])


def best_handles(samples: np.ndarray, start: Point, end: Point) -> np.ndarray:
    """Return the handles' lengths, and how far every sample then strays, by scipy from several guesses."""
    a, b, out, home = (np.array(tuple(p)) for p in (Point(*samples[0]), Point(*samples[-1]), start.unit, end.unit))
    t = np.linspace(0.0, 1.0, 2001)[:, None]

    def stray(handles: np.ndarray) -> np.ndarray:
        one, two = a + out * handles[0], b - home * handles[1]
        curve = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * one + 3 * t * t * (1 - t) * two + t**3 * b
        return np.hypot(*np.moveaxis(samples[:, None] - curve, 2, 0)).min(axis=1)

    size = float(np.hypot(*(b - a)))
    found = [least_squares(stray, (share * size, share * size)) for share in (0.25, 0.35, 0.5)]
    return min(found, key=lambda each: each.cost).x


@given(gentle(), st.integers(3, 40))
@settings(deadline=None, max_examples=40, derandomize=True)
def test_a_cubic_fitted_to_a_cubic_is_that_cubic(path, count):
    """Samples of a curve that a cubic's handles make: it is found again, to a fiftieth of its length."""
    samples = path.points(shares(path, count))
    made, stray = fit_cubic(samples, path.tangent(0.0), path.tangent(path.length))
    assert stray <= path.length / 50.0
    assert made.start.near(path.start)
    assert made.end.near(path.end)
    assert all(made.nearest(Point(*p))[1] <= stray + 1e-9 for p in samples.tolist())


@pytest.mark.parametrize("height", [10.0, 40.0, 80.0])
def test_a_fit_is_as_near_as_the_best(height):
    """A wave sampled at forty places, which no cubic follows: scipy's best handles are no nearer, to a twentieth."""
    x = np.linspace(0.0, 200.0, 40)
    samples = np.stack((x, height * np.sin(x / 60.0) + 4.0 * np.sin(x / 9.0)), axis=1)
    leaves, arrives = (Point(*(samples[i + 1] - samples[i])) for i in (0, -2))
    made, _ = fit_cubic(samples, leaves, arrives)
    best = best_handles(samples, leaves, arrives)
    wanted = Path.cubic(made.start, made.start + leaves.unit * best[0], made.end - arrives.unit * best[1], made.end)
    off, least = (
        math.fsum(path.nearest(Point(*p))[1] ** 2 for p in samples.tolist()) ** 0.5 for path in (made, wanted)
    )
    assert off <= 1.05 * least


def test_two_samples_are_joined_by_thirds():
    """Nothing but the ends holds the handles: a third of the way each."""
    made, stray = fit_cubic(np.array([(0.0, 0.0), (90.0, 0.0)]), Point(0, 1), Point(0, -1))
    assert made == Path.cubic(Point(0, 0), Point(0, 30), Point(90, 30), Point(90, 0))
    assert stray == 0.0


def test_a_fit_refuses_what_it_cannot_read():
    """One sample, or one sample given again and again."""
    for bad in (np.zeros((1, 2)), np.zeros((3, 2))):
        with pytest.raises(GeometryError, match="fit"):
            fit_cubic(bad, Point(1, 0), Point(1, 0))


def test_fairness_counts_kinks_turns_of_side_and_bumps():
    """A round arc has none; an S turns once; a flattened oval peaks at its ends; a corner is a kink."""
    arc = circle(100.0).between(5.0, 150.0)
    assert (kinks(arc), bends_back(arc), bumps(arc)) == ((), 0, 0)
    s, curve = curvature_profile(arc, 50)
    assert s[-1] == arc.length
    assert curve == pytest.approx([0.01] * 50, rel=0.02)
    wave = Path.cubic(Point(0, 0), Point(60, 90), Point(120, -90), Point(180, 0))
    assert bends_back(wave) == 1
    assert bumps(wave) == 2
    oval = Path.cubic(Point(0, 0), Point(5, 90), Point(95, 90), Point(100, 0))
    assert bends_back(oval) == 0
    assert bumps(oval) >= 1
    bent = Path.polyline([Point(0, 0), Point(50, 0), Point(90, 10)])
    assert [round(s, 6) for s, _ in kinks(bent)] == [50.0]
    assert kinks(bent, within=0.3) == ()


def test_curvature_where_a_handle_has_no_length_is_a_number():
    """No division by nought at a degenerate end."""
    path = Path.cubic(Point(0, 0), Point(0, 0), Point(60, 40), Point(100, 0))
    _, curve = curvature_profile(path)
    assert np.isfinite(curve).all()
