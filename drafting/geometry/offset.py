"""Parallels of a path: which stretches have one, and how the parallels of the stretches are joined."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from drafting.errors import GeometryError, NoAnswer
from drafting.geometry.measure import Array, Table, bend, direction, is_straight
from drafting.geometry.meeting import crossings
from drafting.geometry.parallels import Asked, Piece, parallels
from drafting.geometry.point import turn
from drafting.geometry.shape import line, part_between
from drafting.geometry.solve import halve
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE

BLUNTEST = math.radians(150.0)  # outer corners that turn by more are cut off where a turn of 150 degrees would end
_STRAY = 0.15  # how far off, as a share of its distance, a parallel may start where a fold has taken its start
_BACK = 0.3  # how far before its start, as a share of its distance, a parallel may come out of such a fold
_GRID, _FINE = np.linspace(0.0, 1.0, 33), np.linspace(0.0, 1.0, 513)
_SLOW, _STILL = (
    0.2,
    0.01,
)  # shares of a path's speed: a parallel that slow is looked at closely, and cut where it stands
_LEAST_CUBE = TOLERANCE.same_point**3  # of a speed (mm): a segment that is no longer than a point has none
_OPEN = "the parallel at {:.6g} mm has no {}: the path bends too tightly there"


@dataclass(frozen=True, slots=True)
class SmoothSpan:
    """Pieces whose parallels follow each other smoothly; ``turn`` is the corner before them (0: a fold)."""

    pieces: tuple[Piece, ...]
    turn: float


@dataclass(frozen=True, slots=True)
class Offset:
    """A path's segments (n, 4, 2) and table, how far to the right its parallel lies (mm), and if the path is closed."""

    segments: Array
    table: Table
    d: float
    closed: bool


def parallel_all(asked: Sequence[Offset]) -> list[Array | GeometryError]:
    """Return the segments (n, 4, 2) of each parallel, or why there is none."""
    out: list[Array | GeometryError] = []
    spread: dict[int, list[SmoothSpan]] = {}
    for n, each in enumerate(asked):
        try:
            shifted = _offset_straight(each)
            if shifted is None:
                spread[n] = _spans(each.table, each.d)
                shifted = each.segments
            out.append(shifted)
        except GeometryError as error:
            out.append(error)
    made = parallels([_of_spans(asked[n], spans) for n, spans in spread.items()])
    for (n, spans), parts in zip(spread.items(), made, strict=True):
        try:
            out[n] = _join_spans(asked[n], spans, parts)
        except GeometryError as error:
            out[n] = error
    return out


def _offset_straight(asked: Offset) -> Array | None:
    """Return the parallel of one straight line; None for any other path."""
    coefs = asked.table.coefs
    if len(coefs) > 1 or not is_straight(coefs[0]):
        return None
    n = direction(coefs[0], 0.0).right
    shifted: Array = asked.segments + np.array((asked.d * n.x, asked.d * n.y))
    return shifted


def _of_spans(asked: Offset, spans: Sequence[SmoothSpan]) -> Asked:
    return Asked(asked.table, tuple(span.pieces for span in spans), asked.d)


def _is_whole(asked: Offset, spans: Sequence[SmoothSpan]) -> bool:
    first, last = spans[0].pieces[0], spans[-1].pieces[-1]
    return first[:2] == (0, 0.0) and last[0] == len(asked.table.coefs) - 1 and last[2] == 1.0


def _join_spans(asked: Offset, spans: list[SmoothSpan], made: list[Array] | None) -> Array:
    """Return the parallels of a path's spans joined to one."""
    table, d = asked.table, asked.d
    if made is None:
        raise NoAnswer(say("the parallel at {d} can't be followed", d=mm(d, None)))
    if not asked.closed:
        _cut_off(asked, spans, made)
    for i in range(1, len(made)):
        made[i - 1 : i + 1] = _join_parallels(made[i - 1], made[i], spans[i].turn, d)
    if asked.closed:
        whole = _is_whole(asked, spans)
        _close(made, _corner(table, len(table.coefs) - 1, 0) if whole else 0.0, whole, d)
    result = np.concatenate(made)
    result[1:, 0] = result[:-1, 3]
    return result


def _cut_off(asked: Offset, spans: list[SmoothSpan], made: list[Array]) -> None:
    """Where a bend near an end folds over the parallel's end, let it begin beyond the fold, square to the path's end.

    All of it before the fold lies nearer to the path than it should: a cutter would cut along what comes after.
    """
    first, last = spans[0].pieces[0], spans[-1].pieces[-1]
    found = _cut_at_fold(made, asked, spans[1].turn if len(spans) > 1 else 1.0, first[:2] == (0, 0.0), "start")
    if found is not None:
        del spans[: len(made) - len(found)]
        made[:] = found
    back = Offset(asked.segments[::-1, ::-1], asked.table, -asked.d, False)
    mirrored = [each[::-1, ::-1] for each in reversed(made)]
    whole = last[0] == len(asked.table.coefs) - 1 and last[2] == 1.0
    found = _cut_at_fold(mirrored, back, spans[-1].turn if len(spans) > 1 else 1.0, whole, "end")
    if found is not None:
        del spans[len(found) :]
        made[:] = [each[::-1, ::-1] for each in reversed(found)]


def _cut_at_fold(made: list[Array], asked: Offset, turned: float, whole: bool, end: str) -> list[Array] | None:
    """What is left of a parallel beyond a fold at its start, square to the path there; None where all of it is.

    ``turned`` is 0 at a fold after the first stretch; ``whole`` says that the parallel has a start of its own. One that
    comes out of the fold before the perpendicular begins where it reaches its distance: run straight on from there, as
    it would have been from its start, it leaves the path its room.
    GeometryError where it has no start and doesn't come back near enough to where it should have one.
    """
    if whole and turned != 0.0:
        return None
    at = asked.segments[0, 0]
    way = asked.segments[0, 1] - at
    if not way.any():
        way = asked.segments[0, 2] - at
    out = asked.d / math.hypot(*way) * np.array((way[1], -way[0]))
    tables = [Table(each.tolist()) for each in made[:2]]
    folded = whole and turned == 0.0 and tables[0].total <= abs(asked.d) and not crossings(*tables)
    if whole and not folded:
        return None
    long = made[1:] if folded else made
    table = Table(long[0].tolist())
    found = crossings(Table(_lines(at + (1.0 - _STRAY) * out, at + (1.0 + _STRAY) * out).tolist()), table)
    if not found:
        short = way * (_BACK * abs(asked.d) / math.hypot(*way))
        found = crossings(Table(_lines(at + out - short, at + out).tolist()), table)
    if not found:
        if whole:
            return None
        raise NoAnswer(_OPEN.format(asked.d, end))
    first = min(found, key=lambda each: each.t)
    kept = np.array(part_between(table, first.t, table.total))
    kept[0, 0] = first.point.x, first.point.y
    return [kept, *long[1:]]


def _spans(table: Table, d: float) -> list[SmoothSpan]:
    """Return the stretches of a path that have a parallel, cut at corners and where it folds back."""
    spans: list[SmoothSpan] = []
    pieces: list[Piece] = []
    turned = 0.0
    for piece in _forward_pieces(table, d):
        if pieces:
            i, before = piece[0], pieces[-1]
            meets = (piece[1] == 0.0 and before[2] == 1.0 and before[0] == i - 1) or piece[:2] == before[::2]
            angle = _corner(table, i - 1, i) if meets and piece[1] == 0.0 else 0.0
            if not meets or abs(angle) > TOLERANCE.tangent:
                spans.append(SmoothSpan(tuple(pieces), turned))
                pieces, turned = [], angle if meets else 0.0
        pieces.append(piece)
    if not pieces:
        raise NoAnswer(_OPEN.format(d, "part left"))
    return [*spans, SmoothSpan(tuple(pieces), turned)]


def _corner(table: Table, i: int, j: int) -> float:
    return turn(direction(table.coefs[i], 1.0), direction(table.coefs[j], 0.0))


def _forward_pieces(table: Table, d: float) -> list[Piece]:
    """Return the pieces whose parallel runs forwards: one plus distance times curvature is above 0."""
    k = np.array(table.coefs)[:, :, None]
    speeds = _speeds(k, _GRID, d)
    found: list[Piece] = []
    for i, speed in enumerate(speeds):
        grid, least = _GRID, 0.0
        if 0.0 <= speed.min() < _SLOW:  # it may stand still, or turn back for a moment, between two places looked at
            grid, least = _FINE, _STILL
            speed = _speeds(k[i : i + 1], grid, d)[0]
        ahead = speed >= least
        if ahead.all():
            found.append((i, 0.0, 1.0))
            continue
        cells = np.flatnonzero(ahead[1:] != ahead[:-1]).tolist()
        cuts = [0.0, *(_fold(table, i, grid[n : n + 2].tolist(), d, least) for n in cells), 1.0]
        first = 0 if ahead[0] else 1
        found += ((i, t, u) for t, u in zip(cuts[first::2], cuts[first + 1 :: 2], strict=False) if u > t)
    return found


def _speeds(k: Array, grid: Array, d: float) -> Array:
    """How fast the parallels of segments run at some parameters, as shares of how fast the segments do."""
    vx, vy = ((3.0 * k[:, n] * grid + 2.0 * k[:, n + 2]) * grid + k[:, n + 4] for n in (0, 1))
    ax, ay = (6.0 * k[:, n] * grid + 2.0 * k[:, n + 2] for n in (0, 1))
    square = vx * vx + vy * vy
    cube = square * np.sqrt(square)
    speeds: Array = (cube + d * (vx * ay - vy * ax)) / np.maximum(cube, _LEAST_CUBE)
    return speeds


def _fold(table: Table, i: int, cell: Sequence[float], d: float, least: float) -> float:
    """Return the parameter within a cell of the grid where the parallel turns back, or comes to stand still."""
    k, (low, high) = table.coefs[i], cell

    def ahead(t: float) -> bool:
        return 1.0 + d * bend(k, t) >= least

    return halve(ahead, low, high) if ahead(low) else halve(ahead, high, low)


def _join_parallels(a: Array, b: Array, turned: float, d: float) -> list[Array]:
    """Return two parallels, mitred at an outer corner, trimmed where they cross at an inner one or a fold."""
    if turned * d > 0.0:
        return _mitre_parallels(a, b, turned, abs(d))
    ta, tb = Table(a.tolist()), Table(b.tolist())
    found = crossings(ta, tb)
    if not found:  # a tight bend close to an outer corner: they meet straight on
        far = 4.0 * abs(d)
        ta, tb = Table(_ahead(a, far).tolist()), Table(_ahead(b[::-1, ::-1], far)[::-1, ::-1].tolist())
        found = crossings(ta, tb)
    if not found:
        middle = 0.5 * (a[-1, 3] + b[0, 0])
        if math.hypot(*(a[-1, 3] - b[0, 0])) > 2.0 * TOLERANCE.offset:
            near = f"({middle[0]:.1f}, {middle[1]:.1f})"
            raise NoAnswer(say("the parallel at {d} leaves nothing near {near}", d=mm(d, None), near=near))
        a[-1, 3] = b[0, 0] = middle
        return [a, b]
    best = min(found, key=lambda c: ta.total - c.s + c.t)
    if best.s <= TOLERANCE.same_point or tb.total - best.t <= TOLERANCE.same_point:
        raise NoAnswer(say("the parallel at {d} leaves nothing between two corners", d=mm(d, None)))
    a, b = np.array(part_between(ta, 0.0, best.s)), np.array(part_between(tb, best.t, tb.total))
    a[-1, 3] = b[0, 0] = best.point.x, best.point.y
    return [a, b]


def _mitre_parallels(a: Array, b: Array, turned: float, d: float) -> list[Array]:
    """Return two parallels run straight on to where they meet, or to a blunt end at a very sharp corner."""
    leaves, enters = a[-1, 3] - a[-1, 2], b[0, 1] - b[0, 0]
    reach = d * math.tan(min(abs(turned), BLUNTEST) / 2.0)
    on = a[-1, 3] + leaves * (reach / math.hypot(*leaves))
    back = b[0, 0] - enters * (reach / math.hypot(*enters))
    if abs(turned) <= BLUNTEST:
        on = back = 0.5 * (on + back)
    a, b = _run_on(a, on), _run_on(b[::-1, ::-1], back)[::-1, ::-1]
    return [a, b] if on is back else [a, np.concatenate((_lines(on, back), b))]


def _ahead(a: Array, by: float) -> Array:
    """Return the segments run straight on by a length."""
    way = a[-1, 3] - a[-1, 2]
    size = math.hypot(*way)
    return a if size <= TOLERANCE.same_point else _run_on(a, a[-1, 3] + way * (by / size))


def _run_on(a: Array, to: Array) -> Array:
    """Return the segments run straight on to a point, within the last one if that is straight."""
    last = a[-1]
    if np.abs(3.0 * (last[1] - last[0]) - (last[3] - last[0])).max() < TOLERANCE.same_point:
        return np.concatenate((a[:-1], _lines(last[0], to)))
    return np.concatenate((a, _lines(last[3], to)))


def _lines(a: Array, b: Array) -> Array:
    return np.array((line(*a.tolist(), *b.tolist()),))


def _close(made: list[Array], turned: float, whole: bool, d: float) -> None:
    """Join the last parallel of a ring to its first."""
    if whole and abs(turned) <= TOLERANCE.tangent:
        made[-1][-1, 3] = made[0][0, 0] = 0.5 * (made[-1][-1, 3] + made[0][0, 0])
        return
    if len(made) == 1:
        table = Table(made[0].tolist())
        half = table.total / 2.0
        made[:] = [np.array(part_between(table, 0.0, half)), np.array(part_between(table, half, table.total))]
    made[-1], made[0] = _join_parallels(made[-1], made[0], turned, d)
