"""Where the form's flesh gives way to the cloth.

Draped on arms and a trunk that are parted at the armpits, cloth lies within the whole form there, and the form would be
seen before it.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.trade import TradeValue
from drafting.worn.doubtful import measure_within
from drafting.worn.dressing import Worn
from drafting.worn.picture import mean_normals
from drafting.worn.shape import Floats

BELOW_CLOTH = TradeValue(3.0, "mm", "derived", "tried: from so far on no skin is seen between two points of the cloth")
"""Deeper than the cloth lies the skin that gives way to it."""
_REACH: Final = 15.0
"""mm beyond the cloth's own depth within which skin gives way wholly, and once more until it doesn't any more."""


def press_form(worn: Worn) -> Floats:
    """Return the points (mm) of the posed body, pressed in where cloth lies within it above the waist."""
    from scipy.spatial import cKDTree

    points = worn.posed.points
    deep = measure_within(worn)
    held = np.nonzero(deep > 0.0)[0]
    if not len(held):
        return points
    pushed = np.zeros(len(points))
    reach = deep[held] + 2.0 * _REACH
    for point, near in zip(held, cKDTree(points).query_ball_point(worn.points[held], reach), strict=True):
        off = np.sqrt(((points[near] - worn.points[point]) ** 2).sum(axis=1)) - deep[point]
        share = np.clip(2.0 - off / _REACH, 0.0, 1.0)
        pushed[near] = np.maximum(pushed[near], (deep[point] + BELOW_CLOTH) * share)
    out: Floats = points - pushed[:, None] * mean_normals(points, worn.posed.faces)
    return out
