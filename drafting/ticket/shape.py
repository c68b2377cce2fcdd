"""The outline of a ticket's file: which tables it may have. What stands in them is read by the other modules."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Final, cast

from drafting.errors import InputError, Problem, close_matches
from drafting.text import is_printable, show_read

if TYPE_CHECKING:
    from pydantic_core import CoreSchema, ErrorDetails, SchemaValidator

LONGEST_NAME = 200
"""The longest text a ticket may hold, such as a title."""
LONGEST_KEY = 60
MOST_KEYS = 400
"""The most keys and changes one table may hold."""

_WORDS = {
    "string_type": "text in quotes",
    "dict_type": "a table",
    "bool_type": "true or false",
    "list_type": "a list of tables, each under [[changes]]",
}
_LEFT_OUT = 'a list of names in quotes, such as ["blocks.cuffs", "cloth.stripe"]'


def _table(fields: Mapping[str, object]) -> dict[str, object]:
    told = {key: {"type": "typed-dict-field", "schema": schema, "required": False} for key, schema in fields.items()}
    return {"type": "typed-dict", "extra_behavior": "forbid", "config": {"strict": True}, "fields": told}


_TEXT: Final = {"type": "str"}
_FLAG: Final = {"type": "bool"}
_ANY_TABLE: Final = {"type": "dict", "keys_schema": _TEXT}
WEARER: Final = {"name": _TEXT, "averages": _TEXT, "same_person": _FLAG, "body": _ANY_TABLE}
TICKET: Final = {
    "title": _TEXT,
    "builds_on": _TEXT,
    "leave_out": {"type": "list", "items_schema": _TEXT},
    "unit": {"type": "literal", "expected": ["cm", "mm", "in"]},
    "fit": _TEXT,
    "wearer": _table(WEARER),
    "cloth": _ANY_TABLE,
    "cloths": {"type": "dict", "keys_schema": _TEXT, "values_schema": _ANY_TABLE},
    "grain": _ANY_TABLE,
    "blocks": {"type": "dict", "keys_schema": _TEXT, "values_schema": _ANY_TABLE},
    "changes": {"type": "list", "items_schema": _ANY_TABLE},
    "seams": _ANY_TABLE,
    "paper": _ANY_TABLE,
}
"""What may stand in a ticket, as schemas of pydantic's core: its models say the same, but take 80 ms more to load."""


@functools.cache
def _outline() -> SchemaValidator:
    from pydantic_core import SchemaValidator

    return SchemaValidator(cast("CoreSchema", _table(TICKET)))


def check_shape(tables: Mapping[str, object], file: str) -> None:
    """Refuse a file with unknown tables, values of the wrong kind, or texts that no ticket holds (InputError)."""
    problems = list(_odd_texts(tables, file)) or list(_misfits(tables, file))
    if problems:
        raise InputError(problems)


def _misfits(tables: Mapping[str, object], file: str) -> Iterator[Problem]:
    from pydantic_core import ValidationError

    try:
        _outline().validate_python(tables)
    except ValidationError as error:
        for detail in error.errors(include_url=False, include_context=True):
            yield _problem(detail, file)


def _problem(detail: ErrorDetails, file: str) -> Problem:
    path = [str(part + 1) if isinstance(part, int) else part for part in detail["loc"]]
    where = f"{file}: {_dot_path(path)}"
    kind = detail["type"]
    if kind == "extra_forbidden":
        return _unknown_key(path, where, detail["input"])
    if kind == "literal_error":
        allowed = str(detail.get("ctx", {}).get("expected", "")).replace("'", "")
        return Problem(where, show_read(detail["input"]), allowed, "write one of these")
    allowed = _LEFT_OUT if path[0] == "leave_out" else _WORDS.get(kind, detail["msg"])
    return Problem(where, f"{show_read(detail['input'])} stands here", allowed, "")


def _unknown_key(path: list[str], where: str, value: object) -> Problem:
    known = tuple(TICKET if len(path) == 1 else WEARER)
    is_table = isinstance(value, dict | list)
    read = f"there is no such {'heading' if is_table else 'key'} here"
    renamed = renamed_key(path[-1], known, is_table)
    close = () if renamed else close_matches(path[-1], known)
    mend = renamed or stray_key(path[-1]) or ("" if close else "take this line out")
    if is_table:
        home = ".".join(path[:-1])
        known, close = (tuple(_head(home, name) for name in names) for names in (known, close))
    return Problem(where, read, ", ".join(known), mend, close)


def _head(home: str, name: str) -> str:
    """A table's heading as a ticket has it, of one within another: "[wearer.body]"; a key as it is."""
    return f"[{home}.{name}]" if home and name == "body" else name


RENAMED: Final[Mapping[str, tuple[str, ...]]] = {
    "trim": ("cloths.NAME",),
    "contrast": ("cloths.NAME",),
    "rules": ("averages",),
    "hem": ("hem_depth",),
    "square_across": ("square_10cm_across", "square_4in_across"),
    "square_along": ("square_10cm_along", "square_4in_along"),
    "two_sided": ("sides_alike",),
    "face": ("on",),
    "front_drop": ("front_depth",),
    "back_drop": ("back_depth",),
    "drop_back": ("longer_at_back",),
    "share": ("circle", "across"),
    "part": ("piece",),
    "wrist_ease": ("lower_edge_ease",),
    "scye_ease": ("underarm_drop",),
}
"""What keys of older tickets are called now; where it may be either of two, the likelier is first."""


SAID_ALSO: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(("lengthen", "longer", "shorten", "shorter", "widen", "wider", "narrower", "amount"), ("by",)),
    **dict.fromkeys(("raise", "higher", "lower", "deeper"), ("by",)),
    "length": ("height",),
    "shape": ("front", "back"),
    "at": ("place",),
}
"""What people write for a key of another name: what it is called where there is such a key."""


def renamed_key(key: str, known: Iterable[str], table: bool = False) -> str:
    """Return the mend of a key that was renamed to one of those that are ``known`` where it stands, "" if it wasn't."""
    known = tuple(known)
    now = [f"[{new}]" if table else new for new in RENAMED.get(key, ()) if new.partition(".")[0] in known]
    return f"it is now called {' or '.join(now)}" if now else ""


def stray_key(key: str) -> str:
    """Return the mend of a key that belongs to another table, "" for one that no table knows."""
    from drafting.body import measurements
    from drafting.ticket.keys import CLOTH_KEYS, PAPER_KEYS

    if TICKET.get(key) in (_TEXT, TICKET["unit"], TICKET["leave_out"]):
        return f"{key} stands at the top of a ticket, above the first [table]"
    if key in measurements():
        return f"{key} stands under [wearer.body]"
    tables = {"[cloth]": CLOTH_KEYS, "[paper]": PAPER_KEYS}
    homes = [table for table, infos in tables.items() if any(info.name == key for info in infos)]
    return f"{key} stands under {homes[0]}" if homes and key != "name" else ""


def _dot_path(path: list[str]) -> str:
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
