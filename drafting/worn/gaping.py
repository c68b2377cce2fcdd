"""How far a buttoned closure's edges stand open between its buttons.

A drape has them joined all along. Joined at the buttons alone, each stretch between two opens like a slit in a pulled
sheet, whose width is a closed form (Sih, Paris and Irwin 1965); the tests hold it to that.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.cloth import Cloth
from drafting.garment import Closure, Face
from drafting.record import dataclass
from drafting.sides import Side
from drafting.trade import TradeValue
from drafting.worn.cloth import INERT, make_cloth, run_cloth, set_pace
from drafting.worn.doubtful import find_doubtful
from drafting.worn.dressing import Worn
from drafting.worn.fastenings import buttons_of, find_under
from drafting.worn.placing import edge_directions
from drafting.worn.shape import METRE, Floats, Whole

GAPE_OFF = TradeValue(2.0, "mm", "derived", "of slits of 5 to 7 mm in pulled sheets: knits 0.7 too narrow, wovens 1.3")
"""By so much may the width of a gap between buttons be wrong: it is told too narrow rather."""

PULLED_OFF = TradeValue(0.005, "share", "derived", "the backs of eight surveyed women, drafted for them, within 0.005")
"""By so much may it be wrong how far the cloth is stretched across beside the buttons."""
SURELY: Final = 2.0
"""So many times what it may be off, a gap is a finding."""

_OPENING: Final = set_pace(1 / 4800, gravity=1.0, damping=8.0, friction=0.3)
_OPENING_TIME: Final = 0.4
"""s until edges that are let go have come to rest."""


@dataclass(frozen=True, slots=True, eq=False)
class _BetweenButtons:
    """The pairs of points that a closure joins between two neighbouring buttons, which are the first and the last."""

    place: Side | Face
    number: int
    pairs: Whole


@dataclass(frozen=True, slots=True)
class Gape:
    """Between two neighbouring buttons of a closure: how far the edges stand apart there at most (mm).

    ``pulled`` is how far the cloth beside them is stretched across on average (share): slack edges curl apart, too.
    ``button`` is the number of the upper one, from the top; ``level`` is the body's level that is nearest.
    """

    place: Side | Face
    button: int
    wide: float
    level: str
    pulled: float

    @property
    def is_open(self) -> bool:
        """Whether it is pulled open, well beyond doubt."""
        return self.wide > SURELY * GAPE_OFF and self.pulled > SURELY * PULLED_OFF


def find_gapes(
    worn: Worn, cloths: Mapping[str, Cloth], across: Floats, heights: Mapping[str, float]
) -> tuple[Gape, ...]:
    """Return how far the edges of each buttoned closure stand apart between its buttons, from the top down.

    Beside the neck, where the form isn't the wearer's, none is told.

    ``across`` is how far each triangle is stretched across (share), ``heights`` are those of the body's levels above
    the floor (mm).
    """
    found = ((closure, *_find_pairs(worn, closure)) for closure in worn.mesh.garment.closures if closure.button)
    rows = [(closure.place, pairs, at) for closure, pairs, at in found if len(at) > 1]
    if not rows:
        return ()
    doubtful = find_doubtful(worn)
    points = open_between(worn, cloths, [pairs for _, pairs, _ in rows], [at for _, _, at in rows])
    apart = edge_directions(points, worn.mesh.triangles)
    return tuple(
        _measure_gape(worn, points, apart, across, heights, _BetweenButtons(place, number, pairs[first : last + 1]))
        for place, pairs, at in rows
        for number, (first, last) in enumerate(pairwise(at.tolist()), 1)
        if not doubtful[pairs[first : last + 1]].any()
    )


def _find_pairs(worn: Worn, closure: Closure) -> tuple[Whole, Whole]:
    """The pairs of points that a closure joins, from the top down, and which of them stand at a button."""
    mesh = worn.mesh
    under = find_under(mesh.garment, closure)
    numbers = [seam.name for seam in mesh.garment.seams]
    pairs = mesh.sewn[mesh.seam_of == numbers.index(closure.seams[0])]
    if under is None or not len(pairs):
        return pairs, np.zeros(0, dtype=np.int64)
    at: list[int] = []
    for name in dict.fromkeys(use.piece for use in under):
        each, start = mesh.find_piece(name)
        own = (pairs >= start) & (pairs < start + len(each.flat))
        there = np.nonzero(own.any(axis=1))[0]
        flat = each.flat[np.where(own[there, 0], pairs[there, 0], pairs[there, 1]) - start]
        for button in buttons_of(mesh.garment, name):
            far = np.hypot(flat[:, 0] - button.x, flat[:, 1] - button.y)
            at.append(int(there[np.argmin(far)]))
    high = worn.points[pairs[:, 0], 1]
    order = np.argsort(-high, kind="stable")
    return pairs[order], np.flatnonzero(np.isin(order, at))


def open_between(worn: Worn, cloths: Mapping[str, Cloth], rows: list[Whole], at: list[Whole]) -> Floats:
    """Return where the mesh's points come to lie (mm) when pairs in ``rows`` are joined ``at`` their buttons alone.

    Above the first button and below the last they stay joined.
    """
    mesh = worn.mesh
    freed = np.concatenate([np.delete(pairs[few[0] : few[-1]], few[:-1] - few[0], axis=0)
                            for pairs, few in zip(rows, at, strict=True)])  # fmt: skip
    count = len(mesh.flat)
    kept = ~np.isin(mesh.sewn[:, 0] * count + mesh.sewn[:, 1], freed[:, 0] * count + freed[:, 1])
    opened = replace(mesh, sewn=mesh.sewn[kept], seam_of=mesh.seam_of[kept])
    cloth = make_cloth(opened, worn.points, cloths, worn.laid.layers, closed=True, inert=INERT)
    run_cloth(cloth, worn.standing, _OPENING, round(_OPENING_TIME / _OPENING.dt))
    out: Floats = METRE * cloth.x[cloth.point_of]
    return out


def _measure_gape(
    worn: Worn, points: Floats, outward: Floats, across: Floats, heights: Mapping[str, float], row: _BetweenButtons
) -> Gape:
    """How far the edges are drawn apart between two buttons, 0 where they lap."""
    one, two = row.pairs.T
    ways = outward[one] - outward[two]
    ways /= np.maximum(np.sqrt((ways**2).sum(axis=1)), np.finfo(float).tiny)[:, None]
    wide = float(((points[two] - points[one]) * ways).sum(axis=1).max())
    beside = np.isin(worn.mesh.triangles, row.pairs).any(axis=1)
    height = float(worn.points[one, 1].mean())
    level = min(heights, key=lambda name: abs(heights[name] - height))
    return Gape(row.place, row.number, max(0.0, wide), level, float(across[beside].mean()))
