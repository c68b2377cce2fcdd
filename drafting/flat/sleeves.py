"""Sleeves as they hang from the shoulders, each with its cuff: a tube laid flat, half its girth wide."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from drafting.flat.laying import FaceLay
from drafting.flat.marks import GATHER_APART, draw_strokes
from drafting.flat.shapes import FlatKind, FlatShape, Points, even_out, join_points, sample_path
from drafting.flat.stripes import draw_cuff_stripes, draw_sleeve_stripes, find_crown
from drafting.garment import Face, Garment, Piece, Role, Side, Use
from drafting.garment.darts import darts_of
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.work.telling import is_knit

SHORT_AT, LONG_AT = (
    TradeValue(math.radians(40.0), "rad", "from memory"),
    TradeValue(math.radians(20.0), "rad", "from memory"),
)
"""The angle from upright at which a short and a long sleeve hang."""
SHORT_FROM, LONG_FROM = TradeValue(100.0, "mm", "from memory"), TradeValue(350.0, "mm", "from memory")
"""The underarm seam of a short sleeve and of a long one."""


PUFFED_FROM = TradeValue(0.12, "share", "from memory", "1 1/2 in, the most that textbooks ease in, is a tenth")
"""By which a cap is longer than its armhole from which it is gathered: less is eased in."""
PUFF_RISES = TradeValue(0.4, "share", "from memory")
"""Of what is gathered into an armhole that the cap stands above the shoulder."""
STRETCHED_ON = TradeValue(0.3, "share", "from memory")
"""By which a sleeve's end is longer than its cuff from which it is gathered: a knit cuff is stretched on up to this."""
DRAWN_IN = TradeValue(40.0, "mm", "from memory")
"""Above a cuff that the end of a wide sleeve is drawn in over."""


@dataclass(frozen=True, slots=True)
class HungSleeve:
    """A sleeve's own figures (mm): its crown above the underarm, the seam below it, and half its girth at its ends.

    ``cuff`` is half of what its end is drawn up to by a cuff; ``puff`` what its cap is longer than the armhole, where
    that is gathered.
    """

    cap: float
    below: float
    top: float
    end: float
    cuff: float = 0.0
    puff: float = 0.0

    @property
    def drawn_in(self) -> float:
        """By how much its end is drawn in to a cuff (mm), on either side."""
        gathered = self.cuff and self.end > self.cuff * (1.0 + STRETCHED_ON)
        return (self.end - self.cuff) / 2.0 if gathered else 0.0

    @property
    def angle(self) -> float:
        """From upright (rad)."""
        share = (self.below - SHORT_FROM) / (LONG_FROM - SHORT_FROM)
        return float(SHORT_AT + (LONG_AT - SHORT_AT) * min(max(share, 0.0), 1.0))


def find_sleeve(garment: Garment, side: Side) -> tuple[HungSleeve, frozenset[str]] | None:
    """Return a side's sleeve and the names of its pieces; None where there is none."""
    pieces = tuple(piece for piece in garment.pieces if piece.side is side and any(piece.lines(role=Role.CAP)))
    if not pieces:
        return None
    caps = [line.path.bounds for piece in pieces for line in piece.lines(role=Role.CAP)]
    ends = [line.path for piece in pieces for line in piece.lines(role=Role.WRIST)]
    if not ends:
        return None
    low, high = min(box[1] for box in caps), max(box[3] for box in caps)
    top = sum(box[2] - box[0] for box in caps) / 2.0
    hem = sum((path.bounds[1] + path.bounds[3]) / 2.0 for path in ends) / len(ends)
    names = frozenset(piece.name for piece in pieces)
    end, cuff = sum(path.length for path in ends) / 2.0, _cuff_girth(garment, names) / 2.0
    sleeve = HungSleeve(high - low, max(low - hem, 1.0), top, end, cuff, _find_puff(garment, names))
    return sleeve, names


def _cuff_girth(garment: Garment, names: frozenset[str]) -> float:
    cuffs = _find_cuffs(garment, names)
    return sum(line.path.length for cuff in cuffs for line in cuff.lines(role=Role.BAND))


def _find_puff(garment: Garment, names: frozenset[str]) -> float:
    """By how much a cap is longer than the armhole that it is gathered into (mm); 0 where it is eased in."""
    plies = [ply for seam in garment.seams for ply in seam.plies if ply and _is_cap(garment, ply[0], names)]
    sewn = [seam.plies for seam in garment.seams if any(ply in plies for ply in seam.plies)]
    cap = sum(garment.run_length(ply) for both in sewn for ply in both if ply in plies)
    armhole = sum(garment.run_length(ply) for both in sewn for ply in both if ply and ply not in plies)
    return cap - armhole if cap > armhole * (1.0 + PUFFED_FROM) else 0.0


def _is_cap(garment: Garment, use: Use, names: frozenset[str]) -> bool:
    return use.piece in names and garment.line(use).role is Role.CAP


@dataclass(frozen=True, slots=True, eq=False)
class ShownArmhole:
    """An armhole as it lies in the flat, from the shoulder down to the underarm."""

    course: Points

    @staticmethod
    def along(courses: Sequence[Points]) -> ShownArmhole:
        """Put the lines of an armhole in order."""
        down = [course if course[0, 1] >= course[-1, 1] else course[::-1] for course in courses]
        return ShownArmhole(join_points(sorted(down, key=lambda course: -float(course[0, 1]))))


@dataclass(frozen=True, slots=True, eq=False)
class _Frame:
    """Where a sleeve hangs: which way is down it and across it to the body, and its four corners."""

    way: float
    down: Points
    across: Points
    shoulder: Points
    under: Points
    outer: Points
    inner: Points


def hang_sleeve(
    garment: Garment, side: Side, lay: FaceLay, armhole: ShownArmhole, hems: Mapping[str, float]
) -> Iterator[FlatShape]:
    """Yield a sleeve, and its cuff, as they hang from an armhole in the flat; its darts are at the back."""
    found = find_sleeve(garment, side)
    if found is None:
        return
    sleeve, names = found
    frame = _hang(sleeve, armhole)
    yield from _tube(garment, sorted(names), armhole, frame, sleeve, lay)
    yield from _gathers(armhole, frame, sleeve)
    depth = hems.get(f"wrist-{side}", 0.0)
    if depth and is_knit(garment):  # a woven's is sewn blind
        yield FlatShape(FlatKind.STITCHES, np.array([frame.outer, frame.inner]) - frame.down * depth)
    if lay.face is Face.BACK:
        yield from _elbow_darts(garment, sorted(names), frame, sleeve)
    for cuff in _find_cuffs(garment, names):
        by = frame.across * sleeve.drawn_in
        ends = frame.outer + by, frame.inner - by
        yield from _cuff(cuff, ends, frame, lay, find_crown(garment.piece(min(names)), lay.face)[1])


def _hang(sleeve: HungSleeve, armhole: ShownArmhole) -> _Frame:
    shoulder, under = armhole.course[0], armhole.course[-1]
    way = 1.0 if under[0] > 0.0 else -1.0
    sin, cos = math.sin(sleeve.angle), math.cos(sleeve.angle)
    down, inwards = np.array([way * sin, -cos]), np.array([-way * cos, -sin])
    outer = shoulder + down * (sleeve.cap + sleeve.below)
    return _Frame(way, down, inwards, shoulder, under, outer, outer + inwards * sleeve.end)


def _round_crown(frame: _Frame, sleeve: HungSleeve) -> Points:
    """The outer edge: out from the shoulder, round, and down; a puffed one first rises."""
    rise = sleeve.puff * PUFF_RISES
    out = np.array([frame.way, -0.35]) / math.hypot(1.0, 0.35)
    rounded = sleeve.cap * 0.35
    low = frame.outer - frame.down * (sleeve.below + rounded) - frame.across * rise
    first = frame.shoulder + out * (rounded + rise) + (0.0, rise * 2.0)
    end = frame.outer - frame.down * (DRAWN_IN if sleeve.drawn_in else 0.0)
    turn = (frame.shoulder, first, low, end)
    return sample_path(Path.cubic(*(Point(float(x), float(y)) for x, y in turn)))


def _tube(
    garment: Garment,
    names: Sequence[str],
    armhole: ShownArmhole,
    frame: _Frame,
    sleeve: HungSleeve,
    lay: FaceLay,
) -> Iterator[FlatShape]:
    uses = {
        role: tuple(Use(name, line.name) for name in names for line in garment.piece(name).lines(role=role))
        for role in (Role.CAP, Role.UNDERARM, Role.WRIST)
    }
    by = frame.across * sleeve.drawn_in
    above = frame.down * (DRAWN_IN if sleeve.drawn_in else 0.0)
    outer, inner = frame.outer + by, frame.inner - by
    crown = np.concatenate([_round_crown(frame, sleeve), outer[None]])
    underarm = np.stack([inner, frame.inner - above, frame.under])
    area = join_points([crown, underarm, armhole.course[::-1]])
    for name in names:
        yield FlatShape(FlatKind.CLOTH, area, name)
    pieces = [garment.piece(name) for name in names]
    yield from draw_sleeve_stripes(pieces, lay.face, lay.striped, area, (frame.shoulder, frame.across, frame.down))
    yield FlatShape(FlatKind.EDGE, crown)
    yield FlatShape(FlatKind.EDGE, np.array([outer, inner]), uses=uses[Role.WRIST])
    yield FlatShape(FlatKind.EDGE, underarm, uses=uses[Role.UNDERARM])
    yield FlatShape(FlatKind.HIDDEN, armhole.course, uses=uses[Role.CAP])


def _gathers(armhole: ShownArmhole, frame: _Frame, sleeve: HungSleeve) -> Iterator[FlatShape]:
    """Strokes along the upper half of an armhole that a cap is gathered into, and above a cuff."""
    if sleeve.puff:
        upper = armhole.course[: max(len(armhole.course) // 2, 2)]
        even = even_out(upper, GATHER_APART)
        yield from draw_strokes(even if frame.way > 0.0 else even[::-1])
    if sleeve.drawn_in:
        by = frame.across * sleeve.drawn_in
        even = even_out(np.stack([frame.outer + by, frame.inner - by]), GATHER_APART)
        yield from draw_strokes(even[::-1] if frame.way > 0.0 else even)


def _elbow_darts(garment: Garment, names: Sequence[str], frame: _Frame, sleeve: HungSleeve) -> Iterator[FlatShape]:
    """The darts of a sleeve's underarm seam, each as long as it is and as far down."""
    for piece in map(garment.piece, names):
        low = min(line.path.bounds[1] for line in piece.lines(role=Role.CAP))
        for dart in darts_of(piece):
            share = min((low - dart.middle.y) / sleeve.below, 1.0)
            mouth = frame.under + (frame.inner - frame.under) * share
            across = frame.outer - frame.down * sleeve.below * (1.0 - share) - mouth
            wide = sleeve.top + (sleeve.end - sleeve.top) * share
            point = mouth + across * min(dart.middle.distance(dart.point) / wide, 1.0)
            uses = tuple(Use(piece.name, line.name) for line in dart.lines)
            yield FlatShape(FlatKind.DART, np.array([mouth, point]), uses=uses)


def _find_cuffs(garment: Garment, sleeve: frozenset[str]) -> Iterator[Piece]:
    """The cuffs or bands sewn to the wrist of a sleeve."""
    for seam in garment.seams:
        uses: list[Use] = list(seam.uses())
        if any(use.piece in sleeve and garment.line(use).role is Role.WRIST for use in uses):
            names = dict.fromkeys(use.piece for use in uses if garment.line(use).role is Role.BAND)
            yield from (garment.piece(name) for name in names)


def _cuff(cuff: Piece, ends: tuple[Points, Points], frame: _Frame, lay: FaceLay, to_body: float) -> Iterator[FlatShape]:
    outer, inner = ends
    edge = sum(line.path.length for line in cuff.lines(role=Role.EDGE)) / 2.0
    high = max(line.path.length for line in cuff.lines(role=Role.END))
    middle, across = (outer + inner) / 2.0, (inner - outer) / max(float(np.hypot(*(inner - outer))), 1.0)
    edge = (edge + float(np.hypot(*(inner - outer)))) / 2.0  # it is stretched as it is worn
    low = middle + frame.down * high
    ring = np.array([outer, low - across * edge / 2.0, low + across * edge / 2.0, inner])
    edges = tuple(Use(cuff.name, line.name) for line in cuff.ring if line.role is not Role.BAND)
    yield FlatShape(FlatKind.CLOTH, ring, cuff.name)
    yield from draw_cuff_stripes(cuff, to_body, lay.striped, ring, (ring[1], across, frame.down))
    yield FlatShape(FlatKind.EDGE, ring, uses=edges)
    yield FlatShape(FlatKind.SEAM, ring[[0, 3]])
