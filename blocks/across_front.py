"""How wide the front of a darted bodice is between its armholes, beside its back, its shoulders and the arm."""

from __future__ import annotations

from blocks.arm import room_needed
from drafting.garment import Brief
from drafting.garment.armholes import wanted_width
from drafting.trade import TradeValue, trade_row

FRONT_NARROWER = trade_row((15.0, 60.0), "mm", "from memory")
"""By which the front of a darted bodice, whole, is narrower than its back between the armholes, at least and at
most: at least where the chest is no broader, or its armhole has no room for a broader one."""

BROADER_FRONT = trade_row((8.0, 16.0), "mm", "from memory", "a broad chest; wider, its armhole is hardly hollow")
"""By which the front, whole, is wider than its back at most, over a broad chest: estimated, and measured."""

BEYOND_SHOULDER = TradeValue(2.0, "mm", "derived", "by drawing: farther out, the front hardly is the hollower")
"""By which half of such a front lies farther out than its shoulder ends, at most."""

MOST_MEASURED_NARROWER = TradeValue(90.0, "mm", "from memory", "as it was measured")
"""By which a front that was measured is narrower than its back at most."""


def front_across(brief: Brief, half_back: float, beside: float, ease: float) -> float:
    """Return half of the across front (mm), with so much of its ``ease`` as leaves the arm its room.

    ``beside`` is what half of the girth at the underarm has beside half of the back. A chest that is broader than
    usual beside its back is drawn so, as far as its armhole stays as wide as the arm needs it; one that was only
    estimated, as the arm wants it.
    """
    body, bare, needed = brief.body, brief.body["across_front_width"] / 2.0, room_needed(brief)
    (least, most), measured = FRONT_NARROWER, "across_front_width" in body.given
    room = needed if measured else max(needed, wanted_width(body["upper_arm_girth"]))
    broader = half_back + BROADER_FRONT[measured] / 2.0
    usual = half_back - (0.0 if measured else least / 2.0)
    eased = max(min(bare + ease, beside - needed), bare)
    narrowest = half_back - (MOST_MEASURED_NARROWER if measured else most) / 2.0
    return min(max(eased, narrowest), max(usual, min(broader, beside - room)))


def hold_to_shoulder(half_front: float, half_back: float, end: float) -> float:
    """Return half of the across front (mm) as far out as its armhole may lie beside the shoulder's ``end``."""
    return min(half_front, max(end + BEYOND_SHOULDER, half_back - FRONT_NARROWER[0] / 2.0))
