"""A garment put on a body: sewn round the trunk, its bands added, hung, the arms grown in, tugged down, let rest."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np

from drafting.body import Body
from drafting.cloth import Cloth
from drafting.garment import Garment
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.worn.armholes import lead_armholes
from drafting.worn.cloth import GRAVITY, INERT, Moving, make_cloth, run_cloth, set_pace, stand_grids
from drafting.worn.distance import CELL, DistanceGrid, join_rod, make_grid, part_shapes
from drafting.worn.fitting import FittedBody, fit_body
from drafting.worn.mesh import FINE, GarmentMesh, mesh_garment, refine_points
from drafting.worn.piercing import crosses_arm
from drafting.worn.placing import LAYER_ROOMS, Laid, edge_directions, place_added, place_pieces, sort_pieces
from drafting.worn.pose import NECK_KEPT, PosedBody, pose_body
from drafting.worn.shape import METRE, Floats, Whole
from drafting.worn.solver import Pace, Standing

Telling = Callable[[str], None]

_UNDER_LAYER: Final = 0.015
"""m that an arm is thinner while a layer that hangs over it is sewn."""
_IN_SLEEVE: Final = 0.009
"""m that it is thinner while its sleeve is sewn: much thinner, and the sleeve is drawn shut beside its middle."""
_NO_ARM: Final = 0.070
"""m by which it is thinner to body pieces before it grows: more than it is thick."""
_SEW: Final[Pace] = set_pace(1 / 1200, gravity=0.0, damping=6.0, friction=0.0)
_GROW: Final[Pace] = set_pace(1 / 2400, gravity=0.0, damping=4.0, friction=0.05)
"""Without weight: a sleeve that hangs from its armhole before there is an arm in it falls shut."""
_TUG: Final[Pace] = set_pace(1 / 2400, gravity=1.0, damping=3.0, friction=0.05)
_LET_GO: Final[Pace] = set_pace(1 / 2400, gravity=1.0, damping=60.0, friction=0.10)
"""With a third of its friction, as on a wearer who moves, and slowly: where cloth that was pulled long snapped back, it
was flung up and stayed there, in folds across a hollow back."""
_SETTLE: Final[Pace] = set_pace(1 / 4800, gravity=1.0, damping=60.0, friction=0.3)
"""As slowly: between its points on a coarser mesh it lay within the body, which flings it out."""
_TUG_PULL: Final = 4.0
"""N all round the hem: a light pull with both hands that straightens a tee."""
_REST: Final[Pace] = set_pace(1 / 4800, gravity=1.0, damping=20.0, friction=0.3)
_SEW_TIME, _GROW_TIME, _TUG_TIME, _REST_TIME = 0.9, 0.8, 0.6, 1.2
_LAST: Final = 0.1
"""s at the end, in which cloth is watched whether it is at rest."""
_COARSER: Final = 2.0
"""Sewn and dressed is a mesh so much coarser than that which comes to rest."""
_STAGES: Final = 24
"""Into so many parts is the closing of seams and the growing of arms divided."""
_THICK: Final = 0.6
"""Of the mesh's step points that lie on each other keep apart, so that none slips through between three others."""
ARM_APART = TradeValue(10.0, "mm", "derived", "a sleeve and a side between them, apart as cloth on cloth is kept")
"""So far apart are arm and trunk below the armpit: flesh gives way to the cloth between them."""
_EDGE: Final = 40.0
"""mm around what is to be dressed for which the body's distance is known."""


@dataclass(frozen=True, slots=True, eq=False)
class Worn:
    """A garment as it hangs on a body.

    ``open_seams`` gives the widest gap (mm) that was left in each seam as it was sewn, ``drift`` how far each point of
    the cloth still moved in a second (mm), as a mean of the last tenth, in which its points were pushed by the body for
    ``pushed_for`` steps.
    """

    fitted: FittedBody
    posed: PosedBody
    standing: Standing
    mesh: GarmentMesh
    laid: Laid
    cloth: Moving
    open_seams: Mapping[int, float]
    drift: Floats
    pushed_for: int = 1

    @property
    def points(self) -> Floats:
        """Where each point of the mesh lies (mm)."""
        out: Floats = METRE * self.cloth.x[self.cloth.point_of]
        return out


def dress_body(
    garment: Garment, body: Body, cloths: Mapping[str, Cloth], telling: Telling = lambda _: None, step: float = FINE
) -> Worn:
    """Drape a garment on a body of these measurements; CannotWear where that can't be done yet."""
    laid = sort_pieces(garment)
    telling("shaping the body")
    fitted = fit_body(body)
    posed = pose_body(fitted, body)
    standing = _stand_body(posed, laid, body)
    mesh = mesh_garment(garment, laid.pieces, _COARSER * step)
    for room in LAYER_ROOMS if laid.layers else LAYER_ROOMS[:1]:
        telling("sewing")
        at, gaps = _sew_up(mesh, laid, posed, standing, cloths, room)
        telling("dressing")
        coarse = make_cloth(mesh, at, cloths, laid.layers, closed=True)
        _hang_cloth(coarse, standing, laid, _THICK * _COARSER * step / METRE)
        if not crosses_arm(mesh, METRE * coarse.x[coarse.point_of], posed):
            break
    telling("letting it hang")
    fine = mesh_garment(garment, laid.pieces, step)
    found = refine_points(mesh, fine, METRE * coarse.x[coarse.point_of])
    cloth = make_cloth(fine, found, cloths, laid.layers, closed=True, inert=INERT)
    thick = _THICK * step / METRE
    for pace in (_SETTLE, _REST):
        run_cloth(cloth, standing, pace, round(_REST_TIME / pace.dt / 2.0), thick=thick)
    before, last = cloth.x.copy(), round(_LAST / _REST.dt)
    cloth.points.push[:] = 0.0
    run_cloth(cloth, standing, _REST, last, thick=thick)
    drift = METRE * np.sqrt(((cloth.x - before) ** 2).sum(axis=1)) / _LAST
    return Worn(fitted, posed, standing, fine, laid, cloth, gaps, drift, last)


def _stand_body(posed: PosedBody, laid: Laid, body: Body) -> Standing:
    """The body's distance grids: the trunk down to below the longest piece, and both arms.

    The mesh's armpits lie 3 to 5 cm too low, the lower the fuller the bust, and hold cloth fast that is drafted to
    lie beneath the wearer's: arm and trunk are parted up to where these are.
    """
    nape = float(posed.nape[1])
    longest = min(piece.outline.bounds[1] for piece in laid.trunk)
    floor = max(nape + longest - 3.0 * _EDGE, 0.0)
    kept = np.unique(posed.trunk_faces)
    trunk = posed.trunk[kept]
    trunk = trunk[(trunk[:, 1] > floor) & (trunk[:, 1] < nape + NECK_KEPT)]
    low, high = trunk.min(axis=0) - _EDGE, trunk.max(axis=0) + _EDGE
    low[1], high[1] = floor, nape + NECK_KEPT - CELL
    whole = make_grid(posed.trunk, posed.trunk_faces, low, high)
    pits = nape + body["armpit_height"] - body["back_neck_point_height"]
    middle, arms = whole, list[DistanceGrid]()
    for arm in (posed.left, posed.right):
        own = arm.points[np.unique(arm.faces)]
        grid = make_grid(arm.points, arm.faces, own.min(axis=0) - _EDGE, own.max(axis=0) + _EDGE)
        middle = part_shapes(middle, grid, ARM_APART / 2.0, pits)
        arms.append(join_rod(part_shapes(grid, whole, ARM_APART / 2.0, pits), *arm.hand))
    return stand_grids([middle, *arms])


def _sew_up(
    mesh: GarmentMesh, laid: Laid, posed: PosedBody, standing: Standing, cloths: Mapping[str, Cloth], room: float
) -> tuple[Floats, Mapping[int, float]]:
    """Sew body pieces round the body without arms, sleeves and cuffs round the arms, and put the other bands on.

    Returns where the points lie (mm), and the widest gap (mm) left in each seam, by its number.
    """
    placed = place_pieces(mesh, laid, posed, room)
    count = sum(len(each.flat) for each in mesh.pieces if each.piece not in laid.added)
    pairs = (mesh.sewn < count).all(axis=1)
    kept = tuple(each for each in mesh.pieces if each.piece not in laid.added)
    first = GarmentMesh(mesh.garment, kept, mesh.starts[: len(kept)], mesh.sewn[pairs], mesh.seam_of[pairs])
    cloth = make_cloth(first, placed[:count], cloths, laid.layers, closed=False)
    cloth.points.thin[:] = thin_arms(first, laid)
    gap = _measure_gaps(cloth)
    steps = round(_SEW_TIME / _SEW.dt / _STAGES)
    on_trunk = np.concatenate([np.full(len(each.flat), each.piece in laid.trunk) for each in kept])
    for i in range(_STAGES):
        share = max(0.0, 1.0 - (i + 1) / (_STAGES - 6))
        if not share:  # what is sewn above the shoulders is let down on them: its armholes lie round the arms' roots
            cloth.points.pull[on_trunk] = GRAVITY / cloth.points.w[on_trunk]
        run_cloth(cloth, standing, _SEW, steps, gap * share)
    left = METRE * _measure_gaps(cloth)
    gaps = {int(n): float(left[first.seam_of == n].max()) for n in np.unique(first.seam_of)}
    placed[:count] = lead_armholes(first, laid, posed, METRE * cloth.x)
    ways = edge_directions(placed[:count], first.triangles)
    return place_added(mesh, laid.added, placed, ways, (posed.left.core, posed.right.core)), gaps


def thin_arms(mesh: GarmentMesh, laid: Laid) -> Floats:
    """Return by how much (m) the arms are thinner to each point of a mesh while it is sewn, and until they grow.

    A cuff is round its arm as its sleeve is: were there none to it, it would be drawn shut beside the arm.
    """
    thinner = dict.fromkeys((piece.name for piece in (*laid.sleeves, *laid.cuffs)), _IN_SLEEVE) | dict.fromkeys(
        laid.layers, _UNDER_LAYER
    )
    return np.concatenate([np.full(len(p.flat), thinner.get(p.piece.name, _NO_ARM)) for p in mesh.pieces])


def _measure_gaps(cloth: Moving) -> Floats:
    out: Floats = np.sqrt(((cloth.x[cloth.sewn[:, 0]] - cloth.x[cloth.sewn[:, 1]]) ** 2).sum(axis=1))
    return out


def _hang_cloth(cloth: Moving, standing: Standing, laid: Laid, thick: float) -> None:
    """Let the arms grow into the sewn garment, tug it down and let go, where it lies on itself so ``thick`` (m)."""
    steps = round(_GROW_TIME / _GROW.dt / _STAGES)
    thin = np.zeros(len(cloth.x))
    np.maximum.at(thin, cloth.point_of, thin_arms(cloth.mesh, laid))
    for i in range(_STAGES):
        cloth.points.thin[:] = thin * max(0.0, 1.0 - i / (_STAGES - 6))
        run_cloth(cloth, standing, _GROW, steps)
    hem = cloth.point_of[hem_points(cloth.mesh)]
    steps = round(_TUG_TIME / _TUG.dt / _STAGES)
    for i in range(2 * _STAGES):
        held = min(1.0, 2.0 - (i + 1) / _STAGES)
        cloth.points.pull[hem] = held * _TUG_PULL / len(hem)
        run_cloth(cloth, standing, _TUG if i < _STAGES else _LET_GO, steps, thick=thick)


def hem_points(mesh: GarmentMesh) -> Whole:
    """The points of a mesh that lie on the hem, or on the outer edge of its band."""
    sewn = {(use.piece, use.line) for seam in mesh.garment.seams for use in seam.uses()}
    out = [
        start + each.places[line.name][1]
        for each, start in zip(mesh.pieces, mesh.starts, strict=True)
        for line in each.piece.ring
        if line.opening == "hem" and (each.piece.name, line.name) not in sewn
    ]
    return np.unique(np.concatenate([np.zeros(0, dtype=np.int64), *out]))
