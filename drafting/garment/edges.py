"""Edges of a piece that were drawn anew: what ends on them is drawn on, or cut back, to them; what lies in one too."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drafting.garment.lines import Line
from drafting.garment.model import Piece
from drafting.geometry import Path, Point, nearest_to
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

RUNS_ALONG = TradeValue(0.3, "share", "from memory")
"""As the sine of the angle at which a line meets an edge: below it the line runs along the edge, and is left as it
is."""

DRAWN_ON = TradeValue(20.0, "mm", "from memory")
"""By which a line is drawn on to meet an edge that was drawn anew."""


@dataclass(frozen=True, slots=True)
class _EdgePair:
    """An edge as it was, and as it is."""

    old: Path
    new: Path

    def place_of_end(self, end: Point) -> float | None:
        """How far along the old edge the end of a line lay; None if it didn't lie on it."""
        x0, y0, x1, y1 = self.old.bounds
        near = TOLERANCE.flatten
        if not (x0 - near <= end.x <= x1 + near and y0 - near <= end.y <= y1 + near):
            return None
        s, off = self.old.nearest(end)
        return s if off <= near else None


@dataclass(frozen=True, slots=True)
class RedrawnEdges:
    """The edges of a piece that differ from what they were.

    What stays where it was and ended on such an edge is drawn on, or cut back, in its own direction; what runs along
    one is left as it is, and so is what ends nearer to it than two edges can be sewn. What was moved by a rule of its
    own, and has come off its edge, is drawn to that edge.
    """

    edges: tuple[_EdgePair, ...]

    @staticmethod
    def of(old: Piece, new: Piece) -> RedrawnEdges:
        """Return the edges that differ between a piece as it was and as it is."""
        was = {line.name: line.path for line in old.all_lines}
        return RedrawnEdges(
            tuple(
                _EdgePair(was[line.name], line.path)
                for line in new.all_lines
                if line.name in was and line.path is not was[line.name] and line.path != was[line.name]
            )
        )

    def met(self, old: Path, path: Path) -> Path:
        """Return a path, which was ``old``, with its ends on the edges that they lay on."""
        moved = path is not old
        for at_end in (False, True):
            edges = self._off(_end(old, at_end), path, at_end) if moved else self._across(path, at_end)
            if edges:
                tip = _end(path, at_end)
                path = min(
                    (draw_to_edge(path, edge, at_end) for edge in edges), key=lambda p: _distance_drawn(p, tip, at_end)
                )
        return path

    def _off(self, was: Point, path: Path, at_end: bool) -> Sequence[Path]:
        """The edges on which an end lay that has come off them."""
        tip = _end(path, at_end)
        own = [edge.new for edge in self.edges if edge.place_of_end(was) is not None]
        return own if own and min(edge.nearest(tip)[1] for edge in own) > TOLERANCE.flatten else ()

    def _across(self, path: Path, at_end: bool) -> Sequence[Path]:
        """The edges to one of which an end is to be drawn, if it lay on one that it met across and that moved off."""
        tip, way = _end(path, at_end), path.tangent(path.length if at_end else 0.0)
        for edge in self.edges:
            s = edge.place_of_end(tip)
            crosses = s is not None and abs(way.cross(edge.old.tangent(s))) >= RUNS_ALONG
            if crosses and edge.new.nearest(tip)[1] > TOLERANCE.sewn_length:
                return [each.new for each in self.edges]
        return ()


def _end(path: Path, at_end: bool) -> Point:
    return path.end if at_end else path.start


def _distance_drawn(path: Path, tip: Point, at_end: bool) -> float:
    """How far a line's end was drawn; infinitely far where it met nothing."""
    by = tip.distance(_end(path, at_end))
    return by if by > 0.0 else float("inf")


def draw_to_edge(path: Path, edge: Path, at_end: bool, reach: float = DRAWN_ON) -> Path:
    """Draw a path straight on, or cut it back, at one end to an edge within ``reach`` (mm) of that."""
    tip = _end(path, at_end)
    long = path.extended(0.0 if at_end else reach, reach if at_end else 0.0)
    near = [c for c in long.crossings(edge) if c.point.distance(tip) <= reach]
    if not near:
        return path
    found = min(near, key=nearest_to(tip))
    return long.between(0.0, found.s) if at_end else long.between(found.s, long.length)


def in_edge(old: Piece, new: Piece, path: Path) -> Path | None:
    """Return the new course of a line that lay in the edge of a piece from corner to corner; None where it didn't."""
    return in_lines(old, new.ring, path)


def in_lines(old: Piece, lines: Iterable[Line], path: Path) -> Path | None:
    """Return the course in lines drawn anew of a path that lay in a piece's edge; None where it did in none of them.

    Those that aren't among ``lines`` are left out.
    """
    new = {line.name: line.path for line in lines}
    for line, against in ((path, False), (path.reversed(), True)):
        run = [name for name in _run_from(old.ring, line) if name in new]
        if run:
            made = Path.join(*(new[name] for name in run))
            return made.reversed() if against else made
    return None


def _run_from(ring: Sequence[Line], path: Path) -> list[str]:
    """The lines of one role that a path runs along, in ring order; none if it doesn't."""
    for i, first in enumerate(ring):
        if not first.path.start.near(path.start, TOLERANCE.flatten):
            continue
        names, length = [], 0.0
        for line in (*ring[i:], *ring[:i]):
            if line.role is not first.role or length > path.length:
                break
            names.append(line.name)
            length += line.path.length
            if line.path.end.near(path.end, TOLERANCE.flatten):
                return names if abs(length - path.length) <= TOLERANCE.flatten else []
    return []
