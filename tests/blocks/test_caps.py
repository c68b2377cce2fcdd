"""Caps: height, width and armhole are solved together for each kind, and what gives way is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.caps import CAP_KINDS, CapWanted, SolvedCap, cap_heights, cap_kind, draw_cap
from blocks.sleeve import draft_set_in_sleeve
from drafting.cloth import Fit
from drafting.garment import Garment
from tests.blocks_woven.people import POPLIN
from tests.blocks_woven.people import mean_person as mean_woman
from tests.blocks_woven.people import sleeved as woven_sleeved
from tests.garments import SLEEVED, brief, build

FRONT = 0.49
"""Of the armhole that is the front's."""


def drawn(kind: str, armhole: float, width: float, ease: float = 20.0) -> SolvedCap:
    """A long sleeve's cap for an armhole, the sleeve to be so wide (mm)."""
    seam, heights = armhole + ease, cap_heights(kind, armhole, 500.0)
    return draw_cap(CapWanted(FRONT * seam, (1.0 - FRONT) * seam, width, 210.0, 560.0, *heights))


@pytest.mark.parametrize("kind", CAP_KINDS)
@pytest.mark.parametrize("armhole", [400.0, 440.0, 500.0])
@pytest.mark.parametrize("width", [260.0, 300.0, 340.0, 380.0])
def test_a_cap_always_fits_its_armhole_and_the_arm(kind: str, armhole: float, width: float) -> None:
    """The edge is as long as asked to 0.001 mm; the sleeve keeps its width: only the height is less than its kind's."""
    cap = drawn(kind, armhole, width)
    low, high = CAP_KINDS[kind]
    assert cap.front.length == pytest.approx(FRONT * (armhole + 20.0), abs=1e-3)
    assert cap.back.length == pytest.approx((1.0 - FRONT) * (armhole + 20.0), abs=1e-3)
    assert cap.width >= width - 1e-3
    assert cap.height <= 0.36 * armhole + 1e-6
    if cap.height > high * armhole + 1e-6:  # higher than its kind: only where the sleeve were far too wide
        assert cap.width == pytest.approx(width + 60.0, abs=1e-3) or cap.height == pytest.approx(0.36 * armhole)
    elif cap.width > width + 1e-3:  # wider than asked: only since its kind may be no higher
        assert cap.height == pytest.approx(high * armhole, abs=1e-6)
    if width <= 0.7 * armhole:
        assert cap.height >= low * armhole - 1e-6


def test_all_three_hold_where_the_trades_figures_meet() -> None:
    """An armhole of half as much again as the arm, 5 cm of ease: a fitted cap of a third, the width as asked."""
    cap = drawn("fitted", 440.0, 293.0 + 50.0, 30.0)
    assert cap.width == pytest.approx(343.0, abs=1e-3)
    assert 0.32 <= cap.height / 440.0 <= 0.36


def test_a_wider_sleeve_never_has_a_higher_cap() -> None:
    """Any two of armhole, width and height fix the third (derived)."""
    heights = [drawn("fitted", 420.0, width).height for width in (280.0, 300.0, 320.0, 340.0, 360.0)]
    assert heights == sorted(heights, reverse=True)


@pytest.mark.parametrize("width", [300.0, 330.0, 350.0])
def test_the_front_is_hollowed_more_than_the_back(width: float) -> None:
    """Of two halves of one length, whatever had to be flattened."""
    cap = draw_cap(CapWanted(220.0, 220.0, width, 210.0, 560.0, *cap_heights("fitted", 420.0, 500.0)))

    def hollow(half: SolvedCap, face: str) -> float:
        curve = half.front.path if face == "front" else half.back.path
        a, b = curve.start, curve.end
        across = (b - a).unit.left
        return max(-(p[0] - a.x) * across.x - (p[1] - a.y) * across.y for p in curve.flatten().tolist())

    assert hollow(cap, "front") > 1.1 * hollow(cap, "back") > 0.0


@pytest.mark.parametrize(
    ("fit", "knit", "woven"),
    [(Fit.CLOSE, "fitted", "fitted"), (Fit.SEMI, "tee", "fitted"), (Fit.RELAXED, "tee", "shirt")],
)
def test_the_kind_follows_cloth_and_fit(fit: Fit, knit: str, woven: str) -> None:
    """By rule; what is asked for stands over it."""
    asked = brief("soprano", fit)
    assert cap_kind(asked, "rule") == knit
    assert cap_kind(replace(asked, cloth=POPLIN), "rule") == woven
    assert cap_kind(asked, "shirt") == "shirt"


@pytest.mark.parametrize("kind", CAP_KINDS)
def test_a_kind_asked_for_is_drafted(kind: str) -> None:
    """In a knit and in a woven; what it is measures its share of the armhole, or is told to have given way."""
    asked = brief("soprano")
    knit = build(asked, SLEEVED[:1], ((draft_set_in_sleeve, {"cap": kind}),))
    woven = woven_sleeved(replace(asked, cloth=POPLIN, contrast=POPLIN, body=mean_woman()), cap=kind)
    low, high = CAP_KINDS[kind]
    for garment in (knit, woven):
        share = garment.fact("cap_height_left") / _armhole(garment)
        told = [fact for fact in garment.facts if fact.name == "cap_given_way_left"]
        assert share <= high + 1e-6
        assert share >= low - 1e-3 or told


def _armhole(garment: Garment) -> float:
    return garment.run_length(garment.seam("armhole-left").plies[0])


def test_a_shirts_cap_has_a_shirts_ease() -> None:
    """1/2 to 3/4 in; a fitted one's 1 to 1 1/2 in (textbooks)."""
    asked = replace(brief("soprano"), cloth=POPLIN, contrast=POPLIN)
    for kind, low, high in (("shirt", 13.0, 19.0), ("fitted", 25.0, 38.0)):
        plies = (garment := woven_sleeved(asked, cap=kind)).seam("armhole-left").plies
        assert low <= garment.run_length(plies[1]) - garment.run_length(plies[0]) <= high
