"""The underarm of the darted bodice: how wide it is for the upper chest and the arm, and how deep.

what            rule                                                                    source
shoulder        lengthened where the across back lies too far out for an armhole        derived
width           the side seams lean until it is the upper chest's and the bust's ease,  derived
                and what the arm wants more
depth, close    scye depth + ease, lowered until the armhole is 2.5 cm longer than the  2.5 to 4 cm; 1.05 to 1.25 of
                body's, and 1.05 of it; for a fitted cap by up to 1.3 cm more, where    the body's (from memory)
                the arm is thick; to 3.5 cm below the armpit at most, if the armhole    1 to 4 cm (from memory)
                is longer than the body's at all
other fits      the close one's, and by so much deeper as their ease says               1 to 2.5 cm (from memory)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache, lru_cache

from blocks.darted_back import BackHalf, draw_back
from blocks.darted_facts import DartedBodiceOptions, DartedSide
from blocks.darted_frame import ArmRoom, DartedFrame, Neck, Widths, make_frame, raise_shoulder
from blocks.darted_front import FrontHalf, draw_front, level_bust, place_dart
from blocks.neck import MOST_LENGTHENED
from drafting.body import Body
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Brief, Side, Solve
from drafting.garment.armholes import BELOW_ARMPIT
from drafting.geometry import root
from drafting.record import dataclass
from drafting.redraw.dart_points import LEAST_DART
from drafting.redraw.shapes import STRAIGHTEST, ArmholeCurve, armhole_spare
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

CHEST_SPARE = TradeValue(12.5, "mm", "derived", "half of what a close fit has there")
"""By which half the garment may have less ease at the upper chest than at the bust."""

WOVEN_ARMHOLE_SHARE, WOVEN_ARMHOLE_BEYOND = (
    TradeValue(1.05, "share", "from memory", "blocks allow 1.05 to 1.25"),
    TradeValue(25.0, "mm", "from memory", "2.5 to 4 cm"),
)
"""Of the armscye girth that the armhole seam of a woven with sleeves measures at least, and what it has beyond it."""

LEAST_BEYOND = TradeValue(10.0, "mm", "from memory", "it goes round the body's")
"""What the armhole has beyond the armscye girth at least, however deep it has to be for that."""

CAP_ARMHOLE, CAP_ARM_EASE, CAP_BEYOND = (
    TradeValue(1.19, "times", "derived", "a cap 0.30 of its armhole high, eased by 6 %, drawn flattest"),
    TradeValue(40.0, "mm", "from memory", "1 1/2 to 2 in"),
    TradeValue(35.0, "mm", "from memory", "2.5 to 4 cm"),
)
"""Of the upper arm with so much ease, that an armhole is long for a thick arm's sleeve to have a fitted cap; for that
alone it is no longer than so much beyond the armscye girth."""

SIDE_LEANS = trade_row((-0.35, 0.09), "times", "from memory")
"""Of its depth by which the side seam may lean at the underarm to fit the upper chest: inwards (19 degrees), and
outwards (5 degrees)."""

BALANCED = trade_row((6.0, 22.0), "mm", "from memory", "equal to 2 cm longer, more over a round back")
"""By which the back of an armhole is longer than its front at least and at most, if the side seam may move so far."""

HOLLOWER = TradeValue(1.0, "mm", "from memory", "a front is cut out more than its back")
"""By which the front of an armhole is more hollow than its back at least, if the side seam may move so far."""

STILL_LONGER = TradeValue(2.0, "mm", "from memory", "equal or longer")
"""By which the back of an armhole stays longer than its front where that isn't hollow enough."""

LONGER_BY_MOVE = TradeValue(1.8, "times", "derived", "tried on the surveys' bodies: 1.4 to 2.4")
"""Of a move of the side seam, by which the back of the armhole changes beside its front."""

SCYE_STEP = TradeValue(30.0, "mm", "derived", "the surveys' bodies need up to 8 cm")
"""By which the underarm is lowered at a time while the armhole is too short, three times at most: beyond 9 cm the
armscye girth can't be right for the scye depth."""
MOST_STEPS = 3

LEAST_BELOW_ARM = TradeValue(70.0, "mm", "from memory")
"""Side seam that is left below the lowest underarm."""

MOST_EASE_GIVEN = TradeValue(10.0, "mm", "from memory", "an across back is missed by 2 cm in the whole, unwarned")
"""Of the ease of half the across back at most, that is given up before a shoulder is made longer than the bone."""


@dataclass(frozen=True, slots=True)
class FirstUnderarm:
    """Where an underarm is drawn first (mm, y), and what the bust dart takes in (mm) if a close fit has told it.

    ``for_cap``: the armhole is to be long enough for a fitted cap. ``lengthened`` is what was given for
    its length, if a close fit has told it.
    """

    y: float
    dart: float | None = None
    for_cap: bool = False
    lengthened: ArmRoom | None = None


@lru_cache(maxsize=16)  # what one trial draws another asks for
def draw_half(frame: DartedFrame, o: DartedBodiceOptions, underarm: float) -> tuple[FrontHalf, BackHalf]:
    """Draw front and back of one half with the back's underarm at the height ``underarm`` (mm, y)."""
    level, dart = place_dart(frame, underarm, o.bust_dart_drop)
    bust = level_bust(frame, underarm)
    back = draw_back(frame, underarm, min(level, bust), bust)
    front = draw_front(replace(frame, dart=dart), back.flank.length, level, bust, o.set_back)
    lower = underarm - front.side.flank.top.y
    if dart and lower > TOLERANCE.same_point and o.bust_dart_drop is None:
        # The front's waist ends lower at the side, and its underarm as much: so does the dart below it.
        low, dart = place_dart(frame, underarm - lower, None)
        if level - low > TOLERANCE.same_point:
            front = draw_front(replace(frame, dart=dart), back.flank.length, low, bust, o.set_back)
    # What the front's armhole is more than square to its side seam, the back's is less.
    arm = replace(back.arm, leave=back.arm.leave.turned(-front.dip))
    return front, replace(back, arm=arm)


def measure_underarm(frame: DartedFrame, o: DartedBodiceOptions, underarm: float, lean: float, dart: float) -> float:
    """How wide (mm) front and back are at the underarm, given the side seam's lean and what the bust dart takes in."""
    front, back = draw_half(replace(frame, lean=lean, dart=dart), o, underarm)
    return front.arm.underarm.x + back.arm.underarm.x


def lean_to_chest(frame: DartedFrame, o: DartedBodiceOptions, underarm: float) -> DartedFrame:
    """Lean the side seam until front and back are as wide at the underarm as the frame's ``underarm``, if it may."""
    # The widths follow the lean all but linearly, so two trials tell it.
    one, two = (measure_underarm(frame, o, underarm, lean, frame.dart) for lean in (0.0, SIDE_LEANS[0]))
    lean = 0.0 if one == two else SIDE_LEANS[0] * (one - frame.underarm) / (one - two)
    return replace(frame, lean=min(max(lean, SIDE_LEANS[0]), SIDE_LEANS[1]))


def fit_dart(frame: DartedFrame, o: DartedBodiceOptions, underarm: float) -> DartedFrame:
    """Make the bust dart smaller where the upper chest is full beside the bust, so that it isn't drawn in too far.

    The dart draws the upper front in. Where leaning the side seam can't make up for that, the dart takes in less, until
    no more than ``CHEST_SPARE`` is wanting. A close fit tells it for all, so that it takes in the same in each.
    """
    least, most = frame.upper_chest - CHEST_SPARE, frame.dart

    def spare(dart: float) -> float:
        return measure_underarm(frame, o, underarm, SIDE_LEANS[0], dart) - least

    if most == 0.0 or spare(most) >= 0.0:
        return frame
    dart = root(spare, 0.0, most, within=TOLERANCE.same_point)[0] if spare(0.0) > 0.0 else 0.0
    return replace(frame, dart=dart if dart >= LEAST_DART else 0.0)


def lengthen_shoulder(frame: DartedFrame, o: DartedBodiceOptions, underarm: float, ease: float) -> DartedFrame:
    """Lengthen the shoulder only where the body's across back lies too far out for a fair armhole.

    The back gives up what it can of its ``ease`` (mm, half of the whole) first: a looser fit keeps to the bone too.
    """
    gives = min(max(ease, 0.0), MOST_EASE_GIVEN)

    def spare(extra: float) -> float:
        level, _ = place_dart(frame, underarm, o.bust_dart_drop)
        bust = level_bust(frame, underarm)
        arm = draw_back(raise_shoulder(frame, extra), underarm, min(level, bust), bust).arm
        return armhole_spare(arm, STRAIGHTEST) + gives

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
    brief: Brief, o: DartedBodiceOptions, w: Widths, side: Side, neck: Neck, first: FirstUnderarm
) -> DartedSide:
    """Draw one half of the body, its underarm lowered from the first until the armhole is as long as it must be."""
    frame = make_frame(brief, w, o.to == "hip", side, neck, o.shape_back(brief.body))
    frame = lengthen_shoulder(frame, o, first.y, w.half_back - brief.body["across_back_width"] / 2.0)
    frame = fit_dart(frame, o, first.y) if first.dart is None else replace(frame, dart=first.dart)
    frame = lean_to_chest(frame, o, first.y)
    underarm, solve = lower_underarm(brief, frame, o, first)
    if underarm < first.y:
        frame = lean_to_chest(frame, o, underarm)
        underarm, again = lower_underarm(brief, frame, o, replace(first, y=underarm))
        solve = again or solve
    return DartedSide(*draw_with_holes(frame, o, underarm), w, neck, solve, wanted=solve.target if solve else 0.0)


def draw_with_holes(
    frame: DartedFrame, o: DartedBodiceOptions, underarm: float
) -> tuple[FrontHalf, BackHalf, ArmholeCurve, ArmholeCurve]:
    """Draw one half of the body and its armholes, front and back."""
    front, back = draw_half(frame, o, underarm)
    if front.frame.dart < LEAST_DART:  # too steep for more: the armhole keeps all of it
        front, back = draw_half(replace(frame, dart=0.0), o, underarm)
    return front, back, front.armhole(), back.armhole()


def least_armhole(body: Body) -> float:
    """Return how long (mm) the armhole of a woven with sleeves is at least."""
    around = body["armscye_girth"]
    return max(around * WOVEN_ARMHOLE_SHARE, around + WOVEN_ARMHOLE_BEYOND)


def cap_armhole(body: Body) -> float:
    """Return how long (mm) an armhole is wanted for a thick arm's sleeve to have a fitted cap, or by the body alone."""
    for_cap = CAP_ARMHOLE * (body["upper_arm_girth"] + CAP_ARM_EASE)
    return max(least_armhole(body), min(for_cap, body["armscye_girth"] + CAP_BEYOND))


def lengthened_for_cap(half: DartedSide, body: Body) -> float:
    """Return how much longer (mm) a half's armhole is drawn for a fitted cap than the body alone would have it."""
    return max(half.wanted - least_armhole(body), 0.0)


def lower_underarm(
    brief: Brief, frame: DartedFrame, o: DartedBodiceOptions, first: FirstUnderarm
) -> tuple[float, Solve | None]:
    """Return the height (mm, y) at which the armhole is as long as it must be, the first at most, and the solve."""
    least, lowest = least_armhole(brief.body), frame.waist + LEAST_BELOW_ARM
    deepest = min(first.y, -brief.body["scye_depth_length"] - BELOW_ARMPIT[brief.fit])

    @cache
    def length(y: float) -> float:
        front, back = draw_half(frame, o, y)
        return front.armhole().length + back.armhole().length

    wanted = cap_armhole(brief.body) if first.for_cap else least
    floor = brief.body["armscye_girth"] + LEAST_BEYOND
    if length(first.y) >= wanted - TOLERANCE.same_point:
        return first.y, None
    if length(deepest) >= wanted:
        y, calls = root(lambda y: length(y) - wanted, deepest, first.y, within=TOLERANCE.same_point)
        return y, Solve(f"armhole, {frame.side}", wanted, length(y), calls)
    if length(deepest) >= floor - TOLERANCE.same_point:
        return deepest, None
    found = _lower_to(floor, length, deepest, lowest)
    if found is not None:
        y, calls = found
        return y, Solve(f"armhole, {frame.side}", floor, length(y), calls)
    raise CannotDraft(
        "armscye_girth",
        say("an armhole of {least} doesn't fit between shoulder and waist", least=mm(least)),
        short_by=least - length(first.y),
        help="measure the armscye girth, the scye depth and the back length again",
    )


def _lower_to(wanted: float, length: Callable[[float], float], start: float, lowest: float) -> tuple[float, int] | None:
    """The height at which an armhole is as long as wanted, and the trials; None where none is within the steps."""
    for trial in range(1, MOST_STEPS + 1):
        low = max(start - trial * SCYE_STEP, lowest)
        if low < start and length(low) >= wanted:
            high = min(low + SCYE_STEP, start)
            y, calls = root(lambda y: length(y) - wanted, low, high, within=TOLERANCE.same_point)
            return y, calls + trial
    return None
