"""Lengthen/shorten lines: a seam's layers are spread at one place, or none of them is drawn to be spread there."""

from __future__ import annotations

from drafting.garment import Brief, Garment
from drafting.garment.adjusting import Unmatched, agree_adjusts
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, say


def check_adjusts(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Tell, once for each piece, of a lengthen line that is left out because what is sewn to the piece has none."""
    _, lost = garment.find_once(agree_adjusts)
    first = {(each.drawn.piece, each.drawn.adjust.name): each for each in reversed(lost)}
    return tuple(_tell(each) for each in reversed(first.values()))


def _tell(each: Unmatched) -> Finding:
    says = say(
        'the line "{line}" to lengthen the {piece:placed} at is left out: the {other:placed}, sewn to it in {seam}, '
        "has none at that place, and the seam would no longer meet",
        line=each.drawn.adjust.name.replace("-", " "),
        piece=Name(each.drawn.piece),
        other=Name(each.other),
        seam=each.seam.title or each.seam.name,
    )
    remedy = "ask for the length in the ticket, where every piece follows"
    return Finding("adjusts.unmatched", Severity.NOTE, each.drawn.piece, None, None, says, remedy, "")
