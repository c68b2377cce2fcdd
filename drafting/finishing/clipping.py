"""Where lines cross a polygon, and what of them lies within it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from drafting.geometry import Array, Path, Point, are_inside, lengths_along
from drafting.tolerance import TOLERANCE


def clip_paths(paths: Sequence[Path], polygon: Array) -> list[list[Path]]:
    """Return, for each path, its parts that lie inside a polygon."""
    straight: dict[tuple[float, float], list[int]] = {}
    for i, path in enumerate(paths):
        if path.is_straight:
            u = (path.end - path.start).unit
            straight.setdefault((u.x, u.y), []).append(i)
    found = {
        i: kept
        for (x, y), which in straight.items()
        for i, kept in zip(which, _clip_along(Point(x, y), [paths[i] for i in which], polygon), strict=True)
    }
    return [found[i] if i in found else clip_curve(path, polygon) for i, path in enumerate(paths)]


def _clip_along(u: Point, paths: Sequence[Path], polygon: Array) -> Iterator[list[Path]]:
    """The parts inside a polygon of straight paths that all run in the direction ``u``."""
    flat = np.stack((lengths_along(polygon, u.left), lengths_along(polygon, u)), axis=1)
    for path, meetings in zip(paths, columns(flat, [u.cross(path.start) for path in paths]), strict=True):
        low, high = u.dot(path.start), u.dot(path.end)
        before = sum(run <= low for run in meetings)
        runs = ([low] if before % 2 else []) + [run for run in meetings if low < run < high]
        runs += [high] if len(runs) % 2 else []
        shift = path.start - u * low
        pairs = zip(runs[::2], runs[1::2], strict=True)
        yield [Path.straight(shift + u * a, shift + u * b) for a, b in pairs if b - a > TOLERANCE.sewn_length]


def clip_curve(path: Path, polygon: Array) -> list[Path]:
    """Return the parts of a curved path inside a polygon, to about a thousandth of its length."""
    s = np.linspace(0.0, path.length, 513)
    inside = are_inside(path.points((s[1:] + s[:-1]) / 2.0), polygon)
    edges = np.flatnonzero(np.diff(np.concatenate(((False,), inside, (False,))).astype(np.int8)))
    pairs = zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
    return [path.between(float(s[i]), float(s[j])) for i, j in pairs]


def columns(flat: Array, places: Sequence[float]) -> list[list[float]]:
    """Return, for each place, the heights at which the polygon is crossed there, in order."""
    gap = flat[:, 0, None] - np.array(places)
    following = np.concatenate((gap[1:], gap[:1]))
    rows, columns = np.nonzero((gap > 0.0) != (following > 0.0))
    g, h = gap[rows, columns], following[rows, columns]
    y = flat[:, 1]
    heights = y[rows] + (np.concatenate((y[1:], y[:1]))[rows] - y[rows]) * g / (g - h)
    found: list[list[float]] = [[] for _ in places]
    for column, height in zip(columns.tolist(), heights.tolist(), strict=True):
        found[column].append(height)
    return [sorted(each) for each in found]
