"""The back shoulder's shaping over the shoulder blade, by the body: a dart, and a little ease onto the front.

    what              rule                                                                        source
    dart's intake     0.08 of the shoulder, and a tenth of what the back is longer than the       from memory:
                      centre front beyond the usual 60 mm: more for one that stoops, to 18 mm     1 to 1.8 cm
    dart's length     0.43 of the scye depth, to the shoulder blade, 65 to 95 mm                  from memory: 7 to 9 cm
    ease              4 mm beside a dart, 8 mm without one                                        from memory: 0 to 1 cm
    less than 10 mm   isn't worth a dart: up to 2 mm less the dart is made of the ease beside it,  common practice
                      what is flatter is eased in

The mean woman of 1988 has 11 x 80 mm by that, the mean man 13 x 92.
"""

from __future__ import annotations

from drafting.body import Body
from drafting.record import dataclass
from drafting.redraw.dart_points import LEAST_DART
from drafting.trade import TradeValue, trade_row, trade_table

SHOULDER_EASE = trade_table({"with a dart": 4.0, "without": 8.0}, "mm", "from memory", "woven, 0 to 1 cm")
"""By which a woven's back shoulder is longer than its front's by rule, and eased onto it."""

BLADE_SHARE = TradeValue(0.08, "share", "from memory", "10 to 13 mm for a shoulder of 12 to 16 cm")
"""Of the shoulder that its dart takes in on a back as round as most."""

USUAL_BALANCE = TradeValue(60.0, "mm", "derived", "ANSUR 1988: women 54, men 65 on average")
"""By which the back, nape to waist, is longer than the centre front, front neck point to waist."""

ROUND_SHARE = TradeValue(0.1, "share", "from memory", "a stooping back 3 to 5 mm more")
"""Of what a back is longer than that, by which its shoulder's dart takes in more: it stoops."""

BLADE_INTAKES = trade_row((LEAST_DART, 18.0), "mm", "from memory")
"""That a back shoulder dart takes in by rule, at least and at most."""

DART_FROM_EASE = TradeValue(2.0, "mm", "from memory", "half of the ease beside a dart")
"""Of the ease beside it at most that makes a dart worth one: with less yet the whole is eased in."""

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
    usual, wanted = SHOULDER_EASE["with a dart"], blade_intake(body) if dart is None else dart
    lacks = max(LEAST_DART - wanted, 0.0) if dart is None else 0.0
    if not with_dart or lacks > DART_FROM_EASE:
        return Shaping(0.0, BLADE_LENGTHS[0], SHOULDER_EASE["without"] if ease is None else ease)
    return Shaping(wanted + lacks, blade_length(body), usual - lacks if ease is None else ease)


def blade_intake(body: Body) -> float:
    """Return what the back shoulder's dart would take in on a body (mm), worth one or not."""
    stoop = body["back_neck_point_to_waist"] - body["front_neck_point_to_waist"] - USUAL_BALANCE
    return min(BLADE_SHARE * body["shoulder_length"] + ROUND_SHARE * stoop, BLADE_INTAKES[1])


def blade_length(body: Body) -> float:
    """Return how long the back shoulder's dart is on a body (mm)."""
    return min(max(BLADE_DOWN * body["scye_depth_length"], BLADE_LENGTHS[0]), BLADE_LENGTHS[1])
