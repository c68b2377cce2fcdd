"""What the last figures of sums are never shows in a file: they differ from one processor, or C library, to another."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace

import pytest

from drafting.cli.work import document_of, draw_views
from drafting.job import run
from drafting.lay import plan_lays
from drafting.output import PrintInfo, draw_sheet, flat_svg, pattern_pdf, sheet_pdf
from drafting.output.pages.lay_page import lay_pdf
from drafting.output.svg import svg
from drafting.ticket import Job, find_catalogue, read_job
from tests.laws.jobs import job_of

NOISE = 1e-11
"""mm: a hundred times what another order of a sum makes of a body's length."""


def shaken(job: Job, seed: int) -> Job:
    """The job with each measurement off by less than any tape, or any sum, shows."""
    chance = random.Random(seed)
    values = {name: value + chance.uniform(-NOISE, NOISE) for name, value in job.brief.body.values.items()}
    return replace(job, brief=replace(job.brief, body=replace(job.brief.body, values=values)))


def files(job: Job) -> Mapping[str, str | bytes]:
    """What is written of a job."""
    result = run(job)
    assert result.sheet is not None
    info = PrintInfo(job.title, job.wearer, job.mark, flat=draw_views(result))
    drawing = draw_sheet(result.sheet, info)
    lays = plan_lays(result.garment, result.cut, job.brief, job.unit)
    return {
        "pattern.pdf": pattern_pdf(result.sheet, info, drawing),
        "sheet.pdf": sheet_pdf(result.sheet, info, drawing),
        "pattern.svg": svg(info, drawing),
        "flat.svg": flat_svg(info),
        "proof.json": document_of(result),
        "cutting.pdf": lay_pdf(lays, info, job.paper, job.advise),
    }


@pytest.mark.parametrize("ticket", ["alto", "soprano", "princess-top"])
def test_noise_in_the_last_figures_changes_no_byte(ticket: str) -> None:
    """Of any file: no word stands elsewhere, no part lies elsewhere, no figure is rounded the other way."""
    demos = find_catalogue().demos
    job = read_job(demos[ticket], find_catalogue()) if ticket in demos else job_of(ticket)
    calm, noisy = files(job), files(shaken(job, 1))
    assert [name for name in calm if calm[name] != noisy[name]] == []
