"""The cloths of a ticket: the main one under ``[cloth]``, others under ``[cloths.NAME]``, and what is cut from each.

What a cloth's ``cut`` names is a block, by its label in the ticket or by its own name, or a piece, by its name with or
without its side: ``cut = ["cuffs", "sleeve"]``. What none names is cut from the main cloth.
What its ``cut_again`` names is cut from it once more, by the same pattern: under ``[cloths.lining]``, ``cut_again =
["front"]``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from drafting.cloth import Cloth, Kind, Stripe, home_method
from drafting.errors import InputError, Problem
from drafting.garment.model import INTERFACING, MAIN_CLOTH
from drafting.record import dataclass
from drafting.text import show_read
from drafting.ticket.flaws import FLAWS, read_flaws
from drafting.ticket.keys import CLOTH_KEYS, STRIPE_KEYS
from drafting.ticket.tree import Layer, TicketValue, Tree, find_table, find_value
from drafting.ticket.values import read_values
from drafting.units import Unit, parse_length

CLOTHS = "cloths"
"""The table of the cloths that aren't the main one."""

CUT = "cut"
"""The key of what is cut from a cloth."""

CUT_AGAIN = "cut_again"
"""The key of what is cut from a cloth once more."""

NO_STRIPE = "none"

MOST_CLOTHS = 12
"""How many cloths a ticket may have: each is laid by itself."""


@dataclass(frozen=True, slots=True)
class CutFrom:
    """What a ticket cuts from a cloth that isn't the main one, as the ticket names it, and where it does.

    ``again``: besides the cloth that it is cut from.
    """

    name: str
    cloth: str
    where: str
    again: bool = False

    def is_called(self, *names: str) -> bool:
        """Whether it names one of these."""
        return names_one(self.name, names)


def names_one(name: str, names: Iterable[str]) -> bool:
    """Tell whether a name is one of these, upper and lower case, spaces and hyphens alike."""
    return fold_name(name) in map(fold_name, names)


def fold_name(name: str) -> str:
    """Return a name in lower case, with hyphens for spaces.

    >>> fold_name("Neck Band")
    'neck-band'
    """
    return "-".join(name.casefold().replace("_", " ").replace("-", " ").split())


def read_cloths(tree: Tree, top: Layer, problems: list[Problem]) -> tuple[Mapping[str, Cloth], tuple[CutFrom, ...]]:
    """Return the cloths that aren't the main one, by name, and what is cut from each."""
    found: dict[str, Cloth] = {}
    cut: list[CutFrom] = []
    tables = find_table(tree, CLOTHS)
    if len(tables) > MOST_CLOTHS:
        problems.append(Problem(top.where(CLOTHS), f"{len(tables)} cloths", f"{MOST_CLOTHS} at most"))
        return found, ()
    for name in tables:
        where = top.where(CLOTHS, name)
        if CutFrom(name, "", "").is_called(MAIN_CLOTH, "cloth"):
            problems.append(Problem(where, "the main cloth stands under [cloth]", "another name"))
            continue
        cloth = read_cloth(find_table(tables, name), (CLOTHS, name), top, problems)
        if cloth is not None:
            found[name] = cloth
        listed = find_value(find_table(tables, name), CUT)
        if listed is not None and CutFrom(name, "", "").is_called(INTERFACING):
            mend = f"write {CUT_AGAIN}: nothing is cut from interfacing alone"
            problems.append(Problem(listed.where, show_read(listed.value), "", mend))
            continue
        cut += _read_cut(listed, name, problems)
        again = _read_cut(find_value(find_table(tables, name), CUT_AGAIN), name, problems)
        cut += [replace(each, again=True) for each in again]
    problems += _cut_twice(each for each in cut if not each.again)
    return found, tuple(cut)


def _read_cut(found: TicketValue | None, cloth: str, problems: list[Problem]) -> list[CutFrom]:
    example = 'a list of blocks and pieces in quotes, such as ["cuffs", "sleeve"]'
    if found is None:
        return []
    names = found.value if isinstance(found.value, list) else [found.value]
    if not all(isinstance(name, str) and name.strip() for name in names):
        problems.append(Problem(found.where, show_read(found.value), example))
        return []
    return [CutFrom(name, cloth, found.where) for name in dict.fromkeys(names)]


def _cut_twice(cut: Iterable[CutFrom]) -> list[Problem]:
    seen: list[CutFrom] = []
    problems = []
    for each in cut:
        before = next((one for one in seen if one.is_called(each.name)), None)
        if before is not None:
            read = f"{show_read(each.name)} is cut from {show_read(before.cloth)} already ({before.where})"
            problems.append(Problem(each.where, read, "one cloth for each", "take it out of one of the two"))
        seen.append(each)
    return problems


def read_cloth(asked: Tree, path: tuple[str, ...], top: Layer, problems: list[Problem]) -> Cloth | None:
    """Return the cloth that a table tells, None where it is wrong; ``path`` is where it stands in the ticket."""
    before = len(problems)
    beside = ["stripe", FLAWS, *([CUT, CUT_AGAIN] if path[0] == CLOTHS else [])]
    values: dict[str, Any] = dict(read_values(asked, CLOTH_KEYS, problems, beside=beside))
    if find_value(asked, "stretch_across") is None and values.get("kind") != Kind.WOVEN:
        how = home_method(top.unit)
        problems.append(Problem(top.where(*path, "stretch_across"), "missing", 'a share such as "30 %"', how))
    if not str(values.get("name", "")).strip():
        values.pop("name", None)
    if "kind" in values:
        values["kind"] = Kind(values["kind"])
    if values.get("kind") is Kind.WOVEN:
        values.setdefault("stretch_across", 0.0)
    stripe = _read_stripe(asked, path, top, problems)
    if stripe is not None:
        values["stripe"] = stripe
    values["flaws"] = tuple(read_flaws(asked, path, values, top.unit, problems))
    return Cloth(**values) if len(problems) == before else None


def _read_stripe(cloth: Tree, path: tuple[str, ...], top: Layer, problems: list[Problem]) -> Stripe | None:
    """Return a cloth's stripe; None where it has none, which may be said so: "none", or a repeat of 0."""
    said, asked = find_value(cloth, "stripe"), find_table(cloth, "stripe")
    example = _EXAMPLE[top.unit == "in"]
    if said is not None:
        if said.value != NO_STRIPE:
            allowed = f'"{NO_STRIPE}", or a table [{".".join(path)}.stripe] with its repeat, {example}'
            problems.append(Problem(said.where, show_read(said.value), allowed))
        return None
    if "stripe" not in cloth or _is_none(find_value(asked, "repeat")):
        return None
    before = len(problems)
    values: dict[str, Any] = dict(read_values(asked, STRIPE_KEYS, problems))
    if "repeat" not in asked:
        where = top.where(*path, "stripe", "repeat")
        problems.append(Problem(where, "missing", example, f'or, for no stripe, stripe = "{NO_STRIPE}"'))
    if "repeat_along" in values and values.get("direction") != "check":
        where, mend = top.where(*path, "stripe", "repeat_along"), 'write direction = "check", or leave it out'
        problems.append(Problem(where, "only a check has it", "", mend))
    return Stripe(**values) if len(problems) == before else None


_EXAMPLE: tuple[str, str] = ('a length such as "2 cm"', 'a length such as "3/4 in"')


def _is_none(repeat: TicketValue | None) -> bool:
    """Whether a stripe's repeat says that there is none: no length at all."""
    if repeat is None or isinstance(repeat.value, bool):
        return False
    unit: Unit = repeat.unit
    try:
        return repeat.value == NO_STRIPE or parse_length(repeat.value, unit, where=repeat.where) == 0.0
    except InputError:
        return False
