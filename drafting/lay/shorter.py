"""A shorter lay by our own search: its parts are pushed together, on finer and finer cells, as long as there is time.

It serves every lay: striped, on flawed cloth, folded, cut unwashed. What it finds depends on how many parts it gets to
move in its time, so it is asked for in so many words; the lay that is found without it is always the same.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from drafting.cloth import Cloth
from drafting.lay.folded import cut_off, list_folded_ways, mark_off_folded, place_folded, unfold_part
from drafting.lay.matched import LaidStripe
from drafting.lay.pack import ClothStrip, PartPlace, Way, top_of
from drafting.lay.plan import need_cloth, to_buy
from drafting.lay.pushing import GoOn, push_apart
from drafting.lay.search import GAP, SearchDepth, Told, list_ways, mark_off_strip, place_part, search_lay
from drafting.lay.spread import ClothSpread, LaidPart, Lay
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_row
from drafting.units import Unit

CELLS: Final = trade_row((4.0, 2.5), "mm", "from memory", "finer ones spare a hundredth more, and take longer")
"""About, of the cells on which parts are pushed, one after the other."""


FINE_COLUMNS = 1000
"""Of cells across a cloth at most, on which parts are pushed."""

LOOK = TradeValue(1.0 / 5.0, "times", "derived", "of a second: as fast as one reads a figure")
"""Of a second from one look at the search to the next."""


class PushTime:
    """The ``seconds`` that parts are pushed for; ``told`` is told the share that is gone, and says whether to go on."""

    def __init__(self, seconds: float, told: Told, clock: Callable[[], float] = time.monotonic) -> None:
        self._seconds, self._told, self._clock = seconds, told, clock
        self._began, self._looked, self._stopped = clock(), 0.0, False

    def until(self, share: float) -> GoOn:
        """Return what says to go on until that share of the time is gone, or it is stopped."""

        def go_on(_: int) -> bool:
            now = self._clock() - self._began
            if now - self._looked > LOOK:
                self._looked = now
                self._stopped = self._stopped or not self._told(min(1.0, now / self._seconds))
            return now < share * self._seconds and not self._stopped

        return go_on


def push_lay(lay: Lay, unit: Unit, limit: PushTime) -> Lay:
    """Return a lay with its parts pushed together, as it was if that doesn't make it shorter."""
    growth, stripes = lay.cloth.growth, lay.stripes
    stripes = tuple(each.grown(1.0 / growth[each.is_across]) for each in stripes)
    spreads: list[ClothSpread] = []
    for number, before in enumerate(lay.spreads):
        begins = spreads[-1].begins + spreads[-1].length + GAP if spreads else 0.0
        cloth = cut_off(lay.cloth, begins)
        spread = replace(before, begins=begins, flaws=cloth.flaws)
        if begins != before.begins and cloth.flaws:
            spread = _lay_anew(spread, cloth)
        goes = [limit.until((number + (k + 1) / len(CELLS)) / len(lay.spreads)) for k in range(len(CELLS))]
        spread, stripes = _push_spread(spread, cloth, stripes, goes)
        spreads.append(spread)
    spreads = [_keep_flaws(*pair) for pair in zip(spreads, (*spreads[1:], None), strict=True)]
    length = spreads[-1].begins + spreads[-1].length
    if length >= lay.length or len([each for spread in spreads for each in spread.laid]) < len(lay.laid):
        return lay
    begun = next((each.stripe.repeat for each in stripes if each.is_across), 0.0)
    buy = to_buy(length / growth[1], lay.cloth, unit, begun)
    return replace(
        lay,
        spreads=tuple(spreads),
        needs=need_cloth(length / growth[1], lay.cloth, begun),
        buy=buy,
        stripes=tuple(each.grown(growth[each.is_across]) for each in stripes),
        spared=lay.buy + lay.spared - buy,
    )


def _keep_flaws(spread: ClothSpread, then: ClothSpread | None) -> ClothSpread:
    """A spread with the flaws that lie on it, where another follows."""
    return spread if then is None else replace(spread, flaws=tuple(f for f in spread.flaws if f.end < then.begins))


def _lay_anew(spread: ClothSpread, cloth: Cloth) -> ClothSpread:
    """A spread whose flaws lie elsewhere than they did, because it begins elsewhere."""
    found = search_lay([each.part for each in spread.laid], (), cloth, lambda _: True, SearchDepth())
    anew = replace(spread, laid=(), length=0.0).grown(1.0 / cloth.growth[0], 1.0 / cloth.growth[1])
    return replace(anew, laid=found.laid, length=found.length).grown(*cloth.growth)


@dataclass(frozen=True, slots=True)
class _PushGrid:
    """A strip of cells with the ways in which each part may lie on it, and how one is placed from a cell."""

    strip: ClothStrip
    ways: Sequence[Sequence[Way]]
    place: Callable[[int, PartPlace], LaidPart]


def _mark_off(spread: ClothSpread, cloth: Cloth, stripes: Sequence[LaidStripe], first: float, cell: float) -> _PushGrid:
    """The grid of a spread, of cells of about so many mm."""
    if spread.folded:
        folded, strip = [unfold_part(each) for each in spread.laid], mark_off_folded(cloth, cell)
        every = [list_folded_ways(each, strip, cloth.one_way) for each in folded]
        return _PushGrid(strip, every, lambda at, spot: place_folded(folded[at], spot, strip))
    parts, strip = [each.part for each in spread.laid], mark_off_strip(cloth, stripes, cell, FINE_COLUMNS)
    ways = list_ways(parts, stripes, strip, first, cloth.one_way)
    return _PushGrid(strip, ways, lambda at, spot: place_part(parts[at], spot, strip))


def _push_spread(
    spread: ClothSpread, cloth: Cloth, stripes: tuple[LaidStripe, ...], goes: Sequence[GoOn]
) -> tuple[ClothSpread, tuple[LaidStripe, ...]]:
    """A spread with its parts pushed together, and its stripes, on cells of each size as long as it goes on."""
    across, along = cloth.growth
    spread = spread.grown(1.0 / across, 1.0 / along)
    for cell, go_on in zip(map(float, CELLS), goes, strict=True):
        first = next((each.first for each in stripes if each.is_across), 0.0)
        grid = _mark_off(spread, cloth, stripes, first, cell)
        start = [_find_start(grid, at, each) for at, each in enumerate(spread.laid)]
        found = push_apart(grid.ways, grid.strip, start, spread.length, go_on)
        if found.spots:
            laid = tuple(grid.place(at, spot) for at, spot in enumerate(found.spots))
            spread = replace(spread, laid=laid, length=top_of(found.spots, grid.strip))
            down = found.lower * grid.strip.cell[1]
            stripes = tuple(
                replace(each, first=(each.first - down) % each.stripe.repeat) if each.is_across else each
                for each in stripes
            )
    return spread.grown(across, along), stripes


def _find_start(grid: _PushGrid, at: int, laid: LaidPart) -> PartPlace:
    """The cell nearest to where a part lies."""
    way = next(each for each in grid.ways[at] if each.turned is laid.turned)
    origin = grid.place(at, PartPlace(way, 0, 0)).ring
    column, row = ((laid.ring - origin)[0] / grid.strip.cell).round().astype(int).tolist()
    return PartPlace(way, column, row)
