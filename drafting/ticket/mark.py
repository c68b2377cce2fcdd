"""A draft's mark: a short code made of what its ticket says, by which papers that belong together are known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, replace
from hashlib import sha256
from typing import Any

from drafting.body import Body
from drafting.ticket.cloths import CUT_AGAIN
from drafting.ticket.job import Job

MARK_LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""What draft marks are written with: nothing that is read as something else."""
MARK_LENGTH = 6


def mark_job(job: Job, letters: Iterable[tuple[str, str]] = ()) -> Job:
    """Give the job its mark, made from what was given: no estimate and no sum, which may differ in the last digit.

    ``letters`` are its pieces' names and letters, where these aren't those that it has by itself: one mark never stands
    for two ways of lettering.
    """
    content = (*_said_by(job), *letters)
    number = int.from_bytes(sha256(repr(content).encode("utf-8", "backslashreplace")).digest(), "big")
    mark = ""
    for _ in range(MARK_LENGTH):
        number, place = divmod(number, len(MARK_LETTERS))
        mark += MARK_LETTERS[place]
    return replace(job, mark=mark, finish=replace(job.finish, mark=mark))


def _said_by(job: Job) -> tuple[Any, ...]:
    body: Body = job.brief.body
    cloths = [asdict(job.brief.cloth), *((name, asdict(cloth)) for name, cloth in job.brief.cloths.items())]
    steps = [(each.label, each.step.name, repr(each.options)) for each in job.steps]
    return (
        job.title,
        job.wearer,
        job.unit,
        sorted(body.given.items()),
        body.rules,
        str(job.brief.fit),
        cloths,
        [(each.name, each.cloth, *([CUT_AGAIN] if each.again else [])) for each in job.cut_from],
        [(each.name, each.laying) for each in job.grain],
        steps,
        sorted(job.finish.allowances.items()),
        (job.finish.allowance, job.finish.hem_depth, job.finish.on_fold),
        asdict(job.paper),
    )
