"""How an underarm is moved along the side seam, its armhole drawn again, and what of the piece it cuts off."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from drafting.errors import CannotDraft
from drafting.garment import (
    Adjust,
    Brief,
    Face,
    Garment,
    Girth,
    Level,
    Piece,
    Role,
    Side,
    drop_aims,
)
from drafting.garment.carry import Redrawing, carry_features, drop_features, only
from drafting.geometry import Path, turn
from drafting.redraw.halves import Half, armhole_frame, find_half, put_back, with_armhole
from drafting.redraw.heights import draw_across
from drafting.redraw.over_darts import ARM, work_over_darts
from drafting.redraw.shapes import UNDERARM_ABOVE_WAIST
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LINE_BELOW_UNDERARM = TradeValue(10.0, "mm", "from memory")
"""Below the underarm at least that a line across the piece lies."""


def waist_of(half: Half, brief: Brief) -> float:
    """Return the height of the waist (mm, y): the piece's level, or the body's."""
    levels = (level.path.start.y for level in half.piece.levels if level.name == "waist")
    return next(levels, -brief.body["back_neck_point_to_waist"])


def _refuse(half: Half, y: float, by: float, brief: Brief) -> None:
    """Raise CannotDraft for an underarm raised above the armpit, where a block may have it, or lowered to the waist.

    The back tells how high it lies: a front's is turned up on the paper by its bust dart.
    """
    armpit, lowest = -brief.body["scye_depth_length"], waist_of(half, brief) + UNDERARM_ABOVE_WAIST
    if by < 0.0 and half.face is Face.BACK and y > armpit + TOLERANCE.arc_length:
        raise CannotDraft(
            ("by", "scye_depth_length"), say("the {side} underarm would lie above the armpit", side=half.side),
            short_by=y - armpit, help="raise it less",
        )  # fmt: skip
    if y < lowest - TOLERANCE.arc_length:
        raise CannotDraft(
            ("by", "back_neck_point_to_waist"),
            say(
                "the {side} underarm would lie less than {underarm_above_waist} above the waist",
                side=half.side,
                underarm_above_waist=mm(UNDERARM_ABOVE_WAIST),
            ),
            short_by=lowest - y,
            help="lower it less",
        )


def lower_half(half: Half, brief: Brief, by: float) -> Half:
    """Return the half with its underarm ``by`` mm lower along the side seam, the armhole as square to it as it was.

    A front above a bust dart isn't square to it: drawn so, it would dip, and grow longer than the back.
    """
    seam = half.below_armhole()
    path = half.on_plus_x(seam.path)
    if by > path.length - LINE_BELOW_UNDERARM:
        raise CannotDraft(
            seam.name,
            say(
                "the {side} side seam of the {face} is too short to lower the underarm so far",
                side=half.side,
                face=half.face,
            ),
            short_by=by - path.length + LINE_BELOW_UNDERARM,
            help="lower it less",
        )
    new = path.between(0.0, path.length - by) if by > 0.0 else path.extended(0.0, -by)
    _refuse(half, new.end.y, by, brief)
    old = armhole_frame(half)
    dips = turn(path.tangent(path.length).left, old.leave)
    leave = new.tangent(new.length).left.turned(dips)
    frame = replace(old, underarm=new.end, leave=leave).at_level(old.level)
    return with_armhole(half.with_paths({seam.name: new}), frame)


def lower_underarm(garment: Garment, brief: Brief, side: Side, by: float) -> Garment:
    """Return the garment with one side's underarm ``by`` mm lower, on front and back alike."""
    for face in (Face.FRONT, Face.BACK):
        work = partial(_lower_face, brief=brief, side=side, face=face, by=by)
        garment = work_over_darts(garment, (side,), face, ARM, work, kept=(Role.SIDE,))
    return garment


def _lower_face(garment: Garment, brief: Brief, side: Side, face: Face, by: float) -> Garment:
    half = lower_half(find_half(garment, side, face), brief, by)
    return put_back(garment, [replace(half, piece=_lines_below(half, waist_of(half, brief)))])


def _lines_below(half: Half, waist: float) -> Piece:
    """The piece, a lengthen/shorten line that the armhole has cut off brought down between underarm and waist."""
    underarm = half.path(Role.ARMHOLE).start.y

    def lower(path: Path) -> Path:
        cut_off = path.start.y > underarm - LINE_BELOW_UNDERARM
        ends = sorted((path.start.x, path.end.x))
        return draw_across(half.piece, (underarm + waist) / 2.0, *ends) if cut_off else path

    return carry_features(half.piece, Redrawing(lower), only(Adjust))


def keep_bust(garment: Garment) -> Garment:
    """Drop the bust level, and what was aimed at there, where an armhole now reaches below it."""
    pieces = [piece for piece in garment.pieces if _cuts_bust(piece)]
    if not pieces:
        return garment
    bare = (drop_features(p, only(Level, called=("bust",))) for p in garment.pieces)
    return drop_aims(garment, [Girth("bust")]).with_(pieces=bare)


def _cuts_bust(piece: Piece) -> bool:
    lowest = min((line.path.bounds[1] for line in piece.lines(role=Role.ARMHOLE)), default=None)
    if lowest is None:
        return False
    return any(level.name == "bust" and level.path.start.y > lowest for level in piece.levels)
