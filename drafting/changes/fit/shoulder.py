"""A forward shoulder: its seam lies farther to the front at its outer end; and how a shoulder is turned.

The shoulder is turned about its neck end, the back's dart closed, so that it keeps its length and the dart its angle
and its point; the armhole is drawn again to the shoulder's new end (common practice in pattern alteration).
"""

from __future__ import annotations

from drafting.garment import Brief, Face, Fact, Garment, Role, Stage, change, option, side_option, sides_of
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.fit_half import FRONT_AND_BACK, arm_frame, refuse_unless_body
from drafting.redraw.halves import find_half, with_armhole
from drafting.redraw.heights import keep_aims
from drafting.redraw.shoulders import armhole_facts, refuse_short, turn_up
from drafting.redraw.split_darts import work_on_whole_darts
from drafting.saying import say


@dataclass(frozen=True, slots=True)
class ForwardOptions:
    """Options of the forward shoulder."""

    by: float = option(
        "How far the shoulder seam's outer end moves to the front (less than 0: to the back).",
        "length", 8.0, low=-30.0, high=30.0,
    )  # fmt: skip
    side: str = side_option("Which shoulder.")


@change(
    "forward-shoulder",
    "A shoulder seam moved to the front at its outer end: the back gains what the front loses.",
    Stage.FIT,
    mends=(
        Mend("toile-shoulders-forward", "by = how far the seam's outer end must move"),
        *mend_wavering(Role.SHOULDER),
    ),
    moves=("shoulder_slope",),
)
def fit_forward_shoulder(garment: Garment, brief: Brief, o: ForwardOptions) -> Garment:
    """Move the shoulder seam forward: the back gains at its outer end what the front loses."""
    refuse_unless_body(garment)
    return work_on_whole_darts(garment, lambda g: _move_forward(g, o)) if o.by else garment


def _move_forward(garment: Garment, o: ForwardOptions) -> Garment:
    for side in sides_of(o.side):
        before = garment
        for face in FRONT_AND_BACK:
            half = find_half(garment, side, face)
            refuse_short(half, o.by)
            moved = turn_up(half, o.by if face is Face.BACK else -o.by)
            garment = garment.with_(pieces=(with_armhole(moved, arm_frame(moved)).piece,))
        told = say("the outer end of the {side} shoulder seam lies farther forward", side=side)
        fact = Fact(f"shoulder_forward_{side}", o.by, "mm", "choice", told)
        garment = keep_aims(before, garment).with_(facts=(fact, *armhole_facts(before, garment, side)))
    return garment
