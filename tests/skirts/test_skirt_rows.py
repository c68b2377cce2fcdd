"""What the table of fit tells of a skirt: where its hem hangs, where its zip ends, and what its darts take in."""

from __future__ import annotations

import pytest

from drafting.body import make_body
from drafting.cloth import Fit
from drafting.garment import Face
from drafting.garment.darts import darts_of
from drafting.proof import Severity
from drafting.proof.fit.closures import closure_rows
from drafting.proof.fit.darts import dart_rows
from drafting.proof.fit.skirts import skirt_rows
from drafting.saying import render
from tests.skirts.dressed import skirt


@pytest.mark.parametrize("kind", ["skirt", "circle-skirt", "flared-skirt"])
def test_a_hem_is_taken_at_the_centre_along_the_fall(kind: str) -> None:
    """The side of a circle is turned outwards: its end says nothing of how long the skirt hangs."""
    garment, b = skirt([(kind, {"length": 600.0}), ("closure", {"place": "back"})])
    (hem,) = (row for row in skirt_rows(garment, b) if row.name == "skirt_hem")
    assert hem.garment == pytest.approx(600.0, abs=1.0)
    assert hem.body == pytest.approx(b.body["waist_height"] - b.body["knee_height"], abs=0.1)
    (end,) = closure_rows(garment, b)
    assert end.body == b.body["waist_to_hip"]
    assert all("below the waist" in render(row.title, "cm") for row in (hem, end))


FULL_SEAT = {"stature": 1680, "bust_girth": 960, "waist_girth": 760, "hip_girth": 1130, "back_neck_point_to_waist": 410}
"""Invented: a hip that is 37 cm more than the waist (mm)."""


@pytest.mark.parametrize("fit", list(Fit))
@pytest.mark.parametrize("voice", ["soprano", "alto", "full seat"])
def test_no_skirt_is_warned_of_its_own_darts(voice: str, fit: Fit) -> None:
    """None takes in more than 3.6 cm: over a full seat the back has three, and takes out its share."""
    body = make_body("full", FULL_SEAT, rules="women") if voice == "full seat" else voice
    garment, b = skirt(["skirt", ("closure", {"place": "back"})], body, fit=fit)
    assert not [row for row in (*skirt_rows(garment, b), *dart_rows(garment, b)) if row.beyond]
    backs = [dart for piece in garment.pieces if piece.face is Face.BACK for dart in darts_of(piece)]
    assert len(backs) == 6 or voice != "full seat"


def test_a_front_that_a_belly_leaves_no_dart_is_told() -> None:
    """As a note: with a waist of 88 % of the hip, or a belly of 94 % below it, the room is wanted."""
    for belly in ({"waist_girth": 890}, {"waist_girth": 840, "waist_girth_navel": 950}):
        body = make_body("belly", {**FULL_SEAT, "hip_girth": 1010, **belly}, rules="women")
        garment, b = skirt(["skirt"], body)
        told = [row for row in skirt_rows(garment, b) if row.beyond]
        assert {(row.name, row.garment, row.severity) for row in told} == {("skirt_front_darts", 0.0, Severity.NOTE)}


def test_a_skirt_dart_that_is_too_deep_is_warned_of() -> None:
    """Beyond 3.5 cm, and what a tape misses, a dart pokes out at its point (common practice)."""
    garment, b = skirt(["skirt"])
    rows = [row for row in dart_rows(garment, b) if row.name == "dart_intake"]
    assert rows
    assert {(round(row.bounds[1] or 0.0), row.severity) for row in rows} == {(36, Severity.WARNING)}
