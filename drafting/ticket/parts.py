"""Parts of which a garment has one: two blocks that each draft the bodice don't go together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafting.errors import Problem
from drafting.ticket.job import Planned


def tell_doubles(steps: Iterable[Planned]) -> Iterator[Problem]:
    """Yield a problem for each block that makes what a block before it in the ticket makes already."""
    first: dict[str, Planned] = {}
    for planned in steps:
        part = planned.step.makes
        other = first.setdefault(part, planned) if part else planned
        if other is not planned:
            one, two = (f"{each.table} ({each.step.name})" for each in (other, planned))
            yield Problem(
                planned.place,
                f"{two} makes a {part}, and {one} makes one already",
                f"one {part}",
                f"be without one of the two: {other.leaving}, or {planned.leaving}",
            )
