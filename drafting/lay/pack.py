"""Parts on a strip of cloth so that it is short: the search on a grid of cells."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np

from drafting.geometry.cells import Floats, Runs, TakenCells, bits_of, even_points, runs_of, touch_cells
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class ClothStrip:
    """A strip of cloth: ``columns`` cells wide and as long as need be.

    ``cell`` is the size of a cell (mm). A part that is tied to a stripe may only lie a whole number of ``period``
    cells, along x or y, from where it is tied to. ``taken`` are cells, as bits, on which nothing
    may lie.
    """

    columns: int
    cell: tuple[float, float]
    period: tuple[int, int] = (1, 1)
    taken: int = 0


@dataclass(frozen=True, slots=True)
class Way:
    """One way for a part to lie: its polygon, moved so that its cells' lower left corner is the origin, and its cells.

    ``phase`` is the cell of the period, along x and y, that the corner must lie on; None where it may lie anywhere.
    """

    turned: bool
    ring: Floats
    rows: int
    columns: int
    runs: Runs
    bits: int
    phase: tuple[int | None, int | None]


@dataclass(frozen=True, slots=True)
class PartPlace:
    """Where a part was laid: the corner's cell, and the way it lies."""

    way: Way
    column: int
    row: int


Tie = tuple[float | None, float | None]
"""How far (mm) past a repeat a part's origin lies, along x and y; None where no stripe ties it."""

FREE: Tie = (None, None)


def way(ring: Floats, strip: ClothStrip, gap: float, tie: Tie, turned: bool) -> Way:
    """Return a way for a part to lie."""
    margin = gap / 2.0
    cell, inset = strip.cell, [0.0, 0.0]
    phase: list[int | None] = [None, None]
    for axis, shift in enumerate(tie):
        if shift is not None:
            past = shift + float(ring[:, axis].min()) - margin
            inset[axis] = past % cell[axis]
            phase[axis] = round((past - inset[axis]) / cell[axis]) % strip.period[axis]
    low = ring.min(axis=0) - margin - inset
    mask = touch_cells(ring, even_points(ring, min(cell) / 4.0), cell, margin, (inset[0], inset[1]))
    runs = runs_of(mask, strip.columns)
    rows, columns = mask.shape
    return Way(turned, ring - low, rows, columns, runs, bits_of(runs), (phase[0], phase[1]))


def take_cells(strip: ClothStrip, low: tuple[float, float], high: tuple[float, float]) -> int:
    """Return the cells, as bits, that a rectangle of the strip touches (mm), as far as it lies on the strip."""
    first, end = (
        [round_(at / cell) for at, cell in zip(corner, strip.cell, strict=True)]
        for corner, round_ in ((low, math.floor), (high, math.ceil))
    )
    left, right = (min(max(0, at[0]), strip.columns) for at in (first, end))
    row = ((1 << right) - (1 << left)) if right > left else 0
    return _repeat_rows(row, end[1] - max(0, first[1]), strip.columns) << (strip.columns * max(0, first[1]))


def has_room(each: Way, strip: ClothStrip) -> bool:
    """Tell whether a strip is wide enough for a way to lie, and for the stripe along it that it is tied to."""
    return strip.columns - each.columns >= (each.phase[0] or 0)


def pack_shortest(
    ways: Sequence[Sequence[Way]], strip: ClothStrip, tries: int, effort: Effort, below: float = math.inf
) -> tuple[PartPlace, ...]:
    """Return where each part lies, by the shortest of some layings: parts heaviest first, by several weights.

    Each part lies in one of its ways, for each of which there must be room. One laying is always made; how many more
    depends on ``tries`` and on the ``effort`` that is left. Nothing is returned where none is shorter than ``below``
    (mm).
    """
    rows = sum(max(way.rows for way in each) + strip.period[1] for each in ways)
    rows += strip.taken.bit_length() // strip.columns + 1
    rows = rows if below == math.inf else min(rows, math.ceil(below / strip.cell[1]) + 1)
    best: tuple[PartPlace, ...] = ()
    least = least_rows(ways, strip)
    if least > rows:
        return best
    seen = set()
    for order, leans in _orders(ways, tries):
        effort.layings += 1
        if (order, leans) in seen:
            continue
        seen.add((order, leans))
        found = _lay_in_order(ways, strip, order, leans, rows, effort)
        if found is not None:
            top = max(spot.row + spot.way.rows for spot in found)
            if top_of(found, strip) < below and (not best or top < rows):
                best, rows = found, top
        if not effort.may_go_on() or (best and rows <= least):
            break
    return best


def least_rows(ways: Sequence[Sequence[Way]], strip: ClothStrip) -> int:
    """Return how many rows the parts take at least: as many as the tallest, and as have as many cells."""
    cells = sum(min(each.bits.bit_count() for each in some) for some in ways)
    return max(-(-cells // strip.columns), *(min(each.rows for each in some) for some in ways))


LEAST_LAYINGS = 8
"""How many layings are tried before the orders are stirred: by four weights, leaning either way."""


class Effort:
    """What a search may cost, counted in rows of cells set against rows of a part: the same on every machine.

    ``of_layings`` is how many are meant to be made, ``layings`` how many were. After each, ``told`` is told the share
    of the search that is done, from 0 to 1, and says whether to go on; ``stopped`` is true once it has said no.
    """

    def __init__(self, most: float, of_layings: int = 1, told: Callable[[float], bool] = lambda _: True) -> None:
        self.most, self.used, self.layings, self.stopped = most, 0, 0, False
        self._of_layings, self._told = of_layings, told

    def use(self, rows: int) -> None:
        """Count rows set against each other."""
        self.used += rows

    def may_go_on(self) -> bool:
        """Tell how far the search is, and return whether to make another laying."""
        share = max(self.used / self.most, self.layings / self._of_layings)
        self.stopped = self.stopped or not self._told(min(1.0, share))
        return not self.stopped and self.used < self.most


def _lay_in_order(
    ways: Sequence[Sequence[Way]],
    strip: ClothStrip,
    order: Sequence[int],
    leans: Sequence[int],
    rows: int,
    effort: Effort,
) -> tuple[PartPlace, ...] | None:
    """Lay parts one after the other, each as low as it may; None as soon as the strip grows to more than ``rows``.

    Each leans left (0) or right (1), in the order of the parts.
    """
    spots: list[PartPlace | None] = [None] * len(ways)
    taken = strip.taken
    for number in order:
        spot: PartPlace | None = None
        for each in ways[number]:
            found = _lowest_place(each, taken, strip, leans[number], rows, effort)
            if found is not None and (spot is None or found.row + each.rows < spot.row + spot.way.rows):
                spot = found
        if spot is None:
            return None
        spots[number] = spot
        taken |= spot.way.bits << (spot.row * strip.columns + spot.column)
    return tuple(spot for spot in spots if spot is not None)


def _lowest_place(each: Way, taken: int, strip: ClothStrip, lean: int, rows: int, effort: Effort) -> PartPlace | None:
    """The lowest place for a part, leaning left (0) or right (1)."""
    wide = strip.columns - each.columns + 1
    if wide <= 0:
        return None
    for first, count in _windows(each, strip, rows - each.rows + 1):
        high = first + count - 1 + each.rows
        cells = taken >> (first * strip.columns) & ((1 << (strip.columns * (high - first))) - 1)
        free = _corners(strip, first, count, wide, each.phase)
        if cells:
            effort.use(len(each.runs) * (high - first))
            free &= ~TakenCells(cells).blocked(each.runs)
        if free:
            return _place_of(free, each, strip, lean, first)
    return None


def _windows(each: Way, strip: ClothStrip, high: int) -> Iterator[tuple[int, int]]:
    """The rows that the corner of a part may lie on, ``high`` in all, from below: the first row and how many.

    Windows grow, so that what finds room low down costs little. Of a part tied to a stripe across, whose rows are far
    apart, each is looked at by itself: the work grows with the number of stripes, and not with the cloth between them.
    """
    if each.phase[1] is not None and strip.period[1] > each.rows:
        yield from ((row, 1) for row in range(each.phase[1], high, strip.period[1]))
        return
    first, count = 0, each.rows
    while first < high:
        yield first, min(count, high - first)
        first, count = first + count, 2 * count


def _place_of(free: int, each: Way, strip: ClothStrip, lean: int, first: int) -> PartPlace:
    """The lowest of free corners of a window that begins at the row ``first``."""
    lowest = (free & -free).bit_length() - 1
    row = lowest // strip.columns
    if lean:
        line = free >> (row * strip.columns) & ((1 << strip.columns) - 1)
        return PartPlace(each, line.bit_length() - 1, first + row)
    return PartPlace(each, lowest % strip.columns, first + row)


def _corners(strip: ClothStrip, first: int, high: int, wide: int, phase: tuple[int | None, int | None]) -> int:
    """The corners, in ``high`` rows from the row ``first`` on, at which a part stays on the strip and its stripes."""
    across, (x, y) = (1 << wide) - 1, phase
    if x is not None:
        across &= sum(1 << column for column in range(x, wide, strip.period[0]))
    if y is None:
        return _repeat_rows(across, high, strip.columns)
    begin, period = (y - first) % strip.period[1], strip.period[1]
    count = len(range(begin, high, period))
    return _repeat_rows(across, count, strip.columns * period) << (strip.columns * begin)


def _repeat_rows(row: int, count: int, step: int) -> int:
    """So many rows alike, each ``step`` bits after the one before."""
    found, have = (row, 1) if count > 0 else (0, count)
    while have < count:
        more = min(have, count - have)
        found |= found << (step * more)
        have += more
    return found


def _orders(ways: Sequence[Sequence[Way]], tries: int) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Orders of laying, and the lean of each part: by area, height, width and reach first, then these stirred.

    Of two stirred ones one leans all parts alike, the other leans them to either side, so that what is laid later finds
    room between the large ones.
    """
    first = [each[0] for each in ways]
    weights = (
        [float(each.bits.bit_count()) for each in first],
        [float(each.rows) for each in first],
        [float(each.columns) for each in first],
        [math.hypot(each.rows, each.columns) for each in first],
    )
    for i in range(LEAST_LAYINGS):
        yield _sort_heavy(weights[i // 2]), (i % 2,) * len(first)
    for i in range(LEAST_LAYINGS, LEAST_LAYINGS + tries):
        stir, mixed = LEAST_LAYINGS + (i - LEAST_LAYINGS) // 2, (i - LEAST_LAYINGS) % 2
        row = [w * (0.5 + (stir * (k + 1) * _GOLDEN % 1.0)) for k, w in enumerate(weights[stir // 2 % len(weights)])]
        leans = tuple(
            int(stir * (k + 2) * math.sqrt(2.0) % 1.0 * 2.0) if mixed else stir % 2 for k in range(len(first))
        )
        yield _sort_heavy(row), leans


def _sort_heavy(row: Sequence[float]) -> tuple[int, ...]:
    """The places of a row's figures, the heaviest first."""
    return tuple(sorted(range(len(row)), key=lambda k: (-row[k], k)))


_GOLDEN = 0.6180339887498949
"""Its multiples spread evenly over 0 to 1."""


def top_of(spots: Sequence[PartPlace], strip: ClothStrip) -> float:
    """Return how much of the strip's length is used (mm)."""
    return max((spot.row * strip.cell[1] + float(np.max(spot.way.ring[:, 1])) for spot in spots), default=0.0)
