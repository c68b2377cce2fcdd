"""What a place of a cloth gives: a mean over the cloth round it, so that a mesh's single triangles don't show."""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.trade import TradeValue
from drafting.worn.mesh import GarmentMesh
from drafting.worn.shape import Floats

SMOOTHED = TradeValue(20.0, "mm", "derived", "averages keep within 0.002, single triangles are gone; at 30 peaks fade")
"""Round a place within which cloth counts for what is told of it."""
_APART: Final = 1_000_000.0
"""mm between pieces where they are searched together."""


def smooth_over(mesh: GarmentMesh, values: Floats) -> Floats:
    """Return values of a mesh's triangles as means, by area, over the cloth of their piece near each."""
    from scipy.spatial import cKDTree

    a, b, c = (mesh.flat[mesh.triangles[:, i]] for i in range(3))
    one, two = b - a, c - a
    area = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2.0
    piece = np.repeat(np.arange(len(mesh.pieces)), [len(each.triangles) for each in mesh.pieces])
    middles = np.column_stack([(a + b + c) / 3.0, _APART * piece])
    i, j = cKDTree(middles).query_pairs(float(SMOOTHED), output_type="ndarray").T
    total, whole = area * values, area.copy()
    for own, other in ((i, j), (j, i)):
        np.add.at(total, own, area[other] * values[other])
        np.add.at(whole, own, area[other])
    return total / whole
