"""Several tickets made at once: a folder each, what is worth knowing of each, and a table of how each went."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from drafting.cli.pattern import HowToMake, folder_of, make_pattern
from drafting.cli.summary import Made, describe_job, print_findings, print_next_of_several, tell_verdict
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import (
    BAD_INPUT,
    MADE,
    NOT_PROVEN,
    print_error,
    print_heading,
    print_lines,
    print_table,
)
from drafting.errors import DraftingError
from drafting.record import dataclass

if TYPE_CHECKING:
    from drafting.job import Result


@dataclass(frozen=True, slots=True)
class _Went:
    """How a ticket went: its status, and what the table tells of it."""

    status: int
    verdict: str
    pages: str = ""
    folder: str = ""


def make_several(tickets: Sequence[Path], out: Path | None, how: HowToMake) -> int:
    """Make the pattern of each ticket into a folder of its own, within ``out``; return the worst status.

    A ticket that can't be made is told of, and the others are made.
    """
    if how.demo or how.since is not None:
        raise click.UsageError("--demo and --since go with one ticket.")
    folders = [(out or Path()) / folder_of(ticket) for ticket in tickets]
    for ticket, folder in zip(tickets, folders, strict=True):
        if tickets.count(ticket) > 1:
            raise click.UsageError(f"{ticket} is named twice; name each ticket once.")
        if folders.count(folder) > 1:
            raise click.UsageError(f"{ticket} and another ticket would both be written into {folder}; rename one.")
    went = []
    for at, (ticket, folder) in enumerate(zip(tickets, folders, strict=True), start=1):
        print_heading(f"{at} of {len(tickets)}: {ticket}")
        went.append(_make_each(ticket, folder, how))
    made = [each for each in went if each.folder]
    with after_writing("the patterns", out or Path()):
        print_heading(f"Made: {len(made)} of {len(tickets)}")
        rows = [
            (str(ticket), each.verdict, each.pages, each.folder) for ticket, each in zip(tickets, went, strict=True)
        ]
        print_table(rows, head=("ticket", "", "pages", "folder"), right=(2,))
        if made:
            print_next_of_several()
    return max(each.status for each in went)


def _make_each(ticket: Path, folder: Path, how: HowToMake) -> _Went:
    try:
        result, made = make_pattern(ticket, folder, replace(how, since=None))
    except DraftingError as error:
        print_error(error)
        return _Went(BAD_INPUT, "not made: see above")
    _print_each(result)
    if made is None:
        return _Went(NOT_PROVEN, "not proven, so nothing was written")
    return _Went(MADE if result.proof.passed else NOT_PROVEN, _verdict(result), str(_count_pages(made)), str(folder))


def _count_pages(made: Made) -> int:
    return len(made.pattern.cover.pages) + made.pattern.sheet.pages


def _verdict(result: Result) -> str:
    told = tell_verdict(result.proof)
    return f"{told}: see above" if "warning" in told else told


def _print_each(result: Result) -> None:
    """Show a ticket's verdict, and what was found."""
    print_lines(f"{describe_job(result)}: {_verdict(result)}, draft mark {result.job.mark}")
    print_findings(result.proof.findings, result.job.unit)
