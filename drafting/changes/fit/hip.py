"""A high hip: on one side the way from the waist over the hip is longer, so the garment is drawn out there.

The side seams of that side are drawn out between waist and hip, front and back alike; all below goes down at the side
and stays at the centre, so that worn, hip line and hem hang level again (common practice in pattern alteration).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Line, Piece, Role, Side, Stage, change, one_side_option, option
from drafting.garment.carry import follow_edges
from drafting.geometry import Point
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.fit_half import NO_SHIFT, move_joints
from drafting.redraw.fit_inner import in_place, move_inner, move_slits
from drafting.redraw.heights import HeightShift, keep_aims, level_height
from drafting.redraw.hemline import match_sides, sides_agree
from drafting.saying import say
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class HighHipOptions:
    """Options of the high hip."""

    by: float = option("How much longer the side seam becomes over the higher hip.", "length", 10.0, low=0.0, high=40.0)
    side: str = one_side_option("Which hip is the higher one.", "left")


@dataclass(frozen=True, slots=True)
class Drop:
    """How points of the half at the side, as on +x, go down: all of ``stretch`` at ``width`` from the centre."""

    stretch: HeightShift
    width: float

    def shift(self, p: Point) -> Point:
        """By how much a point moves: the farther out from the centre it lies, the more.

        Depths below the waist grow by a power of the stretch, so that one change after another is the two in one.
        """
        s, share = self.stretch, min(max(p.x / self.width, 0.0), 1.0)
        depth = s.top - p.y
        if depth <= 0.0:
            return NO_SHIFT
        return Point(0.0, depth * (1.0 - s.factor**share) if p.y > s.low else -s.by * share)


@change(
    "high-hip",
    "One side drawn out between waist and hip, for a wearer whose hip is higher on that side.",
    Stage.FIT,
    mends=(Mend("toile-hip-higher", "by = how much higher the hem hangs there, side = that hip's"),),
)
def fit_high_hip(garment: Garment, brief: Brief, o: HighHipOptions) -> Garment:
    """Draw one side out over the hip, front and back."""
    pieces = [p for p in garment.pieces if p.face and any(v.name == "hip" for v in p.levels)]
    side = Side(o.side)
    if not pieces or not any(p.lines(role=Role.SIDE, side=side) for p in pieces):
        raise CannotDraft(
            "hip", "no piece reaches from the waist to the hip line",
            help="let the bodice end at the hip, or make this change on a skirt",
        )  # fmt: skip
    if o.by == 0.0:
        return garment
    stretch = _region(pieces, brief, o.by)
    made = garment.with_(pieces=[_draw_out(piece, side, stretch) for piece in pieces])
    if not sides_agree(made):
        made = made.with_(pieces=match_sides(pieces, [made.piece(piece.name) for piece in pieces]))
    fact = Fact(
        f"high_hip_{side}", o.by, "mm", "choice", say("the {side} side seam longer between waist and hip", side=side)
    )
    return keep_aims(garment, made).with_(facts=(fact,))


def _region(pieces: Iterable[Piece], brief: Brief, by: float) -> HeightShift:
    pieces = tuple(pieces)
    hip, waist = level_height(pieces, "hip"), level_height(pieces, "waist")
    edges = [line.path.bounds[1] for piece in pieces for line in piece.lines(role=Role.WAIST)]
    tops = [*edges, *([] if waist is None else [waist])]
    if hip is None or not tops:
        raise CannotDraft("waist", "the pieces show no waist to draw the hip out from")
    return HeightShift(min(tops), hip, by)


def _draw_out(piece: Piece, side: Side, stretch: HeightShift) -> Piece:
    sides = piece.lines(role=Role.SIDE, side=side)
    if not sides:
        return piece
    flip = sides[0].path.start.x + sides[0].path.end.x < 0.0
    shift = Drop(stretch, min(min(abs(p.x) for p in (ln.path.start, ln.path.end)) for ln in sides)).shift
    way = in_place(shift, flip)

    def moved(line: Line) -> Line:
        if line.side is not side or line.path.bounds[1] > stretch.top - TOLERANCE.joint:
            return line
        if line.role is Role.SIDE:
            return replace(line, path=stretch.path(line.path))
        return replace(line, path=move_joints(line.path, way)) if line.role is Role.HEM else line

    made = replace(piece, ring=tuple(moved(line) for line in piece.ring))
    made = move_slits(made, side, shift, flip)
    top = stretch.top - TOLERANCE.joint
    made = move_inner(made, {flip: shift}, top, lambda v: v.path.bounds[3] < top)
    return follow_edges(piece, made)
