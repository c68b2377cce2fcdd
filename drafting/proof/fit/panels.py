"""Panel seams as a cutter judges them: each panel's edge one fair line, bent gently and turning twice at most."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from drafting.garment import Brief, Garment, Role, Seam
from drafting.geometry import Path, count_seen_turns, turn
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

FELT_BOW = TradeValue(0.5, "mm", "from memory", "the breadth of a chalk line")
"""By which a stretch of an edge bows off the straight at least, for it to be a bend of its own."""

REMEDY = "let the seam start or end elsewhere, or let it take up less"


def panel_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The tightest bend of each panel seam, and how often its edges turn the other way."""
    for seam in garment.seams:
        lines = [garment.line(use) for use in seam.uses()]
        one_face = len({line.face for line in lines}) == 1
        if len(seam.sections) > 1 and one_face and all(line.role is Role.STYLE for line in lines):
            yield from _seam(garment, seam)


def _seam(garment: Garment, seam: Seam) -> Iterator[FitRow]:
    edges = [Path.join(*(garment.path(use) for use in run)) for run in seam.plies]
    tightest = max((bend for edge in edges for bend in _bends_of(edge)), default=0.0)
    turns = max((count_seen_turns(edge, FELT_BOW) for edge in edges), default=0)
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


def _bends_of(edge: Path) -> list[float]:
    """By how much (rad) an edge bends over each centimetre."""
    count = max(math.floor(edge.length / BEND_OVER), 1)
    ways = [edge.tangent(edge.length * i / count) for i in range(count + 1)]
    return [abs(turn(one, two)) for one, two in pairwise(ways)]
