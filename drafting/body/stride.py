"""Stride: what goes round both legs of a body at a step, by the height above the floor.

At a step the feet stand about 0.41 of the stature apart (common practice where steps are counted; from memory), and
the legs swing from the hips. At a height h above the floor they are then step x (hip height - h) / hip height apart,
and what goes round both, as a string round two posts, is twice that and the girth of one leg.
"""

from __future__ import annotations

from drafting.body.body import Body
from drafting.trade import TradeValue

STRIDE = TradeValue(0.41, "share", "from memory")
"""Of the stature by which the feet are apart at a step."""

PAST_KNEE = TradeValue(30.0, "mm", "from memory")
"""Below the middle of the knee, from which a straight skirt isn't walked in without a vent."""

WALKED_TO = TradeValue(5.0, "mm", "derived", "finer than a vent is set")
"""By which heights are tried for a stride."""


def stride_girth(body: Body, height: float) -> float:
    """Return what goes round both legs (mm) at a height above the floor (mm), at a step."""
    hips = body["hip_height"]
    apart = STRIDE * body["stature"] * max(0.0, hips - height) / hips
    return 2.0 * apart + body["knee_girth" if height >= body["knee_height"] else "calf_girth"]


def walking_height(body: Body, girth: float, low: float) -> float:
    """Return the least height above the floor (mm), not below ``low``, at which a girth goes round the stride."""
    found = low
    while found < body["hip_height"] and stride_girth(body, found) > girth:
        found += WALKED_TO
    return found


def middle_of_thigh(body: Body) -> float:
    """Return the height above the floor (mm) above which a hem may be as narrow as it likes."""
    return (body["inside_leg_height"] + body["knee_height"]) / 2.0
