"""Raising or lowering the underarm: the armhole starts elsewhere on the side seam and is drawn again."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Role, Stage, change, option, side_option, sides_of
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.underarms import keep_bust, lower_underarm
from drafting.saying import say


@dataclass(frozen=True, slots=True)
class UnderarmOptions:
    """Options of the change to the underarm."""

    by: float = option(
        "How much lower the armhole starts, along the side seam (less than 0: higher).",
        "length", 0.0, low=-80.0, high=250.0,
    )  # fmt: skip
    side: str = side_option("Which underarm is moved.")


@change(
    "underarm",
    "An underarm raised or lowered along the side seam, with its armhole drawn again.",
    Stage.SHAPE,
    needs=("scye_depth_length", "back_neck_point_to_waist"),
    moves=("armhole_depth",),
    mends=(
        Mend("cap-low", 'lower the underarm: add the change "{change}", by = "{by}"'),
        Mend("armhole-long", 'raise the underarm: add the change "{change}", by = "-{by}"'),
        Mend("toile-armhole-high", "mark where it should start: by = how much lower that is"),
        *mend_wavering(Role.ARMHOLE, Role.CAP),
    ),
)
def move_underarm(garment: Garment, brief: Brief, o: UnderarmOptions) -> Garment:
    """Move the underarms asked for, on front and back alike."""
    if o.by == 0.0:
        raise CannotDraft("by", "it asks for nothing", help="give how much lower, or higher, it starts")
    for side in sides_of(o.side):
        told = say("the {side} armhole starts lower on the side seam than the block's", side=side)
        fact = Fact(f"underarm_lowered_{side}", o.by, "mm", "choice", told)
        garment = lower_underarm(garment, brief, side, o.by).with_(facts=(fact,))
    return keep_bust(garment)
