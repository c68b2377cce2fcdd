"""The girth at the underarm beside that at the bust: from a low bust up, the side stands upright or leans in."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.garment import Brief, Face, Garment, Girth, Piece, Role, Side, hanging_pieces
from drafting.proof.checks.ease import measure_garment
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.proof.lengths import has_bust_darts
from drafting.trade import TradeValue, trade_row

WING = TradeValue(30.0, "mm", "from memory", "a body is narrower close under the arms than at the bust")
"""By which a garment without bust darts may be wider round at the underarm than at the bust: more stands off under the
arm as a wing."""

SEAM_BEHIND, SEAM_AHEAD = trade_row(
    (6.0, 3.0), "mm", "from memory", "a front as broad as its back, or broader by 1 to 2 cm for a bust"
)
"""By which a knit's side seam may lie behind half-way between the centres of front and back, and ahead of it: there the
front is narrower than the back by four times as much."""


def place_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """Where a knit's side seams lie: off half-way round by a quarter of what its back is wider than its front."""
    hanging = hanging_pieces(garment)
    wide = {
        face: math.fsum(
            level.path.length
            for piece in garment.pieces
            if piece.face is face and piece.name not in hanging
            for level in piece.levels
            if level.name == "bust"
        )
        for face in (Face.FRONT, Face.BACK)
    }
    if garment.needs.stretch > 0.0 and all(wide.values()) and not has_bust_darts(garment, brief):
        yield FitRow(
            "side_place",
            "sides",
            "side seam at the bust, forward of half-way",
            0.0,
            (wide[Face.BACK] - wide[Face.FRONT]) / 4.0,
            least=-SEAM_BEHIND,
            most=SEAM_AHEAD,
            severity=Severity.NOTE,
            remedy=Retake(("across_front_width", "across_back_width")),
            of_body=False,
        )


def underarm_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The girth at the underarm beside the garment's own at the bust; a front with bust darts turns its underarm."""
    bust, over = measure_garment(garment, Girth("bust")), list(_beyond_bust(garment))
    if bust is None or not over or has_bust_darts(garment, brief):
        return
    yield FitRow(
        "underarm_girth",
        "underarm",
        "round at the underarm, beside the bust's level",
        bust,
        bust + math.fsum(over),
        most=WING,
        remedy=Retake(("side_neck_point_to_bust_point",), "{again}, or lower the underarm"),
        of_body=False,
    )


def _beyond_bust(garment: Garment) -> Iterator[float]:
    """How much farther out (mm) each side of a piece lies at the underarm than at the bust."""
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        if piece.face in (Face.FRONT, Face.BACK) and piece.name not in hanging:
            for side in (Side.LEFT, Side.RIGHT):
                yield from _on_side(piece, side)


def _on_side(piece: Piece, side: Side) -> Iterator[float]:
    holes = [line.path for line in piece.lines(role=Role.ARMHOLE, side=side)]
    if not holes or not any(piece.lines(role=Role.SIDE, side=side)):
        return
    underarm = min((end for path in holes for end in (path.start, path.end)), key=lambda end: end.y)
    levels = [level.path for level in piece.levels if level.name == "bust"]
    ways = [way for path in levels for way in ((path.start, path.end), (path.end, path.start))]
    if ways:
        inner, outer = min(ways, key=lambda way: way[1].distance(underarm))
        yield (underarm - outer).dot((outer - inner).unit)
