"""Where a path meets a level, where it is nearest to a point, and how one of several crossings is chosen."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import pairwise

from drafting.errors import NoAnswer
from drafting.geometry.measure import Coefficients, Control, Table, acceleration, is_straight, place, velocity
from drafting.geometry.point import Point
from drafting.geometry.shape import quadratic_roots
from drafting.geometry.solve import newton
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

_NEAR = TOLERANCE.crossing
_GRID = tuple(i / 16.0 for i in range(17))


@dataclass(frozen=True, slots=True)
class Crossing:
    """A point where two paths meet: at ``s`` mm along the first and ``t`` mm along the second."""

    s: float
    t: float
    point: Point


def nearest_to(point: Point) -> Callable[[Crossing], float]:
    """Return a chooser of the crossing nearest to a point."""
    return lambda crossing: crossing.point.distance(point)


def choose_crossing(found: Iterable[Crossing], choose: Callable[[Crossing], float]) -> Crossing:
    """Return the crossing with the least value; a GeometryError if there is none, or two share the least."""
    ranked = sorted(((choose(c), c) for c in found), key=lambda pair: pair[0])
    if not ranked:
        raise NoAnswer("the paths don't cross")
    if len(ranked) > 1 and ranked[1][0] - ranked[0][0] <= _NEAR:
        a, b = ranked[0][1].point, ranked[1][1].point
        raise NoAnswer(f"({a.x:.3f}, {a.y:.3f}) and ({b.x:.3f}, {b.y:.3f}) are chosen alike")
    return ranked[0][1]


def unit_roots(a: float, b: float, c: float, d: float) -> list[float]:
    """Return the t in [0, 1] where a t^3 + b t^2 + c t + d (mm) vanishes or touches nought, in order.

    The stretches between turning points run one way, so each holds one root at most; an end or a turning
    point within the crossing tolerance counts as a root unless a stretch beside it holds the root itself.
    """
    knots = [0.0, *(t for t in quadratic_roots(3.0 * a, 2.0 * b, c) if 0.0 < t < 1.0), 1.0]
    values = [((a * t + b) * t + c) * t + d for t in knots]
    inner: list[float | None] = [
        _root_between(a, b, c, d, t0, t1) if f0 * f1 < 0.0 else None
        for t0, t1, f0, f1 in zip(knots, knots[1:], values, values[1:], strict=False)
    ]
    for i, value in enumerate(values):
        if abs(value) <= _NEAR and 0 < i < len(inner) and inner[i - 1] is not None and inner[i] is not None:
            inner[i - 1] = inner[i] = None  # both roots are the touch itself
    roots = [t for t in inner if t is not None]
    for i, value in enumerate(values):
        beside = inner[max(i - 1, 0) : i + 1]
        if abs(value) <= _NEAR and all(t is None for t in beside):
            roots.append(knots[i])
    return sorted(roots)


def _root_between(a: float, b: float, c: float, d: float, low: float, high: float) -> float:
    """Return the root of a cubic that runs one way over [low, high] and changes sign."""

    def height(t: float) -> tuple[float, float]:
        return ((a * t + b) * t + c) * t + d, (3.0 * a * t + 2.0 * b) * t + c

    return newton(height, low, high, rising=height(high)[0] > 0.0)


def level_lengths(table: Table, y: float) -> tuple[float, ...]:
    """Return the lengths at which a path meets the horizontal at ``y``; of a stretch in it, the ends."""
    found: list[float] = []
    for i, k in enumerate(table.coefs):
        control = table.control[i]
        heights = (control[0][1], control[1][1], control[2][1], control[3][1])
        if min(heights) - _NEAR <= y <= max(heights) + _NEAR:
            found += (table.length_at(i, t) for t in unit_roots(k[1], k[3], k[5], k[7] - y))
    return tuple(distinct(found))


def distinct(values: Iterable[float]) -> list[float]:
    """Return values in order, leaving out those within one point of the one before."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > 10.0 * _NEAR:
            kept.append(value)
    return kept


def nearest_place(table: Table, point: Point) -> tuple[float, float]:
    """Return (length, distance) of the place on a path nearest to a point."""
    best = (math.inf, 0, 0.0)
    gaps = [gap_to_hull(control, point) for control in table.control]
    for i in sorted(range(len(gaps)), key=gaps.__getitem__):
        if gaps[i] > best[0] + _NEAR:
            break
        t, gap = nearest_on(table.coefs[i], point)
        best = min(best, (gap, i, t))
    return table.length_at(best[1], best[2]), best[0]


def gap_to_hull(control: Control, q: Point) -> float:
    """Return the distance from a point to the box around a segment's control points (0 inside)."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = control
    dx = max(min(x0, x1, x2, x3) - q.x, 0.0, q.x - max(x0, x1, x2, x3))
    dy = max(min(y0, y1, y2, y3) - q.y, 0.0, q.y - max(y0, y1, y2, y3))
    return math.hypot(dx, dy)


def nearest_on(k: Coefficients, q: Point) -> tuple[float, float]:
    """Return (parameter, distance) of the place on one segment nearest to a point."""
    if is_straight(k):
        square = k[4] * k[4] + k[5] * k[5]
        t = ((q.x - k[6]) * k[4] + (q.y - k[7]) * k[5]) / square if square > 0.0 else 0.0
        t = min(1.0, max(0.0, t))
        return t, math.hypot(k[6] + t * k[4] - q.x, k[7] + t * k[5] - q.y)
    knots = _pulls(k, q, _GRID)
    best = min((gap, t) for t, _, gap in knots)
    for (t0, f0, _), (t1, f1, _) in pairwise(knots):
        if f0 < 0.0 < f1:
            t = _foot(k, q, t0, t1)
            best = min(best, (_pulls(k, q, (t,))[0][2], t))
    return best[1], best[0]


def _foot(k: Coefficients, q: Point, low: float, high: float) -> float:
    """Return the parameter between two others where the distance to a point is least."""

    def pull(t: float) -> tuple[float, float]:
        (x, y), (vx, vy), (ax, ay) = place(k, t), velocity(k, t), acceleration(k, t)
        dx, dy = x - q.x, y - q.y
        return dx * vx + dy * vy, vx * vx + vy * vy + dx * ax + dy * ay

    return newton(pull, low, high)


def _pulls(k: Coefficients, q: Point, ts: Iterable[float]) -> list[tuple[float, float, float]]:
    """Return of some parameters: each, half the slope of the squared distance from a point there, and the distance.

    Written out, for a draft asks for some ten thousand.
    """
    ax, ay, bx, by, cx, cy, x0, y0 = k
    ax3, ay3, bx2, by2, qx, qy, found = 3.0 * ax, 3.0 * ay, 2.0 * bx, 2.0 * by, q.x, q.y, []
    for t in ts:
        dx, dy = ((ax * t + bx) * t + cx) * t + x0 - qx, ((ay * t + by) * t + cy) * t + y0 - qy
        pull = dx * ((ax3 * t + bx2) * t + cx) + dy * ((ay3 * t + by2) * t + cy)
        found.append((t, pull, math.hypot(dx, dy)))
    return found
