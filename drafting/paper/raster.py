"""Piece outlines on a grid of cells: which cells a piece touches, as numbers whose bits are cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field

import numpy as np
import numpy.typing as npt

from drafting.record import dataclass
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
    at = np.sort(np.concatenate([np.arange(0.0, along[-1], step), along]))  # a point twice does no harm
    return np.stack([np.interp(at, along, ring[:, 0]), np.interp(at, along, ring[:, 1])], axis=1)


def turned(points: Floats, turn: int) -> Floats:
    """Return points turned by quarter turns anticlockwise about the origin, exactly."""
    x, y = points[:, 0], points[:, 1]
    return np.stack([(x, y), (-y, x), (-x, -y), (y, -x)][turn % 4], axis=1)


def touched(ring: Floats, along: Floats, cell: tuple[float, float], margin: float) -> Bools:
    """Return the cells (rows from below, columns) that a polygon widened by ``margin`` touches.

    ``along`` are points of its outline, a quarter of a cell apart. The polygon's lower left bound lies ``margin``
    inside the lower left corner of cell (0, 0).
    """
    low = ring.min(axis=0) - margin
    size = ring.max(axis=0) + margin - low
    cols, rows = (max(1, int(np.ceil(side / c - TOLERANCE.same_point))) for side, c in zip(size, cell, strict=True))
    mask = filled(ring - low, (rows, cols), cell)
    corners = margin * np.array(
        [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7)]
    )
    reach = (((along - low)[:, None, :] + corners) / cell).reshape(-1, 2).astype(np.intp)
    mask[np.clip(reach[:, 1], 0, rows - 1), np.clip(reach[:, 0], 0, cols - 1)] = True
    return mask


def filled(ring: Floats, shape: tuple[int, int], cell: tuple[float, float]) -> Bools:
    """Return the cells whose middles lie inside a polygon (even-odd)."""
    rows, cols = shape
    x, y = ring[:, 0] / cell[0], ring[:, 1] / cell[1]
    # an edge crosses the middles of these rows
    low, high = np.minimum(y[:-1], y[1:]), np.maximum(y[:-1], y[1:])
    first = np.clip(np.ceil(low - 0.5), 0, rows).astype(np.intp)
    count = np.clip(np.ceil(high - 0.5), 0, rows).astype(np.intp) - first
    edge = np.repeat(np.arange(len(count)), count)
    row = first[edge] + np.arange(len(edge)) - (np.cumsum(count) - count)[edge]
    at = x[edge] + (row + 0.5 - y[edge]) * (x[edge + 1] - x[edge]) / (y[edge + 1] - y[edge])
    col = np.clip(np.ceil(at - 0.5), 0, cols).astype(np.intp)
    flips = np.bincount(row * (cols + 1) + col, minlength=rows * (cols + 1)).reshape(rows, cols + 1)
    inside: Bools = (np.cumsum(flips[:, :cols], axis=1) & 1).astype(np.bool_)
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
    are the unbroken rows of cells (offset, length). ``hits`` tells which tiles it touches: row ry * cells per tile +
    rx, for a corner at cell (rx, ry) of a tile, has a 1 for each tile of ``span`` (up, across) from that one on.
    """

    turn: int
    cols: int
    rows: int
    bits: int
    runs: tuple[tuple[int, int], ...]
    hits: npt.NDArray[np.float32] = field(compare=False, repr=False)
    span: tuple[int, int]

    def feet(self, inner: int, across: int) -> int:
        """Return the tiles touched with the corner at an inner cell, as bits row * ``across`` + column."""
        wide = self.span[1]
        return sum(1 << (at // wide * across + at % wide) for at in np.flatnonzero(self.hits[inner]).tolist())


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
    hit = _hits(mask, grid)
    ty, up, tx, across = hit.shape
    hits = hit.transpose(0, 2, 1, 3).reshape(ty * tx, up * across).astype(np.float32)
    return Shape(turn, cols, rows, bits, runs, hits, (up, across))


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
