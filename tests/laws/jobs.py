"""Jobs of the catalogue's designs for any body, cloth and fit, with further changes; and what became of them."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import shapely

from drafting.errors import CannotDraft, InputError
from drafting.finishing import CutPiece
from drafting.garment import Brief, Garment, Step
from drafting.job import draft_job, finish_job
from drafting.proof import Finding
from drafting.saying import render
from drafting.ticket import Catalogue, Job, Planned, find_catalogue, read_job
from tests.garments import take_first

WEARER = """
[wearer]
name = "Soprano"
averages = "women"
[wearer.body]
stature = 166
bust_girth = 92
waist_girth = 74
hip_girth = 98
back_neck_point_to_waist = 40.5
[cloth]
kind = "knit"
stretch_across = "30 %"
stretch_along = "15 %"
recovery = "95 %"
elastane = true
[cloths.rib]
cut = ["neck-band", "shaped-cuff", "hem-band", "armhole-band"]
kind = "knit"
stretch_across = "80 %"
stretch_along = "20 %"
recovery = "95 %"
elastane = true
"""
"""A wearer and cloths, invented, for a ticket of which only the design is of interest."""

FITTING = ("openings.", "bands.", "cloth.", "body.", "ease.stretch")
"""Codes of errors that say: this person, this cloth and these options don't go together. Any other is a bad draft."""


@cache
def catalogue() -> Catalogue:
    """What is installed."""
    return find_catalogue()


@cache
def job_of(design: str) -> Job:
    """The job of a design, for an invented soprano; jobs made of it share what they begin with."""
    job = job_from(f'builds_on = "{design}"\nunit = "cm"\n{WEARER}')
    return replace(job, steps=tuple(replace(each, step=_share_first(each.step)) for each in job.steps))


def _share_first(step: Step[Any]) -> Step[Any]:
    """The step, drawn once for each brief and options where a garment begins with it."""

    def work(garment: Garment, brief: Brief, options: Any) -> Garment:
        return step.work(garment, brief, options) if garment.pieces else take_first(step, garment, brief, options)

    return replace(step, work=work)


def job_from(ticket: str) -> Job:
    """The job of a ticket given as text."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "ticket.toml"
        file.write_text(ticket, encoding="utf-8")
        return read_job(file, catalogue())


def planned(change: str, options: Mapping[str, Any]) -> Planned:
    """A change as a job plans it, its options in inside units."""
    step = catalogue().change(change, change)
    return Planned(change, step, step.options(**options), f"changes: {change}")


def with_changes(job: Job, changes: Iterable[tuple[str, Mapping[str, Any]]], brief: Brief | None = None) -> Job:
    """The job with changes added at its end, taken in the order of their stages as a ticket's are."""
    steps = sorted((*job.steps, *(planned(*each) for each in changes)), key=lambda each: each.step.stage)
    return replace(job, steps=tuple(steps), brief=brief or job.brief)


@dataclass(frozen=True)
class Outcome:
    """What became of a job: the garment and its cut pieces, or why it was refused.

    ``refused`` is the sentence, by an error or by the first finding that fails the proof; "" if it is proven. ``code``
    begins with "refused" where a change couldn't be drawn, and with "unfinished" or "faulty" where it could but what
    came of it can't be cut or doesn't go together, which it is then named for. ``broken`` says what must never be.
    """

    refused: str = ""
    code: str = ""
    broken: str = ""
    garment: Garment | None = None
    cut: tuple[CutPiece, ...] = ()
    findings: tuple[Finding, ...] = ()


def outcome(job: Job) -> Outcome:
    """Draft, prove and finish a job; whatever is raised but a refusal is let through."""
    try:
        garment = draft_job(job)
    except CannotDraft as error:
        named = str(error.reason).strip() and any(error.step == each.step.name for each in job.steps)
        return Outcome(str(error), f"refused: {error.step}", "" if named else f"says too little: {error!r}")
    except InputError as error:
        told = error.problems and all(problem.where and problem.read for problem in error.problems)
        return Outcome(str(error), "refused: input", "" if told else f"says too little: {error!r}")
    try:
        cut, proof = finish_job(job, garment)
    except CannotDraft as error:
        named = str(error.reason).strip() and error.help and error.where and not _is_block(job, error.step)
        return Outcome(str(error), f"unfinished: {error.step}", "" if named else f"says too little: {error!r}")
    errors = [finding for finding in proof.findings if finding.severity == "error"]
    bad = [
        f"{f.code} {f.place}: {render(f.sentence, 'cm')}" for f in errors if not (f.since or f.code.startswith(FITTING))
    ]
    bad += [f"{f.code} {f.place} says too little" for f in errors if not (f.sentence and f.remedy)]
    bad += [why for piece in cut for why in (_unsound(piece),) if why and not errors]
    faults = [f"faulty: {f.code}" for f in errors if not f.code.startswith(FITTING)]
    refused = errors[0] if errors else None
    return Outcome(
        refused.sentence if refused else "", (*faults, refused.code)[0] if refused else "", "; ".join(bad), garment,
        cut, proof.findings,
    )  # fmt: skip


def _is_block(job: Job, step: str) -> bool:
    return any(planned.is_block and planned.step.name == step for planned in job.steps)


def _unsound(piece: CutPiece) -> str:
    """Why a cut outline is no outline; "" if it is one. Judged by shapely, not by the engine's own checks."""
    ends = [
        (a.path.end, b.path.start) for a, b in zip(piece.outline, piece.outline[1:] + piece.outline[:1], strict=True)
    ]
    if any(a.distance(b) > 1e-3 for a, b in ends):
        return f"{piece.name}: the cut outline is open"
    ring = shapely.LinearRing(piece.cut_path.flatten())
    if not ring.is_simple:
        return f"{piece.name}: the cut outline crosses itself"
    return "" if ring.is_ccw else f"{piece.name}: the cut outline runs clockwise"
