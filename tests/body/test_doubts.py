"""What is doubted: whatever no one surveyed has, alone or beside the rest, and next to nobody who was surveyed."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping

import numpy as np
import pytest

from drafting.body import Body, Doubt, extremes, find_doubts, make_body, measurements
from drafting.body.contradiction import pairs
from drafting.body.likely import JUDGED, is_other_likelier, proportions
from drafting.body.survey import Rules
from drafting.garment import Garment
from drafting.proof.checks.body import ASKED, DOUBTFUL, check_body
from drafting.proof.finding import Finding
from drafting.saying import render
from tests.body.people import GROUPS, NEEDED, people, some
from tests.garments import brief

SURVEYS = [group for group in GROUPS if group.startswith("bodies_")]
FIVE = (*NEEDED, "stature")
USUAL = (
    *FIVE, "upper_arm_girth", "wrist_girth", "shoulder_length", "across_back_width", "neck_base_girth",
    "outer_arm_length", "upper_chest_girth", "waist_to_hip", "side_neck_point_to_bust_point", "armscye_girth",
)  # fmt: skip
INCH = 25.4
MISS = {"bust_girth": 960.0, "waist_girth": 770.0, "hip_girth": 1000.0, "back_neck_point_to_waist": 410.0}


@pytest.mark.parametrize("rules", ["women", "men"])
def test_the_extremes_are_those_of_the_people_surveyed(rules: Rules) -> None:
    """Of each measurement and of each pair's ratio, over both surveys."""
    known = extremes(rules)
    surveyed = [person for group in SURVEYS if GROUPS[group] == rules for person in people(group)]
    assert known.count == len(surveyed)
    for name, (low, high) in known.alone.items():
        found = [person[name] for person in surveyed]
        assert (min(found), max(found)) == pytest.approx((low, high), abs=1e-3), name
    assert set(known.ratios) == {(pair.first, pair.second) for pair in pairs()}
    for (first, second), (low, high) in known.ratios.items():
        found = [person[first] / person[second] for person in surveyed]
        assert (min(found), max(found)) == pytest.approx((low, high), abs=1e-3), (first, second)


@pytest.mark.parametrize("group", SURVEYS)
@pytest.mark.parametrize("names", [FIVE, USUAL, None], ids=["five", "usual", "all"])
def test_hardly_anyone_surveyed_is_doubted(group: str, names: tuple[str, ...] | None) -> None:
    """97.5 % aren't doubted, 97 % not asked about any one measurement; of nobody are more than two told."""
    surveyed = people(group)[:: 3 if names is None else 1]
    told = [find_doubts(some(person, *(names or person)), GROUPS[group]) for person in surveyed]
    assert sum(any(doubt.why != "seldom" for doubt in each) for each in told) <= 0.025 * len(surveyed)
    assert max(Counter(doubt.name for each in told for doubt in each).values()) <= 0.03 * len(surveyed)
    assert sum(map(bool, told)) <= 0.09 * len(surveyed)
    assert max(map(len, told)) <= 2


def doubted(given: Mapping[str, float], rules: Rules = "women") -> dict[str, Doubt]:
    """What is doubted of a body, by name."""
    return {each.name: each for each in find_doubts(given, rules)}


@pytest.mark.parametrize(
    ("slip", "name", "why"),
    [
        ({"waist_girth": 50.0 * INCH, "bust_girth": 40.5 * INCH, "hip_girth": 43.0 * INCH}, "waist_girth", "alone"),
        ({"waist_girth": 42.0 * INCH, "bust_girth": 40.5 * INCH, "hip_girth": 43.0 * INCH}, "waist_girth", "others"),
        ({"stature": 78.0 * INCH}, "stature", "alone"),
        ({"back_neck_point_to_waist": 510.0}, "back_neck_point_to_waist", "others"),
        ({"back_neck_point_to_waist": 310.0}, "back_neck_point_to_waist", "alone"),
        ({"stature": 1730.0, "armpit_height": 1130.0}, "armpit_height", "others"),
        ({"stature": 1280.0}, "stature", "small"),
        ({"stature": None, "bust_girth": 620.0, "waist_girth": 570.0, "hip_girth": 660.0}, "bust_girth", "small"),
    ],
)
def test_a_slip_is_doubted(slip: dict[str, float | None], name: str, why: str) -> None:
    """By itself, in its ratio, or for all the rest; and nothing else is. None is of what wasn't measured."""
    found = doubted({key: value for key, value in {**MISS, **slip}.items() if value is not None})
    assert {each: doubt.why for each, doubt in found.items()} == {name: why}
    assert not found[name].low <= found[name].value <= found[name].high


@pytest.mark.parametrize("back", [19.5, 20.25])
def test_a_back_too_long_for_its_stature_is_said_beside_that(back: float) -> None:
    """However much longer it is: the arm's girth, by which the others make it least likely, explains nothing."""
    girths = {"bust_girth": 39.5, "waist_girth": 34.25, "hip_girth": 42.5, "upper_arm_girth": 12.75}
    given = {**girths, "stature": 66.0, "outer_arm_length": 23.25, "back_neck_point_to_waist": back}
    (doubt,) = find_doubts({name: INCH * value for name, value in given.items()}, "women")
    assert (doubt.name, doubt.why, doubt.beside) == ("back_neck_point_to_waist", "ratio", "stature")
    assert doubt.high < doubt.value


@pytest.mark.parametrize("person", [0, 400, 900])
def test_whatever_no_one_surveyed_has_is_doubted(person: int) -> None:
    """Each measurement moved to just beyond the extremes, or beyond its ratio: something is doubted."""
    given, known = people("bodies_1988_women")[person], extremes("women")
    for name, (low, high) in known.alone.items():
        for beyond in (low - 2.0, high + 2.0) if measurements()[name].unit == "mm" else ():
            assert find_doubts({**given, name: beyond}, "women"), (name, beyond)
    for (first, second), (low, high) in known.ratios.items():
        for beyond in (low * 0.99, high * 1.01):
            assert find_doubts({**given, first: beyond * given[second]}, "women"), (first, second)


def test_what_the_others_make_likely_is_the_mean_of_those_who_share_them() -> None:
    """With two measurements it is the regression of one on the other, both taped with an error of 1 or 1.5 cm."""
    from drafting.body.survey import survey

    known, given = survey("women"), {"stature": 1730.0, "armpit_height": 1130.0}
    share = known.covariance("armpit_height", "stature") / (known.covariance("stature", "stature") + 1.0)
    likely = 10.0 * (known.means["armpit_height"] + share * (173.0 - known.means["stature"]))
    (doubt,) = find_doubts(given, "women")
    assert (doubt.low + doubt.high) / 2.0 == pytest.approx(likely)
    left = known.covariance("armpit_height", "armpit_height") + 1.5**2
    left -= share * known.covariance("armpit_height", "stature")
    assert doubt.high - doubt.low == pytest.approx(2.0 * 4.0 * 10.0 * math.sqrt(left))


@pytest.mark.parametrize("rules", ["women", "men"])
def test_the_girths_of_the_surveys_are_those_of_the_people(rules: Rules) -> None:
    """Means and covariances of the logarithms, of both surveys, each for itself."""
    for year, known in zip(("1988", "2012"), proportions(rules), strict=True):
        names = list(known.means)
        logs = np.log([[person[name] for name in names] for person in people(f"bodies_{year}_{rules}")])
        assert list(known.means.values()) == pytest.approx(list(logs.mean(axis=0)), abs=1e-6)
        for (one, other), covariance in known.covariances.items():
            found = np.cov(logs[:, names.index(one)], logs[:, names.index(other)])[0, 1]
            assert covariance == pytest.approx(found, rel=1e-5)


@pytest.mark.parametrize("group", SURVEYS)
@pytest.mark.parametrize(
    ("names", "slipped", "told"),
    [(FIVE, JUDGED, 0.55), (FIVE, ("stature",), 0.25), ((*FIVE, "outer_arm_length"), ("stature",), 0.5)],
    ids=["girths", "stature", "stature beside the arm"],
)
def test_a_slip_of_four_inches_is_told(
    group: str, names: tuple[str, ...], slipped: tuple[str, ...], told: float
) -> None:
    """Each slipped by itself, up and down: less shows only where the body is left one that there is."""
    seen = [
        any(doubt.name in slipped for doubt in find_doubts({**given, name: given[name] + by}, GROUPS[group]))
        for given in (some(person, *names) for person in people(group)[::24])
        for name in slipped
        for by in (4.0 * INCH, -4.0 * INCH)
    ]
    assert sum(seen) >= told * len(seen)


BODICE = {
    "stature": 1680.0, "bust_girth": 940.0, "under_bust_girth": 820.0, "waist_girth": 760.0, "hip_girth": 1010.0,
    "back_neck_point_to_waist": 410.0, "side_neck_point_to_waist_over_bust": 445.0, "upper_arm_girth": 300.0,
    "side_neck_point_to_bust_point": 280.0, "bust_point_width": 190.0, "across_back_width": 360.0,
    "across_front_width": 340.0, "shoulder_length": 125.0, "neck_base_girth": 370.0, "waist_to_hip": 200.0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "by"),
    [("side_neck_point_to_bust_point", 50.0), ("side_neck_point_to_bust_point", -50.0), ("bust_point_width", -50.0),
     ("side_neck_point_to_waist_over_bust", 50.0), ("side_neck_point_to_waist_over_bust", -50.0),
     ("upper_arm_girth", 50.0)],
)  # fmt: skip
def test_a_slip_of_two_inches_in_what_shapes_a_front_is_asked_about(name: str, by: float) -> None:
    """By its own name, and nothing else is; of the body as it is, nothing."""
    assert not doubted(BODICE)
    assert set(doubted({**BODICE, name: BODICE[name] + by})) == {name}


@pytest.mark.parametrize("group", SURVEYS)
def test_half_of_the_slips_of_two_inches_are_told_by_name(group: str) -> None:
    """Of all that a fitted bodice is drafted by: the rest leave a body that there is."""
    seen = [
        name in doubted({**given, name: given[name] + by}, GROUPS[group])
        for given in (some(person, *BODICE) for person in people(group)[::60])
        for name in BODICE
        for by in (50.0, -50.0)
    ]
    assert sum(seen) >= 0.47 * len(seen)


def test_what_few_have_is_asked_and_may_stay() -> None:
    """A hip of 10 cm too much, told of none before: a question, with what most have, and how to measure."""
    body = make_body("", {**MISS, "hip_girth": 1100.0, "stature": 1680.0})
    (asked,) = check_body_told(body)
    said = f"{render(asked.sentence, 'cm')}; {render(asked.remedy, 'cm')}"
    assert asked.code == ASKED
    for words in ("hip girth, 110.0 cm, is much", "most have", "leave it if it is the same"):
        assert words in said


def test_a_girth_is_told_between_what_and_what_it_is_likely() -> None:
    """A hip of 38 in typed as 34: the waist sets it off most, and the figure of 38 in would be likely."""
    typed = {"bust_girth": 38.0 * INCH, "waist_girth": 32.0 * INCH, "hip_girth": 34.0 * INCH, "stature": 1650.0}
    (doubt,) = find_doubts({**typed, "back_neck_point_to_waist": 410.0}, "women")
    assert (doubt.name, doubt.why, doubt.beside) == ("hip_girth", "others", "waist_girth")
    assert typed["hip_girth"] < doubt.low < 38.0 * INCH < doubt.high


def check_body_told(body: Body) -> tuple[Finding, ...]:
    """What is told of a body, estimates left out."""
    return tuple(each for each in check_body(Garment(), brief(body)) if each.code in (ASKED, DOUBTFUL))


@pytest.mark.parametrize("unit", ["cm", "in", "mm"])
def test_the_proof_warns_in_words(unit: str) -> None:
    """With the figure, the limit and how to measure; a child is told to be one."""
    body = make_body("", {**MISS, "stature": 1730.0, "armpit_height": 1130.0})
    (warned,) = [each for each in check_body(Garment(), brief(body)) if each.code == DOUBTFUL]
    said = f"{render(warned.sentence, unit)}; {render(warned.remedy, unit)}"
    for words in (
        "armpit height",
        "stature",
        "is likely",
        "measure it again",
        {"cm": "113.0 cm", "in": "44 1/2 in", "mm": "1130"}[unit],
    ):
        assert words in said
    child = make_body("", {**MISS, "bust_girth": 640.0, "waist_girth": 570.0, "hip_girth": 680.0,
                           "back_neck_point_to_waist": 290.0, "stature": 1280.0})  # fmt: skip
    (warned,) = [each for each in check_body(Garment(), brief(child)) if each.code == DOUBTFUL]
    assert "holds for no child" in render(warned.sentence, unit)


@pytest.mark.parametrize("group", SURVEYS)
def test_other_averages_are_named_to_few_and_to_most_who_want_them(group: str) -> None:
    """By the five that everything is drafted by: to hardly anyone whose averages they are, else to six in ten."""
    rules, surveyed = GROUPS[group], [some(person, *FIVE) for person in people(group)[::12]]
    other: Rules = "men" if rules == "women" else "women"
    assert sum(is_other_likelier(given, rules) for given in surveyed) <= 0.03 * len(surveyed)
    assert sum(is_other_likelier(given, other) for given in surveyed) >= 0.55 * len(surveyed)
