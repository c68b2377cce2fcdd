"""Levels of the garment against the body's: bust points, waist and hip below the nape."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.garment import Brief, BustPoint, Face, Garment, level_heights
from drafting.garment.departures import sum_departures
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.trade import TradeValue

LEVEL_OFF = TradeValue(10.0, "mm", "common practice")
"""By which a level of the garment may miss the body's: what two tapings of one length differ by."""


def level_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The waist and the hip on each face, below the nape; of one that is bent, the height nearest to the body's."""
    yield from _bust_points(garment, brief)
    waist = brief.body["back_neck_point_to_waist"]
    below = {"waist": waist, "hip": waist + brief.body["waist_to_hip"]}
    for (name, face), (low, high) in level_heights(garment).items():
        if name in below:
            by = sum_departures(garment, name, face.value)
            nearest = min(max(below[name] + by, -high), -low)
            title = say("{face} {level} below the nape", level=name, face=face)
            yield FitRow(
                "level", f"{name} of the {face}", title, below[name], nearest, by, -LEVEL_OFF, LEVEL_OFF, chief=True
            )


def _bust_points(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """Where the marked bust points lie, told: the draft takes them from the side neck, the body's height may differ.

    The bust lines of a darted bodice say less: they run down to where the bust dart's lower leg meets the side.
    """
    own = brief.body["back_neck_point_height"] - brief.body["bust_point_height"]
    marks = [mark.at for piece in garment.pieces if piece.face is Face.FRONT for mark in piece.of_kind(BustPoint)]
    if marks:
        lowest = max(-at.y for at in marks)
        yield FitRow("bust_level", "bust of the front", "bust points below the nape", own, lowest)
