"""What ``list inherited`` tells: all that a ticket takes over from what it builds on, each with its name and file."""

from __future__ import annotations

from pathlib import Path

import click

from drafting.cli.terminal import print_lines, wrap_text
from drafting.cli.work import settle_read
from drafting.text import KEPT, printable
from drafting.ticket import find_catalogue
from drafting.ticket.inherit import files_of, inherit
from drafting.ticket.layers import read_layers
from drafting.ticket.leaving import Left, leave_out, names_of_changes, names_of_tables, value_at
from drafting.ticket.tree import TicketTable, TicketValue, Tree


def tell_inherited(ticket: Path, folders: tuple[Path, ...]) -> None:
    """Print what a ticket inherits and by which name each is left out; InputError where it can't be read.

    ``folders`` are those it may build on besides its own.
    """
    settle_read(ticket.parent)
    catalogue = find_catalogue()
    layers = read_layers(ticket, catalogue, folders)
    below = inherit(layers, catalogue.fits_body, []).below
    if not below.tree:
        print_lines(wrap_text(f"{printable(ticket.name)} builds on nothing, so it inherits nothing.", ""))
        return
    left = leave_out(Left(below.tree, below.changes), layers[-1], [])
    for turn, (name, (place, change)) in enumerate(zip(names_of_changes(below.changes), below.changes, strict=True)):
        if turn not in left.gone:
            _print_named(name, place, change)
            if turn in below.gone:
                print_lines(wrap_text("left behind: it fits someone else's body, so it isn't taken here", "    "))
    names = layers[-1].leaves_out()
    every = [*names_of_tables(left.tree)]
    for name in every:
        only_tables = any(other.startswith(f"{name}.") for other in every) and not _has_values(left, name)
        if name not in names and not only_tables:
            _print_table(name, left)
    words = (
        'To be without one of these, name it at the top of the ticket: leave_out = ["…"]. A single key of a table is'
    )
    print_lines()
    print_lines(wrap_text(f'{words} named with it: "seams.all".', ""))
    if names:
        print_lines()
        print_lines(wrap_text(f"Left out in {layers[-1].file}: {', '.join(names)}.", ""))


def _has_values(below: Left, name: str) -> bool:
    found = value_at(below.tree, name)
    return isinstance(found, TicketValue) or any(isinstance(each, TicketValue) for each in (found or {}).values())


def _print_table(name: str, below: Left) -> None:
    found = value_at(below.tree, name)
    table = {"": found} if isinstance(found, TicketValue) else {} if found is None else found
    # An empty table, such as a block's that takes every option by rule, has no value that says where it stands.
    empty = table.file if isinstance(table, TicketTable) else ""
    _print_named(name, ", ".join(files_of(table)) or empty, table)


def _print_named(name: str, place: str, table: Tree) -> None:
    values = ((key, value) for key, value in table.items() if isinstance(value, TicketValue) and key != "change")
    # A value is copied whole.
    written = (f"{key} = {_as_written(value.value)}" if key else _as_written(value.value) for key, value in values)
    told = ", ".join(each.replace(" ", KEPT) for each in written)
    print_lines(f"{click.style(printable(name), bold=True)}  ({printable(place)})" if place else printable(name))
    if told:
        print_lines(wrap_text(told, "    "))


def _as_written(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(map(_as_written, value))}]"
    return f'"{printable(value)}"' if isinstance(value, str) else printable(str(value))
