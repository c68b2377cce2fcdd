"""Hem: straight or a shirt tail, higher on one side, the back longer than the front."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from drafting.errors import CannotDraft
from drafting.garment import Brief, Face, Fact, Garment, Line, Piece, Role, Stage, change, option
from drafting.geometry import Path, Point, curve_through
from drafting.mending import mend_wavering
from drafting.record import dataclass
from drafting.redraw.heights import body_pieces, draw_up_darts, drop_unreached
from drafting.redraw.hemline import (
    ADJUST_ROOM,
    Hemline,
    find_hemline,
    match_sides,
    refuse_above_underarm,
    rise_outwards,
    trim_side,
    with_hemline,
)
from drafting.redraw.open_darts import open_at_hems
from drafting.saying import Name, mm, say
from drafting.sides import side_or_word
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

STEEPEST_HEM = TradeValue(0.6, "share", "from memory")
"""Of its width that a half hem may rise from the centre to its side: a steeper one can't be turned up without pleats,
and runs into the side seam like a corner."""


ROUND_FROM = TradeValue(0.6, "rad", "from memory", "a flared body's hem rises less towards its sides")
"""Off the level, that a hem meets the sides by where it is one round a circle."""

ROUND_POINTS = 12
"""Through so many points each half of a round hem is drawn."""


@dataclass(frozen=True, slots=True)
class HemOptions:
    """Options of the change."""

    shape: str = option(
        "Straight, or curved like a shirt tail: lowest at the centres, higher at the sides.",
        "choice",
        "straight",
        choices=("straight", "curved"),
    )
    rise: float = option("How much higher the sides of a curved hem lie.", "length", 50.0, low=5.0, high=200.0)
    higher: str = option(
        "The side on which the hem lies higher; the other side stays where it is.",
        "choice",
        "none",
        choices=("none", "left", "right"),
    )
    by: float = option("How much higher the hem lies on that side.", "length", 60.0, low=5.0, high=400.0)
    longer_at_back: float = option(
        "How much lower the hem lies at centre back than by rule.", "length", 0.0, low=0.0, high=250.0
    )


@change(
    "hem",
    "The hem straight or curved, higher on one side, or longer at the back.",
    Stage.SHAPE,
    mends=mend_wavering(Role.SIDE, Role.HEM),
)
def shape_hem(garment: Garment, brief: Brief, o: HemOptions) -> Garment:
    """Draw the hem anew; front and back end at the same height on each side seam and meet it square."""
    pieces = body_pieces(garment)
    if not pieces:
        raise CannotDraft("", "there is no bodice with a hem", help="let the design have a bodice")
    _refuse_high(garment, o)
    drawn = draw_up_darts(match_sides(pieces, [_piece(piece, o) for piece in pieces]))
    return open_at_hems(drop_unreached(garment.with_(facts=_facts(o)), drawn, ADJUST_ROOM), ("rise", "by"))


def _refuse_high(garment: Garment, o: HemOptions) -> None:
    """Refuse a hem whose higher side comes too near the underarm."""
    rise, by = o.rise if o.shape == "curved" else 0.0, o.by if o.higher != "none" else 0.0
    because = (*(("rise",) if rise else ()), *(("by",) if by else ()))
    help = say("raise the {side} hem by less", side=side_or_word(o.higher)) if by else "let the sides rise by less"
    refuse_above_underarm(garment, -rise - by, because, help)


def _facts(o: HemOptions) -> tuple[Fact, ...]:
    found = []
    if o.shape == "curved":
        found.append(Fact("hem_rise", o.rise, "mm", "choice", "the sides of the hem lie higher than its centres"))
    if o.higher != "none":
        found.append(Fact(f"hem_higher_{o.higher}", o.by, "mm", "choice", "the hem lies higher on this side"))
    if o.longer_at_back > 0.0:
        found.append(Fact("hem_longer_at_back", o.longer_at_back, "mm", "choice", "the hem lies lower at centre back"))
    return tuple(found)


def _piece(piece: Piece, o: HemOptions) -> Piece:
    hem = find_hemline(piece)
    if hem is None:
        return piece
    whole = hem.before.role is Role.SIDE is hem.after.role and hem.path.start.x < 0.0 < hem.path.end.x
    if not whole or len(hem.lines) > 2:
        raise CannotDraft(
            "shape",
            say("the hem of the {name:placed} doesn't run from one side seam to the other", name=Name(piece.name)),
            help="draw the hem before the piece is parted",
        )  # fmt: skip
    if _is_round(hem):
        _refuse_round(hem, o)
        lines = _drop_round(hem, o.longer_at_back if piece.face is Face.BACK else 0.0)
        return with_hemline(piece, hem, lines, hem.before.path, hem.after.path)
    before = trim_side(hem.before.path, True, hem.path.start.y + _rise_of(hem.before, o))
    after = trim_side(hem.after.path, False, hem.path.end.y + _rise_of(hem.after, o))
    lines = _draw_hem(hem, before, after, piece.face, o)
    return with_hemline(piece, hem, lines, before, after)


def _is_round(hem: Hemline) -> bool:
    """Whether a hem runs round a circle, as of a skirt: it is far from level where it meets the sides."""
    path = hem.path
    return max(abs(path.tangent(s).angle) for s in (0.0, path.length)) > ROUND_FROM


def _refuse_round(hem: Hemline, o: HemOptions) -> None:
    asked = [name for name, given in (("shape", o.shape == "curved"), ("higher", o.higher != "none")) if given]
    if asked:
        raise CannotDraft(
            tuple(asked), "the hem runs round a circle: it has no level line to be drawn from",
            help="leave that out; a round hem can be longer at the back (longer_at_back)",
        )  # fmt: skip


def _drop_round(hem: Hemline, by: float) -> tuple[Line, ...]:
    """A round hem lower at its centre by ``by`` (mm), running out softly to nothing at the sides, square to both."""
    if by == 0.0:
        return hem.lines
    whole = hem.path
    length, middle = whole.length, whole.nearest(hem.centre())[0]

    def lower(s: float) -> Point:
        share = s / middle if s <= middle else (length - s) / (length - middle)
        return whole.at(s) + whole.tangent(s).right * (by * share * share * (3.0 - 2.0 * share))

    drawn, begins = [], 0.0
    for line in hem.lines:
        ends = begins + line.path.length
        stops = sorted({begins, ends, *((middle,) if begins < middle < ends else ())})
        at = [a + (b - a) * i / ROUND_POINTS for a, b in pairwise(stops) for i in range(ROUND_POINTS)]
        path = line.path
        curve = curve_through([lower(s) for s in (*at, ends)], path.tangent(0.0), path.tangent(path.length))
        drawn.append(replace(line, path=curve))
        begins = ends
    return tuple(drawn)


def _rise_of(side: Line, o: HemOptions) -> float:
    """How much higher (mm) a side end of the hem lies than before."""
    return (o.rise if o.shape == "curved" else 0.0) + (o.by if side.side == o.higher else 0.0)


def _draw_hem(hem: Hemline, before: Path, after: Path, face: Face, o: HemOptions) -> tuple[Line, ...]:
    """Draw both halves of a hem as one smooth curve from side to side, square to both sides."""
    a, b = before.end, after.start
    rises = rise_outwards(before, True), rise_outwards(after, False)
    if o.shape == "curved":
        height = hem.centre().y + (o.by / 2.0 if o.higher != "none" else 0.0)
    else:
        height = (a.y + b.y) / 2.0 - (rises[1] * b.x - rises[0] * a.x) / 4.0
    centre = Point(0.0, height - (o.longer_at_back if face is Face.BACK else 0.0))
    _refuse_steep(a, b, centre)
    slope = _slope(a, b, centre, rises)
    one, two = _span(a, -rises[0], centre, slope), _span(centre, slope, b, rises[1])
    if len(hem.lines) == 1:
        return (replace(hem.lines[0], path=Path.join(one, two)),)
    if abs(hem.lines[0].path.end.x) > TOLERANCE.joint:
        raise CannotDraft("shape", "the hem is parted away from the centre", help="draw the hem before that")
    return (replace(hem.lines[0], path=one), replace(hem.lines[1], path=two))


def _refuse_steep(a: Point, b: Point, centre: Point) -> None:
    for end in (a, b):
        steep = abs(end.y - centre.y) - STEEPEST_HEM * abs(end.x)
        if steep > 0.0:
            raise CannotDraft(
                ("rise", "by", "longer_at_back"),
                say("the hem would rise by {y} over {x} of width", y=mm(abs(end.y - centre.y)), x=mm(abs(end.x))),
                short_by=steep, help="let the sides rise by less, or the back drop by less",
            )  # fmt: skip


def _slope(a: Point, b: Point, c: Point, rises: tuple[float, float]) -> float:
    """Return the slope at the centre (mm up per mm towards +x) at which the curvature is the same from both halves."""
    g, h = -a.x, b.x
    pull = 6.0 * ((b.y - c.y) / (h * h) - (a.y - c.y) / (g * g)) - 2.0 * (rises[1] / h - rises[0] / g)
    return pull / (4.0 * (1.0 / g + 1.0 / h))


def _span(a: Point, start: float, b: Point, end: float) -> Path:
    """Return the cubic in x between two points with these slopes (mm up per mm towards +x)."""
    third = (b.x - a.x) / 3.0
    return Path.cubic(a, a + Point(third, start * third), b - Point(third, end * third), b)
