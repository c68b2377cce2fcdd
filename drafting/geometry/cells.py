"""Outlines on a grid of cells: which cells a shape touches and where it finds room, as numbers whose bits are cells."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from drafting.tolerance import TOLERANCE

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]

_STEPS = np.linspace(0.0, 1.0, 17)[1:]
_BASIS = np.stack([(1 - _STEPS) ** 3, 3 * (1 - _STEPS) ** 2 * _STEPS, 3 * (1 - _STEPS) * _STEPS**2, _STEPS**3])


def ring_points(paths: Sequence[Floats]) -> Floats:
    """Return the closed polygon, shape (m, 2), through a ring given as cubic segments, each array of shape (n, 4, 2).

    Sixteen chords a segment; on pattern lines that strays less than the space kept between pieces.
    """
    segments = np.concatenate(paths)
    a, b, c, d = (_BASIS[i][:, None] * segments[:, None, i] for i in range(4))
    points: Floats = (a + b + c + d).reshape(-1, 2)
    return np.concatenate([segments[:1, 0], points])


def even_points(ring: Floats, step: float) -> Floats:
    """Return points along a polygon no further apart than ``step`` mm, shape (m, 2)."""
    lengths = np.hypot(*np.diff(ring, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(lengths)])
    at = np.sort(np.concatenate([np.arange(0.0, along[-1], step), along]))  # a point twice does no harm
    return np.stack([np.interp(at, along, ring[:, 0]), np.interp(at, along, ring[:, 1])], axis=1)


def quarter_turn(points: Floats, turn: int) -> Floats:
    """Return points turned by quarter turns anticlockwise about the origin, exactly."""
    x, y = points[:, 0], points[:, 1]
    return np.stack([(x, y), (-y, x), (-x, -y), (y, -x)][turn % 4], axis=1)


def touch_cells(
    ring: Floats, along: Floats, cell: tuple[float, float], margin: float, inset: tuple[float, float] = (0.0, 0.0)
) -> Bools:
    """Return the cells (rows from below, columns) that a polygon widened by ``margin`` touches.

    ``along`` are points of its outline, a quarter of a cell apart. The polygon's lower left bound lies ``margin``, and
    ``inset`` further, inside the lower left corner of cell (0, 0).
    """
    low = ring.min(axis=0) - margin - inset
    size = ring.max(axis=0) + margin - low
    cols, rows = (max(1, int(np.ceil(side / c - TOLERANCE.same_point))) for side, c in zip(size, cell, strict=True))
    mask = fill_cells(ring - low, (rows, cols), cell)
    corners = margin * np.array(
        [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7)]
    )
    reach = (((along - low)[:, None, :] + corners) / cell + TOLERANCE.same_point).reshape(-1, 2).astype(np.intp)
    mask[np.clip(reach[:, 1], 0, rows - 1), np.clip(reach[:, 0], 0, cols - 1)] = True
    return mask


_MIDDLE = 0.5 + TOLERANCE.same_point
"""Of a cell, but for what the last figure of a sum makes: edges often lie a round figure apart."""


def fill_cells(ring: Floats, shape: tuple[int, int], cell: tuple[float, float]) -> Bools:
    """Return the cells whose middles lie inside a polygon (even-odd)."""
    rows, cols = shape
    x, y = ring[:, 0] / cell[0], ring[:, 1] / cell[1]
    # an edge crosses the middles of these rows
    low, high = np.minimum(y[:-1], y[1:]), np.maximum(y[:-1], y[1:])
    first = np.clip(np.ceil(low - _MIDDLE), 0, rows).astype(np.intp)
    count = np.clip(np.ceil(high - _MIDDLE), 0, rows).astype(np.intp) - first
    edge = np.repeat(np.arange(len(count)), count)
    row = first[edge] + np.arange(len(edge)) - (np.cumsum(count) - count)[edge]
    at = x[edge] + (row + _MIDDLE - y[edge]) * (x[edge + 1] - x[edge]) / (y[edge + 1] - y[edge])
    col = np.clip(np.ceil(at - _MIDDLE), 0, cols).astype(np.intp)
    flips = np.bincount(row * (cols + 1) + col, minlength=rows * (cols + 1)).reshape(rows, cols + 1)
    inside: Bools = (np.cumsum(flips[:, :cols], axis=1) & 1).astype(np.bool_)
    return inside


Runs = tuple[tuple[int, int], ...]
"""The unbroken rows of cells of a shape: the bit that each begins at, and its length."""


def runs_of(mask: Bools, stride: int) -> Runs:
    """Return the runs of a mask on a grid of ``stride`` columns."""
    edges = np.diff(np.pad(mask, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    y, begin = np.nonzero(edges == 1)
    length = np.nonzero(edges == -1)[1] - begin
    return tuple(zip((y * stride + begin).tolist(), length.tolist(), strict=True))


def bits_of(runs: Runs) -> int:
    """Return the cells of runs as bits."""
    bits = 0
    for offset, size in runs:
        bits |= ((1 << size) - 1) << offset
    return bits


class TakenCells:
    """The cells taken so far, with what the search asks of them again and again."""

    __slots__ = ("_doubled", "_grown", "bits")

    def __init__(self, bits: int) -> None:
        self.bits = bits
        self._doubled = [bits]
        self._grown: dict[int, int] = {}

    def blocked_starts(self, length: int) -> int:
        """Return the cells from which a run of ``length`` cells to the right would hit something."""
        found = self._grown.get(length)
        if found is None:
            doubled, power = self._doubled, length.bit_length() - 1
            while len(doubled) <= power:
                last = doubled[-1]
                doubled.append(last | last >> (1 << (len(doubled) - 1)))
            found = self._grown[length] = doubled[power] | doubled[power] >> (length - (1 << power))
        return found

    def blocked(self, runs: Runs) -> int:
        """Return the corners at which a shape of these runs would lie on something."""
        if not self.bits:
            return 0
        out, grown = 0, self.blocked_starts
        for offset, length in runs:
            out |= grown(length) >> offset
        return out
