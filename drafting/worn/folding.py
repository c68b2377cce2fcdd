"""How much of a garment's length lies in folds across, between the bust's level and the hip's, in front and behind.

Along columns of the cloth its length as it hangs is laid beside that of the same way with its folds smoothed out: a
hollow that cloth follows smoothly is none.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from drafting.garment import Face, Piece
from drafting.trade import TradeValue
from drafting.worn.dressing import Worn
from drafting.worn.mesh import PieceMesh
from drafting.worn.shape import Floats

FOLDS_OFF = TradeValue(6.0, "mm", "derived", "fitted bodices and panelled tops without a fold come to 6 at most")
"""By so much may the length in folds be wrong."""
_SMOOTHED: Final = 15.0
"""mm along a column over which it is smoothed: more than a fold is wide, less than a hollow back."""
_STEP: Final = 4.0
"""mm from one place of a column to the next."""
_COLUMNS: Final = (0.25, 0.4, 0.5, 0.6, 0.75)
"""Of a piece's width, where its columns lie."""
_BEYOND: Final = 60
"""Places that a column is carried on for at each end, turned about it, so that its ends stay."""


def measure_folds(worn: Worn, face: Face) -> float:
    """Return how much (mm) of the length of a face lies in folds, on average over its columns.

    Pieces that end between the levels, at a waist seam, add theirs to those above or below.
    """
    above, below = list[float](), list[float]()
    for each, start in zip(worn.mesh.pieces, worn.mesh.starts, strict=True):
        if each.piece.face is face and each.piece.name not in worn.laid.layers:
            levels = {level.name for level in each.piece.levels}
            folds = list(_fold_columns(each, worn.points[start : start + len(each.flat)]))
            if "bust" in levels:
                above += folds
            elif "hip" in levels:
                below += folds
    return sum(float(np.mean(part)) for part in (above, below) if part)


def _fold_columns(mesh: PieceMesh, at: Floats) -> Iterator[float]:
    """Yield of each column of a piece how much of its length between the levels lies in folds (mm)."""
    low, high = _find_ends(mesh.piece)
    left, right = float(mesh.flat[:, 0].min()), float(mesh.flat[:, 0].max())
    for share in _COLUMNS:
        cut, hung = cross_mesh(mesh, at, left + share * (right - left))
        if not len(cut):
            continue
        y = np.arange(max(low, cut[0]), min(high, cut[-1]), _STEP)
        if len(y) > _BEYOND // 3:
            column = np.stack([np.interp(y, cut, hung[:, k]) for k in range(3)], axis=1)
            yield measure_length(column) - measure_length(smooth_column(column))


def cross_mesh(mesh: PieceMesh, at: Floats, x: float) -> tuple[Floats, Floats]:
    """Return the heights (mm, as cut, rising) at which an upright line crosses a piece, and where it hangs there.

    ``at`` is where each of its points hangs (mm).
    """
    t = mesh.triangles
    edges = np.unique(np.sort(np.concatenate([t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]]), axis=1), axis=0)
    a, b = mesh.flat[edges[:, 0]], mesh.flat[edges[:, 1]]
    crossed = (a[:, 0] > x) != (b[:, 0] > x)
    a, b, edges = a[crossed], b[crossed], edges[crossed]
    share = ((x - a[:, 0]) / (b[:, 0] - a[:, 0]))[:, None]
    cut = (a + share * (b - a))[:, 1]
    order = np.argsort(cut)
    hung = at[edges[:, 0]] + share * (at[edges[:, 1]] - at[edges[:, 0]])
    return cut[order], hung[order]


def _find_ends(piece: Piece) -> tuple[float, float]:
    """The heights on a piece of the hip's level and the bust's, or where it ends before."""
    heights = {level.name: level.path.bounds for level in piece.levels}
    low, high = piece.outline.bounds[1], piece.outline.bounds[3]
    return (
        heights["hip"][1] if "hip" in heights else low,
        heights["bust"][3] if "bust" in heights else high,
    )


def smooth_column(column: Floats) -> Floats:
    """Return a column (mm) whose places are ``_STEP`` apart as cut, with its folds smoothed out and its ends kept."""
    from scipy.ndimage import gaussian_filter1d

    beyond = min(_BEYOND, len(column)) - 1
    before, after = 2.0 * column[0] - column[beyond:0:-1], 2.0 * column[-1] - column[-2 : -beyond - 2 : -1]
    whole = gaussian_filter1d(np.concatenate([before, column, after]), _SMOOTHED / _STEP, axis=0)
    out: Floats = whole[beyond : beyond + len(column)]
    return out


def measure_length(column: Floats) -> float:
    """Return the length (mm) of a way from place to place."""
    return float(np.sqrt((np.diff(column, axis=0) ** 2).sum(axis=1)).sum())
