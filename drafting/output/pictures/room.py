"""Room for words inside a piece: a raster of the cells that hold neither ink nor edge."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.geometry.cells import Bools, fill_cells
from drafting.output.pdf.ink import Floats, sample_strokes
from drafting.record import dataclass

_UNEVEN: Final = math.sqrt(2.0)
"""Cells kept below and left of an outline: no whole number, so that edges, which lie a round figure apart, don't run
between two cells, where the last figure of a sum would choose one of them."""


@dataclass(slots=True)
class Room:
    """Free cells of ``cell`` mm; cell (row 0, column 0) has its lower left corner at (x, y).

    Taking room marks cells as no longer free.
    """

    free: Bools
    x: float
    y: float
    cell: float
    _sums: npt.NDArray[np.int32] | None = None
    _shunned: Bools | None = None

    @staticmethod
    def inside(outline: Floats, ink: Sequence[Floats], cell: float) -> Room:
        """Return the room inside a closed outline (cubics) that the ink (cubics) leaves."""
        edge = sample_strokes([outline], cell / 2)
        low = edge.min(axis=0) - _UNEVEN * cell
        cols, rows = (int(n) + 2 for n in np.ceil((edge.max(axis=0) - low) / cell))
        free = fill_cells(np.concatenate([edge, edge[:1]]) - low, (rows, cols), (cell, cell))
        room = Room(free, float(low[0]), float(low[1]), cell)
        room.take(np.concatenate([edge, sample_strokes(ink, cell / 2)]) if ink else edge)
        return room

    def take(self, points: Floats) -> None:
        """Mark the cells under some points as taken."""
        col = ((points[:, 0] - self.x) / self.cell).astype(np.intp)
        row = ((points[:, 1] - self.y) / self.cell).astype(np.intp)
        ok = (col >= 0) & (row >= 0) & (row < self.free.shape[0]) & (col < self.free.shape[1])
        self.free[row[ok], col[ok]] = False
        self._sums = None

    def shun(self, points: Floats) -> None:
        """Mark the cells under some points, and those beside them, as better left free."""
        col = ((points[:, 0] - self.x) / self.cell).astype(np.intp)
        row = ((points[:, 1] - self.y) / self.cell).astype(np.intp)
        for up, aside in itertools.product((-1, 0, 1), repeat=2):
            rows, cols = row + up, col + aside
            ok = (cols >= 0) & (rows >= 0) & (rows < self.free.shape[0]) & (cols < self.free.shape[1])
            self._shunning[rows[ok], cols[ok]] = True

    def shun_lines(self, xs: Sequence[float], ys: Sequence[float]) -> None:
        """Mark the cells of upright lines at ``xs`` and level lines at ``ys``, and beside them, as better left free."""
        for x in xs:
            col = int((x - self.x) / self.cell)
            self._shunning[:, max(col - 1, 0) : max(col + 2, 0)] = True
        for y in ys:
            row = int((y - self.y) / self.cell)
            self._shunning[max(row - 1, 0) : max(row + 2, 0)] = True

    @property
    def _shunning(self) -> Bools:
        if self._shunned is None:
            self._shunned = np.zeros_like(self.free)
        return self._shunned

    def without(self, xs: Sequence[float], ys: Sequence[float]) -> Room:
        """Return this room with upright lines at ``xs`` and level lines at ``ys`` taken as well."""
        free = self.free.copy()
        for x in xs:
            col = int((x - self.x) / self.cell)
            free[:, max(col, 0) : max(col + 1, 0)] = False
        for y in ys:
            row = int((y - self.y) / self.cell)
            free[max(row, 0) : max(row + 1, 0)] = False
        return Room(free, self.x, self.y, self.cell)

    def part(self, x0: float, y0: float, x1: float, y1: float) -> Room:
        """Return the part of this room that lies within a box (xmin, ymin, xmax, ymax), maybe none of it."""
        left, low = (max(math.ceil((at - own) / self.cell), 0) for at, own in ((x0, self.x), (y0, self.y)))
        right, high = (max(math.floor((at - own) / self.cell), 0) for at, own in ((x1, self.x), (y1, self.y)))
        free = self.free[low:high, left:right]
        return Room(free, self.x + left * self.cell, self.y + low * self.cell, self.cell)

    def best(self, width: float, height: float) -> tuple[float, float] | None:
        """Return the lower left corner of the roomiest free box of that size (mm); None if there is none.

        Roomiest: the one in the middle of the free places, so that words don't crowd an edge.
        """
        cols, rows = math.ceil(width / self.cell) + 1, math.ceil(height / self.cell) + 1
        if rows > self.free.shape[0] or cols > self.free.shape[1]:
            return None
        fits = self._windows(rows, cols)
        row, col = np.nonzero(fits)
        if not len(row):
            return None
        middle = np.array([(row.min() + row.max()) / 2, (col.min() + col.max()) / 2])
        clear = _clearance(fits)[row, col]
        far = np.hypot(row - middle[0], col - middle[1])
        at = int(np.lexsort((np.arange(len(row)), far, -clear))[0])
        spare_x, spare_y = (cols * self.cell - width) / 2, (rows * self.cell - height) / 2
        return self.x + float(col[at]) * self.cell + spare_x, self.y + float(row[at]) * self.cell + spare_y

    def _windows(self, rows: int, cols: int) -> Bools:
        """Return the lower left cells of every wholly free window of that size."""
        sums = self._sums
        if sums is None:
            sums = np.zeros((self.free.shape[0] + 1, self.free.shape[1] + 1), dtype=np.int32)
            np.cumsum(np.cumsum(self.free, axis=0, dtype=np.int32), axis=1, out=sums[1:, 1:])
            self._sums = sums
        inside = sums[rows:, cols:] - sums[:-rows, cols:] - sums[rows:, :-cols] + sums[:-rows, :-cols]
        whole: Bools = inside == rows * cols
        return whole

    def holds(self, points: Floats, shyly: bool = False) -> bool:
        """Tell whether all of some points lie on free cells; ``shyly``: none of which is better left free."""
        col = np.floor((points[:, 0] - self.x) / self.cell).astype(np.intp)
        row = np.floor((points[:, 1] - self.y) / self.cell).astype(np.intp)
        if col.min() < 0 or row.min() < 0 or row.max() >= self.free.shape[0] or col.max() >= self.free.shape[1]:
            return False
        free = bool(self.free[row, col].all())
        return free and not (shyly and bool(self._shunning[row, col].any()))

    def cells(self, box: tuple[float, float, float, float]) -> tuple[slice, slice] | None:
        """Return the cells (rows, columns) that a level box touches (xmin, ymin, xmax, ymax); None if it sticks out."""
        x0, y0, x1, y1 = box
        left, right = math.floor((x0 - self.x) / self.cell), math.floor((x1 - self.x) / self.cell)
        low, high = math.floor((y0 - self.y) / self.cell), math.floor((y1 - self.y) / self.cell)
        if left < 0 or low < 0 or high >= self.free.shape[0] or right >= self.free.shape[1]:
            return None
        return slice(low, high + 1), slice(left, right + 1)

    def holds_box(self, box: tuple[float, float, float, float], shyly: bool = False) -> bool:
        """Tell whether a level box lies on free cells; ``shyly``: none of which is better left free."""
        cells = self.cells(box)
        if cells is None or not self.free[cells].all():
            return False
        return not (shyly and bool(self._shunning[cells].any()))

    def take_box(self, box: tuple[float, float, float, float]) -> None:
        """Mark the cells under a level box as taken; it must not stick out."""
        cells = self.cells(box)
        if cells is not None:
            self.free[cells] = False
            self._sums = None

    def shun_box(self, box: tuple[float, float, float, float]) -> None:
        """Mark the cells beside a level box as better left free."""
        left, low, right, high = box
        cells = self.cells((left - self.cell, low - self.cell, right + self.cell, high + self.cell))
        if cells is not None:
            self._shunning[cells] = True


def _clearance(fits: Bools, most: int = 4) -> Floats:
    """Return how many cells away from an unfit place each fit place lies, up to ``most``."""
    depth = fits.astype(np.float64)
    kept = fits
    for _ in range(most - 1):
        shrunk = np.zeros_like(kept)
        shrunk[1:-1, 1:-1] = kept[1:-1, 1:-1] & kept[:-2, 1:-1] & kept[2:, 1:-1] & kept[1:-1, :-2] & kept[1:-1, 2:]
        if not shrunk.any():
            break
        depth += shrunk
        kept = shrunk
    return depth
