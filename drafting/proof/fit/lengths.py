"""Lengths of the front against the body's: over the bust, and down the centre."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.body import Body
from drafting.cloth import Kind
from drafting.garment import Brief, BustPoint, Face, Garment, Side
from drafting.garment.departures import sum_departures
from drafting.garment.shoulders import find_neck_base
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.proof.lengths import waist_height
from drafting.saying import say
from drafting.trade import TradeValue

SHORT = TradeValue(10.0, "mm", "common practice")
"""By which a front with bust darts may be shorter over the bust than the body, unwarned: what two tapings differ by."""


def length_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The front of each side from the neck over the bust to the waist, and the centre front from the neck base.

    A knit without bust darts is judged in ``fronts``.
    """
    meant = sum_departures(garment, "waist", Face.FRONT.value)
    for side in (Side.LEFT, Side.RIGHT) if _has_darts(garment, brief) else ():
        taken = _take_over_bust(garment, brief.body, side)
        if taken is not None:
            yield FitRow(
                "front_length",
                f"front, {side}",
                say("{side} front, neck over bust to waist", side=side),
                brief.body["side_neck_point_to_waist_over_bust"],
                taken,
                meant,
                -SHORT,
                severity=Severity.WARNING,
                remedy="measure side_neck_point_to_waist_over_bust again; if it is right, the front rises at the waist "
                "and the hem: look at it on the first trial",
            )
    base, waist = _neck_front(garment), waist_height(garment, Face.FRONT, 0.0)
    if base is not None and waist is not None:
        title = "centre front, neck base to waist"
        own = brief.body["front_neck_point_to_waist"]
        yield FitRow("centre_front", "front", title, own, base - waist, meant)


def _has_darts(garment: Garment, brief: Brief) -> bool:
    """Whether the front is drafted with bust darts: a woven's is, be they turned into seams."""
    return brief.cloth.kind is Kind.WOVEN or any(piece.of_kind(BustPoint) for piece in garment.pieces)


def _take_over_bust(garment: Garment, body: Body, side: Side) -> float | None:
    """From where the shoulder meets the neck base straight to the bust point's place, and down to the waist.

    Where the bust point lies is the body's: so a front parted over it is measured as well.
    """
    neck, out, down = (
        find_neck_base(garment, side),
        body["bust_point_width"] / 2.0,
        body["side_neck_point_to_bust_point"],
    )
    waist = waist_height(garment, Face.FRONT, out if side is Side.LEFT else -out)
    if neck is None or waist is None or down <= abs(out - neck[0]):
        return None
    return down + neck[1] - math.sqrt(down**2 - (out - neck[0]) ** 2) - waist


def _neck_front(garment: Garment) -> float | None:
    """The height of the neck base in front, as the block draws it before any neckline."""
    names = ("neck_front", "neck_front_base")
    return next((fact.value for fact in reversed(garment.facts) if fact.name in names), None)
