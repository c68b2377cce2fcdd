"""Heights: drawing a piece out between two of them, lines across it, and what it no longer reaches.

Pieces share the body's frame, so that one pair of heights parts every piece of the body alike.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from drafting.errors import GeometryError
from drafting.garment import (
    Fact,
    Garment,
    Girth,
    Level,
    Line,
    Measure,
    PathFeature,
    Piece,
    Role,
    Slit,
    Width,
    drop_aims,
    measure_of,
    shift_aim,
)
from drafting.garment.carry import (
    AffineMotion,
    PartAbove,
    Redrawing,
    all_but,
    carry_features,
    drop_features,
    follow_edges,
    move_piece,
    only,
    part_features,
    with_features,
)
from drafting.garment.darts import Dart, dart_of, darts_of, intake, leg_lengths, mouth_edges
from drafting.garment.ruled import CUT_OFF
from drafting.garment.told import Ruled
from drafting.geometry import Affine, Path, Point, is_inside
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue


@dataclass(frozen=True, slots=True)
class HeightShift:
    """What lies between the heights ``top`` and ``low`` (y, mm) is drawn out; all below moves down by ``by`` (mm).

    Points keep their x. Handles keep their direction and grow with the height, so that a line keeps its tangents at
    both heights, and one stretch after another is the two in one.
    """

    top: float
    low: float
    by: float

    @property
    def factor(self) -> float:
        """New height over old height of the region."""
        return (self.top - self.low + self.by) / (self.top - self.low)

    def y(self, y: float) -> float:
        """Return where a height goes."""
        if y >= self.top:
            return y
        return y - self.by if y <= self.low else self.top + (y - self.top) * self.factor

    def point(self, at: Point) -> Point:
        """Return where a point goes."""
        return Point(at.x, self.y(at.y))

    def path(self, path: Path) -> Path:
        """Return a path drawn out; the very same path if it lies above the region."""
        near = TOLERANCE.same_point
        _, bottom, _, top = path.bounds
        if bottom >= self.top - near:
            return path
        if top <= self.low + near:
            return path.moved(Point(0.0, -self.by))
        if bottom >= self.low - near and top <= self.top + near and path.is_straight:
            a, b = path.start, path.end
            return Path.straight(Point(a.x, self.y(a.y)), Point(b.x, self.y(b.y)))
        cuts = [s for y in (self.top, self.low) for s in path.cross_level(y)]
        return Path.join(*(self._part(part) for part in path.cut_at(cuts)))

    def _part(self, part: Path) -> Path:
        """Draw out a part that lies above, within or below the region."""
        middle = part.at(part.length / 2.0).y
        if middle >= self.top:
            return part
        if middle <= self.low:
            return part.moved(Point(0.0, -self.by))
        old = part.segments
        new = old.copy()
        new[:, ::3, 1] = self.top + (old[:, ::3, 1] - self.top) * self.factor
        new[:, 1] = new[:, 0] + (old[:, 1] - old[:, 0]) * self.factor
        new[:, 2] = new[:, 3] + (old[:, 2] - old[:, 3]) * self.factor
        return Path.of(new)


def stretch_piece(piece: Piece, stretch: HeightShift) -> Piece:
    """Return a piece drawn out, with all that lies in it; lines above the region stay the very same.

    The legs of a dart that slants are evened where they differ by less than can be sewn. GeometryError where they
    would differ by more.
    """
    ring = tuple(_draw_out(line, stretch) for line in piece.ring)
    drawn = carry_features(replace(piece, ring=ring), stretch, all_but(PathFeature))
    for dart in darts_of(drawn):
        if dart.inside:
            continue
        now = dart_of(drawn, dart.name)  # as the darts before it left it
        one, two = leg_lengths(now)[0]
        apart = abs(one - two)
        if apart > TOLERANCE.sewn_length:
            raise GeometryError(
                say(
                    "drawn out, the legs of the {dart} would differ by {apart}; "
                    "change the length before the dart is moved",
                    dart=dart.title,
                    apart=mm(apart, 1),
                )
            )
        drawn = even_legs(drawn, now)
    across_it = Redrawing(lambda path: _stretch_across(path, stretch, drawn))
    return follow_edges(piece, carry_features(drawn, across_it, only(PathFeature)))


def even_legs(piece: Piece, dart: Dart) -> Piece:
    """Return the piece with both legs of an edge dart as long as they were in the mean.

    Each end of its mouth moves along its leg, and the end of the edge there with it.
    """
    one, two = leg_lengths(dart)[0]
    apart = one - two
    if abs(apart) <= TOLERANCE.same_point / 2.0:
        return piece
    moves = (
        (dart.point - dart.mouth_a).unit * (apart / 2.0),  # towards the point where it is the longer leg
        (dart.mouth_b - dart.point).unit * (apart / 2.0),
    )
    before, after = mouth_edges(piece, dart)
    drawn = dart.with_corners(dart.mouth_a + moves[0], dart.point, dart.mouth_b + moves[1])
    new = {
        **{line.name: line.path for line in drawn.lines},
        before.name: move_start(before.path.reversed(), moves[0]).reversed(),
    }
    new[after.name] = move_start(new.get(after.name, after.path), moves[1])
    ring = tuple(replace(line, path=new[line.name]) if line.name in new else line for line in piece.ring)
    return replace(piece, ring=ring)


def move_start(path: Path, by: Point) -> Path:
    """Return a path with its start, and the handle there, moved by a vector (mm)."""
    segments = path.segments.copy()
    segments[0, :2] += tuple(by)
    return Path.of(segments)


def _draw_out(line: Line, stretch: HeightShift) -> Line:
    """A line drawn out; the straight leg of a dart is ruled straight again between its new ends."""
    path = stretch.path(line.path)
    if line.role is Role.DART and line.path.is_straight and not path.is_straight:
        path = Path.straight(path.start, path.end)
    return line.along(path)


def _stretch_across(path: Path, stretch: HeightShift, piece: Piece) -> Path:
    """A line across the piece goes to its new height; within the region its ends are cut anew on the outline."""
    y = path.start.y
    if y >= stretch.top or y <= stretch.low or not path.is_straight:
        return stretch.path(path)
    return draw_across(piece, stretch.y(y), path.start.x, path.end.x)


def draw_across(piece: Piece, y: float, start: float, end: float) -> Path:
    """Return the line across a piece at the height ``y``, from outline to outline, its ends nearest to two x."""
    found = [line.path.at(s).x for line in piece.all_lines for s in line.path.cross_level(y)] or [start, end]
    a, b = (min(found, key=lambda x: abs(x - wanted)) for wanted in (start, end))
    return Path.straight(Point(a, y), Point(b, y))


def keep_aims(before: Garment, after: Garment) -> Garment:
    """Return ``after`` with the aims of levels whose lengths a change has altered on purpose moved along."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > TOLERANCE.same_point:
            after = shift_aim(after, measure, by)
    return after


def level_total(garment: Garment, measure: Measure) -> float:
    """Return the length (mm) of all levels that show a measure together."""
    return sum(level.path.length for piece in garment.pieces for level in piece.levels if measure_of(level) == measure)


def drop_unreached(garment: Garment, changed: Iterable[Piece], room: float) -> Garment:
    """Return the garment with changed pieces, less the levels that their lower edges have passed, and their aims.

    A level that one piece has lost is lost to all, for it can't be taken round the body any more. Lengthen/shorten
    lines of the changed pieces go where less than ``room`` mm are left below them.
    """
    pieces = tuple(changed)
    limits = {piece.name: lower_end(piece) for piece in pieces}
    near = TOLERANCE.joint
    lost = {v.name: None for p in pieces for v in p.levels if v.path.start.y < limits[p.name] - near}
    new = garment.with_(pieces=pieces)
    kept = tuple(_drop_lost(piece, lost, limits.get(piece.name, -math.inf) + room) for piece in new.pieces)
    new = new.with_(facts=tuple(_tell_cut_off(new, pieces, lost)))
    return drop_aims(replace(new, pieces=kept), (m for n in lost for m in (Girth(n), Width(n))))


def _tell_cut_off(garment: Garment, changed: Sequence[Piece], lost: Collection[str]) -> Iterator[Fact]:
    """Tell of each girth that a slanting lower edge has cut off, of which a part lies above it still."""
    for name in lost:
        levels = [(piece, level) for piece in changed for level in piece.levels if level.name == name and level.girth]
        if levels and all(piece.outline.bounds[1] < level.path.bounds[1] for piece, level in levels):
            above = max(lower_end(piece) - level.path.bounds[1] for piece, level in levels)
            told = say("the hem lies above the {name} on one side, so no {name} girth is told", name=name)
            yield Fact(f"{CUT_OFF}_{name}", above, "mm", "choice", told, Ruled(CUT_OFF, name))


BELOW_HIP = "below-hip"
"""What the line is called at which a body that runs on well below the hip is lengthened there."""

LEAST_BELOW_HIP = TradeValue(150.0, "mm", "from memory")
"""From hip to hem of a body that has a line there."""

BELOW_HIP_SHARE = TradeValue(0.3, "share", "from memory", "above vents")
"""Of the way from hip to hem at which that line lies."""


def find_below_hip(hip: float, hem: float) -> float | None:
    """Return the height of the line below the hip, of a hip line and a hem at these; None where there is no room."""
    return hip - BELOW_HIP_SHARE * (hip - hem) if hip - hem >= LEAST_BELOW_HIP else None


HEM_BELOW_DART = TradeValue(15.0, "mm", "derived", "by drawing")
"""Of cloth that are left between a dart within a piece and its lower edge, to turn it up."""


LEAST_BELOW_WIDEST = TradeValue(60.0, "mm", "from memory", "a waist dart runs out over 10 cm and more where it can")
"""Of a dart within a piece below its widest place: shorter it would bubble, and runs open to the hem instead."""


LEAST_MOUTH = TradeValue(5.0, "mm", "from memory")
"""Of intake at least of a dart where it runs open to a hem: one of less ends above it."""


def draw_up_darts(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Return pieces whose darts within them end sooner, where a hem has come too near to their lower points."""
    return tuple(_draw_up_darts(piece) for piece in pieces)


def _draw_up_darts(piece: Piece) -> Piece:
    hems = [line.path for line in piece.lines(role=Role.HEM)]
    for dart in darts_of(piece) if hems else ():
        left = _left_below(piece, dart, hems) if dart.lower is not None else HEM_BELOW_DART
        short = HEM_BELOW_DART - left
        if short <= 0.0 or dart.lower is None:
            continue
        if _runs_open(dart, left, dart.lower.distance(dart.middle) - short):
            continue
        lower = dart.lower + (dart.middle - dart.lower).unit * (short + TOLERANCE.sewn_length)
        corners = (dart.point, dart.mouth_a, lower, dart.mouth_b, dart.point)
        if len(dart.lines) != len(corners) - 1:
            continue  # a leg in parts is left to be refused
        paths = [Path.straight(one, two) for one, two in pairwise(corners)]
        lines = tuple(replace(line, path=path) for line, path in zip(dart.lines, paths, strict=True))
        piece = _without_slit(piece, dart)
        piece = with_features(piece, (Slit(lines),))
    return piece


def _runs_open(dart: Dart, left: float, remains: float) -> bool:
    """Whether a dart that would end with so little below its widest place is wide enough at the hem to run open."""
    assert dart.lower is not None
    mouth = intake(dart) * -left / dart.lower.distance(dart.middle)
    return remains < LEAST_BELOW_WIDEST and mouth >= LEAST_MOUTH


def _without_slit(piece: Piece, dart: Dart) -> Piece:
    return drop_features(piece, lambda each: isinstance(each, Slit) and each.lines[0].dart == dart.called)


def _left_below(piece: Piece, dart: Dart, hems: Sequence[Path]) -> float:
    """How much (mm) lies below a dart within a piece; less than 0 where it runs over the edge."""
    assert dart.lower is not None
    left = min(path.nearest(dart.lower)[1] for path in hems)
    return left if is_inside(dart.lower, piece.outline.flatten()) else -left


def _drop_lost(piece: Piece, lost: Collection[str], limit: float) -> Piece:
    piece = drop_features(piece, only(Level, called=lost))
    return part_features(piece, PartAbove(limit), all_but(Level, Slit))


def lower_end(piece: Piece) -> float:
    """Return the height (y, mm) of the higher end of a piece's lower edge; minus infinity where it has none."""
    ring = piece.ring
    ends = [
        p.y
        for i, line in enumerate(ring)
        if line.role in (Role.HEM, Role.WRIST)
        for p, beside in ((line.path.start, ring[i - 1]), (line.path.end, ring[(i + 1) % len(ring)]))
        if beside.role is not line.role
    ]
    return max(ends, default=-math.inf)


def body_pieces(garment: Garment) -> tuple[Piece, ...]:
    """Return the pieces that lie on the trunk: those of a face, and no sleeve."""
    return tuple(piece for piece in garment.pieces if piece.face and not piece.lines(role=Role.CAP))


def is_skirt(piece: Piece) -> bool:
    """Tell whether a piece hangs from the waist: it has a waist line of a skirt."""
    return any(line.answers_to("waist") for line in piece.ring)


def skirt_pieces(garment: Garment) -> tuple[Piece, ...]:
    """Return the pieces of a skirt: those that hang from the waist, and those that a yoke's seam parts off below."""
    trunk = body_pieces(garment)
    waists = [line.path.bounds[3] for piece in trunk for line in piece.ring if line.answers_to("waist")]
    if not waists:
        return ()
    top = max(waists) + TOLERANCE.joint
    return tuple(piece for piece in trunk if max(line.path.bounds[3] for line in piece.ring) <= top)


def hangs_alone(garment: Garment) -> bool:
    """Tell whether a garment is a skirt by itself, without a bodice above its waist."""
    trunk = body_pieces(garment)
    return bool(trunk) and len(skirt_pieces(garment)) == len(trunk)


def move_down(piece: Piece, by: float) -> Piece:
    """Return a piece with all that lies in it, ``by`` mm lower."""
    return move_piece(piece, AffineMotion(Affine.move(Point(0.0, -by))))


def extreme(pieces: Iterable[Piece], roles: Iterable[Role], lowest: bool) -> float | None:
    """Return the lowest (or highest) height of the lines of some roles; None if there are none."""
    found = [line.path.bounds for piece in pieces for role in roles for line in piece.lines(role=role)]
    if not found:
        return None
    return min(b[1] for b in found) if lowest else max(b[3] for b in found)


def level_height(pieces: Iterable[Piece], name: str, *, highest: bool = False) -> float | None:
    """Return the height of the level of that name, the lowest (or highest) end of them if they differ; None without."""
    ends = [end.y for p in pieces for v in p.levels if v.name == name for end in (v.path.start, v.path.end)]
    return max(ends, default=None) if highest else min(ends, default=None)
