"""What goes through what: straight lines through triangles, and the middles of arms through cloth."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import numpy.typing as npt

from drafting.worn.mesh import GarmentMesh
from drafting.worn.pose import HangingArm, PosedBody
from drafting.worn.shape import Floats


def crosses_arm(mesh: GarmentMesh, at: Floats, posed: PosedBody) -> bool:
    """Tell whether cloth whose points lie ``at`` places (mm) lies across the middle of an arm."""
    corners = at[mesh.triangles]
    ways = (pair for arm in (posed.left, posed.right) for pair in pairwise(arm_core(arm)))
    return any(is_pierced(corners, a, b) for a, b in ways)


def arm_core(arm: HangingArm) -> Floats:
    """Return points down the middle of an arm, from within the shoulder to the end of its hand."""
    return np.concatenate([arm.core, [arm.hand[1]]])


def is_pierced(corners: Floats, a: Floats, b: Floats) -> bool:
    """Tell whether the straight line from a to b goes through any triangle."""
    return bool(pierce_triangles(corners, a[None, :], b[None, :]).any())


def pierce_triangles(corners: Floats, a: Floats, b: Floats) -> npt.NDArray[np.bool_]:
    """Tell of each triangle whether its straight line from a to b goes through it (Moeller and Trumbore 1997)."""
    way = b - a
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    p = np.cross(way, two)
    below = (one * p).sum(axis=1)
    flat = np.abs(below) < np.finfo(float).tiny
    below = np.where(flat, 1.0, below)
    off = a - corners[:, 0]
    u = (off * p).sum(axis=1) / below
    q = np.cross(off, one)
    v = (way * q).sum(axis=1) / below
    t = (two * q).sum(axis=1) / below
    out: npt.NDArray[np.bool_] = ~flat & (u >= 0) & (v >= 0) & (u + v <= 1) & (t >= 0) & (t <= 1)
    return out
