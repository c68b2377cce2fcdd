"""The armholes of the garment against the arm that goes through them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from drafting.body import Body
from drafting.cloth import Fit, ease_for, share_drawn_in
from drafting.garment import Brief, Face, Garment, Role, Side
from drafting.garment.armholes import (
    BELOW_ARMPIT,
    WOVEN_ARM_ROOM,
    ArmholeTaken,
    take_armhole,
    wanted_width,
    wide_armhole,
)
from drafting.garment.departures import sum_departures
from drafting.garment.features import BustPoint
from drafting.garment.ruled import UNDERARM_BARE, list_ruled, sum_ruled
from drafting.mending import situation
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.saying import Words, about, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

BUST_EIGHTH, EASE_SHARE, WIDE, TOO_WIDE = (
    TradeValue(0.125, "share", "from memory", "an armhole is as wide as an eighth of the bust, 1.5 cm more or less"),
    TradeValue(0.25, "share", "from memory", "as much in the other, the rest over back and front"),
    TradeValue(15.0, "mm", "from memory", "an eighth of the bust, 1.5 cm more or less"),
    TradeValue(40.0, "mm", "from memory", "the garment stands off beside the arm"),
)
"""Of the bust, the width of an armhole; of the ease, what lies in it; and by how much a knit's may be wider than that,
or than the arm wants it, before it is noted, the ease beside, and before it is warned of."""

GIVES = TradeValue(0.9, "share", "from memory")
"""Least width of a knit's armhole, as a share of the arm's thickness: the cloth gives by the rest."""

UNFELT = TradeValue(1.0, "mm", "from memory")
"""By which an armhole may be narrower than it is drafted without a word."""


BACK_LONGER = TradeValue(25.0, "mm", "from memory", "0 to 2 cm, more over a round back")
"""By which the back of a woven's armhole is longer than its front at most."""

KNIT_BACK_LONGER = TradeValue(20.0, "mm", "from memory", "0.5 to 1.5 cm is usual")
"""By which the back of a knit's armhole is longer than its front at most."""

SLEEVED_SHARE = TradeValue(0.05, "share", "from memory", "1.05 to 1.25 of the body's")
"""Of the armscye girth, by which a woven's armhole with a sleeve is longer at least: its cloth doesn't give."""

BARE_LONGER = TradeValue(10.0, "mm", "from memory", "1 to 2 cm")
"""By which a sleeveless woven's armhole is longer than the armscye girth at least; a faced edge doesn't stretch."""


BARE_RISES = trade_row((10.0, 15.0), "mm", "from memory", "1 to 1.5 cm")
"""By which the underarm of a sleeveless woven is drawn above that of one with sleeves."""

SHALLOWEST = TradeValue(10.0, "mm", "from memory", "1 to 4 cm")
"""Below the body's armpit that a woven's armhole with a sleeve starts at least."""

BARE_ARM_LEAST = TradeValue(3.0, "mm", "from memory")
"""By which a sleeveless woven's armhole is wider than the arm is thick at least: a narrower one rubs."""

SLEEVED_MOST, BARE_MOST = (
    trade_table(
        {Fit.CLOSE: 45.0, Fit.SEMI: 55.0, Fit.RELAXED: 75.0},
        "mm",
        "from memory",
        "up to 1.25 of the body's, a closer one less",
    ),
    trade_table(
        {Fit.CLOSE: 25.0, Fit.SEMI: 35.0, Fit.RELAXED: 50.0},
        "mm",
        "from memory",
        "up to 1.25 of the body's, a closer one less",
    ),
)
"""By which a woven's armhole is longer than the armscye girth at most: one with a sleeve, and one without."""

FAR_LONGER = TradeValue(60.0, "mm", "from memory", "the sleeve of so low an armhole doesn't let the arm be raised")
"""Beyond that, by which a woven's armhole with a sleeve is no armhole any more."""

KNIT_MOST = TradeValue(0.25, "share", "from memory", "1.05 to 1.25 of the body's")
"""Of the armscye girth, by which a knit's armhole is longer at most: more hangs as a wing, or gapes."""

KNIT_BARE_MOST, GAPES = trade_row((0.14, 0.20), "share", "from memory", "1.03 to 1.12 of the body's")
"""Of the armscye girth, by which the edge of a knit's armhole without a sleeve is longer at rest before it is noted,
and before it is warned of: it gapes."""


BARELY_SHORT = TradeValue(0.03, "share", "from memory", "a knit gives so much unfelt")
"""Of the armscye girth, by which the band on a knit's armhole may be shorter in a note."""

RAISED_FOR_LENGTH, ABOVE_ARMPIT = (
    TradeValue(0.6, "times", "derived", "both of its sides grow shorter by about as much"),
    TradeValue(10.0, "mm", "from memory", "1 to 4 cm"),
)
"""Of what an armhole is too long, by which its underarm is raised for that, and how far below the armpit it stays."""

CUT_FOR_HOLLOW = TradeValue(1.2, "times", "derived", "by cutting fronts in")
"""Of what a front lacks to be as hollow as its back, by which it is cut in for that."""


def armhole_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The width, depth and length of each armhole."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield from _armhole(taken, side, garment, brief)


def _armhole(taken: ArmholeTaken, side: Side, garment: Garment, brief: Brief) -> Iterator[FitRow]:
    stretches = garment.needs.stretch > 0.0
    shaped = any(piece.of_kind(BustPoint) or any(piece.lines(role=Role.STYLE)) for piece in garment.pieces)
    cut_in = 0.0 - sum(sum_departures(garment, "across", f"{face}-{side}") for face in (Face.FRONT, Face.BACK))
    row = _width(taken, side, brief, stretches=stretches, cut_in=cut_in)
    # A garment of rectangles leaves its armhole no width, and needs none.
    yield row if stretches or shaped else replace(row, least=None, most=None)
    depth = _depth(taken, side, garment, brief)
    depth = _at_edge(depth, taken, side)
    if stretches:
        yield _depth_knit(depth)
    else:
        yield depth if shaped else replace(depth, least=None, most=None)
    yield _length(taken, side, brief, stretches=stretches, shaped=shaped, cut_in=cut_in)
    if taken.lies_flat:
        moved = sum_departures(garment, "armhole_back", side.value)
        yield _balance(taken, side, moved, stretches=stretches)
    if taken.hollower is not None and not stretches:
        yield _hollow(taken.hollower, side, sum_departures(garment, "armhole_hollow", side.value))
    if taken.bare and list_ruled(garment, UNDERARM_BARE, side):
        yield _rise(sum_ruled(garment, UNDERARM_BARE, side), side)


ACROSS = ("across_front_width", "across_back_width")
"""What decides how far in an armhole lies, in front and behind."""

TOO_LONG = Retake(("armscye_girth", "scye_depth_length"), "{again}; if both are right, choose a closer fit")
"""What to do about an armhole that is too long for the arm."""

BARE_LOW = TradeValue(40.0, "mm", "from memory", "2.5 cm, 1 to 4 in all")
"""Below the body's armpit from which a woven's armhole without a sleeve is noted: it shows what is worn beneath."""


def _depth(taken: ArmholeTaken, side: Side, garment: Garment, brief: Brief) -> FitRow:
    """How deep an armhole is: below the armpit by little, or it lifts the side with the arm.

    What a change lowers it by, or the ticket asks for, is meant; one that raises it brings it nearer to the body's. One
    that is no longer than it must be is noted: it can't lie higher.
    """
    body, asked = brief.body, next((fact.value for fact in garment.facts if fact.name == "ease_scye_depth"), 0.0)
    ruled = ease_for(brief.fit, brief.cloth, body).scye_depth
    meant = max(sum_departures(garment, "armhole_depth", side.value), 0.0) + max(asked - ruled, 0.0)
    deepest = BELOW_ARMPIT[brief.fit]
    most = min(deepest, BARE_LOW) if taken.bare else deepest
    below = taken.depth - body["scye_depth_length"] - meant
    by = math.ceil(below - most)
    spare = taken.length - body["armscye_girth"] - least_beyond(taken, body)
    forced = spare <= UNFELT and taken.depth > body["scye_depth_length"]
    raised = 0 < by <= spare * RAISED_FOR_LENGTH
    return FitRow(
        "armhole_depth",
        f"armhole-{side}",
        say("{side} armhole, depth below the back neck point", side=side),
        body["scye_depth_length"],
        taken.depth,
        meant,
        0.0 if taken.bare else SHALLOWEST - UNFELT,
        most,
        severity=Severity.NOTE if forced or below <= deepest else Severity.WARNING,
        remedy=Retake(("scye_depth_length", "armscye_girth"), DEEP_OR_SHALLOW),
        wanted=situation("armhole-long", by=about(by)) if raised else None,
    )


def _at_edge(depth: FitRow, taken: ArmholeTaken, side: Side) -> FitRow:
    """How deep an armhole is with its band on: the band's free edge lies as much higher as it is wide."""
    if taken.band <= 0.0:
        return depth
    title = say("{side} armhole, depth of its band's edge below the back neck point", side=side)
    return replace(depth, garment=depth.garment - taken.band, title=title)


def _depth_knit(depth: FitRow) -> FitRow:
    """How deep a knit's armhole is: noted where it lies low, and a warning where it lifts the side with the arm."""
    severity = Severity.WARNING if depth.off > WINGED else Severity.NOTE
    return replace(depth, most=KNIT_DEEPEST, severity=severity, remedy=DEEP_IN_KNIT, wanted=None)


def least_beyond(taken: ArmholeTaken, body: Body) -> float:
    """Return by how much (mm) a woven's armhole is longer than the armscye girth at least."""
    return float(BARE_LONGER) if taken.bare else SLEEVED_SHARE * body["armscye_girth"]


KNIT_DEEPEST, WINGED = trade_row((40.0, 50.0), "mm", "from memory", "1 to 4 cm below the armpit")
"""Below the body's armpit that a knit's armhole starts at most, and from which one beyond that is warned of."""

DEEP_IN_KNIT = Retake(
    ("scye_depth_length", "armscye_girth", "across_back_width"),
    "{again}: an armhole that is to be long for its depth has to lie lower; if they are right, choose a closer fit",
)
"""What to do about a knit's armhole that lies low, or hardly below the armpit."""


DEEP_OR_SHALLOW = (
    "{again}: an armhole that is long for its depth has to lie lower; if both are right, lift the arm in the toile "
    "and look whether the side comes up with it"
)
"""What to do about an armhole whose depth and length don't go together."""


LET_DOWN = "lower the underarm, or choose a looser fit"
TOO_SHORT = Retake(("armscye_girth", "scye_depth_length"), "{again}; if both are right, choose a looser fit")
"""What to do about an armhole that is short for the arm: a knit's, and a woven's at the depth that it may have."""


def _balance(taken: ArmholeTaken, side: Side, moved: float, *, stretches: bool) -> FitRow:
    """The back of an armhole beside its front: the longer one stands off, in a woven for sure.

    What its shoulder seam is ``moved`` (mm, both together) changes no armhole.
    """
    return FitRow(
        "armhole_back",
        f"armhole-{side}",
        say("{side} armhole, back longer than front", side=side),
        0.0,
        taken.back - taken.front,
        moved,
        least=0.0,
        most=KNIT_BACK_LONGER if stretches else BACK_LONGER,
        of_body=False,
        severity=Severity.NOTE if stretches else Severity.WARNING,
        remedy=Retake(ACROSS, "{again}; if they are right, pin out on the toile what stands off on the longer side"),
    )


def _hollow(hollower: float, side: Side, moved: float) -> FitRow:
    """How hollow a woven's armhole is in front beside its back: arms move forward, and the front is cut out more."""
    by = math.ceil((moved - hollower) * CUT_FOR_HOLLOW)
    return FitRow(
        "armhole_hollow",
        f"armhole-{side}",
        say("{side} armhole, front more hollow than back", side=side),
        0.0,
        hollower,
        moved,
        least=0.0,
        of_body=False,
        severity=Severity.WARNING,
        remedy=Retake(ACROSS),
        wanted=situation("front-shallow", by=about(by)) if by > 0 else None,
    )


def _rise(raised: float, side: Side) -> FitRow:
    """How far a sleeveless woven's underarm was drawn above a sleeved one's: less, where its length forbade more."""
    return FitRow(
        "underarm_raised",
        f"armhole-{side}",
        say("{side} underarm, above that of one with sleeves", side=side),
        0.0,
        raised,
        least=BARE_RISES[0],
        most=BARE_RISES[1],
        of_body=False,
        severity=Severity.NOTE,
        remedy=Retake(
            ("armscye_girth", "scye_depth_length"),
            "a shorter armhole wouldn't go round the body's: {again}; if both are right, look on the toile "
            "whether the underarm may come up",
        ),
    )


def _length(taken: ArmholeTaken, side: Side, brief: Brief, *, stretches: bool, shaped: bool, cut_in: float) -> FitRow:
    """How long an armhole is: it goes round the body's, unstretched too, in a woven with room to move.

    One that is cut in grows longer by about as much as it is cut in, front and back; its least stays.
    One with hardly more room than to go round it is noted: by its depth it may have no more. A close knit's is shorter
    by the share that its bust is drawn in. Of one with a band it is the band's free edge that goes round, at rest; what
    the band fills of what is cut in makes it no longer.
    """
    scye, length = brief.body["armscye_girth"], taken.edge
    room = least_beyond(taken, brief.body)
    title = "{side} armhole, length of its band" if taken.band > 0.0 else "{side} armhole, length"
    mosts = BARE_MOST if taken.bare else SLEEVED_MOST
    longer = max(cut_in - 2.0 * taken.band, 0.0)
    most = (KNIT_BARE_MOST if taken.bare else KNIT_MOST) * scye if stretches else max(mosts[brief.fit], room)
    gapes = stretches and taken.bare and length > scye * (1.0 + GAPES) + longer
    noted = length > scye + longer + most and not gapes
    far = length > scye + longer + most + FAR_LONGER and not (stretches or taken.bare)
    if stretches and taken.band > 0.0 and length < scye:
        noted = length >= scye * (1.0 - BARELY_SHORT)
    elif not stretches:
        noted = scye + BARE_LONGER - UNFELT <= taken.length <= scye + room
    by = math.ceil((taken.length - scye - most) * RAISED_FOR_LENGTH)
    raised = 0 < by <= taken.depth - brief.body["scye_depth_length"] - ABOVE_ARMPIT
    return FitRow(
        "armhole_length",
        f"armhole-{side}",
        say(title, side=side),
        scye,
        length,
        longer,
        least=(-share_drawn_in(brief.fit, brief.cloth, brief.body) * scye if stretches else float(room)) - longer,
        most=most if stretches or shaped else None,
        severity=Severity.ERROR if far else Severity.NOTE if noted else Severity.WARNING,
        remedy=TOO_LONG if length > scye + room else LET_DOWN if stretches else TOO_SHORT,
        wanted=situation("armhole-long", by=about(by)) if raised and not stretches and shaped else None,
    )


def _width(taken: ArmholeTaken, side: Side, brief: Brief, *, stretches: bool, cut_in: float) -> FitRow:
    """What is left for the arm: never less than it is thick, in a woven with sleeves with room beside it.

    An armhole that is narrower than the arm doesn't go round it: in a woven that is an error, and in what is drafted to
    stretch where it is narrower by more than the cloth gives. One that changes cut in is as much wider at
    most as they mean it to be, and no narrower for one that they fill out. One with a band is as wide as the band
    leaves it, in front and behind; what of that a knit must give, it gives.
    """
    bands = 2.0 * taken.band
    width, cut_in = taken.width - bands, max(cut_in - bands, min(cut_in, 0.0))
    arm = brief.body["upper_arm_girth"]
    wanted, thick = wanted_width(arm), arm / math.pi
    room = float(BARE_ARM_LEAST) if taken.bare else WOVEN_ARM_ROOM - UNFELT
    least, fails = (thick, thick * GIVES) if stretches else (thick + room, thick)
    given = bands if stretches else 0.0
    left = width + given
    severity = Severity.ERROR if left < (thick * GIVES if bands else fails) else Severity.WARNING
    title = say(
        "{side} armhole, width within its band" if bands else "{side} armhole, width from front to back", side=side
    )
    remedy: Words | Retake = "leave out the change that makes it narrow, or choose a looser fit"
    if bands and not stretches:
        remedy = BAND_TAKES
    most = farthest = wide_armhole(brief.body) - wanted
    if stretches:
        most, farthest = _widest_knit(brief, wanted)
    if width > wanted + cut_in + most:
        severity = Severity.WARNING if width > wanted + cut_in + farthest else Severity.NOTE
        closer = "" if brief.fit is Fit.CLOSE else "choose a closer fit, or "
        others = ("across_back_width", "bust_girth") if stretches else ACROSS
        remedy = Retake((*others, "upper_arm_girth"), f"{closer}{{again}}")
    return FitRow(
        "armhole_width",
        f"armhole-{side}",
        title,
        wanted,
        width,
        cut_in,
        least=least - wanted - cut_in - given - TOLERANCE.same_point if taken.lies_flat else None,
        most=most if taken.lies_flat else None,
        severity=severity,
        remedy=remedy,
        chief=True,
    )


BAND_TAKES = "a woven isn't drafted smaller for its bands: cut the armholes in by as much, bind them, or face them"
"""What to do about a woven's armhole that a band leaves too narrow."""


def _widest_knit(brief: Brief, wanted: float) -> tuple[float, float]:
    """By how much (mm) a knit's armhole may be wider than is wanted before it is noted, and before it is warned of."""
    own = max(BUST_EIGHTH * brief.body["bust_girth"] - wanted, 0.0)
    ease = max(ease_for(brief.fit, brief.cloth, brief.body).bust, 0.0)
    return own + min(WIDE + EASE_SHARE * ease, TOO_WIDE), own + TOO_WIDE
