"""The shoulders of the garment against the body's: how steep each is, how long, and how far apart their ends lie."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from drafting.cloth import Fit
from drafting.garment import Brief, Face, Garment, LineLength, Side
from drafting.garment.armholes import take_armhole
from drafting.garment.departures import sum_departures
from drafting.garment.shoulders import SHOULDER_RELIEF, ShoulderTaken, take_shoulder
from drafting.mending import situation
from drafting.proof.checks.ease import measure_garment
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.saying import say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

SLOPE_OFF = TradeValue(math.radians(3.0), "rad", "from memory")
"""By which a shoulder may be flatter or steeper than the body asks, unwarned: its end lies 5 to 8 mm off. One
as steep as the bone may be."""

BEYOND_BONE = TradeValue(10.0, "mm", "common practice")
"""By which a set-in sleeve's shoulder may be longer than the bone, unwarned."""

KNIT_BEYOND_BONE = trade_table(
    {Fit.CLOSE: 10.0, Fit.SEMI: 12.0, Fit.RELAXED: 15.0},
    "mm",
    "common practice",
    "a loose tee's drops by 1 cm and more",
)
"""The same of a knit, by its fit."""

INSIDE_BONE = TradeValue(25.0, "mm", "from memory", "0 to 2 cm inside, a close one's")
"""By which a knit's shoulder may end inside the bone, unwarned, but by what changes take of it."""

BAND_BEYOND_BONE = TradeValue(5.0, "mm", "from memory", "at the bone, or 1 to 2 cm inside")
"""By which the edge of an armhole's band may lie beyond it, unwarned."""

FACE_OFF = TradeValue(math.radians(4.5), "rad", "from memory", "front 22 and back 18 degrees are usual")
"""By which front and back of a knit's shoulder may be steeper and flatter than their mean: its seam lies 1 cm ahead."""

APART_OFF = TradeValue(5.0, "mm", "from memory")
"""By which the ends of uneven shoulders may lie higher or lower beside each other than the body's."""


NARROW_STRAP, THIN_STRAP = trade_row((35.0, 30.0), "mm", "from memory", "3.5 cm and more cover what is worn under")
"""Of shoulder seam that a top without sleeves has left at least, and with less of which it is warned of."""


def shoulder_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The slope and the length of each shoulder, and of uneven ones how far apart their ends lie."""
    both = {side: take_shoulder(garment, side) for side in (Side.LEFT, Side.RIGHT)}
    taken = {side: found for side, found in both.items() if found is not None}
    for side, found in taken.items():
        if abs(found.slope) > TOLERANCE.tangent:  # one cut level is of a garment of rectangles
            yield _slope(garment, brief, side, found)
            yield from _faces(garment, brief, side, found)
        if found.length is not None:
            yield _length(garment, brief, side, found.length)
        yield from _strap(garment, side)
    if len(taken) == 2 and brief.body["shoulder_slope_left"] != brief.body["shoulder_slope_right"]:
        yield _apart(garment, brief, taken)


def _slope(garment: Garment, brief: Brief, side: Side, taken: ShoulderTaken) -> FitRow:
    """The bone's slope; a drafted shoulder is meant to be flatter, and may be as steep; no block draws one beyond."""
    body, moved = brief.body[f"shoulder_slope_{side}"], sum_departures(garment, "shoulder_slope", side.value)
    drawn = taken.slope - (body - SHOULDER_RELIEF)
    meant = moved if abs(drawn - moved) < abs(drawn) else 0.0  # a change may bring it to the body's, or away from it
    off = drawn - meant
    by = tape(abs(off) * brief.body["shoulder_length"])
    return FitRow(
        "shoulder_slope",
        f"shoulder-{side}",
        say("{side} shoulder, slope", side=side),
        body,
        taken.slope,
        meant,
        -SHOULDER_RELIEF - SLOPE_OFF,
        max(-SHOULDER_RELIEF + SLOPE_OFF, 0.0),
        measure="rad",
        severity=Severity.WARNING,
        remedy=Retake(("shoulder_slope",)),
        wanted=situation("shoulder-steep" if off > 0.0 else "shoulder-flat", side=side, by=by),
    )


def _faces(garment: Garment, brief: Brief, side: Side, taken: ShoulderTaken) -> Iterator[FitRow]:
    """How steep a knit's shoulder is on each face: a seam far ahead of the bone has one too steep and one too flat."""
    body, moved = brief.body[f"shoulder_slope_{side}"], sum_departures(garment, "shoulder_ahead", side.value)
    for face, way in ((Face.FRONT, 1.0), (Face.BACK, -1.0)) if garment.needs.stretch > 0.0 else ():
        yield FitRow(
            f"shoulder_slope_{face}",
            f"shoulder-{side}",
            say("{side} shoulder, {face} slope", side=side, face=face),
            body,
            taken.slope + way * taken.ahead,
            way * moved,
            taken.slope - body - FACE_OFF,
            taken.slope - body + FACE_OFF,
            measure="rad",
            severity=Severity.WARNING,
            remedy=Retake(
                ("across_back_width", "across_front_width"),
                "{again}: a back broad beside its front moves the shoulder seam forward; if both are right, look on "
                "the toile where the seam lies",
            ),
        )


def _length(garment: Garment, brief: Brief, side: Side, length: float) -> FitRow:
    """How long a shoulder is, to the edge of the band where its armhole has one."""
    armhole = take_armhole(garment, side)
    band, stretches = armhole.band if armhole is not None else 0.0, garment.needs.stretch > 0.0
    title = "{side} shoulder, from the neck base to its band's edge" if band else _TO_END
    return FitRow(
        "shoulder_length",
        f"shoulder-{side}",
        say(title, side=side),
        brief.body["shoulder_length"],
        length + band,
        sum_departures(garment, "shoulder_length", side.value),
        least=-INSIDE_BONE if stretches else None,
        most=BAND_BEYOND_BONE if band else KNIT_BEYOND_BONE[brief.fit] if stretches else BEYOND_BONE,
        severity=Severity.WARNING,
        remedy=Retake(
            ("shoulder_length", "across_back_width"),
            "{again}: a back wide for its shoulders makes them longer; if both are right, look on the toile where the "
            "armhole lies",
        ),
    )


_TO_END = "{side} shoulder, from the neck base to its end"


def _strap(garment: Garment, side: Side) -> Iterator[FitRow]:
    """What is left of a sleeveless knit's shoulder seam, beside its bands."""
    armhole = take_armhole(garment, side)
    left = measure_garment(garment, LineLength(f"shoulder-{side}"))
    if garment.needs.stretch > 0.0 and armhole is not None and armhole.bare and left is not None:
        yield FitRow(
            "strap",
            f"shoulder-{side}",
            say("{side} shoulder seam, left of it beside its bands", side=side),
            NARROW_STRAP,
            left,
            least=0.0,
            of_body=False,
            severity=Severity.WARNING if left < THIN_STRAP else Severity.NOTE,
            remedy="narrow the shoulder less, or open the neckline less along it",
        )


def _apart(garment: Garment, brief: Brief, taken: Mapping[Side, ShoulderTaken]) -> FitRow:
    """How far the left shoulder's end lies below the right one's, over the body's shoulder length."""
    body, length = brief.body, brief.body["shoulder_length"]
    meant = {side: sum_departures(garment, "shoulder_slope", side.value) for side in taken}
    sides = (Side.LEFT, Side.RIGHT)
    own, drafted, without = (
        length * (math.sin(one) - math.sin(other))
        for one, other in (
            [body[f"shoulder_slope_{side}"] for side in sides],
            [taken[side].slope for side in sides],
            [taken[side].slope - meant[side] for side in sides],
        )
    )
    return FitRow(
        "shoulders_apart",
        "shoulders",
        "left shoulder's end below the right one's (less than 0: above it)",
        own,
        drafted,
        drafted - without,
        -APART_OFF,
        APART_OFF,
        remedy="leave out the change that made left and right alike, or turned them over",
    )
