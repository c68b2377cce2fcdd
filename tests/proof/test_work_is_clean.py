"""The order of work followed edge by edge: what a design's steps leave is clean, and a broken order is found out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

import pytest

from drafting.garment import Garment
from drafting.garment.deeds import TURNED_IN, PlyLay
from drafting.job import draft_job
from drafting.proof.checks.work import check_work
from drafting.work import make_up
from drafting.work.edges import find_flaws
from drafting.work.sewing import WorkStep, steps_of_work
from tests.laws.jobs import job_of

Steps = tuple[WorkStep, ...]


@cache
def sewn(design: str) -> tuple[Garment, Steps]:
    """A design as it is sewn."""
    garment = draft_job(job_of(design))
    return garment, steps_of_work(make_up(garment), garment, "mm")


def flaws(garment: Garment, steps: Iterable[WorkStep]) -> set[tuple[str, str]]:
    """What is wrong, and where."""
    return {(flaw.kind.value, flaw.place) for flaw in find_flaws(garment, steps)}


def move(steps: Steps, seam: str, before: str) -> Steps:
    """The steps, that of one seam brought before that of another, and all numbered anew."""
    mine = next(step for step in steps if any(each.name == seam for each in step.seams))
    others = [step for step in steps if step is not mine]
    at = next(i for i, step in enumerate(others) if any(each.name == before for each in step.seams))
    order = (*others[:at], mine, *others[at:])
    return tuple(replace(step, number=number) for number, step in enumerate(order, 1))


def without(steps: Steps, effect: str) -> Steps:
    """The steps as they would be if none of them did one thing to its edges."""
    keep = [tuple(each for each in step.said.effects if each.end.value != effect) for step in steps]
    return tuple(replace(s, said=replace(s.said, effects=e)) for s, e in zip(steps, keep, strict=True))


def laid_otherwise(garment: Garment, name: str, lay: PlyLay) -> Garment:
    """The garment, the plies of one of its seams laid in another way."""
    seams = [replace(s, kind=replace(s.kind, lay=lay)) if s.name == name else s for s in garment.seams]
    return garment.with_(seams=seams)


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "waist-seam-dress"])
def test_as_derived_the_work_is_clean(design: str) -> None:
    """The laws hold every design and change to it, for it stands in the proof; here two are looked at by themselves."""
    garment, steps = sewn(design)
    assert not flaws(garment, steps)
    assert not check_work(garment, job_of(design).brief)


@pytest.mark.parametrize(
    ("design", "end", "left"),
    [
        ("waist-seam-dress", "neatened", ("raw", "back-left.side-left")),
        ("waist-seam-dress", "neatened", ("raw", "skirt-front.hem-left")),
        ("waist-seam-dress", "enclosed", ("wrong_side", "neck-facing")),
        ("waist-seam-dress", "enclosed", ("raw", "neck-facing-back-left.end-a")),
        ("basic-tee", "folded", ("raw", "neck-band.edge")),
        ("basic-tee", "folded", ("raw", "front.hem-left")),
        ("diagonal-overlay-top", "bound", ("raw", "shoulder-front.neckline-left")),
        ("diagonal-overlay-top", "enclosed", ("wrong_side", "covered-neck")),
        ("diagonal-overlay-top", "caught", ("raw", "neck-binding.end-a")),
    ],
)
def test_what_no_step_does_is_missed(design: str, end: str, left: tuple[str, str]) -> None:
    """Where no step neatens, turns, folds, binds or catches any more, edges end raw and facings hang out."""
    garment, steps = sewn(design)
    assert left in flaws(garment, without(steps, end))


@pytest.mark.parametrize(
    ("design", "seam", "before", "found"),
    [
        ("waist-seam-dress", "neck-facing", "shoulder-left", ("too_early", "neck-facing")),
        ("diagonal-overlay-top", "covered-neck", "hem-band", ("unturnable", "covered-neck")),
        ("diagonal-overlay-top", "side-left-below", "covered-neck", ("hem", "overlay-front.hem")),
        ("diagonal-overlay-top", "diagonal", "neck-binding", ("too_early", "diagonal")),
    ],
)
def test_a_broken_order_is_found_out(design: str, seam: str, before: str, found: tuple[str, str]) -> None:
    """A seam before what it crosses, a neck turned out once the layers are caught, a hem after its ends are, ..."""
    garment, steps = sewn(design)
    assert found in flaws(garment, move(steps, seam, before))


def test_a_seam_without_a_step_is_found_out() -> None:
    """A step that is left out leaves its seam unsewn."""
    garment, steps = sewn("basic-tee")
    assert ("untold", "neck-band") in flaws(garment, [s for s in steps if s.said.title != "Neck band"])


def test_nothing_is_sewn_once_it_is_enclosed() -> None:
    """Shoulders whose edges are turned up as if they were hems can't be sewn afterwards."""
    garment, steps = sewn("basic-tee")
    hem = next(step for step in steps if step.edges)
    shoulder = next(seam for seam in garment.seams if seam.name == "shoulder-left")
    early = replace(hem, number=0, edges=shoulder.plies[0])
    assert ("enclosed", "shoulder-left") in flaws(garment, (early, *steps))


@pytest.mark.parametrize(
    "lay",
    [TURNED_IN, PlyLay(under_wrong=True, over_wrong=False, turned=True), PlyLay(over_wrong=False)],
    ids=["turned inside", "sewn wrong side to wrong side", "sewn face on back"],
)
def test_layers_laid_the_wrong_way_end_with_a_wrong_side_out(lay: PlyLay) -> None:
    """What hangs would vanish inside, or show its back."""
    broken = laid_otherwise(sewn("diagonal-overlay-top")[0], "covered-neck", lay)
    told = steps_of_work(make_up(broken), broken, "mm")
    assert ("wrong_side", "covered-neck") in flaws(broken, told)
    (finding,) = check_work(broken, job_of("diagonal-overlay-top").brief)
    assert (finding.code, finding.place, finding.severity.value) == ("work.wrong_side", "covered-neck", "error")


def test_a_raw_edge_is_told_with_its_piece() -> None:
    """In words for a maker."""
    garment, steps = sewn("waist-seam-dress")
    said = check_work(garment, job_of("waist-seam-dress").brief, without(steps, "neatened"))
    assert "the side of the front ends raw" in {str(finding.sentence) for finding in said}
