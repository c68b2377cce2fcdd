"""The way over the bust that a darted front is drawn to, and what its bust dart takes in for that."""

from __future__ import annotations

from drafting.body import Body
from drafting.geometry import Point
from drafting.redraw.dart_points import LEAST_DART, dart_for_cup
from drafting.trade import TradeValue

ADDED_TO_MEASURED = TradeValue(8.0, "mm", "common practice", "two tapings differ by 1 cm")
"""By which a front is drawn longer over the bust than was measured at most, where its dart is small for the cup."""

ADDED_TO_ESTIMATED = TradeValue(30.0, "mm", "derived", "twice what the estimate is out by")
"""By which it is drawn longer at most than was only estimated, beside an under bust that was measured."""

OVER_BUST = "side_neck_point_to_waist_over_bust"


def measured_dart(body: Body) -> float:
    """Return the front length over the bust less the back length, both from the side neck point (mm).

    The back length is taken from the height of the side neck point too, as the front's is (derived from "front length
    over the apex - back length, neck point to waist").
    """
    fall = body["back_neck_point_height"] - body["side_neck_point_height"]
    return body[OVER_BUST] - (body["back_neck_point_to_waist"] - fall)


def added_over_bust(body: Body) -> float:
    """Return by how much (mm) a front is drawn longer over the bust than the body's length, for the dart of its cup.

    A cup is known by an under bust that was measured; a length that was only estimated follows it.
    """
    if "under_bust_girth" not in body.given:
        return 0.0
    most = ADDED_TO_MEASURED if OVER_BUST in body.given else ADDED_TO_ESTIMATED
    own = measured_dart(body)
    added = min(max(dart_for_cup(body) - own, 0.0), most)
    return added if own + added >= LEAST_DART else 0.0


def bust_dart(body: Body) -> float:
    """Return the bust dart's intake (mm): by the lengths over the bust and of the back, and by the cup.

    A body that stoops has none.
    """
    intake = measured_dart(body) + added_over_bust(body)
    return intake if intake >= LEAST_DART else 0.0


def bust_point(body: Body) -> Point:
    """Return the bust point on the +x half: above the waist by what the way over the bust has below it."""
    below = body[OVER_BUST] - body["side_neck_point_to_bust_point"] + added_over_bust(body) / 2.0
    return Point(body["bust_point_width"] / 2.0, below - body["back_neck_point_to_waist"])


def way_to_bust_point(body: Body) -> float:
    """Return how far (mm) the bust point lies from the side neck point."""
    return body["side_neck_point_to_bust_point"] + added_over_bust(body) / 2.0
