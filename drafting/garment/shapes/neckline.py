"""Necklines: half of one, from the shoulder to the centre, in the shapes the trade names."""

from __future__ import annotations

from dataclasses import dataclass

from drafting.garment.shapes.curve import Curve
from drafting.geometry import Path, Point
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class Neckline:
    """A neckline's shape ("round" or "v"), and where its centre point and its shoulder point lie."""

    shape: str
    shoulder: Point
    centre: Point


def round_half(shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a round neckline from the shoulder to the centre.

    It leaves square to the shoulder, so that front and back run on smoothly, and meets the centre square.
    """
    out = Point(-1.0, 0.0).turned(-slope).left  # down, square to a shoulder falling away at ``slope``
    across, down = shoulder.x - centre.x, shoulder.y - centre.y
    # On a steep shoulder a long reach would carry the curve in so far that it had to bend back.
    reach = min(0.58 * down, 0.36 * across / max(-out.x, TOLERANCE.tangent))
    return Curve.leaving(shoulder, out, reach, centre, Point(-1.0, 0.0), 0.56 * across)


def v_half(shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a V neckline: square to the shoulder at the top, soon straight, to a point at the centre."""
    out = Point(-1.0, 0.0).turned(-slope).left
    way = shoulder.distance(centre)
    knee = shoulder + out * (0.3 * way)
    return Curve(shoulder, knee, centre + (knee - centre).unit * (0.35 * way), centre)


def draw_neckline(neckline: Neckline, slope: float) -> Path:
    """Draw half of a neckline from the shoulder to the centre."""
    draw = v_half if neckline.shape == "v" else round_half
    return draw(neckline.shoulder, neckline.centre, slope).path
