"""The cutting plan: how every cloth of one garment, or of several together, lies, and what is told beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from drafting.lay.buying import ClothToBuy, list_cloth_to_buy
from drafting.lay.folded import plan_folded_lays
from drafting.lay.grouped import shorten_shared_lays
from drafting.lay.longer import shorten_lays
from drafting.lay.plan import plan_lays
from drafting.lay.search import SearchDepth, Told
from drafting.lay.shared import ToLay, plan_shared_lays, tell_nearly_alike
from drafting.lay.spread import Lay
from drafting.record import dataclass
from drafting.units import Unit

THOROUGH = SearchDepth(narrower=True)
"""As a plan is searched for."""


@dataclass(frozen=True, slots=True)
class HowToLay:
    """How cloths are laid: ``folded`` lengthwise where they can be, and with so many ``seconds`` of longer search."""

    folded: bool = False
    seconds: int = 0


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """What was laid: the lays, what is bought beside, and what the garments need laid one by one (mm; none if one).

    ``notes`` tell of cloths nearly alike what keeps them apart.
    ``otherwise`` is how one garment lies on folded cloth, if that isn't asked for, or single, if it is.
    """

    how: HowToLay
    lays: tuple[Lay, ...]
    bought: tuple[ClothToBuy, ...] = ()
    alone: float = 0.0
    notes: tuple[str, ...] = ()
    otherwise: tuple[Lay, ...] = ()

    @property
    def is_whole(self) -> bool:
        """Whether all pieces are laid, and there is cloth enough where the maker says how much there is."""
        return not any(lay.too_wide or lay.short for lay in self.lays)


def plan_cutting(made: Sequence[ToLay], unit: Unit, how: HowToLay, laying: Told, searching: Told) -> CuttingPlan:
    """Return the plan of one garment, or of several together.

    ``laying`` and ``searching`` are told the shares that are done, and say whether to go on; what is left then is
    spared. Several garments aren't laid folded.
    """
    if len(made) > 1:
        lays = plan_shared_lays(made, unit, laying, THOROUGH)
        if how.seconds and searching(0.0):
            lays = shorten_shared_lays(made, lays, how.seconds, unit, searching)
        apart = (f"Laid apart: {told}" for told in tell_nearly_alike(made))
        return CuttingPlan(how, lays, alone=math.fsum(lay.alone for lay in lays), notes=tuple(apart))
    (one,) = made
    single = plan_lays(one.garment, one.cut, one.brief, unit, laying, THOROUGH)
    on_fold = plan_folded_lays(one.garment, one.cut, one.brief, unit, laying)
    first, other = (on_fold, single) if how.folded else (single, on_fold)
    lays = _search_longer(first, unit, how, searching)
    bought = list_cloth_to_buy(one.garment, one.cut, one.brief, single, unit) if laying(1.0) else ()
    return CuttingPlan(how, lays, bought, otherwise=other)


def _search_longer(lays: tuple[Lay, ...], unit: Unit, how: HowToLay, searching: Told) -> tuple[Lay, ...]:
    """The lays after the longer search, where one is asked for and not stopped."""
    return shorten_lays(lays, how.seconds, unit, searching) if how.seconds and searching(0.0) else lays
