"""What lies within a piece as a dart is turned: levels, lengthen lines, marks and slits go with the part they lie on.

A line across a dart stands in stretches that end at its legs. Folded shut, the stretches run on in each other; what
lay between the drawn leg and the way from the mouth to the apex (the dart's point stops short of it) goes, and
comes back where the dart opens.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TypeVar

import numpy as np

from drafting.garment.darts import Dart
from drafting.garment.model import Adjust, Drill, Level, Line, Piece
from drafting.geometry import Affine, Array, Path, Point, is_inside
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

T = TypeVar("T", bound=Level | Adjust)


@dataclass(frozen=True, slots=True)
class Inner:
    """The levels, lengthen lines, marks and slits of a piece."""

    levels: tuple[Level, ...]
    adjusts: tuple[Adjust, ...]
    drills: tuple[Drill, ...]
    slits: tuple[tuple[Line, ...], ...]

    @staticmethod
    def of(piece: Piece) -> Inner:
        """Return what lies within a piece."""
        return Inner(piece.levels, piece.adjusts, piece.drills, piece.slits)

    def _with_paths(self, made: Callable[[Path], Iterable[Path]]) -> Inner:
        return replace(self, levels=_each(self.levels, made), adjusts=_each(self.adjusts, made))

    def without(self, dart: Dart) -> Inner:
        """Return it without what lies in the wedge from a dart's mouth to its apex."""
        return self._with_paths(lambda path: _outside(path, dart))

    def parted(self, regions: tuple[Path, Path], move: Affine) -> Inner:
        """Return it with what lies in the first of two regions moved; what crosses between them is parted."""
        going, staying = regions
        first, second = going.flatten(), staying.flatten()

        def goes(at: Point) -> bool:
            off = going.nearest(at)[1], staying.nearest(at)[1]
            if min(off) <= TOLERANCE.joint < max(off):  # along the edge of one of them
                return off[0] < off[1]
            if is_inside(at, first):
                return True
            return not is_inside(at, second) and off[0] < off[1]

        ways = [Path.of(going.segments[:1]), Path.of(going.segments[-1:])]  # the straight ways to the apex
        made = self._with_paths(lambda path: _moved(path, ways, goes, move))
        pivot = going.start
        drills = tuple(
            d if d.at.near(pivot, TOLERANCE.joint) or not goes(d.at) else Drill(d.name, move.apply(d.at))
            for d in self.drills
        )
        slits = tuple(_slit(slit, goes, move) for slit in self.slits)
        return Inner(_joined(made.levels), _joined(made.adjusts), drills, slits)

    def opened(self, dart: Dart) -> Inner:
        """Return it with lines that end at a dart's wedge drawn on to its legs, or across beyond its point."""
        return replace(self, levels=_met(self.levels, dart), adjusts=_met(self.adjusts, dart))


def _each(items: Sequence[T], made: Callable[[Path], Iterable[Path]]) -> tuple[T, ...]:
    out: list[T] = []
    for item in items:
        out.extend(item if path is item.path else replace(item, path=path) for path in made(item.path))
    return tuple(out)


def _stretches(path: Path, cuts: Iterable[Path]) -> Iterable[Path]:
    """A path parted where it crosses others."""
    x0, y0, x1, y1 = path.bounds
    found: set[float] = set()
    for cut in cuts:
        a, b, c, d = cut.bounds
        near = TOLERANCE.joint
        if a > x1 + near or c < x0 - near or b > y1 + near or d < y0 - near:
            continue
        found |= {crossing.s for crossing in path.crossings(cut)}
    inner = sorted(s for s in found if TOLERANCE.arc_length < s < path.length - TOLERANCE.arc_length)
    if not inner:
        return [path]
    bounds = [0.0, *inner, path.length]
    return [path.between(low, high) for low, high in pairwise(bounds) if high - low > TOLERANCE.arc_length]


def _outside(path: Path, dart: Dart) -> Iterable[Path]:
    """The stretches of a path that lie outside a dart's wedge, drawn to its apex."""
    corners = (dart.apex, dart.mouth_a, dart.mouth_b)
    wedge = np.array([(p.x, p.y) for p in corners])
    ways = [Path.straight(dart.apex, mouth) for mouth in corners[1:]]
    parts = list(_stretches(path, ways))
    return [part for part in parts if not _within(part.at(part.length / 2.0), wedge, ways)]


def _within(at: Point, wedge: Array, ways: Sequence[Path]) -> bool:
    """Whether a point lies in a wedge; what runs along one of its sides doesn't."""
    return is_inside(at, wedge) and min(way.nearest(at)[1] for way in ways) > TOLERANCE.joint


def _moved(path: Path, ways: Sequence[Path], goes: Callable[[Point], bool], move: Affine) -> Iterable[Path]:
    for part in _stretches(path, ways):
        yield part.transformed(move) if goes(part.at(part.length / 2.0)) else part


def _slit(slit: tuple[Line, ...], goes: Callable[[Point], bool], move: Affine) -> tuple[Line, ...]:
    if not goes(slit[0].path.start):
        return slit
    return tuple(replace(line, path=line.path.transformed(move)) for line in slit)


def _joined(items: Sequence[T]) -> tuple[T, ...]:
    """Lines of one name that now run on in each other made one."""
    out: list[T] = []
    for item in items:
        for i, other in enumerate(out):
            path = _one(other.path, item.path) if replace(other, path=item.path) == item else None
            if path is not None:
                out[i] = replace(other, path=path)
                break
        else:
            out.append(item)
    return tuple(out) if len(out) == len(items) else _joined(out)


def _one(a: Path, b: Path) -> Path | None:
    for one, two in ((a, b), (b, a)):
        if one.end.near(two.start, TOLERANCE.joint):
            return Path.join(one, two)
    return None


def _met(items: Sequence[T], dart: Dart) -> tuple[T, ...]:
    """Draw lines that end on the wedge on to the legs; two that end beyond the point are drawn to each other."""
    if dart.set_back <= TOLERANCE.joint:
        return tuple(items)
    out = list(items)
    for mouth in (dart.mouth_a, dart.mouth_b):
        way, leg = Path.straight(dart.apex, mouth), Path.straight(dart.point, mouth)
        out = [replace(item, path=_drawn(item.path, way, leg)) if _ends_on(item.path, way) else item for item in out]
    return _bridged(out, dart)


def _ends_on(path: Path, way: Path) -> bool:
    return any(_inner_end(way, end) for end in (path.start, path.end))


def _inner_end(way: Path, end: Point) -> bool:
    s, distance = way.nearest(end)
    return distance <= TOLERANCE.arc_length and TOLERANCE.joint < s < way.length - TOLERANCE.joint


def _drawn(path: Path, way: Path, leg: Path) -> Path:
    """A path that ends on a way drawn straight on to the leg beside it; as it is where it misses the leg."""
    for at_end in (False, True):
        if not _inner_end(way, path.end if at_end else path.start):
            continue
        reach = 2.0 * way.length
        tip, onward = (path.end, path.tangent(path.length)) if at_end else (path.start, -path.tangent(0.0))
        ray = Path.straight(tip, tip + onward * reach)
        found = [c for c in ray.crossings(leg) if c.s > TOLERANCE.same_point]
        if found:
            more = Path.straight(tip, found[0].point)
            path = Path.join(path, more) if at_end else Path.join(more.reversed(), path)
    return path


def _bridged(items: Sequence[T], dart: Dart) -> tuple[T, ...]:
    """Two lines of one name that end on the two sides of the wedge, beyond the point, drawn to each other."""
    ways = [Path.straight(dart.apex, mouth) for mouth in (dart.mouth_a, dart.mouth_b)]
    for item in items:
        for other in items:
            if item is other or replace(item, path=other.path) != other:
                continue
            if _faces(item.path.end, other.path.start, ways, dart.apex):
                path = Path.join(item.path, Path.straight(item.path.end, other.path.start), other.path)
                return _bridged((*_but(items, item, other), replace(item, path=path)), dart)
    return tuple(items)


def _but(items: Sequence[T], one: T, other: T) -> Iterable[T]:
    return (each for each in items if each is not one and each is not other)


def _faces(a: Point, b: Point, ways: Sequence[Path], apex: Point) -> bool:
    """Whether two points lie on the two sides of a wedge, equally far from its apex."""
    if abs(a.distance(apex) - b.distance(apex)) > TOLERANCE.joint:
        return False
    one, two = ways
    return any(_inner_end(p, a) and _inner_end(q, b) for p, q in ((one, two), (two, one)))
