"""The proof of fit: levels and armholes against the body that the garment is drafted for."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, Literal

import pytest

from drafting.body import make_body
from drafting.cloth import Fit
from drafting.garment import Brief, level_heights
from drafting.job import draft_job, finish_job
from drafting.proof import Finding, Severity, proof_lines, prove
from drafting.proof.fit import FitRow, fit_rows, fold_rows
from drafting.redraw.heights import HeightShift, body_pieces, stretch_piece
from drafting.saying import render
from drafting.ticket import Job
from tests.blocks_woven.people import POPLIN
from tests.body.people import GROUPS, people
from tests.garments import JERSEY, RIB, brief
from tests.laws.jobs import job_of, with_changes

SURVEYS = [name for name in GROUPS if name.startswith("bodies_")]
LONGER = HeightShift(-300.0, -380.0, 60.0)


def findings(job: Job) -> tuple[Finding, ...]:
    """What is found about the fit of a job."""
    return tuple(each for each in finish_job(job, draft_job(job))[1].findings if each.code.startswith("fit."))


def tee(*changes: tuple[str, dict[str, Any]]) -> Job:
    """A basic tee for the soprano, changed."""
    return with_changes(job_of("basic-tee"), changes)


def surveyed(group: str, number: int, design: str, fit: Fit) -> Job:
    """A design for a person of a survey."""
    body = make_body("Singer", people(group)[number], rules=GROUPS[group])
    cloths = (POPLIN, POPLIN) if design == "fitted-bodice" else (JERSEY, RIB)
    return with_changes(job_of(design), [], Brief(body, cloths[0], fit, {"rib": cloths[1]}))


def test_a_tee_made_longer_keeps_its_waist() -> None:
    """To a finished length, with nothing else said, at the hem: waist and hip lie where the body's are."""
    before, after = (draft_job(tee(*change)) for change in ([], [("lengthen", {"to": 950.0})]))
    assert level_heights(after) == level_heights(before)
    assert not findings(tee(("lengthen", {"to": 950.0})))


def test_a_waist_moved_far_is_told_of_once() -> None:
    """Asked for at the line between bust and waist, it is as the ticket says, and warned of."""
    (found,) = findings(tee(("lengthen", {"to": 950.0, "at": "line"})))
    assert (found.code, found.severity) == ("fit.level_moved", Severity.WARNING)
    assert "lower than the body's" in str(found.sentence)


@pytest.mark.parametrize("by", [-40.0, 40.0])
def test_a_level_that_nothing_means_to_move_is_an_error(by: float) -> None:
    """As where a package's change draws the body out and doesn't say that it moves the waist."""
    job = tee()
    garment = draft_job(job)
    drawn = [stretch_piece(piece, replace(LONGER, by=by)) for piece in body_pieces(garment)]
    proof = prove(garment.with_(pieces=drawn), job.brief)
    off = {row.place: row.off for row in proof.fit if row.name == "level"}
    assert off == pytest.approx(
        {f"{level} of the {face}": by for level in ("waist", "hip") for face in ("front", "back")}
    )
    found = {each.place: each for each in proof.findings if each.code == "fit.level"}
    assert set(found) == set(off)
    assert all(each.severity is Severity.ERROR and "than the body's" in str(each.sentence) for each in found.values())


@pytest.mark.parametrize(
    ("fit", "share", "warned"),
    [(Fit.CLOSE, 1.05, False), (Fit.CLOSE, 1.15, True), (Fit.SEMI, 1.01, True), (Fit.RELAXED, 0.99, False)],
)
def test_an_armhole_shorter_than_the_bodys_is_warned_of(fit: Fit, share: float, warned: bool) -> None:
    """It goes round the body's armhole (common practice), a close knit's less what its bust is drawn in by."""
    job = surveyed("bodies_1988_women", 3, "basic-tee", fit)
    garment = draft_job(job)
    length = next(row.garment for row in fit_rows(garment, job.brief) if row.name == "armhole_length")
    body = job.brief.body
    larger = replace(job.brief, body=replace(body, values={**body.values, "armscye_girth": length * share}))
    rows = [row for row in fit_rows(garment, larger) if row.name == "armhole_length"]
    assert {row.severity for row in rows} == {Severity.WARNING}
    assert [row.beyond < 0.0 for row in rows] == [warned, warned]


@pytest.mark.parametrize(
    ("design", "change"), [("tank-top", ()), ("basic-tee", (("forward-shoulder", {"by": -25.0}),))]
)
def test_a_front_armhole_longer_than_the_back_is_noted(design: str, change: Any) -> None:
    """Narrowing a tank's shoulder leaves the back as long; a seam moved to the back by 2.5 cm shortens it, as meant."""
    job = surveyed("bodies_1988_women", 3, design, Fit.CLOSE)
    job = with_changes(job, change, job.brief)
    garment = draft_job(job)
    for declared, noted in ((garment, False), (replace(garment, departures=()), bool(change))):
        rows = [row for row in fit_rows(declared, job.brief) if row.name == "armhole_back"]
        assert [row.beyond < 0.0 for row in rows] == [noted] * 2


@pytest.mark.parametrize("place", [0, 3, 37, 80])
@pytest.mark.parametrize("group", ["bodies_1988_women", "bodies_1988_men"])
def test_the_back_of_a_knit_armhole_is_longer_by_what_is_usual(group: Any, place: int) -> None:
    """By 0.5 to 1.5 cm (from memory), half a millimetre let by; no front is over 1 cm narrower than its back for it."""
    job = surveyed(group, place, "basic-tee", Fit.CLOSE)
    rows = {row.name: row for row in fit_rows(draft_job(job), job.brief)}
    assert 5.0 <= rows["armhole_back"].garment <= 15.5
    assert -5.0 <= rows["side_place"].garment - 1e-6 <= 2.5


def test_a_fit_change_says_what_it_moves() -> None:
    """A long waist lies lower than the measured one because it is meant to."""
    job = with_changes(job_of("fitted-bodice"), [("long-waist", {"by": 20.0})], brief(cloth=POPLIN, rib=POPLIN))
    by_place = {row.place: row for row in fit_rows(draft_job(job), job.brief) if row.name == "level"}
    assert by_place["waist of the back"].meant == pytest.approx(20.0)
    assert not any(row.beyond for row in by_place.values())


def test_what_is_alike_is_told_once_under_its_heading() -> None:
    """Both armholes are one line of the table; made unlike, each has its own."""
    job = tee()
    rows = fit_rows(draft_job(job), job.brief)
    assert {row.about for row in rows} >= {"Levels", "Armholes"}
    widths = [row for row in rows if row.name == "armhole_width"]
    assert [render(title, "cm") for title, _ in fold_rows(widths)] == ["armhole, width from front to back"]
    unlike = [replace(widths[0], garment=widths[0].garment + 5.0), widths[1]]
    wanted = [f"{side} armhole, width from front to back" for side in ("left", "right")]
    assert [render(title, "cm") for title, _ in fold_rows(unlike)] == wanted


def test_uneven_slopes_and_caps_are_told_side_by_side() -> None:
    """Six degrees, or a hundredth of the armhole, are small figures; they are none the less two."""
    uneven: tuple[tuple[float, Literal["rad", "share"]], ...] = ((math.radians(6.0), "rad"), (0.012, "share"))
    for by, measure in uneven:
        one = FitRow("figure", "left", "left figure", 0.3, 0.3, measure=measure)
        two = replace(one, title="right figure", body=0.3 + by)
        assert [title for title, _ in fold_rows([one, two])] == ["left figure", "right figure"]


def test_a_figure_that_tells_nothing_takes_no_line() -> None:
    """As the body asks and without a bound, it isn't in the table of ``prove``; off by a millimetre, it is."""
    job = tee()
    proof = prove(draft_job(job), job.brief)
    plain = replace(
        proof.fit[0], name="made_up", title="a made up figure", chief=False, least=None, most=None, body=10.0
    )
    for off, told in ((0.0, False), (1.0, True)):
        lines = proof_lines(replace(proof, fit=(replace(plain, garment=10.0 + off),)))
        assert any("a made up figure" in line for line in lines) is told
