"""How the cloth hangs on the form: a mesh's masses, what it resists, and the body that it lies on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from drafting.cloth import Cloth, Kind
from drafting.garment import Face, Fate, Garment, Seam
from drafting.geometry.polygon import distances_to
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.worn.compiled import compile_loop
from drafting.worn.distance import DistanceGrid
from drafting.worn.layers import find_order, no_order
from drafting.worn.mesh import GarmentMesh, PieceMesh
from drafting.worn.shape import METRE, Floats, Whole
from drafting.worn.solver import PARTS, Fabric, Pace, Points, Standing, Touching, move_cloth

GRAVITY: Final = 9.81
"""m/s2."""
INERT: Final = 4.0
"""Times its mass cloth that comes to rest is slow to move, not heavy: it hangs the same, and steps may be longer."""
FASTEST: Final = 4.0
"""m/s, which no point may pass, so that none jumps through the body."""

_LOOK_AGAIN: Final = 1 / 120
"""s after which it is looked again which cloth may touch which."""
_NEARLY: Final = 0.005
"""m that two points may come nearer to each other until then."""

FULL_PULL: Final = 36.0
"""N/m that stretch a knit to its stated stretch: a hand's pull, about 2 N on 5 cm; from memory."""
KNIT_PULLS: Final = (40.0, 1500.0)
"""N/m: a knit's stiffness lies between these, whatever its stretch."""
KNIT_ALONG: Final = 200.0
"""N/m along a knit whose stretch along nobody measured."""
KNIT_SHEAR: Final = 40.0
"""N/m."""
WOVEN: Final = (1500.0, 1500.0, 60.0)
"""N/m across, along and in shear."""
BENDING: Final = {Kind.KNIT: 2 / 1_000_000, Kind.WOVEN: 8 / 1_000_000}
"""N m: a light jersey's and a shirting's; from memory of published tests of single cloths."""
WEIGHT: Final = {Kind.KNIT: 0.20, Kind.WOVEN: 0.15}
"""kg/m2, for a ticket doesn't say what its cloth weighs."""

HEM_DEEP = TradeValue(20.0, "mm", "common practice")
"""Deep is a turned hem where nothing else is said."""
OFF_THE_BODY = TradeValue(1.0, "mm", "from memory")
"""Between the body's skin, in its linen, and the middle of the cloth."""
BETWEEN_LAYERS = TradeValue(3.0, "mm", "derived", "overlays tried: less, and one's mesh cuts the other's corners")
"""Apart are the middles of two layers, and farther from the body is the outer one."""


@dataclass(frozen=True, slots=True, eq=False)
class Moving:
    """Cloth in motion: its points change in place.

    ``point_of`` gives for each point of the mesh the point of the cloth that it is, once seams are closed; ``sewn`` are
    the pairs that are still to be sewn, ``layer_of`` the layer of each triangle. It is ``inert`` times as slow to move
    as its mass makes it.
    """

    mesh: GarmentMesh
    point_of: Whole
    points: Points
    sheet: Fabric
    sewn: Whole
    layer_of: Whole
    inert: float = 1.0

    @property
    def x(self) -> Floats:
        """Where the points of the cloth are (m)."""
        return self.points.x


def set_pace(dt: float, *, gravity: float = 1.0, damping: float = 2.0, friction: float = 0.3) -> Pace:
    """Return how cloth moves for a while: a step's time (s), gravity as a share of the earth's, damping, friction."""
    return Pace(dt, gravity * GRAVITY, damping, friction, FASTEST)


def stand_grids(grids: Sequence[DistanceGrid]) -> Standing:
    """Return grids (mm) as the loop reads them (m)."""
    sizes = [each.values.size for each in grids]
    first = np.cumsum([0, *sizes])[:-1]
    table = np.array([[at, *each.values.shape] for at, each in zip(first, grids, strict=True)], dtype=np.int64)
    values = (np.concatenate([each.values.ravel() for each in grids]) / METRE).astype(np.float32)
    starts = np.stack([each.start for each in grids]) / METRE
    return Standing(values, table, starts, grids[0].cell / METRE)


def make_cloth(
    mesh: GarmentMesh,
    at: Floats,
    cloths: Mapping[str, Cloth],
    layers: Mapping[str, int],
    *,
    closed: bool,
    inert: float = 1.0,
) -> Moving:
    """Return a mesh as cloth whose points lie ``at`` places (mm); with its seams ``closed``, or still to be sewn.

    ``cloths`` by name, ``layers`` by piece: 0 for what lies on the body.
    """
    count = len(at)
    point_of = _join_points(count, mesh.sewn) if closed else np.arange(count)
    number = int(point_of.max()) + 1
    x = np.zeros((number, 3))
    np.add.at(x, point_of, at / METRE)
    x /= np.bincount(point_of, minlength=number)[:, None]
    flat, triangles = mesh.flat / METRE, mesh.triangles
    across, along = _grain_axes(mesh)
    rest, area = _measure_rest(flat, triangles, across, along)
    stiff, weight, bending = _resist(mesh, cloths)
    mass = np.zeros(number)
    np.add.at(mass, point_of[triangles].ravel(), np.repeat(area * weight / 3.0, 3))
    hinges, bends, bend_give = _hinge_pairs(flat, triangles, point_of, bending)
    layer = np.concatenate([np.full(len(p.flat), layers.get(p.piece.name, 0)) for p in mesh.pieces])
    clear = np.zeros(number)
    np.maximum.at(clear, point_of, (OFF_THE_BODY + layer * BETWEEN_LAYERS) / METRE)
    sewn = np.zeros((0, 2), dtype=np.int64) if closed else mesh.sewn
    inverse = np.where(mass > 0.0, 1.0 / np.maximum(inert * mass, np.finfo(float).tiny), 0.0)
    points = Points(x, np.zeros_like(x), inverse, clear, *(np.zeros(number) for _ in range(3)))
    sheet = Fabric(point_of[triangles], rest, 1.0 / (stiff * area[:, None]), hinges, bends, bend_give)
    layer_of = np.concatenate([np.full(len(p.triangles), layers.get(p.piece.name, 0)) for p in mesh.pieces])
    return Moving(mesh, point_of, points, sheet, sewn, layer_of, inert)


def run_cloth(
    cloth: Moving, body: Standing, pace: Pace, steps: int, apart: Floats | None = None, *, thick: float = 0.0
) -> None:
    """Move cloth by a number of steps; ``apart`` (m) for each pair that is still to be sewn.

    Where it is ``thick`` (m), cloth lies on cloth; else a layer goes through itself. Layers are held in their order
    once they are sewn.
    """
    held = np.zeros(len(cloth.sewn)) if apart is None else apart
    slow = pace._replace(gravity=pace.gravity / cloth.inert)
    move = compile_loop(move_cloth, *PARTS)
    kin = _find_kin(cloth) if thick else np.zeros(0, dtype=np.int64)
    layered = bool(cloth.layer_of.any()) and not len(cloth.sewn)
    at_once = max(1, round(_LOOK_AGAIN / pace.dt)) if thick or layered else steps
    for done in range(0, steps, at_once):
        ordered = find_order(cloth.x, *split_layers(cloth), body, BETWEEN_LAYERS / METRE) if layered else no_order()
        touching = Touching(_find_touching(cloth, kin, thick), thick, ordered)
        move(cloth.points, cloth.sheet, cloth.sewn, held, touching, body, slow, min(at_once, steps - done))


def _find_kin(cloth: Moving) -> Whole:
    """Pairs of points, each as one number, that are no more than two triangles apart: they can't lie on each other."""
    from scipy.sparse import coo_array

    t, count = cloth.sheet.triangles, len(cloth.x)
    ends = np.concatenate([t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]])
    one = coo_array((np.ones(len(ends), dtype=np.int32), (ends[:, 0], ends[:, 1])), shape=(count, count)).tocsr()
    one = one + one.T
    two = (one + one.dot(one)).tocoo()
    return np.unique(two.row.astype(np.int64) * count + two.col)


def _find_touching(cloth: Moving, kin: Whole, thick: float) -> Whole:
    """The pairs of points that are so near that they may touch before they are looked for again."""
    if not thick:
        return np.zeros((0, 2), dtype=np.int64)
    from scipy.spatial import cKDTree

    pairs = cKDTree(cloth.x).query_pairs(thick + _NEARLY, output_type="ndarray").astype(np.int64)
    over, under = (np.bincount(t.ravel(), minlength=len(cloth.x)) > 0 for t in split_layers(cloth))
    a, b = pairs.T
    pairs = pairs[over[a] & over[b] | under[a] & under[b]]
    numbers = np.sort(pairs[:, 0] * len(cloth.x) + pairs[:, 1])
    at = np.minimum(np.searchsorted(kin, numbers), len(kin) - 1)
    numbers = numbers[kin[at] != numbers]
    return np.stack([numbers // len(cloth.x), numbers % len(cloth.x)], axis=1)


def split_layers(cloth: Moving) -> tuple[Whole, Whole]:
    """Return the triangles of what hangs over, and of what lies beneath."""
    over = cloth.layer_of > 0
    return cloth.sheet.triangles[over], cloth.sheet.triangles[~over]


def _join_points(count: int, sewn: Whole) -> Whole:
    """The point of the closed cloth that each point of the mesh is."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    ones = np.ones(len(sewn), dtype=np.int8)
    graph = coo_array((ones, (sewn[:, 0], sewn[:, 1])), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1], dtype=np.int64)


def _grain_axes(mesh: GarmentMesh) -> tuple[Floats, Floats]:
    """For each triangle the directions across and along its cloth."""
    along = np.concatenate([np.tile([p.piece.grain.x, p.piece.grain.y], (len(p.triangles), 1)) for p in mesh.pieces])
    return np.stack([along[:, 1], -along[:, 0]], axis=1), along


def _measure_rest(flat: Floats, triangles: Whole, across: Floats, along: Floats) -> tuple[Floats, Floats]:
    """The inverse of each triangle's two edges across and along its cloth, in rows; and its area."""
    a, b, c = (flat[triangles[:, i]] for i in range(3))
    u1, v1 = ((b - a) * across).sum(axis=1), ((b - a) * along).sum(axis=1)
    u2, v2 = ((c - a) * across).sum(axis=1), ((c - a) * along).sum(axis=1)
    double = u1 * v2 - u2 * v1
    return np.stack([v2, -u2, -v1, u1], axis=1) / double[:, None], np.abs(double) / 2.0


def stiffness_of(cloth: Cloth) -> tuple[float, float, float]:
    """Return how a cloth resists being stretched across and along and sheared (N/m)."""
    if cloth.kind is Kind.WOVEN and cloth.stretch_across <= 0.0:
        return WOVEN
    least, most = KNIT_PULLS
    unknown, shear = (WOVEN[1], WOVEN[2]) if cloth.kind is Kind.WOVEN else (KNIT_ALONG, KNIT_SHEAR)
    across, along = (
        min(max(FULL_PULL / stretch, least), most) if stretch > 0.0 else stiff
        for stretch, stiff in ((cloth.stretch_across, most), (cloth.stretch_along, unknown))
    )
    return across, along, shear


def _resist(mesh: GarmentMesh, cloths: Mapping[str, Cloth]) -> tuple[Floats, Floats, Floats]:
    """For each triangle its stiffness, its weight (kg/m2), its bending stiffness: more where it is folded."""
    stiff, weight, bending = [], [], []
    for each in mesh.pieces:
        cloth = cloths.get(each.piece.cloth, cloths["main"])
        layers = np.maximum(_count_layers(each), _count_stands(mesh.garment, each))
        layers = np.maximum(layers, _count_faced(mesh, each))
        stiff.append(np.array(stiffness_of(cloth)) * layers[:, None])
        weight.append(WEIGHT[cloth.kind] * layers)
        bending.append(BENDING[cloth.kind] * layers)
    return np.concatenate(stiff), np.concatenate(weight), np.concatenate(bending)


def _count_layers(each: PieceMesh) -> Floats:
    """How many layers each triangle of a piece stands for: two where it is folded, or its hem is turned."""
    out = np.ones(len(each.triangles))
    if any(line.fate is Fate.FOLDED for line in each.piece.ring):
        return out * 2.0
    middle = each.flat[each.triangles].mean(axis=1)
    for line in each.piece.ring:
        if line.fate is Fate.HEMMED:
            edge = each.flat[each.places[line.name][1]]
            out[distances_to(middle, edge[:-1], edge[1:]) < (line.turned or HEM_DEEP)] = 2.0
    return out


def _count_stands(garment: Garment, each: PieceMesh) -> Floats:
    """How many layers each triangle stands for beside a buttoned edge: two in its stand, four where the edges lap."""
    out = np.ones(len(each.triangles))
    middle = each.flat[each.triangles].mean(axis=1)
    for seam in garment.seams:
        for use in seam.uses() if seam.fold else ():
            if use.piece == each.piece.name:
                edge = each.flat[each.places[use.line][1]]
                far = distances_to(middle, edge[:-1], edge[1:])
                out[far < (seam.allowance or 0.0) - 2.0 * seam.fold] = 2.0
                out[far < seam.fold] = 4.0
    return out


def _count_faced(mesh: GarmentMesh, each: PieceMesh) -> Floats:
    """How many layers each triangle stands for beside a faced edge: the facing too, and its interfacing, to its depth.

    A facing isn't draped itself: it lies beneath. It is as deep as its area is for its sewn length.
    """
    out = np.ones(len(each.triangles))
    middle = each.flat[each.triangles].mean(axis=1)
    kept = {own.piece.name for own in mesh.pieces}
    for facing in (piece for piece in mesh.garment.pieces if piece.face is Face.NONE and piece.name not in kept):
        faced = [tuple(seam.uses()) for seam in mesh.garment.seams if _faces_edge(mesh.garment, seam, facing.name)]
        if faced:
            sewn = sum(facing.line(use.line).path.length for uses in faced for use in uses if use.piece == facing.name)
            deep = abs(facing.outline.area) / sewn
            for use in (use for uses in faced for use in uses if use.piece == each.piece.name):
                edge = each.flat[each.places[use.line][1]]
                near = distances_to(middle, edge[:-1], edge[1:]) < deep
                out[near] = np.maximum(out[near], 3.0 if facing.interfaced else 2.0)
    return out


def _faces_edge(garment: Garment, seam: Seam, facing: str) -> bool:
    """Whether a seam sews a piece onto the edge of an opening, as a facing is: not onto the seam that leads to it."""
    uses = tuple(seam.uses())
    others = [use for use in uses if use.piece != facing]
    return len(others) < len(uses) and any(garment.piece(use.piece).line(use.line).opening for use in others)


def _hinge_pairs(flat: Floats, triangles: Whole, point_of: Whole, bending: Floats) -> tuple[Whole, Floats, Floats]:
    """Neighbouring triangles: their four points, the weights by which these tell of a bend, and its compliance."""
    corner = np.concatenate([triangles[:, [0, 1, 2]], triangles[:, [1, 2, 0]], triangles[:, [2, 0, 1]]])
    a, b, c = (flat[corner[:, i]] for i in range(3))
    area = np.abs((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2.0
    near_a = ((b - a) * (c - a)).sum(axis=1) / (2.0 * area)
    near_b = ((a - b) * (c - b)).sum(axis=1) / (2.0 * area)
    ends = np.sort(point_of[corner[:, :2]], axis=1)
    flipped = point_of[corner[:, 0]] != ends[:, 0]
    low, high = np.where(flipped, near_b, near_a), np.where(flipped, near_a, near_b)
    order = np.lexsort((np.arange(len(ends)), ends[:, 1], ends[:, 0]))
    same = (ends[order][1:] == ends[order][:-1]).all(axis=1)
    one, two = order[:-1][same], order[1:][same]
    hinges = np.stack([ends[one, 0], ends[one, 1], point_of[corner[one, 2]], point_of[corner[two, 2]]], axis=1)
    cots = low[one], high[one], low[two], high[two]
    bends = np.stack([cots[1] + cots[3], cots[0] + cots[2], -cots[0] - cots[1], -cots[2] - cots[3]], axis=1)
    firm = np.tile(bending, 3)
    mean = (firm[one] + firm[two]) / 2.0
    whole = area[one] + area[two]
    proper = (hinges[:, 2] != hinges[:, 3]) & (ends[one, 0] != ends[one, 1])
    return hinges[proper], bends[proper], (whole / (3.0 * mean))[proper]
