"""What a band on an armhole takes off the body: its free edge, not the seam, is to lie where an armhole's edge does.

The shoulder ends as much farther in and the underarm lies as much lower as the band is wide, as a neckline lies its
band's width outside the neck (common practice).
"""

from __future__ import annotations

import math
from typing import Final

from drafting.cloth import Fit
from drafting.garment import Brief, Face, Garment, Role, Side
from drafting.garment.armholes import take_armhole
from drafting.garment.departures import declare_departures
from drafting.garment.shoulders import take_shoulder
from drafting.redraw.shoulders import narrow_shoulder
from drafting.redraw.underarms import keep_bust, lower_underarm
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_table

BARE_INSIDE = TradeValue(5.0, "mm", "from memory", "at the bone, or 1 to 2 cm inside")
"""By which a sleeveless shoulder, its band on, ends inside the bone at least."""

BARE_BELOW = TradeValue(15.0, "mm", "from memory", "0 to 2 cm, a lower one shows what is worn under")
"""Below the body's armpit that a sleeveless armhole's edge lies at most, its band on, where its length lets it."""

LOWEST_BARE = TradeValue(20.0, "mm", "from memory", "0 to 2 cm")
"""Below the armpit that it lies at most for its band to go round the arm."""

LOWEST_FOR_ROOM = trade_table(
    {Fit.CLOSE: 25.0, Fit.SEMI: 28.0, Fit.RELAXED: 30.0}, "mm", "from memory", "0 to 2 cm; a band that stands off shows"
)
"""Below the armpit that it lies at most where its band would be longer beside it than lies flat."""

IN_FOR_ROOM = TradeValue(15.0, "mm", "from memory", "a sleeveless shoulder ends 1 to 2 cm inside the bone")
"""By which its shoulder ends farther in at most for the same."""

ROOM_BY_IN = TradeValue(1.3, "times", "derived", "by drawing: an armhole grows so much as its shoulder comes in")
"""Of what a shoulder comes in, by which its armhole is longer."""

HIGHEST_BARE = TradeValue(5.0, "mm", "from memory", "0 to 2 cm")
"""Below the armpit that it lies at least then."""

MOST_BARE = TradeValue(1.26, "share", "derived", "a band of 1.12 cut to 0.89 of its seam")
"""Of the armscye girth, how long that seam is before it is drawn higher: its band would gape."""

AROUND_BARE = trade_table(
    {Fit.CLOSE: 1.14, Fit.SEMI: 1.16, Fit.RELAXED: 1.16}, "share", "derived", "a band of 1.00, 1.03 cut to 0.89 of it"
)
"""Of the armscye girth, how long the seam of an armhole with a band is, where its depth lets it."""

LEAST_BARE = trade_table(
    {Fit.CLOSE: 1.13, Fit.SEMI: 1.15, Fit.RELAXED: 1.15}, "share", "derived", "a band as long as the arm's, cut to 0.88"
)
"""The same at least, however deep, or how far in, it lies for that."""

UNDERARM_ASKED: Final = "underarm_asked"
"""The fact of a body whose underarm lies where the ticket asks for it: the band's edge is to lie there."""

LEFT_OF_SEAM = TradeValue(60.0, "mm", "derived", "3.5 cm, and what changes narrow it by or open the neck by")
"""Of its shoulder seam that a body with bands keeps at least, however wide they are."""

FOLLOWS_BAND = TradeValue(0.6, "share", "from memory", "as of a shoulder that is narrowed")
"""Of a band's width that the width across the body follows."""


def allow_for_bands(garment: Garment, brief: Brief) -> Garment:
    """Return the body with the armholes that get a band drawn smaller by it."""
    start = garment
    for side, width in garment.banded:
        garment = _allow(garment, brief, side, width)
    return keep_bust(declare_departures(start, garment, ("across",))) if start is not garment else garment


def _allow(garment: Garment, brief: Brief, side: Side, width: float) -> Garment:
    shoulder, armhole = take_shoulder(garment, side), take_armhole(garment, side)
    if shoulder is None or shoulder.length is None or armhole is None:
        return garment
    beyond = max(shoulder.length - brief.body["shoulder_length"] + BARE_INSIDE, 0.0)
    seam = math.fsum(
        line.path.length
        for piece in garment.pieces
        for line in piece.lines(role=Role.SHOULDER, side=side, face=Face.FRONT)
    )
    inset = min(width + beyond, seam - LEFT_OF_SEAM)
    garment = narrow_shoulder(garment, side, inset, FOLLOWS_BAND) if inset > 0.0 else garment
    below = armhole.depth - brief.body["scye_depth_length"]
    if any(fact.name == UNDERARM_ASKED for fact in garment.facts):
        return _lower(garment, brief, side, width)
    made = _lower(garment, brief, side, width + min(below, float(BARE_BELOW)) - below)
    armhole = take_armhole(made, side)
    short = 0.0 if armhole is None else AROUND_BARE[brief.fit] * brief.body["armscye_girth"] - armhole.length
    lies = min(below, float(BARE_BELOW))
    more = min(short / 2.0, LOWEST_BARE - lies)
    gapes = 0.0 if armhole is None else armhole.length - MOST_BARE * brief.body["armscye_girth"]
    raised = min(gapes / 2.0, lies - HIGHEST_BARE)
    made = _lower(made, brief, side, more if more > 0.0 else min(-raised, 0.0))
    return _make_room(made, brief, side, width, seam - inset - LEFT_OF_SEAM)


def _make_room(garment: Garment, brief: Brief, side: Side, width: float, left: float) -> Garment:
    """Return the garment with an armhole that is too short for its band to lie flat cut farther in, then lower.

    The shoulder gives at most what is ``left`` of it (mm).
    """

    def short() -> float:
        armhole = take_armhole(garment, side)
        return 0.0 if armhole is None else LEAST_BARE[brief.fit] * brief.body["armscye_girth"] - armhole.length

    armhole = take_armhole(garment, side)
    if armhole is None or short() <= TOLERANCE.sewn_length:
        return garment
    inset = min(short() / ROOM_BY_IN, float(IN_FOR_ROOM), left)
    garment = narrow_shoulder(garment, side, inset, FOLLOWS_BAND) if inset > TOLERANCE.sewn_length else garment
    edge = armhole.depth - width - brief.body["scye_depth_length"]
    lower = min(short() / 2.0, LOWEST_FOR_ROOM[brief.fit] - edge)
    return _lower(garment, brief, side, lower) if lower > 0.0 else garment


def _lower(garment: Garment, brief: Brief, side: Side, by: float) -> Garment:
    return lower_underarm(garment, brief, side, by) if abs(by) > TOLERANCE.sewn_length else garment
