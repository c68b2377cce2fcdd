"""Parts on a strip of cloth so that it is short: the search on a grid of cells."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from drafting.geometry.cells import Floats, Runs, TakenCells, bits_of, even_points, runs_of, touch_cells
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class ClothStrip:
    """A strip of cloth: ``columns`` cells wide and as long as need be.

    ``cell`` is the size of a cell (mm). A part that is tied to the stripe may only lie a whole number of ``period``
    cells from where it is tied to: along x (0) or y (1), by ``axis``.
    """

    columns: int
    cell: tuple[float, float]
    axis: int = 1
    period: int = 1


@dataclass(frozen=True, slots=True)
class Way:
    """One way for a part to lie: its polygon, moved so that its cells' lower left corner is the origin, and its cells.

    ``phase`` is the cell of the period that the corner must lie on; None where it may lie anywhere.
    """

    turned: bool
    ring: Floats
    rows: int
    columns: int
    runs: Runs
    bits: int
    phase: int | None


@dataclass(frozen=True, slots=True)
class PartPlace:
    """Where a part was laid: the corner's cell, and the way it lies."""

    way: Way
    column: int
    row: int


def way(ring: Floats, strip: ClothStrip, gap: float, shift: float | None, turned: bool) -> Way:
    """Return a way for a part to lie; ``shift`` ties it to the stripe: its origin lies so far (mm) past a repeat."""
    margin, axis = gap / 2.0, strip.axis
    cell, inset, phase = strip.cell, [0.0, 0.0], None
    if shift is not None:
        past = shift + float(ring[:, axis].min()) - margin
        inset[axis] = past % cell[axis]
        phase = round((past - inset[axis]) / cell[axis]) % strip.period
    low = ring.min(axis=0) - margin - inset
    mask = touch_cells(ring, even_points(ring, min(cell) / 4.0), cell, margin, (inset[0], inset[1]))
    runs = runs_of(mask, strip.columns)
    rows, columns = mask.shape
    return Way(turned, ring - low, rows, columns, runs, bits_of(runs), phase)


def has_room(each: Way, strip: ClothStrip) -> bool:
    """Tell whether a strip is wide enough for a way to lie, and for the stripe along it that it is tied to."""
    spare = strip.columns - each.columns
    return spare >= (each.phase if each.phase is not None and strip.axis == 0 else 0)


def pack_shortest(ways: Sequence[Sequence[Way]], strip: ClothStrip, tries: int) -> tuple[PartPlace, ...]:
    """Return where each part lies, by the shortest of some layings: parts heaviest first, by several weights.

    Each part lies in one of its ways, for each of which there must be room.
    """
    rows = sum(max(way.rows for way in each) + strip.period for each in ways)
    best: tuple[PartPlace, ...] = ()
    for order, lean in _orders(ways, tries):
        found = _lay_in_order(ways, strip, order, lean, rows)
        if found is not None:
            top = max(spot.row + spot.way.rows for spot in found)
            if not best or top < rows:
                best, rows = found, top
    return best


def _lay_in_order(
    ways: Sequence[Sequence[Way]], strip: ClothStrip, order: Sequence[int], lean: int, rows: int
) -> tuple[PartPlace, ...] | None:
    """Lay parts one after the other, each as low as it may; None as soon as the strip grows to more than ``rows``."""
    spots: list[PartPlace | None] = [None] * len(ways)
    taken = 0
    for number in order:
        cells = TakenCells(taken)
        spot: PartPlace | None = None
        for each in ways[number]:
            found = _lowest_place(each, cells, strip, lean, rows)
            if found is not None and (spot is None or found.row + each.rows < spot.row + spot.way.rows):
                spot = found
        if spot is None:
            return None
        spots[number] = spot
        taken |= spot.way.bits << (spot.row * strip.columns + spot.column)
    return tuple(spot for spot in spots if spot is not None)


def _lowest_place(each: Way, cells: TakenCells, strip: ClothStrip, lean: int, rows: int) -> PartPlace | None:
    """The lowest place for a part, leaning left (0) or right (1)."""
    high, wide = rows - each.rows + 1, strip.columns - each.columns + 1
    if high <= 0 or wide <= 0:
        return None
    free = _corners(strip, high, wide, each.phase) & ~cells.blocked(each.runs)
    if not free:
        return None
    first = (free & -free).bit_length() - 1
    row = first // strip.columns
    if lean:
        line = free >> (row * strip.columns) & ((1 << strip.columns) - 1)
        return PartPlace(each, line.bit_length() - 1, row)
    return PartPlace(each, first % strip.columns, row)


def _corners(strip: ClothStrip, high: int, wide: int, phase: int | None) -> int:
    """The corners at which a part stays on the strip, and keeps to the stripe."""
    across = (1 << wide) - 1
    if phase is not None and strip.axis == 0:
        across &= sum(1 << column for column in range(phase, wide, strip.period))
    if phase is None or strip.axis == 0:
        return across * (((1 << (strip.columns * high)) - 1) // ((1 << strip.columns) - 1))
    count = len(range(phase, high, strip.period))
    step = strip.columns * strip.period
    return across * (((1 << (step * count)) - 1) // ((1 << step) - 1)) << (strip.columns * phase) if count else 0


def _orders(ways: Sequence[Sequence[Way]], tries: int) -> Iterator[tuple[tuple[int, ...], int]]:
    """Orders of laying, each with a lean: by area, height, width and reach first, then these stirred."""
    first = [each[0] for each in ways]
    weights = (
        [float(each.bits.bit_count()) for each in first],
        [float(each.rows) for each in first],
        [float(each.columns) for each in first],
        [math.hypot(each.rows, each.columns) for each in first],
    )
    seen = set()
    for i in range(len(weights) * 2 + tries):
        row, lean = weights[i // 2 % len(weights)], i % 2
        if i >= len(weights) * 2:
            row = [w * (0.5 + (i * (k + 1) * _GOLDEN % 1.0)) for k, w in enumerate(row)]
        order = tuple(sorted(range(len(row)), key=lambda k: (-row[k], k)))
        if (order, lean) not in seen:
            seen.add((order, lean))
            yield order, lean


_GOLDEN = 0.6180339887498949
"""Its multiples spread evenly over 0 to 1."""


def top_of(spots: Sequence[PartPlace], strip: ClothStrip) -> float:
    """Return how much of the strip's length is used (mm)."""
    return max((spot.row * strip.cell[1] + float(np.max(spot.way.ring[:, 1])) for spot in spots), default=0.0)
