"""One judge of what must pass an opening, and the openings that the engine's own blocks leave."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from drafting.cloth import hand_passage
from drafting.garment import Brief, Garment, Role, glue
from drafting.garment.opening_kinds import OpeningKind, Passing, Tight
from drafting.mending import Situation
from drafting.proof.checks.closures import opens_waist
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import OpeningRow
from drafting.record import dataclass
from drafting.saying import Saying, Words, about, say, show_share, tape
from drafting.sides import sideless
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SPARE_SHARE = TradeValue(0.02, "share", "from memory")
"""What an opening has to spare, as a share of what must pass: with less it passes on paper, not on the wearer."""

SPARE_MOST = TradeValue(10.0, "mm", "from memory")
"""To spare, that is enough for anything."""

GROWS_LOWERED = TradeValue(1.2, "times", "derived", "measured on round and V necklines, 1.1 to 1.4")
"""The mm that its front is lowered by, that a neckline or the band on it grows."""

GROWS_LOWERED_POINT = TradeValue(0.9, "times", "derived", "measured, 0.6 to 1.4")
"""The mm that its front is lowered by, that the fold of a mitred band grows: a deeper point is sharper, its mitre takes
more."""

OUTER_EDGE: Final = "outer edge"
"""Of an opening with a band, the edge that the wearer comes through."""


def wanted_spare(must_pass: float) -> float:
    """Return what an opening is to have beyond what must pass it (mm)."""
    return min(SPARE_SHARE * must_pass, SPARE_MOST)


@dataclass(frozen=True, slots=True)
class ToldPassing:
    """How it is told that something doesn't pass, or hardly: where, what that is called, and what would help.

    ``least`` is the girth (mm) below which it can't be forced. ``advise`` is told what more is wanted to spare (mm; 0
    of one that doesn't pass). ``refused`` and ``hardly`` are what comes of it, ``wanted`` what stands in its way.
    """

    place: str
    called: Words
    least: float
    advise: Callable[[float], Words]
    refused: str = ""
    hardly: str = "it passes"
    wanted: Situation | None = None
    spare: bool = True
    wanted_to_spare: Situation | None = None


def judge_passing(row: OpeningRow, told: ToldPassing) -> Finding | None:
    """Return what is wrong with an opening, stretched: what must pass doesn't, or has next to nothing to spare."""
    if row.must_pass <= 0.0:
        return None
    if row.reach < row.must_pass - TOLERANCE.sewn_length:
        return _refuse(row, told)
    spare = wanted_spare(row.must_pass)
    if not told.spare or row.reach >= row.must_pass + spare - TOLERANCE.sewn_length:
        return None
    return Finding(
        "openings.spare",
        Severity.NOTE,
        told.place,
        row.reach,
        row.must_pass + spare,
        say(
            f"the {{called}} opens to {{reach}}, and {{passing}}, {{must_pass}}, must pass: {told.hardly} with next to "
            "nothing to spare",
            called=told.called,
            reach=tape(row.reach),
            passing=row.passing,
            must_pass=tape(row.must_pass),
        ),
        told.advise(spare),
        wanted=told.wanted_to_spare,
    )


def _refuse(row: OpeningRow, told: ToldPassing) -> Finding:
    return Finding(
        "openings.pass",
        Severity.WARNING if row.reach >= told.least - TOLERANCE.sewn_length else Severity.ERROR,
        told.place,
        row.reach,
        row.must_pass,
        say(
            "the {called} measures {length}; stretched by {stretch} it reaches {reach}, and {passing}, {must_pass}, "
            f"must pass{told.refused}",
            called=told.called,
            length=tape(row.length),
            stretch=show_share(row.stretch),
            reach=tape(row.reach),
            passing=row.passing,
            must_pass=tape(row.must_pass),
        ),
        told.advise(0.0),
        wanted=told.wanted,
    )


def kind_of(garment: Garment, opening: str) -> OpeningKind | None:
    """Return what an opening of that name ("neck", "wrist-left") is; None where neither engine nor a block says so."""
    name = sideless(opening)
    return next((kind for kind in (*OWN_OPENINGS, *garment.opening_kinds) if kind.name == name), None)


def _pass_neck(garment: Garment, brief: Brief) -> Passing:
    head = brief.body["head_girth"]
    return Passing("the head", head, head)


def _lower_neck(tight: Tight) -> Words:
    if tight.woven:
        return ""
    pointed = tight.edge == OUTER_EDGE and any(seam.kind.mitred for seam in tight.garment.seams)
    lower = about(tight.short / (GROWS_LOWERED_POINT if pointed else GROWS_LOWERED))
    return say("lower the front neckline by about {lower}", lower=lower)


def _pass_wrist(garment: Garment, brief: Brief) -> Passing:
    hand = brief.body["hand_girth"]
    return Passing("the hand with its thumb", hand_passage(hand), hand)


def _widen_wrist(tight: Tight) -> Saying:
    """Where a sleeve ends in a cuff or a band, that is made wider; else its own lower edge is."""
    lines = (line for piece in tight.garment.pieces for line in piece.lines(role=Role.EDGE))
    if any(line.opening == tight.opening for line in lines):
        return say("make the cuff about {short} wider at the wrist", short=about(tight.short))
    says = "make the sleeve about {short} wider at its lower edge, by its lower_edge_ease"
    return say(says, short=about(tight.short))


def _pass_armhole(garment: Garment, brief: Brief) -> Passing:
    arm = brief.body["armscye_girth"]
    return Passing("the arm", arm, arm)


def _lower_armhole(tight: Tight) -> Words:
    return say("lower the armhole by about {short}", short=about(tight.short / 2.0))


def _pass_waist(garment: Garment, brief: Brief) -> Passing:
    hip = brief.body["hip_girth"]
    return Passing("the hips", hip, hip)


def _pass_hem(garment: Garment, brief: Brief) -> Passing | None:
    """A top is drawn over the bust; one that covers the hip must reach round it too."""
    if _stepped_into(garment):
        return None
    bust, hip = brief.body["bust_girth"], brief.body["hip_girth"]
    covers = any(level.name == "hip" for piece in garment.pieces for level in piece.levels)
    return (
        Passing("the hips", hip, hip)
        if covers and hip > bust
        else Passing(f"the {brief.body.called.get('bust', 'bust')}", bust, bust)
    )


def _stepped_into(garment: Garment) -> bool:
    """Whether the garment is stepped into or put on as a coat is: its hem then lets nothing pass.

    So is a skirt, a dress with a zip, and what is open from its neck right down.
    """
    parted = any(opening.joined for opening in glue(garment).openings)
    return "waist" in garment.openings or parted or opens_waist(garment)


def _add_at_waist(tight: Tight) -> Words:
    return "" if tight.woven else _add_at_hem(tight)


def _add_at_hem(tight: Tight) -> Words:
    if not tight.woven:
        return say("add about {short} at the hem, draw it in less", short=about(tight.short))
    closed = {closure.place for closure in tight.garment.closures}.intersection(HEM.closed_at)
    return "" if closed else say("add about {short} at the hem", short=about(tight.short))


def _pass_nothing(garment: Garment, brief: Brief) -> None:
    return None


HEM: Final = OpeningKind("hem", _pass_hem, _add_at_hem, ("left", "right"), spare=False)
"""The lower edge; one that is worn on the hips needs nothing to spare."""

OWN_OPENINGS: Final = (
    OpeningKind("neck", _pass_neck, _lower_neck, ("back",)),
    OpeningKind("wrist", _pass_wrist, _widen_wrist),
    OpeningKind("armhole", _pass_armhole, _lower_armhole),
    OpeningKind("waist", _pass_waist, _add_at_waist, ("back", "left", "right")),
    HEM,
    OpeningKind("placket", _pass_nothing),
)
"""The openings of the engine's own blocks, and what a closure between two seams opens. A closure down the back opens a
neck or a waist, one at a side a hem."""


def advise_room(row: OpeningRow, tight: Tight, kind: OpeningKind) -> Words:
    """Return what would let what must pass through an opening: it is made larger, or its cloth stretches more."""
    widened = kind.widen(tight)
    if tight.woven:
        return widened
    wanted = f"{math.ceil(round((row.must_pass / row.length - 1.0) * 20.0, 6)) * 5} %" if row.length else "more"
    cloth = "a band cloth" if row.edge == OUTER_EDGE else "a cloth"
    says = "{widened}, or use {cloth} with {wanted} stretch" if widened else "use {cloth} with {wanted} stretch"
    return say(says, **({"widened": widened} if widened else {}), cloth=cloth, wanted=wanted)
