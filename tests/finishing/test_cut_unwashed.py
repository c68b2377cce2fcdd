"""Cloth that is cut before it is washed: the pattern is larger by what the wash takes; worn, it is as drafted."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from drafting.cloth import Stripe
from drafting.finishing.growth import grow_pieces
from drafting.garment import Role
from drafting.geometry import Point, signed_area
from drafting.job import Result, draft_job, run
from drafting.lay import Lay, plan_lays
from drafting.lay.washing import UNWASHED, WASHING, tell_washing
from drafting.proof.checks.cloth import check_cloth
from drafting.proof.words.fitting import LARGER, fitting_sheet
from tests.laws.jobs import job_of

ACROSS, ALONG = 0.03, 0.06


@cache
def _result(unwashed: bool) -> Result:
    job = job_of("basic-tee")
    cloth = replace(
        job.brief.cloth, shrink_across=ACROSS, shrink_along=ALONG, cut_unwashed=unwashed, stripe=Stripe(50.0)
    )
    return run(replace(job, brief=replace(job.brief, cloth=cloth)))


def test_the_printed_pattern_is_larger_and_the_garment_is_not() -> None:
    """After the wash a piece is as it is drafted: its width by the loss across, its height by the loss along."""
    washed, unwashed = _result(False), _result(True)
    assert unwashed.proof.passed
    assert unwashed.garment == washed.garment
    for plain, drawn in zip(washed.cut, unwashed.drawn, strict=True):
        a, b = (np.ptp(each.cut_path.flatten(), axis=0) for each in (plain, drawn))
        shares = (1.0 - ACROSS, 1.0 - ALONG) if plain.cloth == "main" else (1.0, 1.0)
        assert b * shares == pytest.approx(a, rel=1e-9)
    assert washed.drawn == washed.cut
    sheet = unwashed.sheet
    assert sheet is not None
    assert {piece.name: piece.area for piece in sheet.pieces} == {piece.name: piece.area for piece in unwashed.drawn}


def test_a_turned_piece_grows_along_its_own_grain() -> None:
    """A piece cut crosswise grows upright by what the cloth loses in width."""
    result = _result(True)
    piece = next(each for each in result.cut if not each.on_fold)
    (grown,) = grow_pieces([replace(piece, grain=Point(1.0, 0.0))], result.job.brief)
    size, before = (np.ptp(each.cut_path.flatten(), axis=0) for each in (grown, piece))
    assert size * (1.0 - ALONG, 1.0 - ACROSS) == pytest.approx(before, rel=1e-9)


def _main_lay(result: Result) -> Lay:
    return plan_lays(result.garment, result.cut, result.job.brief)[0]


def test_its_plan_is_that_of_the_washed_cloth_drawn_on_the_unwashed() -> None:
    """As much is bought; each part is as large as the pattern, and the stripes meet by their repeat as it is sold."""
    washed, unwashed = _main_lay(_result(False)), _main_lay(_result(True))
    assert unwashed.buy == washed.buy
    assert unwashed.spreads[0].wide == pytest.approx(unwashed.cloth.width)
    (tied,) = unwashed.stripes
    assert tied.stripe.repeat == pytest.approx(50.0)
    result = _result(True)
    low = {}
    for each in unwashed.laid:
        lines = result.garment.piece(each.part.name).lines(role=Role.SIDE)
        if each.part.name in ("front", "back"):
            hem = min((p for line in lines for p in (line.path.start, line.path.end)), key=lambda p: p.y)
            offset = (each.ring / (1.0 / (1.0 - ACROSS), 1.0 / (1.0 - ALONG)) - each.part.ring)[0]
            low[each.part.name] = (hem.y + float(offset[1])) / (1.0 - ALONG)
    apart = (low["front"] - low["back"]) % 50.0
    assert min(apart, 50.0 - apart) == pytest.approx(0.0, abs=1e-6)


def test_it_is_said_not_to_be_washed_first() -> None:
    """One cloth is cut unwashed, another washed: each is told by its own name."""
    plain, unwashed = (_result(each).job.brief.cloth for each in (False, True))
    assert tell_washing([("main", plain)]) == WASHING
    assert tell_washing([("main", unwashed)]) == UNWASHED
    both = tell_washing([("main", unwashed), ("lining", plain), ("interfacing", plain)])
    assert both == f"Main cloth: {UNWASHED} Lining and interfacing: {WASHING}"
    still = replace(plain, cut_unwashed=True, shrink_across=0.0, shrink_along=0.0)
    assert tell_washing([("main", still)]) == WASHING
    assert not any(finding.code == "cloth.shrink" for finding in _result(True).proof.findings)
    assert any("cut it unwashed" in str(finding.sentence) for finding in _result(True).proof.findings)


def test_what_the_paper_no_longer_shows_is_told() -> None:
    """No larger pattern without a figure; edges that a turned piece has longer on the paper than they are sewn."""
    result = _result(True)
    garment, brief = result.garment, result.job.brief
    bare = replace(brief, cloth=replace(brief.cloth, shrink_across=0.0, shrink_along=0.0))
    assert "cloth.unwashed" in {finding.code for finding in check_cloth(garment, bare)}
    front = garment.piece("front")
    turned = garment.with_(pieces=[replace(front, grain=Point(1.0, 1.0).unit)])
    (told, *_) = (each for each in check_cloth(turned, brief) if each.code == "cloth.grown_unlike")
    assert told.value == pytest.approx(0.02, abs=0.01)
    assert LARGER in fitting_sheet(garment, brief).steps
    assert LARGER not in fitting_sheet(garment, _result(False).job.brief).steps


def test_a_band_of_washed_cloth_on_an_unwashed_one_is_warned_of() -> None:
    """Its edges don't meet as they are sewn; where the other shrinks hardly nothing is said."""
    findings = [finding for finding in _result(True).proof.findings if finding.code == "cloth.grown_apart"]
    assert [finding.place for finding in findings] == ["cloth"]
    assert findings[0].value == pytest.approx(1.0 / (1.0 - ALONG) - 1.0)
    assert not any(finding.code == "cloth.grown_apart" for finding in _result(False).proof.findings)


@pytest.mark.parametrize("unwashed", [True, False])
def test_cloth_that_grows_in_the_wash_is_reckoned_by_that(unwashed: bool) -> None:
    """A tenth more both ways: cut before, the stripe is as it is sold; after, its repeat and width are larger."""
    job = job_of("basic-tee")
    growing = replace(
        job.brief.cloth, shrink_across=-0.1, shrink_along=-0.1, stripe=Stripe(50.0), cut_unwashed=unwashed
    )
    (lay, *_) = plan_lays(_result(False).garment, _result(False).cut, replace(job.brief, cloth=growing))
    times = 1.0 if unwashed else 1.1
    assert lay.stripes[0].stripe.repeat == pytest.approx(50.0 * times)
    assert lay.spreads[0].wide == pytest.approx(growing.width * times)
    assert lay.needs == pytest.approx((lay.length / (1.0 / 1.1 if unwashed else 1.0) + 50.0 + 55.0) / 1.1)


def test_what_has_no_pattern_for_its_wash_is_told() -> None:
    """Interfacing and stays said to be cut unwashed: a note tells that nothing is drawn larger for it."""
    job = job_of("sheath-dress")
    unwashed = replace(job.brief.cloth, shrink_along=ALONG, cut_unwashed=True)
    cloths = {**job.brief.cloths, "interfacing": unwashed, "stay": unwashed}
    findings = check_cloth(draft_job(job), replace(job.brief, cloths=cloths))
    told = [each.sentence for each in findings if each.code == "cloth.unwashed"]
    assert len(told) == 2
    assert "as large as the piece that it is put on" in str(told[0])
    assert "by ruler" in str(told[1])


def test_interfacing_is_laid_as_large_as_the_pattern_that_it_is_cut_by() -> None:
    """The facings' one pattern is drawn for the wash of the cloth that they stiffen."""
    job = job_of("sheath-dress")
    shrinking = replace(job.brief.cloth, shrink_across=ACROSS, shrink_along=ALONG, cut_unwashed=True)
    result = run(replace(job, brief=replace(job.brief, cloth=shrinking)))
    lay = next(each for each in plan_lays(result.garment, result.cut, result.job.brief) if each.kind == "interfacing")
    drawn = {piece.code: piece.area * (2.0 if piece.on_fold else 1.0) for piece in result.drawn}
    for each in lay.laid:
        assert abs(signed_area(each.ring)) == pytest.approx(drawn[each.part.piece.code], rel=1e-3)
