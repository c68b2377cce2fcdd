"""Darts in the sides of a knit's front: as long over the bust as the body, and else as it is without them."""

from __future__ import annotations

from functools import cache

import pytest

from blocks.circle_skirt import draft_circle_skirt
from blocks.knit_dart import MOST_LONGER
from blocks.waist_seam import draft_waist_seam
from drafting.body import Body, make_body
from drafting.changes.fit.bust import fit_full_bust
from drafting.cloth import Fit
from drafting.garment import Face, Garment, Role, Side
from drafting.garment.darts import darts_of, intake
from drafting.proof import Severity, prove
from drafting.redraw.halves import Half, find_half
from tests.body.people import people
from tests.garments import BODY, Planned, brief, build

KNIT = BODY[0][0]
DARTED = ((KNIT, {"bust_dart": True}),)
DRESS = ((KNIT, {"bust_dart": True}), (draft_circle_skirt, {"circle": "half"}), (draft_waist_seam, {}))


@cache
def full_bust(survey: str, place: int) -> Body:
    """One of those whose busts exceed their under busts the most, the first of them at 0."""
    ranked = sorted(people(survey), key=lambda person: person["under_bust_girth"] - person["bust_girth"])
    short = (make_body("alto", person, rules="women") for person in ranked[place:])
    return next(b for b in short if b["side_neck_point_to_waist_over_bust"] - b["back_neck_point_to_waist"] > 60.0)


SOME = [("bodies_1988_women", 10), ("bodies_1988_women", 60), ("bodies_2012_women", 0), ("bodies_2012_women", 90)]


def side_length(half: Half) -> float:
    """The side seam's length, a dart in it sewn."""
    return sum(line.path.length for line in half.lines(Role.SIDE))


def front(garment: Garment, side: Side = Side.LEFT) -> Half:
    """That side's half of the front."""
    return find_half(garment, side, Face.FRONT)


@pytest.mark.parametrize(("survey", "place"), SOME)
@pytest.mark.parametrize("fit", [Fit.CLOSE, Fit.RELAXED])
def test_a_dart_in_each_side_makes_the_front_as_long_as_the_body(survey: str, place: int, fit: Fit) -> None:
    """Full busts of both surveys: proven, over the bust as measured, and the side as long as the back's."""
    b = brief(full_bust(survey, place), fit)
    garment = build(b, DARTED)
    proof = prove(garment, b)
    assert not [each for each in proof.findings if each.severity is Severity.ERROR]
    rows = [row for row in proof.fit if row.name == "front_over_bust"]
    short = max(row.body - row.garment for row in rows)
    takes = [intake(dart) for dart in darts_of(garment.piece("front"))]
    assert len(takes) == 2
    assert short == pytest.approx(0.0, abs=0.1) or min(takes) > MOST_LONGER - 5.0
    for side in (Side.LEFT, Side.RIGHT):
        assert side_length(front(garment, side)) == pytest.approx(
            side_length(find_half(garment, side, Face.BACK)), abs=1e-3
        )


def test_what_lies_above_the_dart_stays_as_it_is_without() -> None:
    """Neither the armhole nor the shoulder is drawn anew: the whole front is raised, as its waist lies level."""
    b = brief(full_bust(*SOME[2]))
    with_dart, without = (front(build(b, plans)) for plans in (DARTED, BODY))
    for role in (Role.ARMHOLE, Role.SHOULDER, Role.NECKLINE):
        assert with_dart.path(role).length == pytest.approx(without.path(role).length, abs=1e-6)
    hems = [half.path(Role.HEM).start.y for half in (with_dart, find_half(build(b, DARTED), Side.LEFT, Face.BACK))]
    assert hems[0] == pytest.approx(hems[1], abs=1e-6)


def test_a_front_that_is_long_enough_gets_no_dart() -> None:
    """A dart that would take in less than is eased isn't sewn; what was asked for and isn't there is told."""
    b = brief("tenor")
    garment = build(b, DARTED)
    assert not darts_of(garment.piece("front"))
    assert garment.fact("bust_dart") == 0.0
    (told,) = (found for found in prove(garment, b).findings if found.code == "given.dart")
    assert "left out" in str(told.sentence)


def test_a_darted_bodice_is_sewn_to_a_circle_skirt() -> None:
    """Its darts end above the waist, where it is cut off: the waist seam meets, and isn't short in front."""
    b = brief(full_bust(*SOME[0]))
    garment = build(b, DRESS)
    proof = prove(garment, b)
    assert not [each for each in proof.findings if each.severity is Severity.ERROR]
    assert darts_of(garment.piece("front"))


@pytest.mark.parametrize(("plans", "by"), [(BODY, 10.0), (DARTED, 20.0)])
def test_a_fuller_bust_leaves_the_armhole_its_length(plans: tuple[Planned, ...], by: float) -> None:
    """Slashed and spread about the armhole it grows by a few millimetres, not by what the bust does."""
    b = brief(full_bust(*SOME[0]))
    before, after = (build(b, plans, more) for more in ((), ((fit_full_bust, {"by": by}),)))
    grown = front(after).path(Role.ARMHOLE).length - front(before).path(Role.ARMHOLE).length
    assert 0.0 <= grown < 5.0
