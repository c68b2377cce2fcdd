"""Single places of a drape that a fitter looks at: the upper back and arms, the ends of the shoulders, the hem's sides.

What each may be off by was found on eight surveyed women, each in a tee and in a fitted bodice drafted for her: there
the back is stretched by 0.5 % more than the bust at most, a woven's upper arm by 0.1 % and a knit's by 10 % of the 30 %
that it has; the ends of the shoulders stand off alike within 1.4 mm, and the hem hangs alike within 5 mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from types import MappingProxyType
from typing import Final

import numpy as np

from drafting.cloth import Cloth
from drafting.garment import Role
from drafting.record import dataclass
from drafting.sides import Side
from drafting.trade import TradeValue, trade_row
from drafting.worn.cloth import OFF_THE_BODY
from drafting.worn.dressing import Worn, hem_points
from drafting.worn.mesh import PieceMesh
from drafting.worn.shape import Floats, Whole
from drafting.worn.soundness import distances_from_body

TUBE_OFF = TradeValue(0.02, "share", "derived", "tubes on a cylinder; the backs of eight surveyed women within 0.005")
"""By so much may an average stretch be wrong where all round is drawn."""
DRAWN = TradeValue(0.5, "share", "from memory")
"""Of the stretch that its cloth has, and more, cloth gives where it is drawn into folds."""
SHOULDERS_DIFFER = TradeValue(3.5, "mm", "derived", "of 24 drapes alike left and right by 5 at most, for twice")
"""By so much may the ends of two shoulders alike stand off the body unlike."""
HEMS_DIFFER = TradeValue(8.0, "mm", "derived", "of 22 drapes alike left and right by 15 at most, for twice of it")
"""By so much may a hem hang higher on one of two sides alike."""
BELOW_UNDERARM = trade_row((60.0, 80.0, 100.0), "mm", "derived", "where a drape on arms 6 cm thicker is drawn most")
"""Below a sleeve's upper arm line, to where the upper arm is thickest."""

_ROUND_TIP: Final = 50.0
"""mm round a shoulder's end within which its edges count."""
_OUTER: Final = 0.6
"""Of a side's reach, from which the hem counts as at that side."""
_SIGNS: Final = MappingProxyType({Side.LEFT: 1.0, Side.RIGHT: -1.0})
"""The wearer's left is where x is above 0."""


@dataclass(frozen=True, slots=True)
class DrawnCloth:
    """How far cloth is stretched on average across a place, and the stretch that it has (shares)."""

    mean: float
    has: float

    @property
    def is_hard(self) -> bool:
        """Whether it is drawn hard, well beyond what the figure may be off by."""
        return self.mean - TUBE_OFF > DRAWN * self.has


@dataclass(frozen=True, slots=True)
class Places:
    """What is seen at single places; a side that the garment hasn't is left out.

    ``back`` is how much more the back is stretched between the armholes than the bust is; ``arms`` the upper arms;
    ``shoulders`` how far off the body the end of each shoulder stands at most (mm); ``hems`` how high the hem hangs at
    each side above the floor, ``cut`` how high it lies on the pieces (mm).
    """

    back: DrawnCloth | None = None
    arms: Mapping[Side, DrawnCloth] = field(default_factory=dict)
    shoulders: Mapping[Side, float] = field(default_factory=dict)
    hems: Mapping[Side, float] = field(default_factory=dict)
    cut: Mapping[Side, float] = field(default_factory=dict)

    @property
    def lower_shoulder(self) -> Side | None:
        """The side whose shoulder stands off more than the other's, well beyond doubt."""
        return _find_more(self.shoulders, 2.0 * SHOULDERS_DIFFER)

    @property
    def higher_hem(self) -> Side | None:
        """The side at which the hem hangs higher than at the other though it isn't cut so, well beyond doubt."""
        beyond = {side: high - self.cut[side] for side, high in self.hems.items()}
        found = _find_more(self.hems, 2.0 * HEMS_DIFFER)
        return found if found is _find_more(beyond, 2.0 * HEMS_DIFFER) else None


def _find_more(sides: Mapping[Side, float], least: float) -> Side | None:
    """The side that has more than the other, by more than the least that counts."""
    if len(sides) < 2:
        return None
    more = sides[Side.LEFT] - sides[Side.RIGHT]
    if abs(more) <= least:
        return None
    return Side.LEFT if more > 0.0 else Side.RIGHT


def take_places(worn: Worn, across: Floats, cloths: Mapping[str, Cloth], bust: float) -> Places:
    """Return what a sound drape shows at single places.

    ``across`` is how far each triangle is stretched across, ``bust`` how far the bust's level is on average (shares).
    """
    backs = [_cross_piece(worn, "across-back"), _cross_piece(worn, "across-back-left")]
    crossed = np.concatenate([found for group in backs for found, _ in group] or [np.zeros(0, dtype=np.int64)])
    main = cloths["main"].stretch_across
    back = DrawnCloth(float(across[crossed].mean()) - max(bust, 0.0), main) if len(crossed) else None
    arms: dict[Side, DrawnCloth] = {}
    for side in _SIGNS:
        for by in BELOW_UNDERARM:
            for found, each in _cross_piece(worn, f"upper-arm-{side}", by):
                has = cloths.get(each.piece.cloth, cloths["main"]).stretch_across
                mean = float(across[found].mean())
                arms[side] = DrawnCloth(max(mean, arms[side].mean) if side in arms else mean, has)
    if worn.laid.layers:  # what hangs over one shoulder pulls at that one alone
        return Places(back, arms)
    return Places(back, arms, dict(_stand_off(worn)), *_hang_sides(worn))


def _cross_piece(worn: Worn, name: str, below: float = 0.0) -> Iterator[tuple[Whole, PieceMesh]]:
    """Yield of each piece that has a level the triangles that it crosses, so far below it (mm), by their number."""
    before = 0
    for each in worn.mesh.pieces:
        for level in each.piece.levels:
            if level.name == name and each.piece.name not in worn.laid.layers:
                low, high = level.path.bounds[1], level.path.bounds[3]
                above = each.flat[each.triangles][:, :, 1] > (low + high) / 2.0 - below
                found = np.nonzero(above.any(axis=1) & ~above.all(axis=1))[0]
                if len(found):
                    yield before + found, each
        before += len(each.triangles)


def _stand_off(worn: Worn) -> Iterator[tuple[Side, float]]:
    """Yield each side whose shoulder has an end at an armhole, and how far that stands off the body (mm)."""
    off = distances_from_body(worn.standing, worn.points) - OFF_THE_BODY
    for side in _SIGNS:
        shoulders = _find_edges(worn, Role.SHOULDER, f"shoulder-{side}")
        armholes = _find_edges(worn, Role.ARMHOLE, f"armhole-{side}")
        ends = np.intersect1d(shoulders, armholes)
        if len(ends):
            near = np.union1d(shoulders, armholes)
            far = np.sqrt(((worn.points[near] - worn.points[ends].mean(axis=0)) ** 2).sum(axis=1))
            yield side, float(off[near[far < _ROUND_TIP]].max())


def _find_edges(worn: Worn, role: Role, name: str) -> Whole:
    """The points of the mesh, by number, on lines of the trunk's pieces."""
    found = [
        start + each.places[line.name][1]
        for each, start in zip(worn.mesh.pieces, worn.mesh.starts, strict=True)
        for line in each.piece.lines(role=role)
        if line.answers_to(name) and each.piece in worn.laid.trunk and each.piece.name not in worn.laid.layers
    ]
    return np.concatenate([np.zeros(0, dtype=np.int64), *found])


def _hang_sides(worn: Worn) -> tuple[Mapping[Side, float], Mapping[Side, float]]:
    """How high the hem hangs at each side, and how high it lies there on the pieces (mm)."""
    hem = hem_points(worn.mesh)
    aside = worn.points[hem, 0]
    hems, cut = {}, {}
    for side, sign in _SIGNS.items():
        there = hem[sign * aside > _OUTER * max(float((sign * aside).max(initial=0.0)), 1.0)]
        if len(there):
            hems[side] = float(worn.points[there, 1].mean())
            cut[side] = float(worn.mesh.flat[there, 1].mean())
    return hems, cut
