"""Narrowing or widening a shoulder: its outer end moves, and the armhole is drawn again from the underarm to it."""

from __future__ import annotations

import math

from drafting.cloth import Kind
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fact,
    Garment,
    Role,
    Side,
    Stage,
    change,
    option,
    side_option,
    sides_of,
)
from drafting.garment.armholes import KNIT_ARM_ROOM, WOVEN_ARM_ROOM, take_armhole
from drafting.mending import mend_wavering
from drafting.record import dataclass
from drafting.redraw.shoulders import narrow_shoulder
from drafting.saying import say
from drafting.trade import TradeValue

FOLLOWS = TradeValue(0.3, "share", "from memory", "half of it where an armhole is narrowest")
"""Of what a shoulder is made shorter or longer that the width across the body, at its level, follows."""


@dataclass(frozen=True, slots=True)
class ShoulderOptions:
    """Options of the change to a shoulder."""

    narrow: float = option(
        "How much shorter the shoulder becomes at its outer end (less than 0 makes it longer).",
        "length", 0.0, low=-60.0, high=120.0,
    )  # fmt: skip
    side: str = side_option("Which shoulder is changed.")
    across: float | None = option(
        "How much of that the width across the body between the armholes follows, on that side; by rule 30 %, and of a "
        "shoulder made longer no more than leaves the arm its room. In front it follows less where its armhole would "
        "become longer than the back's.",
        "ratio", None, low=0.0, high=1.0,
    )  # fmt: skip


@change(
    "shoulder",
    "A shoulder made narrower or wider, with its armhole drawn again; a sleeve's cap takes up what the shoulder loses.",
    Stage.SHAPE,
    mends=mend_wavering(Role.ARMHOLE, Role.SHOULDER),
    moves=("shoulder_length", "across"),
)
def shape_shoulder(garment: Garment, brief: Brief, o: ShoulderOptions) -> Garment:
    """Narrow the shoulders asked for, on front and back alike."""
    if o.narrow == 0.0:
        raise CannotDraft("narrow", "it asks for nothing", help="give how much shorter, or longer, it becomes")
    for side in sides_of(o.side):
        share = _share_across(garment, brief, side, o.narrow) if o.across is None else o.across
        told = say("the {side} shoulder is shorter at its outer end than the block's", side=side)
        fact = Fact(f"shoulder_narrowed_{side}", o.narrow, "mm", "choice", told)
        garment = narrow_shoulder(garment, side, o.narrow, share).with_(facts=(fact,))
    return garment


def _share_across(garment: Garment, brief: Brief, side: Side, narrow: float) -> float:
    """How much of a change the across lines follow by rule: outwards no farther than leaves the arm its room."""
    taken = take_armhole(garment, side)
    if narrow > 0.0 or taken is None:
        return FOLLOWS
    beside = WOVEN_ARM_ROOM if brief.cloth.kind is Kind.WOVEN else KNIT_ARM_ROOM
    spare = taken.width - (brief.body["upper_arm_girth"] / math.pi + beside)
    return min(FOLLOWS, max(spare, 0.0) / (-2.0 * narrow))
