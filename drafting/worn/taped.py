"""Lengths as a tape takes them on the mesh: over what stands out and across what is hollow, and round the neck base."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from drafting.worn.landmarks import (
    BUST_POINT,
    NECK_BASE,
    NECK_BASE_RIGHT,
    PIT,
    SHOULDER_POINT,
    SHOULDER_POINT_RIGHT,
    SIDE_NECK,
    SIDE_NECK_RIGHT,
    cut_edges,
)
from drafting.worn.shape import Floats, Whole

SIDES: Final = ("left", "right")


def tape_over(points: Floats, edges: Whole, start: Floats, end: Floats) -> float:
    """Return the length (mm) of a tape drawn taut over the front of the edges from one place down to another."""
    ahead = end - start
    whole = math.sqrt(float((ahead**2).sum()))
    ahead = ahead / whole
    aside = np.cross(ahead, np.array([0.0, 0.0, 1.0]))
    aside /= math.sqrt(float((aside**2).sum()))
    out = np.cross(aside, ahead)
    out *= np.sign(out[2])
    off = cut_edges(points, edges, start, aside) - start
    off = off[off[:, 1] < 0.0]  # the neck above where it begins isn't in its way
    flat = np.stack([(off * ahead).sum(axis=1), (off * out).sum(axis=1)], axis=1)
    flat = flat[(flat[:, 0] > 0.0) & (flat[:, 0] < whole) & (flat[:, 1] > 0.0)]
    hull = _span_over([(0.0, 0.0), *map(tuple, flat[np.argsort(flat[:, 0])].tolist()), (whole, 0.0)])
    return float(np.hypot(*np.diff(np.array(hull), axis=0).T).sum())


def _span_over(flat: Sequence[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """The corners of a taut line over points in order of their first number."""
    out: list[tuple[float, ...]] = []
    for x, y in flat:
        while len(out) > 1:
            (a, b), (c, d) = out[-2:]
            if (c - a) * (y - b) < (d - b) * (x - a):
                break
            out.pop()
        out.append((x, y))
    return out


def find_front(points: Floats, edges: Whole, x: float, level: float) -> Floats:
    """Return the place on the front of the trunk at a level, so far (mm) from the middle."""
    cut = cut_edges(points, edges, np.array([0.0, level, 0.0]), np.array([0.0, 1.0, 0.0]))
    front = cut[cut[:, 2] > (cut[:, 2].min() + cut[:, 2].max()) / 2.0]
    front = front[np.argsort(front[:, 0])]
    return np.array([x, level, float(np.interp(x, front[:, 0], front[:, 2]))])


def tape_front(points: Floats, edges: Whole, waist: float) -> float:
    """Return the length (mm) from the left side neck point over the bust point, and straight down to the waist."""
    bust = points[BUST_POINT]
    below = find_front(points, edges, float(bust[0]), waist)
    return tape_over(points, edges, points[SIDE_NECK], bust) + tape_over(points, edges, bust, below)


def tape_centre(points: Floats, edges: Whole, waist: float) -> float:
    """Return the length (mm) from the hollow between the collarbones down the middle to the waist."""
    return tape_over(points, edges, points[PIT], find_front(points, edges, 0.0, waist))


def tape_neck_base(points: Floats) -> float:
    """Return the length (mm) round the neck base."""
    loop = points[[*NECK_BASE, *NECK_BASE_RIGHT[-2:0:-1]]]
    return float(np.sqrt(((loop - np.roll(loop, -1, axis=0)) ** 2).sum(axis=1)).sum())


def tape_shoulder(points: Floats, side: str) -> tuple[float, float]:
    """Return the length (mm) of a side's shoulder and how far it falls below level (rad)."""
    neck, tip = (SIDE_NECK, SHOULDER_POINT) if side == "left" else (SIDE_NECK_RIGHT, SHOULDER_POINT_RIGHT)
    off = points[tip] - points[neck]
    length = math.sqrt(float((off**2).sum()))
    return length, math.asin(-float(off[1]) / length)
