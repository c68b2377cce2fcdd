"""The armholes of the garment against the arm that goes through them."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.garment import Brief, Garment, Side
from drafting.garment.armholes import ArmholeTaken, take_armhole
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.trade import TradeValue

ARM_QUARTER, ARM_REST = (
    TradeValue(0.25, "share", "published", "US patent 4,899,448, claim 1"),
    TradeValue(40.0, "mm", "published", "US patent 4,899,448, claim 1"),
)
"""Width of an armhole: a quarter of the arm's girth, and so much beyond."""


def armhole_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The width, depth and length of each armhole."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield from _armhole(taken, side, brief)


def _armhole(taken: ArmholeTaken, side: Side, brief: Brief) -> Iterator[FitRow]:
    body, place = brief.body, f"armhole-{side}"
    width = body["upper_arm_girth"] * ARM_QUARTER + ARM_REST
    title = say("{side} armhole, width", side=side)
    yield FitRow("armhole_width", place, title, width, taken.width, chief=True)
    yield FitRow(
        "armhole_depth",
        place,
        say("{side} armhole, depth from the nape", side=side),
        body["scye_depth_length"],
        taken.depth,
    )
    yield FitRow("armhole_length", place, say("{side} armhole, length", side=side), body["armscye_girth"], taken.length)
