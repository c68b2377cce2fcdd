"""The command ``schema``: the ticket's JSON Schema, so that an editor completes it."""

from __future__ import annotations

from pathlib import Path

import click

from drafting.cli.app import examples
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, print_lines


@click.command("schema", epilog=examples("blockwright schema ticket.schema.json", "blockwright schema"))
@click.argument("file", type=click.Path(path_type=Path), required=False)
def command(file: Path | None) -> int:
    """Write the JSON Schema of a ticket to FILE, or print it.

    An editor that knows TOML and JSON Schema then completes keys and shows units, ranges and meanings. Many take
    the schema's place from a first line such as "#:schema ./ticket.schema.json" in the ticket.
    """
    import json

    if file is not None and file.suffix != ".json":
        raise click.UsageError("Name a FILE that ends in .json, so that no ticket is written over.")
    from drafting.ticket import find_catalogue, ticket_schema

    text = json.dumps(ticket_schema(find_catalogue()), indent=2, ensure_ascii=False)
    if file is None:
        print_lines(text)
    else:
        from drafting.cli.folder import write_one

        write_one(file, text + "\n")
        with after_writing("the schema", file):
            print_lines(f"The schema is in {file}.")
    return MADE
