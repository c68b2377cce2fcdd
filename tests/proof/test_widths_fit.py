"""Widths against the body and the ease of the fit: what a rule makes far wider is told, not what a change asks for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.bodice_ease import TURNED_HIP_EASE
from drafting.cloth import Fit, ease_for
from drafting.garment import Aim, Fact, Garment, Girth
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.fit import fit_rows
from drafting.proof.fit.widths import OVER
from tests.garments import BODY, brief, build
from tests.laws.jobs import job_of, with_changes


def wider(garment: Garment, place: str, by: float, meant: float = 0.0) -> Garment:
    """The garment as if a rule had asked for so much more at a girth, on a body as much less."""

    def more(aim: Aim) -> Aim:
        return replace(aim, body=aim.body - by, ease=aim.ease + by, meant=aim.meant + meant)

    return replace(garment, aims=tuple(more(a) if a.measure == Girth(place) else a for a in garment.aims))


@pytest.mark.parametrize("place", ["bust", "waist", "hip"])
def test_ease_far_over_the_fits_is_an_error_whatever_rule_asked(place: str) -> None:
    """The pieces hold what was asked, and still it is no longer the fit; what a change asks for is meant."""
    job = job_of("basic-tee")
    garment, far = draft_job(job), OVER[place] + 5.0
    (found,) = [f for f in prove(wider(garment, place, far), job.brief).findings if f.code == f"fit.{place}_width"]
    assert found.severity is Severity.ERROR
    meant = prove(wider(garment, place, far, meant=far), job.brief)
    assert not [f for f in meant.findings if f.code.startswith("fit.")]


@pytest.mark.parametrize(("far", "told"), [(25.0, []), (35.0, [Severity.NOTE]), (65.0, [Severity.WARNING])])
def test_a_sleeve_much_wider_than_asked_is_told(far: float, told: list[Severity]) -> None:
    """From 3 cm more than the fit's ease on, for a tee's cap is no higher; warned of from 6 cm on (from memory)."""
    job = job_of("knit-top")
    garment = draft_job(job)
    asked = ease_for(job.brief.fit, job.brief.cloth, job.brief.body).upper_arm
    (row, *_) = (each.garment - each.body for each in fit_rows(garment, job.brief) if each.name == "upper_arm_width")
    for side in ("left", "right"):
        garment = wider(garment, f"upper-arm-{side}", far - (row - asked))
    found = prove(garment, job.brief).findings
    assert [f.severity for f in found if f.code == "fit.upper_arm_width"] == told


def test_what_a_block_tells_is_not_what_is_asked() -> None:
    """The bounds are the fit's, whatever a fact of the block says of its ease."""
    job = job_of("basic-tee")
    garment = draft_job(job)
    lies = ("ease_bust", "ease_hip", "across_given", "upper_arm_given_way_left")
    told = garment.with_(facts=[Fact(name, 900.0, "mm", "rule", "") for name in lies])
    plain, other = (
        {row.place: row.bounds for row in fit_rows(g, job.brief) if row.about == "Widths"} for g in (garment, told)
    )
    assert plain == other


@pytest.mark.parametrize(
    ("fit", "share", "told"),
    [
        (Fit.SEMI, -0.02, None),
        (Fit.SEMI, -0.04, Severity.NOTE),
        (Fit.SEMI, -0.06, Severity.WARNING),
        (Fit.CLOSE, -0.07, None),
        (Fit.CLOSE, -0.12, Severity.WARNING),
    ],
)
def test_a_knits_back_is_held_to_the_body_and_not_to_what_its_draft_took(
    fit: Fit, share: float, told: Severity | None
) -> None:
    """Ordinary is 0 to 2.5 cm more, in a close jersey 5 to 8 % less (from memory); two tapings differ by 1 cm."""
    b = brief("tenor", fit)
    garment = build(b, BODY)
    (row,) = [row for row in fit_rows(garment, b) if row.name == "across_back_width"]
    body = row.garment / (1.0 + share)
    aims = [replace(a, body=body, ease=row.garment - body) if a.title == "across back" else a for a in garment.aims]
    (row,) = [row for row in fit_rows(replace(garment, aims=tuple(aims)), b) if row.name == "across_back_width"]
    assert (row.severity if row.beyond else None) == told


@pytest.mark.parametrize("ease", [20.0, 200.0])
def test_an_ease_that_the_ticket_asks_for_is_meant(ease: float) -> None:
    """At the bust of a woven, more or less than any fit has: no finding, and the table tells what is meant."""
    job = job_of("sheath-dress")
    plans = [
        replace(plan, options=replace(plan.options, bust_ease=ease)) if plan.step.name == "darted-bodice" else plan
        for plan in job.steps
    ]
    garment = draft_job(replace(job, steps=tuple(plans)))
    (row,) = [each for each in fit_rows(garment, job.brief) if each.name == "bust_width"]
    assert row.beyond == 0.0
    assert row.meant == pytest.approx(ease - ease_for(job.brief.fit, job.brief.cloth, job.brief.body).bust)


def test_a_change_that_widens_means_to() -> None:
    """Flared far out, a dress is proven, and the table says how much of the hip the change means."""
    job = with_changes(job_of("diagonal-overlay-dress"), [("flare", {"by": 120.0})], brief(fit=Fit.SEMI))
    proof = prove(draft_job(job), job.brief)
    assert not [f for f in proof.findings if f.code == "fit.hip_width"]
    (hip,) = [row for row in proof.fit if row.name == "hip_width"]
    assert hip.garment - hip.body - hip.meant == pytest.approx(TURNED_HIP_EASE[Fit.SEMI], abs=1.0)
