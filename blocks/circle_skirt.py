"""The circle skirt: a quarter, a half or a full circle of cloth about the waist, without darts.

Waist and hem are arcs about one centre (``blocks/cones`` has the closed forms). Front and back are each half of it; the
side seams are straight and equal. On the bias the hem drops as it hangs.
"""

from __future__ import annotations

import math

from blocks.cones import cone_skirt, least_share
from blocks.skirt_pieces import NEEDS, length_of, length_option, waist_ease_option
from blocks.waistline import waist_of
from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Stage, block, option
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import trade_table
from drafting.work.kinds import SIDE

CIRCLE_SHARES = trade_table({"quarter": 0.25, "half": 0.5, "full": 1.0}, "share", "derived", "by its name")
"""Of a full circle that each skirt is."""


@dataclass(frozen=True, slots=True)
class CircleSkirtOptions:
    """Options of the circle skirt."""

    circle: str = option("How much of a circle the skirt is.", "choice", "half", choices=("quarter", "half", "full"))
    length: float | None = length_option()
    waist_ease: float | None = waist_ease_option()


@block(
    "circle-skirt",
    "A quarter, half or full circle skirt, its waist and hem arcs about one centre.",
    Stage.BODY,
    needs=NEEDS,
    kinds=(SIDE,),
    makes="skirt",
)
def draft_circle_skirt(garment: Garment, brief: Brief, o: CircleSkirtOptions) -> Garment:
    """Draft front and back, with darts none and side seams straight."""
    w = waist_of(garment, brief, o)
    share = CIRCLE_SHARES[o.circle]
    length = length_of(brief, w, o.length)
    least = least_share(w)
    if share < least - TOLERANCE.tangent and o.circle != "quarter":
        hip = w.girth + 2.0 * math.pi * share * w.fall
        raise CannotDraft(
            "hip_girth",
            say(
                "at the hip this skirt measures {hip} where {hip_girth} are needed",
                hip=mm(hip),
                hip_girth=mm(w.hip_girth),
            ),
            short_by=w.hip_girth - hip,
            help="take more of a circle, or more ease at the waist",
        )
    facts = [Fact("circle_share", max(share, least), "share", "choice", f"a {o.circle} circle")]
    if share < least:
        facts.append(Fact("circle_share_raised", least - share, "share", "rule", "more of a circle: the hip needs it"))
    return cone_skirt(garment, brief, w, max(share, least), length, tuple(facts))
