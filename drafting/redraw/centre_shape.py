"""A centre back that is shaped: its seam comes in at the waist, and runs straight above the bust and below the hip.

Each half is taken in by 1 to 2 cm at most (common practice): more shows as a hollow beside the spine, and belongs in
the darts.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from drafting.garment import Face, Garment, Piece, Role
from drafting.garment.carry import follow_edges
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.centre import with_centre_back
from drafting.redraw.shapes import Curve
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class CentreShape:
    """How a centre back is shaped: taken in ``by`` (mm) at ``waist``, from ``top`` on, until ``low`` (heights, y).

    Without ``low`` the piece ends at the waist.
    """

    by: float
    top: float
    waist: float
    low: float | None


def shape_centre_back(garment: Garment, shape: CentreShape) -> Garment:
    """Return the garment with a seam at the centre back that is shaped so, all that lay across it ending at it."""
    garment = with_centre_back(garment)
    halves = [piece for piece in garment.pieces if piece.face is Face.BACK and piece.lines(role=Role.CENTRE)]
    return garment.with_(pieces=[_shape(piece, shape) for piece in halves])


def _shape(piece: Piece, shape: CentreShape) -> Piece:
    """A half with its straight centre line drawn anew; the lower edge and the levels end at it."""
    (old,) = piece.lines(role=Role.CENTRE)
    inwards = math.copysign(shape.by, sum(line.path.start.x for line in piece.ring))
    below = piece.before(old.name) if old.path.start.y < old.path.end.y else piece.after(old.name)
    low, high = sorted((old.path.start, old.path.end), key=lambda end: end.y)
    hem = below.path
    if shape.low is None:
        hem = _end_at(below.path, Path.straight(Point(inwards, low.y - shape.by), Point(inwards, low.y + shape.by)))
        low = min((hem.start, hem.end), key=lambda end: abs(end.x))
    upwards = _draw(low, high, replace(shape, by=inwards))
    centre = upwards if old.path.start.y < old.path.end.y else upwards.reversed()
    drawn = {old.name: centre, below.name: hem}
    ring = tuple(replace(line, path=drawn.get(line.name, line.path)) for line in piece.ring)
    return follow_edges(piece, replace(piece, ring=ring))


def _draw(low: Point, high: Point, shape: CentreShape) -> Path:
    """The centre line upwards: upright at the hip, the waist and the bust, straight beyond them."""
    knots = [Point(shape.by, shape.waist), Point(0.0, shape.top)]
    knots = [low, knots[1]] if shape.low is None else [Point(0.0, shape.low), *knots]
    parts = [_upright(one, two) for one, two in pairwise(knots)]
    if low.distance(knots[0]) > TOLERANCE.joint:
        parts.insert(0, Path.straight(low, knots[0]))
    return Path.join(*parts, Path.straight(knots[-1], high))


def _upright(low: Point, high: Point) -> Path:
    """A stretch that is upright at both of its ends."""
    third = Point(0.0, (high.y - low.y) / 3.0)
    return Curve(low, low + third, high - third, high).path


def _end_at(path: Path, centre: Path) -> Path:
    """The part of a lower edge, which starts or ends at the centre, that a new line there leaves."""
    met = [each.s for each in path.crossings(centre)]
    if abs(path.start.x) < abs(path.end.x):
        return path.between(max(met), path.length)
    return path.between(0.0, min(met))
