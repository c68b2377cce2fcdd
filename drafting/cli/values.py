"""What ``list values`` says: the numbers of the trade, by the block, the change or the part they stand in."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

import click

from drafting.cli.terminal import heading, say, wrap_text
from drafting.errors import InputError, Problem, close_matches
from drafting.text import printable, show_read
from drafting.ticket.declared import Declared, DeclaringModule, find_values
from drafting.trade import TradeValue
from drafting.units import Unit, in_unit, show_length, show_share

FROM_MEMORY = "from memory"


def tell_values(name: str | None, unit: Unit, from_memory_first: bool) -> None:
    """Say every value, or those of one place or name; InputError if there is none of that name."""
    places = find_values()
    asked = places if name is None else _find_asked(name, places)
    if not from_memory_first:
        return _tell_places(asked, unit)
    heading("From memory: nobody has looked these up")
    _tell_places(_only(asked, True), unit)
    heading("The others")
    _tell_places(_only(asked, False), unit)


def _find_asked(name: str, places: Iterable[DeclaringModule]) -> list[DeclaringModule]:
    wanted = _plain(name)
    found = [place for place in places if wanted in _names(place)] or [
        replace(place, values=values)
        for place in places
        if (values := tuple(each for each in place.values if _plain(each.name) == wanted))
    ]
    if not found:
        known = {name for place in places for name in (*_names(place), *(_plain(each.name) for each in place.values))}
        read = f"there is no block, change, part or value {show_read(name)}"
        raise InputError([Problem("NAME", read, "", "", close_matches(wanted, sorted(known)))])
    return found


def _names(place: DeclaringModule) -> set[str]:
    """Return all that a place answers to, in plain letters."""
    return {_plain(place.module), _plain(place.module.rpartition(".")[2]), *(_plain(name) for _, name in place.offers)}


def _plain(name: str) -> str:
    return name.strip("_").replace("_", " ").replace("-", " ").lower()


def _only(places: Iterable[DeclaringModule], from_memory: bool) -> Iterator[DeclaringModule]:
    for place in places:
        values = tuple(each for each in place.values if (_source(each).kind == FROM_MEMORY) == from_memory)
        if values:
            yield replace(place, values=values)


def _source(each: Declared) -> TradeValue:
    """Return the value that tells the source of a declaration: one from memory, if there is one."""
    return next((value for _, value in each.figures if value.kind == FROM_MEMORY), each.figures[0][1])


def _tell_places(places: Iterable[DeclaringModule], unit: Unit) -> None:
    for place in places:
        heading(_title(place))
        say(wrap_text(f"{place.sentence} [{place.module}]", ""))
        for each in place.values:
            _tell(each, unit)


def _title(place: DeclaringModule) -> str:
    if place.offers:
        return ", ".join(f"{kind} {name}" for kind, name in place.offers)
    return " / ".join(_plain(part) for part in place.module.split(".")[-2:])


def _tell(each: Declared, unit: Unit) -> None:
    """Say a declaration: its values on a line, its meaning and its source below."""
    figures = ", ".join(f"{key} {_show_figure(value, unit)}".strip() for key, value in each.figures)
    say(f"{click.style(printable(_plain(each.name)), bold=True)}  {printable(figures)}")
    sources = dict.fromkeys(f"{v.kind}: {v.citation}" if v.citation else v.kind for _, v in each.figures)
    say(wrap_text(in_unit(f"{each.meaning} [{'; '.join(sources)}]", unit), "    "))


def _show_figure(value: TradeValue, unit: Unit) -> str:
    if value.unit == "mm":
        return show_length(value, unit, sixteenths=True)
    if value.unit == "rad":
        return f"{math.degrees(value):.3g} deg"
    return show_share(value) if value.unit == "share" else f"{value:.4g}"
