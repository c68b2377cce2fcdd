"""Armholes led round the arms' roots, before the arms grow into them.

A sleeve is sewn round its arm and holds its armhole there; one without a sleeve hangs as it fell, its underarm may be
as far out as the middle of the arm: whether this then grew through it or beside it was chance.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.garment import Role
from drafting.worn.mesh import GarmentMesh
from drafting.worn.neck import ease_between
from drafting.worn.placing import Laid
from drafting.worn.pose import HangingArm, PosedBody
from drafting.worn.shape import Floats, Whole

_FADE: Final = 120.0
"""mm beyond an armhole's edge, to where cloth goes with it when it is led."""


def lead_armholes(mesh: GarmentMesh, laid: Laid, posed: PosedBody, at: Floats) -> Floats:
    """Return the points of a sewn garment (mm) with each armhole that has no sleeve round the middle of its arm.

    Seen along the arm its edge's middle is put onto the arm's; the cloth beside it follows, less the farther it is.
    """
    out = at.copy()
    beneath = [each.piece in laid.trunk and each.piece.name not in laid.layers for each in mesh.pieces]
    goes = np.repeat(beneath, [len(each.flat) for each in mesh.pieces])
    for sign, arm in ((1.0, posed.left), (-1.0, posed.right)):
        ring = _find_ring(mesh, laid, at, sign)
        if not len(ring):
            continue
        shift = _find_shift(at[ring], arm)
        middle = (at[ring].min(axis=0) + at[ring].max(axis=0)) / 2.0
        edge = float(np.sqrt(((at[ring] - middle) ** 2).sum(axis=1)).max())
        far = np.sqrt(((at - middle) ** 2).sum(axis=1))
        out += (goes * ease_between(1.0 - (far - edge) / _FADE))[:, None] * shift
    return out


def _find_ring(mesh: GarmentMesh, laid: Laid, at: Floats, sign: float) -> Whole:
    """The points of a side's armhole; none where a sleeve is sewn into it."""
    found = [np.zeros(0, dtype=np.int64)]
    sleeves = {piece.name for piece in laid.sleeves}
    sewn = {use for seam in mesh.garment.seams if sleeves & {u.piece for u in seam.uses()} for use in seam.uses()}
    taken = {(use.piece, use.line) for use in sewn}
    for each, start in zip(mesh.pieces, mesh.starts, strict=True):
        if each.piece in laid.trunk and each.piece.name not in laid.layers:
            for line in each.piece.lines(role=Role.ARMHOLE):
                own = start + each.places[line.name][1]
                if (each.piece.name, line.name) not in taken and sign * float(at[own, 0].mean()) > 0.0:
                    found.append(own)
    return np.unique(np.concatenate(found))


def _find_shift(ring: Floats, arm: HangingArm) -> Floats:
    """How far (mm) and which way an armhole's edge is led, square to its arm."""
    across = np.cross(arm.along, [0.0, 0.0, 1.0])
    across /= np.sqrt((across**2).sum())
    out = np.zeros(3)
    for axis in (across, np.cross(across, arm.along)):
        seen = ((ring - arm.joint) * axis).sum(axis=1)
        out -= (seen.min() + seen.max()) / 2.0 * axis
    return out
