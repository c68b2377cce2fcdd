"""Widths of the garment against the body's and the ease that its fit asks for, whatever rule made them wider."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.cloth import ease_for
from drafting.garment import Aim, Brief, Garment, Girth, Width
from drafting.proof.checks.ease import latest_aims, measure_garment
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.sides import sideless
from drafting.trade import TradeValue, trade_table

OVER = trade_table(
    {"bust": 100.0, "waist": 100.0, "hip": 100.0, "upper_arm": 120.0}, "mm", "from memory", "fits lie 25 to 75 mm apart"
)
"""By which a girth may have more ease than the fit asks for: farther, and it is no longer that fit nor the next."""

UNDER = TradeValue(30.0, "mm", "from memory")
"""By which it may have less: what the fit asks is hardly more than this in most."""

BACK_OVER, BACK_UNDER = TradeValue(30.0, "mm", "from memory"), TradeValue(20.0, "mm", "from memory")
"""By which an across back may be wider or narrower than the fit asks, unwarned: 1 to 1.5 cm at each armhole."""


def width_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The girths and the across back that the garment is to have, taken on the pieces."""
    fit = ease_for(brief.fit, brief.cloth, brief.body).figures()
    for aim in latest_aims(garment.aims):
        finished = measure_garment(garment, aim.measure, aim.side)
        place = sideless(aim.measure.name).replace("-", "_")
        if finished is None or place not in fit:
            continue
        asked = fit[place]
        if isinstance(aim.measure, Girth) and place in OVER:
            yield _row(aim, place, finished, asked - UNDER, asked + OVER[place], Severity.ERROR)
        elif isinstance(aim.measure, Width):
            yield _row(aim, place, finished, asked - BACK_UNDER, asked + BACK_OVER, Severity.WARNING)


def _row(aim: Aim, place: str, finished: float, least: float, most: float, severity: Severity) -> FitRow:
    return FitRow(
        f"{place}_width",
        str(aim.measure),
        aim.title,
        aim.body,
        finished,
        aim.meant,
        least,
        most,
        severity=severity,
        remedy="measure again what the draft is made from: a rule has widened or narrowed it for the sake of another "
        "measure",
    )
