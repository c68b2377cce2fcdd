"""Closures against the body: one down the back of a garment without a waist seam ends at about hip level."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.garment import Brief, ClosureEnd, Face, Garment
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.heights import hangs_alone, lower_end, skirt_pieces
from drafting.trade import TradeValue, trade_row

ZIP_OFF = trade_row((-30.0, 30.0), "mm", "common practice", "to about hip level")
"""By which a zip may end below hip level, at least and at most; above it the hips have to be looked at."""

COVERS_HIP = TradeValue(60.0, "mm", "from memory")
"""Below hip level from which on a garment is a dress, whose zip is bought by the hip."""


def closure_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """Where a closure at the back ends, beside the hip; judged where the garment runs on below."""
    if Face.BACK not in {closure.place for closure in garment.closures}:
        return
    back = [piece for piece in garment.pieces if piece.face is Face.BACK and piece.of_kind(ClosureEnd)]
    if not back:
        return
    hip = brief.body["back_neck_point_to_waist"] + brief.body["waist_to_hip"]
    from_waist = hangs_alone(garment)
    start = brief.body["back_neck_point_to_waist"] if from_waist else 0.0
    marks = (mark.at for piece in back for mark in piece.of_kind(ClosureEnd))
    end = -min(marks, key=lambda at: abs(at.x)).y  # one at a side ends on the back too
    skirt = {piece.name for piece in skirt_pieces(garment)}
    dress = (
        not any(piece.name in skirt for piece in back) and max(-lower_end(piece) for piece in back) > hip + COVERS_HIP
    )
    low, high = ZIP_OFF if dress else (None, None)
    yield FitRow(
        "closure_end",
        "closure",
        f"end of the closure at the back, below the {'waist' if from_waist else 'back neck point'}",
        hip - start,
        end - start,
        least=low,
        most=high,
        severity=Severity.WARNING,
        remedy="leave its length to the rule: it then ends where the hips pass",
    )
