"""The two edges of a panel seam: each one fair line from the seam's start over the point of the bust to its end.

Where there is no dart the two panels share one line, so that together they are as wide as the piece was; where there
is one, each edge runs to its own end of the dart's widest place, and bends about it as widely as the way there lets it.
Above the bust the edges are one line on the dart folded up, each rounded at the point only: a leg that bows outwards
would add what the dart takes in.
A panel's edge turns twice at most: outwards over the bust, in at the waist, out again to the hip (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from drafting.garment import Piece
from drafting.garment.darts import Dart
from drafting.garment.places import Place
from drafting.geometry import Path, Point, turn
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

FAIR_BEND = TradeValue(90.0, "mm", "from memory", "a panel seam bends with 6 cm or more")
"""Radius with which a panel's edge bends at a point of its way, where the way has room for it."""

POINT_BEND = TradeValue(65.0, "mm", "from memory", "6 cm or more; tighter than elsewhere: a leg stays straight")
"""Radius with which an edge rounds from a dart's leg into its way over the point."""

LEG_BENDS = TradeValue(math.radians(25.0), "rad", "from memory", "from the armhole half of it, from the side twice")
"""By which both edges bend at the point at most, for their legs to be followed: a seam that comes across the piece
bends on all its way."""

LONGEST_HANDLE = TradeValue(0.42, "share", "derived", "two on one chord leave a part of it between them")
"""Of a chord that a bend reaches along it at most."""

STRAIGHTEST_HANDLE = TradeValue(0.5, "share", "derived", "it keeps the end of the line straight")
"""Of the way to the bend's handle that the handle at the line's own end has, which points at it."""

SHARPEST_BLEND = TradeValue(math.radians(60.0), "rad", "derived", "more bends tighter than its allowance has room for")
"""By which an edge turns at a dart's point at most."""

SAME_STOP = TradeValue(20.0, "mm", "from memory")
"""Between two points of an edge's way within which one of them is left out, for the edge to be fair."""

SAME_APEX = TradeValue(60.0, "mm", "from memory", "waist darts end 2 to 5 cm below the bust point")
"""Below the point that a seam runs over, up to which a dart within the piece is drawn on to it."""


@dataclass(frozen=True, slots=True)
class Splay:
    """How a panel seam's edges let fullness in: below the height ``top`` each is swung out by ``bend`` (rad).

    ``lift`` (mm) is by how much they end sooner, for the hem.
    """

    top: float
    bend: float
    lift: float = 0.0


@dataclass(frozen=True, slots=True)
class Route:
    """The way a piece is parted: from a dart, or a corner of the ring, by ``over`` and darts within, to its end.

    ``over`` is the apex of the first dart, or the point of the bust where the body needs none there. ``end`` is a last
    dart or a corner. Darts left ``beside`` the seam are taken up by the first dart within. ``splay`` swings its edges
    out below.
    """

    start: Dart | Point
    over: Point | None
    within: tuple[Dart, ...]
    end: Dart | Point
    beside: tuple[Dart, ...] = ()
    splay: Splay | None = None

    @property
    def darts(self) -> tuple[Dart, ...]:
        """All darts that the seam takes up."""
        ends = (self.start, *self.within, self.end, *self.beside)
        return tuple(part for part in ends if isinstance(part, Dart))


@dataclass(frozen=True, slots=True)
class _Stop:
    """A point of a panel's edge; ``shared`` where the way on from it is the other panel's too.

    ``way`` is the direction in which both panels' edges pass it, where that isn't one of their chords'.
    """

    at: Point
    shared: bool = False
    way: Point | None = None


def panel_edge(route: Route, left: bool) -> tuple[Path, Path]:
    """Return one panel's edge in two: from the start of the way to the point it runs over, and on to its end."""
    stops = _stops(route, left)
    drawn = _draw_fair(stops)
    if isinstance(route.start, Dart) and len(drawn) > 1:
        drawn[0] = _leg(stops, _stops(route, not left))
    if len(drawn) > 2 and isinstance(route.end, Dart) and stops[-3].shared:
        drawn[-1] = _leg(_turn_round(stops), _turn_round(_stops(route, not left))).reversed()
    split = 1 if len(drawn) > 1 else 0
    if not split:
        half = drawn[0].length / 2.0
        return drawn[0].split(half)
    return drawn[0], Path.join(*drawn[1:])


def sharpest_turn(route: Route) -> float:
    """Return by how much (rad) an edge along a route turns at a point of its way, at most."""
    turns = [0.0]
    for left in (True, False):
        stops = _stops(route, left)
        chords = [(b.at - a.at).unit for a, b in pairwise(stops)]
        for i, way in enumerate(_ways(stops)[1:-1]):
            turns += [abs(turn(chords[i], way)), abs(turn(way, chords[i + 1]))]
    return max(turns)


def _stops(route: Route, left: bool) -> list[_Stop]:
    """The points of one panel's edge, in order, swung out where the seam lets fullness in."""
    stops = _stops_along(route, left)
    return stops if route.splay is None else _swing_out(stops, route.splay, left)


def _swing_out(stops: list[_Stop], splay: Splay, left: bool) -> list[_Stop]:
    """The stops, those below a height swung out about where the edge passes it; they are no longer shared."""
    high = [stop for stop in stops[:-1] if stop.at.y >= splay.top - TOLERANCE.joint]
    low = stops[len(high) :]
    if not high:
        return stops
    if high[-1].at.y > splay.top + SAME_STOP:
        above, below = high[-1].at, low[0].at
        share = (above.y - splay.top) / (above.y - below.y)
        high.append(_Stop(above.to(below, share)))
    hinge = high[-1] = replace(high[-1], shared=False)
    turned = [hinge.at + (stop.at - hinge.at).turned(-splay.bend if left else splay.bend) for stop in low]
    before = turned[-2] if len(turned) > 1 else hinge.at
    turned[-1] = turned[-1] + (before - turned[-1]).unit * splay.lift
    kept = [at for at in turned[:-1] if at.distance(turned[-1]) > SAME_STOP]
    return [*high, *map(_Stop, (*kept, turned[-1]))]


def _stops_along(route: Route, left: bool) -> list[_Stop]:
    """The points of one panel's edge as the dart sewn would have them."""
    start, end = route.start, route.end
    by_dart = isinstance(start, Dart)
    first = (start.mouth_a if left else start.mouth_b) if isinstance(start, Dart) else start
    stops = [_Stop(first, not by_dart)]
    if route.over is not None:
        stops.append(_Stop(route.over, way=_way_into_dart(route)))
    for dart in route.within:
        assert dart.lower is not None
        stops = _reach(stops, dart.point, draws_on=dart is route.within[0] and route.over is not None)
        spare = route.beside if dart is route.within[0] else ()
        stops += [_Stop(_outer_end(dart, left, spare)), _Stop(dart.lower)]
    if isinstance(end, Dart):
        stops = _reach(stops, end.apex, draws_on=route.over is not None and not route.within)
        one, two = end.legs
        bends = [line.path.end for line in two[:-1]] if left else [line.path.start for line in one[:0:-1]]
        return [*stops, *map(_Stop, bends), _Stop(end.mouth_b if left else end.mouth_a)]
    return _reach(stops, end, draws_on=False)


def _way_into_dart(route: Route) -> Point | None:
    """The direction in which a seam that comes from a corner straight to a dart within passes that dart's point.

    Midway between its way there and the dart's own: a seam from the armhole comes aslant, and rounds into the dart. No
    farther round than either panel's edge runs on: it would have to turn back there.
    """
    dart = route.within[0] if route.within else None
    if dart is None or dart.lower is None or isinstance(route.start, Dart) or route.over is None:
        return None
    if dart.point.distance(route.over) > TOLERANCE.sewn_length:
        return None
    comes, own = (dart.point - route.start).unit, (dart.lower - dart.point).unit
    turns = turn(comes, own)
    edges = [_outer_end(dart, left, route.beside) - dart.point for left in (True, False)]
    least = min(math.copysign(1.0, turns) * turn(comes, edge.unit) for edge in edges)
    return comes.turned(math.copysign(min(abs(turns) / 2.0, max(least, 0.0)), turns))


def _reach(stops: list[_Stop], to: Point, draws_on: bool) -> list[_Stop]:
    """The stops with the way on to a dart's point, or to the end: shared by both panels, where it has a length."""
    last = stops[-1]
    gap = last.at.distance(to)
    if gap <= TOLERANCE.sewn_length or (draws_on and gap <= SAME_APEX):
        return stops
    return [*stops[:-1], _Stop(last.at, True), _Stop(to)]


def _turn_round(stops: Sequence[_Stop]) -> list[_Stop]:
    """The stops of an edge as they are met from its end."""
    shared = [stop.shared for stop in stops[-2::-1]] + [False]
    ways = [-stop.way if stop.way is not None else None for stop in stops[::-1]]
    return [_Stop(stop.at, each, way) for stop, each, way in zip(stops[::-1], shared, ways, strict=True)]


def _outer_end(dart: Dart, left: bool, spare: Sequence[Dart]) -> Point:
    """The end of a dart's widest place on the side of one panel, with half of what is taken up from beside it."""
    assert dart.lower is not None
    is_a = ((dart.lower - dart.point).cross(dart.mouth_a - dart.point) > 0.0) is left
    own, other = (dart.mouth_a, dart.mouth_b) if is_a else (dart.mouth_b, dart.mouth_a)
    more = math.fsum(each.mouth_a.distance(each.mouth_b) for each in spare)
    return own + (own - other).unit * (more / 2.0)


def place_beyond(piece: Piece, dart: Dart) -> Place:
    """Return where a dart within the piece, drawn straight on beyond its lower point, meets the outline."""
    assert dart.lower is not None
    return place_along(piece, dart.lower, (dart.lower - dart.point).unit)


def place_along(piece: Piece, start: Point, way: Point) -> Place:
    """Return where a straight line from a point within a piece first meets its outline."""
    x0, y0, x1, y1 = piece.outline.bounds
    ray = Path.straight(start, start + way * (x1 - x0 + y1 - y0))
    met = [(c.s, line.name, c.t) for line in piece.ring for c in ray.crossings(line.path) if c.s > TOLERANCE.joint]
    _, name, s = min(met)
    return Place(name, s)


# the fair line


def _ways(stops: Sequence[_Stop]) -> list[Point]:
    """The direction in which an edge passes each stop: that of what is shared there, else the middle of both chords."""
    chords = [(b.at - a.at).unit for a, b in pairwise(stops)]
    ways = [chords[0]]
    for i in range(1, len(stops) - 1):
        before, after = stops[i - 1].shared, stops[i].shared
        one, two = chords[i - 1], chords[i]
        told = stops[i].way
        if told is not None:
            ways.append(told)
            continue
        ways.append(one if before and not after else two if after and not before else (one + two).unit)
    return [*ways, chords[-1]]


def _draw_fair(stops: Sequence[_Stop]) -> list[Path]:
    """The edge, stretch by stretch."""
    ways = _ways(stops)
    last = len(stops) - 2
    return [
        _stretch(a.at, ways[i] if i else None, b.at, ways[i + 1] if i < last else None)
        for i, (a, b) in enumerate(pairwise(stops))
    ]


def _leg(stops: Sequence[_Stop], others: Sequence[_Stop]) -> Path:
    """The edge along a dart's leg: it bends on its way as the other edge does too, and at the point by the rest."""
    a, b, way = stops[0].at, stops[1].at, _ways(stops)[1]
    own, other = turn((b - a).unit, way), turn((others[1].at - others[0].at).unit, _ways(others)[1])
    shared = min(abs(own), abs(other)) if own * other > 0.0 else 0.0
    rest = own - math.copysign(shared, own)
    if abs(rest) <= TOLERANCE.tangent or shared > LEG_BENDS:
        return _stretch(a, None, b, way)
    radius = min(POINT_BEND, b.distance(a) / (2.0 * abs(rest)))
    leaves = way.turned(-rest)
    begins = b - way.turned(-rest / 2.0) * (2.0 * radius * math.sin(abs(rest) / 2.0))
    handle = radius * math.tan(abs(rest) / 4.0) * 4.0 / 3.0
    rounded = Path.cubic(begins, begins + leaves * handle, b - way * handle, b)
    return Path.join(_stretch(a, None, begins, leaves), rounded)


def _stretch(a: Point, leaves: Point | None, b: Point, arrives: Point | None) -> Path:
    """A curve from one stop to the next that bends near its ends; an end without a direction is straight."""
    chord = b.distance(a)
    along = (b - a).unit
    out = turn(along, leaves) if leaves is not None else 0.0
    home = turn(arrives, along) if arrives is not None else 0.0
    if max(abs(out), abs(home)) <= TOLERANCE.tangent:
        return Path.straight(a, b)
    near, far = _handle(out, home, chord), _handle(home, out, chord)
    if leaves is None:
        high = b - along.turned(-home) * far
        return Path.cubic(a, a.to(high, STRAIGHTEST_HANDLE), high, b)
    low = a + along.turned(out) * near
    return Path.cubic(
        a, low, b - along.turned(-home) * far if arrives is not None else b.to(low, STRAIGHTEST_HANDLE), b
    )


def _handle(angle: float, other: float, chord: float) -> float:
    """The handle at a bend of ``angle`` (rad) off the chord, for the radius that a bend should have.

    A cubic's curvature at its end is two thirds of the other handle's distance from the end's tangent, over the square
    of its own handle (derived).
    """
    off = chord * (abs(math.sin(angle)) + LONGEST_HANDLE * abs(math.sin(other)))
    return min(max(math.sqrt(FAIR_BEND * off * 2.0 / 3.0), chord / 6.0), LONGEST_HANDLE * chord)
