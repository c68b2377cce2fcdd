"""What is said of a garment is true of that garment: what opens, what is there to be made wider, what was moved."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from blocks.cuff import draft_shaped_cuffs
from blocks.darted_bodice import draft_darted_bodice
from blocks.woven_sleeve import draft_woven_sleeve
from drafting.changes.darts.panel import draw_panel_seam
from drafting.changes.design.closure import open_closure
from drafting.errors import CannotDraft
from drafting.garment import Step
from drafting.proof import print_proof, proof_lines, prove
from drafting.proof.checks.openings import check_openings
from drafting.proof.fit.check import check_fit
from drafting.proof.fit.row import FitRow
from drafting.proof.rows import OpeningRow
from drafting.saying import Unit, render
from tests.garments import BODY, brief, build
from tests.skirts.dressed import WOVEN, skirt


def test_an_opening_with_a_closure_is_told_by_that_and_what_it_passes() -> None:
    """Without a length: the layer that holds back most is sewn to more than the edge."""
    garment, wearer = skirt(["skirt", "closure", "waistband"])
    proved = prove(garment, wearer)
    proof = dict(print_proof(proved))["Proof"]
    (said,) = [line for line in proof if line.startswith("The waist")]
    assert any(", closure open  " in line for line in proof_lines(proved))
    assert said == f"The waist: its closure opens it for the hips, {wearer.body['hip_girth'] / 10.0:.1f} cm."


@pytest.mark.parametrize(("steps", "part"), [((), "the sleeve"), ((draft_shaped_cuffs,), "the cuff")])
def test_a_tight_wrist_is_made_wider_where_the_sleeve_ends(steps: tuple[Step[Any], ...], part: str) -> None:
    """At its cuff where it has one."""
    wearer = brief("alto", cloth=WOVEN)
    made = build(wearer, [(draft_darted_bodice, {}), (draft_woven_sleeve, {})], [(step, {}) for step in steps])
    tight = OpeningRow("wrist-left", "edge", 150.0, 0.0, 150.0, "the hand", 220.0)
    told = next(each for each in check_openings(made, wearer, [tight]) if each.code == "openings.pass")
    assert render(told.remedy, "cm").startswith(f"make {part} about 7.0 cm wider")


def test_a_refused_panel_seam_names_its_own_options() -> None:
    """Start and end, which it has, and how it turns less: a dart is turned to its start without being asked."""
    wearer = brief("alto", cloth=WOVEN)
    plain = build(wearer, [(draft_darted_bodice, {})])
    with pytest.raises(CannotDraft, match="too sharply") as refused:
        build(wearer, [(draft_darted_bodice, {})], [(draw_panel_seam, {"start": "side 0.2"})])
    assert plain.pieces
    assert refused.value.because == ("start", "end")
    assert "start nearer" in str(refused.value.help)


def test_a_waist_that_a_short_closure_leaves_shut_wants_a_longer_one() -> None:
    """A second one at the same place would be refused."""
    wearer = brief("alto", cloth=WOVEN)
    made = build(wearer, [(draft_darted_bodice, {})], [(open_closure, {"length": 150.0})])
    (told,) = [each for each in prove(made, wearer).findings if each.code == "openings.pass" and each.place == "waist"]
    assert told.wanted is not None
    assert told.wanted.name == "closure-short-at"


@pytest.mark.parametrize(
    ("passed", "said"),
    [
        (0.4, {"mm": "", "cm": "", "in": ""}),
        (0.6, {"mm": "61 mm, where at most 60 mm", "cm": "6.1 cm, where at most 6.0 cm"}),
        (1.0, {"in": "2 7/16 in, where at most 2 3/8 in"}),
    ],
)
def test_a_bound_that_is_met_is_no_finding_and_one_that_is_passed_says_so(
    passed: float, said: Mapping[Unit, str]
) -> None:
    """In each unit the figure and its bound differ as they are shown."""
    row = FitRow("any", "front", "any", 0.0, 60.0 + passed, most=60.0)
    found = check_fit(build(brief("alto"), BODY), brief("alto"), [row])
    for unit, words in said.items():
        told = [render(each.sentence, unit) for each in found]
        assert told == ([f"any: {words} is wanted"] if words else [])
