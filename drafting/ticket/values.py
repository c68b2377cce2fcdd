"""Reading values by what is told of them: the one reader for options of blocks and changes, cloth, seams and paper."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from typing import NoReturn

from drafting.errors import InputError, Problem, close_matches
from drafting.garment.step import OptionInfo
from drafting.saying import render, say
from drafting.text import show_read
from drafting.ticket.shape import SAID_ALSO, renamed_key, stray_key
from drafting.ticket.tree import TicketValue, Tree, table_place
from drafting.trade import TradeValue
from drafting.units import (
    Unit,
    parse_angle,
    parse_length,
    parse_share,
    show_length,
    show_length_limit,
    show_limit,
    show_share,
)

Value = float | int | str | bool

METRE, YARD = parse_length("1 m", "mm", where=""), parse_length("1 yd", "mm", where="")
SHOWN_IN_METRES = TradeValue(5000.0, "mm", "from memory", "cloth is bought by the metre or the yard")
"""From which the most that a length may be is told in metres or yards, rounded down."""

SHOWN_ON_TAPE = TradeValue(2.0, "mm", "from memory", "less is told in mm, as the thickness of cloth is")
"""From which a length that a ticket may state is told as a tape shows it."""


def read_values(
    tree: Tree,
    infos: Iterable[OptionInfo],
    problems: list[Problem],
    *,
    beside: Iterable[str] = (),
    owner: str = "",
) -> dict[str, Value]:
    """Return the values told in a table, in mm, radians and shares; what is wrong is added to ``problems``.

    ``infos`` says what may stand there, ``beside`` names keys that the caller reads itself. ``owner``
    is what the table is of, where that has a name.
    """
    known = {info.name: info for info in infos}
    beside = tuple(beside)
    values: dict[str, Value] = {}
    for key, found in tree.items():
        if key in beside:
            continue
        info = known.get(key)
        if info is None:
            problems.append(unknown_key(key, found, (*known, *beside), owner))
            continue
        try:
            values[key] = read_value(info, found)
        except InputError as error:
            problems.extend(error.problems)
    return values


def read_value(info: OptionInfo, found: TicketValue | Tree) -> Value:
    """Return one value in inside units; InputError if it isn't of the kind told, or out of its range."""
    if not isinstance(found, TicketValue):
        raise InputError([Problem(table_place(found), "a table stands here", in_words(info), "write one value")])
    if found.value == "" and info.unit != "text":
        raise InputError(
            [
                Problem(
                    found.where,
                    "it isn't filled in yet",
                    range_words(info, found.unit),
                    render(info.sentence, found.unit),
                )
            ]
        )
    return _READERS[info.unit](info, found)


def range_words(info: OptionInfo, unit: Unit) -> str:
    """Return in words what may stand there: "2.0 cm to 10.0 cm", "round or v", "true or false"."""
    if info.unit in ("length", "ratio", "angle", "count"):
        low = None if info.low is None else _limit_words(info, info.low, 1, unit)
        high = None if info.high is None else _limit_words(info, info.high, -1, unit)
        if low is not None and high is not None:
            return f"{low} to {high}"
        return f"{low} or more" if low is not None else f"{high} or less" if high is not None else in_words(info)
    return in_words(info)


def _limit_words(info: OptionInfo, limit: float, inwards: int, unit: Unit) -> str:
    """A limit as people read it, rounded inwards (1 up, -1 down), so that what is shown may be written."""

    def show(figure: float) -> str:
        return figure_words(info, figure, unit)

    if info.unit == "length":
        if 0.0 < abs(limit) < SHOWN_ON_TAPE:
            return show(limit)
        if limit >= SHOWN_IN_METRES and inwards < 0 and unit != "mm":
            return f"{math.floor(limit / YARD)} yd" if unit == "in" else f"{math.floor(limit / METRE)} m"
        return show_length_limit(limit, inwards, unit)
    if info.unit == "ratio":
        return show_limit(limit, inwards, show, lambda text: parse_share(text, negative=True, most=math.inf), 1 / 1000)
    if info.unit == "angle":
        return show_limit(limit, inwards, show, lambda text: parse_angle(text, negative=True), math.radians(1 / 10))
    return show(limit)


def figure_words(info: OptionInfo, figure: Value, unit: Unit) -> str:
    """Return a figure in inside units as people read it, by what it is."""
    if isinstance(figure, bool):
        return "true" if figure else "false"
    if isinstance(figure, str):
        return figure
    if info.unit == "length":
        return show_length(figure, unit if figure == 0.0 or abs(figure) >= SHOWN_ON_TAPE else "mm")
    if info.unit == "ratio":
        return show_share(figure)
    if info.unit == "angle":
        return f"{round(math.degrees(figure), 1):g} deg"
    return f"{figure:g}"


def in_words(info: OptionInfo) -> str:
    """Return in words what kind of value an option takes."""
    choices = [choice for choice in info.choices if choice]
    if choices:
        return ", ".join(choices[:-1]) + (" or " if choices[:-1] else "") + choices[-1]
    return _KINDS[info.unit]


def unknown_key(key: str, found: TicketValue | Tree, known: Iterable[str], owner: str = "") -> Problem:
    """Return the problem of a key that no one knows, with names that are nearly it; ``owner`` has no such key."""
    known = tuple(known)
    where = found.where if isinstance(found, TicketValue) else table_place(found)
    renamed = renamed_key(key, known)
    meant = tuple(name for name in SAID_ALSO.get(key, ()) if name in known)
    close = () if renamed else meant or close_matches(key, known)
    mend = renamed or ("" if meant else stray_key(key))
    read = f"{owner} has no {show_read(key)}" if owner else f"there is no {show_read(key)} here"
    return Problem(where, read, ", ".join(known) or "nothing", mend, close)


def _length(info: OptionInfo, found: TicketValue) -> Value:
    return _check_range(info, found, parse_length(found.value, found.unit, where=found.where, negative=True))


def _ratio(info: OptionInfo, found: TicketValue) -> Value:
    return _check_range(info, found, parse_share(found.value, where=found.where, negative=True))


def _angle(info: OptionInfo, found: TicketValue) -> Value:
    return _check_range(info, found, parse_angle(found.value, where=found.where, negative=True))


def _count(info: OptionInfo, found: TicketValue) -> Value:
    if isinstance(found.value, bool) or not isinstance(found.value, int):
        _refuse(info, found)
    return _check_range(info, found, found.value)


def _check_range(info: OptionInfo, found: TicketValue, figure: float) -> Value:
    if (info.low is not None and figure < info.low) or (info.high is not None and figure > info.high):
        mend = say("take a figure within these: {sentence}", sentence=info.sentence)
        _refuse(info, found, mend=render(mend, found.unit))
    return figure


def _choice(info: OptionInfo, found: TicketValue) -> Value:
    if not isinstance(found.value, str) or found.value not in info.choices:
        close = _guess_choices(found.value, info.choices) if isinstance(found.value, str) else ()
        _refuse(info, found, close, mend=dict(info.denied).get(str(found.value), ""))
    return found.value


_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "3/4": ("bracelet", "elbow"),
    "three-quarter": ("bracelet", "elbow"),
    "three quarter": ("bracelet", "elbow"),
    "1/2": ("elbow",),
    "half": ("elbow",),
    "full": ("long",),
    "wrist": ("long",),
    "cap": ("short",),
    **dict.fromkeys(("loose", "wide", "easy", "roomy", "baggy", "oversized"), ("relaxed",)),
    **dict.fromkeys(("tight", "snug", "slim"), ("close",)),
    "fitted": ("close", "semi-fitted"),
    "jersey": ("knit",),
    "stretch": ("knit",),
    "cotton": ("woven",),
}
"""Choices that a maker may call by another name; the trade uses these for lengths between, or for the same."""


def _guess_choices(read: str, choices: tuple[str, ...]) -> tuple[str, ...]:
    also = _ALSO_CALLED.get(read.strip().lower().replace("¾", "3/4").replace("½", "1/2"), ())
    called = tuple(choice for choice in also if choice in choices)
    return called or close_matches(read, [choice for choice in choices if choice])


def _flag(info: OptionInfo, found: TicketValue) -> Value:
    if not isinstance(found.value, bool):
        _refuse(info, found)
    return found.value


def _any_text(info: OptionInfo, found: TicketValue) -> Value:
    if not isinstance(found.value, str):
        _refuse(info, found)
    return found.value


def _refuse(info: OptionInfo, found: TicketValue, close: tuple[str, ...] = (), mend: str = "") -> NoReturn:
    raise InputError([Problem(found.where, show_read(found.value), range_words(info, found.unit), mend, close)])


_READERS: Mapping[str, Callable[[OptionInfo, TicketValue], Value]] = {
    "length": _length,
    "ratio": _ratio,
    "angle": _angle,
    "count": _count,
    "choice": _choice,
    "flag": _flag,
    "text": _any_text,
}
_KINDS: Mapping[str, str] = {
    "length": 'a length such as "4 cm" or "1 1/2 in"',
    "ratio": 'a share such as "25 %" or 0.25',
    "angle": 'an angle such as "20 deg"',
    "count": "a whole number",
    "choice": "a choice",
    "flag": "true or false",
    "text": "text in quotes",
}
