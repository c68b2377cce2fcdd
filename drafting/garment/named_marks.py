"""What the place of a balance mark is called, beside its number: "V point", "zip end", "waist", the cap's "back".

Named are the places that a maker looks for by name: where an edge is clipped into, where a seam stops, what lies at a
centre or a level, and which end of a sleeve is its back (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from drafting.garment.balance import SIDE_LEVELS, balance_marks
from drafting.garment.lines import Fate, Line, Role
from drafting.garment.model import Garment, Piece
from drafting.garment.seam import Seam, Use
from drafting.geometry import Point, turn
from drafting.sides import Face, Side
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SHARP = TradeValue(math.radians(20.0), "rad", "from memory")
"""Of turn inwards from which an edge has a point there that is clipped into."""

V_POINT, CORNER, ZIP_END, OPENING_END, VENT = "V point", "corner", "zip end", "opening end", "vent"
"""What such places are called on the paper, in the steps and in their pictures."""


def name_marks(garment: Garment) -> Mapping[int, str]:
    """Return what the places of the balance marks are called, by their numbers; most have no name."""
    return garment.find_once(_name_marks)


def _name_marks(garment: Garment) -> Mapping[int, str]:
    closing = {(use.piece, use.line): seam for seam in garment.seams if seam.kind.closes for use in seam.uses()}
    found: dict[int, str] = {}
    for mark in garment.find_once(balance_marks):
        seam = garment.seam(mark.seam)
        names = (name for use, s in mark.at for name in _names_of(garment, seam, use, s, closing))
        name = next(names, "")
        if name:
            found.setdefault(mark.number, name)
    return found


def _names_of(
    garment: Garment, seam: Seam, use: Use, s: float, closing: Mapping[tuple[str, str], Seam]
) -> Iterator[str]:
    """What a place on a line is called, best first."""
    piece, line = garment.piece(use.piece), garment.line(use)
    if line.role is Role.CAP:
        yield from _names_on_cap(piece, line, s)
        return
    yield from _names_at_end(piece, line, s, closing, hangs=bool(seam.hangs))
    if line.role is Role.SIDE:
        yield from _names_of_levels(piece, line.path.at(s))


def _names_on_cap(piece: Piece, line: Line, s: float) -> Iterator[str]:
    """Which end of a sleeve a mark is on; the crown, where front meets back, is neither."""
    near = TOLERANCE.sewn_length
    beyond = [piece.before(line.name)] * (s <= near) + [piece.after(line.name)] * (s >= line.path.length - near)
    if all(other.face is line.face for other in beyond):
        yield str(line.face)


def _names_at_end(
    piece: Piece, line: Line, s: float, closing: Mapping[tuple[str, str], Seam], *, hangs: bool
) -> Iterator[str]:
    """What the place is called where a line ends, by the line that follows there."""
    if s >= line.path.length - TOLERANCE.sewn_length:
        one, two = line, piece.after(line.name)
    elif s <= TOLERANCE.sewn_length:
        one, two = piece.before(line.name), line
    else:
        return
    other = one if two is line else two
    roles = {one.role, two.role}
    ends = [closing.get((piece.name, each.name)) for each in (one, two)]
    if roles == {Role.NECKLINE} and _turns_in(one, two):
        yield V_POINT if _count_points(piece) == 1 else CORNER
    elif roles == {Role.NECKLINE, Role.STYLE} and hangs:
        yield V_POINT
    elif sum(each is not None for each in ends) == 1:
        yield from (OPENING_END if each.kind.lapped else ZIP_END for each in ends if each is not None)
    elif other.fate is Fate.HEMMED and other.role is not Role.HEM and line.fate is Fate.SEWN:
        yield VENT
    elif {one.side, two.side} == {Side.LEFT, Side.RIGHT} and len(roles) == 1 and line.face is not Face.NONE:
        yield f"centre {line.face}"


def _turns_in(one: Line, two: Line) -> bool:
    """Whether an outline, which runs counter-clockwise, has a sharp point into the cloth between two lines."""
    return turn(one.path.tangent(one.path.length), two.path.tangent(0.0)) < -SHARP


def _count_points(piece: Piece) -> int:
    """How many such points a piece's neckline has."""
    pairs = ((line, piece.after(line.name)) for line in piece.lines(role=Role.NECKLINE))
    return sum(two.role is Role.NECKLINE and _turns_in(one, two) for one, two in pairs)


def _names_of_levels(piece: Piece, at: Point) -> Iterator[str]:
    for level in piece.levels:
        if (
            level.name in SIDE_LEVELS
            and min(at.distance(level.path.start), at.distance(level.path.end)) <= TOLERANCE.sewn_length
        ):
            yield level.name
