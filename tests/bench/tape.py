"""A tape of its own for the census: figures taken from the flattened lines of the pieces, none read from the proof.

All pieces of the trunk lie in the body's frame, its centre at x = 0 and the nape at y = 0, y up; the wearer's left of
a front is at +x, of a back at -x. Lengths are mm, angles degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby, pairwise

import shapely
import shapely.affinity

from drafting.garment import BustPoint, Face, Garment, Line, Piece, Role, Side, hanging_pieces
from drafting.garment.features import SleeveCap

XY = tuple[float, float]

STRAIGHT = 2000.0
"""A radius (mm) from which a line counts as straight."""

SLIGHT = math.radians(2.0)
"""A bend by less than this isn't seen."""

FLAT = 0.02
"""How far (mm) a flattened line may lie beside its curve."""


def points_of(line: Line) -> list[XY]:
    """The points of a line, flattened, in its own direction."""
    return [(float(x), float(y)) for x, y in line.path.flatten(FLAT)]


def length_of(lines: Iterable[Line]) -> float:
    """How long lines are together."""
    return math.fsum(math.dist(a, b) for line in lines for a, b in pairwise(points_of(line)))


@dataclass(frozen=True)
class DartTaken:
    """A dart by its two legs: its mouth's ends (the upper first), its point, and what it takes in."""

    name: str
    upper: XY
    lower: XY
    point: XY

    @property
    def intake(self) -> float:
        """Across the mouth."""
        return math.dist(self.upper, self.lower)

    @property
    def length(self) -> float:
        """From the middle of the mouth to the point."""
        middle = ((self.upper[0] + self.lower[0]) / 2.0, (self.upper[1] + self.lower[1]) / 2.0)
        return math.dist(middle, self.point)


class Tape:
    """The trunk and the sleeves of a garment, for a tape to be laid to."""

    def __init__(self, garment: Garment) -> None:
        self.garment = garment
        hanging = hanging_pieces(garment)
        trunk = [piece for piece in garment.pieces if piece.face and piece.name not in hanging]
        self.of = {face: [piece for piece in trunk if piece.face is face] for face in (Face.FRONT, Face.BACK)}
        self.hanging = [piece for piece in garment.pieces if piece.name in hanging]

    def lines(self, face: Face, role: Role, side: Side | None = None) -> list[Line]:
        """The trunk's lines of a face, a role and perhaps a side."""
        return [line for piece in self.of[face] for line in piece.lines(role=role, side=side)]

    def side_neck(self, face: Face, side: Side = Side.LEFT) -> XY | None:
        """The neck's end of a shoulder: its highest point."""
        ends = [p for line in self.lines(face, Role.SHOULDER, side) for p in points_of(line)]
        return max(ends, key=lambda p: p[1], default=None)

    def slope(self, face: Face, side: Side = Side.LEFT) -> float | None:
        """How steep a shoulder falls, by the part of it that meets the neck."""
        neck = self.side_neck(face, side)
        for line in self.lines(face, Role.SHOULDER, side):
            a, b = (points_of(line)[i] for i in (0, -1))
            if neck is not None and min(math.dist(a, neck), math.dist(b, neck)) < 0.1:
                return math.degrees(math.atan2(abs(a[1] - b[1]), abs(a[0] - b[0])))
        return None

    def neck_centre(self, face: Face) -> XY | None:
        """The neckline's point at the centre."""
        ends = [p for line in self.lines(face, Role.NECKLINE) for p in points_of(line)]
        return min(ends, key=lambda p: abs(p[0]), default=None)

    def armhole(self, face: Face, side: Side = Side.LEFT) -> list[XY]:
        """The points of an armhole on one face."""
        return [p for line in self.lines(face, Role.ARMHOLE, side) for p in points_of(line)]

    def armhole_width(self, side: Side = Side.LEFT) -> float | None:
        """From the narrowest place across to the side seam's upper end, front and back together.

        A front whose outer part of the shoulder is turned on paper, by a dart or a panel seam, is laid back first; a
        back isn't: its shoulder's dart ends at the blade, where its armhole is narrowest, and turns nothing below.
        """
        width = 0.0
        for face in (Face.FRONT, Face.BACK):
            lines = self.lines(face, Role.ARMHOLE, side)
            if not lines:
                return None
            turned = shapely.affinity.rotate(
                shapely.MultiLineString([points_of(line) for line in lines]),
                self._shoulder_turn(face, side) if face is Face.FRONT else 0.0,
                origin=(0.0, 0.0),
                use_radians=True,
            )
            ends = [part.coords[i] for part in turned.geoms for i in (0, -1)]
            low = min(ends, key=lambda p: p[1])
            nearest, _, farthest, _ = turned.bounds
            width += low[0] - nearest if low[0] > 0.0 else farthest - low[0]
        return width

    def _shoulder_turn(self, face: Face, side: Side) -> float:
        """The angle (rad) by which the outer part of a shoulder is out of line with the part at the neck."""
        angles = []
        for line in self.lines(face, Role.SHOULDER, side):
            a, b = sorted((points_of(line)[i] for i in (0, -1)), key=lambda p: abs(p[0]))
            angles.append((abs(a[0]), math.atan2(b[1] - a[1], b[0] - a[0])))
        inner, outer = min(angles)[1], max(angles)[1]
        return math.remainder(inner - outer, 2.0 * math.pi)

    def underarm(self, face: Face = Face.BACK) -> XY | None:
        """Where the left armhole ends below: the back's, for a bust dart may tilt the front's."""
        return min(self.armhole(face), key=lambda p: p[1], default=None)

    def levels(self, name: str) -> Iterator[tuple[Face, float]]:
        """The heights of a level on each face, of one that slopes the nearest to its other parts' middle."""
        for face, pieces in self.of.items():
            ys = [
                y
                for piece in pieces
                for lv in piece.levels
                if lv.name == name
                for y in (lv.path.start.y, lv.path.end.y)
            ]
            if ys:
                yield face, math.fsum(ys) / len(ys)

    def girth(self, name: str) -> float | None:
        """Along the lines of a level right round; None where a panel or a dart lies across it."""
        found = [lv for pieces in self.of.values() for piece in pieces for lv in piece.levels if lv.name == name]
        return math.fsum(lv.path.length for lv in found) if found else None

    def across(self, face: Face) -> float | None:
        """The narrowest place between the armholes of a face."""
        left, right = (self.armhole(face, side) for side in (Side.LEFT, Side.RIGHT))
        if not left or not right:
            return None
        return min(abs(p[0]) for p in left) + min(abs(p[0]) for p in right)

    def bust_point(self) -> XY | None:
        """The marked bust point of the wearer's left."""
        marks = [mark.at for piece in self.of[Face.FRONT] for mark in piece.of_kind(BustPoint)]
        return next(((at.x, at.y) for at in marks if at.x > 0.0), None)

    def waist_below(self, x: float) -> float | None:
        """The height of the front's waist at x, or at its end nearest to there."""
        found = [
            min(lv.path.flatten(FLAT), key=lambda p: abs(float(p[0]) - x))
            for piece in self.of[Face.FRONT]
            for lv in piece.levels
            if lv.name == "waist"
        ]
        return min(((float(p[0]), float(p[1])) for p in found), key=lambda p: abs(p[0] - x), default=(0.0, None))[1]

    def caps(self, side: Side = Side.LEFT) -> tuple[float, float] | None:
        """A cap's height and length."""
        lines = [line for piece in self.garment.pieces for line in piece.lines(role=Role.CAP, side=side)]
        ys = [p[1] for line in lines for p in points_of(line)]
        return (max(ys) - min(ys), length_of(lines)) if lines else None

    def cap_kind(self, side: Side = Side.LEFT) -> str:
        """What kind of cap a sleeve says it has: its design's, or a change's."""
        sleeves = [piece for piece in self.garment.pieces if piece.lines(role=Role.CAP, side=side)]
        return next((cap.kind for piece in sleeves for cap in piece.of_kind(SleeveCap)), "fitted")

    def darts(self, pieces: Iterable[Piece]) -> Iterator[DartTaken]:
        """The darts of pieces that open at an edge."""
        for piece in pieces:
            legs: dict[str, list[Line]] = {}
            for line in piece.ring:
                if line.role is Role.DART and line.dart is not None:
                    legs.setdefault(line.dart.name, []).append(line)
            for name, (a, *rest) in legs.items():
                if rest:
                    ends = sorted((points_of(a)[0], points_of(rest[-1])[-1]), key=lambda p: -p[1])
                    yield DartTaken(name, ends[0], ends[1], points_of(a)[-1])

    def slits(self, face: Face) -> Iterator[float]:
        """What each dart that lies within a piece takes in, at its widest."""
        for piece in self.of[face]:
            for ring in piece.slits:
                xs = [p[0] for line in ring for p in points_of(line)]
                yield max(xs) - min(xs)


def bends(lines: Iterable[Line]) -> tuple[float, int]:
    """The least radius of a line, and how often it turns the other way, by more than ``SLIGHT`` each time.

    Out over the bust, in at the waist and out to the hip are two turns.
    """
    least = math.inf
    turned: list[tuple[bool, float]] = []
    for line in lines:
        n = max(20, int(line.path.length / 5.0))
        for i in range(1, n):
            k = line.path.curvature(line.path.length * i / n)
            if abs(k) > 1.0 / STRAIGHT:
                least = min(least, 1.0 / abs(k))
                turned.append((k > 0.0, abs(k) * line.path.length / n))
    runs = (math.fsum(by for _, by in run) for _, run in groupby(turned, key=lambda each: each[0]))
    return least, max(sum(by > SLIGHT for by in runs) - 1, 0)


def panel_seams(pieces: Iterable[Piece]) -> Iterator[list[Line]]:
    """The seams that part panels, as runs of neighbouring lines of one ring."""
    for piece in pieces:
        for styled, run in groupby(piece.ring, key=lambda line: line.role is Role.STYLE):
            if styled:
                yield list(run)


def outside(edge: Piece, corner: XY) -> float:
    """How far the edge of a piece lies beyond a corner beneath it; less than 0 where the corner sticks out."""
    ring = shapely.Polygon([p for line in edge.ring for p in points_of(line)])
    away = ring.exterior.distance(shapely.Point(corner))
    return away if ring.contains(shapely.Point(corner)) else -away


def wide_at(piece: Piece, y: float) -> float:
    """How wide a piece is at a height."""
    ring = shapely.Polygon([p for line in piece.ring for p in points_of(line)])
    low, _, high, _ = ring.bounds
    return ring.intersection(shapely.LineString([(low - 1.0, y), (high + 1.0, y)])).length


def by_name(garment: Garment) -> Mapping[str, float]:
    """The facts of a garment, the latest of each name."""
    return {fact.name: fact.value for fact in garment.facts}
