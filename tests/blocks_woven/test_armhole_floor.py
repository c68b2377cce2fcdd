"""The floor of a woven's armhole: level beside the side seam, where front and back run into each other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.body import Body
from drafting.cloth import Fit
from drafting.garment import Face, Role, Side
from drafting.geometry import Path, Point
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.fit.hollows import hollow_rows
from drafting.redraw.shapes import has_floor, rise_of_floor
from tests.blocks_woven.people import bodice, brief_for, person
from tests.laws.jobs import job_of, with_changes


@pytest.mark.parametrize("fit", tuple(Fit))
@pytest.mark.parametrize("number", [3, 700])
def test_it_rises_by_four_millimetres_at_most_over_two_centimetres(number: int, fit: Fit) -> None:
    """Square to the side seam it is level for 1.5 to 2 cm (from memory): 0.4 cm up after 2 cm at most."""
    for piece in bodice(brief_for(person(number), fit)).pieces:
        for line in piece.lines(role=Role.ARMHOLE):
            path = line.path if piece.before(line.name).role is Role.SIDE else line.path.reversed()
            assert has_floor(path), (piece.name, rise_of_floor(path))


def test_a_back_that_runs_on_straight_from_its_side_is_told() -> None:
    """One that stands pointed at the side passed in silence."""
    brief = brief_for(person(3), Fit.CLOSE)
    garment = bodice(brief)
    assert not any(row.beyond for row in hollow_rows(garment, brief) if row.name == "armhole_floor")
    back = garment.piece("back")
    line = next(iter(back.lines(role=Role.ARMHOLE, side=Side.LEFT, face=Face.BACK)))
    a, d = line.path.start, line.path.end
    steep = Path.cubic(a, a + line.path.tangent(0.0) * 5.0, d, d)
    if back.before(line.name).role is not Role.SIDE:
        steep = Path.cubic(a, a, d - line.path.tangent(line.path.length) * 5.0, d)
    ring = tuple(replace(each, path=steep) if each.name == line.name else each for each in back.ring)
    told = hollow_rows(garment.with_(pieces=(replace(back, ring=ring),)), brief)
    assert [row.beyond > 0.0 for row in told if row.name == "armhole_floor" and "left" in row.place and row.beyond]


def test_a_front_that_falls_from_the_shoulder_is_told_too_where_it_is_narrowest_far_up() -> None:
    """Beside a broad chest it is narrowest up to 0.70 of the way up (from memory): none was told there."""
    body = person(3)
    broad = Body("broad", {**body.values, "across_front_width": body["across_front_width"] + 80.0})
    rows = [row for row in hollow_rows(bodice(brief_for(body)), brief_for(broad)) if row.name == "armhole_narrowest"]
    assert rows
    assert {row.most for row in rows} == {0.70}


def test_a_back_that_hooks_up_to_its_side_is_told() -> None:
    """Square to a side seam that leans it dips before it: noted beyond 2 mm, warned of beyond 4."""
    brief = brief_for(person(3))
    garment = bodice(brief)
    back = garment.piece("back")
    line = next(iter(back.lines(role=Role.ARMHOLE, side=Side.LEFT, face=Face.BACK)))
    for dips, told in ((3.0, Severity.NOTE), (5.0, Severity.WARNING)):
        path = line.path if back.before(line.name).role is Role.SIDE else line.path.reversed()
        down = Point(path.start.x, path.start.y + dips - (path.start.y - path.bounds[1]))
        hooked = Path.join(Path.straight(down, path.start), path)
        ring = tuple(
            replace(each, path=hooked if path is line.path else hooked.reversed()) if each.name == line.name else each
            for each in back.ring
        )
        rows = hollow_rows(garment.with_(pieces=(replace(back, ring=ring),)), brief)
        (row,) = (row for row in rows if row.name == "armhole_hooked" and row.place == "armhole-left")
        assert row.off == pytest.approx(dips)
        assert row.beyond > 0.0
        assert row.severity is told


@pytest.mark.parametrize("number", [165, 360])
def test_an_armhole_runs_on_smoothly_where_the_shoulder_seam_moves_forward(number: int) -> None:
    """Below the floor's join it is as it was, above it run on over what the front gives: no kink between."""
    job = with_changes(job_of("sheath-dress"), [("forward-shoulder", {"by": 10.0})], brief_for(person(number)))
    found = prove(draft_job(job), job.brief).findings
    assert not [each.place for each in found if each.code == "outlines.kink"]
