"""What ``list values`` says: the numbers of the trade, by the block, the change or the part they stand in."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import groupby

import click

from drafting.cli.terminal import print_heading, print_lines, wrap_text
from drafting.errors import InputError, Problem, close_matches
from drafting.text import printable, show_read
from drafting.ticket.declared import Declared, DeclaringModule, find_values
from drafting.trade import TradeValue
from drafting.units import Unit, show_length, show_share

FROM_MEMORY, DERIVED = "from memory", "derived"


def tell_values(name: str | None, unit: Unit, from_memory_first: bool) -> None:
    """Say every value, or those of one place or name; InputError if there is none of that name."""
    places = find_values()
    asked = list(_leave_reckoned(places)) if name is None else _find_asked(name, places)
    if not from_memory_first:
        return _print_places(asked, unit)
    print_heading("From memory: nobody has looked these up")
    _print_places(_only(asked, True), unit)
    print_heading("The others")
    _print_places(_only(asked, False), unit)


def _leave_reckoned(places: Iterable[DeclaringModule]) -> Iterator[DeclaringModule]:
    """Yield the places with what a cutter may argue with: what was reckoned or found by drawing is told by its name."""
    return _keep(places, lambda value: value.kind != DERIVED)


def _find_asked(name: str, places: Iterable[DeclaringModule]) -> list[DeclaringModule]:
    wanted = _plain_words(name)
    found = [place for place in places if wanted in _names(place)] or [
        replace(place, values=values)
        for place in places
        if (values := tuple(each for each in place.values if _plain_words(each.name) == wanted))
    ]
    if not found:
        known = {
            name for place in places for name in (*_names(place), *(_plain_words(each.name) for each in place.values))
        }
        read = f"there is no block, change or value {show_read(name)}"
        raise InputError([Problem("", read, "", "", close_matches(wanted, sorted(known)))])
    return found


def _names(place: DeclaringModule) -> set[str]:
    """Return all that a place answers to, in plain letters."""
    return {
        _plain_words(place.module),
        _plain_words(place.module.rpartition(".")[2]),
        *(_plain_words(name) for _, name in place.offers),
    }


def _plain_words(name: str) -> str:
    return name.strip("_").replace("_", " ").replace("-", " ").lower()


def _only(places: Iterable[DeclaringModule], from_memory: bool) -> Iterator[DeclaringModule]:
    """Yield the places with those of their values that are from memory, or with the others."""
    return _keep(places, lambda value: (value.kind == FROM_MEMORY) == from_memory)


def _keep(places: Iterable[DeclaringModule], kept_so: Callable[[TradeValue], bool]) -> Iterator[DeclaringModule]:
    for place in places:
        kept = (replace(each, figures=tuple(one for one in each.figures if kept_so(one[1]))) for each in place.values)
        values = tuple(each for each in kept if each.figures)
        if values or not place.values:  # without any it tells that it can't be loaded
            yield replace(place, values=values)


def _print_places(places: Iterable[DeclaringModule], unit: Unit) -> None:
    for place in places:
        print_heading(_title(place))
        print_lines(wrap_text(place.sentence, ""))
        for each in place.values:
            _print_value(each, unit)


def _title(place: DeclaringModule) -> str:
    if place.offers:
        return ", ".join(f"{kind} {name}" for kind, name in place.offers)
    return " / ".join(_plain_words(part) for part in place.module.split(".")[-2:])


def _print_value(each: Declared, unit: Unit) -> None:
    """Say a declaration: its values, on a line for each thing they are for, its meaning, and its source.

    Meaning and source stand as they are written: in the units of whoever is quoted.
    """
    groups: dict[tuple[str, str], list[tuple[str, TradeValue]]] = {}
    for key, value in each.figures:
        head, _, rest = key.replace("_", " ").partition(": ")
        source = f"{value.kind}: {value.citation}" if value.citation else value.kind
        groups.setdefault((head if rest else "", source), []).append((rest or head, value))
    sources = list(dict.fromkeys(source for _, source in groups))
    name, meaning = click.style(printable(_plain_words(each.name)), bold=True), each.meaning
    told = f" [{sources[0]}]" if len(sources) == 1 else ""
    if len(groups) == 1 and meaning.startswith(_AFTER_FIGURE):
        print_lines(name)
        before = _figures(each.figures, unit) + "," * meaning.startswith("By")
        print_lines(wrap_text(f"{before} {meaning[0].lower()}{meaning[1:]}{told}", "    "))
        return
    if len(groups) == 1:
        print_lines(f"{name}  {printable(_figures(each.figures, unit))}")
    else:
        print_lines(name)
        for (head, source), figures in groups.items():
            one = f" [{source}]" if len(sources) > 1 else ""
            print_lines(wrap_text(f"{head}: {_figures(figures, unit)}{one}".removeprefix(": "), "  ", "      "))
    print_lines(wrap_text(f"{_stand_alone(meaning)}{told}", "    "))


_AFTER_FIGURE = ("Of ", "By which ", "Below ", "Off ", "Beyond ", "Beside ", "Above ", "From ", "That ")
"""How meanings begin that are said after their figure: "2.5 cm, by which an across back is wider than the body's"."""


def _stand_alone(meaning: str) -> str:
    """Return a meaning as it is said of several figures above it.

    >>> _stand_alone("Of the arm at which a sleeve ends."), _stand_alone("By which a front is narrower.")
    ('So much of the arm at which a sleeve ends.', 'By so much a front is narrower.')
    """
    if meaning.startswith("Of "):
        return f"So much of {meaning.removeprefix('Of ')}"
    return f"By so much {meaning.removeprefix('By which ')}" if meaning.startswith("By which ") else meaning


def _figures(figures: Iterable[tuple[str, TradeValue]], unit: Unit) -> str:
    """Return values in words, each key once for all that follow it."""
    told = ((key.replace("_", " "), [value for _, value in same]) for key, same in groupby(figures, lambda one: one[0]))
    return ", ".join(f"{key} {', '.join(_show(value, unit) for value in values)}".strip() for key, values in told)


def _show(value: TradeValue, unit: Unit) -> str:
    if value.unit == "mm":
        return show_length(value, unit, sixteenths=True)
    if value.unit == "rad":
        return f"{math.degrees(value):.3g} deg"
    if value.unit in ("kg", "kPa"):
        return f"{value:.1f} {value.unit}"
    return show_share(value) if value.unit == "share" else f"{value:.4g}"
