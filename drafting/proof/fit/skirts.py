"""Skirts against the body: what front and back take out at the waist, where the hem lies, and whether one can walk."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.garment import Brief, Face, Garment, Piece, Role, Side
from drafting.garment.darts import darts_of, intake
from drafting.proof.checks.stride import measure_stride
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.dart_points import FRONT_OF_SKIRT_DARTS, flat_below_waist
from drafting.redraw.heights import hangs_alone, skirt_pieces
from drafting.redraw.yoke_darts import sum_closed
from drafting.saying import say
from drafting.trade import TradeValue

SHARE_OFF = TradeValue(0.02, "share", "derived", "1 mm of a pair of darts of 50 mm")
"""By which a share may pass what is usual."""

LEAST_TOLD = TradeValue(0.01, "share", "derived", "over a belly any share is usual, none is told")
"""Of what a half's darts take out that a front over a belly has at least, untold."""


def skirt_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """What the front's darts take out of each half's, the finished length beside the knee's height, and the stride."""
    skirt = skirt_pieces(garment)
    for side in (Side.LEFT, Side.RIGHT):
        yield from _darts(garment, skirt, side, brief)
    if skirt:
        yield from _hem(garment, skirt, brief)
    step = measure_stride(garment, brief)
    if step is not None:
        says = "{what}, round a stride at the top of its vents" if step.free > step.height else "{what}, round a stride"
        yield FitRow("stride", "hem", say(says, what=step.what), step.needs, step.girth)


def _darts(garment: Garment, skirt: tuple[Piece, ...], side: Side, brief: Brief) -> Iterator[FitRow]:
    """The front's share: no more than two fifths, and a third at least but over a belly, which needs the room.

    Where a belly leaves the front none at all, that is told.
    """
    front, back = (
        _sum_intakes(skirt, face, side) + sum_closed(garment, face, side) for face in (Face.FRONT, Face.BACK)
    )
    if front + back <= 0.0:
        return
    low, high = FRONT_OF_SKIRT_DARTS
    usual, flat = (low + high) / 2.0, flat_below_waist(brief.body) == 1.0
    yield FitRow(
        "skirt_front_darts",
        f"skirt-{side}",
        say("{side} skirt, the front's share of what the darts take out", side=side),
        usual,
        front / (front + back),
        least=low - usual - SHARE_OFF if flat else LEAST_TOLD - usual,
        most=high - usual + SHARE_OFF,
        measure="share",
        of_body=False,
        severity=Severity.WARNING if flat or front > 0.0 else Severity.NOTE,
        remedy="let the back take out 1.5 to 2 times what the front does: the seat is rounder than the belly"
        if flat or front > 0.0
        else "over a belly the front has no dart, for the room; if it is flat, measure waist and hip again",
    )


def _sum_intakes(skirt: tuple[Piece, ...], face: Face, side: Side) -> float:
    """What the waist darts of a half take out at their mouths (mm)."""
    darts = (dart for piece in skirt if piece.face is face for dart in darts_of(piece))
    return math.fsum(intake(dart) for dart in darts if dart.side is side and not dart.inside)


def _hem(garment: Garment, skirt: tuple[Piece, ...], brief: Brief) -> Iterator[FitRow]:
    """How far the hem hangs at the centre front, along the cloth's fall, told beside the knee: a length is a choice.

    A skirt by itself is told from the waist, one of a dress from the nape.
    """
    body = brief.body
    fronts = [piece for piece in skirt if piece.face is Face.FRONT]
    hem = _height_at_centre(fronts, Role.HEM)
    if hem is None:
        return
    from_waist = hangs_alone(garment)
    start = -body["back_neck_point_to_waist"] if from_waist else 0.0
    knee = body["waist_height" if from_waist else "back_neck_point_height"] - body["knee_height"]
    title = "hem below the waist, beside the knee" if from_waist else "hem below the back neck point, beside the knee"
    yield FitRow("skirt_hem", "hem", title, knee, start - hem)


def _height_at_centre(pieces: Iterable[Piece], role: Role) -> float | None:
    """The height of the lines of a role where they come nearest to the centre: there a skirt hangs straight down."""
    lines = (line.path for piece in pieces for line in piece.lines(role=role))
    ends = [end for path in lines for end in (path.start, path.end)]
    return min(ends, key=lambda end: (abs(end.x), end.y)).y if ends else None
