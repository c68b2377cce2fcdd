"""Slash and spread: fullness let into a piece by cutting it open and turning the parts about pivots that are kept.

The parts move rigidly, so every line that is not cut keeps its length. What is cut is trued, as a cutter trues it:
the opened edge to one fair curve across the gaps, and an edge that was bent at pivots to one fair curve of the length
it had. Ends keep their directions, so a hem that was square to its side seams stays so. Levels, lengthen lines and
marks go with the part they lie on; a level that was cut is bridged across the gaps.

Source: slash and spread is common practice in flat pattern cutting; the sector it comes near to is plane geometry.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from drafting.errors import GeometryError
from drafting.garment import Measure, measure_of
from drafting.garment.carry import RuledMotion, all_but, carry_features, only
from drafting.garment.edges import draw_to_edge, in_edge
from drafting.garment.features import Adjust
from drafting.garment.model import Line, Piece
from drafting.garment.places import Place
from drafting.geometry import Affine, Array, Path, Point, are_inside, crosses_itself, is_crossed
from drafting.record import dataclass
from drafting.redraw import truing
from drafting.redraw.truing import MovedPart, bridge_parts
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

_SAME = Affine()
_ALONG = ((np.arange(24) + 0.5) / 24.0)[:, None]  # where a slash is looked at
SLASH_ENDS = TradeValue(0.02, "share", "from memory")
"""Of a slash at either end where it lies on the outline."""

SLASHED_BEFORE = TradeValue(100.0, "mm", "from memory")
"""Before the edge that a slash opens, on its own line, within which a level may run over a hollow of that edge."""

BESIDE_SLASH = TradeValue(1.0, "mm", "from memory")
"""Of cloth that are left beside a slash where it passes an edge: a slash that grazes a hollow edge would part a sliver
off."""
BESIDE_SLASH_SHARE = TradeValue(0.002, "share", "from memory")
"""Of a slash's length, the most that is left beside it."""


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


class _SlashedRing:
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
        return point_at(self.piece, place)

    def _after(self, i: int, x: float) -> bool:
        a, b = self.spans[i]
        return (x - a) % self.total < (b - a) % self.total

    def beyond(self, i: int, x: float) -> bool:
        """Whether the slash i lies between a place on the ring and what is held."""
        return self._after(i, x) != self._after(i, self.hold)

    def do_cross(self, i: int, j: int) -> bool:
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


def spread_piece(piece: Piece, slashes: Sequence[Slash], hold: Place) -> Piece:
    """Return the piece slashed and spread; the part in which ``hold`` lies stays where it is.

    The slashes must not cross each other. GeometryError where they do, where a slash leaves the piece, or where
    the outline would no longer be simple.
    """
    ring = _SlashedRing(piece, slashes, hold)
    if any(slash.opens.line == slash.pivot.line for slash in slashes):
        raise GeometryError("a slash needs its pivot on another edge than the one it opens")
    _check_slashes(ring)
    lines = _lines(ring, slashes, piece.ring)
    bent = [old for old, _, was_trued in lines if was_trued]
    new = replace(piece, ring=_close_ring([new for _, new, _ in lines]))
    if new.outline.area <= 0.0 or crosses_itself(new.outline.flatten()):
        raise GeometryError("spread so far, the piece would run over itself")
    motion = _Carrier(ring, ring.regions(), bent, new)
    new = carry_features(new, motion, all_but(Adjust))
    return carry_features(new, RuledMotion(motion), only(Adjust))


def opened_lengths(piece: Piece, slashes: Sequence[Slash], hold: Place, lines: Iterable[str]) -> Mapping[str, float]:
    """Return how long some lines would be (mm) if the piece were spread."""
    drawn = _lines(_SlashedRing(piece, slashes, hold), slashes, [piece.line(name) for name in lines])
    return {line.name: line.path.length for _, line, _ in drawn}


def _check_slashes(ring: _SlashedRing) -> None:
    """Refuse slashes that cross each other or leave the piece."""
    if any(ring.do_cross(i, j) for i in range(len(ring.spans)) for j in range(i)):
        raise GeometryError("two of the slashes cross each other")
    if any(opens.near(pivot, TOLERANCE.sewn_length) for opens, pivot in ring.chords):
        raise GeometryError("a slash needs a length: its pivot lies on the place it opens")
    if not chords_within(ring.piece, ring.chords):
        raise GeometryError("a slash leaves the piece on its way to its pivot")
    slits = [line.path for slit in ring.piece.slits for line in slit]
    if any(path.crossings(Path.straight(*chord)) for path in slits for chord in ring.chords):
        raise GeometryError("a slash runs over a dart within the piece")


def point_at(piece: Piece, place: Place) -> Point:
    """Return where a place on a piece's outline lies."""
    return piece.line(place.line).path.at(place.s)


def chords_within(piece: Piece, chords: Iterable[tuple[Point, Point]]) -> bool:
    """Tell whether straight lines stay within a piece's outline, with a little cloth to both sides of them."""
    ends = np.array([(*a, *b) for a, b in chords])[:, None, :]
    start, way = ends[..., :2], ends[..., 2:] - ends[..., :2]
    outline = piece.outline.flatten()
    if is_crossed(outline, (start + SLASH_ENDS * way)[:, 0], (start + (1.0 - SLASH_ENDS) * way)[:, 0]):
        return False
    along = start + way * _ALONG
    aside = np.stack((-way[..., 1], way[..., 0]), axis=-1)
    long = np.maximum(np.hypot(way[..., :1], way[..., 1:]), TOLERANCE.same_point)
    aside = aside * np.minimum(BESIDE_SLASH / long, BESIDE_SLASH_SHARE)
    points = np.concatenate((along + aside, along - aside)).reshape(-1, 2)
    return bool(are_inside(points, outline).all())


def _lines(ring: _SlashedRing, slashes: Sequence[Slash], wanted: Sequence[Line]) -> list[tuple[Line, Line, bool]]:
    """Each line wanted, what becomes of it, and whether it was trued."""
    breaks: dict[str, set[float]] = {}
    for slash in slashes:
        for place in (slash.opens, slash.pivot):
            breaks.setdefault(place.line, set()).add(place.s)
    opened = {slash.opens.line for slash in slashes} | {slash.pivot.line for slash in slashes if slash.apart}
    out = []
    for line in wanted:
        parts = _parts(ring, line, sorted(breaks.get(line.name, ())))
        if all(part.move == parts[0].move for part in parts[1:]):
            path = line.path if parts[0].move == _SAME else line.path.transformed(parts[0].move)
            out.append((line, line if path is line.path else replace(line, path=path), False))
        else:
            draw = truing.fair_over_parts if line.name in opened else truing.bend_edge
            out.append((line, replace(line, path=draw(line.path, parts)), True))
    return out


def _parts(ring: _SlashedRing, line: Line, breaks: Sequence[float]) -> list[MovedPart]:
    start = ring.starts[line.name]
    return [MovedPart(low, high, ring.motion_at(start + (low + high) / 2.0)) for low, high in line.path.spans(breaks)]


def _close_ring(lines: Sequence[Line]) -> tuple[Line, ...]:
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
    """The motion of what lies within a piece, with its parts."""

    def __init__(
        self,
        ring: _SlashedRing,
        regions: Sequence[Array],
        bent: Sequence[Line],
        new: Piece,
    ) -> None:
        self.ring, self.regions, self.bent, self.new = ring, regions, bent, new
        self.slashes = [Path.straight(a, b) for a, b in ring.chords]
        self.drawn_on = [Path.straight(a + (a - b).unit * SLASHED_BEFORE, b) for a, b in ring.chords]

    def motions(self, points: Array) -> list[Affine]:
        """The motion of the part in which each point, shape (k, 2), lies."""
        held = np.array([are_inside(points, region) for region in self.regions])
        return [self.ring.motion(np.flatnonzero(column).tolist()) for column in held.T]

    def point(self, at: Point) -> Point:
        return self.motions(np.array([(at.x, at.y)]))[0].apply(at)

    def path(self, path: Path) -> Path:
        """Carry a line, bridged where it was cut, met with edges that were trued; one in an edge lies in it again."""
        lying = in_edge(self.ring.piece, self.new, path)
        if lying is not None:
            return lying
        cuts = path.cuts_by(self.slashes)
        hollow = len(path.cuts_by(self.drawn_on)) > len(cuts)
        if hollow:
            cuts += path.cuts_by((self.ring.piece.outline,))
        spans = path.spans(cuts)
        middles = path.points(np.array([(low + high) / 2.0 for low, high in spans]))
        if hollow:  # what runs outside the piece, over a hollow that is slashed, is ruled anew between what lies within
            within = are_inside(middles, self.ring.piece.outline.flatten())
            spans = [span for span, inner in zip(spans, within, strict=True) if inner] or spans
            middles = path.points(np.array([(low + high) / 2.0 for low, high in spans]))
        parts = [MovedPart(low, high, move) for (low, high), move in zip(spans, self.motions(middles), strict=True)]
        if all(part.move == parts[0].move for part in parts[1:]):
            moved = path if parts[0].move == _SAME else path.transformed(parts[0].move)
        else:
            moved = bridge_parts(path, parts)
        return self._meet_edges(path, moved)

    def _meet_edges(self, old: Path, moved: Path) -> Path:
        """Let the ends that lay on an edge which was trued lie on it again."""
        for at_end in (False, True):
            end = old.end if at_end else old.start
            line = next((ln for ln in self.bent if ln.path.nearest(end)[1] < TOLERANCE.flatten), None)
            if line is not None:
                moved = draw_to_edge(moved, self.new.line(line.name).path, at_end)
        return moved


def level_growth(before: Piece, after: Piece) -> Mapping[Measure, float]:
    """Return by how much the levels of each name grew (mm), those that grew by nothing left out."""
    sums: dict[Measure, float] = {}
    for sign, piece in ((-1.0, before), (1.0, after)):
        for level in piece.levels:
            measure = measure_of(level)
            sums[measure] = sums.get(measure, 0.0) + sign * level.path.length
    return {name: grown for name, grown in sums.items() if abs(grown) > TOLERANCE.same_point}
