"""The command ``new``: write a ticket to fill in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from drafting.cli.app import examples
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, print_lines, print_note
from drafting.text import printable

if TYPE_CHECKING:
    from drafting.units import Unit


@click.command(
    "new",
    epilog=examples(
        "blockwright new alto.toml",
        "blockwright new tenor.toml --design knit-top --fit relaxed --unit in",
    ),
)
@click.argument("file", type=click.Path(path_type=Path), default="ticket.toml")
@click.option(
    "--design",
    default="knit-top",
    metavar="DESIGN",
    help="The design it builds on; to see them: blockwright list designs.",
    show_default=True,
)
@click.option(
    "--fit",
    type=click.Choice(["close", "semi-fitted", "relaxed"]),
    help="How near the garment lies to the body; if not given, as the design has it.",
)
@click.option(
    "--unit",
    type=click.Choice(["cm", "mm", "in"]),
    default="cm",
    help="The unit of your tape.",
    show_default=True,
)
def command(file: Path, design: str, fit: str | None, unit: Unit) -> int:
    """Write a ticket to be filled in.

    It goes to FILE, ticket.toml if not named, and names every measurement the design needs, with how it is taken. A
    file that exists is never written over.
    """
    import os

    from drafting.errors import InputError, Problem
    from drafting.folder import write_files
    from drafting.ticket import find_catalogue
    from drafting.ticket.blank import blank_ticket

    if file.suffix != ".toml":
        raise click.UsageError("Name a FILE that ends in .toml.")
    name = printable(str(file))
    if os.path.lexists(file):
        mend = "name another file, or move this one away"
        raise InputError([Problem(name, "this file exists and is not written over", "", mend)])
    text = blank_ticket(find_catalogue(), design, unit=unit, fit=fit or "")
    write_files(file.parent, {file.name: text.encode()}, print_note, "new")
    with after_writing("the ticket", file):
        print_lines(f"The ticket is in {name}. Fill in what stands empty, then:")
        print_lines(f"  blockwright make {name}")
    return MADE
