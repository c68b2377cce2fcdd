"""The names beside the lines of a piece: which marks carry one, and where along them it is tried."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np

from drafting.finishing.cutpiece import CutPiece, Mark, Notch
from drafting.garment.darts import DRILL_HOLE
from drafting.geometry import Affine, Path, Point
from drafting.output.pdf.ink import Floats, Text, sample_strokes
from drafting.output.pictures.room import Room
from drafting.output.pictures.symbols import fold_inset
from drafting.output.pictures.words import NAME_SIZES, Track, set_along, set_name
from drafting.record import dataclass
from drafting.sides import speak_point
from drafting.units import Unit, show_length

_SHYLY: Final = (True, False)
"""Whether a name keeps clear of page joins and other words: first where there is room for that, then where there is
any."""

_SPREAD: Final = (0.5, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)


@dataclass(frozen=True, slots=True)
class LostName:
    """The name of a piece's mark that found no room: the piece, the mark's kind, the words, and where on the sheet."""

    piece: str
    kind: str
    words: str
    at: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class _NamingRule:
    """How marks of one kind are named.

    ``words``, or "" for the mark's own name; ``aparts`` are how far from the line they may stand (mm), ``shares``
    where along it, both best first; ``each``: marks of different names are named each.
    """

    words: str
    aparts: tuple[float, ...]
    shares: tuple[float, ...]
    each: bool = False
    sizes: tuple[float, ...] = NAME_SIZES


_NAMED: Final = {
    "side": _NamingRule("", (16.0, 10.0, 24.0, 6.0, 2.0, 36.0), _SPREAD, each=True, sizes=(9.0, 8.0, *NAME_SIZES)),
    "level": _NamingRule("", (0.0,), (0.85, 0.15, 0.75, 0.25, 0.65, 0.35, 0.5), each=True),
    "adjust": _NamingRule("lengthen or shorten here", (1.5,), (0.7, 0.3, 0.5, 0.8, 0.2)),
    "line": _NamingRule("", (1.5,), (0.7, 0.3, 0.5, 0.8, 0.2), each=True),
    "stretch": _NamingRule("greatest stretch", (2.0,), _SPREAD),
    "grain": _NamingRule("grain", (1.5,), (0.8, 0.2, 0.65, 0.35, 0.5, 0.9, 0.1)),
    "fold": _NamingRule("fold", (0.0,), (0.12, 0.88, 0.3, 0.7, 0.5)),
    "on-fold": _NamingRule("lay on the fold", (1.5,), (0.5, 0.4, 0.6, 0.3, 0.7)),
    "buttonhole": _NamingRule("buttonholes", (1.5,), (1.0, 0.0, 0.5)),
    "zone": _NamingRule("", (0.0, 5.0, 12.0, 20.0), (0.25, 0.75, 0.2, 0.3, 0.7, 0.8, 0.1, 0.5, 0.9), each=True),
}
"""In the order in which they take their room: whose side is whose must be told."""


def set_names(
    room: Room, piece: CutPiece, place: Affine, lost: list[LostName], letters: Mapping[str, str], unit: Unit
) -> Iterator[Text]:
    """Yield the names of a piece's marks, points and notches, set on the sheet where there is room.

    Those of marks that find none are added to ``lost``.
    """
    groups = _to_name(piece)
    sides = [marks for marks in groups if marks[0].kind == "side"]
    for marks in sides:
        yield from _set_or_lose(room, piece, marks, place, lost)
    notches = tuple(_notch_names(room, piece, place, letters))
    said = " ".join(text.text for text in notches)
    yield from notches
    for words, at in _speak_points(piece, show_length(DRILL_HOLE, unit)):
        if words[0] in said:
            continue
        text = _set_point_name(room, words, place.apply(at))
        if text is not None:
            yield text
        else:
            lost.append(LostName(piece.name, "drill", words[0], (place.apply(at).x, place.apply(at).y)))
    for marks in groups[len(sides) :]:
        yield from _set_or_lose(room, piece, marks, place, lost)


def _set_or_lose(
    room: Room, piece: CutPiece, marks: Sequence[Mark], place: Affine, lost: list[LostName]
) -> Iterator[Text]:
    text = _set_first_name(room, marks, place)
    if text is not None:
        yield text
    else:
        start = place.apply(marks[0].path.start)
        lost.append(LostName(piece.name, marks[0].kind, _words(marks[0]), (start.x, start.y)))


def _to_name(piece: CutPiece) -> list[tuple[Mark, ...]]:
    """Return the marks that carry a name, those together of which one is to be named."""
    groups: dict[tuple[str, str], list[Mark]] = {}
    for kind, name in _NAMED.items():
        for mark in piece.marks:
            if mark.kind == kind:
                groups.setdefault((kind, mark.name if name.each else ""), []).append(mark)
    return [tuple(group) for group in groups.values()]


def _words(mark: Mark) -> str:
    return _NAMED[mark.kind].words or (mark.name.replace("-", " ") if mark.kind == "level" else mark.name)


def _set_first_name(room: Room, marks: Sequence[Mark], place: Affine) -> Text | None:
    """Return the name of the first of some marks beside which it finds room, in as many words as fit."""
    how = _NAMED[marks[0].kind]
    for words, shyly in itertools.product(_shorter_words(marks[0]), _SHYLY):
        for mark in marks:
            line = place.apply_all(mark.path.segments)
            for apart in (*how.aparts, *([fold_inset(mark) + 1.5] if mark.kind == "on-fold" else [])):
                text = set_name(room, words, line, apart, mark.kind, how.shares, how.sizes, shyly)
                if text is not None:
                    return text
            text = _across_fold(room, words, mark, place, shyly) if mark.kind == "on-fold" else None
            if text is not None:
                return text
    return None


def _across_fold(room: Room, words: str, mark: Mark, place: Affine, shyly: bool) -> Text | None:
    """Return the words at a fold too short for them, set away from it beyond its sign; None if there is no room."""
    start, end = fold_inset(mark) + 2.0, fold_inset(mark) + 42.0
    for share in (0.3, 0.7, 0.5, 0.2, 0.8):
        at = mark.path.at(share * mark.path.length)
        for inward in (mark.path.tangent(0.0).left, mark.path.tangent(0.0).right):
            line = place.apply_all(Path.straight(at + inward * start, at + inward * end).segments)
            text = set_name(room, words, line, 0.0, mark.kind, (0.3, 0.5), shyly=shyly)
            if text is not None:
                return text
    return None


def _shorter_words(mark: Mark) -> Iterator[str]:
    """Yield a mark's words as they are, then shorter ones that it has."""
    yield _words(mark)
    if mark.kind == "on-fold":
        yield "on the fold"
    if mark.short not in ("", mark.name):
        yield mark.short


def _notch_names(room: Room, piece: CutPiece, place: Affine, letters: Mapping[str, str]) -> Iterator[Text]:
    """Each numbered notch's number, and what it joins where there is room for that too: "2, to E".

    One at a corner that stands on both its edges is named once.
    """
    corners = {(notch.number, round(notch.on_stitch.x), round(notch.on_stitch.y)): notch for notch in piece.notches}
    for notch in corners.values():
        if not notch.number:
            continue
        beside = _lines_by_notch(notch, place)
        for words in _notch_words(notch, piece, letters):
            text = _beside_notch(room, words, beside)
            if text is not None:
                yield text
                break


def _notch_words(notch: Notch, piece: CutPiece, letters: Mapping[str, str]) -> Iterator[str]:
    """A notch's words, the fullest first: its number, what its place is called, what it joins."""
    others = tell_joined(notch, piece.code, letters)
    name = f" {notch.name}" if notch.name else ""
    full = [f"{notch.number}{name}, to {others}"] if others else []
    yield from dict.fromkeys((*full, f"{notch.number}{name}", *([f"{notch.number}, to {others}"] if others else [])))
    yield str(notch.number)


def tell_joined(notch: Notch, own: str, letters: Mapping[str, str]) -> str:
    """Return what a notch of the piece with a letter meets: "A, B and C", "A at the dart", "the shoulder seam"."""
    said = sorted({letters.get(name, "") for name in notch.joins} - {"", own}, key=lambda letter: (len(letter), letter))
    there = ((letters.get(name, ""), what) for name, what in notch.meets)
    said += [f"{letter} at the {what}" if letter not in ("", own) else f"the {what}" for letter, what in there]
    *before, last = dict.fromkeys(said) or ("",)
    return f"{', '.join(before)} and {last}" if before else last


def _beside_notch(room: Room, words: str, lines: Floats) -> Text | None:
    """Words on one of the lines by a notch, the best first; None if there is no room."""
    for shyly, points in itertools.product(_SHYLY, lines):
        text = set_along(room, words, Track.along(points), 0.0, "notch", (0.5,), NAME_SIZES[1:], shyly)
        if text is not None:
            return text
    return None


_BY_NOTCH: Final = np.array(
    list(itertools.product((4.5, 7.5, 11.0, -4.0, 17.0, 24.0), (0.0, 7.0, -7.0, 14.0, -14.0, 21.0, -21.0)))
)
"""How far inside the stitching line, or in the allowance, and how far aside (mm) the words of a notch are tried."""

_HALF_NOTCH_LINE: Final = 6.0
"""Half of a line that they are set along (mm)."""


def _lines_by_notch(notch: Notch, place: Affine) -> Floats:
    """Points of lines across a notch's way in, inside the stitching line and in the allowance, the best first."""
    (x, y), inward, across = notch.on_stitch, np.array(tuple(notch.inward)), np.array(tuple(notch.inward.left))
    middles = np.array((x, y)) + _BY_NOTCH[:, :1] * inward + _BY_NOTCH[:, 1:] * across
    a, b = middles - across * _HALF_NOTCH_LINE, middles + across * _HALF_NOTCH_LINE
    third = (b - a) / 3.0
    cubics = place.apply_all(np.stack([a, a + third, b - third, b], axis=1))
    return sample_strokes([cubics], 4.0).reshape(len(cubics), -1, 2)


def _speak_points(piece: CutPiece, short: str) -> Iterator[tuple[tuple[str, ...], Point]]:
    """The points of a piece that are named, with what they are called, the fullest first: of buttons one for all."""
    rows = [name for name, _ in piece.drills if name.startswith(BUTTON)]
    for name, at in piece.drills:
        if name not in rows:
            yield speak_point(name, short), at
        elif name == rows[0]:
            yield (f"{len(rows)} buttons" if len(rows) > 1 else "button",), at


BUTTON: Final = "button-"
"""How the names of buttons begin."""


def _set_point_name(room: Room, words: Sequence[str], at: Point) -> Text | None:
    """A point's name above or below it or beside it, level or upright, in the nearest place that has room, if any."""
    for each, shyly, line in itertools.product(words, _SHYLY, np.add(_BY_POINT, (at.x, at.y))):
        text = set_along(room, each, Track.along(line), 0.0, "drill", (0.5,), shyly=shyly)
        if text is not None:
            return text
    return None


def _list_by_point() -> Floats:
    """Lines by a point at the origin that its name is tried along, shape (n, 2, 2), the nearest first."""
    places = itertools.product((4.0, 9.0, 16.0, 24.0), (0.0, 10.0, -10.0, 20.0, -20.0, 30.0, -30.0), (1.0, -1.0))
    ranked = sorted(places, key=lambda place: (round(math.hypot(place[0], place[1])), place[1] < 0.0, place[2] < 0.0))
    level = np.array([((aside - 4.0, apart * way), (aside + 4.0, apart * way)) for apart, aside, way in ranked])
    return np.stack([level, level[..., ::-1]], axis=1).reshape(-1, 2, 2)


_BY_POINT: Final = _list_by_point()
