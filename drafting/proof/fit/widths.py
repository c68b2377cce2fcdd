"""Widths of the garment against the body's and the ease that its fit asks for, whatever rule made them wider."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from statistics import fmean
from types import MappingProxyType
from typing import Final

from drafting.cloth import Fit, ease_for, share_drawn_in
from drafting.garment import Aim, Brief, Face, Garment, Girth, Piece, Role, Side, Width, hanging_pieces
from drafting.garment.armholes import take_armhole
from drafting.garment.departures import sum_departures
from drafting.garment.features import BustPoint
from drafting.garment.ruled import ACROSS_GIVEN, sum_ruled
from drafting.mending import situation
from drafting.proof.checks.ease import latest_aims, measure_garment
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow, note_hair
from drafting.saying import about, say
from drafting.sides import sideless
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

OVER = trade_table(
    {"bust": 100.0, "waist": 100.0, "hip": 100.0, "upper_arm": 120.0}, "mm", "from memory", "fits lie 25 to 75 mm apart"
)
"""By which a girth may have more ease than the fit asks for: farther, and it is no longer that fit nor the next."""

WIDER_SLEEVE = TradeValue(30.0, "mm", "from memory", "a tee's sleeve is 5 to 8 cm wider than the arm")
"""By which a sleeve may be wider over the upper arm than its fit asks, unwarned: a cap that is as high as any takes it
in no farther."""

MOST_OVER_ARM = trade_table(
    {Fit.CLOSE: 35.0, Fit.SEMI: 60.0, Fit.RELAXED: 90.0}, "mm", "from memory", "a tee's sleeve 5 to 8 cm over the arm"
)
"""By which a knit's sleeve may be wider than the arm, in a note: its cap is no higher for it."""

RAISED_FOR_SLEEVE = TradeValue(0.7, "times", "derived", "on a knit overlay top whose shoulder is narrowed")
"""Of what a sleeve is too wide for its long armhole, by which the underarm is raised for that."""

LOOSER = TradeValue(30.0, "mm", "from memory", "fits lie 25 to 75 mm apart")
"""By which the bust of a woven may have more ease than the fit asks, unwarned: more is the next looser fit's."""

KNIT_LOOSER, HALF_A_FIT = trade_row(
    (15.0, 45.0), "mm", "from memory", "a close knit's and a semi-fitted's lie 9 cm apart"
)
"""By which the bust of a knit may have more ease than the fit asks, unsaid, and in a note."""

KNIT_FIT_MISSED = Retake(
    ("upper_arm_girth", "across_back_width", "shoulder_length", "shoulder_slope"),
    "the fit asked for isn't reached: square or broad shoulders, a broad back or thick arms wanted the room in the "
    "armholes: {again}; if they are right, a cloth that stretches more can be fitted closer",
)
"""What to do about a knit that is looser round the bust than its fit asks."""

ARM_AND_BACK = ("upper_arm_girth", "across_back_width")
"""What decides how much room the armholes want."""

FIT_MISSED = Retake(
    ARM_AND_BACK,
    "the fit asked for isn't reached: the arms are thick, or the back is broad, for this bust, and the armholes need "
    "the room: {again}; a cloth that stretches can be fitted closer",
)

UNDER = TradeValue(30.0, "mm", "from memory")
"""By which it may have less: what the fit asks is hardly more than this in most."""

WOVEN_WAIST = TradeValue(10.0, "mm", "from memory")
"""Of ease at least at the waist of what isn't drafted to stretch: one bends and breathes in it."""

BACK_OVER, BACK_UNDER = TradeValue(30.0, "mm", "from memory"), TradeValue(20.0, "mm", "from memory")
"""By which an across back may be wider or narrower than the fit asks, unwarned: 1 to 1.5 cm at each armhole."""


BACK_BARELY = TradeValue(10.0, "mm", "from memory", "two tapings differ by 1 cm")
"""By which a knit's across back may be narrower than the body's, unsaid; as much again is noted."""

BACK_DRAWN_IN = TradeValue(0.08, "share", "from memory", "5 to 8 % in a close jersey")
"""Of the body's, by which a close knit's may be narrower, or by the share that its bust is drawn in."""

KNIT_BACK_NARROW = Retake(
    ("across_back_width", "shoulder_length", "upper_arm_girth"),
    "{again}: a back far broader than its shoulders, or thick arms, leave it narrower; if all are right, choose a "
    "looser fit, or widen the back by the change that a broad back has",
)

STRETCHED_AT_REST = TradeValue(0.5, "share", "from memory", "the rest is for the arms to reach forward")
"""Of its cloth's stretch that a knit's across back takes up at rest at most."""

BACK_TOO_NARROW = Retake(
    ARM_AND_BACK,
    "the arms are thick for this back and took the room: {again}; if both are right, choose a looser fit, or widen the "
    "back by the change that a broad back has",
)
"""What to do about a woven's across back that lies under the body's."""

FRONT_OVER, FRONT_UNDER = TradeValue(30.0, "mm", "from memory"), TradeValue(20.0, "mm", "from memory")
"""By which an across front that was measured may be wider or narrower than the body's, unsaid."""

GIVES_TO_ARM = TradeValue(45.0, "mm", "from memory", "2 cm are hardly felt in a knit, from 4 on it pulls")
"""By which a knit's may be narrower and be told in a note: from there on it is warned of."""

FRONT_TOLD = TradeValue(10.0, "mm", "common practice", "1 cm")
"""By which a woven's across front may lie under one that was estimated, untold."""

BARE_NARROWER = TradeValue(20.0, "mm", "from memory", "0.5 to 1 cm at each armhole")
"""By which a sleeveless woven is narrower across the front: its armholes lie inside a sleeved one's."""

FRONT_TOO_NARROW = Retake(
    ("across_front_width", "across_back_width"),
    "{again}: a front is drawn hardly wider than its back, or than its shoulders end. If both are "
    "right, look on the toile whether it pulls across the chest",
)

FRONT_TOO_WIDE = Retake(
    ("across_front_width", "across_back_width"),
    "{again}: so much narrower than the back no front can be drawn. If "
    "both are right, take it in at the armhole on the toile",
)
"""What to do about an across front that couldn't be followed."""


def width_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The girths and the across back that the garment is to have, and its across front, taken on the pieces."""
    yield from _girths(garment, brief)
    yield from _bust_at_underarm(garment, brief)
    across = measure_garment(garment, Width("across-front"))
    if across is not None:
        yield note_hair(_across_front(garment, brief, across))


def _across_front(garment: Garment, brief: Brief, across: float) -> FitRow:
    """The across front beside the body's: held to it where it was measured, a close knit's less what it is drawn in by.

    A knit gives a little, whatever of it the arm's room took; farther it is told. One that was estimated is told of in
    a shaped woven where the front lies under it by more than a little. One whose armholes a change cuts in is as much
    narrower as that means it to be.
    """
    measured, own = "across_front_width" in brief.body.given, brief.body["across_front_width"]
    stretches = garment.needs.stretch > 0.0
    drawn_in = share_drawn_in(brief.fit, brief.cloth, brief.body) * own if stretches else 0.0
    cut_in = sum(sum_departures(garment, "across", f"{Face.FRONT}-{side}") for side in (Side.LEFT, Side.RIGHT))
    meant = cut_in - drawn_in
    least, most = -FRONT_UNDER - _bare_narrower(garment), max(FRONT_OVER, -meant)
    shaped = any(piece.of_kind(BustPoint) for piece in garment.pieces)
    told = shaped and not measured and not stretches
    if told:
        least = -FRONT_TOLD - _bare_narrower(garment)
    given = stretches and meant - GIVES_TO_ARM <= across - own < meant
    return FitRow(
        "across_front_width",
        "across-front",
        "across front",
        own,
        across,
        meant,
        least if measured or told else None,
        most if measured or told else None,  # none that isn't wider than the body is told to be too wide
        severity=Severity.NOTE if told or given else Severity.WARNING,
        remedy=FRONT_TOO_NARROW if across < own else FRONT_TOO_WIDE,
    )


def _girths(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    fit = ease_for(brief.fit, brief.cloth, brief.body).figures()
    for aim in latest_aims(garment.aims):
        finished = measure_garment(garment, aim.measure, aim.side)
        place = sideless(aim.measure.name).replace("-", "_")
        if finished is None or place not in fit:
            continue
        asked = fit[place]
        if place == "upper_arm":
            yield _sleeve(aim, finished, asked, MOST_OVER_ARM[brief.fit] if garment.needs.stretch > 0.0 else 0.0)
        elif isinstance(aim.measure, Girth) and place in OVER:
            least = asked - UNDER
            if place == "waist" and garment.needs.stretch <= 0.0:
                least = max(least, min(WOVEN_WAIST, asked))
            row = _row(aim, place, finished, least, asked + OVER[place], Severity.ERROR)
            looser = (
                place == "bust" and garment.needs.stretch <= 0.0 and asked + LOOSER < row.off <= asked + OVER[place]
            )
            if place == "bust" and garment.needs.stretch > 0.0:
                yield _knit_bust(row, asked)
            else:
                yield replace(row, most=asked + LOOSER, severity=Severity.WARNING, remedy=FIT_MISSED) if looser else row
        elif isinstance(aim.measure, Width):
            yield _across_back(garment, brief, aim, finished, asked)


def _knit_bust(row: FitRow, asked: float) -> FitRow:
    """A knit's bust: looser than its fit asks where back or arms wanted the room, half a fit is warned of."""
    over = row.off - asked
    if over > OVER["bust"]:
        return row
    severity = Severity.WARNING if over > HALF_A_FIT else Severity.NOTE
    return replace(row, most=asked + KNIT_LOOSER, severity=severity, remedy=KNIT_FIT_MISSED) if over > 0.0 else row


def _bust_at_underarm(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """A knit's bust where its armholes reach below the bust's level: taken round the garment at the underarm.

    A side hardly leans between them. What a ticket means the ease to be isn't known there any more: no error is made.
    """
    if garment.needs.stretch <= 0.0 or measure_garment(garment, Girth("bust")) is not None:
        return
    hanging, around = hanging_pieces(garment), 0.0
    for piece in garment.pieces:
        if piece.name not in hanging and piece.lines(role=Role.SIDE):
            ends = [p.y for line in piece.lines(role=Role.ARMHOLE) for p in (line.path.start, line.path.end)]
            around += _width_at(piece, min(ends) - TOLERANCE.sewn_length) if ends else 0.0
    if around > 0.0:
        asked = ease_for(brief.fit, brief.cloth, brief.body).bust
        title = say("{bust}, at the underarm", bust=brief.body.called.get("bust", "bust"))
        own, most = brief.body["bust_girth"], asked + OVER["bust"]
        row = FitRow(
            "bust_width", "girth:bust", title, own, around, 0.0, asked - UNDER, most, severity=Severity.WARNING
        )
        yield _knit_bust(replace(row, severity=Severity.WARNING), asked)


def _width_at(piece: Piece, y: float) -> float:
    """How wide (mm) a piece is at a height."""
    across = [piece.outline.at(s).x for s in piece.outline.cross_level(y)]
    return max(across) - min(across) if across else 0.0


def _across_back(garment: Garment, brief: Brief, aim: Aim, finished: float, asked: float) -> FitRow:
    """The across back: of a woven never under the body's, whatever a rule took of it for the arm's room."""
    if garment.needs.stretch > 0.0:
        return _knit_back(brief, aim, finished, asked)
    row = _row(aim, "across_back", finished, asked - BACK_UNDER, asked + BACK_OVER, Severity.WARNING)
    taken = fmean(sum_ruled(garment, ACROSS_GIVEN, side) for side in (Side.LEFT, Side.RIGHT))
    if row.least is None or taken <= row.least:
        return row
    return replace(row, least=taken, remedy=BACK_TOO_NARROW) if row.off < taken else replace(row, least=taken)


def _knit_back(brief: Brief, aim: Aim, finished: float, asked: float) -> FitRow:
    """A knit's across back: as wide as the body's, whatever a rule took of it; a close one's less what it is drawn in.

    Under that by little it is noted, but where half of the cloth's stretch is taken up at rest.
    """
    share = share_drawn_in(brief.fit, brief.cloth, brief.body)
    least = -max(share, BACK_DRAWN_IN) * aim.body if share > 0.0 else -float(BACK_BARELY)
    farthest = aim.body / (1.0 + STRETCHED_AT_REST * brief.cloth.stretch_across) - aim.body
    row = _row(aim, "across_back", finished, least, asked + BACK_OVER, Severity.WARNING)
    if row.off >= least:
        return row
    noted = row.off >= max(least - BACK_BARELY, farthest)
    return replace(row, severity=Severity.NOTE if noted else Severity.WARNING, remedy=KNIT_BACK_NARROW)


def _bare_narrower(garment: Garment) -> float:
    """By how much (mm) a garment's front may be narrower for it to have no sleeves: a woven's."""
    bare = any(taken is not None and taken.bare for taken in (take_armhole(garment, side) for side in Side))
    return float(BARE_NARROWER) if bare and garment.needs.stretch <= 0.0 else 0.0


def _sleeve(aim: Aim, finished: float, asked: float, noted: float) -> FitRow:
    """Over the upper arm: a sleeve that is wider than its fit asks, for its armhole is long for the arm.

    One up to ``noted`` (mm) wider than the arm is noted.
    """
    over = finished - aim.body - aim.meant - asked
    severity = Severity.ERROR if over > OVER["upper_arm"] or over < -UNDER else Severity.WARNING
    if WIDER_SLEEVE < over <= noted - asked:
        severity = Severity.NOTE
    row = _row(aim, "upper_arm", finished, asked - UNDER, asked + WIDER_SLEEVE, severity)
    if severity is Severity.ERROR:
        return row
    by = math.ceil((over - WIDER_SLEEVE) * RAISED_FOR_SLEEVE)
    remedy = say(
        'say how much wider than the arm the sleeve may be: upper_arm_ease = "{ease}" of the sleeve',
        ease=about(finished - aim.body),
    )
    return replace(row, remedy=remedy, wanted=situation("armhole-long", by=about(by)) if by > 0 else None)


_DRAFTED_FROM: Final = MappingProxyType(
    {
        "across_back": ("across_back_width", "shoulder_length", "bust_girth"),
        "across_front": ("across_front_width", "shoulder_length", "bust_girth"),
        "upper_arm": ("upper_arm_girth", "armscye_girth"),
        **{place: (f"{place}_girth",) for place in ("bust", "waist", "hip")},
    }
)
"""By the place of a width the measurements that it is drafted from."""

DRAWN_BY_RULE = (
    "{again}; if they are right, look at this place on the toile: a rule has made it wider or narrower, for "
    "the sake of a measurement that doesn't go with it"
)
"""What to do about a width that a rule took from what was asked."""


def _row(aim: Aim, place: str, finished: float, least: float, most: float, severity: Severity) -> FitRow:
    return FitRow(
        f"{place}_width",
        str(aim.measure),
        aim.title,
        aim.body,
        finished,
        aim.meant,
        least,
        most,
        severity=severity,
        remedy=Retake(_DRAFTED_FROM[place], DRAWN_BY_RULE),
    )
