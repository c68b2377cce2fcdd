"""From a file to plain tables: is it there, is it text, is it TOML, is it of a sensible size."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from pathlib import Path

from drafting.errors import InputError, Problem
from drafting.text import printable, show_read
from drafting.ticket.ordinary import OddFile, read_ordinary

MOST_BYTES = 262_144
"""The largest ticket that is read; a full one has about 4 kB."""
LONGEST_LINE = 1_000
"""The longest line that is read: a longer one is no ticket, and costs the reader of TOML its time."""
DEEPEST = 8
"""How deeply tables and lists may stand in one another."""

_PART = r"""[ \t]*+(?:[A-Za-z0-9_-]++|"(?:[^"\\]|\\.)*+"|'[^']*+')[ \t]*+"""
_DEEP_KEY = re.compile(rf"[ \t]*+\[{{0,2}}(?:{_PART}\.){{{DEEPEST}}}")
"""The start of a line whose key, or whose table's name, has more parts than that, parted by dots.

TOML's reader keeps every beginning of such a key: its time and memory grow with the square of the parts.
"""

_TOO_DEEP = ("lists and tables stand too deep in one another", f"{DEEPEST} deep at most", "")
_TICKET = f"which is a text file ending in .toml, of at most {MOST_BYTES // 1024} kB"


def read_toml(path: Path) -> Mapping[str, object]:
    """Return the tables of a TOML file; InputError, naming line and column, if it can't be read."""
    return parse_toml(_text(path), path.name)


def parse_toml(text: str, name: str) -> Mapping[str, object]:
    """Return the tables of a TOML text; ``name`` is the file's name in messages."""
    _refuse_costly_lines(text, name)
    try:
        tables = tomllib.loads(text)
        too_deep = _deeper_than(tables, DEEPEST)
    except tomllib.TOMLDecodeError as error:
        from drafting.ticket.toml_words import toml_problem

        raise InputError([toml_problem(text, name, error)]) from None
    except RecursionError:
        too_deep = True
    except ValueError:  # a whole number of thousands of digits
        raise _input_error(name, "a number is too long to be read", "", "write an ordinary number") from None
    if too_deep:
        raise _input_error(name, *_TOO_DEEP)
    return tables


def _refuse_costly_lines(text: str, name: str) -> None:
    """Refuse lines that would cost the reader of TOML its time, before it reads them; lines are those of TOML."""
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LONGEST_LINE:
            raise _input_error(
                f"{name}, line {number}",
                f"this line has {len(line)} characters: {show_read(line)}",
                f"lines of at most {LONGEST_LINE} characters",
                "is this a ticket? if so, shorten the line",
            )
        if _DEEP_KEY.match(line):
            raise _input_error(f"{name}, line {number}", *_TOO_DEEP)


def _text(path: Path) -> str:
    name = printable(path.name or str(path))
    try:
        data = read_ordinary(path, MOST_BYTES)
    except OddFile as odd:
        raise _input_error(name, f"{odd}", f"a ticket, {_TICKET}", "name the ticket's file") from None
    except FileNotFoundError:
        raise _input_error(
            name, "there is no such file", "", "check the spelling, or write one with: blockwright new " + name
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _input_error(name, f"it can't be read: {printable(reason)}", "", "check that you may read it") from None
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise _input_error(
            f"{name}, line {line}", "this is not UTF-8 text", "UTF-8", "save the file again as UTF-8 in your editor"
        ) from None


def _input_error(where: str, read: str, allowed: str, mend: str) -> InputError:
    return InputError([Problem(where=where, read=read, allowed=allowed, mend=mend)])


def _deeper_than(value: object, depth: int) -> bool:
    inner: Collection[object] | None
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else None
    return inner is not None and (depth == 0 or any(_deeper_than(item, depth - 1) for item in inner))
