"""Buttons: where they and their buttonholes lie on the two edges of a closure, and which edge lies on top.

    place            rule                                                                           source
    on top           right over left for women, left over right for men; at a side, front over back common practice
    first button     its rim 6 mm below the top edge                                                common practice
    at the bust      one lies there, so that the closure doesn't gape                               common practice
    apart            evenly, as near to what is asked as brings one to the bust                     common practice
    last button      a button's diameter, 15 mm at least, above the lower end                       from memory
    buttonhole       the diameter and 3 mm for the thickness of a flat button                       common practice
                     across: from 3 mm beyond the centre line inwards; along: from 3 mm above the button

The edges' own line is the centre line: closed, they lie on each other there, and the button stands on it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafting.errors import CannotDraft
from drafting.garment import Drill, Fact, Garment, Run, Use
from drafting.garment.carry import with_features
from drafting.garment.closure import button, buttonhole
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BELOW_EDGE = TradeValue(6.0, "mm", "common practice", "1/4 in")
"""From the top edge to the rim of the first button."""

BUTTON_THICKNESS = TradeValue(3.0, "mm", "common practice", "1/8 in")
"""By which a buttonhole is longer than its button is wide, and by which it passes the centre line."""

LAST_BUTTON = TradeValue(15.0, "mm", "from memory")
"""From the last button to the closure's lower end, at least."""

CLOSEST_BUTTONS = TradeValue(0.6, "share", "from memory")
"""Of the spacing asked for at which buttons are set at least, to bring one to the bust; with less, the first button
does for it."""


@dataclass(frozen=True, slots=True)
class Buttons:
    """What is asked of a row of buttons: diameter and spacing (mm), whether the holes run across the edge."""

    diameter: float
    apart: float
    across: bool

    @property
    def hole(self) -> float:
        """How long a buttonhole is (mm)."""
        return self.diameter + BUTTON_THICKNESS

    @property
    def inward(self) -> float:
        """How far inside the line that the button stands on its hole reaches (mm)."""
        return self.hole - BUTTON_THICKNESS if self.across else 0.0

    @property
    def first(self) -> float:
        """How far below the top edge the first button stands (mm)."""
        return self.diameter / 2.0 + BELOW_EDGE


def mark_buttons(garment: Garment, upper: Run, under: Run, row: Buttons) -> Garment:
    """Mark buttonholes along the edge on top and buttons along the one below; both runs go from the top down.

    CannotDraft where not even one button has room.
    """
    length = min(garment.run_length(upper), garment.run_length(under))
    bust = _bust(garment, under)
    places = space_buttons(row, length, bust)
    if not places:
        short = row.first + max(row.diameter, LAST_BUTTON) - length
        raise CannotDraft(
            "length",
            say(
                "a closure of {is_length} has no room for a button of {diameter}",
                is_length=mm(length),
                diameter=mm(row.diameter),
            ),
            short_by=short,
            help="make it longer, or take a smaller button",
        )
    marks: dict[str, list[Drill]] = {}
    for number, s in enumerate(places, 1):
        piece, at, along, out = _find_spot(garment, upper, s)
        marks.setdefault(piece, []).extend(buttonhole(number, *_hole(row, at, along, out)))
        piece, at, _, _ = _find_spot(garment, under, s)
        marks.setdefault(piece, []).append(button(number, at))
    pieces = (with_features(p, marks[p.name]) for p in garment.pieces if p.name in marks)
    return garment.with_(pieces=tuple(pieces), facts=tuple(_facts(places, row, bust)))


def space_buttons(row: Buttons, length: float, bust: float | None) -> tuple[float, ...]:
    """Return how far below the top each button stands (mm), evenly, one of them at the bust where it lies between."""
    first, last = row.first, length - max(row.diameter, LAST_BUTTON)
    if last < first:
        return ()
    room = last - first
    if bust is not None and first + CLOSEST_BUTTONS * row.apart <= bust <= last:
        step = (bust - first) / max(1, round((bust - first) / row.apart))
        count = 1 + math.floor(room / step + TOLERANCE.same_point)
    else:
        gaps = round(room / row.apart)
        step, count = room / max(gaps, 1), gaps + 1
    return tuple(first + i * step for i in range(count))


def _bust(garment: Garment, run: Run) -> float | None:
    """How far along a run the height of the bust is crossed (mm); None where it isn't."""
    done = 0.0
    for use in run:
        line = garment.line(use).path
        ends = [p for v in garment.piece(use.piece).levels if v.name == "bust" for p in (v.path.start, v.path.end)]
        if ends:
            height = min(ends, key=lambda p: line.nearest(p)[1]).y
            for s in line.cross_level(height):
                return done + (line.length - s if use.against else s)
        done += line.length
    return None


def _find_spot(garment: Garment, run: Run, s: float) -> tuple[str, Point, Point, Point]:
    """The piece, the point, and the unit vectors down the run and out of the piece, ``s`` mm along a run."""
    use, on = _find_use(garment, run, s)
    line = garment.line(use).path
    at = line.length - on if use.against else on
    way = line.tangent(at)
    return use.piece, line.at(at), -way if use.against else way, way.right


def _find_use(garment: Garment, run: Sequence[Use], s: float) -> tuple[Use, float]:
    for use in run:
        length = garment.line(use).path.length
        if s <= length or use is run[-1]:
            return use, min(s, length)
        s -= length
    raise AssertionError("a run has a line")


def _hole(row: Buttons, at: Point, along: Point, out: Point) -> tuple[Point, Point]:
    """The ends of a buttonhole whose button stands at a point of the centre line."""
    if row.across:
        return at + out * BUTTON_THICKNESS, at + out * (BUTTON_THICKNESS - row.hole)
    return at - along * BUTTON_THICKNESS, at + along * (row.hole - BUTTON_THICKNESS)


def _facts(places: Sequence[float], row: Buttons, bust: float | None) -> Iterator[Fact]:
    yield Fact("buttons", float(len(places)), "", "rule", "evenly spaced, one at the bust where the closure passes it")
    yield Fact("button_diameter", row.diameter, "mm", "choice")
    yield Fact(
        "buttonhole_length",
        row.hole,
        "mm",
        "rule",
        say("the button's diameter and {figure} (common practice)", figure=mm(3)),
    )
    yield Fact(
        "button_first",
        places[0],
        "mm",
        "rule",
        say("half a button and {figure} below the edge (common practice)", figure=mm(6)),
    )
    if len(places) > 1:
        yield Fact("button_spacing", places[1] - places[0], "mm", "rule", "from button to button")
    if bust is not None:
        off = min(abs(bust - s) for s in places)
        yield Fact("button_off_bust", off, "mm", "rule", "from the bust line to the nearest button")
