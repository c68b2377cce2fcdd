"""Turning a dart to another place on the outline: the same suppression about the same point, from another edge."""

from __future__ import annotations

from drafting.garment import Brief, Fact, Garment, Stage, change, option, side_option
from drafting.garment.darts import Dart, dart_of, intake
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.dart_work import change_each_dart, keep_levels, place_for, turn_dart, with_centre
from drafting.saying import say


@dataclass(frozen=True, slots=True)
class MoveDartOptions:
    """Options of the change."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front", "shoulder".', "text", "bust")
    to: str = option(
        'Where to: a line and a share of it, as "shoulder 0.5", "side 0.3", "neckline 0.5", "armhole 0.4", "waist 0.5" '
        'or "centre 0.4"; measured from the neck, the shoulder (neckline, armhole), the underarm (side) or the centre. '
        "A dart at the centre needs a seam there, which is then made; one low in the side is a French dart: "
        '"side 0.85" of a bodice to the waist, "side 0.4" of one to the hip.',
        "text",
        "shoulder 0.5",
    )
    set_back: float | None = option(
        "How far the point stops short of the marked point; by default as far as before, at a bust point by what "
        "it takes in there.",
        "length", None, low=0.0, high=80.0,
    )  # fmt: skip
    side: str = side_option("Which side's dart is moved.")


@change(
    "move-dart",
    "A dart turned to another place on the outline, where it takes in as much.",
    Stage.SHAPE,
    mends=(Mend("toile-bust-point-elsewhere", 'to = where it shall lie, as "shoulder 0.5"'),),
)
def move_dart(garment: Garment, brief: Brief, o: MoveDartOptions) -> Garment:
    """Turn the dart on each side asked for."""
    return change_each_dart(garment, o.dart, o.side, lambda g, one: _move_dart(g, one, o), "to")


def _move_dart(garment: Garment, one: Dart, o: MoveDartOptions) -> Garment:
    garment, one = with_centre(garment, one, o.to)
    before = garment
    garment = turn_dart(garment, one, place_for(garment, one, o.to), o.set_back)
    garment = keep_levels(before, garment, one)
    dart = dart_of(garment.piece(one.piece), one.name)
    says = say(
        "the {title} turned to {to}: what it takes in at its mouth there",
        title=one.title,
        to=o.to,
    )
    return garment.with_(facts=(Fact(f"{dart.seam}_intake", intake(dart), "mm", "choice", says),))
