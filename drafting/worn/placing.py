"""Where pieces are put before they are sewn: body pieces round the trunk, sleeves round the arms, bands on edges.

The body has no arms then, so that nothing can be caught on the wrong side of one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from drafting.garment import Fate, Garment, Piece, Role
from drafting.garment.surface import hanging_pieces, layers_within
from drafting.record import dataclass
from drafting.saying import say
from drafting.sides import Face, Side
from drafting.worn.mesh import CannotWear, GarmentMesh, PieceMesh
from drafting.worn.pose import HangingArm, PosedBody
from drafting.worn.shape import Floats

_ROOM: Final = 25.0
"""mm between the trunk and the pieces round it."""
LAYER_ROOMS: Final = (0.25, 0.36, 0.32)
"""By so much wider is a layer put round the trunk than the one beneath it, and where it came to lie across an arm."""
_LIFT: Final = 30.0
"""mm that body pieces hang above where they will come to lie, so that shoulders are sewn above the shoulder."""
_TIP: Final = 30.0
"""mm up the arm from its joint, where the crown of a cap is put."""
_BEND_OVER: Final = 60.0
"""mm up and down an arm over which its direction is taken, so that a sleeve is bent smoothly."""
_SLEEVE_ROOM: Final = 1.02
"""A sleeve's tube is put round the arm this much wider than it is."""
_LEAST_ROLLED: Final = 0.5
"""Of a sleeve's width, as how narrow its narrowest level is rolled."""
_ASIDE: Final = 0.8
"""Of the way from an arm's middle to a band's edge the band keeps from it, too."""
_LEVEL_APART: Final = 20.0
"""mm between the heights at which a sleeve's width is taken."""


@dataclass(frozen=True, slots=True)
class Laid:
    """The pieces to be draped: those put round the trunk, the sleeves, what is sewn to the ends of these.

    What is ``added`` is put on once these are sewn. ``layers`` tells of each that hangs over others how many lie
    beneath it.
    """

    trunk: tuple[Piece, ...]
    sleeves: tuple[Piece, ...]
    cuffs: tuple[Piece, ...]
    added: tuple[Piece, ...]
    layers: Mapping[str, int]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All of them, in the order in which they are put on."""
        return (*self.trunk, *self.sleeves, *self.cuffs, *self.added)


def sort_pieces(garment: Garment) -> Laid:
    """Return the pieces of a garment by where they are put; CannotWear where one can't be put anywhere yet.

    What is turned in and doesn't show, as a facing is, is left out, and what lies flat on another piece.
    """
    within, hanging = layers_within(garment), hanging_pieces(garment)
    outer = [piece for piece in garment.pieces if piece.name not in within and not _is_left_out(piece)]
    sleeves = tuple(p for p in outer if p.side is not Side.NONE and p.lines(role=Role.CAP))
    bands = tuple(p for p in outer if p.lines(role=Role.BAND))
    trunk = tuple(p for p in outer if p.face is not Face.NONE and p not in (*sleeves, *bands))
    for piece in outer:
        if piece not in (*trunk, *sleeves, *bands):
            raise CannotWear(say("the {piece} can't be draped yet", piece=piece.title))
    ends = {piece.name for piece in sleeves}
    joined = [{use.piece for use in seam.uses()} for seam in garment.seams]
    cuffs = tuple(p for p in bands if any(p.name in each and each & ends for each in joined))
    added = tuple(p for p in bands if p not in cuffs)
    return Laid(trunk, sleeves, cuffs, added, {piece.name: 1 for piece in outer if piece.name in hanging})


def _is_left_out(piece: Piece) -> bool:
    """Whether a piece is left out: it faces an edge, its own other edge left as it is cut, or lies on another."""
    facing = piece.face is Face.NONE and any(line.fate is Fate.RAW for line in piece.ring)
    return facing or bool(piece.lines(role=Role.LAID))


def place_pieces(mesh: GarmentMesh, laid: Laid, body: PosedBody, room: float = LAYER_ROOMS[0]) -> Floats:
    """Return where the points of trunk, sleeves and cuffs are put (mm); those of pieces added are left at 0.

    A layer is put by ``room`` (a share) wider round the trunk than what lies beneath it.
    """
    at = np.zeros((len(mesh.flat), 3))
    low, high = _trunk_box(body)
    widest = max((abs(x) for piece in laid.trunk for x in piece.outline.bounds[::2]), default=0.0)
    for each, start in zip(mesh.pieces, mesh.starts, strict=True):
        if each.piece in laid.trunk:
            own = _wrap_trunk(each.flat, each.piece.face, low, high, widest, float(body.nape[1]) + _LIFT)
            own[:, [0, 2]] *= 1.0 + room * laid.layers.get(each.piece.name, 0)
        elif each.piece in laid.sleeves:
            left = each.piece.side is Side.LEFT
            crown = max(line.path.bounds[3] for line in each.piece.lines(role=Role.CAP))
            own = _wrap_arm(each.flat, crown, body.left if left else body.right, 1.0 if left else -1.0)
        elif each.piece in laid.cuffs:
            own = _wrap_cuff(mesh, each, start, at, (body.left, body.right))
        else:
            continue
        at[start : start + len(own)] = own
    return at


def _trunk_box(body: PosedBody) -> tuple[Floats, Floats]:
    """The box that holds the trunk from the nape to a little below the seat."""
    points = body.trunk[np.unique(body.trunk_faces)]
    nape = float(body.nape[1])
    near = points[(points[:, 1] < nape) & (points[:, 1] > 0.55 * nape)]
    return near.min(axis=0), near.max(axis=0)


def _wrap_trunk(flat: Floats, face: Face, low: Floats, high: Floats, widest: float, nape: float) -> Floats:
    """Bend a front or a back round an ellipse about the trunk, its middle at the middle."""
    wide, deep = (high[0] - low[0]) / 2.0 + _ROOM, (high[2] - low[2]) / 2.0 + _ROOM
    angles = np.linspace(0.0, math.pi / 2.0, 257)
    steps = np.hypot(np.diff(wide * np.sin(angles)), np.diff(deep * np.cos(angles)))
    run = np.concatenate([[0.0], np.cumsum(steps)])
    larger = max(1.0, widest / float(run[-1]))
    angle = np.interp(np.abs(flat[:, 0]) / larger, run, angles) * np.sign(flat[:, 0])
    side = 1.0 if face is Face.FRONT else -1.0
    middle = (high[2] + low[2]) / 2.0
    x = side * wide * larger * np.sin(angle)
    return np.stack([x, flat[:, 1] + nape, middle + side * deep * larger * np.cos(angle)], axis=1)


def _wrap_arm(flat: Floats, crown: float, arm: HangingArm, sign: float) -> Floats:
    """Roll a sleeve round an arm, bent as it is, the middle of its cap on top."""
    down = crown - flat[:, 1] - _TIP
    middle, along = _follow_core(arm, down)
    outward = np.array([sign, 0.0, 0.0]) - along * sign * along[:, [0]]
    outward /= np.sqrt((outward**2).sum(axis=1))[:, None]
    forward = np.cross(along, outward) * sign
    radius = (_SLEEVE_ROOM * _widths_at(flat) / (2.0 * math.pi))[:, None]
    angle = flat[:, [0]] / radius / _SLEEVE_ROOM
    out: Floats = middle + radius * (np.cos(angle) * outward - sign * np.sin(angle) * forward)
    return out


def _wrap_cuff(
    mesh: GarmentMesh, each: PieceMesh, start: int, at: Floats, arms: tuple[HangingArm, HangingArm]
) -> Floats:
    """Roll a cuff round its arm, on from the edge of the sleeve that it is sewn to, as much narrower as it is cut.

    Put onto the edge of a sleeve that is sewn already, which lies in folds, it crossed itself and its arm.
    """
    partner = _find_partners(mesh, start, len(each.flat), start)
    roots = np.array(sorted(partner, key=lambda i: float(each.flat[i - start, 0])))
    ends = np.array([partner[int(i)] for i in roots])
    sleeve = mesh.pieces[int(np.searchsorted(mesh.starts, ends[0], side="right")) - 1]
    arm = arms[0] if sleeve.piece.side is Side.LEFT else arms[1]
    base = each.flat[roots - start]
    down = float(sleeve.flat[:, 1].max()) - mesh.flat[ends, 1] - _TIP
    off = at[ends] - _follow_core(arm, down)[0]
    off *= float(np.ptp(base[:, 0]) / np.ptp(mesh.flat[ends, 0]))
    x, y = each.flat.T
    below = np.interp(x, base[:, 0], down) + np.abs(y - np.interp(x, base[:, 0], base[:, 1]))
    aside = np.stack([np.interp(x, base[:, 0], off[:, k]) for k in range(3)], axis=1)
    out: Floats = _follow_core(arm, below)[0] + aside
    return out


def _widths_at(flat: Floats) -> Floats:
    """How wide a sleeve is at the height of each of its points (mm); above the underarm as wide as there.

    Rolled on one radius, a narrow wrist would be an open arc, drawn shut beside the arm instead of round it.
    """
    widest = int(np.argmax(np.abs(flat[:, 0])))
    whole, top = float(np.ptp(flat[:, 0])), float(flat[widest, 1])
    levels = np.arange(float(flat[:, 1].min()), top, _LEVEL_APART)
    if not len(levels):
        return np.full(len(flat), whole)
    near = (np.abs(flat[:, 1] - level) <= _LEVEL_APART for level in levels)
    wide = [max(float(np.ptp(flat[each, 0])), _LEAST_ROLLED * whole) for each in near]
    out: Floats = np.interp(flat[:, 1], [*levels, top], [*wide, whole])
    return out


def _follow_core(arm: HangingArm, down: Floats) -> tuple[Floats, Floats]:
    """The points so far down an arm's middle from its joint (mm), and its direction there."""
    core = arm.core[1:]
    run = np.concatenate([[0.0], np.cumsum(np.sqrt((np.diff(core, axis=0) ** 2).sum(axis=1)))])
    held = np.clip(down, 0.0, run[-1])
    points = np.stack([np.interp(held, run, core[:, k]) for k in range(3)], axis=1)
    last = core[-1] - core[-2]
    ends = np.where((down < 0.0)[:, None], arm.along, last / math.sqrt(float((last**2).sum())))
    reach = _BEND_OVER
    ahead, behind = (
        np.stack([np.interp(np.clip(held + by, 0.0, run[-1]), run, core[:, k]) for k in range(3)], axis=1)
        for by in (reach, -reach)
    )
    along = ahead - behind
    along /= np.sqrt((along**2).sum(axis=1))[:, None]
    return points + (down - held)[:, None] * ends, along


def place_added(
    mesh: GarmentMesh, added: Sequence[Piece], at: Floats, neighbours: Floats, cores: Sequence[Floats] = ()
) -> Floats:
    """Return all points with those of the bands put where they run on from the edges that they are sewn to.

    ``at`` are the points of what is sewn already (mm), ``neighbours`` for each of them the direction in which its
    cloth runs on beyond its edge, ``cores`` points down the middle of each arm.
    """
    out = at.copy()
    for each, start in zip(mesh.pieces, mesh.starts, strict=True):
        if each.piece not in added:
            continue
        own = np.arange(start, start + len(each.flat))
        partner = _find_partners(mesh, start, len(own), len(neighbours))
        if not partner:
            raise CannotWear(say("the {piece} isn't sewn to what can be draped", piece=each.piece.title))
        roots = np.array(sorted(partner))
        base = each.flat[roots - start]
        for i in own:
            near = roots[np.argsort(((base - each.flat[i - start]) ** 2).sum(axis=1), kind="stable")[:1]]
            height = math.dist(each.flat[near[0] - start], each.flat[i - start])
            edge = partner[int(near[0])]
            out[i] = at[edge] + height * neighbours[edge]
            for core in cores:
                out[i] = keep_aside(at[edge], out[i], core)
    return out


def keep_aside(edge: Floats, put: Floats, core: Floats) -> Floats:
    """Return a point of a band, put beyond its edge, on that edge's side of an arm's middle, hardly nearer to it (mm).

    An armhole's edge lies in folds before there is an arm in it: a band that runs on from there may cross its middle.
    """
    off = edge - _find_nearest(core, edge)
    far = math.sqrt(float((off**2).sum()))
    side = float(((put - _find_nearest(core, put)) * off).sum()) / far if far else 0.0
    out: Floats = put + max(_ASIDE * far - side, 0.0) * off / max(far, np.finfo(float).tiny)
    return out


def _find_nearest(core: Floats, point: Floats) -> Floats:
    """The place along a line of points that is nearest to a point."""
    way = np.diff(core, axis=0)
    share = np.clip(((point - core[:-1]) * way).sum(axis=1) / (way**2).sum(axis=1), 0.0, 1.0)
    places = core[:-1] + share[:, None] * way
    out: Floats = places[int(((places - point) ** 2).sum(axis=1).argmin())]
    return out


def _find_partners(mesh: GarmentMesh, start: int, count: int, placed: int) -> dict[int, int]:
    """For each point of a piece that is sewn to one of those placed, which come first, that point.

    Where a band in two lengths is joined, it is sewn to the other length, too, which has no place yet.
    """
    out: dict[int, int] = {}
    for pair in mesh.sewn.tolist():
        for mine, other in (pair, pair[::-1]):
            if start <= mine < start + count and other < placed:
                out.setdefault(mine, other)
    return out


def edge_directions(at: Floats, triangles: np.ndarray[tuple[int, int], np.dtype[np.int64]]) -> Floats:
    """Return for each point of a mesh the direction (a unit vector) away from its own triangles' middle."""
    out = np.zeros_like(at)
    middle = at[triangles].mean(axis=1)
    for i in range(3):
        np.add.at(out, triangles[:, i], at[triangles[:, i]] - middle)
    length = np.sqrt((out**2).sum(axis=1))
    unit: Floats = out / np.maximum(length, np.finfo(float).tiny)[:, None]
    return unit
