"""The front's length over the bust against the body's: a woven has it by its dart, a knit is told where it is short."""

from __future__ import annotations

from typing import Any

import pytest

from drafting.body import Body
from drafting.cloth import Fit
from drafting.garment import Brief
from drafting.job import draft_job
from drafting.proof import Finding, Severity, prove
from tests.blocks_woven.people import POPLIN
from tests.garments import JERSEY, RIB, singer
from tests.laws.jobs import job_of, with_changes


def short(design: str, over_bust: float = 0.0, *changes: tuple[str, dict[str, Any]]) -> list[Finding]:
    """What is found of a design's front for the soprano, her way over the bust so much longer (mm)."""
    name = "side_neck_point_to_waist_over_bust"
    body = singer("soprano")
    body = Body("soprano", {**body.values, name: body[name] + over_bust})
    cloths = (JERSEY, RIB) if design == "basic-tee" else (POPLIN, POPLIN)
    job = with_changes(job_of(design), changes, Brief(body, *cloths, Fit.SEMI))
    return [each for each in prove(draft_job(job), job.brief).findings if each.code == "fit.front_length"]


def test_a_knit_front_short_over_a_full_bust_is_told() -> None:
    """No dart gives it the length: 3 cm short is told of both sides, and by how much."""
    told = short("basic-tee", 30.0)
    assert [each.severity for each in told] == [Severity.NOTE] * 2
    for each in told:
        assert each.value is not None
        assert each.limit is not None
        assert each.limit - each.value == pytest.approx(10.0, abs=5.0)


@pytest.mark.parametrize("design", ["fitted-bodice", "princess-top"])
@pytest.mark.parametrize("over_bust", [0.0, 20.0])
def test_a_woven_front_has_the_bodys_length(design: str, over_bust: float) -> None:
    """Its dart follows the way over the bust, wherever the dart is moved."""
    assert not short(design, over_bust)


def test_an_ordinary_knit_says_nothing() -> None:
    """Nor does an opened neckline, which lies lower: the way is taken from the neck base."""
    assert not short("basic-tee")
    assert not short("basic-tee", 0.0, ("neckline", {"front_drop": 120.0, "widen": 40.0}))
