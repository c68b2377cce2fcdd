"""The outline of a facing for neck and armholes in one, walked along the garment's own lines.

Of each front and back the walk goes from one side seam (or an opened centre) up the armhole, along shoulder and neck
and down to the other. Where it comes to a dart it goes on as the dart lies sewn, and where to a seam, on the piece
beyond it, laid beside the first: whatever becomes of neck, armhole, shoulder, panels or darts, the facing follows.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Garment, Line, Piece, Role, Run, Seam, Use
from drafting.garment.applied import find_faces
from drafting.garment.darts import darts_of
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.redraw.mouths import folding
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import SHOULDER, SIDE

DEEPER_AT_CENTRE = TradeValue(20.0, "mm", "from memory", "7 cm below the neck for 5 below the underarm")
"""By which a facing in one reaches farther below the neck than below the underarm."""

DEEPENED = TradeValue(2.0, "mm", "from memory")
"""Step by which its lower edge is let down at the centre, until it keeps clear of the armholes."""

HELD, MOST_HELD = (
    TradeValue(0.02, "share", "from memory"),
    TradeValue(0.93, "share", "from memory"),
)
"""Step by which it runs on farther from the sides, and how far at most."""

KEPT_CLEAR = TradeValue(0.9, "share", "from memory")
"""Of its width that lies everywhere between its lower edge and what it is sewn to."""

TRIED: Final = 50
"""How many such steps are tried."""

LAID_ALONG = TradeValue(120.0, "mm", "from memory")
"""Of a seam from its upper end on, along which the piece beyond is laid beside the one before it."""

HANDLE = TradeValue(0.45, "share", "from memory")
"""Of the way across, that its lower edge runs on square to side and centre."""

_TOP = (Role.NECKLINE, Role.ARMHOLE, Role.SHOULDER)
_SAMPLES = 25


@dataclass(frozen=True, slots=True)
class FacedEdge:
    """An edge of the garment that a facing follows: whose it is, and its path as it lies in the facing.

    ``whole`` is False of a side or centre that it follows only so far down.
    """

    use: Use
    line: Line
    path: Path
    whole: bool = True


@dataclass(frozen=True, slots=True)
class FacedTop:
    """What a front or a back gives its facing: its edges in ring order, and its first and last of side or centre."""

    first: tuple[FacedEdge, ...]
    top: tuple[FacedEdge, ...]
    last: tuple[FacedEdge, ...]

    @property
    def edges(self) -> tuple[FacedEdge, ...]:
        """All its edges, in ring order."""
        return (*self.first, *self.top, *self.last)

    def of(self, role: Role) -> tuple[FacedEdge, ...]:
        """Its edges of one role along the top."""
        return tuple(edge for edge in self.top if edge.line.role is role)


_Lies = tuple[Use, Affine]


def find_tops(garment: Garment, width: float) -> tuple[FacedTop, ...] | None:
    """Return what each front and back gives a facing in one; None where the walk round any of them isn't plain."""
    mates = _find_mates(garment)
    tops = [_follow(garment, mates, start, width) for start in _find_starts(garment)]
    found = [top for top in tops if top is not None]
    return tuple(found) if len(found) == len(tops) >= 2 else None


def _find_starts(garment: Garment) -> Iterator[Use]:
    """The first line of each front and back after a side seam or an opened centre."""
    for piece in garment.pieces:
        if piece.face and piece.name not in find_faces(garment):
            for line in piece.ring:
                if line.role in _TOP and _is_end(garment, piece, piece.before(line.name)):
                    yield Use(piece.name, line.name)


def _is_end(garment: Garment, piece: Piece, line: Line) -> bool:
    return line.role is Role.SIDE or _is_opened(garment, piece, line)


def _is_opened(garment: Garment, piece: Piece, line: Line) -> bool:
    """Whether a line is the edge of a closure down a centre."""
    held = (use for seam in garment.seams if seam.kind.closes for use in seam.uses())
    return line.role is Role.CENTRE and any((use.piece, use.line) == (piece.name, line.name) for use in held)


def _find_mates(garment: Garment) -> Mapping[tuple[str, str], Use]:
    """By each line at the upper end of a seam within a front or a back, where the ring comes to it, the line beyond."""
    mates: dict[tuple[str, str], Use] = {}
    for seam in garment.seams:
        if len(seam.plies) != 2 or seam.kind.by_edge or seam.kind in (SHOULDER, SIDE):
            continue
        for here, there in (seam.plies, seam.plies[::-1]):
            if here and there:
                ends = (here[0], there[0], not here[0].against), (here[-1], there[-1], here[-1].against)
                mates.update({(a.piece, a.line): b for a, b, begins in ends if begins})
    return mates


def _follow(garment: Garment, mates: Mapping[tuple[str, str], Use], start: Use, width: float) -> FacedTop | None:
    """Walk along one front or back; None where the walk ends at neither a side seam nor an opened centre."""
    walk: list[_Lies] = [(start, Affine())]
    while True:
        step = _step_on(garment, mates, *walk[-1])
        if step is None:
            return None
        use, lies = step
        piece = garment.piece(use.piece)
        if _is_end(garment, piece, piece.line(use.line)):
            break
        if piece.line(use.line).role not in _TOP or any(use == each for each, _ in walk):
            return None
        walk.append(step)
    last = _go_down(garment, use, lies, width, ahead=True)
    piece = garment.piece(start.piece)
    first = _go_down(garment, Use(start.piece, piece.before(start.line).name), Affine(), width, ahead=False)
    top = tuple(FacedEdge(u, garment.line(u), garment.line(u).path.transformed(at)) for u, at in walk)
    return _lay_upright(FacedTop(first, top, last))


def _step_on(garment: Garment, mates: Mapping[tuple[str, str], Use], use: Use, lies: Affine) -> _Lies | None:
    """The line that follows round the front or back, past darts as they are sewn, and over seams."""
    piece = garment.piece(use.piece)
    line = piece.after(use.line)
    for _ in range(len(garment.pieces) + len(piece.ring)):
        if line.role is Role.DART:
            dart = next((each for each in darts_of(piece) if each.called == line.dart), None)
            if dart is None:
                return None
            lies, line = folding(dart).then(lies), piece.after(dart.lines[-1].name)
        elif (piece.name, line.name) in mates:
            mate = mates[piece.name, line.name]
            beyond = garment.piece(mate.piece)
            lies = _beside(line.path, beyond.line(mate.line).path).then(lies)
            piece, line = beyond, beyond.after(mate.line)
        else:
            return Use(piece.name, line.name), lies
    return None


def _beside(here: Path, there: Path) -> Affine:
    """How the piece beyond a seam lies: its corner on this one's, the seam's edges along each other from there on."""
    long = min(LAID_ALONG, here.length, there.length)
    way = here.at(long) - here.start
    other = there.at(there.length - long) - there.end
    return Affine.turn(way.angle - other.angle, there.end).then(Affine.move(here.start - there.end))


def _go_down(garment: Garment, use: Use, lies: Affine, width: float, *, ahead: bool) -> tuple[FacedEdge, ...]:
    """A side or an opened centre from its upper end down, in ring order; ``ahead``, the ring goes down it.

    It passes a dart in the side as it lies sewn, and ends where the edge does.
    """
    piece, name, out = garment.piece(use.piece), use.line, []
    kind = piece.line(name).role
    left = width + (DEEPER_AT_CENTRE if kind is Role.CENTRE else 0.0)
    while left > TOLERANCE.sewn_length and piece.line(name).role is kind:
        line = piece.line(name)
        long = min(left, line.path.length)
        part = line.path.between(0.0, long) if ahead else line.path.between(line.path.length - long, line.path.length)
        out.append(FacedEdge(Use(piece.name, name), line, part.transformed(lies), whole=False))
        left -= long
        beyond = piece.after(name) if ahead else piece.before(name)
        dart = next((each for each in darts_of(piece) if beyond.dart and each.called == beyond.dart), None)
        if dart is not None and left > TOLERANCE.sewn_length:
            fold = folding(dart)
            lies = (fold if ahead else _undo(fold, dart.point)).then(lies)
            beyond = piece.after(dart.lines[-1].name) if ahead else piece.before(dart.lines[0].name)
        name = beyond.name
    return tuple(out if ahead else out[::-1])


def _undo(fold: Affine, about: Point) -> Affine:
    """The turn back about a point."""
    away = about + Point(1.0, 0.0)
    return Affine.turn(-(fold.apply(away) - about).angle, about)


def _lay_upright(top: FacedTop) -> FacedTop:
    """The edges moved together so that what lies nearest to the centre lies as it was drafted."""
    held = min(top.top, key=lambda edge: min(abs(edge.line.path.start.x), abs(edge.line.path.end.x)))
    to, at = held.line.path, held.path
    turned = Affine.turn((to.end - to.start).angle - (at.end - at.start).angle, at.start)
    lies = turned.then(Affine.move(to.start - at.start))

    def laid(edges: Sequence[FacedEdge]) -> tuple[FacedEdge, ...]:
        return tuple(replace(edge, path=edge.path.transformed(lies)) for edge in edges)

    return FacedTop(laid(top.first), laid(top.top), laid(top.last))


def draw_lower_edge(top: FacedTop, width: float) -> Path:
    """Draw the lower edge of a facing in one, from its last edge back to its first (ring order).

    Square to side and centre. Until it keeps clear of what is sewn on, it runs on farther from the sides before it
    rises, and of a whole front or back lies lower at the centre.
    """
    edges = [edge.path for edge in top.top if edge.line.role is not Role.SHOULDER]
    for i in range(TRIED):
        path = _draw_edge(top, width, i)
        if all(edge.nearest(point)[1] >= KEPT_CLEAR * width for edge in edges for point in _sample(path)):
            break
    return path


def _draw_edge(top: FacedTop, width: float, step: int) -> Path:
    first, last = top.first[0].path, top.last[-1].path
    start, end = last.end, first.start
    ways = last.tangent(last.length).left, first.tangent(0.0).left
    hold = min(HANDLE + step * HELD, MOST_HELD)
    at_centre = [edges[0].line.role is Role.CENTRE for edges in (top.last, top.first)]
    if any(at_centre):
        holds = [HANDLE if centre else hold for centre in at_centre]
        return _bow(start, ways[0], holds[0], end, ways[1], holds[1])
    lowest = min((point for edge in top.of(Role.NECKLINE) for point in _sample(edge.path)), key=lambda point: point.y)
    across = Point(1.0, 0.0) if end.x > start.x else Point(-1.0, 0.0)
    middle = lowest - Point(0.0, width + DEEPER_AT_CENTRE + step * DEEPENED)
    halves = _bow(start, ways[0], hold, middle, -across, HANDLE), _bow(middle, across, HANDLE, end, ways[1], hold)
    return Path.join(*halves)


def _bow(a: Point, way: Point, hold: float, b: Point, back: Point, hold_back: float) -> Path:
    """A curve that leaves both its ends along a way, and holds to it over a share of the way across."""
    across = abs(b.x - a.x)
    return Path.cubic(a, a + way * (hold * across), b + back * (hold_back * across), b)


def _sample(path: Path) -> list[Point]:
    return [Point(x, y) for x, y in path.points(np.linspace(0.0, path.length, _SAMPLES)).tolist()]


def run_of(garment: Garment, tops: Sequence[FacedTop], role: Role, run: Run) -> tuple[tuple[int, Run], ...]:
    """Return an opening's run in the parts that one facing follows each: which it is, and its uses."""
    owner = {(edge.use.piece, edge.use.line): i for i, top in enumerate(tops) for edge in top.of(role)}
    found = itertools.groupby(run, key=lambda use: owner.get((use.piece, use.line), -1))
    return tuple((i, tuple(uses)) for i, uses in found)


def side_seam(garment: Garment, one: FacedEdge, two: FacedEdge) -> Seam | None:
    """Return the seam that ends at the underarm between two sides."""
    ends = {(edge.use.piece, edge.use.line) for edge in (one, two)}
    for seam in garment.seams:
        whole = seam.kind == SIDE and len(seam.plies) == 2 and all(seam.plies)
        if whole and {(run[-1].piece, run[-1].line) for run in seam.plies} == ends:
            return seam
    return None
