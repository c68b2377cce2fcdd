"""Darts at a waist seam: those of the skirt run on from those of the bodice, as one line up and down (common practice).

    figure                                      usual               source
    a dart of the one from that of the other    at most 5 mm        from memory
    a skirt's darts in a half without one       none                common practice
    a skirt's second dart in a half back, over  none                common practice
    one in the bodice that two could share

Where one of the two has more darts in a half, the fewer are met; what is over stands between them and the side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from drafting.garment import Brief, Face, Garment, Run, Section, Side
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.dart_points import SHARED_BY_TWO
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
    (bodice, taken), (skirt, _) = (_places(garment, run) for run in section.plies)
    line = garment.line(section.plies[0][0])
    half = say("{side} {face} waist seam", side=line.side, face=line.face or "")
    place = f"{section.plies[0][0].piece}.{line.side}"
    if bodice and skirt:
        yield _apart(place, half, bodice, skirt)
        if line.face is Face.BACK:
            shared = len(bodice) == 1 and taken >= SHARED_BY_TWO
            yield _over(place, half, line.side, len(skirt) - len(bodice), shared)
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
            offence=say(
                "in the {side} {face} the skirt has darts, and the bodice none for them to meet at the waist",
                side=line.side,
                face=line.face or "",
            ),
            severity=Severity.NOTE,
            remedy="the bodice is too straight here for a dart: see on the toile whether the skirt's shows",
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


def _over(place: str, half: Words, side: Side, more: int, shared: bool) -> FitRow:
    """How many darts the skirt has beyond the bodice's; ``shared``: the bodice's one could be shared by two."""
    return FitRow(
        "waist_seam_darts_over",
        place,
        say("{half}, the skirt's darts beyond the bodice's", half=half),
        0.0,
        float(max(more, 0)),
        most=0.0,
        measure="",
        of_body=False,
        offence=say(
            "in the {side} {face} the skirt has {count} {darts} more than the bodice, so not all of them meet at the "
            "waist",
            side=side,
            face=Face.BACK,
            count=more,
            darts="darts" if more > 1 else "dart",
        ),
        severity=Severity.WARNING if shared else Severity.NOTE,
        remedy="share the bodice's dart between two, to meet those of the skirt"
        if shared
        else "the bodice takes in too little here for so many: stitch the skirt's last dart as it lies",
    )


def _places(garment: Garment, run: Run) -> tuple[Sequence[float], float]:
    """Where along a run darts end in it, from its start, and what they take in there (mm)."""
    at, found, taken = 0.0, list[float](), 0.0
    for one, two in pairwise(run):
        at += garment.line(one).path.length
        end, start = garment.path(one).end, garment.path(two).start
        if one.piece == two.piece and not end.near(start, TOLERANCE.joint):
            found.append(at)
            taken += end.distance(start)
    return found, taken
