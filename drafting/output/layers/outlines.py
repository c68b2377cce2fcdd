"""Outlines moved outwards, cut off, and their corners: what drawing a ply asks of polygons."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from drafting.geometry import Point, distances_to, lengths_along
from drafting.output.layers.view import Points

LEAST_TURN = 0.001
"""Sine of the turn between two stretches of an outline below which they count as one straight line."""

DEEP_TURN, MITRED, MITRED_DEEP = 0.5, 2.0, 4.0
"""Sine of the turn from which a hollow corner is one; how far a mitre of the raw edge goes at most, in allowances, and
in such a corner, where the allowances lie in each other's way."""

MITRED_TURN = 0.3
"""Sine of the turn of an edge from which a band on it has a mitre there."""

CLEAR = 0.97
"""Of its allowance, by which a raw edge is away from every edge at least."""

LOOKED_BACK = 120.0
"""From a corner as far as the edges beside it are taken straight (mm)."""


def find_corners(course: Points) -> Iterator[Points]:
    """Yield each sharp turn of a course, as at a V: the place, and one far back and one far on straight from there."""
    step = np.diff(course, axis=0)
    step = step / np.maximum(np.hypot(step[:, 0], step[:, 1]), LEAST_TURN)[:, None]
    sine = step[:-1, 0] * step[1:, 1] - step[:-1, 1] * step[1:, 0]
    for i in np.flatnonzero(np.abs(sine) > MITRED_TURN).tolist():
        yield np.stack(
            [course[i + 1] - step[i] * LOOKED_BACK, course[i + 1], course[i + 1] + step[i + 1] * LOOKED_BACK]
        )


def move_out(courses: Sequence[Points], aparts: Sequence[float]) -> Points:
    """Return a closed outline moved outwards, each of its courses by so many mm."""
    points = np.concatenate([course[:-1] for course in courses])
    apart = np.repeat(aparts, [len(course) - 1 for course in courses])
    ahead = np.roll(points, -1, axis=0) - points
    long = np.hypot(ahead[:, 0], ahead[:, 1])
    kept = long > LEAST_TURN
    if not apart.any() or kept.sum() < 3:
        return points
    way, apart, points = ahead[kept] / long[kept, None], apart[kept], points[kept]
    after = np.roll(points, -1, axis=0)
    round_it = 1.0 if (points[:, 0] * after[:, 1] - points[:, 1] * after[:, 0]).sum() > 0.0 else -1.0
    out = np.stack([way[:, 1], -way[:, 0]], axis=1) * round_it
    last, last_out, last_apart = (np.roll(each, 1, axis=0) for each in (way, out, apart))
    sine = last[:, 0] * way[:, 1] - last[:, 1] * way[:, 0]
    shift = ((apart[:, None] * last - last_apart[:, None] * way) * round_it) / np.where(sine == 0.0, 1.0, sine)[:, None]
    hollow = sine * round_it < -DEEP_TURN
    far = np.where(hollow, MITRED_DEEP, MITRED) * np.maximum(apart, last_apart)
    mitred = (np.abs(sine) > LEAST_TURN) & (np.hypot(shift[:, 0], shift[:, 1]) <= far)
    ends = np.stack([points + last_out * last_apart[:, None], points + out * apart[:, None]], axis=1)
    ends[mitred] = (points + shift)[mitred][:, None, :]
    return _leave_out_crossed(ends.reshape(-1, 2), points, apart) if (hollow & mitred).any() else ends.reshape(-1, 2)


def _leave_out_crossed(raw: Points, net: Points, apart: Points) -> Points:
    """A raw outline without what would cross itself in a hollow corner: what lies nearer to an edge than its own."""
    after = np.roll(net, -1, axis=0)
    clear = np.ones(len(raw), dtype=bool)
    for wide in np.unique(apart[apart > 0.0]):
        edges = apart == wide
        clear &= distances_to(raw, net[edges], after[edges]) >= CLEAR * wide
    return raw[clear]


def clip_half(points: Points, at: Points, way: Points) -> Points:
    """Return what of a polygon lies behind a point, seen along a way."""
    side = lengths_along(points - at, Point(float(way[0]), float(way[1])))
    out = []
    for i in range(len(points)):
        j = (i + 1) % len(points)
        if side[i] <= 0.0:
            out.append(points[i])
        if (side[i] < 0.0) != (side[j] < 0.0) and side[i] != side[j]:
            out.append(points[i] + (points[j] - points[i]) * (side[i] / (side[i] - side[j])))
    return np.array(out) if len(out) > 2 else points
