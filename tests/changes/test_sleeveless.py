"""Sleeves taken off again."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from blocks.band import draft_armhole_bands, draft_hem_band, draft_neck_band
from blocks.cuff import draft_shaped_cuffs
from blocks.sleeve import draft_set_in_sleeve
from drafting.changes.sleeve.length import change_sleeve_length
from drafting.changes.sleeve.sleeveless import take_off_sleeves
from drafting.errors import CannotDraft
from drafting.garment import Garment
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.saying import render
from drafting.ticket import find_catalogue
from drafting.ticket.narrowed import find_narrowed
from tests.garments import BODY, SINGERS, SLEEVED, brief, build
from tests.laws.jobs import job_of, with_changes
from tests.skirts.dressed import WOVEN


def untold(garment: Garment) -> Garment:
    """The garment without what tells that a sleeve was taken off."""
    told = tuple(fact for fact in garment.facts if not fact.name.startswith("sleeveless_"))
    return replace(garment, facts=told, bared=frozenset())


def test_without_both_sleeves_the_garment_is_what_it_was() -> None:
    """Pieces, seams, openings, aims, facts and solves: as if no sleeve had ever been set in."""
    b = brief()
    bare = build(b, SLEEVED, [(take_off_sleeves, {})])
    assert {f.name for f in bare.facts} >= {"sleeveless_left", "sleeveless_right"}
    assert untold(bare) == build(b, BODY)


@pytest.mark.parametrize(("side", "other"), [("left", "right"), ("right", "left")])
def test_without_one_sleeve_it_is_the_garment_with_the_other_alone(side: str, other: str) -> None:
    """The other side's pieces are as they were."""
    b = brief()
    less = untold(build(b, SLEEVED, [(take_off_sleeves, {"side": side})]))
    one = build(b, BODY, [(draft_set_in_sleeve, {"arm": other})])
    assert replace(less, seams=()) == replace(one, seams=())
    assert {seam.name: seam for seam in less.seams} == {seam.name: seam for seam in one.seams}


def test_a_sleeve_changed_before_leaves_nothing_behind() -> None:
    """Its facts go with it."""
    b = brief()
    steps = [(change_sleeve_length, {"to": "short"}), (take_off_sleeves, {})]
    assert untold(build(b, SLEEVED, steps)) == build(b, BODY)


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("side", ["both", "left", "right"])
def test_banded_armholes_prove_for_every_singer(voice: str, side: str) -> None:
    """The band is drafted onto whatever armhole is there; cuffs go onto the sleeves that are left."""
    b = brief(voice)
    edges: list[Any] = [(draft_neck_band, {}), (draft_hem_band, {}), (draft_armhole_bands, {"arm": side})]
    cuffs: list[Any] = [] if side == "both" else [(draft_shaped_cuffs, {})]
    top = build(b, SLEEVED, [(take_off_sleeves, {"side": side})], edges, cuffs)
    proof = prove(top, b)
    assert proof.passed, [render(f.sentence, "cm") for f in proof.findings]
    assert "band" in {seam.kind.name for seam in top.seams}
    assert len([p for p in top.pieces if p.name.startswith("cuff")]) == (0 if side == "both" else 1)


@pytest.mark.parametrize(("side", "arm"), [("both", "both"), ("left", "left"), ("both", "right")])
def test_cuffs_go_with_the_sleeves_that_a_change_took_off(side: str, arm: str) -> None:
    """A design's cuffs are left away by themselves, on both sides as on one."""
    b = brief()
    top = build(b, SLEEVED, [(take_off_sleeves, {"side": side}), (draft_shaped_cuffs, {"arm": arm})])
    assert not [piece for piece in top.pieces if piece.name.startswith("cuff")]
    assert prove(top, b).passed


def test_cuffs_are_refused_where_no_sleeve_was_ever_set_in() -> None:
    """There nothing was taken off: the design is at fault."""
    with pytest.raises(CannotDraft, match="no sleeve to put a cuff on"):
        build(brief(), BODY, [(draft_shaped_cuffs, {})])
    with pytest.raises(CannotDraft, match="left sleeve opening"):
        build(brief(), BODY, [(draft_set_in_sleeve, {"arm": "right"}), (draft_shaped_cuffs, {"arm": "left"})])


def test_a_sleeve_that_is_not_there_cannot_be_taken_off() -> None:
    """Asked for by name, or at all."""
    with pytest.raises(CannotDraft, match="sleeveless: there is no sleeve"):
        build(brief(), BODY, [(take_off_sleeves, {})])
    with pytest.raises(CannotDraft, match="no left sleeve"):
        build(brief(), BODY, [(draft_set_in_sleeve, {"arm": "right"}), (take_off_sleeves, {"side": "left"})])


@pytest.mark.parametrize(
    ("side", "faced"),
    [
        ("both", {"facing-front", "facing-back-left", "facing-back-right"}),
        ("left", {"armhole-left-facing-front", "armhole-left-facing-back-left"}),
    ],
)
def test_a_wovens_bared_armholes_are_faced_with_its_neck(side: str, faced: set[str]) -> None:
    """By one facing where both are bare; the proof has no word on them."""
    wearer = replace(brief(), cloth=WOVEN)
    job = with_changes(job_of("fitted-bodice"), [("sleeveless", {"side": side})], wearer)
    garment = draft_job(job)
    assert {piece.name for piece in garment.pieces if "facing" in piece.name} >= faced
    assert prove(garment, wearer).passed
    assert not list(find_narrowed(garment, job.finish))


def test_a_wovens_armhole_that_is_only_turned_is_warned_of() -> None:
    """Where the ticket has no facing for it: 6 mm fray, and the remedy says how to face it."""
    wearer = replace(brief(), cloth=WOVEN)
    job = with_changes(job_of("fitted-bodice"), [("sleeveless", {})], wearer)
    bare = replace(job, steps=tuple(each for each in job.steps if each.step.name != "facing"))
    plan, mends = replace(job.finish, hem_shortage=0.02), find_catalogue().find_mends
    found = [told for told in find_narrowed(draft_job(bare), plan, mends) if "armhole" in told.place]
    assert {f.severity for f in found} == {Severity.WARNING}
    assert all('opening = "both"' in render(f.remedy, "cm") for f in found)
