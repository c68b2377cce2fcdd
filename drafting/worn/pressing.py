"""Where a garment touches its wearer: how hard it presses, by what the body pushes it with, and where edges gape."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.worn.cloth import OFF_THE_BODY
from drafting.worn.doubtful import is_doubtful
from drafting.worn.dressing import Worn
from drafting.worn.shape import METRE, Floats, Whole
from drafting.worn.soundness import distances_from_body

PRESSED_AS_HARD = TradeValue(2.0, "kPa", "from memory", "15 mmHg: a sock's top, the lightest support stockings")
"""A garment that presses so hard holds as a support stocking does."""
PRESS_OFF = TradeValue(0.5, "share", "derived", "a knit's pull at its full stretch is from memory, 1 to 4 N on 5 cm")
"""Of a pressure, by which it may be wrong: nobody measured how hard the cloth pulls."""

_KILO: Final = 1000.0
_ALL_BUT: Final = 0.95
_EDGES: Final = (("neck", ("neck",)), ("armhole", ("armhole-left", "armhole-right")))
"""What is told of the garment's edges, by their openings."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """How hard the garment presses at a place (kPa, as a mean over all of it, where it touches and where not).

    ``off`` is how far all but a twentieth of an edge lies from the body at most (mm); 0 where a sleeve goes on from it,
    and where it is ``doubtful``: where the form isn't the wearer's.
    """

    name: str
    mean: float
    off: float = 0.0
    doubtful: bool = False


def press_at(worn: Worn, points: Whole) -> float:
    """Return how hard the cloth presses on the body (kPa) around some points of the mesh, by their number."""
    own = np.unique(worn.cloth.point_of[points])
    area = _share_area(worn)[own].sum()
    return float(worn.cloth.points.push[own].sum() / worn.pushed_for / area / _KILO) if area > 0.0 else 0.0


def press_edges(worn: Worn) -> Iterator[Pressed]:
    """Yield how hard neck and armholes press, of a garment that has them."""
    closed = {
        (use.piece, use.line) for seam in worn.mesh.garment.seams if seam.kind.closes for use in seam.uses()
    }  # a zip's edges belong to the opening that it closes
    for name, openings in _EDGES:
        found = [
            start + each.places[line.name][1]
            for each, start in zip(worn.mesh.pieces, worn.mesh.starts, strict=True)
            for line in each.piece.ring
            if line.opening in openings
            and each.piece.name not in worn.laid.layers
            and (each.piece.name, line.name) not in closed
        ]
        if found:
            points = np.concatenate(found)
            goes_on = name == "armhole" and worn.laid.sleeves
            off = distances_from_body(worn.standing, worn.points[points]) - OFF_THE_BODY
            doubtful = is_doubtful(worn, points)
            stands = 0.0 if goes_on or doubtful else float(np.quantile(off, _ALL_BUT))
            yield Pressed(name, press_at(worn, points), stands, doubtful)


def _share_area(worn: Worn) -> Floats:
    """How much cloth (m2, as it was cut) each point of it stands for."""
    flat, triangles = worn.mesh.flat / METRE, worn.cloth.sheet.triangles
    a, b, c = (flat[worn.mesh.triangles[:, i]] for i in range(3))
    one, two = b - a, c - a
    area = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2.0
    out = np.zeros(len(worn.cloth.x))
    np.add.at(out, triangles.ravel(), np.repeat(area / 3.0, 3))
    return out
