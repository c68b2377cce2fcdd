"""Reading the wearer: measurements as people write them, into a body."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from drafting.body import Body, Measurement, make_body, measurements
from drafting.errors import InputError, Problem
from drafting.garment.step import OptionInfo
from drafting.record import dataclass
from drafting.text import show_read
from drafting.ticket.inherit import SAME_PERSON, Inherited
from drafting.ticket.tree import Layer, TicketValue, Tree, find_table, find_value, table_place
from drafting.ticket.values import read_value, unknown_key
from drafting.units import parse_angle, parse_length

RULES = OptionInfo(
    "averages",
    "Whose averages stand in for measurements that weren't taken.",
    "choice",
    "women",
    choices=("women", "men"),
)
NAME = OptionInfo("name", "The wearer's name, as it is printed on the pattern.", "text", "")
SAME = OptionInfo(
    SAME_PERSON,
    "True if the wearer is the person of the ticket this one builds on, and what is measured here was measured anew. "
    "Else, if anything of the wearer is said here, none of that ticket's measurements and fit changes are taken.",
    "flag",
    False,
)

_OWN_UNIT = re.compile(r"[^\W\d_]|[\"']")
_KILOGRAM_PER = {"kg": 1.0, "lb": 0.45359237}  # the international pound, exact


def read_wearer(inherited: Inherited, top: Layer, problems: list[Problem]) -> Body | None:
    """Return the wearer's body, or None with what is wrong added to ``problems``. ``top`` is the ticket itself."""
    wearer = find_table(inherited.tree, "wearer")
    before = len(problems)
    name = _text(wearer, NAME, problems)
    rules = _text(wearer, RULES, problems)
    tree_of_body = find_table(wearer, "body")
    given = _read_measurements(tree_of_body, problems)
    strange = _missing_of_strangers(inherited, tree_of_body, top)
    problems += strange
    try:
        where = top.where("wearer.body")
        body = make_body(
            name or "wearer", given, rules="men" if rules == "men" else "women", where=where, unit=top.unit,
            written=_written_with_unit(tree_of_body),
        )  # fmt: skip
    except InputError as error:
        unread = bool(problems[before:])
        told = (each for each in error.problems if not unread or not (strange or _measure(each) in tree_of_body))
        problems += [_where_it_stands(each, tree_of_body) for each in told]
        return None
    return body if len(problems) == before else None


def _measure(problem: Problem) -> str:
    return problem.where.rpartition(".")[2]


def _where_it_stands(problem: Problem, body: Tree) -> Problem:
    """The problem of a measurement, placed in the file that it was read from."""
    found = find_value(body, _measure(problem))
    return problem if found is None else replace(problem, where=found.where)


def _missing_of_strangers(inherited: Inherited, body: Tree, top: Layer) -> list[Problem]:
    """What is wrong where a ticket says something of its wearer, and relies on the body of another for the rest."""
    missing = [each.title for each in measurements().values() if each.needed and each.name not in body]
    if not missing or not inherited.strangers:
        return []
    theirs = " and ".join(inherited.strangers)
    found = find_table(inherited.tree, "wearer")
    file = next(
        (
            value.file
            for value in (*find_table(found, "body").values(), *found.values())
            if isinstance(value, TicketValue)
        ),
        "",
    )
    whole = f"still needed: {', '.join(missing)}; the wearer of {theirs} isn't taken for the one described here"
    mend = "give these measurements too; or, if it is the same person, write "
    mend += f"{SAME_PERSON} = true under [wearer]" + (" and take the name out" if "name" in found else "")
    return [Problem(f"{file}: wearer.body" if file else top.where("wearer.body"), whole, "", mend)]


@dataclass(frozen=True, slots=True)
class BodySources:
    """Where the measurements stand: those of each file, where more than one holds some of the same person's.

    ``strangers`` are files whose wearer is someone else, so that nothing of theirs was taken; ``outdated`` each
    measurement that gave way to what was measured anew, with its file; ``left_behind`` the fit changes of each file
    that stayed with the body they were for.
    """

    measured: tuple[tuple[str, tuple[str, ...]], ...] = ()
    strangers: tuple[str, ...] = ()
    outdated: tuple[tuple[str, str], ...] = ()
    left_behind: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def sentences(self) -> tuple[str, ...]:
        """Return in words what comes from where, gave way or was left behind; none where one file holds all."""
        *most, (file, _) = self.measured or (("", ()),)
        told = [f"{_titles(names)} from {file}" for file, names in most]
        said = [f"The same person's measurements: {'; '.join((*told, f'all others from {file}'))}."] if most else []
        said += [
            f"{_titles([name]).capitalize()} of {file} gave way to what was measured anew."
            for name, file in self.outdated
        ]
        behind = "; ".join(f"{', '.join(names)} of {file}" for file, names in self.left_behind)
        return (*said, *([f"Left behind, since they fit someone else's body: {behind}."] if behind else []))


def _titles(names: Iterable[str]) -> str:
    return ", ".join(name.replace("_", " ") for name in names)


def body_sources(inherited: Inherited) -> BodySources:
    """Return which file each measurement stands in, the file with the most last; nothing where it is one file."""
    found: dict[str, list[str]] = {}
    for name, value in find_table(find_table(inherited.tree, "wearer"), "body").items():
        if isinstance(value, TicketValue):
            found.setdefault(value.file, []).append(name)
    measured = sorted(((file, tuple(names)) for file, names in found.items()), key=lambda each: len(each[1]))
    behind: dict[str, list[str]] = {}
    for name, file in inherited.left_behind:
        behind.setdefault(file, []).append(name)
    return BodySources(
        tuple(measured) if len(measured) > 1 else (),
        inherited.strangers,
        inherited.outdated,
        tuple((file, tuple(names)) for file, names in behind.items()),
    )


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


def _written_with_unit(tree: Tree) -> Mapping[str, str]:
    """The measurements that carry a unit of their own, as they stand in the ticket: that one is meant."""
    return {
        key: show_read(found.value)
        for key, found in tree.items()
        if isinstance(found, TicketValue) and isinstance(found.value, str) and _OWN_UNIT.search(found.value)
    }


def _unknown_measurement(key: str, found: TicketValue | Tree) -> Problem:
    problem = unknown_key(key, found, measurements())
    mend = problem.mend or ("" if problem.close else "blockwright list measurements tells their names")
    return Problem(problem.where, f"there is no measurement {show_read(key)}", "", mend, problem.close)


def _figure(each: Measurement, found: TicketValue | Tree) -> float:
    if not isinstance(found, TicketValue):
        raise InputError([Problem(table_place(found), "a table stands here", "one measurement", each.sentence)])
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
