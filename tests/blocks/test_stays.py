"""Stays of a knit neckline: a taped edge doesn't stretch, so tape may only be where the head needs no stretch."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.garment import Face, Garment, Zone
from drafting.garment.carry import with_features
from drafting.job import draft_job
from drafting.proof import prove
from drafting.ticket import Job
from drafting.work.taping import find_tapes, name_tapes
from tests.laws.jobs import job_of, with_changes


def _taped(garment: Garment, face: Face) -> list[str]:
    return [
        zone.line
        for piece in garment.pieces
        if piece.face is face
        for zone in piece.zones
        if zone.line.startswith("neckline") and str(zone.reason).startswith("stay tape")
    ]


def _neck(garment: Garment) -> float:
    lines = (line for piece in garment.pieces for line in piece.ring if line.role == "neckline")
    return sum(line.path.length for line in lines)


def _with_stretch(job: Job, stretch: float) -> Job:
    cloth = replace(job.brief.cloth, stretch_across=stretch, stretch_along=stretch)
    return replace(job, brief=replace(job.brief, cloth=cloth))


def _shallow() -> Job:
    """A knit top whose V is only 5 cm deep."""
    return with_changes(job_of("knit-top"), [("neckline", {"front": "v", "front_depth": 50.0})])


@pytest.mark.parametrize("job", [job_of("basic-tee"), _shallow()], ids=["basic-tee", "shallow V"])
def test_a_neck_that_must_stretch_is_taped_at_the_back_at_most(job: Job) -> None:
    """The front stays free to stretch; the head passes with the back held by its tape."""
    garment = draft_job(job)
    assert _neck(garment) < job.brief.body["head_girth"]
    assert not _taped(garment, Face.FRONT)
    assert _taped(garment, Face.BACK)
    rows = [row for row in prove(garment, job.brief).openings if row.opening == "neck"]
    back = sum(line.path.length for line in garment.piece("back").ring if line.role == "neckline")
    assert [length for title, _, _, role, length in find_tapes(garment) if (title, role) == ("back", "neckline")] == [
        pytest.approx(back)  # one tape, which goes on over the centre
    ]
    edge = next(row for row in rows if row.edge == "its band's seam")
    assert edge.reach == pytest.approx(back + (edge.length - back) * (1.0 + job.brief.cloth.stretch_across), abs=0.1)
    assert edge.reach >= edge.must_pass


def test_a_neck_that_needs_all_its_stretch_has_no_tape() -> None:
    """With so little stretch that the back must give way too, only the shoulders are taped."""
    job = _shallow()
    ratio = job.brief.body["head_girth"] / _neck(draft_job(job)) - 1.0
    garment = draft_job(_with_stretch(job, ratio + 0.02))
    assert not _taped(garment, Face.BACK) + _taped(garment, Face.FRONT)
    assert any(zone.line.startswith("shoulder") for zone in garment.piece("front").zones)


def test_a_wide_neck_that_is_banded_stays_elastic_in_front() -> None:
    """The band is sewn to it stretched; the back is held by its tape (common practice)."""
    job = job_of("basic-tee")
    garment = draft_job(with_changes(job, [("neckline", {"front": "scoop", "front_depth": 110.0, "widen": 60.0})]))
    assert _neck(garment) >= job.brief.body["head_girth"]
    assert not _taped(garment, Face.FRONT)
    assert _taped(garment, Face.BACK)


def test_tape_where_the_head_needs_stretch_fails_the_proof() -> None:
    """Taped all round, as paper may not ask for, the same neck is refused."""
    job = job_of("basic-tee")
    garment = draft_job(job)
    tape = tuple(Zone(f"neckline-{side}", 13.0, "stay tape") for side in ("left", "right"))
    front = garment.piece("front")
    held = garment.with_(pieces=[with_features(front, tape)])
    assert prove(garment, job.brief).passed
    failed = prove(held, job.brief)
    assert [finding.code for finding in failed.findings if finding.severity == "error"] == ["openings.pass"]


def test_an_edge_sewn_or_bound_to_a_stay_opens_no_wider_than_it() -> None:
    """The overlay's neckline is stayed all round: what it covers and the binding's fold can't open beyond that."""
    job = job_of("diagonal-overlay-top")
    garment = draft_job(job)
    (row,) = (row for row in prove(garment, job.brief).openings if row.opening == "neck")
    stayed = [garment.piece(piece).line(line) for piece, line in (
        ("shoulder-front", "neckline-left"), ("shoulder-back", "neckline-left"),
        ("overlay-front", "neckline"), ("overlay-back", "neckline"),
    )]  # fmt: skip
    ends = 2.0 * 8.0 * (1.0 + job.brief.cloth.stretch_across)
    assert row.reach <= sum(line.path.length for line in stayed) + ends + 0.1
    bound = [zone for zone in garment.piece("shoulder-front").zones if zone.line == "neckline-left"]
    assert [zone.width for zone in bound] == [8.0]  # no wider than the binding hides


def test_stays_that_differ_between_the_sides_are_each_named() -> None:
    """A shoulder 2 cm shorter on the right: its stay is cut by itself; alike, both are one line."""
    alike = draft_job(job_of("basic-tee"))
    apart = draft_job(with_changes(job_of("basic-tee"), [("shoulder", {"narrow": 20.0, "side": "right"})]))
    named = [[row for row in name_tapes(find_tapes(each), "cm") if "shoulder" in row[1]] for each in (alike, apart)]
    assert [(edge, count) for _, edge, _, count in named[0]] == [("shoulder", 2)]
    assert sorted(edge for _, edge, _, _ in named[1]) == ["left shoulder", "right shoulder"]
