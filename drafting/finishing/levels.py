"""Levels of the body as they are drawn: only where they lie on the piece, clear of its edges.

A dotted line that lies over a seam, or over a fold, would be taken for a part of it: a waist level over a waist seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.finishing.clipping import clip_paths
from drafting.finishing.cutpiece import Mark
from drafting.garment import Piece
from drafting.geometry import Array, Path, Point, distances_to
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEVEL_ALONG: Final = TradeValue(3.0, "mm", "from memory")
"""From an edge or a fold within which a level would be taken for it."""

LEVEL_STEP: Final = TradeValue(5.0, "mm", "from memory")
"""Apart at which a bent level is looked at for that."""

LONG_LEVEL: Final = TradeValue(15.0, "mm", "from memory")
"""Of level at least: over less it only begins, ends or crosses at an edge, and is drawn on to it."""


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
    low, high = (x0 - LEVEL_ALONG, y0 - LEVEL_ALONG), (x1 + LEVEL_ALONG, y1 + LEVEL_ALONG)
    beside = ((np.maximum(starts, ends) > low) & (np.minimum(starts, ends) < high)).all(axis=1)
    runs = (_runs_straight if path.is_straight else _runs_bent)(path, starts[beside], ends[beside])
    along = [(a, b) for a, b in runs if b - a > LONG_LEVEL]
    if not along:
        return [path]
    bounds = [0.0, *(end for run in along for end in run), path.length]
    return [path.between(a, b) for a, b in zip(bounds[::2], bounds[1::2], strict=True) if b - a > LONG_LEVEL]


def _runs_straight(path: Path, starts: Array, ends: Array) -> list[tuple[float, float]]:
    """Return the stretches of a straight level that keep near some edges: exactly, the edges being few."""
    u, length = (path.end - path.start).unit, path.length
    near = []
    for p, q in zip(starts.tolist(), ends.tolist(), strict=True):
        a, b = Point(*p) - path.start, Point(*q) - path.start
        v, w = u.cross(a), u.cross(b)
        if max(v, w) < -LEVEL_ALONG or min(v, w) > LEVEL_ALONG:
            continue
        shares = (
            (0.0, 1.0)
            if v == w
            else sorted(min(max((off - v) / (w - v), 0.0), 1.0) for off in (-LEVEL_ALONG, LEVEL_ALONG))
        )
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
    s = np.linspace(0.0, path.length, max(2, math.ceil(path.length / LEVEL_STEP)) + 1)
    near = distances_to(path.points(s), starts, ends) < LEVEL_ALONG
    turns = np.flatnonzero(np.diff(np.concatenate(((False,), near, (False,))).astype(np.int8))).tolist()
    return [(float(s[i]), float(s[j - 1])) for i, j in zip(turns[::2], turns[1::2], strict=True)]
