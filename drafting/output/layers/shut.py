"""Pieces with the darts in their edges sewn shut, as flat as a drawing can show them.

Cloth with a dart sewn in it doesn't lie flat. Here the edge to either side of a dart turns about its point until the
legs meet; what lies farther along the outline turns less and less, and the rest stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from typing import Final

import numpy as np

from drafting.garment import Garment, Line, Piece, Role
from drafting.garment.darts import Dart, darts_of
from drafting.geometry import Array, Point, turn
from drafting.output.layers.view import Points
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

FADES = 250.0
"""Of outline beside a dart, over which its turn fades (mm)."""


BENDS: Final = np.linspace(0.0, 1.0, 25)
"""Of a line at which it is drawn where its turn fades."""


@dataclass(frozen=True, slots=True, eq=False)
class DartTurn:
    """One dart sewn shut: the point, and by how much (rad) each line turns about it, at its start and at its end."""

    point: Point
    angles: Mapping[str, tuple[float, float]]

    def move(self, line: str, points: Points, shares: Array) -> Points:
        """Return points of a line, at shares of its length, as they lie when the dart is shut."""
        if line not in self.angles:
            return points
        first, last = self.angles[line]
        angle = first + (last - first) * shares
        x, y = points[:, 0] - self.point.x, points[:, 1] - self.point.y
        c, s = np.cos(angle), np.sin(angle)
        return np.stack([self.point.x + c * x - s * y, self.point.y + s * x + c * y], axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class ShutPiece:
    """A piece with its darts shut."""

    piece: Piece
    turns: tuple[DartTurn, ...]
    courses: dict[str, Points] = field(default_factory=dict, init=False)

    def course(self, line: Line) -> Points:
        """Return a line's points in ring direction."""
        if line.name not in self.courses:
            points = line.path.flatten()
            along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
            shares = along / max(along[-1], TOLERANCE.same_point)
            if any(len(set(each.angles.get(line.name, ()))) > 1 for each in self.turns):  # what was straight bends
                shares = np.union1d(shares, BENDS)
                points = line.path.points(shares * line.path.length)
            self.courses[line.name] = self._move(line.name, points, shares)
        return self.courses[line.name]

    def points(self, line: Line, lengths: Array) -> Points:
        """Return the points at lengths (mm) along a line."""
        return self._move(line.name, line.path.points(lengths), lengths / line.path.length)

    def at(self, line: Line, s: float) -> Point:
        """Return the point s mm along a line."""
        at = line.path.at(s)
        if not self.turns:
            return at
        ((x, y),) = self._move(line.name, np.array([(at.x, at.y)]), np.array([s / line.path.length])).tolist()
        return Point(x, y)

    def outline(self) -> Points:
        """Return the closed outline."""
        return np.concatenate([self.course(line)[:-1] for line in self.piece.ring])

    def _move(self, line: str, points: Points, shares: Array) -> Points:
        for each in self.turns:
            points = each.move(line, points, shares)
        return points


def shut_pieces(garment: Garment) -> Mapping[str, ShutPiece]:
    """Return every piece of a garment with its darts shut, by name."""
    return {piece.name: shut_piece(piece) for piece in garment.pieces}


def shut_piece(piece: Piece) -> ShutPiece:
    """Return a piece with its darts shut."""
    return ShutPiece(piece, _turns(piece))


def _turns(piece: Piece) -> tuple[DartTurn, ...]:
    """The turns that shut darts, one after the other: each about its point as the ones before have moved that."""
    turns: list[DartTurn] = []
    for dart in darts_of(piece):
        if not dart.inside:
            leg, at = dart.legs[0][0].name, np.array([(dart.point.x, dart.point.y)])
            for each in turns:
                at = each.move(leg, at, np.zeros(1))
            turns.append(DartTurn(Point(*at[0].tolist()), dict(_angles(piece.ring, dart))))
    return tuple(turns)


def _angles(ring: Sequence[Line], dart: Dart) -> Iterator[tuple[str, tuple[float, float]]]:
    """How each line turns: the legs wholly, the edges beside them less and less."""
    half = turn(dart.mouth_a - dart.point, dart.mouth_b - dart.point) / 2.0
    names = [line.name for line in ring]
    legs = {line.name for line in dart.lines}
    first, last = (names.index(dart.lines[i].name) for i in (0, -1))
    before = [ring[(first - 1 - i) % len(ring)] for i in range(len(ring) // 2)]
    after = [ring[(last + 1 + i) % len(ring)] for i in range(len(ring) // 2)]
    for leg in dart.legs[0]:
        yield leg.name, (half, half)
    for leg in dart.legs[-1]:
        yield leg.name, (-half, -half)
    for line, one, two in _fading(before, legs):
        yield line, (half * two, half * one)
    for line, one, two in _fading(after, legs):
        yield line, (-half * one, -half * two)


def _fading(lines: Sequence[Line], legs: set[str]) -> Iterator[tuple[str, float, float]]:
    """Lines going away from a dart, and how much of its turn each has at its near and its far end.

    Another dart on the way turns as a whole, so that its legs still meet when it is shut in its turn.
    """
    gone = 0.0
    for line in lines:
        if line.name in legs or gone >= FADES:
            return
        far = gone if line.role is Role.DART else gone + line.path.length
        yield line.name, max(0.0, 1.0 - gone / FADES), max(0.0, 1.0 - far / FADES)
        gone = far
