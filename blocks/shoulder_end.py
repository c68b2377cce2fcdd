"""How far out a knit's shoulder ends: beyond the bone for an armhole that is too wide, or a back that reaches farther.

    part                              rule                                                     source
    an armhole wider than it need be  the shoulder longer by half of that, to 5, 8, 10 mm      common practice
    a back broad for the shoulders    the shoulder ends on half of the across back, or up to   from memory: on it, or
                                      5 mm inside it, but at most 8, 12, 15 mm beyond the      up to 1.5 cm beyond
                                      bone; then the across back gives what ease it has

A back that reaches farther out than its shoulder has an armhole that slants down without a hollow.
"""

from __future__ import annotations

import math
from dataclasses import replace

from blocks.arm import width_at
from blocks.bodice_facts import BodiceFrame
from blocks.bodice_half import BodiceOptions, draw_half
from drafting.body import Body
from drafting.cloth import Fit
from drafting.garment import Face
from drafting.trade import TradeValue, trade_table

EXTENDED = trade_table(
    {Fit.CLOSE: 5.0, Fit.SEMI: 8.0, Fit.RELAXED: 10.0}, "mm", "common practice", "a loose tee's drops by 1 cm and more"
)
"""By which a shoulder is longer than the body's at most for its armhole to be no wider than it need be."""

END_AHEAD = TradeValue(0.07, "share", "derived", "by drawing: farther out the front would bend in two places")
"""Of the way up from the underarm, by the shoulder's slope, that a shoulder which is longer for a wide armhole ends
beyond half of the across front at most."""

LONGER_FOR_BACK = trade_table(
    {Fit.CLOSE: 8.0, Fit.SEMI: 12.0, Fit.RELAXED: 15.0}, "mm", "common practice", "a loose tee's drops by 1 cm and more"
)
"""By which it is longer at most for its end not to lie inside the back's width."""

ENDS_INSIDE = TradeValue(5.0, "mm", "from memory", "on the across back's line, or up to 1.5 cm beyond it")
"""By which it ends inside half of the across back at most, unless it were too long for that."""


def extend_shoulder(f: BodiceFrame, o: BodiceOptions, fit: Fit, underarm: float, shoulder: float, own: float) -> float:
    """Return the shoulder length (mm), longer where an armhole that is too wide starts at an end that lies far in.

    It is by at most what a fit lets it be longer than its ``own``, and ends no farther out than a front that leans in.
    """
    front, back = (draw_half(f, face, o, underarm, shoulder).armhole for face in (Face.FRONT, Face.BACK))
    over = width_at(front.path, back.path) - f.widest
    base, slope, end = f.side_neck(Face.FRONT), f.slopes[Face.FRONT], f.along_shoulder(Face.FRONT, shoulder)
    farthest = f.half_front + END_AHEAD * math.tan(slope) * (end.y - underarm)
    most = min(own + EXTENDED[fit], (farthest - base.x) / math.cos(slope))
    return max(shoulder, min(shoulder + over / 2.0 / math.cos(f.slope), most))


def follow_back(f: BodiceFrame, fit: Fit, body: Body, shoulder: float) -> tuple[BodiceFrame, float]:
    """Return the half and its shoulder's length (mm), longer where its back reaches farther out than its end.

    Where it can be no longer, the across back gives up ease, if it has any.
    """
    slope = f.slopes[Face.BACK]

    def inside(length: float) -> float:
        return f.half_back - f.along_shoulder(Face.BACK, length).x - ENDS_INSIDE

    most = body["shoulder_length"] + LONGER_FOR_BACK[fit]
    longer = max(shoulder, min(shoulder + max(inside(shoulder), 0.0) / math.cos(slope), most))
    gives = min(max(inside(longer), 0.0), max(f.half_back - body["across_back_width"] / 2.0, 0.0))
    return replace(f, half_back=f.half_back - gives), longer
