"""A ticket that isn't TOML, in words of our own: where, what stands there, and the mend that is likely meant.

What the reader of TOML says of it is made for programmers; only the place is taken from it, and which of a few cases it
is. What is wrong is told by the line that stands there.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping

from drafting.errors import Problem
from drafting.record import dataclass
from drafting.text import is_printable, printable, show_read

Told = tuple[str, str]
"""What stands there, and the mend."""

_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)")
_TABLE = re.compile(r"(\[{1,2})([^\]]*)(\]{0,2})")
_KEY = re.compile(r"""\s*([\w.-]+|"[^"]*"|'[^']*')\s*=(.*)$""")
_COLON = re.compile(r"\s*([\w-]+)\s*:")
_LONGEST = 80  # characters of a value that is looked at for what it was meant to be
_CURLY = re.compile(r"[“”„‟‘’‚«»`´]")
_COMMA = re.compile(r"([-+]?\d+),(\d+)(?=$|[\s#])")
_UNITS = r"cm|mm|in|inch|inches|deg|kg|lb|%|\"|'"
_SIZED = re.compile(rf"([-+]?[\d.,]+(?:[ /\d-]*\d)?\s*[¼½¾⅛⅜⅝⅞]?\s*(?:{_UNITS})?)\s*(?:#.*)?$")
_BARE = re.compile(r"([^\W\d][\w -]*?)\s*(?:#.*)?$")
_SWITCH: Mapping[str, str] = {
    "true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false",
}  # fmt: skip


def toml_problem(text: str, name: str, error: Exception) -> Problem:
    """Return what is wrong with a text that TOML's reader refused; ``name`` is the file's name in messages."""
    found = _PLACE.search(str(error))
    lines = text.split("\n")
    number, column = (int(found[1]), int(found[2])) if found else (len(lines), len(lines[-1]) + 1)
    line = lines[number - 1] if number <= len(lines) else ""
    fault = _Fault(lines, number, line, line[max(0, column - 1) :].strip(" \t"), str(error))
    read, mend = next(told for rule in _RULES if (told := rule(fault)) is not None)
    return Problem(f"{name}, line {number}, column {column}", read, "", mend)


@dataclass(frozen=True, slots=True)
class _Fault:
    """Where the reader stopped: all lines, the line, its number, what was left of it, and the cause that was heard."""

    lines: list[str]
    number: int
    line: str
    rest: str
    heard: str

    def key(self) -> tuple[str, str]:
        """The key and the value on the line, "" for what isn't there."""
        found = _KEY.match(self.line)
        return (found[1], found[2].strip()) if found else ("", "")

    def table(self) -> tuple[str, str]:
        """The table's name on the line, and how it is opened."""
        opened, name, _ = _table_on(self.line)
        return name, opened


def _table_on(line: str) -> tuple[str, str, str]:
    """The brackets that open a table's name on a line, the name, and those that close it; "" where there is none."""
    found = _TABLE.fullmatch(line.partition("#")[0].strip())
    return (found[1], found[2].strip(), found[3]) if found else ("", "", "")


def _curly(fault: _Fault) -> Told | None:
    before = fault.line[: len(fault.line) - len(fault.rest)]
    if _CURLY.match(fault.rest) and before.count('"') % 2 == 0:
        key, value = fault.key()
        inner = _CURLY.sub("", value).strip(" \"'")
        mend = f': {key} = "{printable(inner[:40])}"' if key and inner else ', as in fit = "close"'
        return f"a quotation mark of another kind stands here, {fault.rest[0]}", f"write straight ones{mend}"
    return None


def _twice(fault: _Fault) -> Told | None:
    if not fault.heard.startswith(("Cannot", "Duplicate")):
        return None
    table, opened = fault.table()
    if table:
        return _table_twice(fault, printable(table), opened)
    key, _ = fault.key()
    what = printable(key) if key and fault.heard.startswith("Cannot") else "a key"
    return f"{what} stands here a second time", "take one of the two out"


def _table_twice(fault: _Fault, table: str, opened: str) -> Told:
    first, otherwise = _first_line(fault.lines[: fault.number - 1], table)
    if not first:
        return f"{show_read(table)} has a value already, and can't be a table too", "take one of the two out"
    if otherwise != opened:
        many = f"[[{table}]]"
        return f"[{table}] and {many} can't both stand in a ticket", f"write {many} above each of them"
    read = f"{opened}{table}{']' * len(opened)} stands here a second time; the first is on line {first}"
    return read, "put its keys under the first, and take this line out"


def _first_line(lines: Iterable[str], table: str) -> tuple[int, str]:
    for number, line in enumerate(lines, start=1):
        opened, name, _ = _table_on(line)
        if name == table:
            return number, opened
    return 0, ""


def _unclosed_table(fault: _Fault) -> Told | None:
    opened, name, closed = _table_on(fault.line)
    if len(opened) == len(closed):
        return None
    return (
        "the name of a table isn't closed here",
        f"write [{printable(name) or 'cloth'}], or [[changes]] for each change",
    )


def _switch(fault: _Fault) -> Told | None:
    key, value = fault.key()
    word = value.partition("#")[0].strip()
    if word.lower() in _SWITCH and word not in ("true", "false"):
        return (
            f"{show_read(word)} stands here",
            f"true and false are written small: {printable(key)} = {_SWITCH[word.lower()]}",
        )
    return None


def _comma(fault: _Fault) -> Told | None:
    key, value = fault.key()
    found = _COMMA.match(value)
    if found is None:
        return None
    figure = f"{found[1]}.{found[2]}"
    return f"{found[0]} stands here", f"write a point in place of the comma: {printable(key)} = {figure}"


def _no_value(fault: _Fault) -> Told | None:
    key, value = fault.key()
    if key and not value.partition("#")[0].strip():
        return f"{printable(key)} has no value", "write one behind the =, or take the line out"
    if not fault.line.strip(" =#") or fault.line.lstrip().startswith("="):
        return "a key is missing here", 'write a key, =, and its value: fit = "close"'
    return None


def _point(fault: _Fault) -> Told | None:
    key, value = fault.key()
    word = value.partition("#")[0].strip()
    found = re.fullmatch(r"([-+]?)0*(\d*)\.?(\d*)", word)
    if found is None or not (found[2] or found[3]) or _is_sound(fault.line):
        return None
    figure = f"{found[1]}{found[2] or '0'}" + (f".{found[3]}" if found[3] else "")
    return f"{printable(word[:40])} stands here", f"write the figure as {printable(key)} = {figure}"


def _unclosed_text(fault: _Fault) -> Told | None:
    key, value = fault.key()
    mark = value[:1]
    if value.startswith("'") and value.count("'") > 2:
        inner = printable(value.strip("'")[:40])
        return "the text on this line ends at its second '", f'write it between others: {printable(key)} = "{inner}"'
    if mark and mark in "\"'" and value.count(mark) % 2 and "\\" not in value:
        return (
            "the text that begins on this line has no end",
            f"put {mark} at its end: {printable(key)} = {mark}…{mark}",
        )
    return None


def _lack_quotes(fault: _Fault) -> Told | None:
    key, value = fault.key()
    if len(value) > _LONGEST:
        return None
    for found in filter(None, (_SIZED.match(value), _BARE.match(value))):
        word = found[1].strip()
        whole = f"{word[:-1].strip()} in" if word.endswith('"') else word.rstrip("'")
        mend = f'put it in quotes: {printable(key)} = "{printable(whole[:60])}"'
        return f"{show_read(word)} stands here without quotes", mend
    return None


def _backslash(fault: _Fault) -> Told | None:
    _, value = fault.key()
    if "\\" in value and value.startswith('"'):
        return "a \\ stands in this text", "take it out, or write it twice: \\\\"
    return None


def _more(fault: _Fault) -> Told | None:
    if fault.heard.startswith("Expected newline"):
        return f"{show_read(fault.rest)} stands behind the end of what this line says", "write one key on each line"
    return None


def _odd_name(fault: _Fault) -> Told | None:
    table, _ = fault.table()
    name = table or fault.line.partition("=")[0].strip()
    if ("=" not in fault.line and not table) or any(mark in name for mark in "\"'[{:#"):
        return None
    if re.fullmatch(r"[A-Za-z0-9_-]+(\s*\.\s*[A-Za-z0-9_-]+)*|", name):
        return None
    sound = ("." if table else "_").join(re.findall(r"[A-Za-z0-9_-]+", name))
    read = f"{show_read(name)} can't be the name of a {'table' if table else 'key'}"
    return read, f"names are of letters from a to z, figures, _ and -: {show_read(sound or 'bust_girth')}"


def _odd_character(fault: _Fault) -> Told | None:
    if fault.rest and not is_printable(fault.rest[0]):
        return f"a character that doesn't print stands here, {printable(fault.rest[0])}", "take it out"
    return None


def _is_sound(line: str) -> bool:
    """Whether a line by itself can be read."""
    try:
        return bool(tomllib.loads(line))
    except ValueError:
        return False


def _open_before(fault: _Fault) -> Told | None:
    if _is_sound(fault.line):
        read = "what was begun on a line above this has no end"
        return read, "look there for a quote or a bracket that isn't closed"
    return None


def _no_equals(fault: _Fault) -> Told | None:
    found = _COLON.match(fault.line)
    if found:
        return "a : stands between a key and its value", f"write = for it: {found[1]} = …"
    if fault.line.strip() and "=" not in fault.line:
        mend = "if it is a note, begin it with #; else write a key, = and its value"
        return f"{show_read(fault.line.strip())} is neither a key with its value nor the name of a table", mend
    return None


def _unclosed_list(fault: _Fault) -> Told | None:
    _, value = fault.key()
    for opening, closing in ("[]", "{}"):
        if value.startswith(opening) and value.count(opening) != value.count(closing):
            return "a bracket that this line opens isn't closed", "close it at its end, with a comma between the values"
    return None


def _anything(fault: _Fault) -> Told:
    if not fault.rest:
        return "what was begun has no end here", 'close every quote and every bracket: "…", […]'
    return f"{show_read(fault.rest)} can't stand here", 'write a key, = and its value, text in quotes: fit = "close"'


_RULES: tuple[Callable[[_Fault], Told | None], ...] = (
    _odd_character,
    _curly,
    _twice,
    _unclosed_table,
    _open_before,
    _odd_name,
    _switch,
    _comma,
    _no_value,
    _point,
    _unclosed_text,
    _unclosed_list,
    _lack_quotes,
    _more,
    _backslash,
    _no_equals,
    _anything,
)
"""Each tells a fault that it knows, and None of any other; the last knows all."""
