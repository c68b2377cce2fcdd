"""Small pieces laid anew where they are parted over more tiles than they need and tiles printed anyway have room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.geometry.cells import Bools, even_points, quarter_turn, touch_cells
from drafting.paper.settling import Outline, count_slivers, keeps_apart, place_ring, tiles_of
from drafting.paper.sheet import Placement

_CELL: Final = 5.0
"""Of the cells in which a place is sought, about (mm)."""

_MOST: Final = 4
"""Tiles that a piece lies on at most that is laid anew: a larger one finds no other place."""

_TRIED: Final = 24
"""Places of one turn of a piece that are looked at closely, at most."""

_HALF: Final = 0.5
"""Of a cell: counts of cells are whole but for the last figures of a sum."""

Side = tuple[float, float]
Cell = tuple[int, int]


def gather_pieces(
    placements: Sequence[Placement], outlines: Sequence[Outline], live: Side, gap: float
) -> list[Placement]:
    """Lay each piece that is parted needlessly where it lies on fewer tiles, ``gap`` mm from the others.

    No tile is added, and no other piece is moved.
    """
    out = list(placements)
    on = [tiles_of(each, outlines[each.piece], live) for each in out]
    for i in sorted(range(len(out)), key=lambda at: outlines[out[at].piece].area):
        outline = outlines[out[i].piece]
        if not _fewest_tiles(outline, live) < len(on[i]) <= _MOST:
            continue
        printed = set[Cell]().union(*on)
        for moved in _list_places(i, out, outlines, live, gap, printed):
            tiles = tiles_of(moved, outline, live)
            fewer = len(tiles) < len(on[i]) and tiles <= printed
            clean = count_slivers(moved, outline, live) <= count_slivers(out[i], outline, live)
            if fewer and clean and keeps_apart(i, moved, out, outlines, gap):
                out[i], on[i] = moved, tiles
                break
    return out


def _fewest_tiles(outline: Outline, live: Side) -> int:
    """How many tiles a piece needs at least, upright or lying, by its bounds."""
    wide, high = map(float, np.ptp(outline.ring, axis=0))
    ways = ((wide, high), (high, wide))
    return min(math.ceil(across / live[0]) * math.ceil(up / live[1]) for across, up in ways)


def _list_places(
    at: int,
    placements: Sequence[Placement],
    outlines: Sequence[Outline],
    live: Side,
    gap: float,
    printed: set[Cell],
) -> Iterator[Placement]:
    """Yield places of a piece that are free of others, on the tiles printed: those on the fewest tiles first."""
    per_tile = round(live[0] / _CELL), round(live[1] / _CELL)
    cell = live[0] / per_tile[0], live[1] / per_tile[1]
    low = min(x for x, _ in printed), min(y for _, y in printed)
    taken = _taken_cells(at, placements, outlines, cell, gap / 2.0, per_tile, printed)
    own = placements[at]
    ring = outlines[own.piece].ring
    found: list[tuple[int, int, int, int, Placement]] = []
    for turn in range(4):
        turned = quarter_turn(ring, turn)
        mask = touch_cells(turned, even_points(turned, min(cell) / 4), cell, gap / 2.0)
        rows, cols = _free_corners(taken, mask)
        x, y = turned.min(axis=0).tolist()
        across = (cols + mask.shape[1] - 1) // per_tile[0] - cols // per_tile[0] + 1
        up = (rows + mask.shape[0] - 1) // per_tile[1] - rows // per_tile[1] + 1
        for n in np.lexsort((cols, rows, across * up))[:_TRIED].tolist():
            col, row = int(cols[n]) + low[0] * per_tile[0], int(rows[n]) + low[1] * per_tile[1]
            dx, dy = col * cell[0] + gap / 2.0 - x, row * cell[1] + gap / 2.0 - y
            found.append((int(across[n] * up[n]), turn, row, col, Placement(own.piece, turn, dx, dy)))
    yield from (place for *_, place in sorted(found, key=lambda each: each[:4]))


def _taken_cells(
    at: int,
    placements: Sequence[Placement],
    outlines: Sequence[Outline],
    cell: Side,
    margin: float,
    per_tile: Cell,
    printed: set[Cell],
) -> Bools:
    """The cells (rows from below, columns) that other pieces touch, or that lie on no tile that is printed."""
    (x0, y0), (x1, y1) = (tuple(pick(each[i] for each in printed) for i in range(2)) for pick in (min, max))
    taken = np.ones(((y1 - y0 + 1) * per_tile[1], (x1 - x0 + 1) * per_tile[0]), dtype=np.bool_)
    for x, y in printed:
        left, below = (x - x0) * per_tile[0], (y - y0) * per_tile[1]
        taken[below : below + per_tile[1], left : left + per_tile[0]] = False
    for i, placement in enumerate(placements):
        if i == at:
            continue
        ring = place_ring(placement, outlines[placement.piece])
        corner = (ring.min(axis=0) - margin) / cell
        col, row = np.floor(corner).astype(np.intp).tolist()
        inset = (corner - (col, row)) * cell
        mask = touch_cells(ring, even_points(ring, min(cell) / 4), cell, margin, (float(inset[0]), float(inset[1])))
        left, below = col - x0 * per_tile[0], row - y0 * per_tile[1]
        rows, cols = (slice(max(start, 0), start + long) for start, long in zip((below, left), mask.shape, strict=True))
        part = taken[rows, cols]
        cut = mask[max(-below, 0) :, max(-left, 0) :]
        part |= cut[: part.shape[0], : part.shape[1]]
    return taken


def _free_corners(taken: Bools, mask: Bools) -> tuple[np.ndarray[tuple[int], np.dtype[np.intp]], ...]:
    """The rows and columns of the lower left corners at which a mask lies on no taken cell."""
    high, wide = taken.shape[0] - mask.shape[0] + 1, taken.shape[1] - mask.shape[1] + 1
    if high <= 0 or wide <= 0:
        return np.empty(0, dtype=np.intp), np.empty(0, dtype=np.intp)
    over = np.fft.rfft2(taken) * np.conj(np.fft.rfft2(mask, taken.shape))
    count = np.fft.irfft2(over, taken.shape)[:high, :wide]
    rows, cols = np.nonzero(count < _HALF)
    return rows, cols
