"""Sides and faces of the wearer, and the one rule by which a name carries its side.

Names are for the engine: "sleeve-left", "cap_height_left", "hem-right/a". They are lower case, and the word for the
side stands in them by itself. Sentences are none of its business: in them a side is a value (``drafting.saying``).
"""

from __future__ import annotations

import re
from enum import StrEnum


class Side(StrEnum):
    """The wearer's side; NONE where a line or piece belongs to both or neither."""

    LEFT = "left"
    RIGHT = "right"
    NONE = ""

    @property
    def other(self) -> Side:
        """The opposite side; NONE stays NONE."""
        return {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.NONE: Side.NONE}[self]


class Face(StrEnum):
    """Whether a line or piece lies on the front or the back of the wearer."""

    FRONT = "front"
    BACK = "back"
    NONE = ""


def sides_of(which: str) -> tuple[Side, ...]:
    """Return the sides that an option "both", "left" or "right" names."""
    return (Side.LEFT, Side.RIGHT) if which == "both" else (Side(which),)


def faces_of(which: str) -> tuple[Face, ...]:
    """Return the faces that an option "both", "front" or "back" names."""
    return (Face.FRONT, Face.BACK) if which == "both" else (Face(which),)


_SIDE = re.compile(r"(?<![A-Za-z])(left|right)(?![A-Za-z])")


def swap_sides(name: str) -> str:
    """Return a name with left and right exchanged.

    >>> swap_sides("cap_height_left"), swap_sides("hem-right/a"), swap_sides("bright")
    ('cap_height_right', 'hem-left/a', 'bright')
    """
    return _SIDE.sub(lambda found: Side(found[1]).other, name)


def sideless(name: str) -> str:
    """Return a name without its side, "" if it is nothing else.

    >>> sideless("sleeve-left"), sideless("front"), sideless("left")
    ('sleeve', 'front', '')
    """
    return "-".join(part for part in name.split("-") if part not in (Side.LEFT, Side.RIGHT))


_LEGS = ("a", "b", "upper", "lower")
_SPOKEN = {"side": ["side", "seam"], "wrist": ["sleeve", "opening"]}  # a sleeve may be short


def speak_name(name: str) -> str:
    """Return the name of a line, a piece or an opening as it is spoken: its side first, and no part of it by itself.

    A line may stand behind its piece: "front.hem-left".

    >>> speak_name("front.hem-left")
    'left hem of the front'
    >>> speak_name("side-left/a")
    'left side seam'
    >>> speak_name("armhole-left"), speak_name("hem-right/a"), speak_name("dart-bust-left-a"), speak_name("neck")
    ('left armhole', 'right hem', 'left bust dart', 'neck')
    >>> speak_name("wrist-left"), speak_name("dart-skirt-front-left-2")
    ('left sleeve opening', 'left second front skirt dart')
    """
    piece, _, line = name.partition(".")
    if line:
        return f"{speak_name(line)} of the {speak_name(piece)}"
    parts = name.partition("/")[0].split("-")
    side = next((part for part in parts if part in (Side.LEFT, Side.RIGHT)), "")
    rest = [part for part in parts if part != side]
    if rest == ["wrist"] or (side and len(rest) == 1):
        rest = _SPOKEN.get(rest[0], rest)
    if rest[:1] == ["dart"] and rest[1:]:
        rest = [speak_stem("-".join(part for part in rest[1:] if part not in _LEGS)), "dart"]
    return " ".join(filter(None, (side, *rest)))


_COUNTED = {"2": "second", "3": "third", "4": "fourth"}


def speak_stem(stem: str) -> str:
    """Return the name of what several may have, as it is spoken: a number at its end comes first, then where it is.

    >>> speak_stem("waist-front"), speak_stem("skirt-front-2")
    ('front waist', 'second front skirt')
    >>> speak_stem("waist-side-back"), speak_stem("bust")
    ('side back waist', 'bust')
    """
    return " ".join(filter(None, count_stem(stem)))


def count_stem(stem: str) -> tuple[str, str]:
    """Return the number at the end of a name as a word, "" where there is none, and the rest as it is spoken."""
    whole, _, number = stem.rpartition("-")
    counted = _COUNTED.get(number, "") if whole else ""
    parts = (whole if counted else stem).split("-")
    what = [part for i, part in enumerate(parts) if i == 0 or part not in _WHERE]
    return counted, " ".join([*(part for part in parts[1:] if part in _WHERE), *what])


_WHERE = (Face.FRONT, Face.BACK, "side")
_ENDS = {
    "point": "{short} before its point",
    "upper": "{short} before its upper point",
    "lower": "{short} before its lower point",
    "a": "its widest",
    "b": "its widest",
}
"""What is marked of a dart, by how that is named."""


def speak_point(name: str, short: str) -> tuple[str, ...]:
    """Return the name of a point that is marked on a piece, as it is spoken, the fullest first.

    ``short`` is how far, in words, the mark of a dart stands from its point, inside it.

    >>> speak_point("dart-skirt-back-2-point", "1.2 cm"), speak_point("zip-end", "1.2 cm")
    (('second back skirt dart, 1.2 cm before its point', 'second back skirt dart'), ('zip end',))
    >>> speak_point("dart-waist-front-left-upper", "1.2 cm")[0]
    'left front waist dart, 1.2 cm before its upper point'
    """
    whole, _, end = name.rpartition("-")
    if whole.split("-")[0] != "dart" or end not in _ENDS:
        return (name.replace("-", " "),)
    called = speak_name(whole)
    return f"{called}, {_ENDS[end].format(short=short)}", called


def side_or_word(word: str) -> Side | str:
    """Return the side that an option's word names, or the word itself where it names none ("both", "back")."""
    return Side(word) if word in (Side.LEFT, Side.RIGHT) else word
