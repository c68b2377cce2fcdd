"""How far a knit's side seam leans in from the bust to the waist.

    figure                               usual               source
    slant of the side, at its steepest   up to 20 degrees    from memory, beyond 25 a knob stands at the bust

A front with bust darts turns its side on paper: it is taken on the back there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.garment import Brief, Garment, Piece, Role, Side, hanging_pieces
from drafting.garment.features import BustPoint
from drafting.geometry import Path
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.redraw.heights import body_pieces, is_skirt
from drafting.saying import say
from drafting.trade import TradeValue

MOST_SLANT, KNOB = (
    TradeValue(math.radians(20.0), "rad", "from memory"),
    TradeValue(math.radians(25.0), "rad", "from memory"),
)
"""Up to which a side without darts leans in from bust to waist, and from which it stands off as a knob at the bust."""

TRIED_EVERY = TradeValue(5.0, "mm", "derived", "nearer than a side seam turns")
"""Of side seam between the places at which its slant is taken."""

LESS_AT_WAIST = Retake(
    ("bust_girth", "waist_girth"),
    "{again}: so much a dart takes in, and no side seam; if both are right, choose a design with darts, or smooth the "
    "side at the bust on the toile",
)


def slant_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The steepest slant of each side seam above the waist, of a garment that is drafted to stretch."""
    hanging = hanging_pieces(garment)
    worn = [piece for piece in body_pieces(garment) if piece.name not in hanging and not is_skirt(piece)]
    for side in (Side.LEFT, Side.RIGHT) if garment.needs.stretch > 0.0 else ():
        slants = [slant for piece in worn if not piece.of_kind(BustPoint) for slant in _slants(piece, side)]
        if slants:
            steepest = max(slants)
            yield FitRow(
                "side_slant",
                f"side-{side}",
                say("{side} side seam, slant in from bust to waist", side=side),
                0.0,
                steepest,
                most=MOST_SLANT,
                measure="rad",
                severity=Severity.WARNING if steepest > KNOB else Severity.NOTE,
                remedy=LESS_AT_WAIST,
                of_body=False,
            )


def _slants(piece: Piece, side: Side) -> Iterator[float]:
    """How far (rad) a piece's side leans in, going down, at places from its underarm to its waist."""
    waist = max((level.path.bounds[1] for level in piece.levels if level.name == "waist"), default=-math.inf)
    for line in piece.lines(role=Role.SIDE, side=side):
        yield from _slants_of(line.path, waist)


def _slants_of(path: Path, lowest: float) -> Iterator[float]:
    count = max(round(path.length / TRIED_EVERY), 1)
    for each in range(count + 1):
        at, way = path.at(path.length * each / count), path.tangent(path.length * each / count)
        if at.y >= lowest:
            yield math.atan2(way.x * math.copysign(1.0, at.x) * math.copysign(1.0, way.y), abs(way.y))
