"""The pieces as they are drawn for cloth that is cut before it is washed: larger by what the wash takes.

Drafted, proven and sewn is the garment as it is worn, washed; only what is cut from such a cloth is drawn otherwise,
its allowances with it, along its grain and across it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Brief
from drafting.garment.model import MAIN_CLOTH
from drafting.geometry import Affine


def grow_pieces(cut: Sequence[CutPiece], brief: Brief) -> tuple[CutPiece, ...]:
    """Return the pieces as they are drawn; the very same where their cloth is washed before it is cut."""
    cloths = {MAIN_CLOTH: brief.cloth, **brief.cloths}
    return tuple(_grow(piece, *cloths[piece.cloth].growth) if piece.cloth in cloths else piece for piece in cut)


def _grow(piece: CutPiece, across: float, along: float) -> CutPiece:
    """A piece so many times as large across its grain and along it."""
    if across == along == 1.0:
        return piece
    up = math.pi / 2.0 - math.atan2(piece.grain.y, piece.grain.x)
    return piece.mapped(Affine.turn(up).then(Affine(xx=across, yy=along)).then(Affine.turn(-up)))
