"""Facts of halves that were drafted apart: told once where they agree, else by side."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from drafting.garment import Fact, Side
from drafting.tolerance import TOLERANCE


def sort_sides(left: Iterable[Fact], right: Iterable[Fact]) -> Iterator[Fact]:
    """Yield the facts of both halves; where they differ, or one half alone has one, named ``..._left``, ``..._right``.

    Each half tells its facts by the names they have on a garment whose halves agree.
    """
    halves = {side: {fact.name: fact for fact in told} for side, told in ((Side.LEFT, left), (Side.RIGHT, right))}
    one, two = halves.values()
    for name in dict.fromkeys((*one, *two)):
        if name in one and name in two and abs(one[name].value - two[name].value) <= TOLERANCE.same_point:
            yield one[name]
        else:
            yield from (replace(half[name], name=f"{name}_{side}") for side, half in halves.items() if name in half)
