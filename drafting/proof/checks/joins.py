"""Joins: where an edge runs on from one piece to the next, it must run smooth once the pieces are sewn.

With the pieces laid together along the seam between them, the corners of the pieces at that point add up to a
straight angle if the edge runs smooth; what they are off by is how far the edge turns. Both pieces are drawn from
the right side and anticlockwise, so that this holds for any seam, also for a dart, and over several pieces.
Only lines of one role are judged (armhole to armhole, hem to hem): a side seam that meets an underarm seam is
meant as a corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import field

from drafting.garment import Brief, Fate, Garment, Line, Opening, Role, Run, Use
from drafting.geometry import STRAIGHT, turn
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import JoinRow
from drafting.record import dataclass
from drafting.saying import Name, list_sayings, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

V_POINT = TradeValue(math.radians(25.0), "rad", "from memory")
"""Off a right angle at the centre from which a neckline is a V that is meant, as is any that runs straight to it."""

_MOST_PIECES = 6  # round one point, so that a walk always ends

_Key = tuple[str, str]
_Corner = tuple[str, str, bool]  # piece, line, whether it is the line's end in ring direction


@dataclass(frozen=True, slots=True)
class _RingIndex:
    """The garment's rings and seams, looked up once; local to one check."""

    lines: dict[_Key, Line]
    after: dict[_Key, str]
    before: dict[_Key, str]
    opened: dict[_Key, str]
    """Edges left open for a closure, with their seam of one layer: at its end the opening turns right back."""
    mitres: frozenset[str]
    """Seams at which a band turns a corner."""
    mates: dict[_Corner, list[tuple[_Corner, str]]] = field(default_factory=dict)

    @staticmethod
    def of(garment: Garment) -> _RingIndex:
        lines, after, before = {}, {}, {}
        for piece in garment.pieces:
            for loop in piece.loops:
                for line, following in zip(loop, loop[1:] + loop[:1], strict=True):
                    lines[piece.name, line.name] = line
                    after[piece.name, line.name] = following.name
                    before[piece.name, following.name] = line.name
        single = [seam for seam in garment.seams if all(len(section.plies) == 1 for section in seam.sections)]
        opened = {(use.piece, use.line): seam.name for seam in single for use in seam.uses()}
        mitres = frozenset(seam.name for seam in garment.seams if seam.kind.mitred)
        ring = _RingIndex(lines, after, before, opened, mitres)
        for seam in garment.seams:
            for section in seam.sections:
                for at_end in (False, True):
                    ends = [_corner(run[-1 if at_end else 0], at_end) for run in section.plies if run]
                    for one in ends:
                        ring.mates.setdefault(one, []).extend((o, seam.name) for o in ends if o != one)
        return ring

    def neighbour(self, corner: _Corner) -> _Corner:
        """The other line of the ring at a corner, and which of its ends lies there."""
        piece, line, at_end = corner
        return (piece, (self.after if at_end else self.before)[piece, line], not at_end)

    def inside(self, corner: _Corner) -> float:
        """The angle (radians) of the piece at a corner."""
        piece, line, at_end = corner
        other = self.lines[piece, self.neighbour(corner)[1]].path
        path = self.lines[piece, line].path
        first, then = (path, other) if at_end else (other, path)
        return math.pi - turn(first.tangent(first.length), then.tangent(0.0))


def _corner(use: Use, at_end: bool) -> _Corner:
    """The corner at the end (or start) of a use, in the run's sense."""
    return (use.piece, use.line, at_end != use.against)


def _walk(ring: _RingIndex, start: _Corner, goal: _Corner) -> tuple[float, tuple[str, ...]] | None:
    """Turn about a point from a corner to the line that follows: the angles added up, and the seams crossed."""
    ways: list[tuple[_Corner, float, tuple[str, ...]]] = [(start, 0.0, ())]
    for _ in range(_MOST_PIECES):
        ways, tried = [], ways
        for corner, so_far, crossed in tried:
            angle = so_far + ring.inside(corner)
            edge = ring.neighbour(corner)
            if edge == goal:
                return angle, crossed
            ways.extend(
                (mate, angle, (*crossed, seam)) for mate, seam in ring.mates.get(edge, ()) if seam not in crossed
            )
    return None


def _passages(garment: Garment, openings: Iterable[Opening]) -> Iterator[tuple[Use, Use]]:
    """Each pair of lines that an edge passes between; a run's end and start too, since most runs go right round."""
    runs: list[Run] = [run for seam in garment.seams for run in seam.plies]
    for run in (*runs, *(opening.run for opening in openings)):
        yield from zip(run, (*run[1:], *run[:1]), strict=True)


def join_rows(garment: Garment, openings: Iterable[Opening]) -> tuple[JoinRow, ...]:
    """Return a row for every place where an edge runs on across a seam, in the order of the seams, then openings."""
    ring = _RingIndex.of(garment)
    seen: set[frozenset[_Corner]] = set()
    rows = []
    for one, two in _passages(garment, openings):
        start, goal = _corner(one, at_end=True), _corner(two, at_end=False)
        if frozenset((start, goal)) in seen or not _is_judged(ring, start, goal):
            continue
        seen.add(frozenset((start, goal)))
        found = _walk(ring, start, goal)
        if found is not None:
            angle, crossed = found
            if not ring.mitres.isdisjoint(crossed):
                continue
            if _crosses_centre(ring, start, goal) and _is_v(
                (math.pi - angle) / 2.0, ring.lines[start[:2]], ring.lines[goal[:2]]
            ):
                continue
            rows.append(JoinRow(".".join(start[:2]), ".".join(goal[:2]), crossed, math.pi - angle))
    return tuple(rows)


def _is_judged(ring: _RingIndex, start: _Corner, goal: _Corner) -> bool:
    """Whether an edge that passes here is to run smooth: lines of one role, not neighbours in a piece."""
    one, two = ring.lines[start[:2]], ring.lines[goal[:2]]
    # The edges of a vent part at its top, which is meant.
    vent = one.role in (Role.SIDE, Role.CENTRE) and Fate.HEMMED in (one.fate, two.fate)
    edges = ring.opened.get(start[:2], ""), ring.opened.get(goal[:2], "")
    slit_end = all(edges) and edges[0] != edges[1]
    return one.role is two.role and ring.neighbour(start) != goal and not vent and not slit_end


def _crosses_centre(ring: _RingIndex, start: _Corner, goal: _Corner) -> bool:
    """Whether a neckline passes here from side to side over a seam down the centre."""
    one, two = ring.lines[start[:2]], ring.lines[goal[:2]]
    beside = {ring.lines[corner[0], ring.neighbour(corner)[1]].role for corner in (start, goal)}
    sides = one.side is not two.side and one.side is two.side.other
    return one.role is Role.NECKLINE and sides and beside == {Role.CENTRE}


def _is_v(off: float, line: Line, following: Line) -> bool:
    """Whether a neckline that is ``off`` (rad) a right angle at the centre, on either side, is meant to be a V."""
    bends = max(abs(line.path.curvature(line.path.length)), abs(following.path.curvature(0.0)))
    return abs(off) >= V_POINT or bends <= STRAIGHT


def check_joins(garment: Garment, brief: Brief, rows: Iterable[JoinRow]) -> tuple[Finding, ...]:
    """Judge the joins, and the necklines where they meet the centre: a right angle, unless a V is meant."""
    bent = (_bend_error(row) for row in rows if abs(row.angle) > TOLERANCE.smooth_join)
    return (*bent, *_centres(garment))


def _bend_error(row: JoinRow) -> Finding:
    crossed = list_sayings((say("the {seam:placed} seam", seam=Name(each)) for each in row.across), last=" and ")
    return Finding(
        "joins.smooth",
        Severity.ERROR,
        row.place,
        row.angle,
        TOLERANCE.smooth_join,
        say(
            "sewn, the edge turns by {turn:.1f} degrees where it crosses {crossed}; up to {smooth:.0f} it looks smooth",
            turn=abs(math.degrees(row.angle)),
            crossed=crossed,
            smooth=math.degrees(TOLERANCE.smooth_join),
        ),
        "let both lines meet the seam at angles that add up to a straight line",
        "rad",
    )


def _centres(garment: Garment) -> Iterator[Finding]:
    for piece in garment.pieces:
        for line, following in zip(piece.ring, piece.ring[1:] + piece.ring[:1], strict=True):
            if line.role is Role.NECKLINE is following.role and line.side is following.side.other:
                yield from _centre(piece.name, line, following)


def _centre(piece: str, line: Line, following: Line) -> Iterator[Finding]:
    """Judge one centre: half of the turn from side to side is how far each half is off the right angle."""
    if line.side is following.side:  # neither has a side: the line was parted, and it isn't the centre
        return
    off = turn(line.path.tangent(line.path.length), following.path.tangent(0.0)) / 2.0
    if abs(off) > TOLERANCE.smooth_join and not _is_v(off, line, following):
        yield Finding(
            "joins.centre",
            Severity.ERROR,
            f"{piece}.{line.name}",
            off,
            TOLERANCE.smooth_join,
            f"the neckline meets the centre {abs(math.degrees(off)):.1f} degrees off a right angle, in a point",
            "let the neckline meet the centre at a right angle, or make it a V",
            "rad",
        )
