"""Turning a dart to another place on the outline: the same suppression about the same point, from another edge."""

from __future__ import annotations

from contextlib import suppress

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import Brief, Fact, Garment, Stage, change, option, side_option
from drafting.garment.darts import Dart, dart_of, intake
from drafting.geometry import Point
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.dart_work import LevelBent, change_each_dart, keep_levels, place_for, turn_dart, with_centre
from drafting.redraw.told_place import DART_LINES, read_place
from drafting.saying import say, tape
from drafting.trade import TradeValue

MOST_ASIDE_TURNED = TradeValue(10.0, "mm", "from memory", "nobody sees a dart's mouth a centimetre off")
"""From the place asked for, that a dart is turned to instead, at most, where it can't lie there."""

SHARES, SEARCHED, DIGITS = 100, 30, 4
"""Into how many shares of a line its places are parted in search of another, how many are tried, how they are told."""


@dataclass(frozen=True, slots=True)
class MoveDartOptions:
    """Options of the change."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front", "shoulder".', "text", "bust")
    to: str = option(
        "Where to: an edge, and how far along it from 0 to 1, as "
        '"shoulder 0.5", "side 0.3", "neckline 0.5", "armhole 0.4", "waist 0.5" '
        'or "centre 0.4"; measured from the neck, the shoulder (neckline, armhole), the underarm (side) or the centre. '
        "A dart at the centre needs a seam there, which is then made; one low in the side is a French dart: "
        '"side 0.85" of a bodice to the waist, "side 0.4" of one to the hip, "side 0.25" of a dress.',
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
    mends=(
        Mend("toile-bust-point-elsewhere", 'to = where it shall lie, as "shoulder 0.5"'),
        Mend("neck-near-dart", 'turn the dart into it: change = "{change}", dart = "shoulder", to = "neckline 0.5"'),
        Mend("darts-near", 'to have one of them elsewhere: change = "{change}", dart = "{dart}" or "{take}"'),
    ),
)
def move_dart(garment: Garment, brief: Brief, o: MoveDartOptions) -> Garment:
    """Turn the dart on each side asked for."""
    return change_each_dart(garment, o.dart, o.side, lambda g, one: _move_dart(g, one, o), "to")


def _move_dart(garment: Garment, one: Dart, o: MoveDartOptions) -> Garment:
    """Turn a dart; where an edge would bend too much at a level there, but not a few mm beside it, to beside it."""
    garment, one = with_centre(garment, one, o.to)
    try:
        return _turn_to(garment, one, o, o.to)
    except LevelBent as error:
        found = _find_nearest(garment, one, o)
        if found is None:
            raise
        made, told, off = found
        if off > MOST_ASIDE_TURNED:
            help = say('the nearest place is {off} off: write to = "{told}"', off=tape(off), told=told)
            raise CannotDraft("to", error.reason, help=help) from None
        return made


def _turn_to(garment: Garment, one: Dart, o: MoveDartOptions, told: str) -> Garment:
    made = keep_levels(garment, turn_dart(garment, one, place_for(garment, one, told), o.set_back), one)
    dart = dart_of(made.piece(one.piece), one.name)
    says = say("the {title} turned to {to}: what it takes in at its mouth there", title=one.title, to=told)
    if told != o.to:
        says = say("{says} ({asked}, as asked, would bend the edge too much)", says=says, asked=o.to)
    return made.with_(facts=(Fact(f"{dart.seam}_intake", intake(dart), "mm", "choice", says),))


def _find_nearest(garment: Garment, one: Dart, o: MoveDartOptions) -> tuple[Garment, str, float] | None:
    """The garment with the dart turned to the nearest place where it can be: how that is told, and how far off (mm)."""
    word, share = read_place(o.to, "to", DART_LINES)
    asked = _locate(garment, one, o.to)
    for step in range(1, SEARCHED + 1):
        for way in (-1, 1):
            tried = round(share + way * step / SHARES, DIGITS)
            if not 0.0 < tried < 1.0:
                continue
            told = f"{word} {tried:g}"
            with suppress(DraftingError):
                return _turn_to(garment, one, o, told), told, asked.distance(_locate(garment, one, told))
    return None


def _locate(garment: Garment, one: Dart, told: str) -> Point:
    place = place_for(garment, one, told)
    return garment.piece(one.piece).line(place.line).path.at(place.s)
