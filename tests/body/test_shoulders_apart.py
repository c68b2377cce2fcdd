"""One shoulder lower than the other: left and right measured apart."""

from __future__ import annotations

import math

import pytest

from drafting.body import UnknownMeasurement, make_body
from drafting.body.contradiction import MOST_APART
from drafting.errors import InputError
from tests.body.people import NEEDED, people, some

BASE = some(people("bodies_1988_women")[0], *NEEDED, "stature")
BOTH, LEFT, RIGHT = "shoulder_slope", "shoulder_slope_left", "shoulder_slope_right"


def slopes(**degrees: float) -> dict[str, float]:
    """Slopes in degrees as a body takes them."""
    return {name: math.radians(value) for name, value in degrees.items()}


def body_with(**degrees: float):
    """The body with these slopes besides what everything needs."""
    return make_body("", {**BASE, **slopes(**degrees)})


def refused(**degrees: float) -> str:
    """What is said of slopes that can't be."""
    with pytest.raises(InputError) as caught:
        body_with(**degrees)
    (problem,) = caught.value.problems
    return str(problem)


def test_sides_that_nobody_measured_are_as_the_slope_for_both():
    """They aren't among the values, nor among the estimates; asked for, each is the slope for both."""
    for body in (body_with(), body_with(shoulder_slope=24.0)):
        assert LEFT not in body
        assert RIGHT not in body.estimated
        assert body[LEFT] == body[RIGHT] == body[BOTH]


def test_of_two_sides_the_slope_for_both_is_the_mean():
    """And the shoulder point's height follows it."""
    body = body_with(shoulder_slope_left=22.0, shoulder_slope_right=30.0)
    assert math.degrees(body[BOTH]) == pytest.approx(26.0)
    assert "mean of left and right" in str(body.estimated[BOTH])
    fall = body["side_neck_point_height"] - body["shoulder_point_height"]
    assert fall == pytest.approx(body["shoulder_length"] * math.sin(math.radians(26.0)))
    assert {LEFT, RIGHT} <= body.given.keys()


@pytest.mark.parametrize(("taken", "other"), [(LEFT, RIGHT), (RIGHT, LEFT)])
def test_of_one_side_the_other_is_as_the_slope_for_both(taken: str, other: str):
    """As it was measured, or else as it is estimated; the rule says which."""
    body = body_with(**{taken: 30.0, BOTH: 24.0})
    assert math.degrees(body[other]) == pytest.approx(24.0)
    assert str(body.estimated[other]) == "as the shoulder slope"
    body = body_with(**{taken: 30.0})
    assert body[other] == body[BOTH] == body_with()[BOTH]
    assert str(body.estimated[other]) == "as the shoulder slope, itself estimated"
    assert taken not in body.estimated


def test_a_side_far_from_the_estimate_draws_the_other_in():
    """An estimate never contradicts what was measured."""
    body = body_with(shoulder_slope_left=48.0)
    assert body[RIGHT] == pytest.approx(math.radians(48.0) - MOST_APART)
    assert "drawn in to what can stand beside the shoulder slope left" in str(body.estimated[RIGHT])


def test_sides_too_far_apart_are_both_named_with_the_difference():
    """15 degrees over a shoulder of 12 cm are 3 cm."""
    said = refused(shoulder_slope_left=15.0, shoulder_slope_right=35.0)
    for words in (
        f"body.{LEFT}",
        "15 deg",
        RIGHT,
        "35 deg",
        "differ by 20 deg",
        "at most 15 deg",
        "measure both again",
    ):
        assert words in said
    said = refused(shoulder_slope_right=40.0, shoulder_slope=20.0)
    assert f"body.{RIGHT}" in said
    assert f"beside {BOTH} 20 deg" in said
    body_with(shoulder_slope_left=18.0, shoulder_slope_right=32.5)


def test_a_slope_for_both_must_lie_between_the_sides():
    """But for the error of reading a photo."""
    said = refused(shoulder_slope_left=20.0, shoulder_slope_right=24.0, shoulder_slope=32.0)
    for words in (f"body.{BOTH}", "32 deg", LEFT, RIGHT, "20 deg to 24 deg", f"leave out {BOTH}"):
        assert words in said
    assert math.degrees(body_with(shoulder_slope_left=20.0, shoulder_slope_right=24.0, shoulder_slope=26.0)[BOTH]) < 27


def test_a_side_out_of_range_is_told_once():
    """One slip, one problem."""
    assert f"body.{LEFT}" in refused(shoulder_slope_left=70.0, shoulder_slope_right=20.0)


def test_there_is_no_other_measurement_of_a_side():
    """A name that only looks like one is told."""
    with pytest.raises(UnknownMeasurement):
        body_with()["bust_girth_left"]
