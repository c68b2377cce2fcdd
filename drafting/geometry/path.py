"""Paths: piecewise cubic curves, immutable, measured in millimetres along their length."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from drafting.errors import GeometryError, NoAnswer
from drafting.geometry import crossing as meet
from drafting.geometry import shape
from drafting.geometry.affine import ORIGIN, Affine
from drafting.geometry.crossing import Crossing
from drafting.geometry.measure import Array, Table, bend, direction
from drafting.geometry.meeting import crossings
from drafting.geometry.offset import Offset, parallel_all
from drafting.geometry.point import Point
from drafting.tolerance import TOLERANCE


class Path:
    """One or more cubic segments that meet end to end; a straight line is a cubic with handles at the thirds.

    ``segments`` has shape (n, 4, 2), in millimetres. A place on the path is its length ``s`` (mm) from the
    start, 0 <= s <= length; a place beyond an end by no more than the error of a length counts as that end,
    farther is a GeometryError. At a corner the direction is the one that leaves it.

    >>> path = Path.straight(Point(0, 0), Point(0, 100))
    >>> path.length, path.at(25.0), path.offset(10.0).start
    (100.0, Point(x=0.0, y=25.0), Point(x=10.0, y=0.0))
    """

    __slots__ = ("_bounds", "_end", "_segments", "_start", "_table")
    _segments: Array
    _table: Table | None
    _bounds: tuple[float, float, float, float] | None
    _start: Point | None
    _end: Point | None

    def __init__(self, segments: Array) -> None:
        """Check and copy an array of shape (n, 4, 2); ends that nearly meet are made to meet exactly."""
        array = np.array(segments, dtype=np.float64)
        if array.ndim != 3 or array.shape[1:] != (4, 2) or not len(array):
            raise NoAnswer(f"a path needs an array of shape (n, 4, 2), not {array.shape}")
        if not np.isfinite(array).all():
            raise NoAnswer("a path needs finite coordinates")
        if len(array) > 1:
            shape.snap(array)
        self._set(array)

    def _set(self, array: Array) -> None:
        array.flags.writeable = False
        self._segments = array
        self._table = None
        self._bounds = None
        self._start = self._end = None

    @classmethod
    def _trusted(cls, array: Array) -> Path:
        """Wrap a new array that is known to be finite and joined."""
        path = object.__new__(cls)
        path._set(array)
        return path

    @staticmethod
    def of(segments: Array) -> Path:
        """Return the path of an array of control points, shape (n, 4, 2)."""
        return Path(segments)

    @staticmethod
    def straight(a: Point, b: Point) -> Path:
        """Return the straight line between two points."""
        return Path._trusted(np.array((shape.line(a.x, a.y, b.x, b.y),), dtype=np.float64))

    @staticmethod
    def polyline(points: Iterable[Point]) -> Path:
        """Return straight lines through two or more points; points that repeat are passed once."""
        kept: list[Point] = []
        for p in points:
            if not kept or not p.near(kept[-1], TOLERANCE.same_point):
                kept.append(p)
        if len(kept) < 2:
            raise NoAnswer("a polyline needs two different points")
        return Path._trusted(
            np.array(
                [shape.line(a.x, a.y, b.x, b.y) for a, b in pairwise(kept)],
                dtype=np.float64,
            )
        )

    @staticmethod
    def cubic(p0: Point, p1: Point, p2: Point, p3: Point) -> Path:
        """Return one cubic by its four control points."""
        control = (((p0.x, p0.y), (p1.x, p1.y), (p2.x, p2.y), (p3.x, p3.y)),)
        return Path._trusted(np.array(control, dtype=np.float64))

    @staticmethod
    def join(*paths: Path) -> Path:
        """Return the paths end to end; a GeometryError where one's end isn't the next one's start.

        Paths without length are left out, unless nothing else is given.
        """
        if not paths:
            raise NoAnswer("there is nothing to join")
        if len(paths) == 1:
            return paths[0]
        array = np.concatenate([path._segments for path in paths])
        shape.snap(array)
        extent = np.abs(array - array[:, :1]).max(axis=(1, 2)) > TOLERANCE.same_point
        if not extent.all():
            array = array[extent] if extent.any() else array[:1]
            shape.snap(array)
        return Path._trusted(array)

    @property
    def segments(self) -> Array:
        """The control points, a read-only array of shape (n, 4, 2)."""
        return self._segments

    @property
    def table(self) -> Table:
        """The measuring table, made when first needed."""
        if self._table is None:
            self._table = Table(self._segments.tolist())
        return self._table

    @property
    def start(self) -> Point:
        """Where the path begins."""
        if self._start is None:
            self._start = Point(*self._segments[0, 0].tolist())
        return self._start

    @property
    def end(self) -> Point:
        """Where the path ends."""
        if self._end is None:
            self._end = Point(*self._segments[-1, 3].tolist())
        return self._end

    @property
    def length(self) -> float:
        """Length along the path, in millimetres."""
        return self.table.total

    @property
    def area(self) -> float:
        """Signed area (mm2) between the path and the chord that closes it; anticlockwise is positive."""
        return shape.area(self._segments)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The exact (xmin, ymin, xmax, ymax)."""
        if self._bounds is None:
            self._bounds = shape.bounds(self._segments)
        return self._bounds

    @property
    def closed(self) -> bool:
        """Whether the end lies on the start."""
        return self.start.near(self.end, TOLERANCE.joint)

    @property
    def is_straight(self) -> bool:
        """Whether the path runs straight, without a turn, from its start to its end."""
        return shape.is_straight(self.table)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Path) and np.array_equal(self._segments, other._segments)

    def __hash__(self) -> int:
        return hash(self._segments.tobytes())

    def __repr__(self) -> str:
        a, b = self.start, self.end
        return f"Path({a.x:.3f},{a.y:.3f} to {b.x:.3f},{b.y:.3f}, {self.length:.3f} mm, n={len(self._segments)})"

    def __reduce__(self) -> tuple[Any, ...]:
        return Path.of, (np.array(self._segments),)

    def at(self, s: float) -> Point:
        """Return the point at ``s``."""
        return self.table.point(*self.table.locate(s))

    def tangent(self, s: float) -> Point:
        """Return the unit direction at ``s``."""
        i, t = self.table.after(s)
        return direction(self.table.coefs[i], t)

    def curvature(self, s: float) -> float:
        """Return the curvature at ``s``: 1/mm, positive where the path bends to the left."""
        i, t = self.table.after(s)
        return bend(self.table.coefs[i], t)

    def points(self, ss: Array) -> Array:
        """Return the points at many lengths, shape (m, 2)."""
        return shape.points_at(self.table, ss)

    def tangents(self, ss: Array) -> Array:
        """Return the unit directions at many lengths, shape (m, 2)."""
        return shape.tangents_at(self.table, ss)

    def nearest(self, point: Point) -> tuple[float, float]:
        """Return (s, distance) of the place nearest to a point."""
        return meet.nearest_place(self.table, point)

    def corners(self) -> tuple[tuple[float, float], ...]:
        """Return (s, turn) of each joint inside the path that turns by more than the tangent tolerance."""
        turns = shape.joint_turns(self.table)
        return tuple((s, turn) for s, turn in turns if abs(turn) > TOLERANCE.tangent)

    def turning(self) -> float:
        """Return the signed turning (radians), corners and, of a closed path, the closing corner included."""
        return shape.turning(self.table, self.closed)

    def flatten(self, tol: float = TOLERANCE.flatten) -> Array:
        """Return points on the path, shape (m, 2), both ends included; chords stray by at most ``tol``."""
        return shape.flatten_segments(self._segments, tol)

    def split(self, s: float) -> tuple[Path, Path]:
        """Return the parts before and after ``s``; a GeometryError where one would have no length."""
        return self.between(0.0, s), self.between(s, self.length)

    def between(self, s0: float, s1: float) -> Path:
        """Return the part from ``s0`` to ``s1`` > ``s0``."""
        if not s1 - s0 > TOLERANCE.same_point:
            raise NoAnswer(f"no part of a path runs from {s0:.6g} to {s1:.6g} mm")
        control = shape.part_between(self.table, s0, s1)
        return self if control is self.table.control else Path._trusted(np.array(control, dtype=np.float64))

    def cuts_by(self, others: Iterable[Path], clear: float = TOLERANCE.joint) -> list[float]:
        """Return the lengths, in order, at which other paths cross this one, more than ``clear`` mm from its ends."""
        found = {crossing.s for other in others for crossing in self.crossings(other)}
        return sorted(s for s in found if clear < s < self.length - clear)

    def spans(self, cuts: Iterable[float], apart: float = TOLERANCE.joint) -> list[tuple[float, float]]:
        """Return the stretches, as lengths from and to, between cuts at some lengths.

        A cut no farther than ``apart`` mm from the one before it, or from an end, is none.
        """
        bounds = [0.0]
        for s in sorted(cuts):
            if bounds[-1] + apart < s < self.length - apart:
                bounds.append(s)
        return list(pairwise((*bounds, self.length)))

    def cut_at(self, cuts: Iterable[float], apart: float = TOLERANCE.joint) -> list[Path]:
        """Return the parts between cuts at some lengths, in order; the path itself where there are none."""
        return [self.between(low, high) for low, high in self.spans(cuts, apart)]

    def reversed(self) -> Path:
        """Return the same curve run the other way."""
        return Path._trusted(self._segments[::-1, ::-1].copy())

    def offset(self, d: float) -> Path:
        """Return the parallel at ``d`` mm to the right of the direction (to the left if negative).

        Outer corners are mitred (cut blunt where they turn by more than 150 degrees), inner ones trimmed; the
        ends lie square to the path's ends, and the parallel of a closed path is closed. A GeometryError where
        nothing is left between two trims, or where an end bends more tightly than the parallel can follow.
        """
        (found,) = Path.offsets(((self, d),))
        if isinstance(found, GeometryError):
            raise found
        return found

    @staticmethod
    def offsets(asked: Sequence[tuple[Path, float]]) -> list[Path | GeometryError]:
        """Return the parallel of each of many paths, as ``offset`` would but sooner, or why there is none."""
        curves = [(path, d) for path, d in asked if d != 0.0]
        made = iter(parallel_all([Offset(path._segments, path.table, d, path.closed) for path, d in curves]))
        found = (path if d == 0.0 else next(made) for path, d in asked)
        return [each if isinstance(each, (Path, GeometryError)) else Path._trusted(each) for each in found]

    def extended(self, before: float, after: float) -> Path:
        """Return the path run straight on by ``before`` mm at its start and ``after`` mm at its end."""
        parts = [self]
        if before > 0.0:
            parts.insert(0, Path.straight(self.start - self.tangent(0.0) * before, self.start))
        if after > 0.0:
            parts.append(Path.straight(self.end, self.end + self.tangent(self.length) * after))
        return Path.join(*parts)

    def transformed(self, affine: Affine) -> Path:
        """Return the image under an affine map."""
        return Path._trusted(affine.apply_all(self._segments))

    def moved(self, by: Point) -> Path:
        """Return the path moved by a vector."""
        return Path._trusted(self._segments + np.array((by.x, by.y)))

    def turned(self, angle: float, about: Point = ORIGIN) -> Path:
        """Return the path turned anticlockwise by ``angle`` radians about a point."""
        return self.transformed(Affine.turn(angle, about))

    def mirrored(self, x: float = 0.0) -> Path:
        """Return the reflection in the vertical line at ``x``, run in the same order."""
        return self.transformed(Affine.mirror(x))

    def reflected(self, a: Point, b: Point) -> Path:
        """Return the reflection in the line through two points, run in the same order."""
        return self.transformed(Affine.reflect(a, b))

    def with_ends(self, start: Point, end: Point) -> Path:
        """Return the path drawn over to new ends, each place moved by its share of the length."""
        return Path._trusted(shape.draw_to_ends(self._segments, self.table, start, end))

    def crossings(self, other: Path) -> tuple[Crossing, ...]:
        """Return where the paths cross or touch, in order along this one; of a shared stretch, its ends."""
        return crossings(self.table, other.table)

    def crossing(self, other: Path, choose: Callable[[Crossing], float]) -> Crossing:
        """Return the crossing with the least ``choose`` value; a GeometryError if there is none, or a tie."""
        return meet.choose_crossing(self.crossings(other), choose)

    def cross_level(self, y: float) -> tuple[float, ...]:
        """Return the lengths, in order, at which the path meets the horizontal at ``y``."""
        return meet.level_lengths(self.table, y)

    def same_as(self, other: Path, within: float = TOLERANCE.same_point) -> bool:
        """Tell whether two paths are the same curve, run the same way, wherever their segments begin."""
        return shape.are_same(self.table, other.table, within)
