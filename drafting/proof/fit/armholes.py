"""The armholes of the garment against the arm that goes through them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.garment import Brief, Garment, Side
from drafting.garment.armholes import ArmholeTaken, take_armhole, wanted_width
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.tolerance import TOLERANCE


def armhole_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The width, depth and length of each armhole."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield from _armhole(taken, side, garment, brief)


def _armhole(taken: ArmholeTaken, side: Side, garment: Garment, brief: Brief) -> Iterator[FitRow]:
    body, place = brief.body, f"armhole-{side}"
    yield _width(taken, side, brief, stretches=garment.needs.stretch > 0.0)
    yield FitRow(
        "armhole_depth",
        place,
        say("{side} armhole, depth from the nape", side=side),
        body["scye_depth_length"],
        taken.depth,
    )
    yield FitRow("armhole_length", place, say("{side} armhole, length", side=side), body["armscye_girth"], taken.length)


def _width(taken: ArmholeTaken, side: Side, brief: Brief, *, stretches: bool) -> FitRow:
    """What is left for the arm; in what is drafted to stretch never less than it is thick, or the armhole cuts in."""
    arm = brief.body["upper_arm_girth"]
    wanted, thick = wanted_width(arm), arm / math.pi
    least = thick - wanted - TOLERANCE.same_point if stretches else None
    title = say("{side} armhole, width", side=side)
    remedy = "leave out the change that makes it narrow, or choose a looser fit"
    return FitRow(
        "armhole_width",
        f"armhole-{side}",
        title,
        wanted,
        taken.width,
        least=least,
        severity=Severity.WARNING,
        remedy=remedy,
        chief=True,
    )
