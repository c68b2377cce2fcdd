"""The places of a cloth that no piece may lie on, each a table of its own: ``[cloth.flaws.NAME]``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from drafting.cloth import Cloth, Flaw
from drafting.errors import Problem
from drafting.text import show_read
from drafting.ticket.keys import FLAW_KEYS
from drafting.ticket.tree import TicketValue, Tree, find_table, find_value, table_place
from drafting.ticket.values import read_values
from drafting.units import Unit, show_length

FLAWS = "flaws"
"""The table of the places of a cloth that can't be used, each by a name of its own."""

MOST_FLAWS = 60
"""How many flaws a cloth may have: what has more isn't cut."""

_MEASURE = "say how far it lies from the left selvedge (left) and from the cut end (end)"

_EXAMPLE = ('a length such as "2 cm"', 'a length such as "3/4 in"')


def read_flaws(
    cloth: Tree, path: tuple[str, ...], said: Mapping[str, Any], unit: Unit, problems: list[Problem]
) -> Iterator[Flaw]:
    """Yield the flaws of a cloth that stands at a path of the ticket, of which all else is ``said``."""
    flaws, allowed = find_table(cloth, FLAWS), f"a table [{'.'.join(path)}.{FLAWS}.NAME], NAME a name of your own"
    stray = find_value(cloth, FLAWS) or next((each for each in flaws.values() if isinstance(each, TicketValue)), None)
    if stray is not None:
        problems.append(Problem(stray.where, show_read(stray.value), allowed, _MEASURE))
        return
    if len(flaws) > MOST_FLAWS:
        problems.append(Problem(table_place(flaws), f"{len(flaws)} flaws", f"{MOST_FLAWS} at most"))
        return
    width, length = said.get("width", Cloth().width), said.get("length")
    for name in flaws:
        if not name.strip():
            problems.append(Problem(table_place(flaws), "a flaw without a name", "a name of your own"))
            continue
        flaw = _read_flaw(name, find_table(flaws, name), unit, problems)
        if flaw is not None:
            problems += _find_beyond(flaw, find_table(flaws, name), width, length, unit)
            yield flaw


def _read_flaw(name: str, asked: Tree, unit: Unit, problems: list[Problem]) -> Flaw | None:
    before = len(problems)
    values: dict[str, Any] = {key.name: key.default for key in FLAW_KEYS} | read_values(asked, FLAW_KEYS, problems)
    for key in ("left", "end"):
        if key not in asked:
            problems.append(Problem(f"{table_place(asked)}.{key}", "missing", _EXAMPLE[unit == "in"], _MEASURE))
    return Flaw(name, **values) if len(problems) == before else None


def _find_beyond(flaw: Flaw, asked: Tree, width: float, length: float | None, unit: Unit) -> Iterator[Problem]:
    """What of a flaw lies off the cloth: a slip of the tape or the unit, which would leave it where pieces lie."""
    for key, at, most, of in (("left", flaw.left, width, "wide"), ("end", flaw.end, length, "long")):
        if most is not None and at >= most:
            told = f"{show_length(at, unit)}, and the cloth is {show_length(most, unit)} {of}"
            yield Problem(f"{table_place(asked)}.{key}", told, f"less than {show_length(most, unit)}", _MEASURE)
