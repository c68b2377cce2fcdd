"""What several commands share: reading a ticket, running its job, and the words for the options they have in common."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from drafting.cli.terminal import Progress

if TYPE_CHECKING:
    from drafting.job import Result

TICKET = click.argument("ticket", type=click.Path(path_type=Path), required=False)
DEMO = click.option("--demo", is_flag=True, help="Use the demo's ticket: the concert top of a choir's soprano.")
DEMO_NAME = "soprano"


def ticket_or_demo(ticket: Path | None, demo: bool) -> Path:
    """Return the ticket asked for; a usage error if there is none, or both a ticket and the demo."""
    if demo and ticket is not None:
        raise click.UsageError("Name a ticket or give --demo, not both.")
    if ticket is not None:
        return ticket
    if not demo:
        raise click.UsageError("Name a ticket, or give --demo. (A ticket is written with: blockwright new)")
    from drafting.ticket import find_catalogue

    demos = find_catalogue().demos
    if DEMO_NAME not in demos:
        raise click.UsageError("The demo isn't installed. Is the package installed whole?")
    return demos[DEMO_NAME]


def run_ticket(ticket: Path, *, paper: str = "", anyway: bool = False) -> Result:
    """Read a ticket and run its job, telling what is being done."""
    progress = Progress()
    progress("reading the ticket")
    try:
        from drafting.job import run
        from drafting.ticket import find_catalogue, read_job

        job = read_job(ticket, find_catalogue(), paper=paper)
        return run(job, anyway=anyway, telling=progress)
    finally:
        progress.done()
