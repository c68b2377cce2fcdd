"""Parting a piece along its darts: from one dart through its apex to another dart, or on to a place on the outline.

Where a piece is parted through its darts, nothing is left to fold away: the one panel's edge runs along the first
leg of either dart and the other panel's along the second. The legs are equal, so the two edges are sewn to each
other; each is drawn as one fair curve, which is what makes a panel seam of two darts.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace

from drafting.errors import GeometryError
from drafting.garment import Drill, Feature, Line, Piece, Role, Side
from drafting.garment.carry import drop_features, part_features
from drafting.garment.darts import Dart, parts_about, rest_of_ring
from drafting.garment.edges import draw_to_edge, in_lines
from drafting.geometry import Array, Path, Point, crosses_itself, is_inside, turn
from drafting.record import dataclass
from drafting.redraw.mouths import true_about, true_folded
from drafting.redraw.panel_edges import Route, panel_edge
from drafting.redraw.splaying import splay_panels
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

MARK_AT_APEX = TradeValue(1.0, "mm", "from memory")
"""From the new edge within which a mark is told by the edge itself."""

DRAWN_ON_TO_PANEL = TradeValue(25.0, "mm", "from memory")
"""By which a level may be drawn on to meet a panel's new edge."""

CROSSES_ASLANT = TradeValue(10.0, "mm", "from memory")
"""Of a panel seam at least between where a level meets it and where it leaves it, for the level to run along it."""


@dataclass(frozen=True, slots=True)
class Panels:
    """The two rings: ``left`` lies to the left of the way from start to end, ``right`` to the right.

    Each ring's last two lines are its new edge: on the left from the start of the way to the apex and on; on the right
    back from its end.
    """

    left: tuple[Line, ...]
    right: tuple[Line, ...]


def true_ends(piece: Piece, route: Route) -> Piece:
    """Return a piece whose edges run on smooth over the ends of a route's seam: its edges leave the legs there.

    What was trued for the dart is undone first: bent for both, an edge would waver.
    """
    (one, one_on), (two, two_on) = (panel_edge(route, left) for left in (True, False))
    for dart in (part for part in (route.start, route.end) if isinstance(part, Dart)):
        piece = true_about(piece, dart, dart.apex)
    if isinstance(route.start, Dart):
        piece = true_folded(piece, route.start, turn(two.tangent(0.0), one.tangent(0.0)))
    if isinstance(route.end, Dart):
        left, right = (edge.tangent(edge.length) for edge in (one_on, two_on))
        piece = true_folded(piece, route.end, turn(left, right))
    return piece


def part_panels(piece: Piece, route: Route, name: str, fullness: tuple[float, float] | None = None) -> Panels:
    """Return the two panels of a piece parted along a route; the new edges are named ``name``/a and ``name``/b.

    ``fullness`` is from which height (y, mm) its edges swing out, and how much (mm) they let in at the hem.
    GeometryError where a panel would run over itself.
    """
    ring = rest_of_ring(piece, route.start) if isinstance(route.start, Dart) else _ring_from(piece, route.start)
    if isinstance(route.end, Dart):
        right, left = parts_about(ring, route.end)
    else:
        at = route.end
        j = min(range(1, len(ring)), key=lambda k: ring[k].path.start.distance(at))
        right, left = ring[:j], ring[j:]
    if fullness is not None:
        route, left, right = splay_panels(route, left, right, *fullness)
    edge = Line(name, ring[0].path, Role.STYLE, Side.NONE, piece.face)
    leg, on = panel_edge(route, True)
    home, there = panel_edge(route, False)
    along = edge.part(0, leg), edge.part(1, on)
    back = edge.part(0, there.reversed()), edge.part(1, home.reversed())
    panels = Panels((*left, *along), (*right, *back))
    for lines in (panels.left, panels.right):
        outline = Path.join(*(line.path for line in lines))
        if outline.area <= 0.0 or crosses_itself(outline.flatten()):
            raise GeometryError("parted there, a panel would run over itself")
    return panels


def _ring_from(piece: Piece, corner: Point) -> tuple[Line, ...]:
    """A ring begun at one of its corners."""
    i = min(range(len(piece.ring)), key=lambda k: piece.ring[k].path.start.distance(corner))
    return (*piece.ring[i:], *piece.ring[:i])


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

    redrawn = any(line.path != piece.line(line.name).path for line in lines[:-2])

    def paths(path: Path) -> Sequence[Path]:
        lying = in_lines(piece, lines[:-2], path) if redrawn else None
        if lying is not None:
            return [lying]
        parts = path.cut_at(path.cuts_by(cutting, TOLERANCE.flatten), TOLERANCE.sewn_length)
        slivers = [part for part in parts if sides.is_sliver(part, (new, other))]
        along = {part: _run_along(part, new, other) for part in slivers} if left else {}
        parts = [along.get(part, part) or part for part in parts if part not in slivers or along.get(part)]
        held = [p for p in parts if p in along.values() or sides.holds(left, p.at(p.length / 2.0))]
        held = [part for part in held if len(parts) == 1 or not _is_stub(part, new, legs)]
        return [_meet_edge(part, new, legs) for part in _join_parts(held)]

    def is_told(feature: Feature) -> bool:  # by the edge itself
        return isinstance(feature, Drill) and new.nearest(feature.at)[1] <= MARK_AT_APEX

    panel = _Panel({line.name for line in lines}, sides, left, paths)
    return part_features(drop_features(replace(piece, ring=lines), is_told), panel)


def _run_along(part: Path, edge: Path, other: Path) -> Path | None:
    """The stretch of a seam that a level runs along which crosses it aslant; None where it crosses straight over.

    From where it meets one edge of the dart towards where, the dart sewn, it leaves the other, and as long as it is, so
    that the girth stays what it was. ``edge`` and ``other`` run the opposite way.
    """
    at_start = edge.nearest(part.start)[1] <= edge.nearest(part.end)[1]
    on, off = (part.start, part.end) if at_start else (part.end, part.start)
    s, left_at = edge.nearest(on)[0], other.length - other.nearest(off)[0]
    if abs(s - left_at) < CROSSES_ASLANT:
        return None
    low, high = sorted((s, s + math.copysign(part.length, left_at - s)))
    if low < 0.0 or high > edge.length:
        return None
    stretch = edge.between(low, high)
    return stretch if (s == low) is at_start else stretch.reversed()


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
