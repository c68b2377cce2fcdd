"""What lies within a piece as a dart is turned: levels, lengthen lines, marks and slits go with the part they lie on.

A line across a dart stands in stretches that end at its legs. Folded shut, the stretches run on in each other; what
lay between the drawn leg and the way from the mouth to the apex (the dart's point stops short of it) goes, and
comes back where the dart opens.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from drafting.garment.carry import AffineMotion, Redrawing, carry_features, join_features, part_features, take_apart
from drafting.garment.darts import Dart
from drafting.garment.edges import draw_to_edge
from drafting.garment.model import Piece
from drafting.geometry import Affine, Array, Path, Point, is_inside
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


def without_wedge(piece: Piece, dart: Dart) -> Piece:
    """Return the piece without what lies in the wedge from a dart's mouth to its apex."""
    return part_features(piece, _Outside(dart))


def swing_features(piece: Piece, regions: tuple[Path, Path], move: Affine) -> Piece:
    """Return the piece with what lies in the first of two regions moved; what crosses between them is parted."""
    going, staying = (_Region(regions, one) for one in (True, False))
    apart = take_apart(piece, ((going, AffineMotion(move)), (staying, AffineMotion(Affine()))))
    return join_features(apart, _join_two)


def meet_legs(piece: Piece, dart: Dart) -> Piece:
    """Return the piece with lines that end at a dart's wedge drawn on to its legs, or across beyond its point."""
    if dart.set_back <= TOLERANCE.joint:
        return piece
    for mouth in (dart.mouth_a, dart.mouth_b):
        way, leg = Path.straight(dart.apex, mouth), Path.straight(dart.point, mouth)
        piece = carry_features(piece, Redrawing(partial(_draw_to_leg, way=way, leg=leg)))
    return join_features(piece, partial(_bridge_items, dart=dart))


@dataclass(frozen=True, slots=True)
class _Outside:
    """What lies outside a dart's wedge, drawn to its apex."""

    dart: Dart

    def holds(self, at: Point) -> bool:
        return True

    def stretches(self, path: Path) -> Sequence[Path]:
        return _parts_outside(path, self.dart)

    def has_line(self, name: str) -> bool:
        return True


class _Region:
    """One of two regions, closed paths through the apex of a dart: that which goes with a turn, or that which stays."""

    def __init__(self, regions: tuple[Path, Path], is_going: bool) -> None:
        self.going, self.staying = regions
        self.first, self.second = (region.flatten() for region in regions)
        self.is_going = is_going
        self.ways = [Path.of(self.going.segments[:1]), Path.of(self.going.segments[-1:])]  # straight, to the apex

    def holds(self, at: Point) -> bool:
        goes = not at.near(self.going.start, TOLERANCE.joint) and self._goes(at)
        return goes is self.is_going

    def stretches(self, path: Path) -> Sequence[Path]:
        parts = path.cut_at(path.cuts_by(self.ways, TOLERANCE.arc_length), TOLERANCE.arc_length)
        return [part for part in parts if self._goes(part.at(part.length / 2.0)) is self.is_going]

    def has_line(self, name: str) -> bool:
        return not self.is_going

    def _goes(self, at: Point) -> bool:
        off = self.going.nearest(at)[1], self.staying.nearest(at)[1]
        if min(off) <= TOLERANCE.joint < max(off):  # along the edge of one of them
            return off[0] < off[1]
        if is_inside(at, self.first):
            return True
        return not is_inside(at, self.second) and off[0] < off[1]


def _parts_outside(path: Path, dart: Dart) -> Sequence[Path]:
    """The stretches of a path that lie outside a dart's wedge, drawn to its apex."""
    corners = (dart.apex, dart.mouth_a, dart.mouth_b)
    wedge = np.array([(p.x, p.y) for p in corners])
    ways = [Path.straight(dart.apex, mouth) for mouth in corners[1:]]
    parts = path.cut_at(path.cuts_by(ways, TOLERANCE.arc_length), TOLERANCE.arc_length)
    return [part for part in parts if not _is_within(part.at(part.length / 2.0), wedge, ways)]


def _is_within(at: Point, wedge: Array, ways: Sequence[Path]) -> bool:
    """Whether a point lies in a wedge; what runs along one of its sides doesn't."""
    return is_inside(at, wedge) and min(way.nearest(at)[1] for way in ways) > TOLERANCE.joint


def _join_two(a: Path, b: Path) -> Path | None:
    for one, two in ((a, b), (b, a)):
        if one.end.near(two.start, TOLERANCE.joint):
            return Path.join(one, two)
    return None


def _inner_end(way: Path, end: Point) -> bool:
    s, distance = way.nearest(end)
    return distance <= TOLERANCE.arc_length and TOLERANCE.joint < s < way.length - TOLERANCE.joint


def _draw_to_leg(path: Path, way: Path, leg: Path) -> Path:
    """A path that ends on a way drawn straight on to the leg beside it; as it is where it misses the leg."""
    for at_end in (False, True):
        if not _inner_end(way, path.end if at_end else path.start):
            continue
        path = draw_to_edge(path, leg, at_end, 2.0 * way.length)
    return path


def _bridge_items(one: Path, two: Path, dart: Dart) -> Path | None:
    """Two lines that end on the two sides of the wedge, beyond the point, drawn to each other."""
    ways = [Path.straight(dart.apex, mouth) for mouth in (dart.mouth_a, dart.mouth_b)]
    for a, b in ((one, two), (two, one)):
        if _faces(a.end, b.start, ways, dart.apex):
            return Path.join(a, Path.straight(a.end, b.start), b)
    return None


def _faces(a: Point, b: Point, ways: Sequence[Path], apex: Point) -> bool:
    """Whether two points lie on the two sides of a wedge, equally far from its apex."""
    if abs(a.distance(apex) - b.distance(apex)) > TOLERANCE.joint:
        return False
    one, two = ways
    return any(_inner_end(p, a) and _inner_end(q, b) for p, q in ((one, two), (two, one)))
