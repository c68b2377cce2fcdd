"""Slash and spread: fullness let into a piece by cutting it open and turning the parts about pivots that are kept.

The parts move rigidly, so every line that is not cut keeps its length. What is cut is trued, as a cutter trues it:
the opened edge to one fair curve across the gaps, and an edge that was bent at pivots to one fair curve of the length
it had. Ends keep their directions, so a hem that was square to its side seams stays so. Levels, lengthen lines and
marks go with the part they lie on; a level that was cut is trued across the gaps like an edge.

Source: slash and spread is common practice in flat pattern cutting; the sector it comes near to is plane geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from drafting.errors import GeometryError
from drafting.garment.model import Drill, Line, Piece
from drafting.garment.places import Place
from drafting.garment.truing import Part, trued
from drafting.garment.within import Array, all_inside, crosses_itself
from drafting.geometry import Affine, Path, Point, nearest_to
from drafting.tolerance import TOLERANCE

_SAME = Affine()
_REACH = 20.0  # mm by which a level is drawn on to meet an edge that was trued


@dataclass(frozen=True, slots=True)
class Slash:
    """A straight cut from the place on the edge that ``opens`` to a ``pivot`` on another edge (or at its end).

    The part beyond it is turned about the pivot by ``turn`` (rad, positive opens the cut), and moved ``apart`` (mm)
    square to it, which opens both of its ends.
    """

    opens: Place
    pivot: Place
    turn: float = 0.0
    apart: float = 0.0


@dataclass(frozen=True, slots=True)
class Fan:
    """Slashes that together let ``by`` mm into ``lines``: (opening place, pivot) each, all opened equally.

    ``parallel`` moves the parts apart instead of turning them.
    """

    cuts: tuple[tuple[Place, Place], ...]
    lines: tuple[str, ...]
    by: float
    parallel: bool = False


class _Ring:
    """A ring measured along its whole length: where places lie, and what lies beyond each slash from ``hold``."""

    def __init__(self, piece: Piece, slashes: Sequence[Slash], hold: Place) -> None:
        self.piece = piece
        self.starts: dict[str, float] = {}
        self.total = 0.0
        for line in piece.ring:
            self.starts[line.name] = self.total
            self.total += line.path.length
        self.hold = self.at(hold)
        self.spans = [(self.at(s.opens), self.at(s.pivot)) for s in slashes]
        self.chords = [(self.point(s.opens), self.point(s.pivot)) for s in slashes]
        self.depth = [
            sum(self.beyond(j, a) for j in range(len(slashes)) if j != i) for i, (a, _) in enumerate(self.spans)
        ]
        self.moves = [self._move(i, slash) for i, slash in enumerate(slashes)]

    def at(self, place: Place) -> float:
        """The length along the ring at which a place lies."""
        self.piece.line(place.line)
        return (self.starts[place.line] + place.s) % self.total

    def point(self, place: Place) -> Point:
        return self.piece.line(place.line).path.at(place.s)

    def _after(self, i: int, x: float) -> bool:
        a, b = self.spans[i]
        return (x - a) % self.total < (b - a) % self.total

    def beyond(self, i: int, x: float) -> bool:
        """Whether the slash i lies between a place on the ring and what is held."""
        return self._after(i, x) != self._after(i, self.hold)

    def crossed(self, i: int, j: int) -> bool:
        """Whether two slashes cross; slashes that share an end don't."""
        gaps = [abs(x - y) for x in self.spans[i] for y in self.spans[j]]
        if min(min(gap, self.total - gap) for gap in gaps) <= TOLERANCE.joint:
            return False
        return self._after(i, self.spans[j][0]) != self._after(i, self.spans[j][1])

    def _move(self, i: int, slash: Slash) -> Affine:
        """The rigid motion of what lies beyond a slash, as if it were the only one."""
        sign = -1.0 if self._after(i, self.hold) else 1.0
        opens, pivot = self.chords[i]
        out = (opens - pivot).unit.left * (sign * slash.apart)
        return Affine.turn(sign * slash.turn, pivot).then(Affine.move(out))

    def motion(self, crossed: Iterable[int]) -> Affine:
        """The motion of what lies beyond these slashes: the nearest to the hold is the last to act."""
        move = _SAME
        for i in sorted(crossed, key=lambda i: self.depth[i]):
            move = self.moves[i].then(move)
        return move

    def motion_at(self, x: float) -> Affine:
        return self.motion(i for i in range(len(self.spans)) if self.beyond(i, x))

    def regions(self) -> list[Array]:
        """What lies beyond each slash, as closed polygons of chords."""
        outline = self.piece.outline
        out = []
        for i, (a, b) in enumerate(self.spans):
            low, high = (b, a) if self._after(i, self.hold) else (a, b)
            if low < high:
                part = outline.between(low, min(high, outline.length))
            else:
                ends = [(low, outline.length), (0.0, high)]
                part = Path.join(*(outline.between(p, q) for p, q in ends if q - p > TOLERANCE.joint))
            out.append(part.flatten())
        return out


def spread(piece: Piece, slashes: Sequence[Slash], hold: Place) -> Piece:
    """Return the piece slashed and spread; the part in which ``hold`` lies stays where it is.

    The slashes must not cross each other. GeometryError where they do, where a slash leaves the piece, or where
    the outline would no longer be simple.
    """
    ring = _Ring(piece, slashes, hold)
    _check_slashes(ring)
    lines = _lines(ring, slashes)
    bent = [old for old, _, was_trued in lines if was_trued]
    new = replace(piece, ring=_closed([new for _, new, _ in lines]))
    if new.outline.area <= 0.0 or crosses_itself(new.outline.flatten()):
        raise GeometryError("spread so far, the piece would run over itself")
    carry = _Carrier(ring, ring.regions(), bent, new)
    return replace(
        new,
        levels=tuple(replace(level, path=carry.level(level.path)) for level in piece.levels),
        adjusts=tuple(replace(adjust, path=carry.straight(adjust.path)) for adjust in piece.adjusts),
        drills=tuple(Drill(drill.name, carry.point(drill.at)) for drill in piece.drills),
    )


def _check_slashes(ring: _Ring) -> None:
    """Refuse slashes that cross each other or leave the piece."""
    if any(ring.crossed(i, j) for i in range(len(ring.spans)) for j in range(i)):
        raise GeometryError("two of the slashes cross each other")
    if any(opens.near(pivot, TOLERANCE.sewn_length) for opens, pivot in ring.chords):
        raise GeometryError("a slash needs a length: its pivot lies on the place it opens")
    along = [opens.to(pivot, share) for opens, pivot in ring.chords for share in (0.05, 0.25, 0.5, 0.75, 0.95)]
    if not all_inside(np.array([(p.x, p.y) for p in along]), ring.piece.outline.flatten()).all():
        raise GeometryError("a slash leaves the piece on its way to its pivot")


def _lines(ring: _Ring, slashes: Sequence[Slash]) -> list[tuple[Line, Line, bool]]:
    """Each line, what becomes of it, and whether it was trued."""
    breaks: dict[str, set[float]] = {}
    for slash in slashes:
        for place in (slash.opens, slash.pivot):
            breaks.setdefault(place.line, set()).add(place.s)
    opened = {slash.opens.line for slash in slashes} | {slash.pivot.line for slash in slashes if slash.apart}
    out = []
    for line in ring.piece.ring:
        parts = _parts(ring, line, sorted(breaks.get(line.name, ())))
        if all(part.move == parts[0].move for part in parts[1:]):
            path = line.path if parts[0].move == _SAME else line.path.transformed(parts[0].move)
            out.append((line, line if path is line.path else replace(line, path=path), False))
        else:
            keeps = None if line.name in opened else line.path.length
            out.append((line, replace(line, path=trued(line.path, parts, keeps)), True))
    return out


def _parts(ring: _Ring, line: Line, breaks: Sequence[float]) -> list[Part]:
    length = line.path.length
    inner = [s for s in breaks if TOLERANCE.joint < s < length - TOLERANCE.joint]
    bounds = [0.0, *inner, length]
    start = ring.starts[line.name]
    return [Part(low, high, ring.motion_at(start + (low + high) / 2.0)) for low, high in pairwise(bounds)]


def _closed(lines: Sequence[Line]) -> tuple[Line, ...]:
    """The ring, with a gap that opened at a corner bridged by the line that follows it."""
    out = []
    for i, line in enumerate(lines):
        end = lines[i - 1].path.end
        gap = end.distance(line.path.start)
        if gap > TOLERANCE.joint:
            line = replace(line, path=Path.join(Path.straight(end, line.path.start), line.path))
        out.append(line)
    return tuple(out)


class _Carrier:
    """Carries what lies within a piece along with its parts."""

    def __init__(
        self,
        ring: _Ring,
        regions: Sequence[Array],
        bent: Sequence[Line],
        new: Piece,
    ) -> None:
        self.ring, self.regions, self.bent, self.new = ring, regions, bent, new

    def motions(self, points: Array) -> list[Affine]:
        """The motion of the part in which each point, shape (k, 2), lies."""
        held = np.array([all_inside(points, region) for region in self.regions])
        return [self.ring.motion(np.flatnonzero(column).tolist()) for column in held.T]

    def point(self, at: Point) -> Point:
        return self.motions(np.array([(at.x, at.y)]))[0].apply(at)

    def level(self, path: Path) -> Path:
        """Carry a level, trued across the gaps it was cut at, and met with edges that were trued."""
        cuts = sorted(s for chord in self.ring.chords for s in _meets(path, chord))
        bounds = [0.0, *(s for s in cuts if TOLERANCE.joint < s < path.length - TOLERANCE.joint), path.length]
        spans = [(low, high) for low, high in pairwise(bounds) if high - low > TOLERANCE.joint]
        middles = path.points(np.array([(low + high) / 2.0 for low, high in spans]))
        parts = [Part(low, high, move) for (low, high), move in zip(spans, self.motions(middles), strict=True)]
        if all(part.move == parts[0].move for part in parts[1:]):
            moved = path if parts[0].move == _SAME else path.transformed(parts[0].move)
        else:
            moved = trued(path, parts, None)
        return self._met(path, moved)

    def straight(self, path: Path) -> Path:
        """Carry a lengthen line: straight between its new ends, as a cutter would rule it again."""
        moved = self.level(path)
        return moved if moved is path or not path.is_straight else Path.straight(moved.start, moved.end)

    def _met(self, old: Path, moved: Path) -> Path:
        """Let the ends that lay on an edge which was trued lie on it again."""
        for at_end in (False, True):
            end = old.end if at_end else old.start
            line = next((ln for ln in self.bent if ln.path.nearest(end)[1] < TOLERANCE.flatten), None)
            if line is not None:
                moved = _drawn_to(moved, self.new.line(line.name).path, at_end)
        return moved


def _meets(path: Path, chord: tuple[Point, Point]) -> Iterable[float]:
    """The lengths at which a path crosses a chord; straight by straight in closed form."""
    if not path.is_straight:
        return [c.s for c in path.crossings(Path.straight(*chord))]
    a, along, across = path.start, path.end - path.start, chord[1] - chord[0]
    square = along.cross(across)
    if abs(square) <= TOLERANCE.same_point * along.length * across.length:
        return []
    gap = chord[0] - a
    t, u = gap.cross(across) / square, gap.cross(along) / square
    return [t * along.length] if 0.0 < t < 1.0 and 0.0 < u < 1.0 else []


def _drawn_to(path: Path, edge: Path, at_end: bool) -> Path:
    """Draw a path on, or cut it back, at one end to an edge near it."""
    tip = path.end if at_end else path.start
    long = path.extended(0.0 if at_end else _REACH, _REACH if at_end else 0.0)
    near = [c for c in long.crossings(edge) if c.point.distance(tip) <= _REACH]
    if not near:
        return path
    found = min(near, key=nearest_to(tip))
    return long.between(0.0, found.s) if at_end else long.between(found.s, long.length)


def let_in(piece: Piece, fans: Sequence[Fan], hold: Place) -> Piece:
    """Return the piece spread so that each fan's lines grow by just what it lets in (mm, less than 0 takes out).

    Truing shortens an opened edge a little, so the opening is corrected until the lines have grown by ``by`` within
    the error of a length. Fans must not share lines. GeometryError where that can't be reached.
    """
    before = [_measure(piece, fan.lines) for fan in fans]
    gaps = [fan.by for fan in fans]
    for _ in range(8):
        slashes = [slash for fan, gap in zip(fans, gaps, strict=True) for slash in _slashes(piece, fan, gap)]
        made = {new.name: new.path.length for _, new, _ in _lines(_Ring(piece, slashes, hold), slashes)}
        grown = [sum(made[n] for n in fan.lines) - was for fan, was in zip(fans, before, strict=True)]
        off = [fan.by - g for fan, g in zip(fans, grown, strict=True)]
        if max(map(abs, off)) <= TOLERANCE.arc_length:
            return spread(piece, slashes, hold)
        gaps = [gap + o for gap, o in zip(gaps, off, strict=True)]
    raise GeometryError(f"the opened edge can't be trued: {max(off, key=abs):.2f} mm are left")


def _slashes(piece: Piece, fan: Fan, gap: float) -> Iterable[Slash]:
    each = gap / len(fan.cuts)
    for opens, pivot in fan.cuts:
        if fan.parallel:
            yield Slash(opens, pivot, apart=each)
            continue
        reach = piece.line(opens.line).path.at(opens.s).distance(piece.line(pivot.line).path.at(pivot.s))
        if abs(each) >= reach:
            raise GeometryError(f"a slash {reach:.0f} mm long can't be opened by {each:.0f} mm")
        yield Slash(opens, pivot, turn=2.0 * math.asin(each / (2.0 * reach)))


def _measure(piece: Piece, lines: Iterable[str]) -> float:
    return math.fsum(piece.line(name).path.length for name in lines)


def level_growth(before: Piece, after: Piece) -> Mapping[str, float]:
    """Return by how much the levels of each name grew (mm), those that grew by nothing left out."""
    sums: dict[str, float] = {}
    for sign, piece in ((-1.0, before), (1.0, after)):
        for level in piece.levels:
            measure = f"girth:{level.name}" if level.girth else level.name
            sums[measure] = sums.get(measure, 0.0) + sign * level.path.length
    return {name: grown for name, grown in sums.items() if abs(grown) > TOLERANCE.same_point}


def across(piece: Piece, place: Place, direction: Point) -> Place:
    """Return where a straight line from a place, in a direction or against it, first meets the outline again.

    The way that leads into the piece is taken. GeometryError where there is none.
    """
    line = piece.line(place.line)
    start = line.path.at(place.s)
    inward = line.path.tangent(min(place.s, line.path.length - TOLERANCE.joint)).left
    way = direction.unit if direction.dot(inward) > 0.0 else -direction.unit
    x0, y0, x1, y1 = piece.outline.bounds
    ray = Path.straight(start, start + way * math.hypot(x1 - x0, y1 - y0))
    found = [
        (c.s, Place(ln.name, c.t)) for ln in piece.ring for c in ray.crossings(ln.path) if c.s > TOLERANCE.sewn_length
    ]
    if not found:
        raise GeometryError("a slash from there doesn't lead into the piece")
    return min(found, key=lambda pair: pair[0])[1]
