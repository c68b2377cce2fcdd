"""What the fitting sheet measures: points and lines of the drawn pieces, not what the block noted of itself."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace

import pytest

from drafting.garment import Face, Garment, Role
from drafting.garment.carry import exchange_feature
from drafting.geometry import Point
from drafting.job import draft_job
from drafting.proof.checks.given import wants_toile
from drafting.proof.words.fitting import FittingMeasure, amounts, fitting_sheet
from drafting.proof.words.fitting_folds import FOLDS
from drafting.ticket import Job
from tests.blocks_woven.people import POPLIN, brief_for, person, sleeved
from tests.laws.jobs import catalogue, job_of

ASKED = (
    "back neck point to waist", "centre front, neckline to waist", "side neck point to waist over bust",
    "side neck point to bust point",
    "bust point width", "across front width", "across back", "scye depth length",
    "shoulder seam, left", "shoulder seam, right", "upper arm, left", "sleeve, top of its cap to its lower edge",
    "bust dart, what it takes in",
    "front waist dart, what it takes in", "back waist dart, what it takes in", "shoulder dart, what it takes in",
    "elbow dart, what it takes in",
)  # fmt: skip
"""What a fitter's tape is laid to (common practice)."""

AS_THE_BODY = (
    "back neck point to waist",
    "side neck point to bust point",
    "side neck point to waist over bust",
    "bust point width",
)
"""What a block without ease there gives as it was measured."""


def measures(garment: Garment, job: Job) -> Mapping[str, FittingMeasure]:
    """The rows of the sheet by their titles."""
    return {each.title: each for each in fitting_sheet(garment, job.brief).measures}


@pytest.mark.parametrize("design", ["fitted-bodice", "waist-seam-dress"])
def test_all_that_a_tape_is_laid_to_is_on_the_sheet(design: str) -> None:
    """Body, block, and their difference, the ease."""
    job = job_of(design)
    job = replace(job, brief=replace(job.brief, cloth=POPLIN))
    found = measures(draft_job(job), job)
    assert set(ASKED) <= set(found)
    for each in found.values():
        assert each.ease is None or each.ease == pytest.approx(each.garment - each.body)


def test_nothing_is_read_back_from_facts() -> None:
    """Without any, every row is the very same."""
    job = job_of("waist-seam-dress")
    garment = draft_job(job)
    assert measures(garment, job) == measures(replace(garment, facts=()), job)


def test_a_bust_point_that_is_moved_is_measured_where_it_lies() -> None:
    """1 cm down and 5 mm out on the left: longer to it, and wider apart; left and right then differ."""
    job = job_of("fitted-bodice")
    garment = draft_job(job)
    front = garment.piece("front")
    mark = next(d for d in front.drills if d.name == "bust-point-left")
    moved = exchange_feature(front, mark, replace(mark, at=mark.at + Point(5.0, -10.0)))
    after = measures(garment.with_(pieces=[moved]), job)
    before = measures(garment, job)
    assert after["bust point width"].garment == pytest.approx(before["bust point width"].garment + 5.0)
    left, right = (after[f"side neck point to bust point, {side}"].garment for side in ("left", "right"))
    assert right == pytest.approx(before["side neck point to bust point"].garment)
    assert right + 9.0 < left < right + 13.0


def test_what_the_sheet_says_of_darts_is_their_mouths() -> None:
    """By the ends of the legs."""
    job = job_of("fitted-bodice")
    garment = draft_job(job)
    darts = garment.piece("front").lines(role=Role.DART)
    legs = [line.path for line in darts if line.name.startswith("dart-bust-left")]
    mouth = math.dist(tuple(legs[0].start), tuple(legs[1].end))
    assert measures(garment, job)["bust dart, what it takes in"].garment == pytest.approx(mouth)


@pytest.mark.parametrize("number", range(0, 1000, 125))
def test_a_surveyed_body_has_its_own_lengths(number: int) -> None:
    """What a block gives without ease is the body's (ANSUR 1988), and the scye lies no higher than the body's.

    A waist's edge is trued where its dart is folded, by a millimetre or two. A front is drawn longer over the bust
    where its dart would be small for the cup, which a fact tells.
    """
    brief = brief_for(person(number))
    garment = sleeved(brief)
    found = {each.title: each for each in fitting_sheet(garment, brief).measures}
    longer = next((fact.value for fact in garment.facts if fact.name == "front_longer_for_cup"), 0.0)
    for title in AS_THE_BODY:
        more = 0.0 if title not in AS_THE_BODY[1:3] else longer if "waist" in title else longer / 2.0
        assert found[title].ease == pytest.approx(more, abs=3.6), title
    assert found["scye depth length"].ease >= 0.0


def test_a_short_sleeve_is_not_held_against_the_arm() -> None:
    """It is meant to be short; and a top without darts has no dart's row."""
    job = job_of("basic-tee")
    found = measures(draft_job(job), job)
    assert found["sleeve, top of its cap to its lower edge"].body is None
    assert not any(title.startswith("dart") for title in found)


def test_every_answer_names_a_change_there_is_and_its_option() -> None:
    """A change that is installed answers each, and each figure that the toile gives is one of that one's options."""
    advisor = job_of("basic-tee").advisor
    for fold in (fold for fold in FOLDS if fold.situation):
        answered = fold.answered(advisor)
        assert answered.changes, fold.situation
        for advice in advisor(fold.situation):
            options = set(catalogue().change(advice.change, advice.change).told())
            named = re.findall(r"(\w+) = ", advice.mend.template)
            assert named, advice.change
            assert set(named) <= options, advice.change


@pytest.mark.parametrize(("unit", "deep", "out"), [("cm", "1 cm", "2 cm"), ("in", "1/2 in", "1 in")])
def test_a_pinch_takes_out_twice_its_depth(unit: str, deep: str, out: str) -> None:
    """Both layers of the fold (by arithmetic), in the maker's unit."""
    words = " ".join(amounts(unit, "sway-back"))
    assert f"Pinched {deep} deep = {out} taken out" in words


def test_a_toile_is_wanted_for_wovens_and_darts() -> None:
    """And not for a knit top."""
    for design, wanted in (("fitted-bodice", True), ("waist-seam-dress", True), ("basic-tee", False)):
        job = job_of(design)
        garment = draft_job(job)
        assert wants_toile(garment, job.brief) is wanted
    assert any(piece.face is Face.FRONT for piece in garment.pieces)
