"""The lines of a garment as points and curvatures, all taken at once; shared by the checks of outlines and fairness."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

from drafting.garment import Garment
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

Array = npt.NDArray[np.float64]

STEPS = 16
"""Places on each curved segment at which its bend is looked at."""

_T = np.linspace(0.0, 1.0, STEPS + 1)
_PLACE = np.stack([(1 - _T) ** 3, 3 * _T * (1 - _T) ** 2, 3 * _T**2 * (1 - _T), _T**3])
_SPEED = 3 * np.stack([-((1 - _T) ** 2), (1 - _T) * (1 - 3 * _T), _T * (2 - 3 * _T), _T**2])
_CHANGE = 6 * np.stack([1 - _T, 3 * _T - 2, 1 - 3 * _T, _T])


@dataclass(frozen=True, slots=True)
class LineSamples:
    """A line's chords, shape (m, 2), its end left out, and its curvature in order along it (1/mm, left positive)."""

    piece: str
    line: str
    points: Array
    curvature: Array


def sample(garment: Garment) -> tuple[tuple[LineSamples, ...], ...]:
    """Return, for each piece, its lines' samples in ring order; straight segments give their start alone."""
    lines = [(piece.name, line) for piece in garment.pieces for line in piece.ring]
    if not lines:
        return ()
    paths = [line.path for _, line in lines]
    control = np.concatenate([path.segments for path in paths])
    bends = _bends(control)
    both = zip(lines, _spans(paths), _chords(control, paths), strict=True)
    taken = iter([LineSamples(piece, ln.name, points, bends[rows].ravel()) for (piece, ln), rows, points in both])
    return tuple(tuple(next(taken) for _ in piece.ring) for piece in garment.pieces)


def chords(rings: Sequence[Sequence[Path]]) -> tuple[Array, ...]:
    """Return the corners, shape (m, 2), of each ring of paths drawn as chords, its first point not repeated."""
    paths = [path for ring in rings for path in ring]
    if not paths:
        return ()
    taken = iter(_chords(np.concatenate([path.segments for path in paths]), paths))
    return tuple(np.concatenate([next(taken) for _ in ring]) for ring in rings)


def _spans(paths: Sequence[Path]) -> Iterator[slice]:
    """Yield which rows of the control points belong to each path."""
    at = 0
    for path in paths:
        yield slice(at, at + len(path.segments))
        at += len(path.segments)


def _chords(control: Array, paths: Sequence[Path]) -> Iterator[Array]:
    """Yield each path's chords: half of the steps of a curved segment, the start alone of a straight one."""
    points = _blend(_PLACE, control)
    keep = np.zeros(points.shape[:2], dtype=np.bool_)
    keep[:, 0] = True
    keep[_are_curved(control), 2:-1:2] = True
    for rows in _spans(paths):
        yield points[rows][keep[rows]]


def _bends(control: Array) -> Array:
    """Return the curvature at each step of each segment, shape (n, STEPS + 1); 0 where a handle has no length."""
    v = _blend(_SPEED, control)
    a = _blend(_CHANGE, control)
    square = v[..., 0] * v[..., 0] + v[..., 1] * v[..., 1]
    cube = square * np.sqrt(square)
    cross = v[..., 0] * a[..., 1] - v[..., 1] * a[..., 0]
    slow = cube <= TOLERANCE.same_point
    curvature: Array = np.where(slow, 0.0, cross / np.where(slow, 1.0, cube))
    return curvature


def _are_curved(control: Array) -> npt.NDArray[np.bool_]:
    """Which segments have a handle off their chord."""
    chord = control[:, 3] - control[:, 0]
    handles = control[:, 1:3] - control[:, :1]
    off = np.abs(chord[:, None, 0] * handles[..., 1] - chord[:, None, 1] * handles[..., 0]).max(axis=1)
    bent: npt.NDArray[np.bool_] = off > TOLERANCE.same_point * np.hypot(chord[:, 0], chord[:, 1])
    return bent


def _blend(weights: Array, control: Array) -> Array:
    """Sums of the control points of segments, (n, 4, 2), by weights, (4, t): shape (n, t, 2)."""
    a, b, c, d = (weights[i][:, None] * control[:, None, i] for i in range(4))
    blended: Array = a + b + c + d
    return blended
