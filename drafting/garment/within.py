"""Where a point lies, and whether an outline runs over itself: questions of closed outlines of chords."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from drafting.geometry import Point
from drafting.tolerance import TOLERANCE

Array = npt.NDArray[np.float64]


def inside(point: Point, outline: Array) -> bool:
    """Tell whether a point lies inside a closed outline of chords, shape (m, 2)."""
    return bool(all_inside(np.array([(point.x, point.y)]), outline)[0])


def all_inside(points: Array, outline: Array) -> npt.NDArray[np.bool_]:
    """Tell of each point, shape (k, 2), whether it lies inside a closed outline of chords, shape (m, 2)."""
    ring = np.concatenate((outline, outline[:1]))
    x, y, x2, y2 = ring[:-1, 0], ring[:-1, 1], ring[1:, 0], ring[1:, 1]
    px, py = points[:, :1], points[:, 1:]
    straddles = (y > py) != (y2 > py)
    rise = np.where(y2 == y, 1.0, y2 - y)  # a level chord is never straddled
    right = x + (py - y) * (x2 - x) / rise > px
    odd: npt.NDArray[np.bool_] = np.count_nonzero(straddles & right, axis=1) % 2 == 1
    return odd


def crosses_itself(outline: Array) -> bool:
    """Tell whether two chords of a closed outline, shape (m, 2), that aren't neighbours cross each other."""
    ring = outline[np.abs(outline - np.roll(outline, 1, axis=0)).max(axis=1) > TOLERANCE.same_point]
    step = np.roll(ring, -1, axis=0) - ring
    to = ring[None, :, :] - ring[:, None, :]
    start = step[:, None, 0] * to[:, :, 1] - step[:, None, 1] * to[:, :, 0]
    end = np.roll(start, -1, axis=1)
    parted = start * end < 0.0  # chord j's ends lie on two sides of chord i
    return bool((parted & parted.T).any())


def crossed_by(outline: Array, starts: Array, ends: Array) -> bool:
    """Tell whether any of some straight lines, from and to points of shape (k, 2), crosses a closed outline."""
    way, step = (ends - starts)[:, None], np.roll(outline, -1, axis=0) - outline
    to = outline[None] - starts[:, None]
    side = way[..., 0] * to[..., 1] - way[..., 1] * to[..., 0]
    first = step[:, 0] * -to[..., 1] + step[:, 1] * to[..., 0]
    past = ends[:, None] - outline[None]
    last = step[:, 0] * past[..., 1] - step[:, 1] * past[..., 0]
    return bool(((side * np.roll(side, -1, axis=1) < 0.0) & (first * last < 0.0)).any())
