"""The lower edge of a body piece: its lines from side to side, the lines beside it, and how it is carried along."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from drafting.errors import CannotDraft
from drafting.garment import Fate, Garment, Line, Piece, Role, Side
from drafting.garment.carry import Redrawing, carry_features
from drafting.garment.edges import in_edge
from drafting.geometry import Path, Point, turn
from drafting.record import dataclass
from drafting.redraw.fit_inner import follow_waist
from drafting.redraw.heights import body_pieces, extreme, level_height, lower_end, move_start
from drafting.saying import Name, Words, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import SIDE

LEAST_SIDE = TradeValue(40.0, "mm", "from memory")
"""Of side seam that remain below the underarm where a body is shortened."""

ADJUST_ROOM = TradeValue(30.0, "mm", "from memory")
"""That a body or a sleeve has below its lengthen/shorten line, or it has none."""

LEVEL_RISE = TradeValue(10.0, "mm", "common practice")
"""By which a hem above the hip rises or falls to its side at most, to meet it square: it hangs level as the waist and
the hip do, and is trued over its last few centimetres."""

Array = npt.NDArray[np.float64]

END = {0: (0, 1), -1: (3, 2)}
"""The point at the start and at the end of segments, and its handle."""

FLATTEST_SIDE = TradeValue(0.5, "share", "from memory")
"""Of the way down, as the cosine of its slant, that a side line must run at the hem at least to be run on: 30 degrees
off the level."""


@dataclass(frozen=True, slots=True)
class Hemline:
    """A piece's hem: its ``lines`` in ring order, from -x to +x, and the lines that end and begin at its ends."""

    lines: tuple[Line, ...]
    before: Line
    after: Line

    @property
    def path(self) -> Path:
        """The whole hem as one path."""
        return Path.join(*(line.path for line in self.lines))

    def centre(self) -> Point:
        """The hem's point on x = 0, or its nearest end where it doesn't reach that far."""
        return centre_of([self.path])


def centre_of(paths: Sequence[Path]) -> Point:
    """Return the point of a hem's parts on x = 0, or the end nearest to it where none reaches that far."""
    bounds = [path.bounds for path in paths]
    low, high = min(b[1] for b in bounds) - 1.0, max(b[3] for b in bounds) + 1.0
    straight_up = Path.straight(Point(0.0, low), Point(0.0, high))
    found = [cross.point for path in paths for cross in path.crossings(straight_up)]
    ends = (end for path in paths for end in (path.start, path.end))
    return found[0] if found else min(ends, key=lambda p: abs(p.x))


def find_hemline(piece: Piece) -> Hemline | None:
    """Return a piece's hem, None where it has none; CannotDraft where it is in parts that don't follow each other."""
    ring = piece.ring
    starts = [i for i, line in enumerate(ring) if line.role is Role.HEM and ring[i - 1].role is not Role.HEM]
    if not starts:
        return None
    if len(starts) > 1:
        raise CannotDraft(
            "hem",
            say(
                "the hem of the {name:placed} is in {count} lengths, with other edges between",
                name=Name(piece.name),
                count=len(starts),
            ),
        )
    turned = ring[starts[0] :] + ring[: starts[0]]
    count = next(i for i, line in enumerate(turned) if line.role is not Role.HEM)
    return Hemline(turned[:count], turned[-1], turned[count])


def trim_side(path: Path, at_end: bool, y: float) -> Path:
    """Return a side line cut off, or run straight on along its tangent, so that its lower end lies at height ``y``."""
    end = path.end if at_end else path.start
    if abs(y - end.y) < TOLERANCE.same_point:
        return path
    if y < end.y:
        steep = abs(path.tangent(path.length if at_end else 0.0).y)
        if steep < FLATTEST_SIDE:
            raise CannotDraft("hem", "the line beside the hem runs too level to be lengthened")
        more = (end.y - y) / steep
        return path.extended(0.0, more) if at_end else path.extended(more, 0.0)
    found = path.cross_level(y)
    if not found:
        raise CannotDraft(
            "hem", "so short a bodice would end above the line beside its hem",
            short_by=y - (path.start if at_end else path.end).y,
            help="shorten it by less, or before that line is parted",
        )  # fmt: skip
    return path.between(0.0, found[-1]) if at_end else path.between(found[0], path.length)


def rise_outwards(side: Path, at_end: bool) -> float:
    """Return the slope (mm up per mm outwards) of a hem that meets a side line square, from its lower end."""
    up = -side.tangent(side.length) if at_end else side.tangent(0.0)
    return (up.x if at_end else -up.x) / up.y


def ends_above_hip(piece: Piece, y: float) -> bool:
    """Tell whether a hem whose end lies at a height lies above the hip line, where sides slant to the body's shape."""
    hip = level_height([piece], "hip")
    return hip is None or y > hip + TOLERANCE.sewn_length


def fall_square(half_width: float, slope: float, above_hip: bool) -> float:
    """Return how far (mm) a hem's centre lies below an end that meets its side square, rising by ``slope`` there.

    Below the hip a flared body's hem is as round as it is square to sides and centre; above it is level but for what
    it is trued by.
    """
    fall = 0.5 * half_width * slope
    return max(-LEVEL_RISE, min(fall, LEVEL_RISE)) if above_hip else fall


def carry_hem(piece: Piece, hem: Hemline, before: Path, after: Path) -> tuple[Line, ...]:
    """Return the hem's lines carried along with the ends of the lines beside it.

    The hem keeps its angles to them. Where they meet it at another slope than before, the centre is lowered or
    raised by half of what that slope gives over the half width, so that the hem stays as round as it was; above the
    hip by no more than it is trued by.
    """
    path = hem.path
    old = path.tangent(0.0), path.tangent(path.length)
    new = (
        before.tangent(before.length).turned(turn(hem.before.path.tangent(hem.before.path.length), old[0])),
        after.tangent(0.0).turned(turn(hem.after.path.tangent(0.0), old[1])),
    )
    a, b, a1, b1 = path.start, path.end, before.end, after.start
    at: tuple[float, ...] = (a.x, b.x)
    moves: tuple[Point, ...] = (a1 - a, b1 - b)
    if a.x < 0.0 < b.x:
        ends = ((a, old[0], a1, new[0]), (b, old[1], b1, new[1]))
        lower = sum(_fall(piece, p1, way1) - _fall(piece, p, way) for p, way, p1, way1 in ends) / 2.0
        at = (a.x, 0.0, b.x)
        moves = (moves[0], Point(0.0, (moves[0].y + moves[1].y) / 2.0 - lower), moves[1])
    parts = [_displace_points(line.path.segments, at, moves) for line in hem.lines]
    for part, line, end, way in ((parts[0], hem.lines[0], 0, new[0]), (parts[-1], hem.lines[-1], -1, new[1])):
        _aim(part, end, way)
        if a.x < 0.0 < b.x:
            _keep_within(part, line.path.segments, end, ends_above_hip(piece, float(part[end, END[end][0], 1])))
    return tuple(replace(line, path=Path.of(part)) for line, part in zip(hem.lines, parts, strict=True))


def _fall(piece: Piece, end: Point, direction: Point) -> float:
    return fall_square(end.x, direction.y / direction.x, ends_above_hip(piece, end.y))


def _displace_points(old: Array, at: tuple[float, ...], moves: tuple[Point, ...]) -> Array:
    """Move control points by what is given at some x, straight between; at the centre handles keep their direction."""
    x = old[:, :, 0]
    by = [np.interp(x, at, along) for along in ([p.x for p in moves], [p.y for p in moves])]
    new: Array = old + np.stack(by, axis=2)
    for i, j in ((0, 1), (3, 2)):
        centre = np.abs(old[:, i, 0]) < TOLERANCE.joint
        for n in np.flatnonzero(centre):
            way = old[n, j] - old[n, i]
            grown = abs(new[n, j, 0] - new[n, i, 0]) / abs(way[0]) if abs(way[0]) > TOLERANCE.joint else 1.0
            new[n, j] = new[n, i] + way * grown
    return new


def _aim(segments: Array, end: int, direction: Point) -> None:
    """Turn the handle at one end (0 the start, -1 the end) of new segments into a direction, its reach in x kept."""
    i, j = END[end]
    segments[end, j] = segments[end, i] + (segments[end, j, 0] - segments[end, i, 0]) * _along(direction)


def _keep_within(segments: Array, old: Array, end: int, above_hip: bool) -> None:
    """Shorten the handle at one end, where that lies above the hip, so that the hem doesn't dip on its way.

    One that was shortened before begins anew at a third of its segment, so that cut twice is cut once.
    """
    i, j = END[end]
    inner = 3 - i
    rise, drop = segments[end, j] - segments[end, i], segments[end, inner, 1] - segments[end, i, 1]
    if _is_shortened(old[end], i, j):
        rise *= (segments[end, inner, 0] - segments[end, i, 0]) / 3.0 / rise[0]
    if above_hip and abs(rise[1]) > abs(drop) > TOLERANCE.joint:
        rise *= abs(drop) / abs(rise[1])
    segments[end, j] = segments[end, i] + rise


def _is_shortened(segment: Array, i: int, j: int) -> bool:
    """Whether the handle at an end ends at the height of the segment's other end, and not where it began."""
    return bool(abs(segment[j, 1] - segment[3 - i, 1]) < TOLERANCE.joint < abs(segment[j, 1] - segment[i, 1]))


def _along(direction: Point) -> Array:
    return np.array((1.0, direction.y / direction.x))


def with_hemline(piece: Piece, hem: Hemline, lines: tuple[Line, ...], before: Path, after: Path) -> Piece:
    """Return the piece with its hem and the lines beside it drawn anew, each in its place in the ring."""
    new = {old.name: line for old, line in zip(hem.lines, lines, strict=True)}
    for line, path in ((hem.before, before), (hem.after, after)):
        new[line.name] = line if path is line.path else replace(line, path=path)
    return replace(piece, ring=tuple(new.get(line.name, line) for line in piece.ring))


def sides_agree(garment: Garment) -> bool:
    """Tell whether the side seams still go together.

    Sides that slant differently, as those of a body flared on one face, grow by different lengths between the same
    heights; where that is less than half of what a seam forgives, it is left, and one change after another is the two
    in one.
    """
    for seam in garment.seams:
        for section in seam.sections if seam.kind == SIDE else ():
            lengths = [garment.run_length(run) - ease for run, ease in zip(section.plies, section.ease, strict=True)]
            if max(lengths) - min(lengths) > TOLERANCE.sewn_length / 2.0:
                return False
    return True


def match_sides(before: Iterable[Piece], after: Iterable[Piece]) -> tuple[Piece, ...]:
    """Return changed pieces whose side seams all grew alike: those that grew by more than the least are trued.

    A side that slants more, as that of a flared back does, grows by more between the same heights. It is cut off, or
    run on, at the hem by the difference, as a cutter trues it, and the hem is carried along; so is the waist's edge,
    where a bodice ends in one.
    """
    old = {piece.name: piece for piece in before}
    pieces = list(after)
    for side in (Side.LEFT, Side.RIGHT):
        grown = {i: _side_length(p, side) - _side_length(old[p.name], side) for i, p in enumerate(pieces)}
        hems = {i: by for i, by in grown.items() if _ends_at_side(pieces[i], side)}
        waists = {i: by for i, by in grown.items() if i not in hems and _waist_corner(pieces[i], side)}
        for ends, made in ((hems, _true_side), (waists, _true_at_waist)):
            least = min(ends.values(), key=abs, default=0.0)
            for i, by in ends.items():
                if abs(by - least) > TOLERANCE.arc_length:
                    pieces[i] = made(pieces[i], side, by - least, old[pieces[i].name])
        pieces = _match_vents(old, pieces, side)
    return tuple(pieces)


def _waist_corner(piece: Piece, side: Side) -> tuple[Line, Line] | None:
    """The side line and the waist's edge that meet at the lower corner of a side of the wearer; None without one."""
    for one, two in zip(piece.ring, (*piece.ring[1:], piece.ring[0]), strict=True):
        for seam, waist in ((one, two), (two, one)):
            if seam.role is Role.SIDE and seam.side is side and waist.role is Role.WAIST:
                return seam, waist
    return None


def _true_at_waist(piece: Piece, side: Side, by: float, old: Piece) -> Piece:
    """Return a piece whose side seam ends ``by`` mm sooner along it, in an edge at the waist."""
    corner = _waist_corner(piece, side)
    assert corner is not None
    seam, waist = corner
    if seam.path.end.near(waist.path.start, TOLERANCE.joint):
        new = _end_seam(seam.path, by)
        moved = new.end - seam.path.end
        edge = move_start(waist.path, moved)
    else:
        new = _end_seam(seam.path.reversed(), by).reversed()
        moved = new.start - seam.path.start
        edge = move_start(waist.path.reversed(), moved).reversed()
    paths = {seam.name: new, waist.name: edge}
    ring = tuple(replace(line, path=paths[line.name]) if line.name in paths else line for line in piece.ring)
    return follow_waist(replace(piece, ring=ring))


def _match_vents(old: Mapping[str, Piece], pieces: list[Piece], side: Side) -> list[Piece]:
    """The pieces with the tops of their vents moved along the side, so that what is sewn above them grew alike."""
    sewn = {i: _sewn_length(piece, side) for i, piece in enumerate(pieces) if _vent(piece, side) is not None}
    grown = {i: length - _sewn_length(old[pieces[i].name], side) for i, length in sewn.items()}
    least = min(grown.values(), key=abs, default=0.0)
    return [
        _move_vent(piece, side, grown[i] - least) if abs(grown.get(i, least) - least) > TOLERANCE.arc_length else piece
        for i, piece in enumerate(pieces)
    ]


def _vent(piece: Piece, side: Side) -> Line | None:
    found = [line for line in piece.lines(role=Role.SIDE, side=side) if line.fate is Fate.HEMMED]
    return found[0] if len(found) == 1 else None


def _sewn_length(piece: Piece, side: Side) -> float:
    return math.fsum(ln.path.length for ln in piece.lines(role=Role.SIDE, side=side) if ln.fate is Fate.SEWN)


def _move_vent(piece: Piece, side: Side, by: float) -> Piece:
    """The piece with the seam above a vent shorter by an amount, and the vent as much longer."""
    vent = _vent(piece, side)
    assert vent is not None
    before, after = piece.before(vent.name), piece.after(vent.name)
    first, second = (before, vent) if before.role is Role.SIDE else (vent, after)
    whole = Path.join(first.path, second.path)
    one, two = whole.split(first.path.length + (by if first is vent else -by))
    new = {first.name: one, second.name: two}
    ring = tuple(replace(line, path=new[line.name]) if line.name in new else line for line in piece.ring)
    return replace(piece, ring=ring)


def _side_length(piece: Piece, side: Side) -> float:
    return math.fsum(line.path.length for line in piece.lines(role=Role.SIDE, side=side))


def _ends_at_side(piece: Piece, side: Side) -> bool:
    """Whether the hem of a piece ends at its side seam on a side of the wearer."""
    hem = find_hemline(piece)
    return hem is not None and any(ln.role is Role.SIDE and ln.side is side for ln in (hem.before, hem.after))


def _true_side(piece: Piece, side: Side, by: float, old: Piece) -> Piece:
    """Return a piece whose side seam ends ``by`` mm sooner along it (less than 0: later), at the hem.

    A vent that kept its length keeps it: what differs lies in the seam above.
    """
    hem = find_hemline(piece)
    assert hem is not None
    at_end = hem.before.side is side
    own, above = (hem.before, piece.before(hem.before.name)) if at_end else (hem.after, piece.after(hem.after.name))
    length = own.path.length
    vented = above.role is Role.SIDE and above.side is side and _has_line(old, own.name, length)
    down = (above.path, own.path) if at_end else (own.path, above.path)
    path = Path.join(*down) if vented else own.path
    path = _end_seam(path, by) if at_end else _end_seam(path.reversed(), by).reversed()
    if vented:
        one, two = path.split(path.length - length if at_end else length)
        path, upper = (two, one) if at_end else (one, two)
        ring = tuple(replace(line, path=upper) if line.name == above.name else line for line in piece.ring)
        piece = replace(piece, ring=ring)
    before, after = (path, hem.after.path) if at_end else (hem.before.path, path)
    made = with_hemline(piece, hem, carry_hem(piece, hem, before, after), before, after)
    return carry_features(
        made, Redrawing(lambda path: in_edge(piece, made, path) or path)
    )  # what lies in the hem itself


def _has_line(piece: Piece, name: str, length: float) -> bool:
    """Whether a piece has a line of that name and length."""
    return any(line.name == name and abs(line.path.length - length) <= TOLERANCE.arc_length for line in piece.ring)


def _end_seam(path: Path, by: float) -> Path:
    """Return a path whose end is cut off by a length, or run straight on if that is less than 0."""
    if by < 0.0:
        return path.extended(0.0, -by)
    if by > path.length - TOLERANCE.sewn_length:
        raise CannotDraft(
            "side", "the sides of front and back slant so differently that one would end above the other",
            short_by=by - path.length, help="change the length first, or flare both faces",
        )  # fmt: skip
    return path.between(0.0, path.length - by)


def spare_side(garment: Garment) -> float:
    """Return by how much (mm) the hem's side ends may rise, so that enough of the side seam is left."""
    pieces = body_pieces(garment)
    underarm = extreme(pieces, (Role.ARMHOLE,), lowest=True)
    return (0.0 if underarm is None else underarm) - LEAST_SIDE - max(lower_end(piece) for piece in pieces)


def refuse_above_underarm(garment: Garment, by: float, because: tuple[str, ...], help: Words) -> None:
    """Refuse a hem whose side ends, lowered by ``by`` (mm), leave less than the least side seam.

    ``because`` are the options that ask for it, ``help`` what would mend it.
    """
    short = -by - spare_side(garment)
    if short > 0.0:
        raise CannotDraft(
            because,
            say("less than {least_side} of the side seam would be left below the underarm", least_side=mm(LEAST_SIDE)),
            short_by=short,
            help=help,
        )
