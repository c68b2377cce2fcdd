"""The side seam of a woven bodice or dress that runs on over the hips: how far it stands out below the waist.

    figure                                      usual                  source
    out from waist to hip, front and back,      at most 45 mm          from memory
    on average

What the hips have more than the waist, darts take out with the side. Ease that a design gives the hips beyond its
fit's, as a flare does, isn't counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.cloth import Kind, ease_for
from drafting.garment import Brief, Garment, Piece, Role, Side, hanging_pieces
from drafting.geometry import Point
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.dart_points import SIDE_MOST
from drafting.redraw.heights import body_pieces, is_skirt
from drafting.saying import say
from drafting.tolerance import TOLERANCE

_LESS_AT_SIDE = (
    "the hips are full beside the bust, and no dart can take more, so that the side stands off below the waist: have a "
    "waist seam, where the skirt's own darts take it out"
)


def side_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How far each side seam stands out from waist to hip, where pieces show both."""
    if brief.cloth.kind is not Kind.WOVEN:
        return
    hanging = hanging_pieces(garment)
    trunk = [piece for piece in body_pieces(garment) if piece.name not in hanging and not is_skirt(piece)]
    spare = _hip_beyond_fit(trunk, brief) / 4.0
    for side in (Side.LEFT, Side.RIGHT):
        outs = [out for piece in trunk for out in _out_below_waist(piece, side)]
        if outs:
            yield FitRow(
                "side_over_hip",
                f"side-{side}",
                say("{side} side seam, out from waist to hip", side=side),
                0.0,
                math.fsum(outs) / len(outs) - spare,
                most=SIDE_MOST,
                of_body=False,
                severity=Severity.WARNING,
                remedy=_LESS_AT_SIDE,
            )


def _hip_beyond_fit(trunk: list[Piece], brief: Brief) -> float:
    """How much more than the fit asks the hip has (mm)."""
    levels = (level for piece in trunk for level in piece.levels if level.name == "hip" and level.girth)
    hip = math.fsum(level.path.length for level in levels)
    return max(hip - brief.body["hip_girth"] - ease_for(brief.fit, brief.cloth, brief.body).hip, 0.0)


def _out_below_waist(piece: Piece, side: Side) -> Iterator[float]:
    """How far out from its waist a piece's side lies at its hip (mm), if it shows both."""
    waist, hip = (end_at_side(piece, side, name) for name in ("waist", "hip"))
    if waist is not None and hip is not None:
        yield (hip.x - waist.x) * math.copysign(1.0, hip.x)


def end_at_side(piece: Piece, side: Side, level: str) -> Point | None:
    """Return where a level of a piece meets its side seam; None where it does not."""
    seam = [line.path for line in piece.lines(role=Role.SIDE) if line.side is side]
    ends = (end for each in piece.levels if each.name == level for end in (each.path.start, each.path.end))
    return next((end for end in ends if any(path.nearest(end)[1] < TOLERANCE.sewn_length for path in seam)), None)
