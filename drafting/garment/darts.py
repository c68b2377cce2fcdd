"""Darts: wedges of cloth folded away, so that a flat piece goes over a round body.

A dart at an edge stands open in the ring: the edge runs to its mouth, leg one runs to the point, leg two runs back, and
the edge runs on. A dart within a piece (two points, widest between them) is a slit. Either is a seam between
its two legs, sewn before whatever crosses it.

A dart turns about its apex: the marked point (a bust point, a shoulder blade) that its point stops short of.
Drawn to the apex its angle there is what it takes out of the piece: its suppression. Wherever the dart is turned to,
the suppression stays (common practice in flat pattern cutting; the closed piece is a cone about the apex).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from drafting.errors import GeometryError
from drafting.garment.features import Drill
from drafting.garment.model import Line, Piece, Role
from drafting.geometry import Path, Point, root, turn
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.sides import Face, Side
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

PREFIX = "dart-"
"""What the names of a dart's seam and legs begin with."""

FARTHEST_APEX = TradeValue(80.0, "mm", "from memory", "points stop 10 to 50 mm short")
"""Beyond a dart's point at most, that a mark is still what it turns about."""


@dataclass(frozen=True, slots=True)
class Dart:
    """A dart as it lies open: from ``mouth_a`` to ``point`` and back to ``mouth_b``, in ring order.

    ``name`` is without the prefix; ``apex`` is what it turns about. A dart within the piece has a ``lower`` point too;
    its mouth is where it is widest.
    """

    name: str
    piece: str
    mouth_a: Point
    point: Point
    mouth_b: Point
    apex: Point
    lower: Point | None = None

    @property
    def inside(self) -> bool:
        """Whether it lies within the piece, with two points."""
        return self.lower is not None

    @property
    def set_back(self) -> float:
        """How far (mm) the point stops short of the apex."""
        return self.point.distance(self.apex)

    @property
    def seam(self) -> str:
        """The name of its seam."""
        return PREFIX + self.name


def leg_names(name: str) -> tuple[str, str]:
    """Return the names of an edge dart's two legs, in ring order."""
    return f"{PREFIX}{name}-a", f"{PREFIX}{name}-b"


def inner_names(name: str) -> tuple[str, str, str, str]:
    """Return the names of the four lines of a dart with two points, in order round its slit."""
    whole = PREFIX + name
    return f"{whole}-upper-a", f"{whole}-lower-a", f"{whole}-lower-b", f"{whole}-upper-b"


def darts_of(piece: Piece) -> tuple[Dart, ...]:
    """Return the darts of a piece: those at its edge in ring order, then those within it."""
    ring = piece.ring
    found = [
        _edge_dart(piece, first, then)
        for first, then in zip(ring, ring[1:] + ring[:1], strict=True)
        if first.role is Role.DART is then.role and (first.name, then.name) == leg_names(first.name[len(PREFIX) : -2])
    ]
    return (*found, *(_inner_dart(piece, slit) for slit in piece.slits if len(slit) == 4))


def dart_of(piece: Piece, name: str) -> Dart:
    """Return a piece's dart by its name; GeometryError if it has none of that name."""
    for dart in darts_of(piece):
        if dart.name == name:
            return dart
    raise GeometryError(f"the {piece.name} has no dart named {name!r}; it has {[d.name for d in darts_of(piece)]}")


def _edge_dart(piece: Piece, first: Line, then: Line) -> Dart:
    a, point, b = first.path.start, first.path.end, then.path.end
    return Dart(first.name[len(PREFIX) : -2], piece.name, a, point, b, _apex(piece.drills, a, point, b))


def _inner_dart(piece: Piece, slit: tuple[Line, ...]) -> Dart:
    upper, lower = slit[0].path.start, slit[2].path.start
    name = slit[0].name[len(PREFIX) : -len("-upper-a")]
    return Dart(name, piece.name, slit[1].path.start, upper, slit[3].path.start, upper, lower)


def _apex(drills: Iterable[Drill], a: Point, point: Point, b: Point) -> Point:
    """The marked point that a dart turns about: beyond its point, as far from the one end of the mouth as the other."""
    inwards = point - a.to(b, 0.5)
    near = [
        drill.at
        for drill in drills
        if abs(drill.at.distance(a) - drill.at.distance(b)) <= TOLERANCE.joint
        and drill.at.distance(point) <= FARTHEST_APEX
        and (drill.at - point).dot(inwards) > -TOLERANCE.joint
    ]
    return min(near, key=point.distance, default=point)


def apex_of(piece: Piece, dart: Dart) -> Point:
    """Return the point that a dart turns about: the drill mark on its middle line beyond its point, else its point."""
    return dart.point if dart.inside else _apex(piece.drills, dart.mouth_a, dart.point, dart.mouth_b)


def intake(dart: Dart) -> float:
    """Return how much (mm) a dart takes in at its mouth, straight across."""
    return dart.mouth_a.distance(dart.mouth_b)


def angle(dart: Dart) -> float:
    """Return a dart's suppression: its angle (radians) at the apex, drawn to there from its mouth.

    Of a dart with two points it is the angle at the upper one.
    """
    return abs(turn(dart.mouth_a - dart.apex, dart.mouth_b - dart.apex))


def drawn_angle(dart: Dart) -> float:
    """Return the angle (radians) between the legs as they are drawn, at the dart's point."""
    return abs(turn(dart.mouth_a - dart.point, dart.mouth_b - dart.point))


# drawing


def legs(
    name: str, a: Point, point: Point, b: Point, side: Side = Side.NONE, face: Face = Face.NONE
) -> tuple[Line, Line]:
    """Return the two straight legs of an edge dart, in ring order: from mouth ``a`` to the point, and on to ``b``."""
    one, two = leg_names(name)
    return (
        Line(one, Path.straight(a, point), Role.DART, side, face),
        Line(two, Path.straight(point, b), Role.DART, side, face),
    )


def slit(
    name: str, upper: Point, a: Point, lower: Point, b: Point, side: Side = Side.NONE, face: Face = Face.NONE
) -> tuple[Line, Line, Line, Line]:
    """Return the slit of a dart with two points, run clockwise: from the upper point by ``a`` to the lower, and back.

    ``a`` and ``b`` are its two widest places, in any order.
    """
    if (a - upper).cross(lower - upper) > 0.0:
        a, b = b, a
    corners = (upper, a, lower, b, upper)
    made = [
        Line(called, Path.straight(corners[i], corners[i + 1]), Role.DART, side, face)
        for i, called in enumerate(inner_names(name))
    ]
    return made[0], made[1], made[2], made[3]


def mouth_on(path: Path, s: float, point: Point, width: float) -> tuple[float, float]:
    """Return where along a path a dart's mouth, ``width`` mm across and middled near ``s``, has legs of equal length.

    GeometryError where the path is too short there, or bends so that there is no such place.
    """

    def middle(reach: float) -> float:
        low, high = max(s - 2.0 * width, reach), min(s + 2.0 * width, path.length - reach)
        if high <= low:
            raise GeometryError(
                say(
                    "a dart {width} wide has no room on a line {room} long", width=mm(width, 1), room=mm(path.length, 1)
                )
            )
        return root(
            lambda m: path.at(m - reach).distance(point) - path.at(m + reach).distance(point),
            low,
            high,
            within=_FINE,
        )[0]

    def gap(reach: float) -> float:
        m = middle(reach)
        return path.at(m - reach).distance(path.at(m + reach)) - width

    reach = width / 2.0
    if gap(reach) < -_FINE:  # a bent line is longer than the straight way across the mouth
        reach = root(gap, reach, min(1.5 * reach, path.length / 2.0), within=_FINE)[0]
    return middle(reach) - reach, middle(reach) + reach


_FINE = TOLERANCE.same_point * TOLERANCE.same_point


def cut_in(piece: Piece, name: str, line: str, s: float, point: Point, width: float) -> Piece:
    """Return the piece with a dart cut into a line: ``width`` mm of it, about ``s`` mm along, is folded away.

    The legs are equal. The line's parts are named "/a" and "/b"; the caller lets the seams follow (`dart_seam`).
    """
    old = piece.line(line)
    low, high = mouth_on(old.path, s, point, width)
    first, last = (
        old.part("a", old.path.between(0.0, low)),
        old.part("b", old.path.between(high, old.path.length)),
    )
    made = (first, *legs(name, first.path.end, point, last.path.start, old.side, old.face), last)
    ring = tuple(new for ln in piece.ring for new in (made if ln.name == line else (ln,)))
    return replace(piece, ring=ring)


def total(darts: Iterable[Dart]) -> float:
    """Return the suppression (radians) of several darts together."""
    return math.fsum(map(angle, darts))
