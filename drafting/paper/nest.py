"""Pieces on a sheet so that the fewest tiles are printed: the search on a grid of cells."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from drafting.geometry.cells import Bools, TakenCells
from drafting.paper.raster import Grid, Shape
from drafting.record import dataclass

Ints = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class NestPlace:
    """One piece's place in a nest: its number, its shape (which holds the turn), and its corner in cells."""

    piece: int
    shape: Shape
    col: int
    row: int
    feet: int
    bits: int


@dataclass(frozen=True, slots=True)
class Nest:
    """A layout on a grid; ``spots`` in the order in which they were placed."""

    grid: Grid
    spots: tuple[NestPlace, ...]

    @property
    def tiles(self) -> int:
        """The tiles that carry something, as bits row * tiles across + column."""
        return _union(spot.feet for spot in self.spots)

    @property
    def parted(self) -> int:
        """How many pieces lie over a join that would lie whole on one tile."""
        return sum(spot.shape.fits and spot.feet.bit_count() > 1 for spot in self.spots)

    def score(self) -> tuple[int, int, int, int]:
        """Return what is to be small.

        Tiles printed, the pieces needlessly parted, the tiles of the rectangle they fill, its longer side.
        """
        across = self.grid.tiles[0]
        tiles = self.tiles
        used = [divmod(i, across) for i in range(tiles.bit_length()) if tiles >> i & 1]
        rows = max(r for r, _ in used) - min(r for r, _ in used) + 1
        cols = max(c for _, c in used) - min(c for _, c in used) + 1
        return len(used), self.parted, rows * cols, max(rows, cols)


def _union(bits: Iterable[int]) -> int:
    out = 0
    for some in bits:
        out |= some
    return out


@lru_cache(maxsize=512)
def _corners(grid: Grid, cols: int, rows: int) -> tuple[int, int, int]:
    """Corners at which a shape of that size stays on the sheet: all; those that meet the tile grid sideways.

    And up or down.
    """
    stride, (tx, ty) = grid.cols, grid.per_tile
    high, wide = grid.rows - rows + 1, stride - cols + 1
    if high <= 0 or wide <= 0:
        return 0, 0, 0
    column = ((1 << (stride * high)) - 1) // ((1 << stride) - 1)
    across = (1 << wide) - 1
    if grid.holds_whole(cols, rows):
        fx, fy = grid.uncut
        across = _union(1 << x for x in range(wide) if x % fx + cols <= fx)
        column = _union(1 << (y * stride) for y in range(high) if y % fy + rows <= fy)
    met = _union(1 << x for x in range(wide) if x % tx == 0 or (x + cols) % tx == 0)
    level = _union(across << (y * stride) for y in range(high) if y % ty == 0 or (y + rows) % ty == 0)
    return across * column, met * column, level


def candidates(shape: Shape, taken: TakenCells, grid: Grid) -> Ints:
    """Return free corners worth trying, as bit numbers in rising order.

    Those that touch something, or the tile grid, both ways.
    """
    every, met, level = _corners(grid, shape.cols, shape.rows)
    if not every:
        return _set_bits(0)
    free = every & ~taken.blocked(shape.runs)
    stride = grid.cols
    sideways = free & (met | ~(free << 1) | ~(free >> 1))
    updown = level | ~(free << stride) | ~(free >> stride)
    return _set_bits(sideways & updown)


def _set_bits(bits: int) -> Ints:
    raw = np.frombuffer(bits.to_bytes((bits.bit_length() + 7) // 8, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(raw, bitorder="little").view(np.bool_))  # of truths it is many times quicker


Ways = list[tuple[Shape, Ints, int]]
"""Shapes of one piece, each with the corners at which it adds the fewest tiles, and twice how many those are: one more
where a piece that would lie whole on a tile is parted there, which is worse than none and better than a tile."""


def ways(shapes: Sequence[Shape], taken: TakenCells, inked: int, grid: Grid) -> Ways:
    """Return how a piece can be placed so that it adds the fewest tiles, and of these so that it stays whole."""
    out: Ways = []
    blank = ~_set_tiles(inked, grid)
    for shape in shapes:
        at = candidates(shape, taken, grid)
        if not len(at):
            continue
        new = 2 * _new_tiles(shape, at, blank, grid)
        if shape.fits:
            new += shape.hits.sum(axis=1)[_places(grid)[0][at]] > 1
        least = int(new.min())
        if not out or least <= out[-1][2]:
            out = [way for way in out if way[2] == least]
            out.append((shape, at[new == least], least))
    return out


def best_spot(piece: int, found: Ways, grid: Grid, lean: int) -> NestPlace | None:
    """Return the place of the lower left, by rows (``lean`` 0), columns (1) or corners (2), among the best ways."""
    best: int | None = None
    chosen: tuple[Shape, int] | None = None
    for shape, at, _ in found:
        ranks = _rank_places(lean, at // grid.cols + shape.rows, at % grid.cols + shape.cols, grid.per_tile)
        first = int(ranks.argmin())
        if best is None or int(ranks[first]) < best:
            best, chosen = int(ranks[first]), (shape, int(at[first]))
    return None if chosen is None else _spot(piece, *chosen, grid)


def _spot(piece: int, shape: Shape, at: int, grid: Grid) -> NestPlace:
    row, col = divmod(at, grid.cols)
    tx, ty = grid.per_tile
    across = grid.tiles[0]
    feet = shape.feet(row % ty * tx + col % tx, across) << (row // ty * across + col // tx)
    return NestPlace(piece, shape, col, row, feet, shape.bits << at)


def _set_tiles(inked: int, grid: Grid) -> Bools:
    """Return the tiles whose bits are set (rows, columns)."""
    across, up = grid.tiles
    raw = np.frombuffer(inked.to_bytes((across * up + 7) // 8, "little"), dtype=np.uint8)
    return np.unpackbits(raw, bitorder="little", count=across * up).reshape(up, across).astype(np.bool_)


def _new_tiles(shape: Shape, at: Ints, blank: Bools, grid: Grid) -> npt.NDArray[np.float32]:
    """Return how many blank tiles a shape touches with its corner at each of some cells."""
    inner, tile = _places(grid)
    up, across = shape.span
    beyond = np.zeros((blank.shape[0] + up - 1, blank.shape[1] + across - 1), dtype=np.float32)
    beyond[: blank.shape[0], : blank.shape[1]] = blank
    window = np.lib.stride_tricks.as_strided(beyond, (up, across, *blank.shape), beyond.strides * 2)
    around = window.reshape(up * across, -1).T
    counts: npt.NDArray[np.float32] = np.einsum("ij,ij->i", shape.hits[inner[at]], around[tile[at]])
    return counts


@lru_cache(maxsize=8)
def _places(grid: Grid) -> tuple[Ints, Ints]:
    """Return of every cell its number within its tile, and its tile's number."""
    (tx, ty), across = grid.per_tile, grid.tiles[0]
    row, col = np.divmod(np.arange(grid.cols * grid.rows), grid.cols)
    return row % ty * tx + col % tx, row // ty * across + col // tx


def _rank_places(lean: int, top: Ints, right: Ints, per_tile: tuple[int, int]) -> Ints:
    """Return ranks of places by the upper right corners of what lies there: smaller is nearer the lower left."""
    tx, ty = per_tile
    if lean == 0:
        return top * _WIDE + right
    if lean == 1:
        return right * _WIDE + top
    ranks: Ints = (np.maximum(top * tx, right * ty) * _WIDE + top * tx + right * ty) * _WIDE + top
    return ranks


_WIDE = 1 << 20
"""More than any sum of cells across and up."""


def fill(
    grid: Grid,
    stock: Sequence[Sequence[Shape]],
    order: Sequence[int],
    lean: int,
    known: dict[tuple[int, int], Ways],
    most: int = 1 << 30,
) -> Nest | None:
    """Place pieces one after the other, each where it adds the fewest tiles.

    None if one finds no room, or as soon as more than ``most`` tiles are in use. ``known`` keeps the ways to place a
    piece beside what is taken, for other orders that begin alike.
    """
    spots: list[NestPlace] = []
    taken = inked = 0
    for piece in order:
        found = known.get((piece, taken))
        if found is None:
            found = known[piece, taken] = ways(stock[piece], TakenCells(taken), inked, grid)
        spot = best_spot(piece, found, grid, lean)
        if spot is None:
            return None
        spots.append(spot)
        taken |= spot.bits
        inked |= spot.feet
        if inked.bit_count() > most:
            return None
    return Nest(grid, tuple(spots))


def best_nest(
    grid: Grid,
    stock: Sequence[Sequence[Shape]],
    weights: Sequence[Sequence[float]],
    orders: Sequence[int],
    most: int = 1 << 30,
) -> Nest | None:
    """Return the nest of the fewest tiles found by placing pieces heaviest first, by each of some weights of theirs.

    ``orders`` are numbers: of the plain orders, each weight with each lean, and from there on of orders that stir the
    weights, always in the same way. A try ends as soon as it is worse than the best, or takes more than ``most`` tiles.
    """
    best: Nest | None = None
    seen: set[tuple[tuple[int, ...], int]] = set()
    known: dict[tuple[int, int], Ways] = {}
    for order, lean in (_order(weights, number) for number in orders):
        if (order, lean) in seen:
            continue
        seen.add((order, lean))
        found = fill(grid, stock, order, lean, known, min(most, len_of(best)))
        if found is not None and (best is None or found.score() < best.score()):
            best = found
    return best


def len_of(nest: Nest | None) -> int:
    """Return how many tiles a nest takes; no nest takes any number."""
    return 1 << 30 if nest is None else nest.tiles.bit_count()


def _order(weights: Sequence[Sequence[float]], number: int) -> tuple[tuple[int, ...], int]:
    """Return an order of placing with its lean."""
    if number < len(weights) * _LEANS:
        return _heaviest_first(weights[number // _LEANS]), number % _LEANS
    i = number - len(weights) * _LEANS
    row = weights[i % len(weights)]
    return _heaviest_first([w * (0.4 + _stir((i + 1) * (k + 1)) * 1.2) for k, w in enumerate(row)]), i % _LEANS


_LEANS = 3


def _heaviest_first(weights: Sequence[float]) -> tuple[int, ...]:
    return tuple(sorted(range(len(weights)), key=lambda i: (-weights[i], i)))


def _stir(number: int) -> float:
    """Return the number's place in a sequence that spreads evenly over 0 to 1 (multiples of the golden ratio)."""
    return number * 0.6180339887498949 % 1.0
