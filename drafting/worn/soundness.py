"""Whether a drape may be believed: what voids it is told, and no figure is drawn from it then."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.saying import Words, mm, say, show_share
from drafting.trade import TradeValue
from drafting.worn.dressing import Worn
from drafting.worn.mesh import GarmentMesh
from drafting.worn.piercing import arm_core, is_pierced, pierce_triangles
from drafting.worn.pose import PosedBody
from drafting.worn.shape import METRE, Floats, Whole
from drafting.worn.solver import Standing

SEAM_OPEN = TradeValue(4.0, "mm", "derived", "a third of the mesh: nearer points are one point when they are joined")
"""Wider apart after sewing, two edges of a seam aren't shut."""
WITHIN = TradeValue(8.0, "mm", "from memory")
"""Farther within the body, cloth lies through it; so far flesh gives way, as between arm and trunk."""
AT_REST = TradeValue(30.0, "mm", "from memory")
"""In a second at most does cloth at rest still move, all but its liveliest twentieth."""

TANGLED = TradeValue(0.02, "share", "derived", "tried: what a fold at the waist and a hem at the armpit come to")
"""Of the cloth may lie through itself, for only its points meet: more, and what is seen is no garment."""

CREASED = TradeValue(50.0, "mm", "derived", "in two close tees all crossings within the back were nearer, at a fold")
"""As cut, two places of a piece nearer than this are a fold that is sharper than the mesh, where they cross."""

_NEAR: Final = 0.04
"""m within which triangles are tried for crossing each other."""
_LIVELIEST: Final = 0.95


def find_voids(worn: Worn) -> tuple[Words, ...]:
    """Return what voids a drape, in words; nothing where it may be believed."""
    return (*_find_open(worn), *_find_crossed(worn), *_find_buried(worn), *_find_moving(worn), *_find_tangled(worn))


def _find_open(worn: Worn) -> Iterator[Words]:
    for number, gap in worn.open_seams.items():
        if gap > SEAM_OPEN:
            title = worn.mesh.garment.seams[number].title
            yield say("the {seam} stayed open by {gap}", seam=title, gap=mm(gap))


def _find_crossed(worn: Worn) -> Iterator[Words]:
    """The cores of the arms to the ends of their hands, and of the trunk: no cloth may cross them."""
    corners = worn.points[worn.mesh.triangles]
    for core, words in (
        (arm_core(worn.posed.left), say("the left arm isn't in its armhole, or not right through its sleeve")),
        (arm_core(worn.posed.right), say("the right arm isn't in its armhole, or not right through its sleeve")),
        (trunk_core(worn.posed), say("cloth lies through the trunk")),
    ):
        if any(is_pierced(corners, a, b) for a, b in pairwise(core)):
            yield words


def trunk_core(posed: PosedBody) -> Floats:
    """Return points down the middle of the trunk, from the neck to between the legs."""
    points = posed.trunk[np.unique(posed.trunk_faces)]
    low, high = float(posed.points[:, 1].max()) / 2.0, float(posed.nape[1]) + METRE / 50.0
    out = []
    for level in np.linspace(high, low, 16):
        near = points[np.abs(points[:, 1] - level) < METRE / 50.0]
        out.append([0.0, level, (near[:, 2].min() + near[:, 2].max()) / 2.0])
    return np.array(out)


def distances_from_body(standing: Standing, points: Floats) -> Floats:
    """Return how far points (mm) lie from the body's skin (mm), below 0 within; far from it, as far as is known."""
    from scipy.ndimage import map_coordinates

    out = np.full(len(points), METRE)
    for (first, *shape), start in zip(standing.table.tolist(), standing.starts, strict=True):
        size = shape[0] * shape[1] * shape[2]
        grid = standing.values[first : first + size].reshape(shape)
        at = (points / METRE - start) / standing.cell
        held = ((at >= 0.0) & (at <= np.array(shape) - 1.0)).all(axis=1)
        found = map_coordinates(grid, at[held].T, order=1, output=np.float64)
        out[held] = np.minimum(out[held], METRE * found)
    return out


def _find_buried(worn: Worn) -> Iterator[Words]:
    deep = float(-distances_from_body(worn.standing, worn.points).min())
    if deep > WITHIN:
        yield say("cloth lies {deep} within the body", deep=mm(deep))


def _find_tangled(worn: Worn) -> Iterator[Words]:
    share = share_crossed(worn.cloth.x, worn.cloth.sheet.triangles, lay_apart(worn.mesh))
    if share > TANGLED:
        yield say("{share} of the cloth lies through itself", share=show_share(share))


def _find_moving(worn: Worn) -> Iterator[Words]:
    lively = float(np.quantile(worn.drift, _LIVELIEST))
    if lively > AT_REST:
        yield say("the cloth hadn't come to rest: it moved {way} in a second", way=mm(lively))


def lay_apart(mesh: GarmentMesh) -> Floats:
    """Return the middle of each triangle of a mesh as cut (mm), each piece on a plane of its own, far from the rest."""
    planes = np.concatenate([np.full(len(each.triangles), METRE * i) for i, each in enumerate(mesh.pieces)])
    return np.column_stack([mesh.flat[mesh.triangles].mean(axis=1), planes])


def share_crossed(points: Floats, triangles: Whole, cut: Floats) -> float:
    """Return the share of a cloth's triangles that an edge of another, as cut not beside it, goes through.

    ``cut`` is where the middle of each triangle lies as cut (mm). Beside each other they are a fold that is sharper
    than the mesh; a fold so sharp across a back is what is seen, and hides nothing.
    """
    from scipy.spatial import cKDTree

    middles = points[triangles].mean(axis=1)
    reach = float(np.sqrt(((points[triangles] - middles[:, None]) ** 2).sum(axis=2)).max())
    pairs = cKDTree(middles).query_pairs(min(2.0 * reach, _NEAR), output_type="ndarray")
    pairs = np.concatenate([pairs, pairs[:, ::-1]])
    shared = (triangles[pairs[:, 0]][:, :, None] == triangles[pairs[:, 1]][:, None, :]).any(axis=(1, 2))
    beside = ((cut[pairs[:, 0]] - cut[pairs[:, 1]]) ** 2).sum(axis=1) < CREASED**2
    pairs = pairs[~shared & ~beside]
    corners, others = points[triangles[pairs[:, 0]]], points[triangles[pairs[:, 1]]]
    hit = np.zeros(len(pairs), dtype=np.bool_)
    for k in range(3):
        hit |= pierce_triangles(corners, others[:, k], others[:, (k + 1) % 3])
    return len(np.unique(pairs[hit, 0])) / len(triangles)


def edges_of(triangles: Whole) -> Whole:
    """Return the edges of triangles that belong to one alone."""
    pairs = np.sort(np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1)
    found, counts = np.unique(pairs, axis=0, return_counts=True)
    out: Whole = found[counts == 1]
    return out
