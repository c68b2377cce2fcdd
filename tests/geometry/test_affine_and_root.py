"""Affine maps, and the solver for one unknown."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from path_strategies import points
from scipy.optimize import brentq

from drafting.errors import GeometryError
from drafting.geometry import Affine, Path, Point, halve, newton, root, turn

angles = st.floats(-math.pi, math.pi)


@given(points, points, angles)
@settings(deadline=None, derandomize=True)
def test_maps_in_order_equal_one_map(p, q, angle):
    """``then`` applies left to right; a turn keeps its centre; a mirror twice is no change."""
    first, second = Affine.turn(angle, q), Affine.move(q)
    assert first.then(second).apply(p).near(second.apply(first.apply(p)), 1e-9)
    assert first.apply(q).near(q, 1e-9)
    assert first.apply(p).distance(q) == pytest.approx(p.distance(q), abs=1e-9)
    assert Affine.mirror(q.x).then(Affine.mirror(q.x)).apply(p).near(p, 1e-9)


@given(points, points, points)
@settings(deadline=None, derandomize=True)
def test_a_reflection_keeps_its_line_and_turns_the_plane_over(p, a, b):
    """Points of the line stay; a point and its image are as far from it; the map flips."""
    if a.distance(b) < 1.0:
        return
    over = Affine.reflect(a, b)
    assert over.apply(a).near(a, 1e-8)
    assert over.apply(b).near(b, 1e-8)
    assert over.apply(p).distance(a) == pytest.approx(p.distance(a), abs=1e-8)
    side = (b - a).cross(p - a)
    assert (b - a).cross(over.apply(p) - a) == pytest.approx(-side, abs=1e-4)
    assert over.flips
    assert not over.then(over).flips


def test_a_map_moves_a_path_as_it_moves_points():
    """The image of the path is the path of the images."""
    m = Affine.turn(0.7, Point(3, 4)).then(Affine.mirror(20.0))
    path = Path.cubic(Point(0, 0), Point(10, 50), Point(60, 50), Point(80, 0))
    image = path.transformed(m)
    assert image.at(33.0).near(m.apply(path.at(33.0)), 1e-6)
    assert image == Path.of(m.apply_all(path.segments))
    with pytest.raises(GeometryError, match="two different"):
        Affine.reflect(Point(1, 1), Point(1, 1))


def test_turn_is_signed():
    """Anticlockwise is positive."""
    assert turn(Point(1, 0), Point(0, 2)) == pytest.approx(math.pi / 2)
    assert turn(Point(1, 0), Point(0, -2)) == pytest.approx(-math.pi / 2)


FUNCTIONS = [
    (lambda x: x**3 - 2.0, 0.0, 2.0),
    (lambda x: math.cos(x) - x, 0.0, 1.0),
    (lambda x: math.exp(x) - 50.0, -20.0, 10.0),
    (lambda x: (x - 0.3) ** 9, -1.0, 5.0),
    (lambda x: 1.0 if x > 0.123456 else -1.0, -1.0, 1.0),
    (lambda x: math.atan(40.0 * (x - 0.9)), 0.0, 100.0),
]


@pytest.mark.parametrize(("f", "low", "high"), FUNCTIONS)
def test_the_root_is_where_scipy_finds_it(f, low, high):
    """Oracle: scipy's brentq; never more than some fifty calls, and either order of the ends will do."""
    expected = brentq(f, low, high, xtol=1e-9)
    for a, b in ((low, high), (high, low)):
        x, calls = root(f, a, b, within=1e-7)
        assert x == pytest.approx(expected, abs=0.01 if abs(f(expected + 0.001)) < 1e-20 else 3e-7)
        assert calls < 60


def test_a_smooth_function_takes_few_calls():
    """Faster than halving, which would take 26."""
    _, calls = root(FUNCTIONS[0][0], 0.0, 2.0, within=3e-8)
    assert calls <= 12


def test_a_root_at_an_end_is_taken():
    """Either end may be the answer itself."""
    assert root(lambda x: x, 0.0, 5.0, within=1e-6) == (0.0, 2)
    assert root(lambda x: x, -5.0, 0.0, within=1e-6) == (0.0, 2)


def test_no_change_of_sign_is_refused():
    """Also where the function is not a number, at an end or on the way."""
    with pytest.raises(GeometryError, match="no change of sign"):
        root(lambda x: x * x + 1.0, -1.0, 1.0, within=1e-6)
    with pytest.raises(GeometryError):
        root(lambda x: math.nan, -1.0, 1.0, within=1e-6)
    with pytest.raises(GeometryError, match="isn't a number"):
        root(lambda x: x if abs(x) == 1.0 else math.nan, -1.0, 1.0, within=1e-6)


def slope(f, x):
    """Return the slope of a function by differences."""
    return (f(x + 1e-6) - f(x - 1e-6)) / 2e-6


@pytest.mark.parametrize(("f", "low", "high"), FUNCTIONS)
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_guarded_newton_finds_what_scipy_finds(f, low, high, sign):
    """Oracle: scipy's brentq; rising and falling, steps and flat places among them."""
    expected = brentq(f, low, high, xtol=1e-9)
    rising = sign * f(high) > 0.0
    x = newton(lambda x: (sign * f(x), sign * slope(f, x)), low, high, rising=rising)
    assert x == pytest.approx(expected, abs=0.01 if abs(f(expected + 0.001)) < 1e-20 else 3e-9)


def test_guarded_newton_stays_in_its_bracket():
    """Where there is no change of sign it ends at the end that comes nearest; enough is enough."""
    assert newton(lambda x: (x + 1.0, 1.0), 0.0, 5.0) == pytest.approx(0.0, abs=1e-9)
    assert newton(lambda x: (x - 9.0, 1.0), 0.0, 5.0) == pytest.approx(5.0, abs=1e-9)
    assert newton(lambda x: (x - 3.0, 1.0), 0.0, 5.0, start=2.9, enough=0.2) == 2.9


def test_halving_keeps_to_the_side_where_it_holds():
    """From below or from above; to the width asked for."""
    assert halve(lambda x: x <= 0.3, 0.0, 1.0) == pytest.approx(0.3, abs=1e-11)
    assert halve(lambda x: x <= 0.3, 0.0, 1.0) <= 0.3 <= halve(lambda x: x >= 0.3, 1.0, 0.0)
    tried = []
    halve(lambda x: bool(tried.append(x)), 0.0, 1.0, within=0.1)
    assert len(tried) == 4
