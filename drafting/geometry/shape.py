"""What a path's segments are as a shape: area, bounds, points, parts, chords and turning."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from drafting.errors import NoAnswer
from drafting.geometry.measure import Array, Coefficients, Control, Table, direction
from drafting.geometry.measure import is_straight as segment_is_straight
from drafting.geometry.point import Point, turn
from drafting.tolerance import TOLERANCE

Corner = tuple[float, float]
_SAME = TOLERANCE.same_point


def line(x0: float, y0: float, x3: float, y3: float) -> tuple[Corner, Corner, Corner, Corner]:
    """Return the control points of a straight line, its handles at the thirds."""
    dx, dy = (x3 - x0) / 3.0, (y3 - y0) / 3.0
    return ((x0, y0), (x0 + dx, y0 + dy), (x3 - dx, y3 - dy), (x3, y3))


def snap(array: Array) -> None:
    """Make each segment start where the one before it ends, and a ring close, or refuse."""
    gaps = np.abs(array[1:, 0] - array[:-1, 3])
    if gaps.max(initial=0.0) > TOLERANCE.joint:
        i = int(gaps.max(axis=1).argmax())
        (ax, ay), (bx, by) = array[i, 3], array[i + 1, 0]
        raise NoAnswer(f"the path is broken: ({ax:.4f}, {ay:.4f}) isn't ({bx:.4f}, {by:.4f})")
    array[1:, 0] = array[:-1, 3]
    if math.hypot(*(array[-1, 3] - array[0, 0])) <= TOLERANCE.joint:
        array[-1, 3] = array[0, 0]


def part_between(table: Table, s0: float, s1: float) -> list[Control]:
    """Return the control points of the part of a path between two lengths."""
    (i, t), (j, u) = table.after(s0), table.before(s1)
    control = table.control
    if (i, t, j, u) == (0, 0.0, len(control) - 1, 1.0):
        return control
    if i == j:
        return [_part(table, i, t, u)]
    return [_part(table, i, t, 1.0), *control[i + 1 : j], _part(table, j, 0.0, u)]


def _part(table: Table, i: int, t: float, u: float) -> Control:
    """Return the control points of the part of a segment between two parameters."""
    control = table.control[i]
    if t == 0.0 and u == 1.0:
        return control
    if segment_is_straight(table.coefs[i]):
        a, b = table.point(i, t), table.point(i, u)
        return [list(p) for p in line(a.x, a.y, b.x, b.y)]
    return cut_cubic(control, t, u)


def cut_cubic(p: Control, t: float, u: float) -> Control:
    """Return the control points of a cubic between two parameters (de Casteljau)."""
    columns = []
    for axis in (0, 1):
        p0, p1, p2, p3 = p[0][axis], p[1][axis], p[2][axis], p[3][axis]
        if u < 1.0:  # keep what comes before u
            q0, q1, q2 = p0 + (p1 - p0) * u, p1 + (p2 - p1) * u, p2 + (p3 - p2) * u
            r0, r1 = q0 + (q1 - q0) * u, q1 + (q2 - q1) * u
            p1, p2, p3 = q0, r0, r0 + (r1 - r0) * u
        if t > 0.0:  # and of that, what comes after t
            v = t / u
            q0, q1, q2 = p0 + (p1 - p0) * v, p1 + (p2 - p1) * v, p2 + (p3 - p2) * v
            r0, r1 = q0 + (q1 - q0) * v, q1 + (q2 - q1) * v
            p0, p1, p2 = r0 + (r1 - r0) * v, r1, q2
        columns.append((p0, p1, p2, p3))
    return [[x, y] for x, y in zip(*columns, strict=True)]


def area(segments: Array) -> float:
    """Return the signed area (mm2) of the segments closed by a chord, by the closed form for cubics."""
    p = segments - segments[0, 0]
    x, y = p[:, :, 0], p[:, :, 1]
    total = 0.0
    for i, j, weight in ((0, 1, 6.0), (0, 2, 3.0), (0, 3, 1.0), (1, 2, 3.0), (1, 3, 3.0), (2, 3, 6.0)):
        total += weight * float((x[:, i] * y[:, j] - x[:, j] * y[:, i]).sum())
    return total / 20.0  # the closing chord starts at the origin, so it adds nothing


def bounds(segments: Array) -> tuple[float, float, float, float]:
    """Return the exact (xmin, ymin, xmax, ymax)."""
    ends = segments[:, (0, 3)].reshape(-1, 2)
    low, high = ends.min(axis=0), ends.max(axis=0)
    hull_low, hull_high = segments.min(axis=(0, 1)), segments.max(axis=(0, 1))
    result = [*low.tolist(), *high.tolist()]
    for axis in (0, 1):
        if hull_low[axis] < low[axis] or hull_high[axis] > high[axis]:
            for p in segments[:, :, axis].tolist():
                for value in _extremes(*p):
                    result[axis] = min(result[axis], value)
                    result[axis + 2] = max(result[axis + 2], value)
    xmin, ymin, xmax, ymax = result
    return xmin, ymin, xmax, ymax


def _extremes(p0: float, p1: float, p2: float, p3: float) -> list[float]:
    """Return the values of a cubic's coordinate where it turns back."""
    a, b, c = p3 - 3.0 * (p2 - p1) - p0, 3.0 * (p2 - 2.0 * p1 + p0), 3.0 * (p1 - p0)
    return [((a * t + b) * t + c) * t + p0 for t in quadratic_roots(3.0 * a, 2.0 * b, c) if 0.0 < t < 1.0]


def quadratic_roots(a: float, b: float, c: float) -> list[float]:
    """Return the real roots of a t^2 + b t + c, in order, without loss of figures."""
    if abs(a) <= _SAME * _SAME * (abs(b) + abs(c)):
        return [] if b == 0.0 else [-c / b]
    d = b * b - 4.0 * a * c
    if d < 0.0:
        return []
    q = -0.5 * (b + math.copysign(math.sqrt(d), b))
    return sorted((q / a, c / q)) if q != 0.0 else [0.0]


def is_straight(table: Table) -> bool:
    """Tell whether all control points lie in order on the chord."""
    first, last = table.control[0][0], table.control[-1][3]
    dx, dy = last[0] - first[0], last[1] - first[1]
    size = math.hypot(dx, dy)
    if size <= _SAME:
        return table.total <= _SAME
    dx, dy = dx / size, dy / size
    reached = -_SAME
    for control in table.control:
        for x, y in control:
            along = (x - first[0]) * dx + (y - first[1]) * dy
            if abs((x - first[0]) * dy - (y - first[1]) * dx) > _SAME or along < reached - _SAME:
                return False
            reached = along
    return True


def points_at(table: Table, ss: Array) -> Array:
    """Return the points at many lengths, shape (m, 2)."""
    k, t = table.locate_all(ss)
    t = t[:, None]
    found: Array = ((k[:, 0:2] * t + k[:, 2:4]) * t + k[:, 4:6]) * t + k[:, 6:8]
    return found


def tangents_at(table: Table, ss: Array) -> Array:
    """Return the unit directions at many lengths, shape (m, 2)."""
    k, t = table.locate_all(ss)
    t = t[:, None]
    v: Array = (3.0 * k[:, 0:2] * t + 2.0 * k[:, 2:4]) * t + k[:, 4:6]
    size = np.hypot(v[:, 0], v[:, 1])
    slow = size < _SAME
    if slow.any():
        for i in np.flatnonzero(slow):
            v[i] = tuple(direction(_eight(k[i].tolist()), float(t[i, 0])))
        size[slow] = 1.0
    return v / size[:, None]


def _eight(k: list[float]) -> Coefficients:
    ax, ay, bx, by, cx, cy, x0, y0 = k
    return ax, ay, bx, by, cx, cy, x0, y0


def flatten_segments(segments: Array, tol: float) -> Array:
    """Return points, both ends included, whose chords stray from the curve by no more than ``tol`` mm."""
    if not tol > 0.0:
        raise NoAnswer("the sagitta allowed must be more than nothing")
    second = segments[:, :-2] - 2.0 * segments[:, 1:-1] + segments[:, 2:]
    size = 6.0 * np.sqrt((second * second).sum(axis=2).max(axis=1))
    count = np.maximum(1, np.ceil(np.sqrt(size / (8.0 * tol)))).astype(np.intp)
    owner = np.repeat(np.arange(len(segments)), count)
    first = np.repeat(np.cumsum(count) - count, count)
    t = ((np.arange(len(owner)) - first) / count[owner])[:, None]
    u = 1.0 - t
    p = segments[owner]
    curve = u * u * (u * p[:, 0] + 3.0 * t * p[:, 1]) + t * t * (3.0 * u * p[:, 2] + t * p[:, 3])
    return np.concatenate((curve, segments[-1:, 3]))


def joint_turns(table: Table) -> list[tuple[float, float]]:
    """Return (s, signed turn in radians) at every joint inside the path."""
    coefs = table.coefs
    return [
        (table.starts[i], turn(direction(coefs[i - 1], 1.0), direction(coefs[i], 0.0))) for i in range(1, len(coefs))
    ]


def turning(table: Table, closed: bool) -> float:
    """Return the whole signed turning (radians), corners included, and the closing corner of a ring."""
    total = sum(angle for _, angle in joint_turns(table))
    if closed:
        total += turn(direction(table.coefs[-1], 1.0), direction(table.coefs[0], 0.0))
    return total + sum(_sweep(k) for k in table.coefs)


def _sweep(k: Coefficients) -> float:
    """Return how far a segment turns; its velocity is a quadratic: sixteenths never turn by half a circle."""
    if k[:4] == (0.0, 0.0, 0.0, 0.0):
        return 0.0
    headings = [direction(k, i / 16.0) for i in range(17)]
    return sum(turn(a, b) for a, b in pairwise(headings))


def draw_to_ends(segments: Array, table: Table, start: Point, end: Point) -> Array:
    """Return the segments moved so that the ends lie at new points, in proportion to the length run.

    Handles move by the change along their own length, so smooth joints stay smooth and straights straight.
    """
    if table.total <= 0.0:
        raise NoAnswer("a path without length can't be drawn over")
    first = np.array((start.x, start.y)) - segments[0, 0]
    change = np.array((end.x, end.y)) - segments[-1, 3] - first
    share = np.empty((len(segments), 4))
    share[:, 0], share[:, 3] = table.starts[:-1], table.starts[1:]
    out, back = segments[:, 1] - segments[:, 0], segments[:, 3] - segments[:, 2]
    share[:, 1] = share[:, 0] + np.hypot(out[:, 0], out[:, 1])
    share[:, 2] = share[:, 3] - np.hypot(back[:, 0], back[:, 1])
    moved: Array = segments + first + (share / table.total)[:, :, None] * change
    moved[0, 0], moved[-1, 3] = (start.x, start.y), (end.x, end.y)
    return moved


def are_same(a: Table, b: Table, within: float) -> bool:
    """Tell whether two paths agree at equal shares of their lengths, and at their own joints."""
    if abs(a.total - b.total) > max(within, TOLERANCE.arc_length):
        return False
    shares = np.linspace(0.0, 1.0, 65)
    for table in (a, b):
        if table.total > 0.0:
            shares = np.concatenate((shares, np.array(table.starts) / table.total))
    gap = points_at(a, shares * a.total) - points_at(b, shares * b.total)
    return bool(np.hypot(gap[:, 0], gap[:, 1]).max() <= within)
