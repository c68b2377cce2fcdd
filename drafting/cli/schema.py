"""The command ``schema``: the ticket's JSON Schema, so that an editor completes it."""

from __future__ import annotations

from pathlib import Path

import click

from drafting.cli.app import examples
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, print_lines, print_note
from drafting.cli.work import SCHEMA


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
    from drafting.seal import SEAL_ROOM, seal_file
    from drafting.ticket import find_catalogue, ticket_schema

    made = {"$comment": SEAL_ROOM} if file is not None else {}
    text = json.dumps(made | ticket_schema(find_catalogue()), indent=2, ensure_ascii=False)
    if file is None:
        print_lines(text)
    else:
        from drafting.folder import write_files

        data = seal_file(f"{text}\n".encode(), SCHEMA)
        write_files(file.parent, {file.name: data}, print_note, SCHEMA)
        with after_writing("the schema", file):
            print_lines(f"The schema is in {file}.")
    return MADE
