"""A shoulder as it lies on the pieces: how steep it is, and how long from the side neck point to its end."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from drafting.garment.darts import Dart, darts_of, mouth_edges
from drafting.garment.features import Gathers
from drafting.garment.lines import Line, Role
from drafting.garment.model import Garment, Piece
from drafting.garment.places import gathered_length
from drafting.garment.seam import Use
from drafting.garment.surface import hanging_pieces
from drafting.geometry import Point, turn
from drafting.record import dataclass
from drafting.sides import Face, Side
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SHOULDER_RELIEF = TradeValue(math.radians(4.0), "rad", "common practice", "3/8 in of room over a shoulder's end")
"""By which a drafted shoulder is flatter than the bone, for the arm to be lifted: 26 degrees of the mean woman of 1988
become 22; drafts have 17 to 24 (Burton 1916), 18 and 22 (a college block, from memory)."""


@dataclass(frozen=True, slots=True)
class ShoulderTaken:
    """The slope of one shoulder (rad), front and back on average, and its length along the front (mm).

    The length is from the side neck point, however far the neckline is opened; None where a garment tells none.
    """

    slope: float
    length: float | None
    ahead: float = 0.0
    """By how much the front is steeper than that, and the back flatter (rad)."""


def take_shoulder(garment: Garment, side: Side) -> ShoulderTaken | None:
    """Return the figures of one shoulder; None where front or back has no shoulder seam on that side."""
    hanging = hanging_pieces(garment)
    lines = {
        face: [
            _fold_darts(piece, line)
            for piece in garment.pieces
            if piece.name not in hanging
            for line in piece.lines(f"shoulder-{side}")
            if line.face is face and line.role is Role.SHOULDER
        ]
        for face in (Face.FRONT, Face.BACK)
    }
    if not all(lines.values()):
        return None
    slopes = {face: _slope(each) for face, each in lines.items()}
    mean = math.fsum(slopes.values()) / len(slopes)
    return ShoulderTaken(mean, _length(garment, lines, slopes), slopes[Face.FRONT] - mean)


def find_neck_base(garment: Garment, side: Side) -> Point | None:
    """Return where a front's shoulder meets the neck base, as it lies on the +x half, however far the neck is opened.

    None where there is no such shoulder, or the garment tells of no neck base.
    """
    hanging, base = hanging_pieces(garment), garment.neck_base
    fronts = [piece for piece in garment.pieces if piece.face is Face.FRONT and piece.name not in hanging]
    lines = [
        _fold_darts(piece, line) for piece in fronts for line in piece.lines(f"shoulder-{side}", role=Role.SHOULDER)
    ]
    if base is None or not lines:
        return None
    inner, outer = sorted((_innermost(lines).path.start, _innermost(lines).path.end), key=lambda end: abs(end.x))
    if abs(outer.x) - abs(inner.x) < TOLERANCE.joint:  # an upright one has no way up to the neck base but its own end
        return Point(abs(inner.x), inner.y)
    opened = abs(inner.x)
    if any(piece.line(each.line).role is Role.NECKLINE for piece in fronts for each in piece.of_kind(Gathers)):
        opened = _back_opened(garment, side, opened)
    return Point(base.half_width, inner.y + (opened - base.half_width) * math.tan(_slope(lines)))


def _back_opened(garment: Garment, side: Side, front: float) -> float:
    """Return how far from the centre (mm) the back's shoulder meets the neckline: the front's too, once drawn up."""
    backs = (piece for piece in garment.pieces if piece.face is Face.BACK)
    lines = [line.path for piece in backs for line in piece.lines(f"shoulder-{side}", role=Role.SHOULDER)]
    ends = (abs(end.x) for path in lines for end in (path.start, path.end))
    return min((front, *ends))


def _fold_darts(piece: Piece, line: Line) -> Line:
    """A shoulder as it lies with the darts in the neckline and the centre folded shut: they turn it on the paper."""
    for dart in darts_of(piece):
        mouth = _mouth_beside(piece, dart)
        if mouth is not None and dart.side is line.side:
            moved, kept = mouth
            line = replace(line, path=line.path.turned(turn(moved - dart.apex, kept - dart.apex), dart.apex))
    return line


def _mouth_beside(piece: Piece, dart: Dart) -> tuple[Point, Point] | None:
    """The end of a dart's mouth on the shoulder's side and the other; None of a dart that leaves the shoulder."""
    roles = set() if dart.inside else {edge.role for edge in mouth_edges(piece, dart)}
    ends = dart.mouth_a, dart.mouth_b
    if roles == {Role.NECKLINE}:
        inner, outer = sorted(ends, key=lambda end: abs(end.x))
        return outer, inner
    if roles == {Role.CENTRE}:
        lower, upper = sorted(ends, key=lambda end: end.y)
        return (upper, lower) if abs(upper.x) > abs(lower.x) else None  # else it turned what lies below it
    return None


def _innermost(lines: Sequence[Line]) -> Line:
    return min(lines, key=_inner)


def _inner(line: Line) -> float:
    return min(abs(line.path.start.x), abs(line.path.end.x))


def _slope(lines: Sequence[Line]) -> float:
    """How steep the part nearest to the neck is: a dart turns what lies beyond it."""
    path = _innermost(lines).path
    a, b = sorted((path.start, path.end), key=lambda end: abs(end.x))
    return math.atan2(a.y - b.y, abs(b.x) - abs(a.x))


def _length(garment: Garment, lines: Mapping[Face, Sequence[Line]], slopes: Mapping[Face, float]) -> float | None:
    if garment.neck_base is None:
        return None
    full = {face: _let_in_at_neck(garment, face) for face in lines}
    plain = min(full, key=lambda face: full[face])  # the same on both faces, but where one of them is gathered
    opened = (_inner(_innermost(lines[plain])) - full[plain] - garment.neck_base.half_width) / math.cos(slopes[plain])
    return opened + math.fsum(line.path.length for line in lines[Face.FRONT])


def _let_in_at_neck(garment: Garment, face: Face) -> float:
    """How far out fullness that is gathered at the neckline moves each shoulder on a face (mm)."""
    edges = ((piece, line) for piece in garment.pieces for line in piece.lines(role=Role.NECKLINE, face=face))
    return math.fsum(gathered_length(garment, [Use(piece.name, line.name)]) for piece, line in edges) / 2.0
