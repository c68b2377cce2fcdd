"""Cloth, stretch, what serves, and what passes over hand and head."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drafting.cloth import (
    KNIT_NEEDS,
    Cloth,
    Kind,
    Stripe,
    find_refusals,
    greatest_reduction,
    hand_passage,
    home_method,
    lies_crosswise,
    short_by,
    turn_cloth,
)
from drafting.errors import InputError


def test_the_home_method_measures_on_a_fold_and_both_ways():
    """The raw edge stretches more, so the fold is measured (treadleyardgoods 2023; powersewing.com tip
    23).
    """
    for words in ("fold", "Let go", "length"):
        assert words in home_method()


def test_the_greatest_reduction_is_arithmetic():
    """Finished girth x (1 + s) >= body girth: 25 % allows 20 %, 50 % allows 33 %."""
    assert greatest_reduction(0.25) == pytest.approx(0.20)
    assert greatest_reduction(0.50) == pytest.approx(1 / 3)
    for stretch in (0.0, 0.1, 0.33, 1.0):
        assert 1000 * (1 - greatest_reduction(stretch)) * (1 + stretch) == pytest.approx(1000)


def test_an_opening_passes_at_the_stretch_there_is():
    """A pull-on neck at the neck base needs 51 % for the median woman's head (head / neck base 1.513,
    ANSUR II).
    """
    assert short_by(371.0, 0.52, 371.0 * 1.513) == 0.0
    assert short_by(371.0, 0.50, 371.0 * 1.513) > 0.0
    missing = short_by(400.0, 0.25, 560.0)
    assert missing == pytest.approx(48.0)
    assert short_by(400.0 + missing, 0.25, 560.0) == 0.0


def test_a_cuff_passes_hand_and_thumb():
    """About 21 cm for the mean woman (hand 18.6 cm), 24 cm for the mean man (21.4 cm), ANSUR 1988; from
    memory.
    """
    assert hand_passage(186.0) == pytest.approx(210.0)
    assert hand_passage(214.0) == pytest.approx(240.0, abs=3.0)
    assert short_by(152.0, 0.21, hand_passage(186.0)) > 0.0


def test_a_knit_with_stretch_and_recovery_serves():
    """20 to 30 % stretch, more is allowed (common practice)."""
    for stretch in (0.20, 0.25, 0.30, 0.8):
        assert find_refusals(Cloth(stretch_across=stretch), KNIT_NEEDS) == ()


def test_a_cloth_is_judged_as_it_lies_round_the_body():
    """One that stretches along alone serves turned, and no other way; it is turned by itself."""
    cloth = Cloth(stretch_across=0.05, stretch_along=0.4)
    (refused,) = find_refusals(cloth, KNIT_NEEDS)
    assert refused.value == 0.05
    assert "[grain]" in refused.remedy
    assert find_refusals(turn_cloth(cloth, math.pi / 2.0), KNIT_NEEDS) == ()
    assert lies_crosswise(cloth)
    assert not lies_crosswise(Cloth(stretch_across=0.25, stretch_along=0.4))
    assert not lies_crosswise(Cloth(kind=Kind.WOVEN, stretch_across=0.0, stretch_along=0.25))
    assert cloth.tell_give() == "stretch 40 % along, 5 % across"
    assert Cloth(stretch_across=0.3, stretch_along=0.1).tell_give() == "stretch 30 %"


@pytest.mark.parametrize(
    ("cloth", "needs", "figure", "value", "limit"),
    [
        (Cloth(kind=Kind.WOVEN, stretch_across=0.25), {}, "kind", 0.25, 0.20),
        (Cloth(stretch_across=0.12), {}, "stretch_across", 0.12, 0.20),
        (Cloth(stretch_across=0.9), {"most_stretch": 0.5}, "stretch_across", 0.9, 0.5),
        (Cloth(recovery=0.8), {}, "recovery", 0.8, 0.9),
        (Cloth(elastane=False), {"elastane": True}, "elastane", 0.0, 1.0),
        (Cloth(stretch_along=0.1), {"stretch_along": 0.2}, "stretch_along", 0.1, 0.2),
        (Cloth(), {"kind": Kind.WOVEN, "stretch": 0.0}, "kind", 0.25, 0.0),
    ],
)
def test_a_cloth_that_cannot_serve_is_refused_with_the_failing_number(cloth, needs, figure, value, limit):
    """One refusal, its figure, its limit, and a remedy."""
    (refusal,) = find_refusals(cloth, replace(KNIT_NEEDS, **needs))
    assert (refusal.figure, refusal.value, refusal.limit) == (figure, value, limit)
    assert refusal.sentence
    assert refusal.remedy


def test_all_that_fails_is_said_at_once():
    """A stiff woven that bags."""
    figures = [
        each.figure for each in find_refusals(Cloth(kind=Kind.WOVEN, stretch_across=0.02, recovery=0.5), KNIT_NEEDS)
    ]
    assert figures == ["kind", "stretch_across", "recovery"]


def test_a_recovery_that_is_what_a_cloth_stays_longer_by_is_guessed():
    """5 % is 95 %, most likely; 70 % is 70 %."""
    for recovery, guessed in ((0.05, True), (0.7, False)):
        (refusal,) = find_refusals(Cloth(recovery=recovery), KNIT_NEEDS)
        assert ('write "95 %" if 5 % is what it stays longer by' in str(refusal.remedy)) is guessed


@pytest.mark.parametrize(
    ("figure", "value"),
    [
        ("stretch_across", -0.1),
        ("stretch_across", float("nan")),
        ("stretch_along", 4.0),
        ("recovery", 1.2),
        ("width", 20.0),
        ("width", float("inf")),
        ("thickness", 0.0),
        ("shrink_along", 0.9),
        ("kind", "felt"),
    ],
)
def test_figures_no_cloth_has_are_refused_by_name(figure, value):
    """Where, what was read, and what is allowed."""
    with pytest.raises(InputError) as caught:
        Cloth(**{figure: value})
    (problem,) = caught.value.problems
    assert problem.where == f"cloth.{figure}"
    assert problem.allowed


def test_a_stripe_has_a_repeat_and_a_direction():
    """Nothing else is a stripe."""
    assert Cloth(stripe=Stripe(25.0, "along", uneven=True)).stripe is not None
    for wrong in ({"repeat": 0.0}, {"repeat": float("nan")}, {"repeat": 10.0, "direction": "up"}):
        with pytest.raises(InputError):
            Stripe(**wrong)
