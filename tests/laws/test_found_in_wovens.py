"""Stacks of changes on woven designs that once went wrong, each kept as it was found."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from drafting.cloth import Fit
from drafting.garment import Brief, Face, Role, Side
from drafting.garment.places import lines_along, spot
from drafting.job import draft_job
from tests.garments import singer
from tests.laws.jobs import Outcome, job_of, outcome, with_changes
from tests.laws.strategies import TRIMS, WOVEN_CLOTHS, Made, surveyed

WOMEN, TABLE = "bodies_1988_women", "size_table_women_derived"


def made(design: str, body: Any, fit: Fit, stack: list[Made]) -> Outcome:
    """What became of a stack on a woven design, in cotton, for a singer by voice or a survey's row."""
    wearer = singer(body) if isinstance(body, str) else surveyed(*body)
    return outcome(with_changes(job_of(design), stack, Brief(wearer, WOVEN_CLOTHS[0], fit, {"rib": TRIMS[0]})))


DRAWN: tuple[tuple[str, str, Any, Fit, list[Made]], ...] = (
    ("one bust smaller, the other fuller", "waist-seam-dress", ("bodies_2012_women", 496), Fit.SEMI,
     [("small-bust", {"side": "right"}), ("full-bust", {"side": "left"})]),
    ("one bust fuller, then both smaller", "sheath-dress", ("bodies_1988_women", 131), Fit.SEMI,
     [("full-bust", {"by": 4.9, "side": "left"}), ("small-bust", {"by": 0.3, "side": "both"})]),
    ("a fold in front of halves that were drawn apart", "waist-seam-dress", ("bodies_2012_women", 496), Fit.SEMI,
     [("small-bust", {"side": "right"}), ("full-bust", {"side": "left"}), ("centre", {"kind": "fold"})]),
    ("panel's armhole bent at the underarm", "princess-top", ("bodies_2012_women", 309), Fit.SEMI,
     [("broad-back", {})]),
    ("armhole bent at the underarm", "sheath-dress", ("bodies_2012_women", 230), Fit.CLOSE,
     [("square-shoulder", {"side": "left"})]),
    ("armhole in parts", "fitted-bodice", ("bodies_2012_women", 317), Fit.RELAXED,
     [("broad-back", {}), ("low-shoulder", {"by": 7.2, "keep_underarm": False})]),
    ("parallel that stands still", "waist-seam-dress", (WOMEN, 840), Fit.SEMI,
     [("sloping-shoulder", {"keep_underarm": False}), ("dart-to-seam", {"side": "right"})]),
    ("back waist dart split to the neckline", "waist-seam-dress", (TABLE, 32), Fit.SEMI,
     [("split-dart", {"dart": "waist-back", "to": "neckline 0.3", "set_back": 3.1})]),
    ("armhole dart beside the notch", "fitted-bodice", ("bodies_2012_men", 297), Fit.RELAXED,
     [("split-dart", {"dart": "shoulder"})]),
    ("bust dart beside the hem's dart", "fitted-bodice", ("bodies_2012_men", 176), Fit.RELAXED,
     [("full-bust", {"by": 10.3, "side": "right"}), ("split-dart", {"to": "hem 0.25", "side": "left"})]),
    ("shoulder dart down to the across back", "fitted-bodice", "alto", Fit.SEMI,
     [("broad-back", {"by": 7.9}), ("neckline", {"front_depth": -12.9, "widen": 6.4})]),
    ("panels over a long shoulder dart", "princess-top", (WOMEN, 55), Fit.SEMI, [("broad-back", {"by": 9.7})]),
    ("sway back under a shoulder dart", "sheath-dress", (WOMEN, 314), Fit.CLOSE, [("sway-back", {})]),
    ("closure that ended beside the bust dart", "waist-seam-dress", ("bodies_2012_men", 98), Fit.RELAXED,
     [("closure", {"place": "left", "length": 85.7, "apart": 62.4, "over": "left"})]),
    ("sides of a bodice drawn out", "waist-seam-dress", ("bodies_2012_men", 344), Fit.RELAXED,
     [("long-waist", {"by": 30.4})]),
    ("one bust fuller, the bodice longer", "waist-seam-dress", ("bodies_2012_women", 117), Fit.CLOSE,
     [("full-bust", {"side": "left"}), ("lengthen", {"by": 189.9, "at": "line"})]),
    ("sides above vents drawn out", "sheath-dress", ("bodies_2012_women", 265), Fit.CLOSE,
     [("lengthen", {"by": 589.3, "at": "line"})]),
    ("hip line in the hem", "princess-top", "soprano", Fit.SEMI, [("lengthen", {"by": 484.9, "at": "line"})]),
    ("slanting dart shortened", "waist-seam-dress", ("bodies_2012_men", 71), Fit.CLOSE,
     [("join-darts", {"take": "bust"}), ("short-waist", {})]),
    ("waists at two heights", "fitted-bodice", ("bodies_2012_women", 482), Fit.RELAXED,
     [("small-bust", {"by": 3.0}), ("lengthen", {"by": -73.4, "at": "line"})]),
    ("waist dart eased in", "waist-seam-dress", (WOMEN, 900), Fit.RELAXED,
     [("dart-to-ease", {"dart": "waist-front", "side": "left"})]),
    ("a side with a vent", "sheath-dress", ("bodies_2012_men", 164), Fit.CLOSE,
     [("split-dart", {"to": "side 0.2", "set_back": 4.7})]),
    ("one panel flared by much", "princess-top", (TABLE, 20), Fit.RELAXED,
     [("flare", {"side": "right", "on": "front", "pivot": "armhole", "by": 120.0})]),
    ("broad back, front shoulder gathered", "princess-top", ("bodies_1988_men", 343), Fit.SEMI,
     [("dart-to-gathers", {"side": "left"}), ("broad-back", {"by": 11.6})]),
)  # fmt: skip


@pytest.mark.parametrize("case", DRAWN, ids=[case[0] for case in DRAWN])
def test_these_are_drawn_and_prove(case: tuple[str, str, Any, Fit, list[Made]]) -> None:
    """Nothing forbids them: seams match, legs are equal, levels reach their edges, and allowances have room."""
    _, design, body, fit, stack = case
    what = made(design, body, fit, stack)
    assert not what.broken, what.broken
    assert what.garment is not None, what.refused
    assert what.cut, what.refused


REFUSED: tuple[tuple[str, str, Any, Fit, list[Made], str, str], ...] = (
    ("a closure in a gathered side", "sheath-dress", ("bodies_2012_women", 330), Fit.RELAXED,
     [("dart-to-gathers", {"dart": "bust"}), ("closure", {"place": "right", "apart": 92.7})], "closure", "gathered"),
    ("gathers over darts", "waist-seam-dress", (TABLE, 10), Fit.SEMI,
     [("style-line", {}), ("gathers", {"start": 0.4}), ("mirror", {})], "gathers", "front waist dart"),
)  # fmt: skip


@pytest.mark.parametrize("case", REFUSED, ids=[case[0] for case in REFUSED])
def test_these_are_refused_by_name(case: tuple[str, str, Any, Fit, list[Made], str, str]) -> None:
    """The change that can't be drawn is named, and the reason told."""
    _, design, body, fit, stack, change, why = case
    what = made(design, body, fit, stack)
    assert not what.broken, what.broken
    assert what.code == f"refused: {change}", what.refused
    assert why in what.refused


@pytest.mark.parametrize(("design", "side"), [("fitted-bodice", "right"), ("waist-seam-dress", "left")])
def test_a_bust_is_changed_on_one_side_after_another(design: str, side: str) -> None:
    """Once a half was spread by itself its bust line, waist and hip lie lower there: they go along all the same."""
    # The one design begins on the right, the other on the left: what begins on the other side is the mirror image.
    for (one, two), (first, then) in product(
        product(("full-bust", "small-bust"), repeat=2), product((side, "both"), ("left", "right", "both"))
    ):
        stack: list[Made] = [(one, {"side": first, "by": 6.0}), (two, {"side": then, "by": 6.0})]
        what = made(design, "alto", Fit.SEMI, stack)
        assert not what.broken, (stack, what.broken)


def test_a_place_on_a_side_with_a_vent_is_the_same_on_both_sides() -> None:
    """Seam and vent follow each other from the underarm down, whatever the two are called."""
    garment = draft_job(job_of("sheath-dress"))
    for face in (Face.FRONT, Face.BACK):
        heights = []
        for side in (Side.LEFT, Side.RIGHT):
            run = lines_along(garment, Role.SIDE, side, face)
            assert garment.path(run[-1]).end.y == min(garment.path(use).end.y for use in run)
            heights.append([spot(garment, run, share).point(garment).y for share in (0.2, 0.5, 0.9)])
        assert heights[0] == pytest.approx(heights[1], abs=1.0)
