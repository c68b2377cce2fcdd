"""Where the form is no wearer's: beside its neck, where the mesh can't follow the neck base or what is taped from it.

The mesh as it is made is thicker there than people: a woven neckline of 36 cm that was drafted for a neck of 35 was
drawn to 45 cm. Its neck base is moved to the wearer's since; where that fails, nothing is told of the cloth beside it.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.trade import TradeValue
from drafting.worn.dressing import Worn
from drafting.worn.landmarks import NAPE, NECK, PIT, SIDE_NECK
from drafting.worn.shape import Floats, Whole

BESIDE_NECK = TradeValue(45.0, "mm", "derived", "so far from it wovens and knits were drawn beyond their stretch")
"""From the form's neck and the line of its base, up to which nothing is concluded of the cloth."""
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
