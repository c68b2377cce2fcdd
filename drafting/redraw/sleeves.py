"""Which sleeves a change speaks of, and how short and how flat one may be."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Garment, Piece, Role
from drafting.saying import say
from drafting.trade import TradeValue

SHORTEST_UNDERARM = TradeValue(30.0, "mm", "from memory")
"""Of underarm seam that the shortest sleeve has; a woven one is drafted with more."""

LOWEST_CAP = TradeValue(1.0 / 7.0, "share", "from memory", "knit tops 1/4 to 1/5")
"""Of the armhole, or the cap's length, that a cap is high at least: below it there is no cap to set in."""


def sleeves_of(garment: Garment, side: str) -> tuple[Piece, ...]:
    """Return the sleeves of a side, or of both; CannotDraft where there is none."""
    found = tuple(p for p in garment.pieces if p.lines(role=Role.CAP) and side in ("both", p.side))
    if not found:
        which = "" if side == "both" else f" {side}"
        raise CannotDraft(
            "side", say("there is no{which} sleeve", which=which), help="set one in, or leave this change out"
        )
    return found
