"""Levels of the garment against the body's: bust points, waist and hip below the back neck point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.garment import Brief, BustPoint, Face, Garment, level_heights
from drafting.garment.departures import sum_departures
from drafting.mending import situation
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import Words, list_sayings, say, tape
from drafting.trade import TradeValue

LEVEL_OFF = TradeValue(10.0, "mm", "common practice")
"""By which a level of the garment may miss the body's: what two tapings of one length differ by."""

FAR_MOVED = TradeValue(50.0, "mm", "from memory")
"""By which a change may move a level without a warning: farther than the waist of one and the same person is sought."""

ELSEWHERE: Final = situation("level-off")
"""A waist or hip that lies elsewhere than the body's."""


def level_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The marked bust points, and the waist and the hip on each face."""
    yield from _bust_points(garment, brief)
    yield from _girth_levels(garment, brief)


def _girth_levels(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The waist and the hip below the back neck point; of one that is bent, the height nearest to the body's."""
    waist = brief.body["back_neck_point_to_waist"]
    below = {"waist": waist, "hip": waist + brief.body["waist_to_hip"]}
    for (name, face), (low, high) in level_heights(garment).items():
        if name in below:
            by = sum_departures(garment, name, face.value)
            nearest = min(max(below[name] + by, -high), -low)
            title = say("{face} {level} below the back neck point", level=name, face=face)
            row = FitRow("level", f"{name} of the {face}", title, below[name], nearest, by, -LEVEL_OFF, LEVEL_OFF)
            remedy = "leave out the change that moved it"
            yield replace(row, offence=_tell_off(row), remedy=remedy, wanted=ELSEWHERE, chief=True)


def _tell_off(row: FitRow) -> Words:
    says = "the {level} lies {off} {way} than the body's, and nothing in the ticket means it to"
    return say(says, level=row.place, off=tape(abs(row.off)), way="lower" if row.off > 0.0 else "higher")


def tell_moved_levels(garment: Garment, brief: Brief) -> Iterator[Finding]:
    """Tell of levels that changes moved: those that moved together once, by the first of them."""
    told: dict[float, list[FitRow]] = {}
    for row in _girth_levels(garment, brief):
        if row.meant:
            told.setdefault(round(row.meant, 1), []).append(row)
    for moved in told.values():
        first = moved[0]
        severity = Severity.WARNING if abs(first.meant) > FAR_MOVED else Severity.NOTE
        says = _moved_words([row.place for row in moved], first.meant)
        yield Finding("fit.level_moved", severity, first.place, first.meant, FAR_MOVED, says, wanted=ELSEWHERE)


def _moved_words(places: Sequence[str], by: float) -> Words:
    says = "the {places} {lie} {off} {way} than the body's, as a change means; ease is measured where {they} {lie} now"
    lie, they = ("lies", "it") if len(places) == 1 else ("lie", "they")
    all_places = list_sayings(places, last=" and the ", between=", the ")
    return say(says, places=all_places, lie=lie, they=they, off=tape(abs(by)), way="lower" if by > 0.0 else "higher")


def _bust_points(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """Where the marked bust points lie, told: the draft takes them from the side neck, the body's height may differ.

    The bust lines of a darted bodice say less: they run down to where the bust dart's lower leg meets the side.
    """
    own = brief.body["back_neck_point_height"] - brief.body["bust_point_height"]
    marks = [mark.at for piece in garment.pieces if piece.face is Face.FRONT for mark in piece.of_kind(BustPoint)]
    if marks:
        lowest = max(-at.y for at in marks)
        yield FitRow("bust_level", "bust of the front", "bust points below the back neck point", own, lowest)
