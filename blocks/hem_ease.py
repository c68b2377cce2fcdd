"""The ease of a knit body over the hip: what a band draws in has none, what is turned hangs free or clings.

A turned hem with nil ease catches on the hip, and the back above it folds. It has ease there; in a close fit, which is
smaller than the hip, the body clings evenly from the waist down, and its hem lies clear of the hip's fullest.
"""

from __future__ import annotations

from dataclasses import replace

from drafting.cloth import EaseTable, Fit, ease_for
from drafting.garment import Brief, Garment
from drafting.saying import cm, say, span
from drafting.trade import trade_table

HEM = "hem"
"""The opening at the body's lower edge."""

TURNED_HIP_EASE = trade_table({Fit.SEMI: 30.0, Fit.RELAXED: 50.0}, "mm", "from memory", "2 to 5 cm under a turned hem")
"""At the hip at least, where a knit body's hem is turned and not drawn in by a band."""

_HANGS = say("a turned hem hangs free of the hip with {figures} (from memory)", figures=span(cm(2), cm(5)))
_CLINGS = (
    "close knit with a turned hem: as much less than the body as at the hip, so that it clings from the waist down"
)


def bodice_ease(garment: Garment, brief: Brief) -> EaseTable:
    """Return the ease of a knit body whose hem is turned, or taken up by what a later step sews to it."""
    ease = ease_for(brief.fit, brief.cloth, brief.body)
    if HEM in garment.taken_up:
        return ease
    if brief.fit is Fit.CLOSE:
        share = min(0.0, ease.hip) / brief.body["hip_girth"]
        waist = min(ease.waist, share * brief.body["waist_girth"])
        return replace(ease, waist=waist, reasons={**ease.reasons, "waist": _CLINGS}) if waist < ease.waist else ease
    least = TURNED_HIP_EASE[brief.fit]
    return ease if ease.hip >= least else replace(ease, hip=least, reasons={**ease.reasons, "hip": _HANGS})
