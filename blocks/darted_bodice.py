"""The darted bodice: front and back of a fitted bodice in woven cloth, whole, drafted from one body's own measurements.

The order of the draft, half by half:

    1  heights, widths, neck and the shares of the waist's suppression       darted_frame, waist_darts
    2  the back: side seam, waist, shoulder with its dart, armhole           darted_back
    3  the front: bust point, side seam as long as the back's, bust dart     darted_front
    4  underarm lowered until the armhole has the length the arm needs       here
    5  both halves joined, seams, facts, aims                                here
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache

from blocks.arm import draw_with_room
from blocks.darted_back import BackHalf, back_lines, draw_back
from blocks.darted_facts import DartedBodiceOptions, DartedSide, aims_of, facts_of
from blocks.darted_frame import (
    LEAST_BUST_DART,
    WOVEN_ARMHOLE_SHARE,
    DartedFrame,
    Neck,
    Widths,
    make_frame,
    raise_shoulder,
    slopes,
    solve_neck,
    widths,
)
from blocks.darted_front import FrontHalf, draw_front, front_lines, place_dart
from blocks.darted_pieces import dart_seams, whole_piece
from blocks.neck import MOST_LENGTHENED
from drafting.cloth import EaseTable, ease_for
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Brief, Face, Garment, Piece, Role, Side, Solve, Stage, block
from drafting.garment.seam import Run, Seam, Section, Use
from drafting.geometry import root
from drafting.redraw.shapes import STRAIGHTEST, armhole_spare
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row
from drafting.work.kinds import DART, SHOULDER, SIDE

SIDE_LEANS = trade_row((-0.35, 0.15), "times", "from memory")
"""Of its depth by which the side seam may lean at the underarm to fit the upper chest: inwards (19 degrees), and
outwards (9 degrees)."""

CHEST_SPARE = TradeValue(12.5, "mm", "derived", "half of what a close fit has there")
"""By which half the garment may have less ease at the upper chest than at the bust."""

SCYE_STEP = TradeValue(30.0, "mm", "derived", "the surveys' bodies need up to 8 cm")
"""By which the underarm is lowered at a time while the armhole is too short, three times at most: beyond 9 cm the
armscye girth can't be right for the scye depth."""
MOST_STEPS = 3

LEAST_BELOW_ARM = TradeValue(70.0, "mm", "from memory")
"""Of side seam that are left below the lowest underarm."""


def draw_half(frame: DartedFrame, o: DartedBodiceOptions, underarm: float) -> tuple[FrontHalf, BackHalf]:
    """Draw front and back of one half with the back's underarm at the height ``underarm`` (mm, y)."""
    level, dart = place_dart(frame, underarm, o.bust_dart_drop)
    back = draw_back(frame, underarm, level)
    front = draw_front(replace(frame, dart=dart), back.flank.length, level, o.set_back)
    # What the front's armhole is more than square to its side seam, the back's is less.
    arm = replace(back.arm, leave=back.arm.leave.turned(-front.dip))
    return front, replace(back, arm=arm)


def lean_to_chest(frame: DartedFrame, o: DartedBodiceOptions, underarm: float) -> DartedFrame:
    """Lean the side seam until front and back are as wide at the underarm as the upper chest and the bust's ease.

    The bust dart draws the upper front in. Where leaning the side seam outwards can't make up for that, the upper
    chest is full beside the bust, and the dart is made smaller until no more than ``CHEST_SPARE`` is wanting: by the
    body alone, so that it takes in the same in every fit.
    """

    def over(lean: float, dart: float) -> float:
        front, back = draw_half(replace(frame, lean=lean, dart=dart), o, underarm)
        return front.arm.underarm.x + back.arm.underarm.x - frame.upper_chest

    # The widths follow the lean all but linearly, so two trials tell it.
    one, two = over(0.0, frame.dart), over(SIDE_LEANS[0], frame.dart)
    lean = 0.0 if one == two else SIDE_LEANS[0] * one / (one - two)
    lean, dart = min(max(lean, SIDE_LEANS[0]), SIDE_LEANS[1]), frame.dart
    if two < -CHEST_SPARE and dart > 0.0:
        fits = over(lean, 0.0) > -CHEST_SPARE
        dart = root(lambda d: over(lean, d) + CHEST_SPARE, 0.0, dart, within=TOLERANCE.same_point)[0] if fits else 0.0
        dart = dart if dart >= LEAST_BUST_DART else 0.0
    return replace(frame, lean=lean, dart=dart)


def lengthen_shoulder(frame: DartedFrame, o: DartedBodiceOptions, underarm: float) -> DartedFrame:
    """Lengthen the shoulder only where the across back lies too far out for a fair armhole."""

    def spare(extra: float) -> float:
        level, _ = place_dart(frame, underarm, o.bust_dart_drop)
        arm = draw_back(raise_shoulder(frame, extra), underarm, level).arm
        return armhole_spare(arm, STRAIGHTEST)

    if spare(0.0) >= 0.0:
        return frame
    try:
        return raise_shoulder(frame, root(spare, 0.0, MOST_LENGTHENED, within=TOLERANCE.same_point)[0])
    except GeometryError:
        raise CannotDraft(
            "across_back_width",
            "the across back lies too far outside the shoulder for an armhole",
            short_by=-spare(MOST_LENGTHENED),
            help="measure the across back and the shoulder length again",
        ) from None


def draw_darted_side(
    brief: Brief, o: DartedBodiceOptions, ease: EaseTable, w: Widths, side: Side, neck: Neck
) -> DartedSide:
    """Draw one half of the body, its underarm lowered until the armhole is as long as the arm needs."""
    body = brief.body
    frame = make_frame(brief, w, o.to == "hip", side, neck, o.shape_back(body))
    underarm = -(body["scye_depth_length"] + ease.scye_depth)
    frame = lean_to_chest(lengthen_shoulder(frame, o, underarm), o, underarm)
    least = body["armscye_girth"] * WOVEN_ARMHOLE_SHARE

    @cache
    def spare(y: float) -> float:
        front, back = draw_half(frame, o, y)
        return front.armhole().length + back.armhole().length - least

    solve = None
    if spare(underarm) < 0.0:
        low, calls = _long_enough(spare, underarm, frame.waist + LEAST_BELOW_ARM)
        if low is None:
            raise CannotDraft(
                "armscye_girth",
                say("an armhole of {least} doesn't fit between shoulder and waist", least=mm(least)),
                short_by=-spare(underarm),
                help="measure the armscye girth, the scye depth and the back length again",
            )
        underarm, more = root(spare, low, min(low + SCYE_STEP, underarm), within=TOLERANCE.same_point)
        solve = Solve(f"armhole, {side}", least, least + spare(underarm), calls + more)
    front, back = draw_half(frame, o, underarm)
    if front.frame.dart < LEAST_BUST_DART:  # too steep for more: the armhole keeps all of it
        front, back = draw_half(replace(frame, dart=0.0), o, underarm)
    return DartedSide(front, back, front.armhole(), back.armhole(), w, neck, solve)


def draw_halves(brief: Brief, o: DartedBodiceOptions, ease: EaseTable, more: float) -> Mapping[Side, DartedSide]:
    """Draw both halves of the body; the bust has ``more`` ease (mm) than by the table, for the arm."""
    w = widths(brief, ease, more)
    neck = solve_neck(brief, ease, w, o.to == "hip", o.set_back)
    left = draw_darted_side(brief, o, ease, w, Side.LEFT, neck)
    apart = slopes(brief, Side.LEFT) != slopes(brief, Side.RIGHT)
    return {Side.LEFT: left, Side.RIGHT: draw_darted_side(brief, o, ease, w, Side.RIGHT, neck) if apart else left}


def _long_enough(spare: Callable[[float], float], underarm: float, lowest: float) -> tuple[float | None, int]:
    """Go down from the underarm step by step to where the armhole is long enough, and count the trials."""
    for trial in range(1, MOST_STEPS + 1):
        low = max(underarm - trial * SCYE_STEP, lowest)
        if low >= underarm:
            break
        if spare(low) >= 0.0:
            return low, trial
        if low == lowest:
            break
    return None, MOST_STEPS


def _ease(brief: Brief, o: DartedBodiceOptions) -> EaseTable:
    """The ease by rule, with what was asked for in its place."""
    ease = ease_for(brief.fit, brief.cloth, brief.body)
    asked = {
        "bust": o.bust_ease,
        "waist": o.waist_ease,
        "hip": o.hip_ease if o.to == "hip" else None,
        "scye_depth": o.scye_ease,
    }
    given = {place: value for place, value in asked.items() if value is not None}
    reasons = {**ease.reasons, **dict.fromkeys(given, "as asked for")}
    return EaseTable(**{**ease.figures(), **given}, reasons=reasons)


@block(
    "darted-bodice",
    "Front and back of a fitted bodice for wovens, whole, with darts, from the body's own measurements.",
    Stage.BODY,
    needs=(
        "bust_girth",
        "waist_girth",
        "hip_girth",
        "upper_chest_girth",
        "neck_base_girth",
        "shoulder_length",
        "shoulder_slope",
        "across_back_width",
        "across_front_width",
        "armscye_girth",
        "scye_depth_length",
        "back_neck_point_to_waist",
        "front_neck_point_to_waist",
        "side_neck_point_to_waist_over_bust",
        "side_neck_point_to_bust_point",
        "bust_point_width",
        "back_neck_point_height",
        "side_neck_point_height",
        "waist_to_hip",
    ),
    kinds=(DART, SHOULDER, SIDE),
    makes="bodice",
)
def draft_darted_bodice(garment: Garment, brief: Brief, o: DartedBodiceOptions) -> Garment:
    """Draft front and back, with shoulder and side seams and darts."""
    ease = _ease(brief, o)
    halves = draw_with_room(brief, lambda more: draw_halves(brief, o, ease, more), lambda half: half.width)
    left, right = halves.values()
    front = whole_piece(
        Face.FRONT, front_lines(left.front, left.front_hole), front_lines(right.front, right.front_hole)
    )
    back = whole_piece(Face.BACK, back_lines(left.back, left.back_hole), back_lines(right.back, right.back_hole))
    solves = [left.neck.solve, *(half.solve for half in dict.fromkeys((left, right)) if half.solve)]
    return garment.with_(
        pieces=(front, back),
        seams=(*dart_seams(front), *dart_seams(back), *_seams(front, back, o.shape_back(brief.body).ease)),
        facts=facts_of(brief, o, ease, halves),
        solves=solves,
        aims=aims_of(brief, ease, halves),
        openings=(*garment.openings, "neck", "armhole-left", "armhole-right", "hem"),
    )


def _run_along(piece: Piece, name: str, against: bool) -> Run:
    """The stretches of a line, in ring order or against it."""
    uses = tuple(Use(piece.name, line.name, against) for line in piece.lines(name) if line.role is not Role.DART)
    return tuple(reversed(uses)) if against else uses


def _seams(front: Piece, back: Piece, shoulder_ease: float) -> tuple[Seam, ...]:
    """Shoulder and side seams; both plies of each run the same way, from neck to arm and from hem to underarm."""
    shoulders, sides = [], []
    for side in (Side.LEFT, Side.RIGHT):
        # On the front's left (+x) the ring runs up the side and in along the shoulder; on the right the other way.
        left = side is Side.LEFT
        shoulder = (_run_along(front, f"shoulder-{side}", left), _run_along(back, f"shoulder-{side}", not left))
        seam = (_run_along(front, f"side-{side}", not left), _run_along(back, f"side-{side}", left))
        sections = (Section(shoulder, (0.0, shoulder_ease)),)
        shoulders.append(Seam(f"shoulder-{side}", SHOULDER, say("{side} shoulder", side=side), sections, stitch="301"))
        sides.append(
            Seam(f"side-{side}", SIDE, say("{side} side", side=side), (Section(seam, (0.0, 0.0)),), stitch="301")
        )
    return (*shoulders, *sides)
