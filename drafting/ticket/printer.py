"""A printer that is off: what its test square measured, read from a ticket, and questioned where it can't be so."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from drafting.errors import Problem
from drafting.garment.step import OptionInfo
from drafting.text import show_read
from drafting.ticket.tree import TicketValue, Tree, find_value
from drafting.ticket.values import Value
from drafting.trade import TradeValue

SQUARES: Final[Mapping[str, float]] = {"10cm": 100.0, "4in": 101.6}
"""The squares that a page may have, as the keys name them, and what their sides measure (mm)."""

_WAYS: Final = {"across": "correct_x", "along": "correct_y"}

_ACROSS: Final = {"across": "across the page", "along": "up the page"}

MOST_OFF = TradeValue(0.09, "share", "from memory")
"""Of a length by which a printer is off at most; one that is off by more has fitted the page to the paper."""

SELDOM_OFF = TradeValue(0.025, "share", "from memory", "printers that don't fit the page are off by 1 to 2 %")
"""Of a length by which a printer is off at most, unasked, where the side measured is more like the other square's."""

LIKE = TradeValue(0.35, "mm", "from memory")
"""Between two lengths that a maker reads alike from a ruler."""


def _key(square: str, way: str) -> str:
    return f"square_{square}_{way}"


def _words(square: str) -> str:
    return square.replace("cm", " cm").replace("in", " in")


def square_keys() -> tuple[OptionInfo, ...]:
    """Return the keys that tell what the test square, or the scale bar, measured on paper."""
    return tuple(
        OptionInfo(
            _key(square, way),
            f"What the {_words(square)} square or bar measured {_ACROSS[way]}, where your printer is off; the print is "
            "corrected for it.",
            "length",
            "",  # in eighths of an inch 10 cm is another length: who wrote that would correct a printer that is right
            low=side * (1.0 - MOST_OFF),
            high=side / (1.0 - MOST_OFF),
        )
        for square, side in SQUARES.items()
        for way in _WAYS
    )


def read_corrections(asked: Tree, values: Mapping[str, Value], problems: list[Problem]) -> dict[str, float]:
    """Return by how much to enlarge the print each way; what can't be so is added to ``problems``.

    A side that measures what the other square's does, printed true, was most likely taken from that one.
    """
    out = {}
    for way, field in _WAYS.items():
        given = [square for square in SQUARES if _key(square, way) in values]
        for square in given:
            at, measured = find_value(asked, _key(square, way)), values[_key(square, way)]
            other = next(each for each in SQUARES if each != square)
            if at is None or not isinstance(measured, float):
                continue
            if square != given[0]:
                problems.append(_twice(at, given[0], way))
            elif abs(measured - SQUARES[other]) < LIKE:
                problems.append(_question(at, square, other, way))
            elif _is_likelier(measured, square, other):
                problems.append(_ask(at, square, other, way))
            else:
                out[field] = SQUARES[square] / measured
    return out


def _is_likelier(measured: float, square: str, other: str) -> bool:
    """Whether a side (mm) by which a printer would be far off is nearer to the other square's."""
    off = abs(measured / SQUARES[square] - 1.0)
    return off > SELDOM_OFF and abs(measured / SQUARES[other] - 1.0) < off


def _ask(at: TicketValue, square: str, other: str, way: str) -> Problem:
    read = f"{show_read(at.value)} is nearer to the {_words(other)} square's side than to the {_words(square)} one's"
    mend = (
        f"did you measure that one? Then write {_key(other, way)} in its place. If it was the {_words(square)} square, "
        f"measure the {_words(other)} bar or square too, and write that"
    )
    return Problem(at.where, read, "", mend)


def _twice(at: TicketValue, first: str, way: str) -> Problem:
    return Problem(at.where, f"{_key(first, way)} is given too", "one of the two", "take one out")


def _question(at: TicketValue, square: str, other: str, way: str) -> Problem:
    read = f"{show_read(at.value)} is what the {_words(other)} square measures where the printer is right"
    mend = (
        f"did you measure that one? Then your printer is right: take this line out. If it was the {_words(square)} "
        f"square, measure the {_words(other)} bar or square too, and write {_key(other, way)} in its place"
    )
    return Problem(at.where, read, "", mend)
