"""Reading the wearer: measurements as people write them, into a body."""

from __future__ import annotations

import re
from collections.abc import Mapping

from drafting.body import Body, Measurement, make_body, measurements
from drafting.errors import InputError, Problem
from drafting.garment.step import OptionInfo
from drafting.text import show_read
from drafting.ticket.tree import Layer, TicketValue, Tree, find_table, find_value
from drafting.ticket.values import first_place, read_value, unknown_key
from drafting.units import parse_angle, parse_length

RULES = OptionInfo(
    "rules", "Whose averages stand in for measurements that weren't taken.", "choice", "women", choices=("women", "men")
)
NAME = OptionInfo("name", "The wearer's name, as it is printed on the pattern.", "text", "")

_KILOGRAM_PER = {"kg": 1.0, "lb": 0.45359237}  # the international pound, exact


def read_wearer(tree: Tree, top: Layer, problems: list[Problem]) -> Body | None:
    """Return the wearer's body, or None with what is wrong added to ``problems``. ``top`` is the ticket itself."""
    wearer = find_table(tree, "wearer")
    before = len(problems)
    name = _text(wearer, NAME, problems)
    rules = _text(wearer, RULES, problems)
    tree_of_body = find_table(wearer, "body")
    given = _read_measurements(tree_of_body, problems)
    try:
        where = top.where("wearer.body")
        body = make_body(
            name or "wearer", given, rules="men" if rules == "men" else "women", where=where, unit=top.unit
        )
    except InputError as error:
        problems.extend(
            each
            for each in error.problems
            if each.where.rpartition(".")[2] not in tree_of_body or not problems[before:]
        )
        return None
    return body if len(problems) == before else None


def unit_of(each: Measurement) -> str:
    """Return what a measurement is, in the words of options: "length", "angle" or "mass"."""
    return {"mm": "length", "rad": "angle", "kg": "mass"}[each.unit]


def _text(wearer: Tree, info: OptionInfo, problems: list[Problem]) -> str:
    found = find_value(wearer, info.name)
    if found is None or (info.unit == "text" and found.value == ""):
        return str(info.default)
    try:
        return str(read_value(info, found))
    except InputError as error:
        problems.extend(error.problems)
        return str(info.default)


def _read_measurements(tree: Tree, problems: list[Problem]) -> Mapping[str, float]:
    known = measurements()
    values: dict[str, float] = {}
    for key, found in tree.items():
        each = known.get(key)
        if each is None:
            problems.append(_unknown_measurement(key, found))
            continue
        try:
            values[key] = _figure(each, found)
        except InputError as error:
            problems.extend(error.problems)
    return values


def _unknown_measurement(key: str, found: TicketValue | Tree) -> Problem:
    problem = unknown_key(key, found, measurements())
    mend = "" if problem.close else "blockwright list measurements tells their names"
    return Problem(problem.where, f"there is no measurement {show_read(key)}", "", mend, problem.close)


def _figure(each: Measurement, found: TicketValue | Tree) -> float:
    if not isinstance(found, TicketValue):
        raise InputError([Problem(first_place(found), "a table stands here", "one measurement", each.sentence)])
    if found.value == "":
        allowed = each.show_range(found.unit)
        raise InputError([Problem(found.where, "it isn't filled in yet", allowed, each.sentence)])
    if each.unit == "rad":
        return parse_angle(found.value, where=found.where)
    return _mass(found) if each.unit == "kg" else parse_length(found.value, found.unit, where=found.where)


def _mass(found: TicketValue) -> float:
    value = found.value
    if isinstance(value, int | float) and not isinstance(value, bool):
        if abs(value) < 1000:  # false for NaN too
            return float(value)
    elif isinstance(value, str):
        read = re.fullmatch(r"\s*(\d{1,3}(?:\.\d{1,6})?)\s*(kg|lb)?\s*", value)
        if read:
            return float(read[1]) * _KILOGRAM_PER[read[2] or "kg"]
    raise InputError([Problem(found.where, show_read(value), 'a mass such as "62 kg" or "137 lb"', "")])
