"""The flared skirt without darts: the waist darts closed into the hem, so that the cloth is part of a cone.

The least flare is the cone that passes through waist and hip: its share of a circle is
(hip - waist) / (2 pi x waist to hip), about that of a quarter circle. A wider hem takes more of a circle.
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
from drafting.trade import TradeValue
from drafting.work.kinds import SIDE

LEAST_CIRCLE_SHARE = TradeValue(0.12, "share", "from memory")
"""Of a circle at least: a figure whose waist is hardly smaller than its hip gets a skirt that still flares."""

GREATEST_CIRCLE_SHARE = TradeValue(1.0, "share", "derived")
"""Of a circle at most: the whole of it."""


@dataclass(frozen=True, slots=True)
class FlaredSkirtOptions:
    """Options of the flared skirt."""

    length: float | None = length_option()
    sweep: float | None = option(
        "How far round the hem is; by rule as little as goes over waist and hip without darts.",
        "length",
        None,
        low=700.0,
        high=9000.0,
    )
    waist_ease: float | None = waist_ease_option()


@block(
    "flared-skirt",
    "A skirt without darts that widens from waist to hem.",
    Stage.BODY,
    needs=NEEDS,
    kinds=(SIDE,),
    makes="skirt",
)
def draft_flared_skirt(garment: Garment, brief: Brief, o: FlaredSkirtOptions) -> Garment:
    """Draft front and back as parts of a cone."""
    w = waist_of(garment, brief, o)
    length = length_of(brief, w, o.length)
    share = max(least_share(w), LEAST_CIRCLE_SHARE)
    if o.sweep is not None:
        share = _share_of(o.sweep, share, w.girth, length)
    facts = (Fact("circle_share", share, "share", "solve", "so that waist, hip and hem lie on one cone"),)
    return cone_skirt(garment, brief, w, share, length, facts)


def _share_of(sweep: float, least: float, waist: float, length: float) -> float:
    """The share of a circle at which the hem measures ``sweep`` mm; CannotDraft where that misses the hip."""
    share = (sweep - waist) / (2.0 * math.pi * length)
    lowest = waist + 2.0 * math.pi * least * length
    if share < least:
        raise CannotDraft(
            "sweep",
            say(
                "a hem of {sweep} is too narrow: through waist and hip it measures {lowest}",
                sweep=mm(sweep),
                lowest=mm(lowest),
            ),
            short_by=lowest - sweep,
            help="make the hem wider, or take a straight skirt with darts",
        )
    if share > GREATEST_CIRCLE_SHARE:
        raise CannotDraft(
            "sweep", say("a hem of {sweep} takes more than a full circle", sweep=mm(sweep)),
            short_by=sweep - waist - 2.0 * math.pi * length, help="gather the waist, or make the hem narrower",
        )  # fmt: skip
    return share
