"""Pieces as triangles: their edges parted alike on both sides of each seam, and points in a honeycomb between."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.errors import DraftingError
from drafting.garment import Garment, Line, Piece
from drafting.garment.seam import Run
from drafting.garment.surface import joints
from drafting.geometry.polygon import are_inside, distances_to, following
from drafting.record import dataclass
from drafting.saying import Words, say
from drafting.worn.shape import Floats, Whole

FINE: Final = 12.0
"""mm between neighbouring points of the mesh."""
_CLEAR: Final = 0.55
"""Of that distance points within keep clear of the edges."""
_TRIED: Final = 10
"""Triangles about a point that are tried for the one it lies in."""
_SAME: Final = 1 / 4096
"""Shares of a run nearer than this are one place on it."""


class CannotWear(DraftingError):
    """What can't be draped yet, in words for a maker."""

    def __init__(self, reason: Words) -> None:
        self.reason = reason
        super().__init__(str(reason))


@dataclass(frozen=True, slots=True, eq=False)
class PieceMesh:
    """One piece: ``flat`` points (mm, shape (n, 2)) of which the first lie on its edges, and its triangles.

    ``places`` gives for each line the numbers of its points, in the ring's direction, with the shares of its length.
    """

    piece: Piece
    flat: Floats
    triangles: Whole
    places: Mapping[str, tuple[Floats, Whole]]


@dataclass(frozen=True, slots=True, eq=False)
class GarmentMesh:
    """All pieces: their points one after the other, and which points are sewn together.

    ``starts`` gives the number of each piece's first point; ``sewn`` are pairs of points, ``seam_of`` the number of
    the seam that each pair belongs to.
    """

    garment: Garment
    pieces: tuple[PieceMesh, ...]
    starts: tuple[int, ...]
    sewn: Whole
    seam_of: Whole

    @property
    def flat(self) -> Floats:
        """The points of all pieces, each piece in its own plane."""
        return np.concatenate([each.flat for each in self.pieces])

    @property
    def triangles(self) -> Whole:
        """The triangles of all pieces."""
        return np.concatenate([each.triangles + start for each, start in zip(self.pieces, self.starts, strict=True)])

    def find_piece(self, name: str) -> tuple[PieceMesh, int]:
        """Return the mesh of a piece, and the number of its first point."""
        at = [each.piece.name for each in self.pieces].index(name)
        return self.pieces[at], self.starts[at]


def mesh_garment(garment: Garment, pieces: Sequence[Piece], step: float = FINE) -> GarmentMesh:
    """Return the mesh of some pieces of a garment, sewn along all seams between them; ``step`` mm fine."""
    names = {piece.name for piece in pieces}
    shares = _share_out(garment, names, step)
    meshes = tuple(_mesh_piece(piece, shares, step) for piece in pieces)
    starts = tuple(int(n) for n in np.cumsum([0, *(len(each.flat) for each in meshes)])[:-1])
    loose = GarmentMesh(garment, meshes, starts, np.zeros((0, 2), np.int64), np.zeros(0, np.int64))
    sewn, seam_of = _sew_points(loose, names)
    return GarmentMesh(garment, meshes, starts, sewn, seam_of)


def sections_between(garment: Garment, names: set[str]) -> Iterator[tuple[int, tuple[Run, ...]]]:
    """Yield the plies of each section that lie on the pieces named, the seam's number first; closures closed."""
    for number, seam in enumerate(garment.seams):
        for section in seam.sections:
            plies = tuple(run for run in section.plies if run and all(use.piece in names for use in run))
            if plies:
                yield number, plies
    yield from _close_closures(garment, names)


def _close_closures(garment: Garment, names: set[str]) -> Iterator[tuple[int, tuple[Run, ...]]]:
    """Yield the two edges of each closure as if they were sewn."""
    numbers = {seam.name: number for number, seam in enumerate(garment.seams)}
    for closure in garment.closures:
        runs = tuple(garment.seam(name).plies[0] for name in closure.seams)
        if all(use.piece in names for run in runs for use in run):
            yield numbers[closure.seams[0]], runs


def _share_out(garment: Garment, names: set[str], step: float) -> dict[tuple[str, str], list[float]]:
    """The shares of each line's length at which it has points: alike in all plies of a seam."""
    out: dict[tuple[str, str], list[float]] = {}
    for _, plies in sections_between(garment, names):
        marks = _mark_run(garment, plies, step)
        for run in plies:
            ends = joints(garment, run)
            for use, low, high in zip(run, ends, ends[1:], strict=False):
                own = [(m - low) / (high - low) for m in marks if low - _SAME <= m <= high + _SAME]
                out[use.piece, use.line] = sorted(1.0 - s for s in own) if use.against else own
    for name in names:
        for line in garment.piece(name).all_lines:
            if (name, line.name) not in out:
                count = max(1, round(line.path.length / step))
                out[name, line.name] = [i / count for i in range(count + 1)]
    return out


def _mark_run(garment: Garment, plies: Sequence[Run], step: float) -> list[float]:
    """The shares of a section at which its plies are sewn point to point: all their joints, and places between."""
    length = max(garment.run_length(run) for run in plies)
    ends = sorted({share for run in plies for share in joints(garment, run)})
    kept = [ends[0], *(b for a, b in pairwise(ends) if b - a > _SAME)]
    out = [0.0]
    for a, b in pairwise(kept):
        count = max(1, round((b - a) * length / step))
        out += [a + (b - a) * i / count for i in range(1, count + 1)]
    return out


def _mesh_piece(piece: Piece, shares: Mapping[tuple[str, str], list[float]], step: float) -> PieceMesh:
    from scipy.spatial import Delaunay

    rings: list[Floats] = []
    places: dict[str, tuple[Floats, Whole]] = {}
    count = 0
    for loop in piece.loops:
        points, numbers = _lay_ring(loop, piece.name, shares)
        rings.append(points)
        places |= {name: (own, at + count) for name, (own, at) in numbers.items()}
        count += len(points)
    flat = np.concatenate([*rings, _fill_ring(rings, step)])
    corners = np.asarray(Delaunay(flat).simplices, dtype=np.int64)
    corners = corners[_lie_within(flat[corners].mean(axis=1), rings)]
    a, b, c = (flat[corners[:, i]] for i in range(3))
    double = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    corners[double < 0.0] = corners[double < 0.0][:, [0, 2, 1]]
    corners = corners[np.abs(double) > step * step / 512]
    _check_edges(piece, corners, [len(ring) for ring in rings])
    return PieceMesh(piece, flat, corners, places)


def _lay_ring(
    loop: Sequence[Line], name: str, shares: Mapping[tuple[str, str], list[float]]
) -> tuple[Floats, dict[str, tuple[Floats, Whole]]]:
    """The points of a ring of lines, each line without its end, and the numbers of the points of each line."""
    points: list[Floats] = []
    numbers: dict[str, tuple[Floats, Whole]] = {}
    total = sum(len(shares[name, line.name]) - 1 for line in loop)
    at = 0
    for line in loop:
        own = np.clip(np.array(shares[name, line.name]), 0.0, 1.0)
        points.append(line.path.points(own[:-1] * line.path.length))
        numbers[line.name] = own, np.arange(at, at + len(own)) % total
        at += len(own) - 1
    return np.concatenate(points), numbers


def _lie_within(points: Floats, rings: Sequence[Floats]) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    inside = are_inside(points, rings[0])
    for slit in rings[1:]:
        inside &= ~are_inside(points, slit)
    return inside


def _fill_ring(rings: Sequence[Floats], step: float) -> Floats:
    """Points in a honeycomb within a ring, clear of its edges."""
    low, high = rings[0].min(axis=0), rings[0].max(axis=0)
    rise = step * math.sqrt(3.0) / 2.0
    rows = np.arange(low[1] + rise / 2, high[1], rise)
    out = [np.zeros((0, 2))]
    for i, y in enumerate(rows):
        x = np.arange(low[0] + step * (0.25 + 0.5 * (i % 2)), high[0], step)
        out.append(np.stack([x, np.full_like(x, y)], axis=1))
    points = np.concatenate(out)
    points = points[_lie_within(points, rings)]
    for ring in rings:
        points = points[distances_to(points, ring, following(ring)) > _CLEAR * step] if len(points) else points
    return points


def _check_edges(piece: Piece, triangles: Whole, counts: Sequence[int]) -> None:
    """Refuse a piece whose triangles don't reach all of its edges."""
    pairs = {tuple(sorted(pair)) for t in triangles.tolist() for pair in ((t[0], t[1]), (t[1], t[2]), (t[2], t[0]))}
    at = 0
    for count in counts:
        for i in range(count):
            if tuple(sorted((at + i, at + (i + 1) % count))) not in pairs:
                raise CannotWear(say("{piece} is too narrow somewhere to be draped", piece=piece.title))
        at += count


def _sew_points(mesh: GarmentMesh, names: set[str]) -> tuple[Whole, Whole]:
    """The pairs of points that seams join: those at the same share of all plies, and where lines run on in others."""
    pairs: list[tuple[int, int]] = []
    seam_of: list[int] = []
    for number, plies in sections_between(mesh.garment, names):
        at: dict[int, list[int]] = {}
        for run in plies:
            for share, point in _follow_run(mesh, run):
                at.setdefault(round(share / _SAME), []).append(point)
        for points in _join_near(at):
            pairs += [(points[0], other) for other in points[1:] if other != points[0]]
            seam_of += [number] * (len(pairs) - len(seam_of))
    return np.array(pairs, dtype=np.int64).reshape(-1, 2), np.array(seam_of, dtype=np.int64)


def _join_near(at: Mapping[int, list[int]]) -> Iterator[list[int]]:
    """Yield the points of each place; of places that differ by rounding, together."""
    held: list[int] = []
    last = None
    for key in sorted(at):
        if last is not None and key - last > 1:
            yield held
            held = []
        held = [*held, *at[key]]
        last = key
    yield held


def _follow_run(mesh: GarmentMesh, run: Run) -> Iterator[tuple[float, int]]:
    """Yield the points along a run with their shares of its length."""
    ends = joints(mesh.garment, run)
    for use, low, high in zip(run, ends, ends[1:], strict=False):
        piece, start = mesh.find_piece(use.piece)
        own, numbers = piece.places[use.line]
        for share, number in zip(own.tolist(), numbers.tolist(), strict=True):
            along = 1.0 - share if use.against else share
            yield low + along * (high - low), start + number


def refine_points(coarse: GarmentMesh, fine: GarmentMesh, at: Floats) -> Floats:
    """Return where the points of a finer mesh of the same pieces lie, each in the plane of a coarse triangle."""
    out = []
    for one, start, other in zip(coarse.pieces, coarse.starts, fine.pieces, strict=True):
        corners, shares = find_within(one, other.flat)
        out.append((at[start + corners] * shares[:, :, None]).sum(axis=1))
    return np.concatenate(out)


def find_within(mesh: PieceMesh, points: Floats) -> tuple[Whole, Floats]:
    """Return the corners of the triangle that each flat point lies in, or nearest to, and its shares of them."""
    from scipy.spatial import cKDTree

    middles = mesh.flat[mesh.triangles].mean(axis=1)
    _, near = cKDTree(middles).query(points, k=min(_TRIED, len(middles)))
    corners = mesh.triangles[near.reshape(len(points), -1)]
    a, b, c = (mesh.flat[corners[..., i]] for i in range(3))
    one, two, off = b - a, c - a, points[:, None, :] - a
    double = one[..., 0] * two[..., 1] - one[..., 1] * two[..., 0]
    u = (off[..., 0] * two[..., 1] - off[..., 1] * two[..., 0]) / double
    v = (one[..., 0] * off[..., 1] - one[..., 1] * off[..., 0]) / double
    shares = np.stack([1.0 - u - v, u, v], axis=-1)
    best = shares.min(axis=-1).argmax(axis=1)
    rows = np.arange(len(points))
    return corners[rows, best], shares[rows, best]
