"""The ease of a knit body: over the hip by what becomes of its hem, and over the bust along the front's side.

A turned hem with nil ease catches on the hip, and the back above it folds. It has ease there; in a close fit, which is
smaller than the hip, the body clings evenly from the waist down, as far as its waist still passes over the bust, and
its hem lies clear of the hip's fullest.

A front without darts is as long as the back along the side. Where the way over the bust is longer than the cloth's
stretch bridges, the front is drawn out between bust and waist, and eased onto the back there (common practice); what it
lacks beyond that is added below at the centre, running out to nothing at the sides. Where the body's way is shorter,
the front's neck and shoulder are drafted lower than the back's.
"""

from __future__ import annotations

from dataclasses import replace

from blocks.knit_dart import open_bust_darts, short_over_bust
from drafting.body import Body
from drafting.cloth import EaseTable, Fit, ease_for
from drafting.cloth.ease import least_waist_ease
from drafting.garment import Brief, Garment
from drafting.geometry import Point
from drafting.redraw.fit_bust_knit import draw_out_front
from drafting.saying import cm, say, span
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_table

TAKEN_UP = frozenset({"hem", "waist"})
"""What a later step sews to the body's lower edge: a band at its hem, or a skirt at its waist."""

LEFT_SHORT = TradeValue(8.0, "mm", "from memory", "a knit gives that much in its length")
"""That a front stays shorter over the bust than the body, before it is made longer."""

EASED_BY_RULE = TradeValue(12.0, "mm", "common practice", "1 to 1.5 cm, which is eased in unseen")
"""By which a front is made longer over the bust at most, and eased onto the back along the side."""

MOST_DROPPED = TradeValue(15.0, "mm", "common practice", "1 to 1.5 cm at the centre of the hem or the waist seam")
"""By which a front's waist and hem are drawn lower at the centre than at the sides at most."""

DROP_AT_BUST = TradeValue(
    0.65, "share", "derived", "of a line that lies level at centre and side, under the bust point"
)
"""Of what a front is dropped at the centre, that it is under the bust point."""

LEFT_LONG = TradeValue(8.0, "mm", "from memory", "two tapings differ by 1 cm")
"""That a front stays longer over the bust than the body, before its neck and shoulder are drafted lower."""

MOST_LOWERED = TradeValue(20.0, "mm", "from memory", "1 to 2 cm for a flat chest or an erect body")
"""By which the front's neck and shoulder are drafted lower than the back's at most."""

TURNED_HIP_EASE = trade_table({Fit.SEMI: 30.0, Fit.RELAXED: 50.0}, "mm", "from memory", "2 to 5 cm under a turned hem")
"""At the hip at least, where a knit body's hem is turned and not drawn in by a band."""

_HANGS = say("a turned hem hangs free of the hip with {figures} (from memory)", figures=span(cm(2), cm(5)))
_CLINGS = (
    "close knit with a turned hem: as much less than the body as at the hip, so that it clings from the waist down"
)


def bodice_ease(garment: Garment, brief: Brief) -> EaseTable:
    """Return the ease of a knit body whose hem is turned, or taken up by what a later step sews to it."""
    ease = ease_for(brief.fit, brief.cloth, brief.body)
    if TAKEN_UP & garment.taken_up:
        return ease
    if brief.fit is Fit.CLOSE:
        share = min(0.0, ease.hip) / brief.body["hip_girth"]
        clings = max(share * brief.body["waist_girth"], least_waist_ease(brief.cloth, brief.body))
        waist = min(ease.waist, clings)
        return replace(ease, waist=waist, reasons={**ease.reasons, "waist": _CLINGS}) if waist < ease.waist else ease
    least = TURNED_HIP_EASE[brief.fit]
    return ease if ease.hip >= least else replace(ease, hip=least, reasons={**ease.reasons, "hip": _HANGS})


def ease_front(garment: Garment, brief: Brief, side_neck: Point, darted: bool) -> Garment:
    """Return the knit body with its front longer over the bust where the body's way there is.

    What its sides are longer by is taken in by a dart in each where it is to be ``darted``, else eased onto the back.
    Eased, one that is cut off at the waist for a skirt, or above it, stays as it is: its sides are short for that.
    """
    if darted:
        return open_bust_darts(garment, brief.body, side_neck)
    shown = any(level.name == "waist" for piece in garment.pieces for level in piece.levels)
    if "waist" in garment.taken_up or not shown:
        return garment
    short = short_over_bust(brief.body, side_neck) - LEFT_SHORT
    return draw_out_front(garment, min(short, EASED_BY_RULE)) if short > TOLERANCE.sewn_length else garment


def lower_front(body: Body, side_neck: Point) -> float:
    """Return by how much (mm) the front's neck and shoulder are drafted lower than the back's, at ``side_neck``.

    A front that is longer over the bust than the body hangs in folds above the waist: the length is taken out where
    the body lacks it, over the chest (common practice).
    """
    return min(max(-short_over_bust(body, side_neck) - LEFT_LONG, 0.0), MOST_LOWERED)


def drop_front(body: Body, side_neck: Point) -> float:
    """Return by how much (mm) the front's waist and hem lie lower at the centre than at the sides, at ``side_neck``.

    It is for what its sides can't take as ease (common practice).
    """
    lacks = max(short_over_bust(body, side_neck) - LEFT_SHORT - EASED_BY_RULE, 0.0)
    return min(lacks / DROP_AT_BUST, MOST_DROPPED)
