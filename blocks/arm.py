"""The armhole that a sleeve is set into, parted into its front and its back, and the room that the arm needs in it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TypeVar

from drafting.cloth import Kind, ease_for, share_drawn_in
from drafting.garment import Brief, Face, Garment, Opening, Side, Use, openings, sides_of
from drafting.garment.armholes import KNIT_ARM_ROOM, WOVEN_ARM_ROOM, wanted_width
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

T = TypeVar("T")

WOVEN_ACROSS_GIVES = TradeValue(0.04, "share", "from memory")
"""How far a woven's across back and front may be narrower than the body's, to leave the arm its room."""

KNIT_ACROSS_GIVES = TradeValue(0.04, "share", "from memory", "a knit that serves stretches three times as far")
"""How far a knit's across back and front may be narrower than the body's, to leave the arm its room."""

BUST_EIGHTH, BEYOND_EIGHTH = (
    TradeValue(0.125, "share", "from memory", "an armhole is as wide as an eighth of the bust, 1.5 cm more or less"),
    TradeValue(15.0, "mm", "from memory"),
)
"""Most width of a knit's armhole, as a share of the bust, and so much more."""

EASE_IN_ARMHOLE = TradeValue(0.25, "share", "from memory", "as much again in the other, the rest over back and front")
"""Of the ease at the bust that lies in the width of one armhole."""

MOST_ACROSS_EASE = TradeValue(25.0, "mm", "from memory", "an across back is 0 to 2.5 cm wider than the body's")
"""By which an across back is wider than the body's at most."""

CHEST_NARROWER = TradeValue(15.0, "mm", "common practice")
"""By which the front of a knit top is narrower than its back between the armholes, where it wasn't measured."""

MEASURED_CHEST = trade_row((10.0, 90.0), "mm", "from memory", "a front as wide as its back is no hollower")
"""By which a front that was measured is narrower than its back, at least and at most: more, and its armhole hooks."""

ROOM_TRIALS = 8
"""At most, in which the bust gets more ease for the arm: the first is all but enough."""


BUST_BELOW_UNDERARM = TradeValue(10.0, "mm", "from memory", "a girth is taken under the arms")
"""At the side seam the bust line lies at least so far below the underarm, wherever the bust points are."""

MOST_FOR_ARM = TradeValue(98.0, "mm", "from memory", "fits lie 25 to 75 mm apart")
"""Most that the bust is widened for the arm, but where the armhole would be narrower than the arm is thick: with more
it is no longer the fit that was asked for, and the arm has a few millimetres less to spare."""


@dataclass(frozen=True, slots=True)
class AcrossWidths:
    """Half of the across back and front (mm) that leave an arm its room, and what each gave for it.

    Less than 0 is what each gained, for the armhole to be no wider than it need be.
    """

    back: float
    front: float
    given: float


def room_needed(brief: Brief) -> float:
    """Return how wide (mm) an armhole is drafted at least: wider than the arm is thick, but for a close knit."""
    room = WOVEN_ARM_ROOM if brief.cloth.kind is Kind.WOVEN else KNIT_ARM_ROOM
    thick, drawn_in = brief.body["upper_arm_girth"] / math.pi, share_drawn_in(brief.fit, brief.cloth, brief.body)
    return thick + max(room - drawn_in * thick, 0.0)


LEAST_ACROSS_EASE = TradeValue(5.0, "mm", "from memory", "0 to 2.5 cm")
"""Of ease that a woven's across back keeps, before a thick arm takes that too."""


def narrow_across(brief: Brief, half: float, back: float, front: float, *, beyond: bool = True) -> AcrossWidths:
    """Return half of the across back and front, narrower where the armhole between would be too narrow for the arm.

    Wanted is a quarter of the arm's girth and 4 cm, for which both give the ease that the across back has; needed is
    ``room_needed``, for which they give a share of the body's too, and in a close knit as much as its bust is drawn in.
    Not ``beyond`` their ease they give nothing, a woven's keep a little of it.
    ``half`` is half of the girth at the underarm, ``back`` and ``front`` half of what lies across (mm).
    """
    body, woven = brief.body, brief.cloth.kind is Kind.WOVEN
    across, width = body["across_back_width"] / 2.0, half - back - front
    ease = max(back - across, 0.0)
    spare = max(ease - LEAST_ACROSS_EASE / 2.0, 0.0) if woven else ease
    share = WOVEN_ACROSS_GIVES if woven else max(KNIT_ACROSS_GIVES, share_drawn_in(brief.fit, brief.cloth, body))
    most = ease + across * share if beyond else spare
    wanted = min(wanted_width(body["upper_arm_girth"]) - width, 2.0 * spare)
    given = max(wanted, min(room_needed(brief) - width, 2.0 * most), 0.0) / 2.0
    return AcrossWidths(back - given, front - given, given)


def widest_armhole(brief: Brief) -> float:
    """Return how wide (mm) a knit's armhole is at most: as its arm or its bust would have it, and its ease's share."""
    body, ease = brief.body, max(ease_for(brief.fit, brief.cloth, brief.body).bust, 0.0)
    wanted = max(wanted_width(body["upper_arm_girth"]), BUST_EIGHTH * body["bust_girth"])
    return wanted + BEYOND_EIGHTH + EASE_IN_ARMHOLE * ease


def spread_across(brief: Brief, room: AcrossWidths, half: float) -> AcrossWidths:
    """Return half of the across back and front, wider where a full bust would leave all of itself to the armhole.

    The front is at most as wide as the back, and both have at most the ease that an across back has; a front that was
    measured stays as it is.
    """
    over = half - room.back - room.front - widest_armhole(brief)
    most = brief.body["across_back_width"] / 2.0 + MOST_ACROSS_EASE / 2.0
    if over <= 0.0 or room.given > 0.0 or most <= room.back:
        return room
    if "across_front_width" in brief.body.given:
        each = min(most - room.back, over)
        return AcrossWidths(room.back + each, room.front, -each)
    front = min(room.back - room.front, over)
    each = min(most - room.back, (over - front) / 2.0)
    return AcrossWidths(room.back + each, room.front + front + each, -each)


def knit_across(brief: Brief, half: float, ease: float) -> AcrossWidths:
    """Return half of a knit's across back and front, ``half`` its girth at the bust, ``ease`` that of the across (mm).

    A front that was measured is as it was measured, beside its back within what an armhole can be drawn for; one that
    leaves the arm too little room is no wider than by rule.
    """
    back = (brief.body["across_back_width"] + ease) / 2.0
    ruled = back - CHEST_NARROWER / 2.0
    if "across_front_width" not in brief.body.given:
        return spread_across(brief, narrow_across(brief, half, back, ruled), half)
    least, most = MEASURED_CHEST
    front = min(max((brief.body["across_front_width"] + ease) / 2.0, back - most / 2.0), back - least / 2.0)
    room = narrow_across(brief, half, back, front)
    if half - room.back - room.front < room_needed(brief) - TOLERANCE.same_point:
        room = narrow_across(brief, half, back, min(front, ruled))
    return spread_across(brief, room, half)


def draw_with_room(
    brief: Brief, draw: Callable[[float], Mapping[Side, T]], width: Callable[[T], float]
) -> Mapping[Side, T]:
    """Draw both halves; where an armhole is too narrow for the arm all the same, with more ease at the bust.

    ``draw`` takes how much more (mm, of the girth); ``width`` tells how wide (mm) a half's armhole came out.
    """
    needed, room = room_needed(brief), 0.0
    halves = draw(room)
    for _ in range(ROOM_TRIALS):
        short = needed - min(width(half) for half in halves.values())
        if room == MOST_FOR_ARM and short <= needed - brief.body["upper_arm_girth"] / math.pi:
            break
        if short <= TOLERANCE.same_point:
            break
        wanted = room + 2.0 * short + TOLERANCE.sewn_length
        room = MOST_FOR_ARM if room < MOST_FOR_ARM < wanted else wanted
        halves = draw(room)
    return halves


def width_at(front: Path, back: Path) -> float:
    """Return how wide (mm) an armhole is: front and back, drawn on +x from the underarm up, to their narrowest."""
    return front.start.x - front.bounds[0] + back.start.x - back.bounds[0]


@dataclass(frozen=True, slots=True)
class Armhole:
    """An armhole as found: its front and back runs, each from the underarm up, and from the shoulder down (mm)."""

    side: Side
    front: tuple[Use, ...]
    back: tuple[Use, ...]


def list_armholes(garment: Garment, arm: str) -> tuple[Opening, ...]:
    """Return the open armholes of the side that an option names, or of both."""
    names = {f"armhole-{side}" for side in sides_of(arm)}
    return tuple(opening for opening in openings(garment) if opening.name in names)


def find_armhole(garment: Garment, opening: Opening) -> Armhole:
    """Part the opening's run into its front, underarm to shoulder, and its back, shoulder to underarm."""
    run = opening.run
    faces = [garment.line(use).face for use in run]
    side = garment.line(run[0]).side
    # The run is walked in ring direction: on a left armhole up the front and down the back, on a right one reversed.
    first = Face.FRONT if side is Side.LEFT else Face.BACK
    start = next(i for i in range(len(run)) if faces[i] is first and faces[i - 1] is not first)
    turned = run[start:] + run[:start]
    one = tuple(use for use in turned if garment.line(use).face is first)
    two = tuple(use for use in turned if garment.line(use).face is not first)
    if side is Side.LEFT:
        return Armhole(side, one, two)
    return Armhole(side, tuple(u.reversed for u in reversed(two)), tuple(u.reversed for u in reversed(one)))
