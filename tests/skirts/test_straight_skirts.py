"""The straight skirt: its darts, its side seams, and its girths at every height."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.skirt import draft_straight_skirt
from drafting.body import Body, make_body
from drafting.changes.darts.ease import gather_dart
from drafting.errors import DraftingError
from drafting.garment import Line, Role, Side
from drafting.garment.darts import darts_of
from drafting.geometry import turn
from drafting.proof import Severity, prove
from drafting.proof.fit.skirts import skirt_rows
from drafting.work import turned_edges
from tests.garments import SINGERS, brief, build
from tests.skirts.dressed import WOVEN, cloth_at, darts, errors, sewn_waist, skirt

VOICES = list(SINGERS)


@pytest.mark.parametrize("voice", VOICES)
def test_waist_and_hip_measure_body_and_ease(voice: str) -> None:
    """To 0.1 mm, the darts closed; woven skirts have 1/2 to 3/4 in of ease at the waist (Central Washington Univ.,
    costume-construction text, ch. 16) and 64 mm at the hip (2 to 2 3/4 in there, the same)."""
    garment, b = skirt(["skirt"], voice)
    assert 12.7 <= sewn_waist(garment) - b.body["waist_girth"] <= 19.05
    hip = -b.body["back_neck_point_to_waist"] - b.body["waist_to_hip"]
    assert cloth_at(garment, hip) - b.body["hip_girth"] == pytest.approx(64.0, abs=0.1)


@pytest.mark.parametrize("voice", VOICES)
def test_darts_and_side_seams_take_out_the_suppression(voice: str) -> None:
    """Per skirt: hip + ease - waist - ease (derived), shared out; the mouths come to a little more, since the waist
    between the darts is an arc."""
    garment, b = skirt(["skirt"], voice)
    wanted = b.body["hip_girth"] + 64.0 - b.body["waist_girth"] - 16.0
    at_sides = 0.0
    for piece in garment.pieces:
        for line in piece.lines(role=Role.SIDE):
            at_sides += max(abs(p.x) for p in (line.path.start, line.path.end)) - min(
                abs(p.x) for p in (line.path.start, line.path.end)
            )
    in_darts = sum(mouth for _, _, mouth in darts(garment))
    assert wanted - 0.5 <= at_sides + in_darts <= wanted * 1.04 + 2.0
    assert in_darts > at_sides


@pytest.mark.parametrize("voice", VOICES)
def test_legs_are_equal_and_points_lie_above_the_hip(voice: str) -> None:
    """Equal to 1e-6 mm; a front dart is shorter than a back dart (common practice)."""
    garment, b = skirt(["skirt"], voice)
    assert all(abs(one - two) < 1e-6 for one, two, _ in darts(garment))
    front = [ln.path.length for ln in garment.piece("skirt-front").lines(role=Role.DART)]
    back = [ln.path.length for ln in garment.piece("skirt-back").lines(role=Role.DART)]
    assert max(front, default=0.0) < max(back) < b.body["waist_to_hip"]


@pytest.mark.parametrize("voice", VOICES)
def test_the_back_takes_out_more_than_the_front(voice: str) -> None:
    """1.5 to 2 times as much (common practice), and over a belly the front has less or none."""
    garment, b = skirt(["skirt", "closure"], voice)
    rows = [row for row in skirt_rows(garment, b) if row.name == "skirt_front_darts"]
    assert len(rows) == 2
    belly = b.body["waist_girth"] > 0.82 * b.body["hip_girth"]
    for row in rows:
        assert row.garment <= 0.4
        assert belly or row.garment >= 1.0 / 3.0


def test_a_front_that_takes_out_as_much_as_the_back_is_told() -> None:
    """A warning, with both shares, where a dart of the back was let into gathers."""
    b = brief("soprano", cloth=WOVEN)
    garment = build(b, [(draft_straight_skirt, {})], [(gather_dart, {"dart": "skirt-back"})])
    told = [found for found in prove(garment, b).findings if found.code == "fit.skirt_front_darts"]
    assert told
    assert told[0].severity is Severity.WARNING


@pytest.mark.parametrize(("hip", "told"), [(980.0, True), (880.0, False)])
def test_a_front_that_takes_out_too_little_is_told_but_over_a_belly(hip: float, told: bool) -> None:
    """Less than a third of what the darts take out: a warning where the belly doesn't need the room."""
    b = brief("soprano", cloth=WOVEN)
    garment = build(b, [(draft_straight_skirt, {})])
    body = Body("", {**b.body.values, "hip_girth": hip})
    front = garment.piece("skirt-front")
    ring: dict[str, Line] = {}
    for dart in (each for each in darts_of(front) if each.side is Side.RIGHT):
        a, b_ = (dart.middle.to(end, 0.3) for end in (dart.mouth_a, dart.mouth_b))
        ring |= {line.name: line for line in dart.with_corners(a, dart.point, b_).lines}
    front = replace(front, ring=tuple(ring.get(line.name, line) for line in front.ring))
    rows = skirt_rows(garment.with_(pieces=[front]), replace(b, body=body))
    row = next(each for each in rows if each.name == "skirt_front_darts" and "right" in each.place)
    assert (row.beyond < 0.0) is told
    assert row.severity is Severity.WARNING


def test_the_waist_runs_smooth_once_the_darts_are_closed() -> None:
    """At each mouth the corners beside the two legs add up to a straight angle, and the side seams meet it square."""
    garment, _ = skirt(["skirt"])
    for piece in garment.pieces:
        for line in piece.lines(role=Role.DART):
            if not line.name.endswith("-a"):
                continue
            other = piece.line(line.name[:-1] + "b")
            before, after = piece.before(line.name), piece.after(other.name)
            one = turn(before.path.tangent(before.path.length), line.path.tangent(0.0))
            two = turn(other.path.tangent(other.path.length), after.path.tangent(0.0))
            assert one + two == pytest.approx(math.pi, abs=1e-6)
        for side in piece.lines(role=Role.SIDE):
            waist = next(ln for ln in (piece.before(side.name), piece.after(side.name)) if ln.role is Role.WAIST)
            ends = [(side, waist), (waist, side)]
            first, then = ends[0] if piece.after(side.name) is waist else ends[1]
            angle = turn(first.path.tangent(first.path.length), then.path.tangent(0.0))
            assert angle == pytest.approx(math.pi / 2.0, abs=1e-4)


def test_the_skirt_never_narrows_on_its_way_to_the_hip() -> None:
    """Girths at every height from under the waist to the hip grow: there is no pinch between darts and sides."""
    garment, b = skirt(["skirt"])
    waist = -b.body["back_neck_point_to_waist"]
    girths = [cloth_at(garment, waist - down) for down in range(15, int(b.body["waist_to_hip"]), 5)]
    assert all(two >= one - 0.05 for one, two in pairwise(girths))


def test_front_and_back_sides_are_equal() -> None:
    """The centre back lies lower, so that both sides end at one height."""
    garment, _ = skirt(["skirt"])
    front, back = garment.piece("skirt-front"), garment.piece("skirt-back")
    assert front.line("side-left").path.length == pytest.approx(back.line("side-left").path.length, abs=1e-6)
    assert len(turned_edges(garment)) == 4


@pytest.mark.parametrize("voice", VOICES)
@pytest.mark.parametrize("taper", [0.0, 25.0, -120.0])
def test_it_goes_together_for_every_singer(voice: str, taper: float) -> None:
    """With a closure nothing is wrong."""
    garment, b = skirt([("skirt", {"taper": taper}), "closure"], voice)
    assert not errors(garment, b)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.floats(600.0, 1300.0), st.floats(-80.0, 330.0), st.floats(-40.0, 40.0))
def test_any_waist_and_hip_is_proven_or_refused_with_its_measurement(waist: float, more: float, taper: float) -> None:
    """Figures from a waist wider than the hip to one 33 cm smaller."""
    hip = waist + more
    try:
        given_ = {
            "bust_girth": waist + 150.0,
            "waist_girth": waist,
            "hip_girth": hip,
            "back_neck_point_to_waist": 410.0,
            "stature": 1660.0,
        }
        body = make_body("tenor", given_)
    except DraftingError:
        return
    garment, b = skirt([("skirt", {"taper": taper}), "closure"], body)
    assert not errors(garment, b)
    assert sewn_waist(garment) == pytest.approx(waist + 16.0, abs=1e-4)
