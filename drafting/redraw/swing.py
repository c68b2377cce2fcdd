"""Turning a dart about its apex: folded shut at one place of the outline, it opens at another.

The closed piece is a cone about the apex, so the part of the ring between the two places turns rigidly by the dart's
angle there, and nothing else moves but the edges at the two mouths, which are trued: with the legs drawn to a point
that stops short of the apex, the folded edge would have a bend there. Truing is undone exactly when the dart is closed,
so that a dart turned round any closed way gives the piece back.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from drafting.errors import GeometryError
from drafting.garment.darts import Dart, dart_of, darts_of, parts_about, rest_of_ring
from drafting.garment.lines import DartName
from drafting.garment.model import Garment, Line, Piece, Role
from drafting.garment.places import Place
from drafting.geometry import Affine, Array, Path, Point, are_inside, crosses_itself, turn
from drafting.record import dataclass
from drafting.redraw.inner import meet_legs, swing_features, without_wedge
from drafting.redraw.mouths import true_about, true_mouth
from drafting.redraw.parting import with_split
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue


def open_at(piece: Piece, name: str, place: Place, set_back: float | None = None) -> Piece:
    """Return the piece with a dart closed where it is and opened at another place of its outline.

    The dart keeps its name, its apex and its angle there; its point stops ``set_back`` mm short of the apex (by
    default as far as before). What lies between the two places turns, or else all the rest: what holds the
    centre, or more of the outline, stays. Lines at the old mouth stay two; a line that is opened gets parts "/a" and
    "/b". GeometryError where the way from the place to the apex leaves the piece or meets another dart.
    """
    dart = edge_dart(piece, name)
    piece, at = corner_at(*undo_truing(piece, dart, place))
    if at.near(dart.mouth_a, TOLERANCE.joint) or at.near(dart.mouth_b, TOLERANCE.joint):
        return draw_point_to(piece, name, dart.set_back if set_back is None else set_back)
    _check_way(piece, dart, at)
    return _swing_part(piece, dart, at, 1.0, dart.called, set_back)


def share_out(
    piece: Piece, name: str, new: DartName, place: Place, share: float, set_back: float | None = None
) -> Piece:
    """Return the piece with a share (0..1) of a dart's suppression opened as a new dart at another place.

    Both turn about the one apex. GeometryError as for `open_at`.
    """
    dart = edge_dart(piece, name)
    piece, at = corner_at(*undo_truing(piece, dart, place))
    if at.near(dart.mouth_a, TOLERANCE.joint) or at.near(dart.mouth_b, TOLERANCE.joint):
        raise GeometryError("the new dart would open where the old one is")
    _check_way(piece, dart, at)
    return _swing_part(piece, dart, at, share, new, set_back)


def gather_into(piece: Piece, name: str, other: str) -> Piece:
    """Return the piece with a dart closed and its suppression added to another dart's.

    GeometryError where the two don't turn about one apex: their angles would not add up.
    """
    dart, target = edge_dart(piece, name), edge_dart(piece, other)
    if name == other or not dart.apex.near(target.apex, TOLERANCE.joint):
        raise GeometryError(
            say("the {one} and the {other} don't turn about one point", one=dart.title, other=target.title)
        )
    return _swing_part(true_about(piece, target, target.apex), dart, target, 1.0, target.called, target.set_back)


def edge_dart(piece: Piece, name: str) -> Dart:
    """Return a piece's dart of that name at its edge; GeometryError if it lies within the piece, or isn't there."""
    dart = dart_of(piece, name)
    if dart.inside:
        raise GeometryError(
            say("the {title} is a fish-eye dart, closed at both ends: it doesn't reach an edge", title=dart.title)
        )
    return dart


def _swing_part(
    piece: Piece, dart: Dart, to: Point | Dart, share: float, called: DartName, set_back: float | None
) -> Piece:
    piece = true_about(piece, dart, dart.apex)
    swing = _Swing.of(piece, dart, to, share)
    new = swing.build(called, dart.set_back if set_back is None else set_back)
    if new.outline.area <= 0.0 or crosses_itself(new.outline.flatten()):
        raise GeometryError("turned so far, the piece would run over itself")
    new = true_mouth(new, called.name)
    new = new if share == 1.0 else true_mouth(new, dart.name)
    if crosses_itself(new.outline.flatten()):
        raise GeometryError("turned so far, its edges can't be trued where the darts are folded")
    return new


MOUTHS_APART = TradeValue(1.0, "mm", "from memory")
"""Of edge that lie between the mouths of two darts, at least: with less the second would cross the first."""

FARTHEST_POINT = TradeValue(0.6, "share", "from memory")
"""Of the way from its apex to its mouth by which a dart's point stops short at most."""


def undo_truing(piece: Piece, dart: Dart, place: Place) -> tuple[Piece, Place]:
    """Return the piece with the edges at a mouth as they are when the dart is closed, and where a place then lies.

    A line is split only where it isn't bent for a dart that is about to go.
    """
    flat = true_about(piece, dart, dart.apex)
    was, now = piece.line(place.line).path.length, flat.line(place.line).path.length
    return flat, place if was == now else Place(place.line, min(place.s / was, 1.0) * now)


def corner_at(piece: Piece, place: Place) -> tuple[Piece, Point]:
    """Return the piece with a line split at a place, if it isn't at a corner already, and where that is."""
    at = piece.line(place.line).path.at(place.s)
    made = with_split(Garment((piece,)), piece.name, place.line, place.s).pieces[0]
    starts = [line.path.start for line in made.ring]
    return made, min(starts, key=at.distance)


def draw_point_to(piece: Piece, name: str, set_back: float) -> Piece:
    """Return the piece with a dart's point at another distance (mm) from the apex, its mouth trued for that."""
    dart = edge_dart(piece, name)
    piece = true_about(piece, dart, dart.apex)
    made = _open_at_apex(dart, dart.mouth_a, dart.mouth_b, set_back)
    new = {line.name: line for line in made.lines}
    drawn = meet_legs(without_wedge(piece, dart), made)
    return true_mouth(replace(drawn, ring=tuple(new.get(line.name, line) for line in piece.ring)), name)


def _open_at_apex(dart: Dart, a: Point, b: Point, set_back: float) -> Dart:
    """A dart drawn with its mouth at another place, about the same apex."""
    back = min(set_back, FARTHEST_POINT * dart.apex.distance(a))
    return dart.with_corners(a, point_for(dart.apex, a, b, back), b)


def point_for(apex: Point, a: Point, b: Point, set_back: float) -> Point:
    """Return a dart's point: ``set_back`` mm from the apex towards its mouth's middle, so that its legs are equal."""
    return apex + (a.to(b, 0.5) - apex).unit * set_back if set_back > 0.0 else apex


def _check_way(piece: Piece, dart: Dart, at: Point) -> None:
    """Refuse a cut from a place on the outline to the apex that leaves the piece or meets another dart."""
    steps = [dart.apex.to(at, share) for share in (0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98)]
    xy = np.array([(p.x, p.y) for p in steps])
    way = Path.straight(dart.apex, at)
    others = [ln for ln in piece.all_lines if ln.role is Role.DART and ln.dart != dart.called]
    if not are_inside(xy, _fill_dart(piece, dart)).all() or any(_meets_leg(way, ln.path) for ln in others):
        raise GeometryError("a straight cut from there to its point would leave the piece or cross another dart")
    mouths = [mouth for other in darts_of(piece) if other.name != dart.name for mouth in (other.mouth_a, other.mouth_b)]
    if any(mouth.near(at, MOUTHS_APART) for mouth in mouths):
        raise GeometryError("another dart opens there: turn it to a place beside that")


def _fill_dart(piece: Piece, dart: Dart) -> Array:
    """The outline with the dart's legs drawn to the apex, as chords."""
    rest = (line.path for line in rest_of_ring(piece, dart))
    return Path.join(Path.straight(dart.mouth_a, dart.apex), Path.straight(dart.apex, dart.mouth_b), *rest).flatten()


def _meets_leg(way: Path, leg: Path) -> bool:
    """Whether a way to the apex meets a leg of another dart, other than at the apex itself."""
    return any(TOLERANCE.sewn_length < c.s < way.length - TOLERANCE.joint for c in way.crossings(leg))


@dataclass(frozen=True, slots=True)
class _Swing:
    """A ring taken apart at a dart and at the place, or the other dart, that a share of its angle is to open.

    ``first`` runs from the dart to there, ``second`` on to the dart again.
    """

    piece: Piece
    dart: Dart
    target: Dart | None
    share: float
    first: tuple[Line, ...]
    second: tuple[Line, ...]

    @staticmethod
    def of(piece: Piece, dart: Dart, to: Point | Dart, share: float) -> _Swing:
        rest = rest_of_ring(piece, dart)
        if isinstance(to, Dart):
            first, second = parts_about(rest, to)
            return _Swing(piece, dart, to, share, first, second)
        j = min(range(1, len(rest)), key=lambda k: rest[k].path.start.distance(to))
        return _Swing(piece, dart, None, share, rest[:j], rest[j:])

    @property
    def turns_first(self) -> bool:
        """Whether the first part turns and the second stays."""
        return _weight(self.first) < _weight(self.second)

    @property
    def move(self) -> Affine:
        """The motion of the part that turns."""
        fold = self.share * turn(self.dart.mouth_b - self.dart.apex, self.dart.mouth_a - self.dart.apex)
        return Affine.turn(fold if self.turns_first else -fold, self.dart.apex)

    def build(self, called: DartName, set_back: float) -> Piece:
        """The piece with the turned part in its new place, and the dart of that name opened."""
        first, second = self._turn_part()
        opened = _open_at_apex(self.dart, first[-1].path.end, second[0].path.start, set_back).renamed(called)
        inner, left = meet_legs(self._inner(), opened), tuple[Line, ...]()
        if self.share < 1.0:
            less = _open_at_apex(self.dart, second[-1].path.end, first[0].path.start, self.dart.set_back)
            inner, left = meet_legs(inner, less), less.lines
        return replace(inner, ring=_order_ring(self.piece, (*first, *opened.lines, *second, *left)))

    def _turn_part(self) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
        move = self.move
        turned = tuple(
            replace(line, path=line.path.transformed(move))
            for line in (self.first if self.turns_first else self.second)
        )
        return (turned, self.second) if self.turns_first else (self.first, turned)

    def _inner(self) -> Piece:
        inner = without_wedge(self.piece, self.dart)
        if self.target is not None:
            inner = without_wedge(inner, self.target)
        first, second = (self._region(part) for part in (self.first, self.second))
        return swing_features(inner, (first, second) if self.turns_first else (second, first), self.move)

    def _region(self, part: tuple[Line, ...]) -> Path:
        """What a part of the ring bounds, as it lies before: a closed path through the apex."""
        edge, apex = Path.join(*(line.path for line in part)), self.dart.apex
        return Path.join(Path.straight(apex, edge.start), edge, Path.straight(edge.end, apex))


def _weight(part: Iterable[Line]) -> tuple[float, float]:
    """How much of the centre a part of the ring holds, and how long it is: the heavier stays where it is."""
    lines = list(part)
    centre = math.fsum(line.path.length for line in lines if line.role is Role.CENTRE)
    return centre, math.fsum(line.path.length for line in lines)


def _order_ring(piece: Piece, ring: Sequence[Line]) -> tuple[Line, ...]:
    """The ring begun at the line that it began with, where that isn't a dart's leg."""
    names = [line.name for line in ring]
    for line in piece.ring:
        if line.name in names and line.role is not Role.DART:
            i = names.index(line.name)
            return (*ring[i:], *ring[:i])
    return tuple(ring)
