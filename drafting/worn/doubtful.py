"""Where the form is no wearer's, or stands out through the cloth: there nothing is told of it.

Beside its neck the mesh may fail to follow the neck base or what is taped from it. As it is made it is thicker there
than people: a woven neckline of 36 cm that was drafted for a neck of 35 was drawn to 45 cm. Its neck base is moved to
the wearer's since; where that fails, nothing is told of the cloth beside it.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.trade import TradeValue
from drafting.worn.cloth import stand_grids
from drafting.worn.distance import CELL, make_grid
from drafting.worn.dressing import Worn
from drafting.worn.landmarks import NAPE, NECK, PIT, SIDE_NECK
from drafting.worn.shape import Floats, Whole
from drafting.worn.soundness import distances_from_body

BESIDE_NECK = TradeValue(45.0, "mm", "derived", "so far from it wovens and knits were drawn beyond their stretch")
"""From the form's neck and the line of its base, up to which nothing is concluded of the cloth."""
WITHIN_FORM = TradeValue(15.0, "mm", "derived", "of eight drapes six within 13; in two cloth lay 17 and 26 deep")
"""Farther within the form's skin, cloth lies where no flesh gives way so far, and the form is seen before it."""
_ALONG: Final = 40
"""Points to each side of the line from the nape by the sides of the neck to the hollow in front."""

Mask = npt.NDArray[np.bool_]


def find_doubtful(worn: Worn) -> Mask:
    """Tell of each point of the mesh whether it lies where the form's neck isn't the wearer's."""
    if not worn.fitted.neck_missed:
        return np.zeros(len(worn.points), dtype=np.bool_)
    from scipy.spatial import cKDTree

    points = worn.posed.points
    side = points[SIDE_NECK]
    corners = points[NAPE], side, points[PIT], side * np.array([-1.0, 1.0, 1.0]), points[NAPE]
    share = np.linspace(0.0, 1.0, _ALONG)[:, None]
    base = [a + share * (b - a) for a, b in pairwise(corners)]
    neck: Floats = np.concatenate([points[worn.fitted.shape.part == NECK], *base])
    out: Mask = cKDTree(neck).query(worn.points, distance_upper_bound=float(BESIDE_NECK))[0] < BESIDE_NECK
    return out


def is_doubtful(worn: Worn, points: Whole) -> bool:
    """Tell whether most of some points of the mesh, by their number, lie where the form isn't the wearer's."""
    return bool(find_doubtful(worn)[points].mean() > 1 / 2)


def measure_within(worn: Worn) -> Floats:
    """Return how deep (mm) each point of the mesh lies within the form, arms and trunk as one, above the waist; or 0.

    The cloth is draped on arms and a trunk that are parted at the armpits; what is shown is the whole form.
    """
    posed, points = worn.posed, worn.points
    low, high = points.min(axis=0) - CELL, points.max(axis=0) + CELL
    low[1], high[1] = posed.waist, float(posed.nape[1])
    grid = make_grid(posed.points, posed.faces, low, high)
    out: Floats = np.maximum(-distances_from_body(stand_grids([grid]), points), 0.0)
    return out
