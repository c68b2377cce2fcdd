"""Parting a piece along its darts: from one dart through its apex to another dart, or on to a place on the outline.

Where a piece is parted through its darts, nothing is left to fold away: the one panel's edge runs along the first
leg of either dart and the other panel's along the second. The legs are equal, so the two edges are sewn to each
other; each is drawn as one fair curve, which is what makes a panel seam of two darts.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from drafting.errors import GeometryError
from drafting.garment import Drill, Feature, Line, Piece, Role, Side
from drafting.garment.carry import drop_features, part_features
from drafting.garment.darts import Dart, parts_about, rest_of_ring
from drafting.garment.edges import draw_to_edge
from drafting.geometry import Array, Path, Point, crosses_itself, curve_through, is_inside, turn
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

MARK_AT_APEX = TradeValue(1.0, "mm", "from memory")
"""From the new edge within which a mark is told by the edge itself."""

LEG_BLEND = TradeValue(60.0, "mm", "from memory")
"""Of a leg that are bent for it to run on in the edge beyond the dart."""

SHARPEST_BLEND = TradeValue(math.radians(60.0), "rad", "derived", "over 60 mm it bends with a radius of 17 mm")
"""By which an edge turns at a dart's point at most: more would bend too tightly for its allowance."""

BEND_HANDLES = trade_row((0.3, 0.5), "share", "derived", "they keep it roundest")
"""Of its chord that the handles of a bend have: at the end that runs on, and at the end that turns."""

DRAWN_ON_TO_PANEL = TradeValue(25.0, "mm", "from memory")
"""By which a level may be drawn on to meet a panel's new edge."""


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


def part_panels(piece: Piece, route: Route, name: str) -> Panels:
    """Return the two panels of a piece parted along a route; the new edges are named ``name``/a and ``name``/b.

    GeometryError where a panel would run over itself.
    """
    ring = rest_of_ring(piece, route.start)
    if isinstance(route.end, Dart):
        right, left = parts_about(ring, route.end)
    else:
        at = route.end
        j = min(range(1, len(ring)), key=lambda k: ring[k].path.start.distance(at))
        right, left = ring[:j], ring[j:]
    edge = Line(name, ring[0].path, Role.STYLE, Side.NONE, piece.face)
    leg, on = _edge(route, True)
    home, there = _edge(route, False)
    along = edge.part(0, leg), edge.part(1, on)
    back = edge.part(0, there.reversed()), edge.part(1, home.reversed())
    panels = Panels((*left, *along), (*right, *back))
    for lines in (panels.left, panels.right):
        outline = Path.join(*(line.path for line in lines))
        if outline.area <= 0.0 or crosses_itself(outline.flatten()):
            raise GeometryError("parted there, a panel would run over itself")
    return panels


@dataclass(frozen=True, slots=True)
class _RouteStretch:
    """Part of an edge through points: of a dart, where it may bend, or straight between darts."""

    points: tuple[Point, ...]
    bends: bool = True

    @property
    def leaves(self) -> Point:
        return (self.points[1] - self.points[0]).unit

    @property
    def arrives(self) -> Point:
        return (self.points[-1] - self.points[-2]).unit

    def draw(self, leaves: Point, arrives: Point) -> Path:
        """The stretch drawn from one direction to another: along legs, in the last 60 mm before a bend."""
        a, b = self.points[0], self.points[-1]
        if not self.bends:
            return Path.straight(a, b)
        if len(self.points) > 2:
            return curve_through(self.points, leaves, arrives)
        along, near = self.leaves, min(LEG_BLEND, a.distance(b) / 2.0)
        low, high = a + along * near, b - along * near
        first = [] if leaves.near(along, TOLERANCE.tangent) else [_turn_curve(a, leaves, low, along)]
        last = [] if arrives.near(along, TOLERANCE.tangent) else [_turn_curve(high, along, b, arrives)]
        middle = (low if first else a, high if last else b)
        straight = [] if middle[0].near(middle[1], TOLERANCE.joint) else [Path.straight(*middle)]
        return Path.join(*first, *straight, *last)


def _turn_curve(a: Point, leaves: Point, b: Point, arrives: Point) -> Path:
    """A curve between two points from one direction to another, one of which is that of the chord.

    Its handles are the ones that keep it roundest: at 60 degrees over 60 mm it bends with a radius of 17 mm (derived).
    """
    chord = b - a
    first, last = BEND_HANDLES if leaves.near(chord.unit, TOLERANCE.tangent) else BEND_HANDLES[::-1]
    return Path.cubic(a, a + leaves * (first * chord.length), b - arrives * (last * chord.length), b)


def _edge(route: Route, left: bool) -> tuple[Path, Path]:
    """One panel's edge, from the start of the way to the apex, and on to its end: smooth, and straight between darts.

    Where there is no dart the two panels' edges are one line, so that the panels together are as wide as the piece
    was. All bending is done in the darts: at the end of a leg, and all along a dart within the piece.
    """
    leg, *rest = (each.draw(*pair) for each, pair in zip(*_stretches_of(route, left), strict=True))
    return leg, Path.join(*rest)


def _stretches_of(route: Route, left: bool) -> tuple[list[_RouteStretch], list[tuple[Point, Point]]]:
    """The stretches of one panel's edge, and the directions in which each leaves and arrives."""
    at = route.start.apex
    stretches = [_RouteStretch((route.start.mouth_a if left else route.start.mouth_b, at))]
    for dart in route.within:
        assert dart.lower is not None
        stretches += _stretch_between(at, dart.point)
        stretches.append(_RouteStretch((dart.point, _outer_end(dart, left), dart.lower)))
        at = dart.lower
    if isinstance(route.end, Dart):
        stretches += _stretch_between(at, route.end.apex)
        stretches.append(_RouteStretch((route.end.apex, route.end.mouth_b if left else route.end.mouth_a)))
    else:
        stretches += _stretch_between(at, route.end)
    ways = [stretches[0].leaves, *(_way(one, two) for one, two in pairwise(stretches)), stretches[-1].arrives]
    return stretches, list(pairwise(ways))


def sharpest_turn(route: Route) -> float:
    """Return by how much (rad) an edge along a route turns at the end of a dart, at most."""
    return max(
        abs(turn(one, two))
        for left in (True, False)
        for stretch, ways in zip(*_stretches_of(route, left), strict=True)
        if stretch.bends
        for one, two in ((ways[0], stretch.leaves), (stretch.arrives, ways[1]))
    )


def _stretch_between(a: Point, b: Point) -> list[_RouteStretch]:
    return [] if a.near(b, TOLERANCE.sewn_length) else [_RouteStretch((a, b), bends=False)]


def _outer_end(dart: Dart, left: bool) -> Point:
    """The end of a dart's mouth on the side of one panel."""
    assert dart.lower is not None
    is_a = ((dart.lower - dart.point).cross(dart.mouth_a - dart.point) > 0.0) is left
    return dart.mouth_a if is_a else dart.mouth_b


def _way(one: _RouteStretch, two: _RouteStretch) -> Point:
    """The direction in which two stretches meet: that of the straight one, or the middle of both."""
    if not one.bends:
        return one.arrives
    return two.leaves if not two.bends else (one.arrives + two.leaves).unit


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
        """Whether a point belongs to a panel: it lies in it (perhaps in both), or in neither and nearer to it."""
        one, two = (is_inside(at, polygon) for polygon in self.polygons)
        if one or two:
            return one if left else two
        return (self.left.nearest(at)[1] <= self.right.nearest(at)[1]) is left

    def is_sliver(self, part: Path, edges: tuple[Path, Path]) -> bool:
        """Whether a part of a level lies between the panels, from one's new edge to the other's: where a dart was."""
        middle = part.at(part.length / 2.0)
        if any(is_inside(middle, polygon) for polygon in self.polygons):
            return False
        if any(edge.nearest(middle)[1] <= TOLERANCE.flatten for edge in (self.left, self.right)):
            return False  # it lies in an edge, as a hip line does in the hem of a bodice to the hip
        one, two = (tuple(edge.nearest(at)[1] for at in (part.start, part.end)) for edge in edges)
        return min(max(one[0], two[1]), max(one[1], two[0])) <= TOLERANCE.flatten


@dataclass(frozen=True, slots=True)
class _Panel:
    """What belongs to one panel: the stretches of a line across it are found by ``paths``."""

    names: Collection[str]
    sides: _Sides
    left: bool
    paths: Callable[[Path], Sequence[Path]]

    def holds(self, at: Point) -> bool:
        return self.sides.holds(self.left, at)

    def stretches(self, path: Path) -> Sequence[Path]:
        return self.paths(path)

    def has_line(self, name: str) -> bool:
        return name in self.names


def share_out(piece: Piece, panels: Panels, left: bool) -> Piece:
    """Return a piece of one panel's ring, with the levels, marks, zones and slits that lie in it."""
    lines = panels.left if left else panels.right
    sides = _Sides.of(panels)
    new, other = (
        Path.join(*(line.path for line in ring[-2:])) for ring in (lines, panels.right if left else panels.left)
    )
    legs = [line.path for line in piece.all_lines if line.role is Role.DART]

    reach = TOLERANCE.flatten  # an edge is drawn on a little, so that it parts what lies in the edge where it ends
    cutting = [edge.extended(reach, reach) for edge in (new, other)]

    def paths(path: Path) -> Sequence[Path]:
        parts = path.cut_at(path.cuts_by(cutting, TOLERANCE.flatten), TOLERANCE.sewn_length)
        parts = [part for part in parts if not sides.is_sliver(part, (new, other))]
        held = [part for part in parts if sides.holds(left, part.at(part.length / 2.0))]
        held = [part for part in held if len(parts) == 1 or not _is_stub(part, new, legs)]
        return [_meet_edge(part, new, legs) for part in _join_parts(held)]

    def is_told(feature: Feature) -> bool:  # by the edge itself
        return isinstance(feature, Drill) and new.nearest(feature.at)[1] <= MARK_AT_APEX

    panel = _Panel({line.name for line in lines}, sides, left, paths)
    return part_features(drop_features(replace(piece, ring=lines), is_told), panel)


def _join_parts(parts: Iterable[Path]) -> list[Path]:
    """Parts that follow each other, where the other panel's edge parted them, as one."""
    out: list[Path] = []
    for part in parts:
        if out and out[-1].end.near(part.start, TOLERANCE.joint):
            out[-1] = Path.join(out[-1], part)
        else:
            out.append(part)
    return out


def _is_stub(part: Path, edge: Path, legs: Sequence[Path]) -> bool:
    """Whether a part is what a new edge beside a dart cuts off: what ends at the other leg is drawn over it."""
    near = TOLERANCE.flatten
    return part.length < DRAWN_ON_TO_PANEL and any(
        edge.nearest(one)[1] <= near and any(leg.nearest(two)[1] <= near for leg in legs)
        for one, two in ((part.start, part.end), (part.end, part.start))
    )


def _meet_edge(path: Path, edge: Path, legs: Sequence[Path]) -> Path:
    """A level that ended at a dart's leg, or is cut off near it, drawn straight on to the new edge."""
    for at_end in (False, True):
        tip = path.end if at_end else path.start
        if edge.nearest(tip)[1] <= TOLERANCE.joint or all(leg.nearest(tip)[1] > TOLERANCE.flatten for leg in legs):
            continue
        path = draw_to_edge(path, edge, at_end, DRAWN_ON_TO_PANEL)
    return path


def weight(lines: Iterable[Line]) -> tuple[float, float, float]:
    """How much a panel is the middle of its piece: it holds both sides, or the centre, or more of the outline."""
    held = list(lines)
    sides = {line.side for line in held if line.role in (Role.NECKLINE, Role.HEM, Role.WAIST)} - {Side.NONE}
    centre = math.fsum(line.path.length for line in held if line.role is Role.CENTRE)
    return float(len(sides) == 2), centre, math.fsum(line.path.length for line in held)
