"""Lines across a piece whose edges were drawn anew: each still runs from edge to edge, one in an edge lies in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from drafting.garment.model import Adjust, Level, Line, Piece
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.bridging import drawn_to
from drafting.tolerance import TOLERANCE

T = TypeVar("T", bound=Level | Adjust)

ACROSS = 0.3
"""A line that meets an edge at less than this (sine of the angle) runs along it, and is left as it is."""


@dataclass(frozen=True, slots=True)
class _Redrawn:
    """An edge as it was, and as it is."""

    old: Path
    new: Path

    def held(self, end: Point) -> float | None:
        """How far along the old edge the end of a line lay; None if it didn't lie on it."""
        x0, y0, x1, y1 = self.old.bounds
        near = TOLERANCE.flatten
        if not (x0 - near <= end.x <= x1 + near and y0 - near <= end.y <= y1 + near):
            return None
        s, off = self.old.nearest(end)
        return s if off <= near else None


def carried(old: Piece, new: Piece) -> Piece:
    """Return ``new`` with its levels and lengthen lines drawn to the edges that differ from those of ``old``.

    What ended on such an edge is drawn on, or cut back, in its own direction; what runs along one is left as it is, and
    so is what ends nearer to it than two edges can be sewn.
    """
    edges = _redrawn(old, new)
    if not edges:
        return new
    levels = tuple(_met(level, edges) for level in new.levels)
    adjusts = tuple(_met(adjust, edges) for adjust in new.adjusts)
    return replace(new, levels=levels, adjusts=adjusts)


def _redrawn(old: Piece, new: Piece) -> list[_Redrawn]:
    was = {line.name: line.path for line in old.all_lines}
    return [
        _Redrawn(was[line.name], line.path)
        for line in new.all_lines
        if line.name in was and line.path is not was[line.name] and line.path != was[line.name]
    ]


def _met(item: T, edges: Sequence[_Redrawn]) -> T:
    path = item.path
    for at_end in (False, True):
        tip = path.end if at_end else path.start
        way = path.tangent(path.length if at_end else 0.0)
        for edge in edges:
            s = edge.held(tip)
            if (
                s is None
                or abs(way.cross(edge.old.tangent(s))) < ACROSS
                or edge.new.nearest(tip)[1] <= TOLERANCE.sewn_length
            ):
                continue
            made = min((drawn_to(path, each.new, at_end) for each in edges), key=lambda p: _moved(p, tip, at_end))
            path = made
            break
    return item if path is item.path else replace(item, path=path)


def _moved(path: Path, tip: Point, at_end: bool) -> float:
    """How far a line's end was drawn; infinitely far where it met nothing."""
    by = tip.distance(path.end if at_end else path.start)
    return by if by > 0.0 else float("inf")


def ends_kept(old: Piece, new: Piece) -> Piece:
    """Return ``new`` with the ends of its levels and lengthen lines on the edges that they ended on in ``old``.

    It is for a change that moves edges and what lies within each by its own rule: an end that has come off its edge is
    drawn on, or cut back, to it. Where ``new`` hasn't got the same lines, they are left as they are.
    """
    edges = _redrawn(old, new)
    if not edges:
        return new
    levels = _kept(old.levels, new.levels, edges)
    adjusts = _kept(old.adjusts, new.adjusts, edges)
    return new if levels is new.levels and adjusts is new.adjusts else replace(new, levels=levels, adjusts=adjusts)


def _kept(old: tuple[T, ...], new: tuple[T, ...], edges: Sequence[_Redrawn]) -> tuple[T, ...]:
    if len(old) != len(new):
        return new
    made = tuple(_held(was.path, item, edges) for was, item in zip(old, new, strict=True))
    return new if all(one is two for one, two in zip(made, new, strict=True)) else made


def _held(was: Path, item: T, edges: Sequence[_Redrawn]) -> T:
    path = item.path
    for at_end in (False, True):
        tip = path.end if at_end else path.start
        own = [edge.new for edge in edges if edge.held(was.end if at_end else was.start) is not None]
        if own and min(edge.nearest(tip)[1] for edge in own) > TOLERANCE.flatten:
            path = min((drawn_to(path, edge, at_end) for edge in own), key=lambda p: _moved(p, tip, at_end))
    return item if path is item.path else replace(item, path=path)


def in_edge(old: Piece, new: Piece, path: Path) -> Path | None:
    """Return the new course of a line that lay in the edge of a piece from corner to corner; None where it didn't."""
    for line, against in ((path, False), (path.reversed(), True)):
        run = _run_from(old.ring, line)
        if run:
            made = Path.join(*(new.line(name).path for name in run))
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
