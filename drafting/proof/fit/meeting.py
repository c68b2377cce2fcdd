"""Darts at a waist seam: those of the skirt run on from those of the bodice, as one line up and down (common practice).

    figure                                      usual               source
    a dart of the one from that of the other    at most 5 mm        from memory
    a skirt's darts in a half without one       none                common practice

Where one of the two has more darts in a half, the fewer are met; what is over stands between them and the side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from drafting.garment import Brief, Garment, Run, Section
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import Words, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

DARTS_APART = TradeValue(5.0, "mm", "from memory", "more is seen as two lines")
"""Along a waist seam at most between a dart of the bodice and the skirt's that runs on from it."""


def meeting_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How far the darts of bodice and skirt lie from each other at a waist seam, half by half."""
    for seam in garment.seams:
        for section in seam.sections if seam.kind.takes_up == "waist" else ():
            yield from _half(garment, section)


def _half(garment: Garment, section: Section) -> Iterator[FitRow]:
    bodice, skirt = (_places(garment, run) for run in section.plies)
    line = garment.line(section.plies[0][0])
    half = say("{side} {face} waist seam", side=line.side, face=line.face or "")
    place = f"{section.plies[0][0].piece}.{line.side}"
    if bodice and skirt:
        yield _apart(place, half, bodice, skirt)
    elif skirt:
        yield FitRow(
            "waist_seam_darts_alone",
            place,
            say("{half}, the skirt's darts that meet none of the bodice's", half=half),
            0.0,
            float(len(skirt)),
            most=0.0,
            measure="",
            of_body=False,
            severity=Severity.NOTE,
            remedy="the bodice is too straight here for a dart: see on the first trial whether the skirt's shows",
        )


def _apart(place: str, half: Words, bodice: Sequence[float], skirt: Sequence[float]) -> FitRow:
    """The farthest that one of the fewer darts lies from the nearest of the others."""
    few, many = sorted((bodice, skirt), key=len)
    return FitRow(
        "waist_seam_darts_apart",
        place,
        say("{half}, the skirt's darts from the bodice's", half=half),
        0.0,
        max(min(abs(one - other) for other in many) for one in few),
        most=DARTS_APART,
        of_body=False,
        severity=Severity.WARNING,
        remedy="leave the darts where the rule has them: those of the skirt go to where the bodice's end",
    )


def _places(garment: Garment, run: Run) -> Sequence[float]:
    """Where along a run darts end in it, from its start (mm)."""
    at, found = 0.0, list[float]()
    for one, two in pairwise(run):
        at += garment.line(one).path.length
        if one.piece == two.piece and not garment.path(one).end.near(garment.path(two).start, TOLERANCE.joint):
            found.append(at)
    return found
