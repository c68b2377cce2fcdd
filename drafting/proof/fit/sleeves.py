"""The sleeves against the arms: the cap for its armhole, the elbow, and the room at elbow, forearm and lower edge.

figure                        usual                                          source
cap, height / armhole         a third fitted, a quarter shirt, a fifth tee   Baldt 1916 for the shirt's
cap, longer than the armhole  woven 1.3 to 3.8 cm, 7 % of it at most, more   textbooks, as quoted; shares
                              is told, over 8 % warned of; a shirt's 1.3 to  from memory
                              1.9, knit 0 to 1.3
length from the shoulder      1.5 cm more or less than the arm, or than        common practice
point                         what a design or a change asks for
set in from the shoulder      4 cm at most                                     from memory
edge of a knit's short        as the arm there close, else 1 cm over it      from memory
sleeve                        at least
lower edge beside an elbow    5 cm wider than the hand at most               from memory
dart
elbow dart                    6 to 8 cm long, 1.5 to 2.5 cm wide             common practice
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from drafting.cloth import Fit, Kind, ease_for
from drafting.garment import Brief, Fate, Garment, Piece, Role, Side
from drafting.garment.darts import Dart, darts_of, intake
from drafting.garment.departures import sum_departures
from drafting.garment.features import SleeveCap
from drafting.garment.ruled import SLEEVE_LENGTH, list_ruled
from drafting.garment.sleeves import SleeveTaken, take_sleeve, width_at
from drafting.mending import Situation, situation
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.proof.lengths import cuff_height
from drafting.redraw.sleeves import (
    ELBOW_DART_SHARE,
    ELBOW_DART_WIDE,
    FOREARM,
    arm_girth,
    arm_length,
    elbow_depth,
    shoulder_inset,
    shoulder_point_height,
)
from drafting.saying import Words, about, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

CAP_SHARE_OFF = {
    Kind.WOVEN: TradeValue(0.02, "share", "from memory"),
    Kind.KNIT: TradeValue(0.05, "share", "from memory", "a knit gives where its cap is low"),
}
"""Of the armhole by which a cap may be higher or lower than its kind."""

CAP_LONGER = {
    Kind.WOVEN: trade_row((13.0, 38.0), "mm", "from memory", "1/2 in of shirts to 1 1/2 in"),
    Kind.KNIT: trade_row((0.0, 13.0), "mm", "from memory", "0 to 1/2 in"),
}
"""By which a cap is longer than its armhole, at least and at most; never shorter."""

SHIRT_CAP_LONGER = trade_row((13.0, 19.0), "mm", "from memory", "1/2 to 3/4 in of shirts and blouses")
"""The same of a woven's shirt cap."""

USUALLY_EASED, MOST_EASED = trade_row((0.07, 0.08), "share", "from memory", "4 to 7 % in most wovens")
"""Of the armhole by which a cap is longer at most as a rule, and at most at all: more can't be eased in without
puckers."""

LOWERED_FOR_CAP = TradeValue(500.0, "mm", "derived", "1 cm for 2 % on women of 36 to 42 in bust")
"""By which an underarm is lowered for a cap to be higher by a whole armhole: its armhole grows with it."""

ELBOW_OFF = TradeValue(20.0, "mm", "from memory")
"""By which the elbow dart may miss the elbow: a bent arm's lies lower than a hanging one's."""

LENGTH_OFF = TradeValue(15.0, "mm", "common practice")
"""By which a sleeve drawn to the arm's length may be longer or shorter: one with an elbow dart follows the bent arm."""

PAST_WRIST = TradeValue(80.0, "mm", "from memory", "to the knuckles; a hand is 17 to 20 cm long")
"""By which a sleeve may reach past the wrist, unwarned."""

MOST_SET_IN = TradeValue(40.0, "mm", "from memory", "1 to 2 cm under a puffed cap, 3 to 4 cut in")
"""By which a sleeve may be set in from the shoulder point, unwarned: farther in, its seam lies on the chest."""

DART_LONG = trade_row((60.0, 80.0), "mm", "common practice")
"""How long an elbow dart is, at least and at most; never more than a quarter of the sleeve's width there."""

ARM_ROOM = trade_table({"elbow": 20.0, "forearm": 5.0, "edge": 10.0}, "mm", "from memory")
"""By which a woven sleeve is wider than the arm at least: a bent elbow is thicker than a straight one."""

BEYOND_HAND = TradeValue(50.0, "mm", "from memory", "the hand and 2 to 4 cm")
"""By which the lower edge of a woven sleeve with an elbow dart is wider than the hand at most, untold: a wider one
hangs as a tube, whatever its elbow does."""

KNIT_TIGHTER = TradeValue(0.10, "share", "from memory", "5 to 10 % of hugging knits")
"""Of the arm's girth by which a knit sleeve may be narrower."""


UNFELT_EDGE = TradeValue(2.0, "mm", "from memory", "a hem gives so much unfelt")
"""By which such an edge may be narrower, untold."""

SHORT_EDGE = trade_table(
    {Fit.CLOSE: 0.0, Fit.SEMI: 10.0, Fit.RELAXED: 10.0}, "mm", "from memory", "1 to 2 cm, a close one as the arm"
)
"""By which a knit sleeve that ends above the elbow is wider there than the arm, at least: or no narrower beside it than
the fit has it over the upper arm. The muscle moves there, and a hem that is narrower rolls up."""


def sleeve_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The figures of each set-in sleeve."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_sleeve(garment, side)
        if taken is not None:
            top = shoulder_point_height(garment, taken, side)
            yield from _length(garment, taken, top, side, brief)
            yield from _set_in(shoulder_inset(garment, side), side)
            yield from _cap(garment, taken, side, brief)
            yield from _elbow_darts(taken, top, side, brief)
            yield from _widths(taken, top, side, brief)


def _length(garment: Garment, taken: SleeveTaken, top: float, side: Side, brief: Brief) -> Iterator[FitRow]:
    """How long a sleeve is from the body's shoulder point, its cuff counted: as the arm, or as a change asks."""
    asked = list_ruled(garment, SLEEVE_LENGTH, side)
    edges = taken.piece.lines(role=Role.WRIST)
    if not asked or len(edges) != 1:
        return
    darts = darts_of(taken.piece)
    edge = edges[0].path.start.to(edges[0].path.end, 0.5)
    cuff, arm = cuff_height(garment, taken.piece), arm_length(brief, bool(darts))
    length = top - edge.y + cuff
    title = "{side} sleeve, shoulder point to its lower edge"
    yield FitRow(
        "sleeve_length",
        f"sleeve-{side}",
        say(f"{title}, its cuff with it" if cuff else title, side=side),
        arm,
        length,
        0.0 if asked[-1].source == "body" else asked[-1].value + cuff - arm,
        least=-LENGTH_OFF,
        most=LENGTH_OFF,
        severity=Severity.WARNING,
        remedy=Retake(("outer_arm_length", "straight_arm_length"), "{again}, or give the sleeve its length"),
    )
    if length > arm + PAST_WRIST:  # whatever was asked: a figure of another unit, or a misplaced point
        yield FitRow(
            "sleeve_past_wrist",
            f"sleeve-{side}",
            say("{side} sleeve, past the wrist", side=side),
            0.0,
            length - arm,
            most=PAST_WRIST,
            severity=Severity.WARNING,
            remedy="look whether its length is what was meant",
            of_body=False,
        )


def _set_in(inset: float, side: Side) -> Iterator[FitRow]:
    """How far in from the shoulder point a sleeve is set, where a change has moved it."""
    if inset:
        yield FitRow(
            "sleeve_set_in",
            f"sleeve-{side}",
            say("{side} sleeve, set in from the shoulder point", side=side),
            0.0,
            inset,
            most=MOST_SET_IN,
            severity=Severity.WARNING,
            remedy="narrow the shoulder less, or leave the sleeve out",
            of_body=False,
        )


def _cap(garment: Garment, taken: SleeveTaken, side: Side, brief: Brief) -> Iterator[FitRow]:
    place = f"armhole-{side}"
    meant = sum_departures(garment, "cap_height", side.value)
    inset, plain = shoulder_inset(garment, side), taken.share - meant
    if inset:  # what the shoulder loses is the cap's, beyond its kind's share of the rest
        meant += plain - (plain * taken.armhole - inset) / (taken.armhole - inset)
    kind = brief.cloth_named(taken.piece.cloth).kind
    for cap in taken.piece.of_kind(SleeveCap):
        yield FitRow(
            "cap_height",
            place,
            say("{side} cap, height as a share of the armhole", side=side),
            min(max(taken.share - meant, cap.low), cap.high),
            taken.share,
            meant,
            -CAP_SHARE_OFF[kind],
            CAP_SHARE_OFF[kind],
            "share",
            Severity.NOTE,
            _advise_cap(taken.share - meant, cap),
            _mend_low(cap.low - CAP_SHARE_OFF[kind] - (taken.share - meant)),
            chief=True,
            of_body=False,
        )
    shirt = kind is Kind.WOVEN and any(cap.kind == "shirt" for cap in taken.piece.of_kind(SleeveCap))
    row = SHIRT_CAP_LONGER if shirt else CAP_LONGER[kind]
    least, most = float(row[0]), min(row[1], USUALLY_EASED * taken.armhole)
    title = say("{side} cap, longer than its armhole", side=side)
    meant, severity = sum_departures(garment, "cap_ease", side.value), Severity.WARNING
    if taken.ease < -TOLERANCE.sewn_length:
        severity = Severity.ERROR
    elif most < taken.ease - meant <= min(CAP_LONGER[kind][1], MOST_EASED * taken.armhole):
        severity = Severity.NOTE
    remedy = "give the cap another ease: cap_ease of the sleeve"
    yield FitRow(
        "cap_ease",
        place,
        title,
        0.0,
        taken.ease,
        meant,
        least,
        most,
        severity=severity,
        remedy=remedy,
        chief=True,
        of_body=False,
    )


def _advise_cap(share: float, cap: SleeveCap) -> str:
    if share < cap.low:
        return "leave it if the toile's sleeve hangs well: a lower cap lets the arm rise farther"
    return "the armhole is large for this arm: raise the underarm, or give the sleeve more upper_arm_ease"


def _mend_low(short: float) -> Situation | None:
    """What mends a cap that is short of its least share of the armhole; None where it isn't."""
    by = math.ceil(short * LOWERED_FOR_CAP - TOLERANCE.same_point)  # rounded down it would be short still
    return situation("cap-low", by=about(by)) if short > 0.0 else None


def _elbow_darts(taken: SleeveTaken, top: float, side: Side, brief: Brief) -> Iterator[FitRow]:
    for dart in darts_of(taken.piece):
        middle, place = dart.mouth_a.to(dart.mouth_b, 0.5), f"{taken.piece.name}.{dart.seam}"
        depth = elbow_depth(brief, bent=True)
        yield FitRow(
            "elbow_level",
            place,
            say("{side} elbow dart, below the shoulder", side=side),
            depth,
            top - middle.y,
            least=-ELBOW_OFF,
            most=ELBOW_OFF,
            severity=Severity.WARNING,
            remedy="change the sleeve's length below its elbow only",
        )
        yield from _dart_size(taken.piece, dart, middle.y, place, side)


def _dart_size(sleeve: Piece, dart: Dart, y: float, place: str, side: Side) -> Iterator[FitRow]:
    wide, long = intake(dart), dart.mouth_a.to(dart.mouth_b, 0.5).distance(dart.point)
    across = width_at(sleeve, y) or 0.0
    longest = min(DART_LONG[1], ELBOW_DART_SHARE * across + TOLERANCE.sewn_length)
    titles = say("{side} elbow dart, what it takes in", side=side), say("{side} elbow dart, length", side=side)
    yield _size("elbow_dart_width", place, titles[0], wide, *ELBOW_DART_WIDE)
    yield _size("elbow_dart_length", place, titles[1], long, min(DART_LONG[0], longest), longest)


def _size(name: str, place: str, title: Words, got: float, least: float, most: float) -> FitRow:
    """What a dart was drawn with, between what the trade lets be."""
    return FitRow(
        name,
        place,
        title,
        got,
        got,
        least=least - got,
        most=most - got,
        of_body=False,
        severity=Severity.WARNING,
        remedy="let the sleeve be drawn by rule, or be straight",
    )


def _widths(taken: SleeveTaken, top: float, side: Side, brief: Brief) -> Iterator[FitRow]:
    """The room at the elbow, at the thickest place of the forearm, and at a lower edge that is hemmed."""
    bent = bool(darts_of(taken.piece))
    whole, elbow = arm_length(brief, bent), elbow_depth(brief, bent)
    forearm = elbow + (1.0 - FOREARM[0]) * (whole - elbow)
    for name, depth in (("elbow", elbow), ("forearm", forearm)):
        width = width_at(taken.piece, top - depth)
        if width is not None:
            yield _width(taken.piece, name, side, brief, arm_girth(brief, whole - depth), width)
    edges = taken.piece.lines(role=Role.WRIST)
    if len(edges) == 1 and edges[0].fate is Fate.HEMMED:
        path = edges[0].path
        above = max(whole - top + path.start.to(path.end, 0.5).y, 0.0)
        row = _width(taken.piece, "edge", side, brief, arm_girth(brief, above), path.length)
        knit = brief.cloth_named(taken.piece.cloth).kind is Kind.KNIT
        yield replace(row, least=_least_short(brief)) if knit and above > whole - elbow else row
        if bent and brief.cloth_named(taken.piece.cloth).kind is Kind.WOVEN and "hand_girth" in brief.body.values:
            yield _beyond_hand(brief.body["hand_girth"], path.length, side)


def _least_short(brief: Brief) -> float:
    """By how much (mm) the edge of a knit's short sleeve is wider than the arm there at least."""
    asked = ease_for(brief.fit, brief.cloth, brief.body).upper_arm
    return min(SHORT_EDGE[brief.fit], asked) - UNFELT_EDGE


def _beyond_hand(hand: float, width: float, side: Side) -> FitRow:
    """How wide a fitted sleeve's lower edge is beside the hand that it passes."""
    return FitRow(
        "sleeve_edge_hand",
        f"sleeve-{side}",
        say("{side} sleeve, lower edge beside the hand", side=side),
        hand,
        width,
        most=BEYOND_HAND,
        severity=Severity.NOTE,
        remedy="give the sleeve less lower_edge_ease, or choose a closer fit",
    )


_WIDTH_TITLES = {
    "elbow": "{side} sleeve, round the elbow",
    "forearm": "{side} sleeve, round the forearm",
    "edge": "{side} sleeve, lower edge round the arm",
}


def _width(sleeve: Piece, name: str, side: Side, brief: Brief, girth: float, width: float) -> FitRow:
    woven = brief.cloth_named(sleeve.cloth).kind is Kind.WOVEN
    return FitRow(
        f"sleeve_{name}",
        f"sleeve-{side}",
        say(_WIDTH_TITLES[name], side=side),
        girth,
        width,
        least=ARM_ROOM[name] if woven else -KNIT_TIGHTER * girth,
        severity=Severity.WARNING,
        remedy="make the sleeve wider: upper_arm_ease or lower_edge_ease of the sleeve",
    )
