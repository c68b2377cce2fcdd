"""Making a body: what is refused, by name, and what every surveyed person passes."""

from __future__ import annotations

import copy
import pickle
from typing import Any

import pytest

from drafting.body import Body, UnknownMeasurement, make_body
from drafting.errors import InputError
from tests.body.people import GROUPS, NEEDED, people, some

ALTO = {
    "bust_girth": 960.0,
    "waist_girth": 800.0,
    "hip_girth": 1020.0,
    "back_neck_point_to_waist": 410.0,
    "stature": 1680.0,
}


def problems(changes: dict[str, Any], **options: Any) -> dict[str, str]:
    """Return the problems with the alto's measurements, changed, by the measurement they are filed under."""
    with pytest.raises(InputError) as caught:
        make_body("alto", {**ALTO, **changes}, **options)
    return {each.where.removeprefix("body."): each.sentence() for each in caught.value.problems}


@pytest.mark.parametrize("group", GROUPS)
def test_every_person_of_the_surveys_passes(group):
    """All 2,994 people of ANSUR 1988 and ANSUR II and all sizes of EN 13402-3 pass with all measurements
    given.
    """
    passed = sum(len(make_body("", person, rules=GROUPS[group]).estimated) == 0 for person in people(group))
    assert passed == len(people(group))


def test_given_measurements_stay_as_they_were_and_the_rest_state_their_rule():
    """Nothing given is touched; nothing else is without a reason."""
    body = make_body("alto", ALTO)
    assert dict(body.given) == ALTO
    assert set(body.estimated) == set(body.values) - set(ALTO)
    assert all(
        "ANSUR 1988" in rule or " less " in rule or " plus " in rule for rule in map(str, body.estimated.values())
    )


def test_a_body_is_a_value():
    """Equal, hashable, read only, and it survives being sent to another process."""
    body = make_body("alto", ALTO)
    assert body == make_body("alto", dict(reversed(ALTO.items())))
    assert hash(body) == hash(make_body("alto", ALTO))
    assert pickle.loads(pickle.dumps(body)) == body
    assert copy.deepcopy(body) == body
    with pytest.raises(TypeError):
        body.values["bust_girth"] = 1.0
    source = dict(ALTO)
    kept = Body("x", source)
    source["bust_girth"] = 1.0
    assert kept["bust_girth"] == 960.0


def test_an_unknown_name_is_answered_with_close_ones():
    """Both when asked of a body and when given to one."""
    body = make_body("alto", ALTO)
    assert "bust_girth" in body
    assert "bust_girt" not in body
    with pytest.raises(UnknownMeasurement, match="bust_girth") as caught:
        body["bust_girt"]
    assert "bust_girth" in caught.value.close
    assert "did you mean hip_girth" in problems({"hip_girht": 1.0})["hip_girht"]
    (hostile,) = problems({"\x1b[2J" + "x" * 10_000: 1.0}).values()
    assert hostile.isprintable()
    assert len(hostile) < 200


def test_each_missing_needed_measurement_is_named_with_its_instruction():
    """Three missing, three problems, all at once."""
    with pytest.raises(InputError) as caught:
        make_body("alto", {"hip_girth": 1000.0}, where="alto.toml: wearer.body")
    found = {each.where: each.mend for each in caught.value.problems}
    assert set(found) == {f"alto.toml: wearer.body.{name}" for name in NEEDED if name != "hip_girth"}
    assert all(found.values())


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -960.0, 0.0, 1e300, 10**400, True, "96 cm", None])
def test_a_value_that_is_no_girth_is_refused_by_name(value):
    """Also what a ticket's reader should have caught before."""
    assert "bust_girth" in problems({"bust_girth": value})


@pytest.mark.parametrize(
    ("value", "unit", "mend"),
    [
        (380.0, "cm", '"38 in"'),
        (2438.4, "in", '"96.0 cm"'),
        (96.0, "mm", '"96.0 cm"'),
        (9600.0, "cm", '"960 mm"'),
    ],
)
def test_a_slip_of_the_unit_is_recognised(value, unit, mend):
    """Inches in a ticket of centimetres, and the like."""
    assert mend in problems({"bust_girth": value}, unit=unit)["bust_girth"]


def test_no_other_unit_is_guessed_where_one_was_written():
    """What was written is told, and what it comes to."""
    with pytest.raises(InputError) as refused:
        make_body("alto", {**ALTO, "bust_girth": 12496.8}, written={"bust_girth": "“41 feet”"})
    said = str(refused.value)
    assert "“41 feet”, which is 1249.7 cm" in said
    assert "if your tape" not in said


@pytest.mark.parametrize(
    ("changes", "place", "other", "says"),
    [
        ({"waist_to_hip": -20.0}, "waist_to_hip", "", "not above the hip line"),
        (
            {"waist_height": 900.0, "hip_height": 910.0},
            "hip_height",
            "waist_height",
            "not above the hip line",
        ),
        (
            {"waist_height": 1050.0, "hip_height": 850.0, "waist_to_hip": 120.0},
            "waist_to_hip",
            "hip_height",
            "20.0 cm",
        ),
        (
            {"neck_base_girth": 530.0, "shoulder_length": 100.0},
            "neck_base_girth",
            "shoulder_length",
            "too wide",
        ),
        (
            {"neck_base_girth": 520.0, "across_back_width": 330.0},
            "neck_base_girth",
            "across_back_width",
            "too wide",
        ),
        ({"scye_depth_length": 300.0}, "scye_depth_length", "back_neck_point_to_waist", "too near the waist"),
        ({"under_bust_girth": 1010.0}, "under_bust_girth", "bust_girth", "more than the bust"),
        ({"wrist_girth": 200.0, "upper_arm_girth": 190.0}, "wrist_girth", "upper_arm_girth", "too thick"),
        ({"hand_girth": 150.0, "wrist_girth": 160.0}, "hand_girth", "wrist_girth", "less than the wrist"),
        ({"back_neck_point_to_waist": 620.0}, "back_neck_point_to_waist", "stature", "too long"),
        (
            {"back_neck_point_height": 1450.0, "waist_height": 1100.0, "back_neck_point_to_waist": 480.0},
            "back_neck_point_to_waist",
            "waist_height",
            "35.0 cm",
        ),
        (
            {"outer_arm_length": 600.0, "upper_arm_length": 360.0, "lower_arm_length": 310.0},
            "outer_arm_length",
            "lower_arm_length",
            "67.0 cm",
        ),
        (
            {
                "shoulder_slope": 0.2,
                "side_neck_point_height": 1440.0,
                "shoulder_point_height": 1360.0,
                "shoulder_length": 145.0,
            },
            "shoulder_slope",
            "side_neck_point_height",
            "33 deg",
        ),
        (
            {"armpit_height": 1400.0, "shoulder_point_height": 1380.0},
            "armpit_height",
            "shoulder_point_height",
            "above",
        ),
    ],
)
def test_measurements_that_cannot_stand_together_are_both_named(changes, place, other, says):
    """The problem is filed under one, names the other, and tells how to measure again."""
    sentence = problems(changes)[place]
    assert other in sentence
    assert says in sentence


def test_rules_are_for_women_or_men():
    """Anything else is refused rather than guessed."""
    with pytest.raises(InputError, match="women or men"):
        make_body("x", ALTO, rules="both")


def test_a_person_given_by_some_measurements_keeps_them():
    """A subset of a real person's measurements never contradicts itself."""
    for person in people("bodies_1988_women")[::25]:
        given = some(person, *NEEDED, "upper_arm_girth", "neck_girth", "waist_to_hip")
        assert dict(make_body("", given).given) == given
