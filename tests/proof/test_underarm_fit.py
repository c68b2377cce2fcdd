"""From a low bust up the side stands upright or leans in, and what stands off under the arm as a wing is an error."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.side import NARROWER_BELOW, WIDER_AT_TOP, draw_side
from drafting.body import make_body
from drafting.garment import Garment
from drafting.job import draft_job
from drafting.proof.fit.armholes import armhole_rows
from drafting.proof.fit.slants import slant_rows
from drafting.proof.fit.underarm import place_rows, underarm_rows
from tests.garments import SINGERS, brief
from tests.laws.jobs import job_of, with_changes


@pytest.mark.parametrize("below", [20.0, 60.0, 140.0])
def test_a_side_is_hardly_wider_at_the_underarm_than_at_the_bust(below: float) -> None:
    """However low the bust and near the waist; between them the side never lies farther out than at either end."""
    bust, waist = -200.0 - below, -360.0
    side = draw_side(-200.0, (295.0, bust), (245.0, waist), (285.0, -560.0), -600.0, 0.0)
    between = [side.x(-200.0 - below * step / 20.0) for step in range(21)]
    assert side.x(bust) == pytest.approx(295.0)
    assert side.x(waist) == pytest.approx(245.0)
    assert max(between) <= 295.0 + WIDER_AT_TOP + 1e-6
    assert between == sorted(between, reverse=True)
    if side.bust < side.top:  # it turns at the bust: however steeply it comes to the waist, it is narrowest there
        assert min(side.x(waist - 5.0 * step) for step in range(41)) > 245.0 - 1.5 * NARROWER_BELOW


def test_a_wing_under_the_arm_is_an_error() -> None:
    """A tee whose bust is 4 cm narrower round than its underarm; one that is as drafted passes."""
    job = job_of("basic-tee")
    garment = draft_job(job)
    assert not any(row.beyond for row in underarm_rows(garment, job.brief))
    (row,) = underarm_rows(_narrower_at_the_bust(garment, 10.0 + WIDER_AT_TOP), job.brief)
    assert row.beyond > 0.0


def test_a_side_seam_far_off_half_way_is_noted() -> None:
    """A front 1 cm narrower than its back has them 0.25 cm ahead; from 1.2 cm on it is told (from memory)."""
    job = job_of("basic-tee")
    garment = draft_job(job)
    (drafted,) = place_rows(garment, job.brief)
    for by, told in ((2.5, False), (4.0, True)):
        narrower = _narrower_at_the_bust(garment, 2.0 * (by - drafted.garment), "front")
        (row,) = place_rows(narrower, job.brief)
        assert row.garment == pytest.approx(by)
        assert (row.beyond > 0.0) is told


@pytest.mark.parametrize(("below", "told"), [(6.0, "note"), (25.0, ""), (45.0, "note"), (52.0, "warning")])
def test_a_knits_underarm_lies_1_to_4_cm_below_the_armpit(below: float, told: str) -> None:
    """One that lies lower is noted, and from 5 cm on warned of (from memory)."""
    job = job_of("basic-tee")
    garment, body = draft_job(job), job.brief.body
    given = {**body.given, "scye_depth_length": garment.fact("scye_depth") - below}
    other = replace(job.brief, body=make_body(body.name, given, rules=body.rules))
    row = next(row for row in armhole_rows(garment, other) if row.name == "armhole_depth")
    assert (row.severity.value if row.beyond else "") == told


def _narrower_at_the_bust(garment: Garment, by: float, only: str = "") -> Garment:
    """The garment with its bust's levels shortened by so much at each end, on one piece or all."""
    pieces = []
    for piece in garment.pieces:
        levels = [level for level in piece.levels if level.name == "bust" and only in ("", piece.name)]
        rest = [feature for feature in piece.features if feature not in levels]
        cut = [replace(v, path=v.path.between(by, v.path.length - by)) for v in levels]
        pieces.append(replace(piece, features=(*rest, *cut)))
    return garment.with_(pieces=pieces)


@pytest.mark.parametrize(("waist", "told"), [(880.0, ""), (800.0, "note"), (680.0, "warning")])
def test_a_side_that_leans_in_far_to_the_waist_is_told(waist: float, told: str) -> None:
    """From 20 degrees on it is noted, and from 25 on, a knob at the bust, warned of (from memory)."""
    rules, given = SINGERS["soprano"]
    b = brief(make_body("full", {**given, "bust_girth": 1000.0, "waist_girth": waist}, rules=rules))
    garment = draft_job(with_changes(job_of("basic-tee"), [], b))
    left, right = slant_rows(garment, b)
    assert left.garment == pytest.approx(right.garment, abs=1e-6)
    assert (left.severity.value if left.beyond else "") == told
