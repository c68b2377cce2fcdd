"""A full or small bust on a bodice to the hip: room at the bust, taken in by the waist dart, and none at the hip.

The slash through the bust point runs down through the waist dart and is closed before the hem (common practice in
pattern alteration): the paper is wider at the waist by what the dart then takes in, and hip and hem stay as they were.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from drafting.changes.design.lengthen import lengthen_body
from drafting.changes.fit.bust import fit_full_bust, fit_small_bust
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, Side, Step
from drafting.garment.darts import intake
from drafting.geometry import Path
from drafting.proof import Severity, prove
from tests.blocks_woven.people import bodice, brief_for, people, person
from tests.fit.fitted import TO_HIP, all_darts, bust_growth, dart, girth, new_errors, uneven_legs, woven, woven_brief

EVERY = range(5, len(people("women")), len(people("women")) // 12)
"""Twelve of the women of ANSUR 1988 (NATICK/TR-89/027), right through the survey."""

AMOUNTS: list[tuple[Step[Any], float]] = [(fit_full_bust, 15.0), (fit_full_bust, 30.0), (fit_small_bust, -6.0)]


def hems(garment: Garment, side: Side = Side.LEFT) -> float:
    """The length of the front's hem on one side (mm)."""
    return math.fsum(line.path.length for line in garment.piece("front").lines(role=Role.HEM, side=side))


def sides(garment: Garment, piece: str) -> float:
    """The length of a piece's left side seam (mm)."""
    return math.fsum(line.path.length for line in garment.piece(piece).lines(role=Role.SIDE, side=Side.LEFT))


@pytest.mark.parametrize("number", EVERY)
def test_women_get_room_at_the_bust_and_none_at_the_hip(number: int) -> None:
    """Bust grows by what is asked; waist, hip and hem stay to 0.1 mm; legs and side seams agree; nothing is found."""
    wearer = brief_for(person(number))
    before = bodice(wearer, to="hip")
    refused: list[tuple[float, str]] = []
    for step, by in AMOUNTS:
        try:
            after = step.apply(before, wearer, step.options(by=abs(by)))
        except CannotDraft as no:
            refused.append((by, str(no)))
            continue
        grown = girth(after, "bust") - girth(before, "bust")
        if any(one.name == "bust-left" for _, one in all_darts(before)):
            assert grown == pytest.approx(bust_growth(before, after), rel=0.02)
        else:  # a bust so flat beside its front's length that its dart was eased in
            assert grown * by > 0.0
        # A front without a waist dart, over a belly, has nothing to take the room up at the waist.
        left = 0.0 if any(one.name.startswith("waist-front") for _, one in all_darts(after)) else 2.0 * by
        assert girth(after, "waist") == pytest.approx(girth(before, "waist") + left, abs=1e-6)
        assert girth(after, "hip") == pytest.approx(girth(before, "hip"), abs=0.1)
        assert hems(after) == pytest.approx(hems(before), abs=0.1)
        if any(one.name == "waist-front-left" for _, one in all_darts(after)):
            assert intake(dart(after, "waist-front-left")) - intake(dart(before, "waist-front-left")) == pytest.approx(
                by
            )
        assert uneven_legs(after) < 1e-6
        assert sides(after, "front") == pytest.approx(
            sides(before, "front"), abs=0.35
        )  # the dart's mouth is trued, the more the side leans
        assert not new_errors(wearer, before, after)
    # A bust that is hardly there can't be made smaller.
    assert all(by < 0.0 for by, _ in refused)
    darted = any(one.name == "bust-left" for _, one in all_darts(before))
    assert not darted or all("dart would take in less" in reason for _, reason in refused)


@pytest.mark.parametrize(("step", "by"), AMOUNTS, ids=["15", "30", "-6"])
def test_hip_and_hem_keep_what_the_body_and_its_ease_give_them(step: Step[Any], by: float) -> None:
    """The proof's own rows for waist and hip: body and ease, to 0.1 mm."""
    after = woven(TO_HIP, [(step, {"by": abs(by)})])
    rows = {row.measure: row for row in prove(after, woven_brief()).eases}
    for name in ("girth:waist", "girth:hip"):
        assert rows[name].finished == pytest.approx(rows[name].body + rows[name].asked, abs=0.1)


@pytest.mark.parametrize("by", [10.0, 30.0, 50.0])
def test_the_side_is_led_back_in_without_a_kink(by: float) -> None:
    """It leaves the waist as it arrives there, and never runs flatter than 60 degrees."""
    side = woven(TO_HIP, [(fit_full_bust, {"by": by})]).piece("front").line("side-left/a").path
    low, high = (Path.of(side.segments[i : i + 1]) for i in (0, 1))
    assert low.tangent(low.length).dot(high.tangent(0.0)) == pytest.approx(1.0, abs=1e-6)
    assert min(side.tangent(float(s)).y for s in np.linspace(0.0, side.length, 60)) > math.sin(math.radians(60.0))


def test_the_points_of_hip_and_hem_stay_below_the_waist() -> None:
    """Neither hip nor hem moves out or in; they go down by what the front is longer over the bust."""
    before, after = woven(TO_HIP), woven(TO_HIP, [(fit_full_bust, {"by": 20.0})])
    old, new = (g.piece("front").line("hem-left").path for g in (before, after))
    assert new.start.x == old.start.x
    assert new.end.x == pytest.approx(old.end.x, abs=0.05)
    assert old.start.y - new.start.y == pytest.approx(after.fact("bust_spread_length_left"), abs=1e-6)
    assert abs((new.end.y - new.start.y) - (old.end.y - old.start.y)) < 4.0


@pytest.mark.parametrize("by", [60.0, -60.0])
def test_a_front_made_longer_or_shorter_first_is_closed_at_the_hip_too(by: float) -> None:
    """Whatever lies between waist and hip, the width is gone there."""
    before = woven(TO_HIP, [(lengthen_body, {"by": by, "at": "line"})])
    after = woven(TO_HIP, [(lengthen_body, {"by": by, "at": "line"}), (fit_full_bust, {"by": 15.0})])
    assert girth(after, "hip") == pytest.approx(girth(before, "hip"), abs=0.1)
    assert girth(after, "waist") == pytest.approx(girth(before, "waist"), abs=1e-6)
    assert not [f for f in prove(after, woven_brief()).findings if f.severity is Severity.ERROR and "level" in f.code]
