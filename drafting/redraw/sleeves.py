"""Which sleeves a change speaks of."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Garment, Piece, Role


def sleeves_of(garment: Garment, side: str) -> tuple[Piece, ...]:
    """Return the sleeves of a side, or of both; CannotDraft where there is none."""
    found = tuple(p for p in garment.pieces if p.lines(role=Role.CAP) and side in ("both", p.side))
    if not found:
        which = "" if side == "both" else f" {side}"
        raise CannotDraft("side", f"there is no{which} sleeve", help="set one in, or leave this change out")
    return found
