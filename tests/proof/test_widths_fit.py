"""Widths against the body and the ease of the fit: what a rule makes far wider is told, not what a change asks for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.bodice_ease import TURNED_HIP_EASE
from drafting.cloth import Fit
from drafting.garment import Aim, Garment, Girth
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.fit.widths import OVER
from tests.garments import brief
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


def test_a_change_that_widens_means_to() -> None:
    """Flared far out, a dress is proven, and the table says how much of the hip the change means."""
    job = with_changes(job_of("diagonal-overlay-dress"), [("flare", {"by": 120.0})], brief(fit=Fit.SEMI))
    proof = prove(draft_job(job), job.brief)
    assert not [f for f in proof.findings if f.code == "fit.hip_width"]
    (hip,) = [row for row in proof.fit if row.name == "hip_width"]
    assert hip.garment - hip.body - hip.meant == pytest.approx(TURNED_HIP_EASE[Fit.SEMI], abs=1.0)
