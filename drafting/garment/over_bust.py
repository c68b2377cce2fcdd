"""The way over the bust: from the side neck point straight to the bust point, and straight down to the waist."""

from __future__ import annotations

import math

from drafting.body import Body
from drafting.garment.features import BustPoint
from drafting.garment.model import Garment
from drafting.geometry import Point
from drafting.sides import Face, Side


def way_over_bust(neck: Point, bust: Point, waist: float) -> float:
    """Return how long the way is (mm) from a side neck point over a bust point to the height (y) of the waist."""
    return neck.distance(bust) + bust.y - waist


def bust_by_length(body: Body, neck: Point) -> Point | None:
    """Return where it lies by its length from the side neck point; None where that is shorter than the way out."""
    out, down = body["bust_point_width"] / 2.0, body["side_neck_point_to_bust_point"]
    aside = abs(out - neck.x)
    return Point(out, neck.y - math.sqrt(down**2 - aside**2)) if down > aside else None


def find_marked_bust(garment: Garment, side: Side) -> Point | None:
    """Return the bust point that is marked on a front, as it lies on the +x half."""
    fronts = (piece for piece in garment.pieces if piece.face is Face.FRONT)
    sign = 1.0 if side is Side.LEFT else -1.0
    marked = (mark.at for piece in fronts for mark in piece.of_kind(BustPoint))
    return next((Point(abs(at.x), at.y) for at in marked if at.x * sign > 0.0), None)
