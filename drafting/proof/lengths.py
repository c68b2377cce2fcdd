"""Lengths and widths taken on the pieces themselves, as a fitter's tape would take them, beside the body's.

Nothing is read back from what a block noted of itself: each measure goes from point to point of the drawn lines. All
pieces of the trunk lie in the body's frame, its centre at x = 0, so that they can be measured across; a dart that
stands open at the waist is passed as the tape passes it once it is folded.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.body import Body
from drafting.cloth import Kind
from drafting.garment import Brief, BustPoint, Face, Fate, Garment, Level, Piece, Role, Side, Width, hanging_pieces
from drafting.garment.darts import darts_of, intake
from drafting.garment.over_bust import bust_by_length, find_marked_bust, way_over_bust
from drafting.garment.shoulders import find_neck_base
from drafting.geometry import Path, Point
from drafting.proof.checks.ease import measure_garment
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

AT_CENTRE = TradeValue(1.0, "mm", "from memory")
"""From the centre within which a point lies on it."""

WORN_WHOLE = TradeValue(0.85, "share", "from memory")
"""Of the arm from which a sleeve is a long one: a shorter one is meant to be, and isn't held against the arm's
length."""


OVER_BUST = "side neck point to waist over bust"
"""How a front's length over the bust is called, wherever it is told: as the measurement is in a ticket."""

NECK_LOWERED = TradeValue(15.0, "mm", "from memory")
"""Shorter than the body's that a centre front is where its neckline is drawn lower than the neck."""


@dataclass(frozen=True, slots=True)
class TakenMeasure:
    """A measure taken on the pieces (mm), and the body's beside it; None where the body has none."""

    title: str
    body: float | None
    garment: float


def take_lengths(garment: Garment, brief: Brief) -> Iterator[TakenMeasure]:
    """Yield what can be taken on a garment: lengths of the trunk, widths, the sleeves, and what each dart takes in."""
    trunk, body = _Trunk(garment), brief.body
    yield from _lengths(garment, trunk, brief)
    yield from _widths(garment, trunk, body)
    yield from _edges(garment, trunk, body)
    yield from _sleeves(garment, body)
    yield from _darts(garment)


def take_finished(garment: Garment) -> Iterator[TakenMeasure]:
    """Yield how long what is finished is: its back, its sides, its sleeves and what hangs over it, with its bands."""
    trunk = _Trunk(garment)
    bodice, skirt = ([piece for piece in trunk.of(Face.BACK) if _of_trunk(piece) is whole] for whole in (True, False))
    spans = [
        (bodice, Role.NECKLINE, Role.WAIST if skirt else Role.HEM),
        *([(skirt, Role.WAIST, Role.HEM)] * bool(skirt)),
    ]
    ends = [[_at_centre(pieces, role) for role in roles] for pieces, *roles in spans]
    if all(y is not None for pair in ends for y in pair):
        bands = math.fsum(_band_height(garment, Face.BACK, role) for role in (Role.NECKLINE, Role.HEM))
        title = f"centre back, neck edge to hem{', with its bands' if bands else ''}"
        yield TakenMeasure(title, None, bands + math.fsum((a or 0.0) - (b or 0.0) for a, b in ends))
    sides: dict[Side, float] = {}
    for line in (line for piece in trunk.of(Face.BACK) for line in piece.lines(role=Role.SIDE)):
        sides[line.side] = sides.get(line.side, 0.0) + line.path.length
    band = _band_height(garment, Face.BACK, Role.HEM)
    sides = {side: length + band for side, length in sides.items()}
    yield from _both_or_each(f"side seam, underarm to hem{', with its band' if band else ''}", None, sides)
    yield from _finished_sleeves(garment)
    for piece in garment.pieces:
        low = [line.path.bounds[1] for line in piece.lines(role=Role.HEM)]
        if piece.face and piece.name in hanging_pieces(garment) and low:
            yield TakenMeasure(str(piece.title).lower(), None, piece.outline.bounds[3] - min(low))


def _finished_sleeves(garment: Garment) -> Iterator[TakenMeasure]:
    """How long the sleeves are as they are worn, with a cuff or a band at their lower edge."""
    cuffs: dict[Side, float] = {}
    for piece in garment.pieces:
        if piece.lines(role=Role.CAP):
            cuffs[piece.side] = cuff_height(garment, piece)
    banded = " with its cuff or band" if any(cuffs.values()) else ""
    found = {side: length + cuffs.get(side, 0.0) for side, length in _sleeve_lengths(garment).items()}
    yield from _both_or_each(f"sleeve{banded}, top of its cap to its lower edge", None, found)


def cuff_height(garment: Garment, sleeve: Piece) -> float:
    """Return how far (mm) a cuff or a band lengthens a sleeve; 0 where it has none."""
    return max(_heights(garment, sleeve, Role.WRIST), default=0.0)


def _band_height(garment: Garment, face: Face, role: Role) -> float:
    """How far (mm) a band reaches beyond the edges of a role on a face's trunk; 0 where there is none."""
    pieces = (piece for piece in _Trunk(garment).of(face))
    return max((high for piece in pieces for high in _heights(garment, piece, role)), default=0.0)


def _heights(garment: Garment, piece: Piece, role: Role) -> Iterator[float]:
    """How high each band is that is sewn on to lengthen the edges of a role on a piece; a binding lies round them."""
    edges = {line.name for line in piece.lines(role=role) if line.fate is not Fate.BOUND}
    for seam in garment.seams:
        uses = tuple(seam.uses())
        if any(use.piece == piece.name and use.line in edges for use in uses):
            bands = {use.piece for use in uses if garment.line(use).role is Role.BAND}
            yield from (_band_across(garment.piece(name)) for name in sorted(bands))


def _band_across(band: Piece) -> float:
    """How high (mm) a band is: its ends slant where it is mitred, and its box is higher where it is curved."""
    _, low, _, high = band.outline.bounds
    return min((high - low, *(line.path.length for line in band.lines(role=Role.END))))


def _at_centre(pieces: Iterable[Piece], role: Role) -> float | None:
    """The height at which a line of a role lies at the centre of some pieces; None where none does."""
    return next((point.y for point in _ends(pieces, role) if abs(point.x) < AT_CENTRE), None)


class _Trunk:
    """The points of a garment's trunk that a tape is laid to, each None where the garment doesn't have it."""

    def __init__(self, garment: Garment) -> None:
        hanging = hanging_pieces(garment)
        trunk = [piece for piece in garment.pieces if piece.face and piece.name not in hanging]
        self._of = {face: [piece for piece in trunk if piece.face is face] for face in (Face.FRONT, Face.BACK)}

    def of(self, face: Face) -> list[Piece]:
        """The pieces of a face."""
        return self._of[face]

    def along(self, role: Role) -> float:
        """How long all lines of a role are."""
        lines = (line for face in self._of for piece in self._of[face] for line in piece.lines(role=role))
        return math.fsum(line.path.length for line in lines)

    def neck(self, face: Face) -> Point | None:
        """The neckline's point at the centre."""
        ends = list(_ends(self._of[face], Role.NECKLINE))
        return min(ends, key=lambda p: abs(p.x), default=None)

    def underarm(self) -> float | None:
        """The height at which the back's armholes end below."""
        lines = [line.path for piece in self._of[Face.BACK] for line in piece.lines(role=Role.ARMHOLE)]
        return min((path.bounds[1] for path in lines), default=None)

    def waist(self, face: Face, x: float) -> float | None:
        """The height of the waist level at x, or at its end nearest to there, where a dart lies open."""
        levels = [lv for piece in self._of[face] for lv in piece.levels if lv.name == "waist" and _of_trunk(piece)]
        found = [_nearest_point(level, x) for level in levels]
        return min(found, key=lambda p: abs(p.x - x)).y if found else None


def waist_height(garment: Garment, face: Face, x: float) -> float | None:
    """Return the height of the waist level of a face at x (mm), or at its end nearest to there; None without one."""
    return _Trunk(garment).waist(face, x)


def _sign(side: Side) -> float:
    """On a front the wearer's left lies at +x."""
    return 1.0 if side is Side.LEFT else -1.0


def _of_trunk(piece: Piece) -> bool:
    return not any(line.answers_to("waist") for line in piece.ring)


def _ends(pieces: Iterable[Piece], role: Role) -> Iterator[Point]:
    for piece in pieces:
        for line in piece.lines(role=role):
            yield from (line.path.start, line.path.end)


def _nearest_point(level: Level, x: float) -> Point:
    path: Path = level.path
    s, _ = path.nearest(Point(x, (path.start.y + path.end.y) / 2.0))
    return path.at(s)


def _lengths(garment: Garment, trunk: _Trunk, brief: Brief) -> Iterator[TakenMeasure]:
    body = brief.body
    has_back, low = trunk.neck(Face.BACK) is not None, trunk.waist(Face.BACK, 0.0)
    if has_back and low is not None:  # heights are 0 at the back neck point, however low the neckline is drawn
        yield TakenMeasure("back neck point to waist", body["back_neck_point_to_waist"], -low)
    neck, waist = trunk.neck(Face.FRONT), trunk.waist(Face.FRONT, 0.0)
    if neck is not None and waist is not None:
        own, taken = body["front_neck_point_to_waist"], neck.y - waist
        lowered = own - taken > NECK_LOWERED
        yield TakenMeasure("centre front, neckline to waist", None if lowered else own, taken)
    underarm = trunk.underarm()
    if has_back and underarm is not None:
        yield TakenMeasure("scye depth length", body["scye_depth_length"], -underarm)
    yield from _both_or_each("side neck point to bust point", body["side_neck_point_to_bust_point"], _to_bust(garment))
    yield from _both_or_each(OVER_BUST, body["side_neck_point_to_waist_over_bust"], _over_bust(garment, brief))


def has_bust_darts(garment: Garment, brief: Brief) -> bool:
    """Return whether a front is drafted with bust darts: a woven's is, be they turned into seams."""
    return brief.cloth.kind is Kind.WOVEN or any(piece.of_kind(BustPoint) for piece in garment.pieces)


def take_over_bust(garment: Garment, brief: Brief, side: Side) -> float | None:
    """Return how long a front is (mm) from the neck base over the bust point to the waist; None where it can't be told.

    The bust point is the one that is marked; on a front parted over it, or without bust darts, the body's, along its
    length from the neck.
    """
    neck = find_neck_base(garment, side)
    bust = neck and (find_marked_bust(garment, side) or bust_by_length(brief.body, neck))
    if neck is None or bust is None:
        return None
    waist = waist_height(garment, Face.FRONT, bust.x * _sign(side))
    return None if waist is None else way_over_bust(neck, bust, waist)


def _to_bust(garment: Garment) -> dict[Side, float]:
    ends = {side: (find_neck_base(garment, side), find_marked_bust(garment, side)) for side in (Side.LEFT, Side.RIGHT)}
    return {side: a.distance(b) for side, (a, b) in ends.items() if a is not None and b is not None}


def _over_bust(garment: Garment, brief: Brief) -> dict[Side, float]:
    taken = {side: take_over_bust(garment, brief, side) for side in (Side.LEFT, Side.RIGHT)}
    return {side: length for side, length in taken.items() if length is not None}


def _widths(garment: Garment, trunk: _Trunk, body: Body) -> Iterator[TakenMeasure]:
    left, right = find_marked_bust(garment, Side.LEFT), find_marked_bust(garment, Side.RIGHT)
    if left is not None and right is not None:
        yield TakenMeasure("bust point width", body["bust_point_width"], left.x + right.x)
    across = measure_garment(garment, Width("across-front"))
    if across is not None:
        yield TakenMeasure("across front width", body["across_front_width"], across)


def _edges(garment: Garment, trunk: _Trunk, body: Body) -> Iterator[TakenMeasure]:
    """The neck seam, the hem of a skirt and its length, and how long a closure is."""
    neck = trunk.along(Role.NECKLINE)
    if neck:
        yield TakenMeasure("neck seam, right round", body["neck_base_girth"], neck)
    skirts = [piece for piece in trunk.of(Face.FRONT) if not _of_trunk(piece)]
    if skirts:
        tops, hems = ([p for p in _ends(skirts, role) if abs(p.x) < AT_CENTRE] for role in (Role.WAIST, Role.HEM))
        if tops and hems:
            yield TakenMeasure("skirt, waist to hem at centre front", None, tops[0].y - hems[0].y)
        yield TakenMeasure("hem, right round", None, trunk.along(Role.HEM))
    for closure in garment.closures:
        yield TakenMeasure("closure", None, garment.run_length(garment.seam(closure.seams[0]).plies[0]))


def _sleeves(garment: Garment, body: Body) -> Iterator[TakenMeasure]:
    found = _sleeve_lengths(garment)
    arm = body["outer_arm_length"]
    whole = all(length >= WORN_WHOLE * arm for length in found.values())
    yield from _both_or_each("sleeve, top of its cap to its lower edge", arm if whole else None, found)


def _sleeve_lengths(garment: Garment) -> dict[Side, float]:
    """How long the sleeve of each side is, from the top of its cap to the middle of its lower edge."""
    found = {}
    for piece in garment.pieces:
        caps = piece.lines(role=Role.CAP)
        low = [line.path for role in (Role.WRIST, Role.HEM) for line in piece.lines(role=role)]
        if caps and low and piece.side:
            top = max(line.path.bounds[3] for line in caps)
            found[piece.side] = top - sum(path.start.y + path.end.y for path in low) / (2.0 * len(low))
    return found


def _darts(garment: Garment) -> Iterator[TakenMeasure]:
    """What each dart takes in at its mouth; two alike are told as one."""
    found: dict[str, dict[Side, float]] = {}
    for piece in garment.pieces:
        for dart in darts_of(piece):
            found.setdefault(dart.words, {})[dart.side] = intake(dart)
    for name, intakes in found.items():
        yield from _both_or_each(f"{name} dart, what it takes in", None, intakes)


def _both_or_each(title: str, body: float | None, found: dict[Side, float]) -> Iterator[TakenMeasure]:
    """One row where left and right are alike, else one for each."""
    if found and max(found.values()) - min(found.values()) < TOLERANCE.sewn_length:
        yield TakenMeasure(title, body, math.fsum(found.values()) / len(found))
        return
    for side, length in found.items():
        yield TakenMeasure(f"{title}, {side}" if side else title, body, length)
