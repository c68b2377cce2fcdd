"""Text that someone else wrote, made safe to show: on a terminal, in a message, on a page."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache

SHOWN = 60
"""How many characters of what was read are shown in a message."""


def show_read(value: object) -> str:
    """Return what was read as it is shown in a message: its start only, and no character that moves a cursor."""
    if isinstance(value, str):
        return "“" + printable(value[:SHOWN]) + ("…" if len(value) > SHOWN else "") + "”"
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a whole number of more than 15 digits"
    return f"“{printable(str(value)[:SHOWN])}”"


KEPT = "\N{NO-BREAK SPACE}"
"""In place of a space at which no line is broken, while lines are."""

_WITHIN_FIGURE = re.compile(r"(?<=\d) (?=(?:mm|cm|m|in|yd|deg|%)(?!\w)|\d+/\d)")


def keep_figures(text: str) -> str:
    r"""Return the text with no space inside a figure, so that it is broken neither there nor before its unit.

    >>> keep_figures("turn 1 1/2 in up").split(" ")
    ['turn', '1\xa01/2\xa0in', 'up']
    """
    return _WITHIN_FIGURE.sub(KEPT, text)


def printable(text: str) -> str:
    """Return the text with every character that is not safe on a terminal or a page written as its code."""
    return "".join(character if is_printable(character) else _code(character) for character in text)


def is_printable(character: str) -> bool:
    """Tell whether a character prints as itself and steers nothing: no controls, no turners of direction."""
    point = ord(character)
    if 0x202A <= point <= 0x202E or 0x2066 <= point <= 0x2069 or point in (0x200E, 0x200F, 0xFEFF):
        return False
    return character.isprintable() or point in (0x00A0, 0x2009, 0x202F, 0x200C, 0x200D)


@lru_cache(maxsize=2048)
def clean_line(text: str, longest: int = 160) -> str:
    r"""Return text as one line without control and invisible formatting characters, cut to ``longest`` characters.

    >>> clean_line("Ada\x00\nLovelace  ")
    'Ada Lovelace'
    """
    spaced = "".join(" " if c in "\t\n\r\v\f\u2028\u2029" else c for c in text[: 4 * longest])
    kept = "".join(c for c in spaced if unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Cn") or c in "\u200c\u200d")
    tidy = " ".join(unicodedata.normalize("NFC", kept).split())
    return tidy if len(tidy) <= longest else tidy[: longest - 1].rstrip() + "\u2026"


def letters_of(number: int) -> str:
    """Return the letters that count from 0: A to Z, then AA, AB, ...

    >>> letters_of(0), letters_of(25), letters_of(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _code(character: str) -> str:
    point = ord(character)
    return f"\\x{point:02x}" if point < 0x100 else f"\\u{point:04x}" if point < 0x10000 else f"\\U{point:08x}"
