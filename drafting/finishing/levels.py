"""Levels of the body as they are drawn: only where they lie on the piece, clear of its edges.

A dotted line that lies over a seam, or over a fold, would be taken for a part of it: a waist level over a waist seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.finishing.crossed import clip_paths
from drafting.finishing.cutpiece import Mark
from drafting.garment import Piece
from drafting.geometry import Array, Path, Point, distances_to
from drafting.tolerance import TOLERANCE

ALONG: Final = 3.0
"""A level that keeps within this of an edge or a fold (mm) would be taken for it."""

STEP: Final = 5.0
"""How far apart (mm) a bent level is looked at for that."""

LONG: Final = 15.0
"""Over less than this (mm) a level only begins, ends or crosses at an edge, and is drawn on to it."""


def level_marks(piece: Piece, polygon: Array, folds: Sequence[Path]) -> Iterator[Mark]:
    """Yield the levels of a piece, cut to its net outline, a polygon; not where they run along an edge or a fold."""
    edges = [(polygon, np.concatenate((polygon[1:], polygon[:1])))]
    edges += [(flat[:-1], flat[1:]) for flat in (fold.flatten() for fold in folds)]
    starts, ends = (np.concatenate(points) for points in zip(*edges, strict=True))
    for level, kept in zip(piece.levels, clip_paths([level.path for level in piece.levels], polygon), strict=True):
        for path in kept:
            yield from (Mark("level", level.name, part) for part in _clear_of_edges(path, starts, ends))


def _clear_of_edges(path: Path, starts: Array, ends: Array) -> list[Path]:
    """Return the parts of a level that don't run along straight edges from ``starts`` to ``ends``."""
    x0, y0, x1, y1 = path.bounds
    low, high = (x0 - ALONG, y0 - ALONG), (x1 + ALONG, y1 + ALONG)
    beside = ((np.maximum(starts, ends) > low) & (np.minimum(starts, ends) < high)).all(axis=1)
    runs = (_runs_straight if path.is_straight else _runs_bent)(path, starts[beside], ends[beside])
    along = [(a, b) for a, b in runs if b - a > LONG]
    if not along:
        return [path]
    bounds = [0.0, *(end for run in along for end in run), path.length]
    return [path.between(a, b) for a, b in zip(bounds[::2], bounds[1::2], strict=True) if b - a > LONG]


def _runs_straight(path: Path, starts: Array, ends: Array) -> list[tuple[float, float]]:
    """Return the stretches of a straight level that keep near some edges: exactly, the edges being few."""
    u, length = (path.end - path.start).unit, path.length
    near = []
    for p, q in zip(starts.tolist(), ends.tolist(), strict=True):
        a, b = Point(*p) - path.start, Point(*q) - path.start
        v, w = u.cross(a), u.cross(b)
        if max(v, w) < -ALONG or min(v, w) > ALONG:
            continue
        shares = (0.0, 1.0) if v == w else sorted(min(max((off - v) / (w - v), 0.0), 1.0) for off in (-ALONG, ALONG))
        places = sorted(u.dot(a) + share * (u.dot(b) - u.dot(a)) for share in shares)
        if places[1] > 0.0 and places[0] < length:
            near.append((max(places[0], 0.0), min(places[1], length)))
    runs: list[tuple[float, float]] = []
    for low, high in sorted(near):
        if runs and low <= runs[-1][1] + TOLERANCE.joint:
            runs[-1] = (runs[-1][0], max(runs[-1][1], high))
        else:
            runs.append((low, high))
    return runs


def _runs_bent(path: Path, starts: Array, ends: Array) -> list[tuple[float, float]]:
    """Return the stretches of a bent level that keep near some edges, to a step."""
    if not len(starts):
        return []
    s = np.linspace(0.0, path.length, max(2, math.ceil(path.length / STEP)) + 1)
    near = distances_to(path.points(s), starts, ends) < ALONG
    turns = np.flatnonzero(np.diff(np.concatenate(((False,), near, (False,))).astype(np.int8))).tolist()
    return [(float(s[i]), float(s[j - 1])) for i, j in zip(turns[::2], turns[1::2], strict=True)]
