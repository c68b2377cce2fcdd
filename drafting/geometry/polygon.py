"""Rings of chords: what lies inside one, whether it runs over itself, what crosses it, and how far points are from it.

A ring is an array of points, shape (m, 2), closed by itself: whether its first point is repeated at its end makes no
difference. All is reckoned in numpy.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from drafting.geometry.measure import Array
from drafting.geometry.point import Point
from drafting.tolerance import TOLERANCE

Places = npt.NDArray[np.intp]


def following(ring: Array) -> Array:
    """Return for each of a ring's points, or values, the next one round; numpy's own roll takes ten times as long."""
    return np.concatenate((ring[1:], ring[:1]))


def is_inside(point: Point, ring: Array) -> bool:
    """Tell whether a point lies inside a ring of chords."""
    return bool(are_inside(np.array([(point.x, point.y)]), ring)[0])


def are_inside(points: Array, ring: Array) -> npt.NDArray[np.bool_]:
    """Tell of each point, shape (k, 2), whether it lies inside a ring of chords, by the even-odd rule."""
    x, y = ring[:, 0], ring[:, 1]
    x2, y2 = following(x), following(y)
    over = y > points[:, 1:]
    straddles = over != np.concatenate((over[:, 1:], over[:, :1]), axis=1)
    at, chord = straddles.nonzero()  # few of all pairs
    px, py = points[at, 0], points[at, 1]
    x, y, x2, y2 = x[chord], y[chord], x2[chord], y2[chord]
    right = x + (py - y) * (x2 - x) / (y2 - y) > px
    odd: npt.NDArray[np.bool_] = np.bincount(at[right], minlength=len(points)) % 2 == 1
    return odd


def signed_area(ring: Array) -> float:
    """Return the area (mm2) within a ring of chords, positive where it runs anticlockwise."""
    x, y = (ring - ring[0]).T
    return float((x * following(y) - following(x) * y).sum()) / 2.0


def crosses_itself(ring: Array) -> bool:
    """Tell whether two chords of a ring, that aren't neighbours, cross each other; a touch is no crossing."""
    return meets_itself_at(ring, touching=False) is not None


def meets_itself_at(ring: Array, *, touching: bool) -> Point | None:
    """Return the start of the first chord of a ring that crosses another, not its neighbour; None if none does.

    ``touching`` says that a chord's end on another chord counts as well, and so does a spike: the point at which the
    ring turns right back.
    """
    ring = without_repeats(ring)
    end = following(ring)
    step = end - ring
    i, j = _pairs_near(np.minimum(ring, end), np.maximum(ring, end))
    first = _cross(step[i], ring[j] - ring[i]) * _cross(step[i], end[j] - ring[i])
    second = _cross(step[j], ring[i] - ring[j]) * _cross(step[j], end[i] - ring[j])
    met = np.flatnonzero((first <= 0.0) & (second <= 0.0) if touching else (first < 0.0) & (second < 0.0))
    if met.size:
        return Point(*ring[i[met].min()].tolist())
    return _spike(end, step) if touching else None


def _pairs_near(low: Array, high: Array) -> tuple[Places, Places]:
    """The pairs of chords, the earlier one first, that aren't neighbours and whose boxes meet, by a sweep along x.

    ``low`` and ``high`` are the boxes' corners, shape (m, 2).
    """
    order = np.argsort(low[:, 0], kind="stable")
    begins, ends = low[order, 0], high[order, 0]
    count = np.searchsorted(begins, ends, side="right") - np.arange(len(order)) - 1  # that begin before this one ends
    first = np.repeat(np.arange(len(order)), count)
    second = first + 1 + np.arange(len(first)) - np.repeat(np.cumsum(count) - count, count)
    one, two = order[first], order[second]
    meet = (low[one, 1] <= high[two, 1]) & (low[two, 1] <= high[one, 1])
    i, j = np.minimum(one[meet], two[meet]), np.maximum(one[meet], two[meet])
    apart = (j > i + 1) & ((i > 0) | (j < len(order) - 1))
    return i[apart], j[apart]


def _spike(end: Array, step: Array) -> Point | None:
    """The end of the first chord after which a ring turns right back; None where none does."""
    then = following(step)
    turn = np.arctan2(_cross(step, then), (step * then).sum(axis=1))
    back = np.flatnonzero(np.abs(turn) > math.pi - TOLERANCE.tangent)
    return Point(*end[back[0]].tolist()) if back.size else None


def without_repeats(ring: Array) -> Array:
    """Return a ring without the points that lie on the one before them."""
    kept: Array = ring[np.abs(ring - np.concatenate((ring[-1:], ring[:-1]))).max(axis=1) > TOLERANCE.same_point]
    return kept


def is_crossed(ring: Array, starts: Array, ends: Array) -> bool:
    """Tell whether any of some straight lines, from and to points of shape (k, 2), crosses a ring of chords."""
    way, step = (ends - starts)[:, None], following(ring) - ring
    side = _cross(way, ring - starts[:, None])
    first, last = _cross(step, starts[:, None] - ring), _cross(step, ends[:, None] - ring)
    return bool(((side * following(side.T).T < 0.0) & (first * last < 0.0)).any())


def distances_to(points: Array, starts: Array, ends: Array) -> Array:
    """Return how far each point, shape (k, 2), lies from the nearest of some chords (m of them).

    All in mm; at least one chord.
    """
    wx, wy = (ends - starts).T
    x, y = points[:, :1] - starts[:, 0], points[:, 1:] - starts[:, 1]
    share = np.clip((x * wx + y * wy) / np.maximum(wx * wx + wy * wy, TOLERANCE.same_point**2), 0.0, 1.0)
    x -= share * wx
    y -= share * wy
    nearest: Array = np.sqrt((x * x + y * y).min(axis=1))
    return nearest


def distances_between(points: Array, others: Array) -> Array:
    """Return how far each point, shape (k, 2), lies from the nearest of some others (mm); at least one."""
    x, y = points[:, :1] - others[:, 0], points[:, 1:] - others[:, 1]
    x *= x
    y *= y
    x += y
    nearest: Array = np.sqrt(x.min(axis=1))
    return nearest


def deepest_inside(ring: Array, within: float) -> tuple[Point, float]:
    """Return the point within a ring of chords that is farthest from them, to ``within`` mm, and how far that is.

    Squares that may hold a farther one than the best so far are quartered, all at once (after Garcia-Castellanos and
    Lombardo 2007, "Poles of inaccessibility").
    """
    low, high = ring.min(axis=0), ring.max(axis=0)
    half = float((high - low).min()) / 2.0
    middles, best, at = _grid(low, high, half), -math.inf, ring[0]
    while len(middles):
        depths = distances_to(middles, ring, following(ring)) * np.where(are_inside(middles, ring), 1.0, -1.0)
        depths = depths.round(_ALIKE)
        deepest = int(depths.argmax())
        if depths[deepest] > best:
            best, at = float(depths[deepest]), middles[deepest]
        middles = middles[depths + half * math.sqrt(2.0) > best + within]
        half /= 2.0
        middles = (middles[:, None] + half * _QUARTERS).reshape(-1, 2)
    return Point(*at.tolist()), best


_ALIKE = 6
"""Decimals to which depths are told apart: along a band many places are as deep, and the first of them is taken."""

_QUARTERS = np.array([(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)])


def _grid(low: Array, high: Array, half: float) -> Array:
    """The middles of squares, each twice ``half`` wide, that cover a box."""
    sides = (high - low) / max(2.0 * half, TOLERANCE.same_point)
    counts = np.maximum(np.ceil(sides - TOLERANCE.same_point), 1.0)
    x, y = (low[axis] + half * (2.0 * np.arange(counts[axis]) + 1.0) for axis in (0, 1))
    return np.stack([each.ravel() for each in np.meshgrid(x, y)], axis=1)


def _cross(a: Array, b: Array) -> Array:
    """The z components of vector products: positive where ``b`` lies to the left of ``a``."""
    cross: Array = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return cross
