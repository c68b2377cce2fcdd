"""Lengthen: the body longer or shorter, at the hem or between bust and waist."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Adjust, Brief, Face, Fact, Garment, Piece, Role, Stage, change, option
from drafting.garment.carry import with_only
from drafting.garment.darts import darts_of, leg_lengths, mouth_edges
from drafting.geometry import root
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.arc_hems import find_centres, lengthen_arc
from drafting.redraw.fullness import ease_sides, let_into
from drafting.redraw.heights import (
    BELOW_HIP,
    HeightShift,
    body_pieces,
    draw_across,
    draw_up_darts,
    drop_unreached,
    extreme,
    find_below_hip,
    is_skirt,
    keep_aims,
    level_height,
    lower_end,
    move_down,
    skirt_pieces,
    stretch_piece,
)
from drafting.redraw.hemline import (
    ADJUST_ROOM,
    LEAST_SIDE,
    carry_hem,
    centre_of,
    find_hemline,
    match_sides,
    refuse_above_underarm,
    spare_side,
    trim_side,
    with_hemline,
)
from drafting.redraw.mouths import true_mouth
from drafting.redraw.open_darts import open_at_hems
from drafting.redraw.vents import shorten_vents
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_REGION = TradeValue(40.0, "mm", "from memory")
"""That remain between the heights of what is lengthened or shortened: less gives a side seam no room to curve
fairly."""

HEM_SOUGHT = TradeValue(80.0, "mm", "from memory")
"""Around the length asked within which the hem that gives it is sought: its centre and its sides part by less."""


ONE_LENGTH = ("by", "to", "below_knee")
"""Of which one is given."""


@dataclass(frozen=True, slots=True)
class LengthenOptions:
    """Options of the change; exactly one of ``by``, ``to`` and ``below_knee`` is given."""

    by: float | None = option(
        "How much longer the garment becomes (less than 0: shorter).",
        "length",
        None,
        low=-400.0,
        high=1000.0,
        one_of=ONE_LENGTH,
    )
    to: float | None = option(
        "Finished length of the garment, from the back neck point to its lower edge at centre back, without a band.",
        "length",
        None,
        low=200.0,
        high=1600.0,
        one_of=ONE_LENGTH,
    )
    below_knee: float | None = option(
        "How far below the middle of the knee the hem hangs (less than 0: above it).",
        "length",
        None,
        low=-400.0,
        high=600.0,
        one_of=ONE_LENGTH,
    )
    at: str = option(
        "Where: at the hem, or at the line between bust and waist, which moves waist and hip too, and a skirt sewn on.",
        "choice",
        "hem",
        choices=("hem", "line"),
    )


@change(
    "lengthen",
    "The garment longer or shorter, by an amount or to a finished length.",
    Stage.SHAPE,
    mends=(Mend("level-off", 'if only the hem is to move, write at = "hem" under change = "{change}"', by_less=True),),
    moves=("waist", "hip"),
)
def lengthen_body(garment: Garment, brief: Brief, o: LengthenOptions) -> Garment:
    """Make the body longer or shorter on both sides, front and back alike."""
    if [o.by, o.to, o.below_knee].count(None) != 2:
        raise CannotDraft(ONE_LENGTH, "give an amount, a finished length or a place beside the knee, one of the three")
    if not body_pieces(garment):
        raise CannotDraft("", "there is no bodice to lengthen", help="let the design have a bodice")
    to = _length_to(brief, o)
    if o.at == "hem":
        by = o.by if o.by is not None else _by_at_hem(garment, to)
        changed = _at_hem(garment, by)
    else:
        by = o.by if o.by is not None else to - back_length(garment)
        changed = _at_line(garment, by)
    where = "at the hem" if o.at == "hem" else "between bust and waist"
    return changed.with_(
        facts=(
            Fact("body_longer", by, "mm", "choice", f"the garment lengthened {where} (less than 0: shortened)"),
            Fact(
                "body_length", back_length(changed), "mm", "choice", "back neck point to lower edge at centre, no band"
            ),
        )
    )  # fmt: skip


def _length_to(brief: Brief, o: LengthenOptions) -> float:
    """The finished length asked for (mm), from the nape."""
    if o.below_knee is None:
        return o.to or 0.0
    return brief.body["back_neck_point_height"] - brief.body["knee_height"] + o.below_knee


def back_length(garment: Garment) -> float:
    """Return the body's length (mm) from the nape, where heights are 0, to its lower edge at centre back."""
    backs = (piece for piece in body_pieces(garment) if piece.face is Face.BACK)
    hems = [[line.path for line in piece.lines(role=Role.HEM)] for piece in backs]
    centres = [centre_of(paths) for paths in hems if paths]
    if not centres:
        raise CannotDraft("to", "there is no hem on the back to measure to")
    return -min(centres, key=lambda p: (round(abs(p.x), 3), p.y)).y


# at the line


def _side_mouths(pieces: Iterable[Piece]) -> Iterator[float]:
    """The lower ends of the mouths of darts in the sides."""
    for piece in pieces:
        for dart in darts_of(piece):
            if not dart.inside and all(edge.role is Role.SIDE for edge in mouth_edges(piece, dart)):
                yield min(dart.mouth_a.y, dart.mouth_b.y)


def region(garment: Garment, by: float) -> HeightShift:
    """Return the heights between which the body is drawn out: below bust, neck, arm and side darts, to the waist."""
    pieces = [piece for piece in body_pieces(garment) if not is_skirt(piece)]
    bust, waist = level_height(pieces, "bust"), level_height(pieces, "waist", highest=True)
    above = extreme(pieces, (Role.NECKLINE, Role.ARMHOLE, Role.SHOULDER), lowest=True)
    hem = extreme(pieces, (Role.HEM, Role.WAIST), lowest=False)
    tops = [y for y in (bust, above, *_side_mouths(pieces)) if y is not None]
    lows = [y for y in (waist, hem) if y is not None]
    if not tops or not lows:
        raise CannotDraft("at", "the bodice has no bust line or no lower edge to lengthen between")
    top, low = min(tops), max(lows)
    if top - low < LEAST_REGION:
        raise CannotDraft(
            "at", say("only {top} lie between the bust line and the waist or hem", top=mm(max(top - low, 0.0))),
            short_by=LEAST_REGION - top + low, help="lengthen at the hem",
        )  # fmt: skip
    if top - low + by < LEAST_REGION:
        raise CannotDraft(
            ("by", "to"), say("only {top} would be left between bust and waist", top=mm(max(top - low + by, 0.0))),
            short_by=LEAST_REGION - top + low - by, help="shorten by less, or at the hem",
        )  # fmt: skip
    return HeightShift(top, low, by)


def _at_line(garment: Garment, by: float) -> Garment:
    stretch = region(garment, by)
    if by == 0.0:
        return garment
    pieces = body_pieces(garment)
    drawn = [move_down(piece, by) if is_skirt(piece) else stretch_piece(piece, stretch) for piece in pieces]
    made = ease_sides(garment.with_(pieces=match_sides(pieces, drawn)))
    made = keep_aims(garment, made)
    for old in pieces:
        new = made.piece(old.name)
        trued_ = _true_mouths(old, new)
        made = made if trued_ is new else let_into(made, new, trued_)
    return made


def _true_mouths(old: Piece, new: Piece) -> Piece:
    """Return a piece drawn out with the mouths of its drawn out darts trued: their legs fold together otherwise now."""
    for was, dart in zip(darts_of(old), darts_of(new), strict=True):
        if not dart.inside and leg_lengths(dart) != leg_lengths(was):
            new = true_mouth(new, dart.name)
    return new


# at the hem


def _at_hem(garment: Garment, by: float) -> Garment:
    if by == 0.0:
        return garment
    refuse_above_underarm(garment, by, ("by", "to"), "shorten it by less")
    lowered = draw_up_darts(_lower_hems(body_pieces(garment), by))
    made = open_at_hems(drop_unreached(garment, lowered, ADJUST_ROOM), ("by", "to"))
    skirt = skirt_pieces(made)
    return made.with_(pieces=[_with_line_below_hip(piece) for piece in body_pieces(made) if piece not in skirt])


def _with_line_below_hip(piece: Piece) -> Piece:
    """The piece with a line to lengthen it at between hip and hem, where there is room for one."""
    others = [each for each in piece.adjusts if each.name != BELOW_HIP]
    hip = level_height([piece], "hip")
    y = find_below_hip(hip, lower_end(piece)) if hip is not None else None
    if y is None:
        return with_only(piece, Adjust, others) if len(others) < len(piece.adjusts) else piece
    x0, _, x1, _ = piece.outline.bounds
    return with_only(piece, Adjust, (*others, Adjust(BELOW_HIP, draw_across(piece, y, x0, x1))))


def _lower_hems(pieces: Iterable[Piece], by: float) -> tuple[Piece, ...]:
    """Return the body pieces whose hems' ends lie lower by ``by``, their sides matched; shorter with their vents."""
    old = tuple(pieces) if by > 0.0 else shorten_vents(pieces, -by)
    return match_sides(old, [_lower(piece, by) for piece in old])


def _lower(piece: Piece, by: float) -> Piece:
    """Return a body piece whose hem's ends lie lower by ``by``, the hem carried along."""
    hem = find_hemline(piece)
    if hem is None:
        return piece
    if centres := find_centres(hem):
        return with_hemline(piece, hem, *lengthen_arc(hem, centres, by))
    before = trim_side(hem.before.path, True, hem.before.path.end.y - by)
    after = trim_side(hem.after.path, False, hem.after.path.start.y - by)
    return with_hemline(piece, hem, carry_hem(piece, hem, before, after), before, after)


def _by_at_hem(garment: Garment, to: float) -> float:
    """Return by how much the hem's side ends go down for the centre back to come to ``to`` mm."""
    body = replace(garment, pieces=body_pieces(garment))
    guess, most = to - back_length(body), spare_side(garment)

    def off(by: float) -> float:
        return back_length(replace(body, pieces=_lower_hems(body.pieces, by))) - to

    low, high = max(guess - HEM_SOUGHT, -most), max(guess + HEM_SOUGHT, HEM_SOUGHT - most)
    try:
        return root(off, low, high, within=TOLERANCE.same_point)[0]
    except GeometryError:
        raise CannotDraft(
            "to",
            say(
                "a garment of {to} would end less than {least_side} below the underarm",
                to=mm(to),
                least_side=mm(LEAST_SIDE),
            ),
            short_by=max(0.0, off(-most)),
            help="ask for a longer one",
        ) from None
