"""Skirts against the body: what front and back take out at the waist, and where the hem lies from the knee."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.garment import Brief, Face, Garment, Piece, Role, Side
from drafting.garment.darts import darts_of, intake
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.heights import is_skirt, lower_end
from drafting.saying import say
from drafting.trade import TradeValue, trade_row

FRONT_DARTS = trade_row((1.0 / 3.0, 0.4), "share", "common practice", "the back takes out 1.5 to 2 times the front")
"""Of what the waist darts of half a skirt take out that the front's do; over a belly they may do less."""

SHARE_OFF = TradeValue(0.02, "share", "derived", "1 mm of a pair of darts of 50 mm")
"""By which a share may pass what is usual."""


def skirt_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """What the front's darts take out of each half's, and the finished length beside the knee's height."""
    skirt = tuple(piece for piece in garment.pieces if is_skirt(piece))
    for side in (Side.LEFT, Side.RIGHT):
        yield from _darts(skirt, side)
    if skirt:
        yield from _hem(skirt, brief)


def _darts(skirt: tuple[Piece, ...], side: Side) -> Iterator[FitRow]:
    front, back = (_sum_intakes(skirt, face, side) for face in (Face.FRONT, Face.BACK))
    if front + back <= 0.0:
        return
    low, high = FRONT_DARTS
    usual = (low + high) / 2.0
    yield FitRow(
        "skirt_front_darts",
        f"skirt-{side}",
        say("{side} skirt, the front's share of what the darts take out", side=side),
        usual,
        front / (front + back),
        most=high - usual + SHARE_OFF,
        measure="share",
        severity=Severity.WARNING,
        remedy="let the front take out less and the back more: the seat is rounder than the belly",
    )


def _sum_intakes(skirt: tuple[Piece, ...], face: Face, side: Side) -> float:
    """What the waist darts of a half take out at their mouths (mm)."""
    darts = (dart for piece in skirt if piece.face is face for dart in darts_of(piece))
    return math.fsum(intake(dart) for dart in darts if dart.side is side and not dart.inside)


def _hem(skirt: tuple[Piece, ...], brief: Brief) -> Iterator[FitRow]:
    """How far below the nape the hem hangs, told beside the knee: a length is the design's choice."""
    body = brief.body
    knee = body["back_neck_point_height"] - body["knee_height"]
    fronts = [piece for piece in skirt if piece.face is Face.FRONT and piece.lines(role=Role.HEM)]
    if fronts:
        lowest = max(-lower_end(piece) for piece in fronts)
        yield FitRow("skirt_hem", "hem", "hem below the nape, beside the knee", knee, lowest)
