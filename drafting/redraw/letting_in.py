"""Letting fullness in: slashes that together make an edge longer by a wanted amount, and where they may run."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from drafting.errors import GeometryError
from drafting.garment.darts import Dart, darts_of, leg_lengths
from drafting.garment.model import Line, Piece
from drafting.garment.places import Place
from drafting.geometry import Path, Point, curvature_profile
from drafting.record import dataclass
from drafting.redraw.mouths import folding
from drafting.redraw.shapes import TIGHTEST
from drafting.redraw.spreading import Slash, chords_within, opened_lengths, point_at, spread_piece
from drafting.saying import Name, Words, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

_LOOKS = 65  # places along an edge at which its bend is looked at

UNSEEN_CORNER = TradeValue(math.radians(4.0), "rad", "from memory")
"""Of turn at a point of an opened edge that is cut round without being seen."""


@dataclass(frozen=True, slots=True)
class Fan:
    """Slashes that together let ``by`` mm into ``lines``: (opening place, pivot) each, all opened equally.

    ``parallel`` moves the parts apart instead of turning them.
    """

    cuts: tuple[tuple[Place, Place], ...]
    lines: tuple[str, ...]
    by: float
    parallel: bool = False


def let_in(piece: Piece, fans: Sequence[Fan], hold: Place) -> Piece:
    """Return the piece spread so that each fan's lines grow by just what it lets in (mm, less than 0 takes out).

    Truing shortens an opened edge a little, so the opening is corrected until the lines have grown by ``by`` within
    the error of a length. Fans must not share lines. GeometryError where that can't be reached.
    """
    before = [_measure(piece, fan.lines) for fan in fans]
    gaps, slopes = [fan.by for fan in fans], [1.0 for _ in fans]
    last: list[tuple[float, float]] = []
    measured = [name for fan in fans for name in fan.lines]
    for _ in range(8):
        slashes = [slash for fan, gap in zip(fans, gaps, strict=True) for slash in _slashes(piece, fan, gap)]
        made = opened_lengths(piece, slashes, hold, measured)
        grown = [sum(made[n] for n in fan.lines) - was for fan, was in zip(fans, before, strict=True)]
        off = [fan.by - g for fan, g in zip(fans, grown, strict=True)]
        if max(map(abs, off)) <= TOLERANCE.arc_length:
            spread_ = spread_piece(piece, slashes, hold)
            _check_smooth(piece, spread_)
            _check_darts(piece, spread_)
            return spread_
        if last:
            slopes = [_slope(*each) for each in zip(gaps, grown, last, slopes, strict=True)]
        last = list(zip(gaps, grown, strict=True))
        gaps = [gap + o / k for gap, o, k in zip(gaps, off, slopes, strict=True)]
    raise GeometryError(say("the opened edge can't be trued: {left} are left", left=mm(max(off, key=abs), 2)))


def _slope(gap: float, grown: float, last: tuple[float, float], slope: float) -> float:
    """How much an edge grows per mm of opening, from two trials; as before where they tell too little."""
    if abs(gap - last[0]) <= TOLERANCE.joint:
        return slope
    return min(max((grown - last[1]) / (gap - last[0]), 0.25), 4.0)


def _check_smooth(old: Piece, new: Piece) -> None:
    """Refuse a piece whose lines have corners, or bends too tight for an allowance, that they didn't have."""
    for was, line in zip(old.ring, new.ring, strict=True):
        if line is not was and _sharpest_corner(line.path) > _sharpest_corner(was.path) + UNSEEN_CORNER:
            raise GeometryError(_tell_bend(line, "be bent to a corner; spread it less, or in more slashes"))
        if line is not was and _bend(line.path) < -1.0 / TIGHTEST < _bend(was.path):
            raise GeometryError(_tell_bend(line, "bend too tightly for its allowance; spread it less, or farther in"))


def _tell_bend(line: Line, how: str) -> Words:
    return say("the {line:placed} would {how}", line=Name(line.name), how=how)


def _check_darts(old: Piece, new: Piece) -> None:
    """Refuse a piece with a dart whose legs a slash made unlike: sewn together they would not end together."""
    for was, dart in zip(darts_of(old), darts_of(new), strict=True):
        if dart.inside:
            continue
        (one, two), before = leg_lengths(dart)[0], leg_lengths(was)[0]
        unlike = abs(one - two - (before[0] - before[1]))
        if unlike > TOLERANCE.same_point or abs(_step(dart) - _step(was)) > TOLERANCE.joint:
            raise GeometryError(
                say("a slash runs into the {title}; spread it beside, or turn the dart away", title=dart.title)
            )


def _step(dart: Dart) -> float:
    """How far apart the ends of a dart's mouth lie once it is folded shut (mm)."""
    return folding(dart).apply(dart.mouth_b).distance(dart.mouth_a)


def _bend(path: Path) -> float:
    """The sharpest of a path's bends to the outer side, looked at along it (1/mm, less than 0)."""
    return float(curvature_profile(path, _LOOKS)[1].min())


def _sharpest_corner(path: Path) -> float:
    return max((abs(angle) for _, angle in path.corners()), default=0.0)


def _slashes(piece: Piece, fan: Fan, gap: float) -> Iterable[Slash]:
    each = gap / len(fan.cuts)
    for opens, pivot in fan.cuts:
        if fan.parallel:
            yield Slash(opens, pivot, apart=each)
            continue
        reach = point_at(piece, opens).distance(point_at(piece, pivot))
        if abs(each) >= reach:
            raise GeometryError(say("a slash {reach} long can't be opened by {each}", reach=mm(reach), each=mm(each)))
        yield Slash(opens, pivot, turn=2.0 * math.asin(each / (2.0 * reach)))


def _measure(piece: Piece, lines: Iterable[str]) -> float:
    return math.fsum(piece.line(name).path.length for name in lines)


def stay_within(piece: Piece, cuts: Iterable[tuple[Place, Place]]) -> bool:
    """Tell whether straight slashes between places on a piece's outline stay within it."""
    return chords_within(piece, [(point_at(piece, one), point_at(piece, two)) for one, two in cuts])


def place_across(piece: Piece, place: Place, direction: Point) -> Place:
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
