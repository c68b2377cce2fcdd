"""The waist a skirt hangs from: the bodice's lower edge where there is one, else the body's waist with its ease."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Protocol

from drafting.cloth import Kind, ease_for
from drafting.cloth.ease import EASE_IN_CLOTHING
from drafting.errors import CannotDraft
from drafting.garment import Adjust, Brief, Face, Fact, Garment, Line, Piece, Role, Side
from drafting.garment.carry import PartAbove, all_but, only, part_features
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_points import flat_at_waist, flat_below_waist
from drafting.redraw.hemline import fall_square, find_hemline, rise_outwards, trim_side, with_hemline
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SKIRT_WAIST_EASE = TradeValue(16.0, "mm", "published", EASE_IN_CLOTHING)
"""Of ease at the waist of a woven skirt without a bodice: 1/2 to 3/4 in. A knit skirt has none."""

AT_WAIST = TradeValue(15.0, "mm", "common practice")
"""By which a bodice's lower edge may lie off the waist level at the side and still be called its waist: waist lines are
curved."""

SQUARE_OVER = TradeValue(1.0 / 6.0, "share", "from memory", "it is trued over its last few centimetres")
"""Of a half of a waist that is dropped at the centre, over which it turns to meet the side square."""

Half = tuple[Face, Side]

HALVES: tuple[Half, ...] = tuple((face, side) for face in (Face.FRONT, Face.BACK) for side in (Side.LEFT, Side.RIGHT))
"""The four halves of a skirt: front and back, the wearer's left and right."""


@dataclass(frozen=True, slots=True)
class HalfWaist:
    """The sewn waist of one half, from the centre to the side (mm), and where along it the bodice's darts end."""

    length: float
    darts: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Waist:
    """The heights (y, mm, the back neck point at 0), the waist of each half, and the girths with their ease (mm)."""

    waist: float
    hip: float
    halves: Mapping[Half, HalfWaist]
    hip_girth: float
    ease: float
    reason: str
    flat: float
    """How flat the body's front is at the waist: 1, or less over a belly, down to 0."""
    flat_below: float
    """The same below the waist, too."""

    @property
    def girth(self) -> float:
        """The sewn waist, right round."""
        return sum(half.length for half in self.halves.values())

    @property
    def darted(self) -> bool:
        """Whether the bodice has darts at its waist."""
        return any(half.darts for half in self.halves.values())

    @property
    def fall(self) -> float:
        """The height from waist to hip."""
        return self.waist - self.hip


class AsksEase(Protocol):
    """Options that ask for ease at the waist, None to go by rule."""

    @property
    def waist_ease(self) -> float | None:
        """The ease (mm)."""


def waist_of(garment: Garment, brief: Brief, o: AsksEase, forward: float = 0.0) -> Waist:
    """Return the waist to draft a skirt from.

    With a bodice the skirt takes its waist, half by half, so that the two can be sewn, and asks for no ease.
    ``forward`` is how much (mm) of each quarter of a waist without bodice the front takes from the back.
    """
    body = brief.body
    waist = -body["back_neck_point_to_waist"]
    hip_girth = body["hip_girth"] + ease_for(brief.fit, brief.cloth, body).hip
    flat = flat_at_waist(body), flat_below_waist(body)
    trunk = trunk_of(garment)
    if trunk:
        halves = {half: _half_of(trunk, half, waist) for half in HALVES}
        got = sum(half.length for half in halves.values()) - body["waist_girth"]
        reason = "the waist of the bodice it is sewn to"
        return Waist(waist, waist - body["waist_to_hip"], halves, hip_girth, got, reason, *flat)
    woven = brief.cloth.kind is Kind.WOVEN
    given = o.waist_ease
    ease = given if given is not None else SKIRT_WAIST_EASE if woven else 0.0
    rule = "1/2 to 3/4 in for a skirt (a costume-construction text, ch. 16)" if woven else "none in a knit"
    quarter = (body["waist_girth"] + ease) / 4.0
    halves = {(face, side): HalfWaist(quarter + (forward if face is Face.FRONT else -forward)) for face, side in HALVES}
    reason = rule if given is None else "as asked"
    return Waist(waist, waist - body["waist_to_hip"], halves, hip_girth, ease, reason, *flat)


def trunk_of(garment: Garment) -> tuple[Piece, ...]:
    """Return the pieces of a bodice: those of a face with a neckline, a shoulder or an armhole, layers left out."""
    roles = {Role.ARMHOLE, Role.NECKLINE, Role.SHOULDER}
    hanging = {use.piece for seam in garment.seams for i in seam.hangs for use in seam.plies[i]}
    return tuple(
        piece
        for piece in garment.pieces
        if piece.face and piece.name not in hanging and not piece.lines(role=Role.CAP)
        if any(line.role in roles for line in piece.ring)
    )


def lower_edge(piece: Piece) -> tuple[Line, ...]:
    """Return the lines of a piece's lower edge in ring order, darts between them left out."""
    return tuple(ln for ln in piece.ring if ln.opening == "hem" and ln.role in (Role.HEM, Role.WAIST))


def half_across(trunk: Iterable[Piece]) -> float:
    """Return how wide (mm) a half of a bodice is at its waist, front and back on average; 0 where none shows it."""
    found = [level.path.length / 2.0 for piece in trunk for level in piece.levels if level.name == "waist"]
    return math.fsum(found) / len(found) if found else 0.0


def to_waist(piece: Piece, waist: float, half: float) -> Piece:
    """Return a piece of a bodice that ends at the waist: cut off there, if it is longer.

    The cut follows the waist that the piece shows, at centre and sides, else lies at the body's; it bends towards the
    sides to meet them square: by no more there than a level edge is trued by, and as for a piece that is ``half`` wide
    (mm) there on each side, so that front and back end alike.

    CannotDraft where the piece ends above the waist, or has darts that run on below it.
    """
    hem = lower_edge(piece)
    if not hem:
        return piece
    ends = [p.y for line in hem for p in (line.path.start, line.path.end)]
    if max(ends) > waist + AT_WAIST * 2.0:
        raise CannotDraft(
            piece.name,
            say("the {title:lower} ends {ends} above the waist", title=piece.title, ends=mm(max(ends) - waist)),
            short_by=max(ends) - waist,
            help="let the bodice reach the waist",
        )
    if min(ends) > waist - AT_WAIST * 2.0:
        return piece
    if any(line.path.bounds[1] < waist for line in piece.all_lines if line.role is Role.DART):
        raise CannotDraft(
            "", say("the {title:lower} has darts and runs on below the waist", title=piece.title),
            help='end the bodice at the waist: under [blocks.bodice], to = "waist"',
        )  # fmt: skip
    return _cut_off(piece, waist, half)


def _cut_off(piece: Piece, waist: float, half: float) -> Piece:
    found = find_hemline(piece)
    if found is None or len(found.lines) != 2:
        raise CannotDraft(piece.name, "the bodice has no lower edge that runs from side to side")
    left, lowest, right = _waist_of(piece, waist)
    before = _trim_square(found.before.path, True, left, half)
    after = _trim_square(found.after.path, False, right, half)
    a, b, centre = before.end, after.start, Point(0.0, lowest)
    rises = rise_outwards(before, True), rise_outwards(after, False)
    one = _run_out(centre, Point(-a.x, a.y), rises[0]).mirrored().reversed()
    two = _run_out(centre, b, rises[1])
    lines = tuple(replace(line, path=path) for line, path in zip(found.lines, (one, two), strict=True))
    cut = with_hemline(piece, found, lines, before, after)
    cut = part_features(cut, PartAbove(waist + AT_WAIST), only(Adjust))
    return part_features(cut, PartAbove(min(waist, lowest) - TOLERANCE.joint), all_but(Adjust))


def _run_out(centre: Point, end: Point, rise: float) -> Path:
    """From the centre, level, out to the side, to be square to it over its last few centimetres."""
    long = centre.distance(end)
    return Path.cubic(centre, centre + Point(long / 3.0, 0.0), end - Point(1.0, rise).unit * (long * SQUARE_OVER), end)


def _waist_of(piece: Piece, waist: float) -> tuple[float, float, float]:
    """How high the waist lies on a piece (y): at its end at -x, at the centre, and at +x."""
    for path in (level.path for level in piece.levels if level.name == "waist"):
        ends = sorted((path.start, path.end), key=lambda end: end.x)
        return ends[0].y, path.at(path.nearest(Point(0.0, waist))[0]).y, ends[1].y
    return waist, waist, waist


def _trim_square(side: Path, at_end: bool, waist: float, half: float) -> Path:
    """A side cut off at the waist, but for what a seam that is level there rises or falls to meet it square."""
    cut = trim_side(side, at_end, waist)
    return trim_side(side, at_end, waist + fall_square(half, rise_outwards(cut, at_end), above_hip=True))


def _half_of(trunk: tuple[Piece, ...], half: Half, waist: float) -> HalfWaist:
    """Measure one half of a bodice's waist, darts closed, and where its darts end."""
    face, side = half
    half_wide = half_across(trunk)
    pieces = [to_waist(piece, waist, half_wide) for piece in trunk if piece.face is face]
    lines = [(p, line) for p in pieces for line in lower_edge(p) if line.side is side]
    if not lines:
        raise CannotDraft(
            f"{face}, {side}",
            "this half of the bodice has no lower edge",
            help="draft the skirt alone",
        )
    lines.sort(key=lambda found: _reach_outward(found[1].path))
    at, darts = 0.0, []
    for (piece, line), following in zip(lines, [*(p for p, _ in lines[1:]), None], strict=True):
        at += line.path.length
        if following is piece:
            darts.append(at)
    return HalfWaist(at, tuple(darts))


def _reach_outward(path: Path) -> float:
    return abs(path.start.x + path.end.x)


def waist_facts(w: Waist) -> tuple[Fact, ...]:
    """What the maker is told of the waist."""
    return (Fact("skirt_waist_ease", w.ease, "mm", "ease", w.reason),)
