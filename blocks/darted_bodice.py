"""The darted bodice: front and back of a fitted bodice in woven cloth, whole, drafted from one body's own measurements.

The order of the draft, half by half:

    1  heights, widths, neck and the shares of the waist's suppression       darted_frame, waist_darts
    2  the back: side seam, waist, shoulder with its dart, armhole           darted_back
    3  the front: bust point, side seam as long as the back's, bust dart     darted_front
    4  the underarm: wide enough for the chest and the arm, deep enough      darted_underarm
       without a sleeve, raised and taken in                                 darted_bare
    5  both halves joined, a full bust's dart shared; seams, facts, aims     here
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from blocks.arm import room_needed
from blocks.darted_back import BackHalf, back_lines, split_back_dart
from blocks.darted_bare import bare_side
from blocks.darted_facts import DartedBodiceOptions, DartedSide, aims_of, facts_of, neck_base_of
from blocks.darted_frame import ArmRoom, hollow_of_back, most_flattened, slopes, solve_neck, widths
from blocks.darted_front import front_lines
from blocks.darted_pieces import dart_seams, whole_piece
from blocks.darted_underarm import (
    BALANCED,
    HOLLOWER,
    LONGER_BY_MOVE,
    SIDE_LEANS,
    STILL_LONGER,
    FirstUnderarm,
    draw_darted_side,
    lengthened_for_cap,
)
from drafting.body import Body
from drafting.cloth import EaseTable, Fit, ease_for
from drafting.garment import Brief, Face, Garment, Piece, Role, Side, Stage, block
from drafting.garment.armholes import BELOW_ARMPIT, wide_armhole
from drafting.garment.seam import Run, Seam, Section, Use
from drafting.redraw.centre_shape import CentreShape, shape_centre_back
from drafting.redraw.split_darts import split_full_darts
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import CENTRE, DART, SHOULDER, SIDE

SIDE_MOVES = TradeValue(20.0, "mm", "from memory", "a side seam lies up to 2 cm behind the middle")
"""By which the side seam moves back or forward at most, for the armhole's back to be as long as its front and more."""

UNSEEN = TradeValue(1.0, "mm", "from memory")
"""By which a back may be beyond that, and the side seam stays where it is."""

ROOM_OVER = TradeValue(0.5, "mm", "derived", "what no tape shows")
"""By which an armhole that was too narrow for the arm is drawn wider than it must be."""


DEEPER_FOR_CAP = TradeValue(0.5, "times", "derived", "both of its sides grow longer by about as much")
"""Of what an armhole is longer for a cap, by which it is deeper."""

LESS_THAN_WIDE, MOST_WIDER = (
    TradeValue(5.0, "mm", "derived", "above its across line it lies farther in by as much"),
    TradeValue(10.0, "mm", "from memory", "an across back is 0 to 2.5 cm wider than the body's"),
)
"""By which an armhole is meant to be narrower than one that is told to be wide, and half of its back wider at most for
that."""

SETTLED_BY = 12
"""Trials at most, in which room and length of an armhole are found: most bodies need three to six."""

DEEP_ENOUGH = TradeValue(20.0, "mm", "from memory", "1 to 4 cm")
"""Below the armpit, to which a close underarm is lowered before the shoulders are drafted flatter."""

MOST_FOR_LENGTH = TradeValue(5.0, "mm", "from memory", "an across back is 0 to 2.5 cm wider than the body's")
"""Of the ease of half of a close across back or front, that is given up at most for the armhole's length."""

DEPTH_TRIALS = 4
"""At most, in which a looser fit's underarm is set below the close one's: most need one, others two or three."""

LOWER_BY = TradeValue(0.05, "mm", "derived", "what no tape shows")
"""By which a looser fit's underarm may lie less below the close one's than its ease says."""

RAISED_FIRST = TradeValue(28.0, "mm", "from memory", "fits lie 25 to 75 mm apart")
"""Of ease that the bust gets for the arms, before across back and front become narrower than the body's."""


def draw_halves(
    brief: Brief, o: DartedBodiceOptions, ease: EaseTable, first: Mapping[Side, FirstUnderarm]
) -> Mapping[Side, DartedSide]:
    """Draw both halves of the body, their armholes with room for the arm; ``first``: their underarms.

    Where an armhole is too narrow the underarm is wider, and the side seams lean in below it. Where they lean as far as
    they may, the bust gets a little more ease; then across back and front give what they can, and then the bust again.
    """
    told = next(iter(first.values())).lengthened
    room = told or ArmRoom()
    halves = _draw_halves(brief, o, ease, room, first)
    for _ in range(SETTLED_BY):
        tight = min(halves.values(), key=lambda half: half.width)
        better = _move_side(room, halves, brief.body["shoulder_length"])
        better = _lengthen(brief, better, halves) if told is None else better
        if room_needed(brief) - tight.width > TOLERANCE.same_point:
            better = _make_room(better, tight, room_needed(brief) + ROOM_OVER)
        over = max(half.width for half in halves.values()) - wide_armhole(brief.body) + LESS_THAN_WIDE
        better = replace(better, wider=min(max(room.wider + over, 0.0), MOST_WIDER))
        if better == room:
            break
        room = better
        halves = _draw_halves(brief, o, ease, room, first)
    return halves


def _move_side(room: ArmRoom, halves: Mapping[Side, DartedSide], bone: float) -> ArmRoom:
    """Move the side seam back where the back of the armhole is too long beside its front, forward where too short.

    It goes back, too, where a front isn't the more hollow, as far as leaves the back longer, but not where the
    shoulder would be drawn longer than the ``bone`` (mm) for that.
    """
    usual, most = BALANCED
    longer = math.fsum(half.back_longer for half in halves.values()) / len(halves)
    shortest = min(half.back_longer for half in halves.values())
    # Of uneven shoulders the flatter one's front is the less hollow by far: what both are in the mean hides it.
    hollower = min(half.hollower for half in halves.values())
    least = usual if hollower > HOLLOWER + 2.0 * UNSEEN else STILL_LONGER
    off = longer - min(max(longer, least), most)
    to_bone = all(half.front.frame.shoulder <= bone for half in halves.values())
    if off <= UNSEEN and hollower < HOLLOWER and to_bone:
        off = min(HOLLOWER - hollower, shortest - least)
    if abs(off) <= UNSEEN:
        return room
    moved = room.moved_back + off / LONGER_BY_MOVE
    return replace(room, moved_back=min(max(moved, -SIDE_MOVES), SIDE_MOVES))


def _lengthen(brief: Brief, room: ArmRoom, halves: Mapping[Side, DartedSide]) -> ArmRoom:
    """Where the underarm was lowered far for the armhole's length, flatten the shoulders, and narrow the across widths.

    Both leave more armhole above the underarm: the shoulders first, then the ease of across back and front.
    """
    body, most = brief.body, most_flattened(brief)
    deep = max(-half.back.arm.underarm.y for half in halves.values()) - body["scye_depth_length"] - DEEP_ENOUGH
    flatter = min(max(room.flatter + deep / body["shoulder_length"], 0.0), most)
    if abs(flatter - room.flatter) > TOLERANCE.tangent:
        return replace(room, flatter=flatter)
    longer = min(max(room.longer + deep, 0.0), MOST_FOR_LENGTH) if flatter == most else 0.0
    return replace(room, longer=longer) if abs(longer - room.longer) > UNSEEN else room


def _make_room(room: ArmRoom, half: DartedSide, needed: float) -> ArmRoom:
    """More room where an armhole should be as wide as ``needed`` (mm)."""
    short, w = needed - half.width, half.widths
    if half.front.frame.lean > SIDE_LEANS[0]:
        # The side comes out a little narrower than was asked: what is asked has to grow, not only what came of it.
        return replace(room, underarm=max(room.underarm, half.underarm) + short)
    underarm = half.underarm + short
    if not room.across and room.raised < RAISED_FIRST:
        return replace(room, underarm=underarm, raised=min(room.raised + 2.0 * short, RAISED_FIRST))
    if not room.across:
        return replace(room, across=half.width + w.half_back + w.half_front - ROOM_OVER)
    return replace(room, underarm=underarm, raised=room.raised + 2.0 * short)


def _draw_halves(
    brief: Brief, o: DartedBodiceOptions, ease: EaseTable, room: ArmRoom, first: Mapping[Side, FirstUnderarm]
) -> Mapping[Side, DartedSide]:
    w = replace(widths(brief, ease, room), centre=o.centre_back)
    flatter = room.flatter
    neck = solve_neck(brief, ease, w, o.to == "hip", o.set_back, flatter)
    left = draw_darted_side(brief, o, w, Side.LEFT, neck, first[Side.LEFT])
    if slopes(brief, Side.LEFT, flatter) == slopes(brief, Side.RIGHT, flatter):
        return {Side.LEFT: left, Side.RIGHT: left}
    return {Side.LEFT: left, Side.RIGHT: draw_darted_side(brief, o, w, Side.RIGHT, neck, first[Side.RIGHT])}


def draw_fit(brief: Brief, o: DartedBodiceOptions, ease: EaseTable, *, sleeved: bool) -> Mapping[Side, DartedSide]:
    """Draw both halves as the fit has them: a close one's underarm below the armpit, a looser one's below the close's.

    A close one's may be lowered for a fitted cap or for its length, and a semi-fitted one's lies by as much less below
    it. Where it isn't to be ``sleeved`` it is raised and taken in, a looser one's by what the close one's is.
    """
    if brief.fit is Fit.CLOSE or o.underarm_drop is not None:
        y = -(brief.body["scye_depth_length"] + ease.scye_depth)
        first = FirstUnderarm(y, for_cap=o.underarm_drop is None)
        halves = draw_halves(brief, o, ease, dict.fromkeys((Side.LEFT, Side.RIGHT), first))
        return halves if sleeved else {side: bare_side(brief, half, o) for side, half in halves.items()}
    snug, close = replace(brief, fit=Fit.CLOSE), ease_for(Fit.CLOSE, brief.cloth, brief.body)
    tight = draw_fit(snug, o, close, sleeved=sleeved)
    by = ease.scye_depth - close.scye_depth
    if brief.fit is Fit.SEMI:
        given = DEEPER_FOR_CAP * max(lengthened_for_cap(half, brief.body) for half in tight.values())
        by = max(by - max(given, _below_usual(tight, brief.body)), 0.0)
    return _draw_below(brief, o, ease, tight, by, sleeved)


def _below_usual(tight: Mapping[Side, DartedSide], body: Body) -> float:
    """By how much (mm) a close armhole with a sleeve lies below where it lies at most, but for its length."""
    lowest = max(half.raised - half.back.arm.underarm.y for half in tight.values())
    return max(lowest - body["scye_depth_length"] - BELOW_ARMPIT[Fit.CLOSE], 0.0)


def _draw_below(
    brief: Brief, o: DartedBodiceOptions, ease: EaseTable, tight: Mapping[Side, DartedSide], by: float, sleeved: bool
) -> Mapping[Side, DartedSide]:
    """Draw both halves of a looser fit, their armholes ``by`` (mm) deeper than the ``tight`` ones' at least.

    What counts is their lowest place.
    """
    halves, lower = tight, by
    close = tight[Side.LEFT]
    lengthened = ArmRoom(flatter=close.neck.flatter, longer=close.widths.longer)
    for _ in range(DEPTH_TRIALS):
        first = {
            side: FirstUnderarm(
                half.back.arm.underarm.y - half.raised - lower, half.back.frame.dart, lengthened=lengthened
            )
            for side, half in tight.items()
        }
        halves = draw_halves(brief, o, ease, first)
        if not sleeved:
            halves = {side: bare_side(brief, half, o, tight[side]) for side, half in halves.items()}
        short = by - min(tight[side].lowest - half.lowest for side, half in halves.items())
        if short <= LOWER_BY:
            break
        lower += short
    return halves


def _meet_skirt(half: DartedSide, hollow: float) -> DartedSide:
    """Return a half whose back has two waist darts for those of a skirt over a seat so full (mm)."""
    return replace(half, back=split_back_dart(half.back, hollow))


def _ease(brief: Brief, o: DartedBodiceOptions) -> EaseTable:
    """The ease by rule, with what was asked for in its place."""
    ease = ease_for(brief.fit, brief.cloth, brief.body)
    asked = {
        "bust": o.bust_ease,
        "waist": o.waist_ease,
        "hip": o.hip_ease if o.to == "hip" else None,
        "scye_depth": o.underarm_drop,
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
    kinds=(DART, SHOULDER, SIDE, CENTRE),
    makes="bodice",
)
def draft_darted_bodice(garment: Garment, brief: Brief, o: DartedBodiceOptions) -> Garment:
    """Draft front and back, with shoulder and side seams and darts."""
    ease = _ease(brief, o)
    halves = draw_fit(brief, o, ease, sleeved="armhole" in garment.taken_up)
    if "waist" in garment.taken_up:
        halves = {side: _meet_skirt(half, hollow_of_back(brief, half.widths)) for side, half in halves.items()}
    left, right = halves.values()
    front = whole_piece(
        Face.FRONT, front_lines(left.front, left.front_hole), front_lines(right.front, right.front_hole)
    )
    back = whole_piece(Face.BACK, back_lines(left.back, left.back_hole), back_lines(right.back, right.back_hole))
    solves = [left.neck.solve, *(half.solve for half in dict.fromkeys((left, right)) if half.solve)]
    made = garment.with_(
        pieces=(front, back),
        seams=(*dart_seams(front), *dart_seams(back), *_seams(front, back, o.shape_back(brief.body).ease)),
        facts=facts_of(brief, o, ease, halves),
        solves=solves,
        aims=aims_of(brief, ease, halves),
        openings=(*garment.openings, "neck", "armhole-left", "armhole-right", "hem"),
    )
    made = replace(split_full_darts(made), neck_base=neck_base_of(halves))
    return shape_centre_back(made, _centre_shape(left.back, o)) if o.centre_back else made


def _centre_shape(back: BackHalf, o: DartedBodiceOptions) -> CentreShape:
    """How the centre back is shaped: from the bust's level down to the waist, and to the hip."""
    return CentreShape(o.centre_back, back.bust_level, back.frame.waist, back.frame.hip)


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
