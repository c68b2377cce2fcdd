"""A place as a ticket tells it: a line and a share of it, "shoulder 0.5", "armhole 40 %", "side 1/4" or "centre"."""

from __future__ import annotations

import re
from collections.abc import Collection

from drafting.errors import CannotDraft
from drafting.saying import say

DART_LINES = ("shoulder", "side", "neckline", "armhole", "waist", "hem", "centre")
"""The lines a dart may be turned to, and a panel seam may run to."""

_PLACES = 'such as "shoulder 0.5", "neckline 0.3", "armhole 40 %", "side 1/4", "hem 0.5", or the centre'
_PLACE = re.compile(r"\s*([a-z][a-z0-9-]*)\s*(?:([0-9.]+)\s*(%|/\s*[0-9.]+)?)?\s*")


def read_place(told: str, key: str = "to", words: Collection[str] = ()) -> tuple[str, float]:
    """Return the line's name and the share (0 to 1) that a place tells; "centre" without a share is its upper end.

    ``words`` are the lines that it may lie on, none for any. CannotDraft, for the option ``key``, where it is no place.
    """
    found = _PLACE.fullmatch(told.lower().replace("center", "centre"))
    try:
        word, figure, of = found.groups() if found else ("", None, None)
        if figure is None and word != "centre":
            raise ValueError
        share = float(figure or 0.0)
        share = share / 100.0 if of == "%" else share / float(of[1:]) if of else share
    except (ValueError, ZeroDivisionError):
        raise _no_place(told, key, words) from None
    if words and word not in words:
        raise _no_place(told, key, words)
    if not 0.0 <= share <= 1.0:
        raise CannotDraft(key, say("“{told}” lies beyond the line", told=told), help="write a share from 0 to 1")
    return word, share


def _no_place(told: str, key: str, words: Collection[str]) -> CannotDraft:
    help = say('write one of {words} and a share, as "side 0.3"', words=", ".join(words)) if words else ""
    return CannotDraft(
        key, say("“{told}” isn't a place", told=told), help=help or say("write a place {places}", places=_PLACES)
    )
