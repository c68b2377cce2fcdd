"""Scripts that run leftwards: the order of letters on the page, and the joined forms of Arabic letters.

A short form of the Unicode bidirectional algorithm (UAX 9): one paragraph, no embedding marks; enough for names
and titles. The shipped fonts have these letters, so they print without the optional shaping engine, which joins letters
but doesn't order what runs both ways.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from functools import lru_cache

_LEFTWARDS = ("R", "AL")
_NUMBERS = ("EN", "AN")


def reads_leftwards(text: str) -> bool:
    """Tell whether any of the text runs leftwards."""
    return any(unicodedata.bidirectional(c) in _LEFTWARDS for c in text)


def order_visually(text: str) -> str:
    r"""Return text in the order in which it is printed from left to right.

    >>> order_visually("ab \u05d0\u05d1") == "ab \u05d1\u05d0"
    True
    """
    levels = _levels(text)
    letters = list(text)
    for level in range(max(levels, default=0), 0, -1):
        at = 0
        while at < len(letters):
            if levels[at] < level:
                at += 1
                continue
            end = at
            while end < len(letters) and levels[end] >= level:
                end += 1
            letters[at:end] = letters[at:end][::-1]
            levels[at:end] = levels[at:end][::-1]
            at = end
    marked = zip(letters, levels, strict=True)
    return "".join(_mirror_character(c) if level % 2 else c for c, level in marked)


def _levels(text: str) -> list[int]:
    """Return each character's embedding level: even runs rightwards, odd leftwards."""
    kinds = [unicodedata.bidirectional(c) for c in text]
    base = 0 if "L" in kinds else 1  # one word that runs rightwards, as in our own lines, and the line does
    directions = _directions(kinds, base)
    levels = []
    for kind, direction in zip(kinds, directions, strict=True):
        if direction == "R":
            levels.append(1)
        elif direction == "N":
            levels.append(2)
        else:
            levels.append(2 * base if kind != "B" else base)
    return levels


def _directions(kinds: list[str], base: int) -> list[str]:
    """Return L, R or N (a number among leftward text) for each character.

    Neutrals follow what is on both sides of them.
    """
    out: list[str] = []
    last = "R" if base else "L"
    for kind in kinds:
        if kind == "L":
            last = "L"
            out.append("L")
        elif kind in _LEFTWARDS:
            last = "R"
            out.append("R")
        elif kind in _NUMBERS:
            out.append("N" if last == "R" else "L")
        elif kind == "NSM" and out:
            out.append(out[-1])
        else:
            out.append("?")
    for i, kind in enumerate(out):
        if kind == "?":
            before = next((k for k in reversed(out[:i]) if k != "?"), "R" if base else "L")
            after = next((k for k in out[i + 1 :] if k != "?"), "R" if base else "L")
            sides = {"R" if side == "N" else side for side in (before, after)}
            out[i] = sides.pop() if len(sides) == 1 else ("R" if base else "L")
    return out


def _mirror_character(character: str) -> str:
    pairs = "()[]{}<>«»‹›"
    at = pairs.find(character)
    return pairs[at ^ 1] if at >= 0 else character


@lru_cache(maxsize=1)
def _forms() -> Mapping[str, Mapping[str, str]]:
    """Return Arabic letters' joined forms (isolated, final, initial.

    Medial) from Unicode's compatibility forms.
    """
    forms: dict[str, dict[str, str]] = {}
    for code in (*range(0xFB50, 0xFBFF), *range(0xFE80, 0xFEFD)):
        parts = unicodedata.decomposition(chr(code)).split()
        if parts and parts[0] in ("<isolated>", "<final>", "<initial>", "<medial>"):
            letters = "".join(chr(int(part, 16)) for part in parts[1:])
            forms.setdefault(letters, {})[parts[0][1:-1]] = chr(code)
    return forms


def join_letters(text: str) -> str:
    """Return Arabic text with each letter in the form its neighbours ask for, lam-alef as one letter."""
    forms = _forms()
    letters: list[str] = []
    for c in text:
        if letters and letters[-1] == "\u0644" and letters[-1] + c in forms:
            letters[-1] += c
        else:
            letters.append(c)
    out = []
    for i, letter in enumerate(letters):
        own = forms.get(letter)
        if own is None:
            out.append(letter)
            continue
        before = _neighbour(letters, i, -1)
        after = _neighbour(letters, i, 1)
        from_before = "initial" in forms.get(before, {}) and "final" in own
        to_after = "initial" in own and "final" in forms.get(after, {})
        wanted = ("medial" if to_after else "final") if from_before else ("initial" if to_after else "isolated")
        out.append(own.get(wanted, letter))
    return "".join(out)


def _neighbour(letters: list[str], at: int, step: int) -> str:
    at += step
    while 0 <= at < len(letters) and unicodedata.category(letters[at][0]) == "Mn":
        at += step
    return letters[at] if 0 <= at < len(letters) else ""
