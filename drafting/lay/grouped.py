"""A longer search for the lay of many garments: a few at a time, and these one after the other, if that is shorter.

In one search for the parts of them all a few moves a second lead nowhere; few parts are pushed together in the time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import reduce

from drafting.cloth import Cloth
from drafting.lay.longer import shorten_lays
from drafting.lay.plan import FIRST, Batches, gather_parts
from drafting.lay.search import Told
from drafting.lay.shared import ToLay, share_cloths
from drafting.lay.spread import Lay
from drafting.lay.together import lay_together, stack_lays
from drafting.units import Unit

GROUP = 4
"""How many garments are searched for at a time."""


def shorten_shared_lays(
    made: Sequence[ToLay], lays: Sequence[Lay], seconds: int, unit: Unit, told: Told = lambda _: True
) -> tuple[Lay, ...]:
    """Return the lays of several garments, as ``plan_shared_lays`` gave them, each as short as is found.

    Of a cloth with more than a few garments the search for all takes half of the ``seconds``, and the groups the rest,
    a whole second each: with less time there are no groups, nor on cloth with flaws, which lie elsewhere in each.
    """
    shared = share_cloths(made, unit)
    grouped = [cloth for cloth, (_, batches) in shared.items() if _may_group(cloth, batches, seconds // 2)]
    found = shorten_lays(lays, seconds // 2 if grouped else seconds, unit, told)
    return tuple(
        _take_shorter(lay, shared[lay.cloth][1], seconds // 2 // len(grouped), unit, told)
        if lay.cloth in grouped and not lay.too_wide and told(0.0)
        else lay
        for lay in found
    )


def _may_group(cloth: Cloth, batches: Batches, seconds: int) -> bool:
    return not cloth.flaws and GROUP < len(batches) <= GROUP * seconds


def _take_shorter(lay: Lay, batches: Batches, seconds: int, unit: Unit, told: Told) -> Lay:
    """The lay, or, if they are shorter, those of its garments in groups one after the other."""
    groups = [batches[at : at + GROUP] for at in range(0, len(batches), GROUP)]
    if seconds < len(groups):
        return lay
    few = [lay_together(group, lay.cloth, lay.kind, unit, told, FIRST) for group in groups]
    short = [shorten_lays([each], seconds // len(groups), unit, told)[0] for each in few]
    to_lay = gather_parts(batches, lay.cloth, lay.kind, unit, told)
    stack = reduce(lambda one, two: stack_lays(one, two, lay.cloth, to_lay), short)
    if stack.too_wide or stack.length >= lay.length:
        return lay
    return replace(stack, spared=0.0, alone=lay.alone, singly=lay.singly, ends=lay.ends)
