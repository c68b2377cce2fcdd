"""Edges that are bent along others, and how what lies near them turns with them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drafting.geometry import Array
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.unfold import ribbon_along
from drafting.output.layers.view import Points

BENT = 25
"""Points of an edge that is bent along another."""

FADES = 120.0
"""From a bent edge as far as a piece's other edges follow it (mm)."""


def space_evenly(course: Points) -> Points:
    """Return as many points of a course, evenly spread, as an edge has that is bent."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    at = np.linspace(0.0, along[-1], BENT)
    return np.stack([np.interp(at, along, course[:, k]) for k in (0, 1)], axis=1)


def follow_bent(points: Points, bent: Sequence[tuple[Points, Points]]) -> Points:
    """Return points as they lie when edges near them are bent: beside these they turn too, so that corners stay true.

    ``bent`` are the edges as they were and as they are, point by point.
    """
    if not bent:
        return points
    before, after = (np.concatenate([pair[i] for pair in bent]) for i in (0, 1))
    turns = np.concatenate([_directions(two) - _directions(one) for one, two in bent])
    off = points[:, None, :] - before[None, :, :]
    near = np.hypot(off[..., 0], off[..., 1])
    nearest = near.argmin(axis=1)
    rows = np.arange(len(points))
    away, c, s = off[rows, nearest], np.cos(turns[nearest]), np.sin(turns[nearest])
    turned = np.stack([c * away[:, 0] - s * away[:, 1], s * away[:, 0] + c * away[:, 1]], axis=1)
    share = np.clip(1.0 - near[rows, nearest] / FADES, 0.0, 1.0)[:, None]
    return np.asarray(points + share * (after[nearest] + turned - points))


def _directions(course: Points) -> Array:
    """The angle of a course at each of its points (rad)."""
    step = np.gradient(course, axis=0)
    return np.asarray(np.arctan2(step[:, 1], step[:, 0]))


def bind_edge(courses: Sequence[Points], aparts: Sequence[float], i: int, width: float) -> Points:
    """A binding along one course of an outline, so wide to its left; it ends with the raw edges beside it."""
    course, ends = courses[i], []
    for j, corner, behind in ((i - 1, 0, 1), ((i + 1) % len(courses), -1, -2)):
        if aparts[j]:
            beside = courses[j][-2:] if corner == 0 else courses[j][:2]
            along, out = course[corner] - course[behind], np.subtract(*beside[::-1])[::-1] * (1.0, -1.0)
            out *= np.sign(width) / np.hypot(*out)
            ends.append((course[corner] + out * aparts[j], out))
            reached = course[corner] + along / np.hypot(*along) * (aparts[j] + abs(width))
            course = np.concatenate([reached[None], course] if corner == 0 else [course, reached[None]])
    ring = ribbon_along(course, width)
    for at, out in ends:
        ring = clip_half(ring, at, out)
    return ring
