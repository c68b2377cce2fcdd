"""Narrowing or widening a shoulder: its outer end moves, and the armhole is drawn again from the underarm to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    LineLength,
    Role,
    Side,
    Stage,
    change,
    option,
    shift_aim,
    side_option,
    sides_of,
)
from drafting.garment.armholes import take_armhole
from drafting.geometry import Path, root
from drafting.mending import mend_wavering
from drafting.record import dataclass
from drafting.redraw.halves import (
    Half,
    armhole_frame,
    find_half,
    put_back,
    shoulder_of,
    with_armhole,
)
from drafting.redraw.over_darts import ARM, work_over_darts
from drafting.redraw.shapes import SHORTEST_SHOULDER
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BACK_STAYS_LONGER = TradeValue(2.0, "mm", "from memory", "equal or longer")
"""By which an armhole's back is longer than its front where a narrowed front would else be the longer."""


@dataclass(frozen=True, slots=True)
class ShoulderOptions:
    """Options of the change to a shoulder."""

    narrow: float = option(
        "How much shorter the shoulder becomes at its outer end (less than 0 makes it longer).",
        "length", 0.0, low=-60.0, high=120.0,
    )  # fmt: skip
    side: str = side_option("Which shoulder is changed.")
    across: float = option(
        "How much of that the width across the body between the armholes follows, on that side; in front less where its"
        " armhole would become longer than the back's.",
        "ratio", 0.6, low=0.0, high=1.0,
    )  # fmt: skip


def narrow_half(half: Half, by: float, share: float) -> Half:
    """Return the half with its shoulder shorter by ``by`` mm, the armhole square to the shoulder's new end."""
    outer, neck = shoulder_of(half)
    remains = outer.distance(neck) - by
    if remains < SHORTEST_SHOULDER:
        raise CannotDraft(
            f"shoulder-{half.side}",
            say(
                "the {side} shoulder measures {distance}; narrowed by {by} too little of it remains",
                side=half.side,
                distance=mm(outer.distance(neck)),
                by=mm(by),
            ),
            short_by=SHORTEST_SHOULDER - remains,
            help="narrow it less, or open the neckline less",
        )
    end = outer + (neck - outer).unit * by
    old = armhole_frame(half)
    frame = replace(old, shoulder=end, across=old.across - share * by).at_level(old.level)
    moved = half.with_paths({half.line(Role.SHOULDER).name: Path.straight(end, neck)})
    return with_armhole(moved, frame)


@change(
    "shoulder",
    "A shoulder made narrower or wider, with its armhole drawn again.",
    Stage.SHAPE,
    mends=mend_wavering(Role.ARMHOLE, Role.SHOULDER),
    moves=("shoulder_length",),
)
def shape_shoulder(garment: Garment, brief: Brief, o: ShoulderOptions) -> Garment:
    """Narrow the shoulders asked for, on front and back alike."""
    if o.narrow == 0.0:
        raise CannotDraft("narrow", "it asks for nothing", help="give how much shorter, or longer, it becomes")
    for side in sides_of(o.side):
        garment = _narrow_side(garment, side, o)
    return garment


def _narrow_side(garment: Garment, side: Side, o: ShoulderOptions) -> Garment:
    narrow = partial(_narrow_face, side=side, o=o)
    backed = narrow(garment, Face.BACK, o.across)
    made = narrow(backed, Face.FRONT, o.across)
    if _back_longer(garment, side) >= 0.0 > _back_longer(made, side):
        made = _balance(backed, side, o, narrow)
    made = shift_aim(made, LineLength(f"shoulder-{side}"), -o.narrow)
    told = say("the {side} shoulder is shorter at its outer end than the block's", side=side)
    return made.with_(facts=(Fact(f"shoulder_narrowed_{side}", o.narrow, "mm", "choice", told),))


def _balance(
    backed: Garment, side: Side, o: ShoulderOptions, narrow: Callable[[Garment, Face, float], Garment]
) -> Garment:
    """Narrow the front so that its armhole is no longer than the back's: the width across follows less there.

    The front's shoulder, the steeper, rises more as it is cut off.
    """

    def spare(share: float) -> float:
        return _back_longer(narrow(backed, Face.FRONT, share), side) - BACK_STAYS_LONGER

    share = root(spare, 0.0, o.across, within=_SAME_SHARE)[0] if spare(0.0) > 0.0 else 0.0
    return narrow(backed, Face.FRONT, share)


_SAME_SHARE = TOLERANCE.same_point / 1000.0  # of at most some 100 mm: the width within a tenth of the same point


def _back_longer(garment: Garment, side: Side) -> float:
    """By how much the back of an armhole is longer than its front."""
    taken = take_armhole(garment, side)
    return 0.0 if taken is None else taken.back - taken.front


def _narrow_face(garment: Garment, face: Face, share: float, side: Side, o: ShoulderOptions) -> Garment:
    def shape(garment: Garment) -> Garment:
        return put_back(garment, [narrow_half(find_half(garment, side, face), o.narrow, share)])

    return work_over_darts(garment, (side,), face, ARM, shape)
