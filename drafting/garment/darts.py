"""Darts: wedges of cloth folded away, so that a flat piece goes over a round body.

A dart at an edge stands open in the ring: the edge runs to its mouth, leg one runs to the point, leg two runs back, and
the edge runs on. A dart within a piece (two points, widest between them) is a slit. Either is a seam between
its legs, sewn before whatever crosses it.

A dart turns about its apex: the marked point (a bust point, a shoulder blade) that its point stops short of.
Drawn to the apex its angle there is what it takes out of the piece: its suppression. Wherever the dart is turned to,
the suppression stays (common practice in flat pattern cutting; the closed piece is a cone about the apex).

A leg says which dart it belongs to (``Line.dart``), and a leg that is split is found by its lineage; no name is read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby, pairwise

from drafting.errors import GeometryError
from drafting.garment.features import Drill
from drafting.garment.lines import DartName
from drafting.garment.model import Line, Piece, Role
from drafting.geometry import Path, Point, turn
from drafting.record import dataclass
from drafting.saying import Name, Saying, say
from drafting.sides import Face, Side, count_stem, speak_stem
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

FARTHEST_APEX = TradeValue(80.0, "mm", "from memory", "points stop 10 to 50 mm short")
"""Beyond a dart's point at most, that a mark is still what it turns about."""

DRILL_HOLE = TradeValue(12.0, "mm", "common practice")
"""Inside its point that a dart's drill hole stands, so that the seam covers it."""

LEGS = ("a", "b")
"""What tells the legs of a dart at an edge apart, in ring order."""

INNER_LEGS = ("upper-a", "lower-a", "lower-b", "upper-b")
"""What tells those of a dart with two points apart, in order round its slit."""


@dataclass(frozen=True, slots=True)
class Dart:
    """A dart as it lies open: its ``lines`` in ring order, and the ``apex`` that it turns about.

    At an edge it runs from ``mouth_a`` to ``point`` and back to ``mouth_b``. One that lies ``inside`` the piece runs
    round from its upper point, by one end of its widest place to ``lower`` and by the other back. ``piece`` and
    ``side`` tell where on the wearer it is.
    """

    called: DartName
    lines: tuple[Line, ...]
    apex: Point
    piece: str = ""
    side: Side = Side.NONE
    inside: bool = False

    @property
    def name(self) -> str:
        """Its name in its piece."""
        return self.called.name

    @property
    def stem(self) -> str:
        """Its name without a side, as a ticket asks for it: "waist-front"."""
        return self.called.stem

    @property
    def words(self) -> str:
        """The stem in a sentence: "front waist", "second front skirt"."""
        return speak_stem(self.stem)

    @property
    def title(self) -> Saying:
        """What it is called in a sentence: "left front waist dart"."""
        counted, words = count_stem(self.stem)
        template = "{side} {counted} {words} dart" if counted else "{side} {words} dart"
        return say(template, **({"counted": counted} if counted else {}), side=self.side, words=words)

    @property
    def seam(self) -> str:
        """The name of its seam."""
        return _whole(self.called)

    @property
    def legs(self) -> tuple[tuple[Line, ...], ...]:
        """Its legs in ring order, each the line it is, or the parts that it was split into."""
        return tuple(tuple(leg) for _, leg in groupby(self.lines, lambda line: (*line.ancestry, line.name)[0]))

    @property
    def pairs(self) -> tuple[tuple[tuple[Line, ...], tuple[Line, ...]], ...]:
        """The legs that are sewn to each other, from the mouth (or the upper point) on."""
        legs = self.legs
        return tuple(zip(legs, legs[::-1], strict=True))[: len(legs) // 2]

    @property
    def mouth_a(self) -> Point:
        """The first end of its mouth; of an inner dart, of its widest place."""
        return self.legs[1 if self.inside else 0][0].path.start

    @property
    def point(self) -> Point:
        """Its point; of an inner dart the upper one."""
        return self.legs[0 if self.inside else 1][0].path.start

    @property
    def mouth_b(self) -> Point:
        """The other end of its mouth, or of its widest place."""
        return self.legs[3][0].path.start if self.inside else self.lines[-1].path.end

    @property
    def lower(self) -> Point | None:
        """The lower point of an inner dart."""
        return self.legs[2][0].path.start if self.inside else None

    @property
    def middle(self) -> Point:
        """The middle of its mouth."""
        return self.mouth_a.to(self.mouth_b, 0.5)

    @property
    def set_back(self) -> float:
        """How far (mm) the point stops short of the apex."""
        return self.point.distance(self.apex)

    def with_corners(self, a: Point, point: Point, b: Point) -> Dart:
        """Return an edge dart with straight legs drawn anew: from mouth ``a`` to the point, and on to ``b``.

        GeometryError where a leg is in parts.
        """
        if len(self.lines) != len(LEGS):
            raise GeometryError(say("a leg of the {title} is broken up", title=self.title))
        paths = Path.straight(a, point), Path.straight(point, b)
        return replace(self, lines=tuple(replace(ln, path=p) for ln, p in zip(self.lines, paths, strict=True)))

    def renamed(self, called: DartName) -> Dart:
        """Return it under another name, its legs named after that."""
        names = INNER_LEGS if self.inside else LEGS
        lines = (replace(ln, name=_leg(called, leg), dart=called) for ln, leg in zip(self.lines, names, strict=True))
        return replace(self, called=called, lines=tuple(lines))

    def of_side(self, side: Side, face: Face) -> Dart:
        """Return a dart that was drawn for no side as the one of a side of the wearer, named so."""
        lines = tuple(replace(line, side=side, face=face) for line in self.lines)
        return replace(self, lines=lines, side=side).renamed(dart_name(self.stem, side))

    def moved(self, by: Point) -> Dart:
        """Return it moved by a vector (mm)."""
        lines = tuple(replace(line, path=line.path.moved(by)) for line in self.lines)
        return replace(self, lines=lines, apex=self.apex + by)

    def mirrored(self) -> Dart:
        """Return its image in the y axis, in ring order again: what was its last line is its first."""
        lines = tuple(replace(line, path=line.path.mirrored().reversed()) for line in reversed(self.lines))
        return replace(self, lines=lines, apex=Point(-self.apex.x, self.apex.y))


def dart_name(stem: str, side: Side = Side.NONE, name: str = "") -> DartName:
    """Return what a dart is called on a side of the wearer; ``name`` where it isn't the stem and the side."""
    return DartName(name or "-".join(filter(None, (stem, side))), stem)


def _whole(called: DartName) -> str:
    return f"dart-{called.name}"


def _leg(called: DartName, leg: str) -> str:
    return f"{_whole(called)}-{leg}"


# finding


def darts_of(piece: Piece) -> tuple[Dart, ...]:
    """Return the darts of a piece: those at its edge in ring order, then those within it."""
    return (*_edge_darts(piece), *_inner_darts(piece))


def dart_of(piece: Piece, name: str) -> Dart:
    """Return a piece's dart by its name; GeometryError if it has none of that name."""
    darts = darts_of(piece)
    for dart in darts:
        if dart.name == name:
            return dart
    called = Name(name)
    raise GeometryError(say("the {title:lower} has no {dart:placed} dart", title=piece.title, dart=called))


def _edge_darts(piece: Piece) -> Iterator[Dart]:
    """The darts at the edge: lines of one that follow each other, and are two legs."""
    ring = piece.ring
    over_end = ring[-1].dart if ring else None
    first = next((i for i, line in enumerate(ring) if line.dart != over_end), 0)
    for called, group in groupby((*ring[first:], *ring[:first]), lambda line: line.dart):
        if called is None:
            continue
        dart = Dart(called, tuple(group), Point(0.0, 0.0), piece.name)
        if len(dart.legs) == len(LEGS):
            yield replace(dart, apex=_apex(piece.drills, dart), side=dart.lines[0].side or piece.side)


def _inner_darts(piece: Piece) -> Iterator[Dart]:
    for slit in piece.slits:
        called, side = slit[0].dart, slit[0].side or piece.side
        if called is not None:
            dart = Dart(called, slit, slit[0].path.start, piece.name, side, inside=True)
            if len(dart.legs) == len(INNER_LEGS):
                yield dart


def _apex(drills: Iterable[Drill], dart: Dart) -> Point:
    """The marked point that a dart turns about: beyond its point, as far from the one end of the mouth as the other."""
    a, point, b = dart.mouth_a, dart.point, dart.mouth_b
    inwards = point - a.to(b, 0.5)
    near = [
        drill.at
        for drill in drills
        if abs(drill.at.distance(a) - drill.at.distance(b)) <= TOLERANCE.joint
        and drill.at.distance(point) <= FARTHEST_APEX
        and (drill.at - point).dot(inwards) > -TOLERANCE.joint
    ]
    return min(near, key=point.distance, default=point)


def rest_of_ring(piece: Piece, dart: Dart) -> tuple[Line, ...]:
    """Return a ring without a dart at its edge, begun after it."""
    i, count = piece.index(dart.lines[0].name), len(dart.lines)
    ring = (*piece.ring[i:], *piece.ring[:i])
    return ring[count:]


def parts_about(lines: Sequence[Line], dart: Dart) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """Return the lines before a dart among them, and those after it."""
    i = [line.name for line in lines].index(dart.lines[0].name)
    return tuple(lines[:i]), tuple(lines[i + len(dart.lines) :])


def mouth_edges(piece: Piece, dart: Dart) -> tuple[Line, Line]:
    """Return the edge before a dart's mouth and the edge after it."""
    return piece.before(dart.lines[0].name), piece.after(dart.lines[-1].name)


# measuring


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


def leg_lengths(dart: Dart) -> tuple[tuple[float, float], ...]:
    """Return the lengths (mm) of each two legs that are sewn to each other."""
    return tuple((_length(one), _length(two)) for one, two in dart.pairs)


def _length(leg: Iterable[Line]) -> float:
    return sum(line.path.length for line in leg)


# drawing


def draw_dart(
    called: DartName, a: Point, point: Point, b: Point, side: Side = Side.NONE, face: Face = Face.NONE
) -> Dart:
    """Draw a dart at an edge with straight legs, in ring order: from mouth ``a`` to the point, and on to ``b``."""
    return Dart(called, _lines(called, LEGS, (a, point, b), side, face), point, side=side)


def draw_inner_dart(
    called: DartName, upper: Point, a: Point, lower: Point, b: Point, side: Side = Side.NONE, face: Face = Face.NONE
) -> Dart:
    """Draw a dart with two points, run clockwise: from the upper point by ``a`` to the lower, and back by ``b``.

    ``a`` and ``b`` are its two widest places, in any order.
    """
    if (a - upper).cross(lower - upper) > 0.0:
        a, b = b, a
    return Dart(
        called, _lines(called, INNER_LEGS, (upper, a, lower, b, upper), side, face), upper, side=side, inside=True
    )


def _lines(
    called: DartName, legs: tuple[str, ...], corners: tuple[Point, ...], side: Side, face: Face
) -> tuple[Line, ...]:
    return tuple(
        Line(_leg(called, leg), Path.straight(one, two), Role.DART, side, face, dart=called)
        for leg, (one, two) in zip(legs, pairwise(corners), strict=True)
    )
