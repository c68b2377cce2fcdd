"""From a file to plain tables: is it there, is it text, is it TOML, is it of a sensible size."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Mapping
from pathlib import Path

from drafting.errors import InputError, Problem
from drafting.text import printable, show_read

MOST_BYTES = 262_144
"""The largest ticket that is read; a full one has about 4 kB."""
LONGEST_LINE = 1_000
"""The longest line that is read: a longer one is no ticket, and costs the reader of TOML its time."""
DEEPEST = 8
"""How deeply tables and lists may stand in one another."""


def read_toml(path: Path) -> Mapping[str, object]:
    """Return the tables of a TOML file; InputError, naming line and column, if it can't be read."""
    return parse_toml(_text(path), path.name)


def parse_toml(text: str, name: str) -> Mapping[str, object]:
    """Return the tables of a TOML text; ``name`` is the file's name in messages."""
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > LONGEST_LINE:
            raise _input_error(
                f"{name}, line {number}",
                f"this line has {len(line)} characters: {show_read(line)}",
                f"lines of at most {LONGEST_LINE} characters",
                "is this a ticket? if so, shorten the line",
            )
    try:
        tables = tomllib.loads(text)
        too_deep = _deeper_than(tables, DEEPEST)
    except tomllib.TOMLDecodeError as error:
        raise _input_error(
            f"{name}",
            f"this is not TOML: {_plain_error(error)}",
            "",
            'mend that place; text stands in quotes: fit = "close"',
        ) from None
    except RecursionError:
        too_deep = True
    except ValueError as error:  # a whole number of thousands of digits
        raise _input_error(
            name, f"a value can't be read: {_plain_error(error)}", "", "write an ordinary number"
        ) from None
    if too_deep:
        raise _input_error(name, "lists and tables stand too deep in one another", f"{DEEPEST} deep at most", "")
    return tables


def _text(path: Path) -> str:
    name = printable(path.name or str(path))
    try:
        if path.is_dir():
            raise _input_error(
                name, "this is a folder", "a ticket, which is a file ending in .toml", "name the file in it"
            )
        if not path.exists():
            raise _input_error(
                name, "there is no such file", "", "check the spelling, or write one with: blockwright new " + name
            )
        if not path.is_file():
            raise _input_error(name, "this is not an ordinary file", "a ticket, which is a text file", "")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        if isinstance(error, InputError):
            raise
        raise _input_error(name, f"it can't be read: {printable(reason)}", "", "check that you may read it") from None
    if len(data) > MOST_BYTES:
        raise _input_error(name, "this file is too large for a ticket", f"at most {MOST_BYTES // 1024} kB", "")
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise _input_error(
            f"{name}, line {line}", "this is not UTF-8 text", "UTF-8", "save the file again as UTF-8 in your editor"
        ) from None


def _input_error(where: str, read: str, allowed: str, mend: str) -> InputError:
    return InputError([Problem(where=where, read=read, allowed=allowed, mend=mend)])


def _plain_error(error: Exception) -> str:
    return printable(str(error)[:200])


def _deeper_than(value: object, depth: int) -> bool:
    inner: Collection[object] | None
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else None
    return inner is not None and (depth == 0 or any(_deeper_than(item, depth - 1) for item in inner))
