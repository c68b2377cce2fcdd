"""A drape in lines alone: what stands out against what lies behind it, and the pieces' edges."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from drafting.worn.picture import Scene, look_at
from drafting.worn.shape import METRE, Floats, Whole

_DOTS: Final = 500
"""To a metre of height, in which it is found what hides what."""
_NEARER: Final = 6.0
"""mm by which what hides a line lies before it at least."""
_STEEP: Final = 15.0
"""mm for what stands out, which the eye sees aslant: beside it the cloth goes back steeply."""
_FAIR: Final = 0.8
"""mm by which a drawn line may leave the mesh's."""
_SHORTEST: Final = 4.0
"""mm long are lines that are drawn; shorter ones are what a mesh's triangles leave of a fold."""


def outline_views(scene: Scene, window: tuple[float, float, float]) -> tuple[tuple[Floats, ...], ...]:
    """Return the lines of each view, each a row of points (mm; across from the middle, and a height).

    The ``window`` is as ``frame_views`` tells it.
    """
    return tuple(tuple(_draw_lines(scene, turn, window)) for turn in scene.turns)


def _draw_lines(scene: Scene, turn: float, window: tuple[float, float, float]) -> Iterator[Floats]:
    """Yield the lines that are seen in a view."""
    low, high, _ = window
    view = look_at(scene, math.radians(turn), window, round(_DOTS * (high - low) / METRE))
    rims = _find_rims(view.seen, scene.triangles)
    edges = np.concatenate([scene.lines, rims])
    shown, behind = view.seen[edges], scene.behind[edges].max(axis=1)
    nearer = np.where(np.arange(len(edges)) < len(scene.lines), _NEARER, _STEEP) - behind
    visible = np.zeros(len(edges), dtype=np.int64)
    for share in (0.1, 0.5, 0.9):
        at = shown[:, 0] + share * (shown[:, 1] - shown[:, 0])
        visible += view.depth_at(at[:, 0], at[:, 1]) < at[:, 2] + nearer
    kept = edges[(visible >= 2) & (shown[:, :, 1] > low).all(axis=1)]
    for chain in chain_edges(kept):
        line = view.seen[chain, :2]
        if np.sqrt((np.diff(line, axis=0) ** 2).sum(axis=1)).sum() >= _SHORTEST:
            yield _leave_out(line)


def chain_edges(edges: Whole) -> Iterator[list[int]]:
    """Yield the points of lines that edges make up, each from an end or a fork to the next, or round."""
    beside: dict[int, list[int]] = {}
    for a, b in np.unique(np.sort(edges, axis=1), axis=0).tolist():
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    starts = [point for point, others in beside.items() if len(others) != 2]
    for start in (*starts, *list(beside)):
        while beside[start]:
            chain = [start]
            while beside[chain[-1]] and (len(chain) == 1 or len(beside[chain[-1]]) == 1):
                here, there = chain[-1], beside[chain[-1]][0]
                beside[here].remove(there)
                beside[there].remove(here)
                chain.append(there)
            yield chain


def _leave_out(line: Floats) -> Floats:
    """The line without the points that lie hardly beside it (Ramer 1972; Douglas and Peucker 1973)."""
    if len(line) < 3:
        return line
    way, off = line[-1] - line[0], line - line[0]
    length = math.hypot(*way)
    beside = np.abs(off[:, 0] * way[1] - off[:, 1] * way[0]) / length if length else np.hypot(off[:, 0], off[:, 1])
    at = int(beside.argmax())
    if beside[at] <= _FAIR:
        return line[[0, -1]]
    return np.concatenate([_leave_out(line[: at + 1])[:-1], _leave_out(line[at:])])


def _find_rims(seen: Floats, triangles: Whole) -> Whole:
    """The edges between a triangle that faces the eye and one that faces away."""
    a, b, c = (seen[triangles[:, i]] for i in range(3))
    one, two = b - a, c - a
    faces = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > 0.0
    pairs = np.sort(np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1)
    towards = np.concatenate([faces, faces, faces])
    found, place, counts = np.unique(pairs, axis=0, return_inverse=True, return_counts=True)
    facing = np.bincount(place.ravel(), weights=towards, minlength=len(found))
    out: Whole = found[(counts == 2) & (facing == 1.0)]
    return out
