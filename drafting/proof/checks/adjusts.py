"""Lengthen/shorten lines: a seam's layers are spread at one place, or none of them is drawn to be spread there."""

from __future__ import annotations

from collections.abc import Sequence

from drafting.garment import Brief, Garment
from drafting.garment.adjusting import Unmatched, agree_adjusts
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, Saying, list_sayings, say


def check_adjusts(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Tell once of each lengthen line that is left out on some pieces because not all that is sewn to them has it."""
    _, lost = garment.find_once(agree_adjusts)
    by_line: dict[str, list[Unmatched]] = {}
    for each in lost:
        by_line.setdefault(each.drawn.adjust.name, []).append(each)
    return tuple(_tell(line, found) for line, found in by_line.items())


def _tell(line: str, found: Sequence[Unmatched]) -> Finding:
    pieces = list(dict.fromkeys(each.drawn.piece for each in found))
    others = list(dict.fromkeys(each.other for each in found if each.other not in pieces))
    says = say(
        'the line "{line}" to lengthen the {pieces} at is left out: {cause}, and the seams would no longer meet',
        line=line.replace("-", " "),
        pieces=_list_placed(pieces),
        cause=say("the {others}, sewn on there, {lack}", others=_list_placed(others), lack=_lack(others))
        if others
        else "one of them has none at that height",
    )
    remedy = "ask for the length in the ticket, where every piece follows"
    return Finding("adjusts.unmatched", Severity.NOTE, pieces[0], None, None, says, remedy, "")


def _lack(others: Sequence[str]) -> str:
    return "has none at that place" if len(others) == 1 else "have none at that place"


def _list_placed(pieces: Sequence[str]) -> Saying:
    names = [say("{piece:placed}", piece=Name(piece)) for piece in pieces]
    return list_sayings(names, last=" and the ", between=", the ")
