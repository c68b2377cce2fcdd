"""The outline of a ticket's file: which tables it may have. What stands in them is read by the other modules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from drafting.errors import InputError, Problem, close_matches
from drafting.record import dataclass
from drafting.text import is_printable, show_read

LONGEST_NAME = 200
"""The longest text a ticket may hold, such as a title."""
LONGEST_KEY = 60
MOST_KEYS = 400
"""The most keys and changes one table may hold."""


@dataclass(frozen=True, slots=True)
class Standing:
    """What may stand at a place of a ticket: how it is told, its type as it is read, and what may stand within it.

    ``each`` is what a list or a table of any keys holds, ``fields`` the keys of a table that has no others.
    """

    told: str
    type: type
    each: Standing | None = None
    fields: Mapping[str, Standing] | None = None
    choices: tuple[str, ...] = ()


_TEXT: Final = Standing("text in quotes", str)
_FLAG: Final = Standing("true or false", bool)
_TABLE: Final = Standing("a table", dict)
_UNIT: Final = Standing("cm, mm or in", str, choices=("cm", "mm", "in"))
_LEFT_OUT = 'a list of names in quotes, such as ["blocks.cuffs", "cloth.stripe"]'
_NAMES: Final = Standing(_LEFT_OUT, list, Standing(_LEFT_OUT, str))
WEARER: Final = {"name": _TEXT, "averages": _TEXT, "same_person": _FLAG, "body": _TABLE}
TICKET: Final = {
    "title": _TEXT,
    "builds_on": _TEXT,
    "leave_out": _NAMES,
    "unit": _UNIT,
    "fit": _TEXT,
    "wearer": Standing("a table", dict, fields=WEARER),
    "cloth": _TABLE,
    "contrast": _TABLE,
    "blocks": Standing("a table", dict, _TABLE),
    "changes": Standing("a list of tables, each under [[changes]]", list, _TABLE),
    "seams": _TABLE,
    "paper": _TABLE,
}
"""What may stand in a ticket, by its key."""


def check_shape(tables: Mapping[str, object], file: str) -> None:
    """Refuse a file with unknown tables, values of the wrong kind, or texts that no ticket holds (InputError)."""
    problems = list(_odd_texts(tables, file)) or list(
        _misfits(tables, Standing("a table", dict, fields=TICKET), file, ())
    )
    if problems:
        raise InputError(problems)


def _misfits(value: object, kind: Standing, file: str, path: tuple[str, ...]) -> Iterator[Problem]:
    """Find what isn't of the kind that may stand at its place, down from one place."""
    where = f"{file}: {_dot_path(path)}"
    if kind.choices and value not in kind.choices:
        yield Problem(where, show_read(value), kind.told, "write one of these")
    elif not isinstance(value, kind.type):
        yield Problem(where, f"{show_read(value)} stands here", kind.told, "")
    elif isinstance(value, dict):
        known = kind.fields or {}
        for key, field in known.items():
            if key in value:
                yield from _misfits(value[key], field, file, (*path, key))
        for key, inner in value.items():
            if kind.each is not None:
                yield from _misfits(inner, kind.each, file, (*path, key))
            elif known and key not in known:
                yield _unknown_key((*path, key), file, inner)
    elif isinstance(value, list) and kind.each is not None:
        for place, inner in enumerate(value, start=1):
            yield from _misfits(inner, kind.each, file, (*path, str(place)))


def _unknown_key(path: tuple[str, ...], file: str, value: object) -> Problem:
    known = tuple(TICKET if len(path) == 1 else WEARER)
    kind = "table" if isinstance(value, dict | list) else "key"
    return Problem(
        f"{file}: {_dot_path(path)}",
        f"there is no such {kind} here",
        ", ".join(known),
        stray_key(path[-1]) or ("" if close_matches(path[-1], known) else "take it out"),
        close_matches(path[-1], known),
    )


def stray_key(key: str) -> str:
    """Return the mend of a key that belongs to another table, "" for one that no table knows."""
    from drafting.body import measurements
    from drafting.ticket.keys import CLOTH_KEYS, PAPER_KEYS

    if TICKET.get(key) in (_TEXT, _UNIT, _NAMES):
        return f"{key} stands at the top of a ticket, above the first [table]"
    if key in measurements():
        return f"{key} stands under [wearer.body]"
    tables = {"[cloth] or [contrast]": CLOTH_KEYS, "[paper]": PAPER_KEYS}
    homes = [table for table, infos in tables.items() if any(info.name == key for info in infos)]
    return f"{key} stands under {homes[0]}" if homes and key != "name" else ""


def _dot_path(path: Sequence[str]) -> str:
    text = ""
    for part in path:
        text += f"[{part}]" if part.isdigit() else f".{part}" if text else part
    return text


def _odd_texts(value: object, file: str, path: tuple[str, ...] = ()) -> Iterator[Problem]:
    """Find every text that is too long or would steer a terminal, and tables of senseless size."""
    where = f"{file}: {_dot_path([show_read(part)[1:-1] for part in path])}" if path else file
    if isinstance(value, str):
        yield from _odd_text(value, where)
    elif isinstance(value, dict):
        if len(value) > MOST_KEYS:
            yield Problem(where, f"{len(value)} keys stand here", f"{MOST_KEYS} at most", "take out what is not needed")
            return
        for key, inner in value.items():
            if len(key) > LONGEST_KEY or not all(map(is_printable, key)):
                yield Problem(
                    where, f"the key {show_read(key)} can't be one", f"names of {LONGEST_KEY} characters at most", ""
                )
            else:
                yield from _odd_texts(inner, file, (*path, key))
    elif isinstance(value, list):
        if len(value) > MOST_KEYS:
            yield Problem(
                where, f"{len(value)} values stand here", f"{MOST_KEYS} at most", "take out what is not needed"
            )
            return
        for place, inner in enumerate(value, start=1):
            yield from _odd_texts(inner, file, (*path, str(place)))


def _odd_text(text: str, where: str) -> Iterator[Problem]:
    if len(text) > LONGEST_NAME:
        yield Problem(where, f"{len(text)} characters: {show_read(text)}", f"{LONGEST_NAME} at most", "shorten it")
    if not all(map(is_printable, text)):
        yield Problem(where, f"{show_read(text)} holds control characters", "characters that print", "take them out")
