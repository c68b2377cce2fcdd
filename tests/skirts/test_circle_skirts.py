"""Circle and flared skirts against the closed forms of sectors and cones."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.circle_skirt import CIRCLE_SHARES
from blocks.cones import arc
from drafting.changes.design.lengthen import lengthen_body
from drafting.errors import CannotDraft
from drafting.garment import Role
from drafting.geometry import Point
from tests.skirts.dressed import JERSEY, errors, sewn_waist, skirt

WAIST = 740.0 + 16.0


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.floats(20.0, 2000.0), st.floats(0.1, math.pi))
def test_arcs_stray_from_the_circle_by_less_than_a_fiftieth_of_a_millimetre(radius: float, angle: float) -> None:
    """Every point of the cubics lies on the circle, and the length is radius times angle (elementary geometry)."""
    path = arc(Point(3.0, 5.0), radius, angle)
    points = path.points(np.linspace(0.0, path.length, 400))
    assert np.abs(np.hypot(points[:, 0] - 3.0, points[:, 1] - 5.0) - radius).max() < 0.02
    assert path.length == pytest.approx(radius * angle, abs=0.02)


@pytest.mark.parametrize("share", CIRCLE_SHARES)
@pytest.mark.parametrize("voice", ["soprano", "alto"])
def test_waist_radius_is_waist_over_two_pi_times_the_share(share: str, voice: str) -> None:
    """Closed form of the sector: r = W / (2 pi k); hem = W + 2 pi k L; each piece's arcs lie about one centre."""
    garment, b = skirt([("circle-skirt", {"circle": share, "length": 600.0})], voice)
    k, waist = garment.fact("circle_share"), b.body["waist_girth"] + 16.0
    r = waist / (2.0 * math.pi * k)
    for piece in garment.pieces:
        edge, hem = piece.line("waist-left").path, piece.line("hem-left").path
        low = min(edge.start, edge.end, key=lambda p: abs(p.x))
        centre = Point(0.0, low.y + r)
        for path, radius in ((edge, r), (hem, r + 600.0)):
            points = path.points(np.linspace(0.0, path.length, 50))
            assert np.abs(np.hypot(points[:, 0], points[:, 1] - centre.y) - radius).max() < 0.02
    hem_girth = sum(ln.path.length for p in garment.pieces for ln in p.lines() if ln.opening == "hem")
    assert hem_girth == pytest.approx(waist + 2.0 * math.pi * k * 600.0, abs=0.1)
    assert sewn_waist(garment) == pytest.approx(waist, abs=1e-6)


@pytest.mark.parametrize("share", CIRCLE_SHARES)
@pytest.mark.parametrize("by", [-100.0, 60.0])
def test_a_circle_skirt_is_lengthened_by_as_much_all_round(share: str, by: float) -> None:
    """Its hem stays an arc about the waist's centre, and its sides grow by what its centre grows by."""
    garment, _ = skirt([("circle-skirt", {"circle": share, "length": 600.0})], then=[(lengthen_body, {"by": by})])
    r = garment.fact("waist_radius")
    for piece in garment.pieces:
        edge, hem = piece.line("waist-left").path, piece.line("hem-left").path
        centre = Point(0.0, min(edge.start, edge.end, key=lambda p: abs(p.x)).y + r)
        points = hem.points(np.linspace(0.0, hem.length, 50))
        assert np.abs(np.hypot(points[:, 0], points[:, 1] - centre.y) - r - 600.0 - by).max() < 0.1
        assert [side.path.length for side in piece.lines(role=Role.SIDE)] == pytest.approx([600.0 + by] * 2, abs=0.1)


def test_a_full_circle_has_the_full_turn() -> None:
    """Four quarter turns: each half of a piece turns by a right angle at waist and hem."""
    garment, _ = skirt([("circle-skirt", {"circle": "full"})])
    turns = [abs(line.path.turning()) for piece in garment.pieces for line in piece.lines("waist")]
    assert turns == pytest.approx([math.pi / 2.0] * 4, abs=1e-6)


@pytest.mark.parametrize("share", CIRCLE_SHARES)
def test_circle_skirts_go_together(share: str) -> None:
    """Nothing but the closure that is still wanting: a woven waist doesn't pass the hips."""
    garment, b = skirt([("circle-skirt", {"circle": share})])
    assert [e.split()[0] for e in errors(garment, b)] == ["openings.pass"]
    garment, b = skirt([("circle-skirt", {"circle": share}), "closure"])
    assert not errors(garment, b)


def test_a_flared_skirt_is_the_cone_through_waist_and_hip() -> None:
    """Its girth grows evenly: at the hip it is hip and ease, and at the hem as much again as the length says."""
    garment, b = skirt(["flared-skirt"])
    hip = b.body["hip_girth"] + 64.0
    fall, length = b.body["waist_to_hip"], garment.fact("skirt_length")
    assert sum(v.path.length for p in garment.pieces for v in p.levels) == pytest.approx(hip, abs=0.05)
    assert garment.fact("hem_girth") == pytest.approx(WAIST + (hip - WAIST) * length / fall, abs=0.1)


@settings(max_examples=8, deadline=None, derandomize=True)
@given(st.floats(1700.0, 4200.0))
def test_a_flared_hem_is_as_wide_as_asked(sweep: float) -> None:
    """The hem measures what was asked for, and the waist stays."""
    garment, _ = skirt([("flared-skirt", {"sweep": sweep})])
    hem = sum(ln.path.length for p in garment.pieces for ln in p.lines() if ln.opening == "hem")
    assert hem == pytest.approx(sweep, abs=0.1)
    assert sewn_waist(garment) == pytest.approx(WAIST, abs=1e-6)


def test_too_narrow_a_hem_is_refused_by_how_much() -> None:
    """A cone through waist and hip has a least hem."""
    least = skirt(["flared-skirt"])[0].fact("hem_girth")
    with pytest.raises(CannotDraft) as refused:
        skirt([("flared-skirt", {"sweep": least - 100.0})])
    assert refused.value.because == ("sweep",)
    assert refused.value.short_by == pytest.approx(100.0, abs=0.01)


def test_a_knit_skirt_that_stretches_enough_is_pulled_on() -> None:
    """Alto's waist of 88 cm, stretched by 30 %, is 114.4 cm: it passes her hips of 110 without a closure."""
    garment, b = skirt(["circle-skirt"], "alto", JERSEY)
    assert not errors(garment, b)


def test_a_skirt_that_ends_above_the_hip_is_refused() -> None:
    """Its girth at the hip couldn't be proved."""
    with pytest.raises(CannotDraft, match="hip line"):
        skirt([("circle-skirt", {"length": 205.0})])
