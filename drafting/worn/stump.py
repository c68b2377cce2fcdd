"""The neck of the dress form: from the neck base up, square to the neck's axis, closed by a lid.

The mesh's chin lies as low as the neck is taped in front: a plane through the mesh itself left its underside there as
a brim. Above the neck base the form is drawn anew, as narrow as the neck is where it is taped.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np

from drafting.worn.landmarks import (
    CROWN,
    HEAD,
    NAPE,
    NECK_BASE,
    NECK_BASE_RIGHT,
    TRUNK_PARTS,
    cut_edges,
    cut_neck,
    find_edges,
    hull_corners,
)
from drafting.worn.shape import Floats, Whole

_ABOVE: Final = 12.0
"""mm above where the neck is taped, where it is cut off."""
_RINGS: Final = 8
"""Rings of the neck, from its base up."""
_TRIED: Final = 16
"""Places along each edge of a level's hull at which its distance from the middle is taken."""


def stand_neck(points: Floats, faces: Whole, part: Whole) -> tuple[Floats, Whole]:
    """Return a trunk with its neck cut off and a stump on it; ``part`` is each point's (mm) of the body."""
    edges = find_edges(faces)
    loop = _find_loop(edges)
    above = _find_above(len(points), edges, loop) | (part >= HEAD)
    kept = faces[~above[faces].any(axis=1)]
    top, square = _lay_top(points, faces, part, points[loop])
    way = top - points[loop]
    rise = (way * square).sum(axis=1)[:, None] * square
    rings, at = [points], [loop]
    for share in np.linspace(0.0, 1.0, _RINGS)[1:]:
        rings.append(points[loop] + share * rise + (1.0 - (1.0 - share) ** 2) * (way - rise))
        at.append(len(points) + (len(at) - 1) * len(loop) + np.arange(len(loop)))
    made = [kept]
    for low, high in pairwise(at):
        after, following = np.roll(low, -1), np.roll(high, -1)
        made += [np.stack([low, high, after], axis=1), np.stack([after, high, following], axis=1)]
    rim = at[-1] + len(loop)
    made.append(np.stack([rim, np.full(len(loop), rim[-1] + 1), np.roll(rim, -1)], axis=1))
    return np.concatenate([*rings, top, top.mean(axis=0)[None, :]]), np.concatenate(made)


def _find_loop(edges: Whole) -> Whole:
    """The vertices round the base of the neck, from the nape over the left to the hollow in front and back, joined.

    Where two of them share no edge, one that both share an edge with is put between.
    """
    whole = (*NECK_BASE, *NECK_BASE_RIGHT[-2:0:-1])
    beside: dict[int, set[int]] = {}
    for a, b in edges[np.isin(edges, whole).any(axis=1)].tolist():
        beside.setdefault(a, set()).add(b)
        beside.setdefault(b, set()).add(a)
    out: list[int] = []
    for one, other in zip(whole, (*whole[1:], whole[0]), strict=True):
        out.append(one)
        if other not in beside[one]:
            out.append(min((beside[one] & beside[other]) - set(whole)))
    return np.array(out)


def _find_above(count: int, edges: Whole, loop: Whole) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Of each vertex, whether it hangs together with the head and not with the trunk once they are parted at a loop."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    free = edges[~np.isin(edges, loop).any(axis=1)]
    graph = coo_array((np.ones(len(free), dtype=np.int8), (free[:, 0], free[:, 1])), shape=(count, count))
    label = np.asarray(connected_components(graph, directed=False)[1])
    out: np.ndarray[tuple[int], np.dtype[np.bool_]] = label == label[CROWN]
    return out


def _lay_top(points: Floats, faces: Whole, part: Whole, base: Floats) -> tuple[Floats, Floats]:
    """Where the neck's upper edge lies, a point above each of its base; and the direction square to it."""
    at, square = cut_neck(points)
    ahead = np.array([0.0, -square[2], square[1]])
    own = find_edges(faces[np.isin(part, TRUNK_PARTS)[faces].all(axis=1)])
    cut = cut_edges(points, own, at, square) - points[NAPE]
    flat = hull_corners(np.stack([cut[:, 0], (cut * ahead).sum(axis=1)], axis=1))
    middle = (flat.min(axis=0) + flat.max(axis=0)) / 2.0
    centre = (base.min(axis=0) + base.max(axis=0)) / 2.0
    asked = np.arctan2(((base - centre) * ahead).sum(axis=1), base[:, 0] - centre[0])
    far = measure_radii(flat, asked)
    round_it = np.stack([middle[0] + far * np.cos(asked), middle[1] + far * np.sin(asked)], axis=1)
    up = ((at - points[NAPE]) * square).sum() + _ABOVE
    out: Floats = points[NAPE] + round_it[:, [0]] * [1.0, 0.0, 0.0] + round_it[:, [1]] * ahead + up * square
    return out, square


def measure_radii(flat: Floats, asked: Floats) -> Floats:
    """Return how far from its middle (mm) a hull, of corners (n, 2) in order, is at each angle asked (rad)."""
    middle = (flat.min(axis=0) + flat.max(axis=0)) / 2.0
    closed = np.concatenate([flat, flat[:1]])
    dense = np.concatenate([closed[:-1] + share * np.diff(closed, axis=0) for share in np.linspace(0.0, 1.0, _TRIED)])
    off = dense - middle
    angle = np.arctan2(off[:, 1], off[:, 0])
    order = np.argsort(angle, kind="stable")
    out: Floats = np.interp(asked, angle[order], np.hypot(*off[order].T), period=2.0 * np.pi)
    return out
