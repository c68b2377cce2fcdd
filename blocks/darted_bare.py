"""The darted bodice without a sleeve: what is drawn for one, its underarm raised and its side seams taken in.

what            rule                                                                    source
underarm        raised by 12 mm, down to 10 where the armhole would be less than 1 cm   1 to 1.5 cm; 1 to 2 cm longer
                longer than the body's, or narrower than the arm; less only where it    than the body's (from memory)
                would be so even with its side seams not taken in
side seams      taken in by as much at the underarm, front and back together, less      1 to 1.5 cm (from memory)
                where the armhole would be short, or hardly wider than the arm
cut in          where it would be short or narrow so: the front by up to 10 mm, back    0.5 to 1 cm (from memory)
                and shoulder by half of that
other fits      raised by what the close one is raised, no narrower than that           1 to 2.5 cm deeper (from
                                                                                        memory)
hollow          the side seam a little farther back where the front of the armhole      from memory
                isn't the more hollow, or its back is too long beside it
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial

from blocks.darted_facts import DartedBodiceOptions, DartedSide
from blocks.darted_frame import DartedFrame
from blocks.darted_underarm import (
    BALANCED,
    HOLLOWER,
    LONGER_BY_MOVE,
    STILL_LONGER,
    draw_with_holes,
    lean_to_chest,
    measure_underarm,
)
from drafting.cloth.ease import EASE_IN_CLOTHING
from drafting.garment import Brief
from drafting.geometry import root
from drafting.redraw.shapes import LEAST_SCYE
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BARE_BEYOND = TradeValue(10.0, "mm", "from memory", "1 to 2 cm")
"""What the armhole of a sleeveless woven has beyond the armscye girth at least."""

BARE_RAISED = TradeValue(12.0, "mm", "from memory", "1 to 1.5 cm")
"""By which the underarm of a sleeveless woven lies above a sleeved one's."""

BARE_LEAST_RAISED = TradeValue(10.0, "mm", "from memory", "1 to 1.5 cm")
"""By which it lies above it at least, before the side seams are taken in."""

BARE_TAKEN_IN = TradeValue(12.0, "mm", "from memory", "1 to 1.5 cm")
"""By which each side seam of a sleeveless woven is taken in at the underarm, front and back together."""

BARE_BUST_EASE = TradeValue(38.0, "mm", "published", EASE_IN_CLOTHING)
"""Of ease at the bust that a sleeveless woven keeps at least where its side is taken in."""

BARE_ARM_ROOM = TradeValue(8.0, "mm", "from memory")
"""By which a sleeveless woven's armhole stays wider than the arm is thick where it is taken in."""

BARE_BUST_SHARE = TradeValue(0.5, "share", "from memory", "tapering to nothing at the waist")
"""Of what a sleeveless woven is taken in at the underarm, that it is taken in at the bust."""

BARE_SIDE_MOVES = TradeValue(5.0, "mm", "from memory", "a side seam lies up to 2 cm behind the middle")
"""By which its side seam lies farther back at most than one's with sleeves, for the hollow of its front."""

BARE_CUT_IN = TradeValue(10.0, "mm", "from memory", "0.5 to 1 cm inside a sleeved one's")
"""By which the front of a sleeveless woven's armhole lies farther in at most, where it would be short or narrow."""

SHOULDER_CUT_IN = TradeValue(0.5, "times", "from memory", "0.5 to 1 cm; a front is cut out more")
"""Of that, by which its shoulder is shorter, and its back lies farther in."""

TRIALS = 4
"""At most, in which what depends on a drawn armhole is set: two come within a tenth of a millimetre."""

Draw = Callable[[float, float, float], DartedSide]
"""Draws a half, its underarm raised by a share of the rule, taken in by, and its side seam moved back by (mm)."""

DrawCut = Callable[[float, float, float, float], DartedSide]
"""The same, the front of its armhole cut in by so much (mm) before."""


def bare_side(brief: Brief, half: DartedSide, o: DartedBodiceOptions, snug: DartedSide | None = None) -> DartedSide:
    """Return a half without a sleeve: its underarm raised, and the side seam taken in there.

    Both by less where the armhole would be less than ``BARE_BEYOND`` longer than the body's, or narrower than the arm;
    where the close fit's, ``snug``, is told, the underarm by as much as that, and no narrower.
    """
    cutting: DrawCut = cache(partial(_draw_bare, brief, half, o))
    cut = _cut_in(brief, cutting) if snug is None else snug.cut_in
    draw = partial(cutting, cut)
    thick = brief.body["upper_arm_girth"] / math.pi
    taken = min(max(half.width + (1.0 + SHOULDER_CUT_IN) * cut - thick - BARE_ARM_ROOM, 0.0), BARE_TAKEN_IN)
    if snug is None:
        share, taken = _raise_least(brief, draw, _share_raised(brief, draw, taken), taken)
    else:
        share = snug.raised / BARE_RAISED
        taken = _keep_width(draw, share, taken * share, snug.width)
    return draw(share, taken, _move_back(draw, share, taken))


def _draw_bare(
    brief: Brief, half: DartedSide, o: DartedBodiceOptions, cut: float, share: float, by: float, moved: float
) -> DartedSide:
    frame, raised = half.back.frame, share * BARE_RAISED
    underarm = half.back.arm.underarm.y + raised
    moved = min(moved, max(frame.bust_back - frame.half_back - LEAST_SCYE, 0.0))
    frame = replace(
        frame,
        underarm=half.underarm - by,
        half_front=frame.half_front - cut,
        half_back=frame.half_back - SHOULDER_CUT_IN * cut,
        shoulder=frame.shoulder - SHOULDER_CUT_IN * cut,
        bust_front=frame.bust_front + moved,
        bust_back=frame.bust_back - moved,
    )
    front, back, front_hole, back_hole = draw_with_holes(take_in(brief, frame, o, underarm, by), o, underarm)
    slimmer = replace(half.widths, bust=front.frame.bust_front + back.frame.bust_back)
    return DartedSide(
        front,
        back,
        front_hole,
        back_hole,
        slimmer,
        half.neck,
        None,
        raised,
        cut_in=cut,
        cut_in_back=SHOULDER_CUT_IN * cut,
        wanted=half.wanted,
    )


def _spare(brief: Brief, half: DartedSide, room: float) -> float:
    """What a drawn armhole has beyond the least length or width (mm), whichever is less; ``room`` beside the arm."""
    around, thick = brief.body["armscye_girth"], brief.body["upper_arm_girth"] / math.pi
    length = half.front_hole.length + half.back_hole.length
    return min(length - around - BARE_BEYOND, half.width - thick - room)


def _cut_in(brief: Brief, draw: DrawCut) -> float:
    """By how much the front of the armhole lies farther in, for it to be long and wide once raised and taken in.

    The shoulder's end and its back lie farther in by less.
    """

    def spare(cut: float) -> float:
        return _spare(brief, draw(cut, 1.0, BARE_TAKEN_IN, 0.0), BARE_ARM_ROOM)

    if spare(0.0) >= 0.0 or spare(BARE_CUT_IN) <= 0.0:
        return 0.0 if spare(0.0) >= 0.0 else float(BARE_CUT_IN)
    return root(spare, 0.0, BARE_CUT_IN, within=TOLERANCE.same_point)[0]


def _share_raised(brief: Brief, draw: Draw, taken: float) -> float:
    """How much of the rule an underarm is raised, and taken in, by what the body's armhole and the arm let it."""

    def spare(share: float) -> float:
        return _spare(brief, draw(share, share * taken, 0.0), 0.0)

    if spare(1.0) >= 0.0:
        return 1.0
    return root(spare, 0.0, 1.0, within=TOLERANCE.same_point)[0] if spare(0.0) > 0.0 else 0.0


def _raise_least(brief: Brief, draw: Draw, share: float, taken: float) -> tuple[float, float]:
    """How much of the rule an underarm is raised, and how much (mm) taken in.

    Taken in by less, where that lets it rise by ``BARE_LEAST_RAISED``.
    """
    least = BARE_LEAST_RAISED / BARE_RAISED
    if share >= least:
        return share, share * taken

    def spare(by: float) -> float:
        return _spare(brief, draw(least, by, 0.0), 0.0)

    by = share * taken
    if spare(0.0) <= 0.0:
        return share, by
    return least, by if spare(by) >= 0.0 else root(spare, 0.0, by, within=TOLERANCE.same_point)[0]


def _keep_width(draw: Draw, share: float, taken: float, least: float) -> float:
    """By how much (mm) an armhole is taken in that is to be so wide at least."""
    for _ in range(TRIALS):
        short = least - draw(share, taken, 0.0).width
        if short <= TOLERANCE.same_point or taken == 0.0:
            break
        taken = max(taken - short, 0.0)
    return taken


def _move_back(draw: Draw, share: float, taken: float) -> float:
    """By how much (mm) the side seam lies farther back, for the front to be the more hollow, the back not too long."""
    moved = 0.0
    for _ in range(TRIALS):
        half = draw(share, taken, moved)
        off = max(min(HOLLOWER - half.hollower, half.back_longer - STILL_LONGER), half.back_longer - BALANCED[1])
        if off <= TOLERANCE.sewn_length or moved == BARE_SIDE_MOVES:
            break
        moved = min(moved + off / LONGER_BY_MOVE, BARE_SIDE_MOVES)
    return moved


def take_in(brief: Brief, frame: DartedFrame, o: DartedBodiceOptions, underarm: float, by: float) -> DartedFrame:
    """Take front and back in at an underarm of that height, to the frame's, which is ``by`` (mm) narrower than it was.

    The bust gives half of it, else the side bulges, and all that the side seam can't lean in.
    """
    most = max(frame.bust_front + frame.bust_back - (brief.body["bust_girth"] + BARE_BUST_EASE) / 2.0, 0.0)
    given = min(BARE_BUST_SHARE * by, most)
    leant = lean_to_chest(slim_bust(frame, given), o, underarm)
    over = measure_underarm(leant, o, underarm, leant.lean, leant.dart) - frame.underarm
    return slim_bust(leant, min(max(over, 0.0), most - given))


def slim_bust(frame: DartedFrame, by: float) -> DartedFrame:
    """Take half of the bust in by so much (mm), as much in front as at the back."""
    return replace(frame, bust_front=frame.bust_front - by / 2.0, bust_back=frame.bust_back - by / 2.0)
