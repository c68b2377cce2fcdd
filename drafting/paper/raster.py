"""Piece outlines on a grid of cells: which cells a piece touches, as numbers whose bits are cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from drafting.tolerance import TOLERANCE

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]

_STEPS = np.linspace(0.0, 1.0, 17)[1:]
_BASIS = np.stack([(1 - _STEPS) ** 3, 3 * (1 - _STEPS) ** 2 * _STEPS, 3 * (1 - _STEPS) * _STEPS**2, _STEPS**3], axis=1)


def ring_points(paths: Sequence[Floats]) -> Floats:
    """Return the closed polygon, shape (m, 2), through a ring given as cubic segments, each array of shape (n, 4, 2).

    Sixteen chords a segment; on pattern lines that strays less than the space kept between pieces.
    """
    segments = np.concatenate(paths)
    points: Floats = (_BASIS @ segments).reshape(-1, 2)
    return np.concatenate([segments[:1, 0], points])


def even_points(ring: Floats, step: float) -> Floats:
    """Return points along a polygon no further apart than ``step`` mm, shape (m, 2)."""
    lengths = np.hypot(*np.diff(ring, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(lengths)])
    at = np.union1d(np.arange(0.0, along[-1], step), along)
    return np.stack([np.interp(at, along, ring[:, 0]), np.interp(at, along, ring[:, 1])], axis=1)


def turned(points: Floats, turn: int) -> Floats:
    """Return points turned by quarter turns anticlockwise about the origin, exactly."""
    x, y = points[:, 0], points[:, 1]
    return np.stack([(x, y), (-y, x), (-x, -y), (y, -x)][turn % 4], axis=1)


def touched(ring: Floats, cell: tuple[float, float], margin: float) -> Bools:
    """Return the cells (rows from below, columns) that a polygon widened by ``margin`` touches.

    The polygon's lower left bound lies ``margin`` inside the lower left corner of cell (0, 0).
    """
    low = ring.min(axis=0) - margin
    size = ring.max(axis=0) + margin - low
    cols, rows = (max(1, int(np.ceil(side / c - TOLERANCE.same_point))) for side, c in zip(size, cell, strict=True))
    mask = filled(ring - low, (rows, cols), cell)
    along = even_points(ring - low, min(cell) / 4)
    corners = margin * np.array(
        [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7)]
    )
    reach = ((along[:, None, :] + corners) / cell).reshape(-1, 2).astype(np.intp)
    mask[np.clip(reach[:, 1], 0, rows - 1), np.clip(reach[:, 0], 0, cols - 1)] = True
    return mask


def filled(ring: Floats, shape: tuple[int, int], cell: tuple[float, float]) -> Bools:
    """Return the cells whose middles lie inside a polygon (even-odd)."""
    rows, cols = shape
    x, y = ring[:, 0] / cell[0], ring[:, 1] / cell[1]
    x0, y0, x1, y1 = x[:-1], y[:-1], x[1:], y[1:]
    middles = np.arange(rows) + 0.5
    crossed = (y0[None] <= middles[:, None]) != (y1[None] <= middles[:, None])
    row, edge = np.nonzero(crossed)
    at = x0[edge] + (middles[row] - y0[edge]) * (x1[edge] - x0[edge]) / (y1[edge] - y0[edge])
    flips = np.zeros((rows, cols + 1), dtype=np.int64)
    np.add.at(flips, (row, np.clip(np.ceil(at - 0.5), 0, cols).astype(np.intp)), 1)
    inside: Bools = (np.cumsum(flips, axis=1)[:, :cols] % 2).astype(np.bool_)
    return inside


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of ``tiles`` (columns, rows) tiles, each of ``per_tile`` (columns, rows) cells.

    Each ``cell`` mm.
    """

    tiles: tuple[int, int]
    per_tile: tuple[int, int]
    cell: tuple[float, float]

    @property
    def cols(self) -> int:
        """Cells across the sheet; also the distance in bits from one row of cells to the next."""
        return self.tiles[0] * self.per_tile[0]

    @property
    def rows(self) -> int:
        """Cells up the sheet."""
        return self.tiles[1] * self.per_tile[1]


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece in one turn, on the cells of a grid.

    ``bits`` has bit y * grid.cols + x set where the piece touches cell (x, y) counted from its own corner; ``runs``
    are the unbroken rows of cells (offset, length); ``feet[ry][rx]`` are the tiles it touches when its corner lies at
    cell (rx, ry) of a tile, as bits row * grid.tiles[0] + column.
    """

    turn: int
    cols: int
    rows: int
    bits: int
    runs: tuple[tuple[int, int], ...]
    feet: list[list[int]]


def shape_of(mask: Bools, turn: int, grid: Grid) -> Shape:
    """Return a piece's mask as a Shape for a grid."""
    rows, cols = mask.shape
    edges = np.diff(np.pad(mask, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    y, begin = np.nonzero(edges == 1)
    length = np.nonzero(edges == -1)[1] - begin
    runs = tuple(zip((y * grid.cols + begin).tolist(), length.tolist(), strict=True))
    bits = 0
    for offset, size in runs:
        bits |= ((1 << size) - 1) << offset
    return Shape(turn, cols, rows, bits, runs, _feet(mask, grid))


def _feet(mask: Bools, grid: Grid) -> list[list[int]]:
    rows, cols = mask.shape
    tx, ty = grid.per_tile
    sums = np.zeros((rows + 1, cols + 1), dtype=np.int32)
    sums[1:, 1:] = mask.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    up, across = -(-(rows + ty - 1) // ty), -(-(cols + tx - 1) // tx)
    ys = np.clip(np.arange(up + 1)[None] * ty - np.arange(ty)[:, None], 0, rows)
    xs = np.clip(np.arange(across + 1)[None] * tx - np.arange(tx)[:, None], 0, cols)
    corner = sums[ys[:, :, None, None], xs[None, None]]  # (ty, up + 1, tx, across + 1)
    hit = np.diff(np.diff(corner, axis=1), axis=3) > 0
    places = grid.tiles[0] * np.arange(up)[:, None] + np.arange(across)[None]
    wide = int(places.max()) > 62
    weights = np.array([[1 << int(place) for place in row] for row in places], dtype=object if wide else np.int64)
    tiles = (hit.astype(object) if wide else hit) * weights[None, :, None, :]
    feet: list[list[int]] = tiles.sum(axis=(1, 3)).tolist()
    return feet
