"""The armholes of the garment against the arm that goes through them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from drafting.cloth import Fit, Kind
from drafting.garment import Brief, Garment, Side
from drafting.garment.armholes import WOVEN_ARM_ROOM, ArmholeTaken, take_armhole, wanted_width
from drafting.garment.features import BustPoint
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SHORT_CLOSE = TradeValue(0.03, "share", "from memory")
"""Of the body's armhole by which a close knit's may be shorter: it stretches by more as it is worn. In any other it is
at least as long as the body's (common practice)."""


GIVES = TradeValue(0.9, "share", "from memory")
"""Of the arm's thickness that a knit's armhole is wide at least: the cloth gives by the rest."""

UNFELT = TradeValue(1.0, "mm", "from memory")
"""By which an armhole may be narrower than it is drafted without a word."""


def armhole_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The width, depth and length of each armhole."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield from _armhole(taken, side, garment, brief)


def _armhole(taken: ArmholeTaken, side: Side, garment: Garment, brief: Brief) -> Iterator[FitRow]:
    body, place = brief.body, f"armhole-{side}"
    stretches, shaped = garment.needs.stretch > 0.0, any(piece.of_kind(BustPoint) for piece in garment.pieces)
    row = _width(taken, side, brief, stretches=stretches)
    # A garment of rectangles leaves its armhole no width, and needs none.
    yield row if stretches or shaped else replace(row, least=None)
    yield FitRow(
        "armhole_depth",
        place,
        say("{side} armhole, depth from the nape", side=side),
        body["scye_depth_length"],
        taken.depth,
    )
    yield _length(taken, side, brief)


def _length(taken: ArmholeTaken, side: Side, brief: Brief) -> FitRow:
    """How long an armhole is: it goes round the body's; a close knit's may be shorter, for it stretches."""
    scye, clings = brief.body["armscye_girth"], brief.cloth.kind is Kind.KNIT and brief.fit is Fit.CLOSE
    return FitRow(
        "armhole_length",
        f"armhole-{side}",
        say("{side} armhole, length", side=side),
        scye,
        taken.length,
        least=-SHORT_CLOSE * scye if clings else 0.0,
        severity=Severity.WARNING,
        remedy="lower the underarm, or choose a looser fit",
    )


def _width(taken: ArmholeTaken, side: Side, brief: Brief, *, stretches: bool) -> FitRow:
    """What is left for the arm: never less than it is thick, in a woven with room beside it, or the armhole cuts in.

    An armhole that is narrower than the arm doesn't go round it: in a woven that is an error, and in what is drafted to
    stretch where it is narrower by more than the cloth gives.
    """
    arm = brief.body["upper_arm_girth"]
    wanted, thick = wanted_width(arm), arm / math.pi
    least, fails = (thick, thick * GIVES) if stretches else (thick + WOVEN_ARM_ROOM - UNFELT, thick)
    severity = Severity.ERROR if taken.width < fails else Severity.WARNING
    title = say("{side} armhole, width", side=side)
    remedy = "leave out the change that makes it narrow, or choose a looser fit"
    return FitRow(
        "armhole_width",
        f"armhole-{side}",
        title,
        wanted,
        taken.width,
        least=least - wanted - TOLERANCE.same_point if taken.lies_flat else None,
        severity=severity,
        remedy=remedy,
        chief=True,
    )
