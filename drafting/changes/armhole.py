"""Cutting in the armhole: it is drawn again between the same ends, nearer to the centre."""

from __future__ import annotations

from dataclasses import replace

from drafting.changes.halves import Half, armhole_frame, faces_of, find_half, put_back, sides_of, with_armhole
from drafting.errors import CannotDraft
from drafting.garment import Brief, Change, Fact, Garment, Stage, option
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

NAME = "cut-in-armhole"


@dataclass(frozen=True, slots=True)
class CutInOptions:
    """Options of the cut-in armhole."""

    by: float = option(
        "How much the width between the armholes shrinks on each side (less than 0 fills the armhole out).",
        "length", 10.0, low=-40.0, high=80.0,
    )  # fmt: skip
    side: str = option("Which armhole is cut in.", "choice", "both", choices=("both", "left", "right"))
    face: str = option("Whether front, back or both are cut in.", "choice", "both", choices=("both", "front", "back"))


def cut_in(half: Half, by: float) -> Half:
    """Return the half with its armhole ``by`` mm nearer to the centre at the level of the across width."""
    old = armhole_frame(half)
    drawn = with_armhole(half, replace(old, across=old.across - by))
    missed = drawn.half_across.x - (old.across - by)
    if abs(missed) > TOLERANCE.arc_length:
        raise CannotDraft(
            NAME, "by",
            f"no fair armhole between the same ends is cut in by {by:.0f} mm on the {half.side} {half.face}; "
            f"{by - missed:.1f} mm is the limit",
            short_by=abs(missed), help="narrow the shoulder too, or cut in less",
        )  # fmt: skip
    return drawn


def apply(garment: Garment, brief: Brief, o: CutInOptions) -> Garment:
    """Cut in the armholes asked for."""
    if o.by == 0.0:
        return garment
    for side in sides_of(o.side):
        for face in faces_of(o.face):
            garment = put_back(garment, [cut_in(find_half(garment, NAME, side, face), o.by)])
            told = f"the {side} {face} is narrower between centre and armhole"
            garment = garment.with_(facts=(Fact(f"armhole_cut_in_{face}_{side}", o.by, "mm", "choice", told),))
    return garment


CUT_IN_ARMHOLE = Change(
    name="cut-in-armhole",
    sentence="An armhole cut in towards the centre, its ends where they were.",
    options=CutInOptions,
    stage=Stage.SHAPE,
    apply=apply,
)
"""The change, for the entry point ``cut-in-armhole``."""
