"""Pieces on the cells of a sheet of tiles: which tiles each touches, wherever on the sheet it lies."""

from __future__ import annotations

from dataclasses import field

import numpy as np
import numpy.typing as npt

from drafting.geometry.cells import Bools, Runs, bits_of, runs_of
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of ``tiles`` (columns, rows) tiles, each of ``per_tile`` (columns, rows) cells.

    Each ``cell`` mm. ``uncut`` are the cells (columns, rows) of the fields that a piece which fits into one lies whole
    in, (0, 0) where any may be parted.
    """

    tiles: tuple[int, int]
    per_tile: tuple[int, int]
    cell: tuple[float, float]
    uncut: tuple[int, int] = (0, 0)

    @property
    def cols(self) -> int:
        """Cells across the sheet; also the distance in bits from one row of cells to the next."""
        return self.tiles[0] * self.per_tile[0]

    @property
    def rows(self) -> int:
        """Cells up the sheet."""
        return self.tiles[1] * self.per_tile[1]

    def holds_whole(self, cols: int, rows: int) -> bool:
        """Whether a shape of that size fits into one of the fields that it may not be parted by."""
        return cols <= self.uncut[0] and rows <= self.uncut[1]


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece in one turn, on the cells of a grid.

    ``bits`` has bit y * grid.cols + x set where the piece touches cell (x, y) counted from its own corner; ``runs``
    are the unbroken rows of cells (offset, length). ``hits`` tells which tiles it touches: row ry * cells per tile +
    rx, for a corner at cell (rx, ry) of a tile, has a 1 for each tile of ``span`` (up, across) from that one on.
    ``fits`` tells whether the piece would lie whole on one tile, in this turn or another.
    """

    turn: int
    cols: int
    rows: int
    bits: int
    runs: Runs
    hits: npt.NDArray[np.float32] = field(compare=False, repr=False)
    span: tuple[int, int]
    fits: bool

    def feet(self, inner: int, across: int) -> int:
        """Return the tiles touched with the corner at an inner cell, as bits row * ``across`` + column."""
        wide = self.span[1]
        return sum(1 << (at // wide * across + at % wide) for at in np.flatnonzero(self.hits[inner]).tolist())


def shape_of(mask: Bools, turn: int, grid: Grid, *, fits: bool = False) -> Shape:
    """Return a piece's mask as a Shape for a grid."""
    rows, cols = mask.shape
    runs = runs_of(mask, grid.cols)
    hit = _hits(mask, grid)
    ty, up, tx, across = hit.shape
    hits = hit.transpose(0, 2, 1, 3).reshape(ty * tx, up * across).astype(np.float32)
    return Shape(turn, cols, rows, bits_of(runs), runs, hits, (up, across), fits)


def _hits(mask: Bools, grid: Grid) -> Bools:
    """Return which tiles a mask touches, by the cell of a tile that its corner lies at: (ry, up, rx, across)."""
    rows, cols = mask.shape
    tx, ty = grid.per_tile
    sums = np.zeros((rows + 1, cols + 1), dtype=np.int32)
    sums[1:, 1:] = mask.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    up, across = -(-(rows + ty - 1) // ty), -(-(cols + tx - 1) // tx)
    ys = np.clip(np.arange(up + 1)[None] * ty - np.arange(ty)[:, None], 0, rows)
    xs = np.clip(np.arange(across + 1)[None] * tx - np.arange(tx)[:, None], 0, cols)
    corner = sums[ys[:, :, None, None], xs[None, None]]  # (ty, up + 1, tx, across + 1)
    within = corner[:, 1:, :, 1:] - corner[:, :-1, :, 1:] - corner[:, 1:, :, :-1] + corner[:, :-1, :, :-1]
    hit: Bools = within > 0
    return hit
