"""The circle skirt: a quarter, a half or a full circle of cloth about the waist, without darts.

Waist and hem are arcs about one centre, so that with a share k of a full circle (closed forms):

    waist radius      r = waist / (2 pi k)
    girth at depth d  2 pi k (r + d) = waist + 2 pi k d

Front and back are each half of it; the side seams are straight and equal. On the bias the hem drops as it hangs.
"""

from __future__ import annotations

import math

from blocks.skirt_pieces import NEEDS, HalfShape, add_skirt, length_of, length_option, waist_ease_option
from blocks.waistline import Waist, waist_of
from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Solve, Stage, block, option
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import trade_table
from drafting.work.kinds import SIDE

CIRCLE_SHARES = trade_table({"quarter": 0.25, "half": 0.5, "full": 1.0}, "share", "derived", "by its name")
"""Of a full circle that each skirt is."""


@dataclass(frozen=True, slots=True)
class CircleSkirtOptions:
    """Options of the circle skirt."""

    share: str = option("How much of a circle the skirt is.", "choice", "half", choices=("quarter", "half", "full"))
    length: float | None = length_option()
    waist_ease: float | None = waist_ease_option()


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


@block(
    "circle-skirt",
    "A quarter, half or full circle skirt, its waist and hem arcs about one centre.",
    Stage.BODY,
    needs=NEEDS,
    kinds=(SIDE,),
)
def draft_circle_skirt(garment: Garment, brief: Brief, o: CircleSkirtOptions) -> Garment:
    """Draft front and back, with darts none and side seams straight."""
    w = waist_of(garment, brief, o.waist_ease)
    share = CIRCLE_SHARES[o.share]
    length = length_of(brief, w, o.length)
    least = least_share(w)
    if share < least - TOLERANCE.tangent and o.share != "quarter":
        hip = w.girth + 2.0 * math.pi * share * w.fall
        raise CannotDraft(
            "hip_girth",
            say(
                "at the hip this skirt measures {hip} where {hip_girth} are needed",
                hip=mm(hip),
                hip_girth=mm(w.hip_girth),
            ),
            short_by=w.hip_girth - hip,
            help="take more of a circle, or more ease at the waist",
        )
    facts = [Fact("circle_share", max(share, least), "share", "choice", f"a {o.share} circle")]
    if share < least:
        facts.append(Fact("circle_share_raised", least - share, "share", "rule", "more of a circle: the hip needs it"))
    return cone_skirt(garment, brief, w, max(share, least), length, tuple(facts))


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
    return garment.with_(
        notes=[
            "Lengthen or shorten the skirt at its hem, by as much all round.",
            "Let the skirt hang for a day before the hem is turned, and level it: the bias parts drop.",
        ]
    )
