"""Parting a piece along its darts: from one dart through its apex to another dart, or on to a place on the outline.

Where a piece is parted through its darts, nothing is left to fold away: the one panel's edge runs along the first
leg of either dart and the other panel's along the second. The legs are equal, so the two edges are sewn to each
other; each is drawn as one fair curve, which is what makes a panel seam of two darts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from drafting.errors import GeometryError
from drafting.garment import Level, Line, Piece, Role, Side
from drafting.garment.darts import Dart, leg_names
from drafting.garment.model import Adjust
from drafting.garment.within import Array, crosses_itself, inside
from drafting.geometry import Path, Point, curve_through
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

NEAR_APEX = 1.0
"""A mark this near to the new edge (mm) is told by the edge itself."""

_REACH = 25.0  # mm by which a level may be drawn on to meet the new edge


@dataclass(frozen=True, slots=True)
class Route:
    """The way the piece is parted: a dart, darts within the piece, and a last dart or a corner of the ring."""

    start: Dart
    within: tuple[Dart, ...]
    end: Dart | Point


@dataclass(frozen=True, slots=True)
class Panels:
    """The two rings: ``left`` lies to the left of the way from start to end, ``right`` to the right.

    Each ring's last two lines are its new edge: on the left from the start of the way to the apex and on; on the right
    back from its end.
    """

    left: tuple[Line, ...]
    right: tuple[Line, ...]


def parted(piece: Piece, route: Route, name: str) -> Panels:
    """Return the two panels of a piece parted along a route; the new edges are named ``name``/a and ``name``/b.

    GeometryError where a panel would run over itself.
    """
    i = piece.index(leg_names(route.start.name)[1])
    ring = (*piece.ring[i + 1 :], *piece.ring[: i - 1]) if i else piece.ring[1:-1]
    if isinstance(route.end, Dart):
        j = [line.name for line in ring].index(leg_names(route.end.name)[0])
        right, left = ring[:j], ring[j + 2 :]
    else:
        at = route.end
        j = min(range(1, len(ring)), key=lambda k: ring[k].path.start.distance(at))
        right, left = ring[:j], ring[j:]
    edge = Line(name, ring[0].path, Role.STYLE, Side.NONE, piece.face)
    along = _edge(edge, _points(route, True), route.start.apex)
    back = _edge(edge, _points(route, False)[::-1], route.start.apex)
    panels = Panels((*left, *along), (*right, *back))
    for lines in (panels.left, panels.right):
        outline = Path.join(*(line.path for line in lines))
        if outline.area <= 0.0 or crosses_itself(outline.flatten()):
            raise GeometryError("parted there, a panel would run over itself")
    return panels


def _points(route: Route, left: bool) -> list[Point]:
    """What one panel's edge runs through, from the start of the way to its end."""
    first = route.start.mouth_a if left else route.start.mouth_b
    points = [first, route.start.apex]
    for dart in route.within:
        assert dart.lower is not None
        down = dart.lower - dart.point
        a, b = dart.mouth_a, dart.mouth_b
        if (down.cross(a - dart.point) > 0.0) is not left:
            a, b = b, a
        points += [dart.point, a, dart.lower]
    if isinstance(route.end, Dart):
        points += [route.end.apex, route.end.mouth_b if left else route.end.mouth_a]
    else:
        points.append(route.end)
    return [p for k, p in enumerate(points) if not k or not p.near(points[k - 1], TOLERANCE.sewn_length)]


def _edge(edge: Line, points: Sequence[Point], apex: Point) -> tuple[Line, Line]:
    """One fair curve through points, straight near its ends, in two parts that meet at the apex."""
    # Points part of the way along the first and last legs keep the curve on them.
    more = [points[0], points[0].to(points[1], 0.5), *points[1:-1], points[-2].to(points[-1], 0.5), points[-1]]
    path = curve_through(more, points[1] - points[0], points[-1] - points[-2])
    s, _ = path.nearest(apex)
    one, two = path.split(s)
    return edge.part("a", one), edge.part("b", two)


# what lies within


@dataclass(frozen=True, slots=True)
class _Sides:
    """The outlines of two panels, as curves and as chords: what lies in which."""

    left: Path
    right: Path
    polygons: tuple[Array, Array]

    @staticmethod
    def of(panels: Panels) -> _Sides:
        left, right = (Path.join(*(line.path for line in lines)) for lines in (panels.left, panels.right))
        return _Sides(left, right, (left.flatten(), right.flatten()))

    def holds(self, left: bool, at: Point) -> bool:
        """Whether a point belongs to a panel: it lies in it, or in neither and nearer to it."""
        one, two = (inside(at, polygon) for polygon in self.polygons)
        if one or two:
            return one if left else two and not one
        return (self.left.nearest(at)[1] <= self.right.nearest(at)[1]) is left

    def is_sliver(self, part: Path) -> bool:
        """Whether a part of a level lies between the two panels, where a dart was, and is too short to be more."""
        at = part.at(part.length / 2.0)
        if part.length > _REACH or any(inside(at, polygon) for polygon in self.polygons):
            return False
        return min(self.left.nearest(at)[1], self.right.nearest(at)[1]) > TOLERANCE.flatten


def share_out(piece: Piece, panels: Panels, left: bool) -> Piece:
    """Return a piece of one panel's ring, with the levels, marks, zones and slits that lie in it."""
    lines = panels.left if left else panels.right
    sides = _Sides.of(panels)
    new, other = (
        Path.join(*(line.path for line in ring[-2:])) for ring in (lines, panels.right if left else panels.left)
    )
    legs = [line.path for line in piece.all_lines if line.role is Role.DART]

    def paths(path: Path) -> Iterable[Path]:
        parts = [part for part in _stretches(path, (new, other)) if not sides.is_sliver(part)]
        for part in parts:
            if sides.holds(left, part.at(part.length / 2.0)):
                yield _met(part, new, legs)

    names = {line.name for line in lines}
    return replace(
        piece,
        ring=lines,
        levels=tuple(Level(v.name, p, v.girth, v.side) for v in piece.levels for p in paths(v.path)),
        adjusts=tuple(Adjust(a.name, p) for a in piece.adjusts for p in paths(a.path)),
        drills=tuple(d for d in piece.drills if sides.holds(left, d.at) and new.nearest(d.at)[1] > NEAR_APEX),
        zones=tuple(zone for zone in piece.zones if zone.line in names),
        slits=tuple(slit for slit in piece.slits if sides.holds(left, slit[0].path.start)),
    )


def _stretches(path: Path, edges: Iterable[Path]) -> Iterable[Path]:
    cuts = {c.s for edge in edges for c in path.crossings(edge)}
    inner = sorted(s for s in cuts if TOLERANCE.flatten < s < path.length - TOLERANCE.flatten)
    bounds = [0.0, *inner, path.length]
    return [path.between(low, high) for low, high in pairwise(bounds) if high - low > TOLERANCE.sewn_length]


def _met(path: Path, edge: Path, legs: Sequence[Path]) -> Path:
    """A level that ended at a dart's leg, or is cut off near it, drawn straight on to the new edge."""
    for at_end in (False, True):
        tip = path.end if at_end else path.start
        if edge.nearest(tip)[1] <= TOLERANCE.joint or all(leg.nearest(tip)[1] > TOLERANCE.flatten for leg in legs):
            continue
        long = path.extended(0.0 if at_end else _REACH, _REACH if at_end else 0.0)
        near = [c for c in long.crossings(edge) if c.point.distance(tip) <= _REACH]
        near = [c for c in near if (c.s > long.length / 2.0) is at_end]
        if near:
            s = min(near, key=lambda c: c.point.distance(tip)).s
            path = long.between(0.0, s) if at_end else long.between(s, long.length)
    return path


def weight(lines: Iterable[Line]) -> tuple[float, float, float]:
    """How much a panel is the middle of its piece: it holds both sides, or the centre, or more of the outline."""
    held = list(lines)
    sides = {line.side for line in held if line.role in (Role.NECKLINE, Role.HEM, Role.WAIST)} - {Side.NONE}
    centre = math.fsum(line.path.length for line in held if line.role is Role.CENTRE)
    return float(len(sides) == 2), centre, math.fsum(line.path.length for line in held)
