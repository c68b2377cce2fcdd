"""Stays as strips of a cloth of their own: like curves cut alike, each strip told by a letter of its own."""

from __future__ import annotations

from dataclasses import replace

from drafting.cloth import Cloth, Kind
from drafting.garment import Role
from drafting.garment.features import StayCut
from drafting.garment.model import STAY
from drafting.job import draft_job, finish_job
from drafting.lay.stays import list_stay_strips
from drafting.output.booklet.sections import tell_stays
from tests.laws.jobs import job_of


def test_like_curves_are_cut_alike_and_no_two_strips_have_one_letter() -> None:
    """An overlay's necklines, front and back, all on the bias; its shoulders along the cloth."""
    job = job_of("diagonal-overlay-top")
    job = replace(job, brief=replace(job.brief, cloths={**job.brief.cloths, STAY: Cloth("stay", kind=Kind.WOVEN)}))
    garment = draft_job(job)
    zones = [(piece.line(zone.line).role, zone.cut) for piece in garment.pieces for zone in piece.zones if zone.taped]
    assert {cut for role, cut in zones if role is Role.NECKLINE} == {StayCut.BIAS}
    assert {cut for role, cut in zones if role is Role.SHOULDER} == {StayCut.STRAIGHT}
    cut, _ = finish_job(job, garment)
    codes = [part.piece.code for part in list_stay_strips(garment, cut)]
    (told,) = tell_stays(garment, cut, "cm")
    assert told.table is not None
    assert [row[0] for row in told.table.rows] == codes
    assert len(codes) > 4
    assert len(codes) == len(set(codes))
