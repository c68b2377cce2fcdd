"""What a drape says in figures: how far cloth is stretched at each level, where levels lie, how level the hem is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import Final

import numpy as np

from drafting.body import Body
from drafting.cloth import Cloth
from drafting.garment import Face, Piece
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_row
from drafting.worn.cloth import OFF_THE_BODY
from drafting.worn.dressing import Worn, hem_points
from drafting.worn.folding import measure_folds
from drafting.worn.gaping import Gape, find_gapes
from drafting.worn.landmarks import BUST_POINT, SEAT, make_tape, take_girth
from drafting.worn.places import Places, take_places
from drafting.worn.pressing import Pressed, press_at, press_edges
from drafting.worn.shape import Floats, Whole
from drafting.worn.sleeves import SleevePart, take_sleeves
from drafting.worn.smoothing import smooth_over

LEVELS: Final = ("bust", "waist", "hip")

MEAN_OFF = TradeValue(0.04, "share", "derived", "tubes within 0.02; slack tops at the bust up to 0.036")
"""By so much may an average stretch be wrong."""
LIES_OFF = TradeValue(10.0, "mm", "derived", "a fitted bodice's bust on surveyed women; its waist within 6")
"""By so much may a level or a hem lie elsewhere."""
WELL_BEYOND = TradeValue(2.0, "times", "derived", "a finding within twice what it may be off is none")
"""So many times what it may be off, a figure is a finding."""
BESIDE_LEVEL = trade_row((-30.0, -15.0, 0.0, 15.0, 30.0), "mm", "derived", "so far from the body's a bust level lies")
"""Above a garment's level, where it is looked for how far the cloth is stretched at most."""
_HIGHEST: Final = 0.95
_AT_POINT: Final = 50.0
"""mm from a bust point, level with it, within which cloth is at it."""
_MIDDLE: Final = 60.0
"""mm from the middle within which the hem is taken in front and behind."""


@dataclass(frozen=True, slots=True)
class LevelWorn:
    """One level as worn: mean strain across the cloth there and the 95th percentile (shares; below 0 it is slack).

    Of strains each of which is a mean over the cloth near it, as in the map; the percentile of where round it, up to
    3 cm above or below, that is most.

    ``by_girth`` is the strain that girths alone make likely, ``has`` the stretch that the cloth has; ``height`` is
    where it lies above the body's own level (mm), on average; ``presses`` how hard it presses there (kPa); ``place``
    where round it the cloth is stretched most, "" where that is at no landmark. It is ``unsure`` where the form's own
    level lies elsewhere than the wearer's.
    """

    name: str
    mean: float
    highest: float
    by_girth: float
    has: float
    height: float
    presses: float = 0.0
    place: str = ""
    unsure: bool = False


@dataclass(frozen=True, slots=True)
class WornFigures:
    """All figures of a drape: the levels, and how high above the floor the hem hangs in front and behind (mm).

    ``edges`` tell how hard its neck and armholes press, ``places`` what is seen at single places, ``gapes`` how far it
    stands open between its buttons, ``sleeves`` how far its sleeves are stretched. ``cut`` is by how much higher the
    hem is cut in front than behind (mm), ``folded_front`` and ``folded_back`` how much of the length between bust and
    hip lies in folds there (mm), ``called`` what levels are called that have another name on this body.
    """

    levels: tuple[LevelWorn, ...]
    hem_front: float
    hem_back: float
    edges: tuple[Pressed, ...] = ()
    places: Places = Places()
    gapes: tuple[Gape, ...] = ()
    sleeves: tuple[SleevePart, ...] = ()
    cut: float = 0.0
    folded_front: float = 0.0
    folded_back: float = 0.0
    called: Mapping[str, str] = field(default_factory=dict)

    def speak(self, level: str) -> str:
        """Return what a level is called on this body."""
        return self.called.get(level, level)

    @property
    def front_rises(self) -> float:
        """How much higher the hem hangs in front than behind, as far as it isn't cut so (mm; below 0 lower)."""
        hangs = self.hem_front - self.hem_back
        beyond = hangs - self.cut
        return math.copysign(min(abs(hangs), abs(beyond)), hangs) if hangs * beyond > 0.0 else 0.0

    @property
    def levels_pressed(self) -> tuple[Pressed, ...]:
        """How hard it presses at each level."""
        return tuple(Pressed(level.name, level.presses) for level in self.levels)


def take_figures(worn: Worn, body: Body, cloths: Mapping[str, Cloth]) -> WornFigures:
    """Return what a sound drape says."""
    across, _ = take_strains(worn)
    smooth = smooth_over(worn.mesh, across)
    levels = tuple(_take_levels(worn, cloths["main"], smooth))
    front, back = _find_hems(worn)
    bust = next((level.mean for level in levels if level.name == "bust"), 0.0)
    return WornFigures(
        levels, float(worn.points[front, 1]), float(worn.points[back, 1]), tuple(press_edges(worn)),
        take_places(worn, across, cloths, bust), find_gapes(worn, cloths, across, body_heights(worn)),
        tuple(take_sleeves(worn, smooth, cloths, _HIGHEST)),
        float(worn.mesh.flat[front, 1] - worn.mesh.flat[back, 1]),
        measure_folds(worn, Face.FRONT), measure_folds(worn, Face.BACK), body.called,
    )  # fmt: skip


def body_heights(worn: Worn) -> Mapping[str, float]:
    """Return how high above the floor the body's levels lie (mm)."""
    return {
        "bust": float(worn.posed.points[BUST_POINT, 1]),
        "waist": worn.posed.waist,
        "hip": float(worn.posed.points[SEAT, 1]),
    }


def _find_hems(worn: Worn) -> tuple[int, int]:
    """The points, by number, that hang lowest in front and behind, near the middle: beside it a vent's edges may be."""
    hem = hem_points(worn.mesh)
    x, _, z = worn.points[hem].T
    ahead, out = z > (z.min() + z.max()) / 2.0, []
    for side in (ahead, ~ahead):
        near = side & (np.abs(x) < _MIDDLE)
        kept = hem[near if near.any() else side]
        out.append(int(kept[worn.points[kept, 1].argmin()]))
    return out[0], out[1]


def take_strains(worn: Worn) -> tuple[Floats, Floats]:
    """Return for each triangle of the mesh how far its cloth is stretched across and along (shares)."""
    x, t, rest = worn.cloth.x, worn.cloth.sheet.triangles, worn.cloth.sheet.rest
    one, two = x[t[:, 1]] - x[t[:, 0]], x[t[:, 2]] - x[t[:, 0]]
    across = one * rest[:, [0]] + two * rest[:, [2]]
    along = one * rest[:, [1]] + two * rest[:, [3]]
    return np.sqrt((across**2).sum(axis=1)) - 1.0, np.sqrt((along**2).sum(axis=1)) - 1.0


def _take_levels(worn: Worn, cloth: Cloth, smooth: Floats) -> Iterator[LevelWorn]:
    points = worn.points
    tape = make_tape(worn.fitted.shape.faces, worn.fitted.shape.part)
    heights = body_heights(worn)
    for name in LEVELS:
        crossed, girth = _find_level(worn, name)
        if not len(crossed):
            continue
        strain = smooth[crossed]
        most = max((_find_level(worn, name, by)[0] for by in BESIDE_LEVEL), key=lambda near: _take_most(smooth[near]))
        height = float(points[worn.mesh.triangles[crossed]][:, :, 1].mean())
        level = min(height, heights["bust"])  # farther up the tape would go round what the arms grow out of
        hull = take_girth(worn.posed.points, tape.trunk, level)
        round_it = hull + 2.0 * np.pi * OFF_THE_BODY
        yield LevelWorn(
            name, float(strain.mean()), _take_most(smooth[most]), float(round_it / girth - 1.0),
            cloth.stretch_across, height - heights[name], press_at(worn, worn.mesh.triangles[crossed].ravel()),
            _find_place(worn, most, smooth[most]) if name == "bust" else "",
            any(each.name == f"{name}_height" for each in worn.fitted.missed),
        )  # fmt: skip


def _take_most(strain: Floats) -> float:
    return float(np.quantile(strain, _HIGHEST)) if len(strain) else -1.0


def _find_place(worn: Worn, crossed: Whole, strain: Floats) -> str:
    """In words, where the most stretched twentieth of the bust level lies, if most of that is at the bust points."""
    point = worn.posed.points[BUST_POINT]
    most = worn.points[worn.mesh.triangles[crossed[strain >= np.quantile(strain, _HIGHEST)]]].mean(axis=1)
    off = np.hypot(np.abs(most[:, 0]) - abs(point[0]), most[:, 2] - point[2])
    return "at the bust points" if float((off < _AT_POINT).mean()) > 1 / 2 else ""


def _find_level(worn: Worn, name: str, above: float = 0.0) -> tuple[Whole, float]:
    """The triangles that a level crosses on all body pieces, by number, and how long it is on them together (mm).

    Or those crossed so far ``above`` it (mm).
    """
    found: list[Whole] = [np.zeros(0, dtype=np.int64)]
    girth, before = 0.0, 0
    for each in worn.mesh.pieces:
        for level in each.piece.levels:
            if level.name == name and level.girth and each.piece.name not in worn.laid.layers:
                found.append(before + _cross_level(each.piece, each.flat, each.triangles, level.path.bounds, above))
                girth += level.path.length
        before += len(each.triangles)
    return np.concatenate(found), girth


def _cross_level(
    piece: Piece, flat: Floats, triangles: Whole, bounds: tuple[float, float, float, float], higher: float
) -> Whole:
    above = flat[triangles][:, :, 1] > (bounds[1] + bounds[3]) / 2.0 + higher
    out: Whole = np.nonzero(above.any(axis=1) & ~above.all(axis=1))[0]
    return out
