"""Seams of the design that end at a side seam: those of front and back run on in each other there.

    figure                                                usual               source
    the back's end from the front's, along the side       at most 3 mm        from memory
    the turn from one into the other, the side sewn       at most 5 degrees   from memory
    darts that a skirt's yoke has left                    none                common practice

A line that one of the two has alone is the design's; so are two that end farther apart than anyone would take for one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from drafting.garment import Brief, Garment, Line, Piece, Role, Run, Section
from drafting.garment.darts import darts_of
from drafting.geometry import Point, turn
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.record import dataclass
from drafting.redraw.heights import is_skirt
from drafting.saying import say
from drafting.trade import TradeValue

STEP = TradeValue(3.0, "mm", "from memory", "more is seen as a step")
"""Along a side seam at most between the ends of one line on front and back."""

ONE_LINE = TradeValue(80.0, "mm", "from memory")
"""Along a side seam up to which the ends of two lines are meant as one."""

CORNER = TradeValue(math.radians(5.0), "rad", "from memory", "it looks smooth up to there")
"""By which a line turns over a side seam at most."""


@dataclass(frozen=True, slots=True)
class StyleEnd:
    """Where a seam of the design ends in a side: how far from its lower end (mm), and its angles (rad) to the side.

    ``below`` is that in the piece under it, between the side and the seam, ``above`` that in the piece over it: a line
    that runs straight on over the side has as much cloth on either hand, front and back together.
    """

    at: float
    below: float
    above: float


def style_end_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How the lines of the design run on over each side seam."""
    for seam in garment.seams:
        if len(seam.plies) == 2 and all(garment.line(use).role is Role.SIDE for use in seam.uses()):
            for section in seam.sections:
                yield from _section(garment, section, seam.name)
    for piece in garment.pieces:
        yield from _left_in_yoke(piece)


def _left_in_yoke(piece: Piece) -> Iterator[FitRow]:
    """The waist darts that a skirt's yoke still has: those that end too far above its seam for it to take them up."""
    roles = {line.role for line in piece.ring}
    if not is_skirt(piece) or Role.STYLE not in roles or Role.HEM in roles:
        return
    yield FitRow(
        "yoke_darts_left",
        piece.name,
        say("{title}, darts left in it", title=piece.title),
        0.0,
        float(len([dart for dart in darts_of(piece) if not dart.inside])),
        most=0.0,
        measure="",
        of_body=False,
        severity=Severity.WARNING,
        remedy="draw its seam a little higher at the side: near their ends it takes the darts up",
    )


def _section(garment: Garment, section: Section, place: str) -> Iterator[FitRow]:
    one, two = (_ends(garment, run) for run in section.plies)
    side = garment.line(section.plies[0][0]).side
    for end in one:
        near = min(two, key=lambda other: abs(other.at - end.at), default=None)
        if near is None or abs(near.at - end.at) > ONE_LINE:
            continue
        yield FitRow(
            "style_line_step",
            place,
            say("{side} side, a line of the design, front from back", side=side),
            0.0,
            abs(end.at - near.at),
            most=STEP,
            of_body=False,
            severity=Severity.WARNING,
            remedy="let front and back start at one place of the side",
        )
        yield FitRow(
            "style_line_corner",
            place,
            say("{side} side, turn of a line of the design from front to back", side=side),
            0.0,
            abs(end.below + near.below - end.above - near.above) / 2.0,
            most=CORNER,
            measure="rad",
            of_body=False,
            severity=Severity.WARNING,
            remedy="give front and back one curve, or draw the line a little higher or lower",
        )


def _ends(garment: Garment, run: Run) -> list[StyleEnd]:
    """The ends of seams of the design in one side of a side seam, which runs from its lower end up."""
    at, found = 0.0, list[StyleEnd]()
    for low, high in pairwise(run):
        at += garment.line(low).path.length
        lower, upper = garment.piece(low.piece), garment.piece(high.piece)
        angles = _corner(lower, low.line), _corner(upper, high.line)
        if low.piece != high.piece and None not in angles:
            below, above = (angle or 0.0 for angle in angles)
            found.append(StyleEnd(at, below, above))
    return found


def _corner(piece: Piece, name: str) -> float | None:
    """The angle (rad) in a piece between a side and the seam of the design beside it; None where there is none."""
    side = piece.line(name)
    for before, after in ((piece.before(name), side), (side, piece.after(name))):
        other = before if after is side else after
        if other.role is Role.STYLE:
            return math.pi - turn(_leaves(before), after.path.tangent(0.0))
    return None


def _leaves(line: Line) -> Point:
    return line.path.tangent(line.path.length)
