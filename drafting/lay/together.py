"""Several garments on one cloth: together, or one after the other, whichever is shorter.

They are halved again and again. Of two halves the lays lie one above the other, unless a search for all their parts
finds a shorter lay: so garments laid together never take more than one by one.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.cloth import Cloth
from drafting.geometry import signed_area
from drafting.lay.folded import cut_off
from drafting.lay.matched import LaidStripe
from drafting.lay.parts import Part
from drafting.lay.plan import FIRST, SQUARED, Batches, OnOneCloth, gather_parts, lay_on_rungs, need_cloth, to_buy
from drafting.lay.search import GAP, SearchDepth, Told
from drafting.lay.spread import LaidPart, Lay
from drafting.trade import TradeValue
from drafting.units import Unit

MOST_PARTS = 40
"""How many parts are searched for at once: with more no lay was found that was shorter than those of the halves."""

SHARES = 4
"""One of so many of the effort of a search, for parts of several garments, in each width: all widths are tried."""

WIDE_CELL: Final = TradeValue(10.0, "mm", "from memory")
"""About, of a cell in which a place is sought where there is ``MUCH`` to lay: more orders are tried in the time."""

MUCH: Final = TradeValue(1.5e6, "mm", "from memory", "square: a metre and a half of cloth, and more")
"""That parts cover."""


def lay_together(
    batches: Batches, cloth: Cloth, kind: str, unit: Unit, told: Told = lambda _: True, how: SearchDepth = FIRST
) -> Lay:
    """Return the lay of the parts of some garments on one cloth, never longer than theirs one after the other."""
    lay = _Halving(kind, unit, told, how).lay(batches, cloth)
    begun = next((each.stripe.repeat / cloth.growth[1] for each in lay.stripes if each.is_across), 0.0)
    return replace(lay, spared=0.0, ends=(len(batches) - 1) * (SQUARED + begun) / cloth.washed[1] if lay.laid else 0.0)


class _Halving:
    """How garments are laid by halves; what was found for some is kept for others of the same parts."""

    def __init__(self, kind: str, unit: Unit, told: Told, how: SearchDepth) -> None:
        self._kind, self._unit, self._told, self._how = kind, unit, told, how
        self._done: dict[Hashable, tuple[Sequence[Part], Lay]] = {}

    def lay(self, batches: Batches, cloth: Cloth) -> Lay:
        """Return their lay on a cloth."""
        to_lay = gather_parts(batches, cloth, self._kind, self._unit, self._told)
        key = (cloth, *(_known_by(part, to_lay.stripes) for part in to_lay.parts))
        if key in self._done:
            before, lay = self._done[key]
            return _lay_alike(lay, dict(zip(map(id, before), to_lay.parts, strict=True)), to_lay.stripes)
        lay = self._lay_one(to_lay, cloth) if len(batches) == 1 else self._lay_halves(to_lay, cloth)
        self._done[key] = to_lay.parts, lay
        return lay

    def _lay_one(self, to_lay: OnOneCloth, cloth: Cloth) -> Lay:
        lay = lay_on_rungs(to_lay, cloth, self._how)
        return replace(lay, alone=lay.needs, singly=lay.buy)

    def _lay_halves(self, to_lay: OnOneCloth, cloth: Cloth) -> Lay:
        """The halves' lays one above the other, or a shorter one of all for which the cloth is wide enough."""
        half = len(to_lay.batches) // 2
        one = self.lay(to_lay.batches[:half], cloth)
        two = self.lay(to_lay.batches[half:], _leave(cloth, one, to_lay.stripes))
        stack = stack_lays(one, two, cloth, to_lay)
        missing = {id(part) for part in stack.too_wide}
        fitting = [(garment, [part for part in some if id(part) not in missing]) for garment, some in to_lay.batches]
        fitting = [(garment, some) for garment, some in fitting if some]
        if not 0 < sum(len(some) for _, some in fitting) <= MOST_PARTS or len(fitting) == 1 or stack.stopped:
            return stack
        short = stack.length / cloth.growth[1]
        area = math.fsum(abs(signed_area(part.ring)) for _, some in fitting for part in some)
        cell = max(self._how.cell, float(WIDE_CELL)) if area > MUCH else self._how.cell
        wanted = replace(self._how, below=short, effort=1.0 / SHARES, cell=cell)
        found = lay_on_rungs(gather_parts(fitting, cloth, self._kind, self._unit, self._told), cloth, wanted)
        if not found.laid or found.too_wide:
            return replace(stack, stopped=found.stopped)
        return replace(found, too_wide=stack.too_wide, alone=stack.alone, singly=stack.singly)


def _known_by(part: Part, stripes: Sequence[LaidStripe]) -> Hashable:
    """What the search for a part goes by."""
    return part.ring.tobytes(), part.tied, *(each.shifts.get(part.key) for each in stripes)


def _lay_alike(lay: Lay, others: Mapping[int, Part], stripes: Sequence[LaidStripe]) -> Lay:
    """The lay of other parts that are the same in all that it goes by."""
    (spread,) = lay.spreads
    laid = tuple(replace(each, part=others[id(each.part)]) for each in spread.laid)
    firsts = [each.first for each in lay.stripes]
    grown = [each.grown(lay.cloth.growth[each.is_across]) for each in stripes]
    return replace(
        lay,
        spreads=(replace(spread, laid=laid),),
        too_wide=tuple(others[id(part)] for part in lay.too_wide),
        stripes=tuple(replace(each, first=first) for each, first in zip(grown, firsts, strict=True)),
    )


def _leave(cloth: Cloth, lay: Lay, stripes: Sequence[LaidStripe]) -> Cloth:
    """What is left of a cloth above a lay. What is laid there begins up to a repeat further on, for its stripes."""
    left = cut_off(cloth, _top_of(lay))
    further = sum(each.stripe.repeat * cloth.growth[1] for each in stripes if each.is_across)
    flaws = ((flaw, min(further, flaw.end)) for flaw in left.flaws)
    return replace(left, flaws=tuple(replace(flaw, end=flaw.end - by, length=flaw.length + by) for flaw, by in flaws))


def _top_of(lay: Lay) -> float:
    """From where on there is room above a lay (mm)."""
    return lay.length + GAP * lay.cloth.growth[1] if lay.laid else 0.0


def stack_lays(one: Lay, two: Lay, cloth: Cloth, to_lay: OnOneCloth) -> Lay:
    """Return the lay of some garments and, above it, as near as its stripes let it lie, that of others."""
    first, begins = _begin(one, two)
    (low,), (high,) = one.spreads, two.spreads
    length = begins + high.length if high.laid else low.length
    laid = (*low.laid, *(_raise(each, begins) for each in high.laid))
    stripes = (each.grown(cloth.growth[each.is_across]) for each in to_lay.stripes)
    begun = next((each.stripe.repeat for each in to_lay.stripes if each.is_across), 0.0)
    net = length / cloth.growth[1]
    return replace(
        one,
        cloth=cloth,
        spreads=(replace(low, laid=laid, length=length, flaws=cloth.flaws),),
        too_wide=(*one.too_wide, *two.too_wide),
        needs=need_cloth(net, cloth, begun),
        buy=to_buy(net, cloth, to_lay.unit, begun),
        stripes=tuple(replace(each, first=first) if each.is_across else each for each in stripes),
        stopped=one.stopped or two.stopped,
        alone=one.alone + two.alone,
        singly=one.singly + two.singly,
    )


def _begin(one: Lay, two: Lay) -> tuple[float, float]:
    """Where the first stripe across lies of two lays one above the other, and where the upper begins (mm)."""
    begins = _top_of(one)
    across = two.across if two.laid else None
    if across is None:
        return (one.across.first if one.across else 0.0), begins
    repeat = across.stripe.repeat
    if one.across is None or not one.laid:
        return (across.first + begins) % repeat, begins
    return one.across.first, begins + (one.across.first - across.first - begins) % repeat


def _raise(each: LaidPart, by: float) -> LaidPart:
    return replace(each, ring=np.asarray(each.ring + np.array([0.0, by])))
