"""The overlay top for anyone, with any options of the overlay and any further changes; and what is told of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from drafting.garment import Garment
from drafting.ticket import Job, Planned
from tests.laws.jobs import Outcome, job_of, outcome, with_changes
from tests.laws.strategies import Made

OVERLAY = "asymmetric-overlay"


def with_options(planned: Planned, options: Mapping[str, Any]) -> Planned:
    """A step with options told, whatever class they are of."""
    kept: Any = planned.options
    return replace(planned, options=replace(kept, **options))


def overlay_job(
    options: Mapping[str, Any] | None = None, design: str = "diagonal-overlay-top", changes: Sequence[Made] = ()
) -> Job:
    """The job of an overlay design with options of its overlay told, in mm and shares."""
    job = with_changes(job_of(design), changes)
    steps = tuple(with_options(each, options or {}) if each.step.name == OVERLAY else each for each in job.steps)
    return replace(job, steps=steps)


def block_options(job: Job, block: str, **options: Any) -> Job:
    """The job with options of one of its blocks told."""
    steps = tuple(with_options(each, options) if each.step.name == block else each for each in job.steps)
    return replace(job, steps=steps)


@cache
def made(side: str, design: str = "diagonal-overlay-top") -> Outcome:
    """The design for the soprano, its overlay over the shoulder of that side."""
    return outcome(overlay_job({"side": side}, design))


def garment(side: str, design: str = "diagonal-overlay-top") -> Garment:
    """The net garment of that design."""
    found = made(side, design).garment
    assert found is not None
    return found


OTHER = {"left": "right", "right": "left"}
