"""The back shoulder's shaping over the shoulder blade, by the body: a dart, and a little ease onto the front.

    what              rule                                                                        source
    dart's intake     0.08 of the shoulder, and a tenth of what the back is longer than the       from memory:
                      centre front beyond the usual 60 mm: more for one that stoops, 6 to 18 mm   6 to 18 mm
    dart's length     0.43 of the scye depth, to the shoulder blade, 65 to 95 mm                  from memory: 7 to 9 cm
    ease              4 mm beside a dart, 8 mm without one                                        from memory: 0 to 1 cm

The mean woman of 1988 has 11 x 80 mm by that, the mean man 13 x 92.
"""

from __future__ import annotations

from drafting.body import Body
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_row, trade_table

SHOULDER_EASE = trade_table({"with a dart": 4.0, "without": 8.0}, "mm", "from memory", "woven, 0 to 1 cm")
"""By which a woven's back shoulder is longer than its front's by rule, and eased onto it."""

BLADE_SHARE = TradeValue(0.08, "share", "from memory", "10 to 13 mm for a shoulder of 12 to 16 cm")
"""Of the shoulder that its dart takes in on a back as round as most."""

USUAL_BALANCE = TradeValue(60.0, "mm", "derived", "ANSUR 1988: women 54, men 65 on average")
"""By which the back, nape to waist, is longer than the centre front, front neck point to waist."""

ROUND_SHARE = TradeValue(0.1, "share", "from memory", "a stooping back 3 to 5 mm more")
"""Of what a back is longer than that, by which its shoulder's dart takes in more: it stoops."""

BLADE_INTAKES = trade_row((6.0, 18.0), "mm", "from memory")
"""That a back shoulder dart takes in by rule, at least and at most."""

BLADE_DOWN = TradeValue(0.43, "share", "derived", "80 mm on the mean scye depth of 1988")
"""Of the scye depth, below the shoulder, at which its dart ends: over the shoulder blade."""

BLADE_LENGTHS = trade_row((65.0, 95.0), "mm", "from memory", "70 to 90 mm")
"""Of length of a back shoulder dart by rule, at least and at most."""


@dataclass(frozen=True, slots=True)
class Shaping:
    """The back shoulder's shaping (mm): what the dart takes in and how long it is, and what is eased onto the front."""

    dart: float
    length: float
    ease: float


def shape_shoulder(body: Body, with_dart: bool, dart: float | None, ease: float | None) -> Shaping:
    """Return the shaping for a body, what is asked for in place of the rule's."""
    by_rule = SHOULDER_EASE["with a dart" if with_dart else "without"] if ease is None else ease
    if not with_dart:
        return Shaping(0.0, BLADE_LENGTHS[0], by_rule)
    return Shaping(dart if dart is not None else blade_intake(body), blade_length(body), by_rule)


def blade_intake(body: Body) -> float:
    """Return what the back shoulder's dart takes in on a body (mm)."""
    stoop = body["back_neck_point_to_waist"] - body["front_neck_point_to_waist"] - USUAL_BALANCE
    return min(max(BLADE_SHARE * body["shoulder_length"] + ROUND_SHARE * stoop, BLADE_INTAKES[0]), BLADE_INTAKES[1])


def blade_length(body: Body) -> float:
    """Return how long the back shoulder's dart is on a body (mm)."""
    return min(max(BLADE_DOWN * body["scye_depth_length"], BLADE_LENGTHS[0]), BLADE_LENGTHS[1])
