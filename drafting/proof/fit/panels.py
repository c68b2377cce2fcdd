"""Panel seams as a cutter judges them: each panel's edge one fair line, bent gently and turning twice at most."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from drafting.garment import Brief, Garment, Role, Run, Seam
from drafting.geometry import Path, turn
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.trade import TradeValue

LEAST_BEND = TradeValue(60.0, "mm", "from memory", "about 6 cm")
"""Radius with which a panel's edge bends at least."""

MOST_TURNS = TradeValue(2.0, "times", "from memory", "out over the bust, in at the waist, out to the hip")
"""That a panel's edge turns the other way at most."""

BEND_OVER = TradeValue(10.0, "mm", "from memory")
"""Of an edge over which its bend is taken."""

FELT_BEND = TradeValue(1500.0, "mm", "from memory", "2 mm off the straight over 15 cm")
"""Radius from which on an edge passes for straight."""

REMEDY = "let the seam start or end elsewhere, or let it take up less"


def panel_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The tightest bend of each panel seam, and how often its edges turn the other way."""
    for seam in garment.seams:
        lines = [garment.line(use) for use in seam.uses()]
        one_face = len({line.face for line in lines}) == 1
        if len(seam.sections) > 1 and one_face and all(line.role is Role.STYLE for line in lines):
            yield from _seam(garment, seam)


def _seam(garment: Garment, seam: Seam) -> Iterator[FitRow]:
    told = [_bends_of(garment, run) for run in seam.plies]
    tightest = max((abs(bend) for bends in told for bend in bends), default=0.0)
    turns = max(map(_count_turns, told), default=0)
    if tightest > 0.0:
        title = say("{seam}, radius of its tightest bend", seam=seam.title)
        yield FitRow(
            "panel_bend", seam.name, title, LEAST_BEND, BEND_OVER / tightest, least=0.0, severity=Severity.WARNING,
            of_body=False, remedy=REMEDY,
        )  # fmt: skip
    title = say("{seam}, turns of its edges", seam=seam.title)
    yield FitRow(
        "panel_turns", seam.name, title, MOST_TURNS, float(turns), most=0.0, measure="", severity=Severity.WARNING,
        of_body=False, remedy=REMEDY,
    )  # fmt: skip


def _bends_of(garment: Garment, run: Run) -> list[float]:
    """By how much (rad, left positive) the edge of a ply bends over each centimetre."""
    path = Path.join(*(garment.path(use) for use in run))
    count = max(math.floor(path.length / BEND_OVER), 1)
    ways = [path.tangent(path.length * i / count) for i in range(count + 1)]
    return [turn(one, two) for one, two in pairwise(ways)]


def _count_turns(bends: list[float]) -> int:
    felt = [bend for bend in bends if abs(bend) * FELT_BEND > BEND_OVER]
    return sum((one > 0.0) is not (two > 0.0) for one, two in pairwise(felt))
