"""The parts to cut: every piece of cloth on its own, whole, as it lies right side up in a single layer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import field

import numpy as np

from drafting.errors import GeometryError
from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Face, Garment, Piece, Role, hanging_pieces
from drafting.geometry import Affine, Path, Point
from drafting.geometry.cells import Floats, ring_points
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of cloth: the cut piece it is cut by, and the net piece that it becomes.

    ``over`` says that the pattern piece lies printed side down on it. ``ring`` is its cut outline, a closed polygon
    of shape (m, 2) in mm, the grain upwards, as seen from the right side; opened out where the pattern is cut on a
    fold. ``upright`` says that it lies as its net piece is drawn, so that a height on the one is a height on the
    other: its grain runs up and down the wearer. ``tied``: a stripe of the cloth ties it, for it is upright, or
    is turned as the maker says. ``face`` is empty of a part of neither front nor back, as a sleeve.
    ``owner`` is whose garment it is of, where several are laid together. ``sleeve``: it has a sleeve's cap. ``hangs``:
    it hangs from the surface, as an overlay does, and no change parts it.
    """

    piece: CutPiece
    name: str
    over: bool
    upright: bool
    tied: bool
    face: Face
    ring: Floats = field(compare=False, repr=False)
    owner: str = ""
    sleeve: bool = False
    hangs: bool = False

    @property
    def key(self) -> str:
        """What it is known by among the parts of several garments."""
        return f"{self.owner}/{self.name}"

    @property
    def title(self) -> str:
        """What it is called on the plan: by whose it is, too, among several garments."""
        return f"{self.piece.title}, {self.owner}" if self.owner else self.piece.title

    @property
    def width(self) -> float:
        """How wide it lies on the cloth (mm)."""
        return float(np.ptp(self.ring[:, 0]))


def parts_of(garment: Garment, cut: Sequence[CutPiece], owner: str = "") -> tuple[Part, ...]:
    """Return every part that is cut, in the pieces' order."""
    return tuple(part for piece in cut for part in _copies(garment, piece, owner))


def _copies(garment: Garment, piece: CutPiece, owner: str) -> Iterator[Part]:
    first = garment.piece(piece.stands_for[0])
    ring = whole_ring(piece)
    names = (*piece.stands_for, *[first.name] * (piece.quantity - len(piece.stands_for)))
    over = _find_turned_over(garment, piece)
    upright = abs(piece.grain.unit.x) < TOLERANCE.joint and piece.grain.y > 0.0
    for number, name in enumerate(names):
        to = _map_onto(first, garment.piece(name), over[number])
        grain = Point(-piece.grain.x, piece.grain.y) if over[number] else piece.grain
        up = Affine() if upright else Affine.turn(math.pi / 2.0 - math.atan2(grain.y, grain.x))
        tied, sleeve = upright or bool(first.laid), bool(first.lines(role=Role.CAP))
        hangs = first.name in hanging_pieces(garment)
        laid = to.then(up).apply_all(ring)
        yield Part(piece, name, over[number], upright, tied, first.face, laid, owner, sleeve, hangs)


def _find_turned_over(garment: Garment, piece: CutPiece) -> list[bool]:
    """For each copy, whether it is cut turned over: those of the other side than the first; else the last ones."""
    sides = [garment.piece(name).side for name in piece.stands_for]
    over = [side is not sides[0] for side in sides]
    if len(over) == piece.quantity and sum(over) == piece.mirrored:
        return over
    return [i >= piece.quantity - piece.mirrored for i in range(piece.quantity)]


def _map_onto(first: Piece, other: Piece, over: bool) -> Affine:
    """The map of a piece onto its like, or, ``over``, onto its mirror image, as it mirrors."""
    a, b = first.outline.bounds, other.outline.bounds
    turn = Affine.mirror() if over else Affine()
    left = -a[2] if over else a[0]
    return turn.then(Affine.move(Point(b[0] - left, b[1] - a[1])))


def whole_ring(piece: CutPiece) -> Floats:
    """Return the cut outline of a piece as a closed polygon, shape (m, 2), opened out if it is cut on a fold."""
    if not piece.on_fold:
        ring = ring_points([edge.path.segments for edge in piece.outline])
        ring[-1] = ring[0]  # the outline's ends are one point but for rounding
        return ring
    fold = next(mark.path for mark in piece.marks if mark.kind == "on-fold")
    half = _cut_off_fold([edge.path for edge in piece.outline], fold)
    image = half.transformed(Affine.reflect(fold.start, fold.end)).reversed()
    ring = ring_points([half.segments, image.segments])
    ring[-1] = ring[0]  # the image of a point on the fold is that point but for rounding
    return ring


def _cut_off_fold(edges: Sequence[Path], fold: Path) -> Path:
    """A half's outline from one end of the fold round to the other; GeometryError if it meets the fold in between."""
    along = (fold.end - fold.start).unit
    on = [max(abs(along.cross(p - fold.start)) for p in _probes(path)) <= TOLERANCE.offset for path in edges]
    first = next((i for i in range(len(edges)) if on[i - 1] and not on[i]), None)
    if first is None:
        raise GeometryError("no edge of this half lies on the fold")
    turned = [(edges[i % len(edges)], on[i % len(edges)]) for i in range(first, first + len(edges))]
    off = [path for path, lies in turned if not lies]
    if [lies for _, lies in turned] != sorted(lies for _, lies in turned):
        raise GeometryError("this half meets the fold more than once")
    return Path.join(*off)


def _probes(path: Path) -> Iterator[Point]:
    yield from (path.start, path.at(path.length / 2.0), path.end)
