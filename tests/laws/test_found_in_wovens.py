"""Stacks of changes on woven designs that once went wrong, each kept as it was found."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from drafting.cloth import Fit
from drafting.garment import Brief
from tests.garments import singer
from tests.laws.jobs import Outcome, job_of, outcome, with_changes
from tests.laws.strategies import TRIMS, WOVEN_CLOTHS, Made, surveyed


def made(design: str, body: Any, fit: Fit, stack: list[Made]) -> Outcome:
    """What became of a stack on a woven design, in cotton, for a singer by voice or a survey's row."""
    wearer = singer(body) if isinstance(body, str) else surveyed(*body)
    return outcome(with_changes(job_of(design), stack, Brief(wearer, WOVEN_CLOTHS[0], TRIMS[0], fit)))


DRAWN: tuple[tuple[str, str, Any, Fit, list[Made]], ...] = (
    ("one bust smaller, the other fuller", "waist-seam-dress", ("bodies_2012_men", 496), Fit.SEMI,
     [("small-bust", {"side": "right"}), ("full-bust", {"side": "left"})]),
    ("one bust fuller, then both smaller", "sheath-dress", ("bodies_1988_women", 131), Fit.SEMI,
     [("full-bust", {"by": 4.9, "side": "left"}), ("small-bust", {"by": 0.3, "side": "both"})]),
    ("a fold in front of halves that were drawn apart", "waist-seam-dress", ("bodies_2012_men", 496), Fit.SEMI,
     [("small-bust", {"side": "right"}), ("full-bust", {"side": "left"}), ("centre", {"kind": "fold"})]),
    ("panel's armhole bent at the underarm", "princess-top", ("bodies_2012_women", 309), Fit.SEMI,
     [("broad-back", {})]),
    ("armhole bent at the underarm", "sheath-dress", ("bodies_2012_women", 230), Fit.CLOSE,
     [("square-shoulder", {"side": "left"})]),
    ("armhole in parts", "fitted-bodice", ("bodies_2012_women", 317), Fit.RELAXED,
     [("broad-back", {}), ("low-shoulder", {"by": 7.2, "keep_underarm": False})]),
)  # fmt: skip


@pytest.mark.parametrize("case", DRAWN, ids=[case[0] for case in DRAWN])
def test_these_are_drawn_and_prove(case: tuple[str, str, Any, Fit, list[Made]]) -> None:
    """Nothing forbids them: seams match, legs are equal, levels reach their edges, and allowances have room."""
    _, design, body, fit, stack = case
    what = made(design, body, fit, stack)
    assert not what.broken, what.broken
    assert what.garment is not None, what.refused
    assert what.cut, what.refused


@pytest.mark.parametrize("design", ["fitted-bodice", "waist-seam-dress"])
def test_a_bust_is_changed_on_one_side_after_another(design: str) -> None:
    """Once a half was spread by itself its bust line, waist and hip lie lower there: they go along all the same."""
    for (one, two), (first, then) in product(
        product(("full-bust", "small-bust"), repeat=2), product(("left", "right", "both"), repeat=2)
    ):
        stack: list[Made] = [(one, {"side": first, "by": 6.0}), (two, {"side": then, "by": 6.0})]
        what = made(design, "alto", Fit.SEMI, stack)
        assert not what.broken, (stack, what.broken)
