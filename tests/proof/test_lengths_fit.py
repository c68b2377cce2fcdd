"""The front's length over the bust against the body's: a woven has it by its dart, wherever the dart is turned."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafting.body import Body, make_body
from drafting.cloth import Fit
from drafting.garment import Brief
from drafting.job import draft_job
from drafting.proof import Finding, Severity, prove
from drafting.proof.fit.levels import level_rows
from drafting.redraw.heights import HeightShift, stretch_piece
from tests.blocks_woven.people import POPLIN
from tests.body.people import people
from tests.garments import JERSEY, RIB, singer
from tests.laws.jobs import job_of, with_changes


def short(design: str, over_bust: float = 0.0, *changes: tuple[str, dict[str, Any]]) -> list[Finding]:
    """What is found of a design's front for the soprano, her way over the bust so much longer (mm)."""
    name = "side_neck_point_to_waist_over_bust"
    body = singer("soprano")
    body = Body("soprano", {**body.values, name: body[name] + over_bust})
    cloths = (JERSEY, RIB) if design == "basic-tee" else (POPLIN, POPLIN)
    job = with_changes(job_of(design), changes, Brief(body, cloths[0], Fit.SEMI, {"rib": cloths[1]}))
    return [each for each in prove(draft_job(job), job.brief).findings if each.code == "fit.front_over_bust"]


@pytest.mark.parametrize("design", ["fitted-bodice", "princess-top"])
@pytest.mark.parametrize("over_bust", [0.0, 20.0])
def test_a_woven_front_has_the_bodys_length(design: str, over_bust: float) -> None:
    """Its dart follows the way over the bust, wherever the dart is moved."""
    assert not short(design, over_bust)


def test_a_woven_front_cut_short_is_warned_of() -> None:
    """As where a package's change takes 3 cm out between bust and waist of the front alone: both sides at once.

    The balance of front and back is off by as much, and told too.
    """
    job = with_changes(job_of("fitted-bodice"), [], Brief(singer("soprano"), POPLIN, Fit.SEMI))
    garment = draft_job(job)
    cut = stretch_piece(garment.piece("front"), HeightShift(-330.0, -390.0, -30.0))
    findings = prove(garment.with_(pieces=[cut]), job.brief).findings
    found = [each for each in findings if each.code == "fit.front_over_bust"]
    assert [each.severity for each in findings if each.code == "fit.balance"] == [Severity.NOTE]
    assert [each.severity for each in found] == [Severity.WARNING]
    assert "left" not in str(found[0].sentence)


def test_a_knit_is_judged_more_mildly() -> None:
    """Without darts, its front is warned of from 2 cm short only, beyond what is eased and dropped."""
    assert not short("basic-tee", 34.0)
    assert [each.severity for each in short("basic-tee", 60.0)] == [Severity.WARNING]


def test_a_knit_front_far_longer_than_the_body_is_told() -> None:
    """By over 2 cm (from memory), once its neck lies 2 cm lower: it hangs in folds above the waist."""
    assert [each.severity for each in short("basic-tee", -60.0)] == [Severity.WARNING]


def test_a_bust_level_lies_where_the_bust_point_is_measured() -> None:
    """From the side neck in front, and round the back at that height: drawn elsewhere by over 1 cm, it is an error."""
    for design, cloth in (("fitted-bodice", POPLIN), ("basic-tee", JERSEY)):
        job = with_changes(job_of(design), (), Brief(singer("soprano"), cloth, Fit.SEMI, {"rib": cloth}))
        garment = draft_job(job)
        told = [row for row in level_rows(garment, job.brief) if row.name == "bust_level"]
        assert len(told) == 4
        assert told[0].body == job.brief.body["side_neck_point_to_bust_point"]
        assert all(abs(row.off) < 0.5 and row.severity is Severity.ERROR for row in told)
        high = replace(
            job.brief,
            body=Body("soprano", {**job.brief.body.values, "side_neck_point_to_bust_point": told[0].body + 12.0}),
        )
        assert [row.place for row in level_rows(garment, high) if row.beyond] == [
            "bust of the front-left",
            "bust of the front-right",
        ]


def test_a_bust_level_below_a_deep_armhole_stays_where_its_band_lifts_that() -> None:
    """A man of a large armscye: a relaxed armhole lies 7 cm below his armpit, its band's edge less; no error of it."""
    body = make_body("bass", people("bodies_1988_men")[360], rules="men")
    job = with_changes(job_of("tank-top"), (), Brief(body, JERSEY, Fit.RELAXED, {"rib": RIB}))
    told = [row for row in level_rows(draft_job(job), job.brief) if row.name == "bust_level"]
    assert len(told) == 4
    assert not [row.place for row in told if row.beyond]
