"""A skirt as part of a cone: a share of a circle, waist and hem arcs about one centre, front and back each half of it.

With a share k of a full circle (closed forms):

    waist radius      r = waist / (2 pi k)
    girth at depth d  2 pi k (r + d) = waist + 2 pi k d
"""

from __future__ import annotations

import math
from dataclasses import replace

from blocks.skirt_pieces import HalfShape, add_skirt, piece_name
from blocks.waistline import Waist
from drafting.garment import Brief, Face, Fact, Garment, Piece, Solve
from drafting.garment.carry import with_features
from drafting.garment.features import DroppingEdge
from drafting.geometry import Path, Point
from drafting.tolerance import TOLERANCE

LENGTHEN_AT_HEM = "lengthen or shorten at the hem, by as much all round"
"""Said on each piece of a cone, whose hem then stays an arc about the same centre."""


def arc(centre: Point, radius: float, angle: float) -> Path:
    """Return the arc below ``centre`` from straight down, anticlockwise by ``angle`` (rad), in cubics.

    Handles are 4/3 tan(a/4) of the radius, the well-known cubic for an arc of angle a: it strays from the circle by
    less than 0.01 mm.
    """
    count = max(1, math.ceil(angle / TOLERANCE.arc))
    step = angle / count
    reach = 4.0 / 3.0 * math.tan(step / 4.0) * radius
    parts = []
    for i in range(count):
        a, b = i * step - math.pi / 2.0, (i + 1) * step - math.pi / 2.0
        start, end = centre + Point.polar(a, radius), centre + Point.polar(b, radius)
        parts.append(Path.cubic(start, start + Point.polar(a).left * reach, end - Point.polar(b).left * reach, end))
    return Path.join(*parts)


def cone_half(w: Waist, waist: float, angle: float, length: float) -> tuple[HalfShape, Solve]:
    """Draw one half of a front or back: the sector of ``angle`` (rad) whose waist arc is ``waist`` mm long."""
    radius = waist / angle
    radius *= waist / arc(Point(0.0, 0.0), radius, angle).length  # what the cubic's length is off by
    centre = Point(0.0, w.waist + radius)
    edge, hem = arc(centre, radius, angle), arc(centre, radius + length, angle)
    shape = HalfShape(
        hem,
        Path.straight(hem.end, edge.end),
        (edge,),
        levels=(("hip", arc(centre, radius + w.fall, angle)),),
    )
    return shape, Solve("waist of the skirt", waist, edge.length, 1)


def least_share(w: Waist) -> float:
    """Return the least share of a circle that goes round the hip: (hip - waist) / (2 pi x waist to hip)."""
    return (w.hip_girth - w.girth) / (2.0 * math.pi * w.fall)


def cone_skirt(
    garment: Garment, brief: Brief, w: Waist, share: float, length: float, facts: tuple[Fact, ...]
) -> Garment:
    """Draft a skirt that is a share of a circle, each half of it a quarter of that."""
    angle = share * math.pi / 2.0
    made = {half: cone_half(w, plan.length, angle, length) for half, plan in w.halves.items()}
    told = (
        *facts,
        Fact("skirt_length", length, "mm", "choice", "from waist to hem, the same all round"),
        Fact(
            "waist_radius",
            w.girth / (2.0 * math.pi * share),
            "mm",
            "solve",
            "waist / (2 pi x share of a circle)",
        ),
        Fact(
            "hem_girth",
            w.girth + 2.0 * math.pi * share * length,
            "mm",
            "solve",
            "waist + 2 pi x share x length",
        ),
    )
    solves = tuple({round(s.target, 6): s for _, s in made.values()}.values())
    garment = add_skirt(garment, brief, w, {half: shape for half, (shape, _) in made.items()}, (told, solves))
    skirt = (garment.piece(piece_name(face)) for face in (Face.FRONT, Face.BACK))
    return garment.with_(
        pieces=[_at_hem(piece) for piece in skirt],
        notes=[
            "Let the skirt hang for a day before the hem is turned, and level it: the bias parts drop.",
        ],
    )


def _at_hem(piece: Piece) -> Piece:
    """The piece, saying that it is lengthened at its hem: no line across an arc spreads all of it alike."""
    return with_features(replace(piece, notes=(*piece.notes, LENGTHEN_AT_HEM)), (DroppingEdge(),))
