"""Longer and shorter bodies: at the line between bust and waist, and at the hem."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.bodice import draft_knit_bodice
from drafting.changes.design.lengthen import back_length, lengthen_body
from drafting.errors import CannotDraft
from drafting.garment import Garment, Girth
from drafting.geometry import Path, Point, kinks, turn
from drafting.proof import prove
from drafting.redraw.heights import HeightShift
from drafting.redraw.hemline import find_hemline
from tests.garments import BODY, SINGERS, TOP, brief, build

FEW = settings(max_examples=12, derandomize=True, deadline=None)


def longer(garment: Garment, **options: Any) -> Garment:
    """Change a drafted garment once more."""
    return lengthen_body.apply(garment, brief(), lengthen_body.options(**options))


def same_pieces(one: Garment, two: Garment, within: float = 1e-6) -> bool:
    """Whether all lines and levels of two garments are the same curves."""
    pairs = zip(one.pieces, two.pieces, strict=True)
    return all(
        [ln.name for ln in p.ring] == [ln.name for ln in q.ring]
        and all(a.path.same_as(b.path, within) for a, b in zip(p.ring, q.ring, strict=True))
        and [v.name for v in p.levels] == [v.name for v in q.levels]
        and all(a.path.same_as(b.path, within) for a, b in zip(p.levels, q.levels, strict=True))
        for p, q in pairs
    )


@FEW
@given(a=st.floats(-60, 150), b=st.floats(-60, 150))
def test_longer_by_a_then_by_b_is_longer_by_both(a: float, b: float) -> None:
    """At the line, whatever the signs."""
    body = build(brief(), BODY)
    assert same_pieces(longer(longer(body, by=a, at="line"), by=b, at="line"), longer(body, by=a + b, at="line"))


@FEW
@given(a=st.floats(0, 300), b=st.floats(-200, 300))
def test_at_the_hem_longer_by_a_then_by_b_is_longer_by_both(a: float, b: float) -> None:
    """What was added can be taken off again, and more."""
    body = build(brief(), BODY)
    twice, once = longer(longer(body, by=a, at="hem"), by=b, at="hem"), longer(body, by=a + b, at="hem")
    assert same_pieces(twice, once, 1e-5)


@FEW
@given(a=st.floats(-150, 0), b=st.floats(-100, 0))
def test_cut_twice_is_cut_once(a: float, b: float) -> None:
    """The hem keeps its angle to the side seam and its roundness however it gets there."""
    body = build(brief(), BODY)
    twice, once = longer(longer(body, by=a, at="hem"), by=b, at="hem"), longer(body, by=a + b, at="hem")
    assert same_pieces(twice, once, 1e-5)


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize(
    "options", [{"by": 60.0}, {"by": -50.0}, {"by": 250.0, "at": "hem"}, {"by": -90.0, "at": "hem"}]
)
def test_a_changed_top_proves_for_every_singer(voice: str, options: dict[str, Any]) -> None:
    """Sleeves, bands and cuffs are drafted onto what the change leaves."""
    b = brief(voice)
    proof = prove(build(b, TOP, [(lengthen_body, options)]), b)
    assert proof.passed, [f.sentence for f in proof.findings]


def test_only_what_lies_below_the_bust_changes() -> None:
    """Necklines, shoulders and armholes stay the very same paths; the hem moves straight down; the grain stays."""
    body = build(brief(), BODY)
    new = longer(body, by=70.0, at="line")
    for old_piece, piece in zip(body.pieces, new.pieces, strict=True):
        for old, line in zip(old_piece.ring, piece.ring, strict=True):
            if line.role in ("neckline", "shoulder", "armhole"):
                assert line is old
            if line.role == "hem":
                assert line.path.same_as(old.path.moved(Point(0.0, -70.0)))
        heights = {v.name: v.path.start.y for v in old_piece.levels}
        moved = {v.name: heights[v.name] - v.path.start.y for v in piece.levels}
        assert moved.pop("bust") == 0.0
        assert moved.pop("waist") == pytest.approx(70.0)
        assert moved.pop("hip") == pytest.approx(70.0)
        assert set(moved.values()) == {0.0}
        adjust, old_adjust = piece.adjusts[0].path, old_piece.adjusts[0].path
        assert old_adjust.start.y - adjust.start.y == pytest.approx(35.0)
        assert min(piece.outline.nearest(adjust.start)[1], piece.outline.nearest(adjust.end)[1]) < 1e-6


def test_the_side_line_keeps_its_tangents_and_gets_no_kink() -> None:
    """Where the region begins and ends the line runs on as before."""
    body = build(brief(), BODY)
    old = body.piece("front").line("side-left").path
    new = longer(body, by=90.0, at="line").piece("front").line("side-left").path
    assert not list(kinks(new))
    for level, down in (("bust", 0.0), ("waist", 90.0)):
        y = next(v.path.start.y for v in body.piece("front").levels if v.name == level)
        before, after = (p.tangent(p.cross_level(h)[0]) for p, h in ((old, y), (new, y - down)))
        assert abs(turn(before, after)) < 1e-6


def test_a_straight_side_stays_straight_within_the_region() -> None:
    """A line wholly inside goes from mapped end to mapped end."""
    path = HeightShift(0.0, -100.0, 50.0).path(Path.straight(Point(10.0, -90.0), Point(20.0, -10.0)))
    assert path.is_straight
    assert path.start.near(Point(10.0, -135.0))
    assert path.end.near(Point(20.0, -15.0))


@pytest.mark.parametrize("at", ["line", "hem"])
@FEW
@given(to=st.floats(500, 900))
def test_a_finished_length_is_met(at: str, to: float) -> None:
    """From the nape to the lower edge at centre back."""
    garment = build(brief(), BODY, [(lengthen_body, {"to": to, "at": at})])
    assert back_length(garment) == pytest.approx(to, abs=1e-5)
    assert garment.fact("body_length") == pytest.approx(to, abs=1e-5)


def test_a_cropped_body_loses_the_levels_it_no_longer_reaches() -> None:
    """And what was to be measured there; the hem still meets the side seams square, as a cropped bodice's does."""
    b = brief()
    cropped = build(b, BODY, [(lengthen_body, {"by": -200.0, "at": "hem"})])
    assert {v.name for p in cropped.pieces for v in p.levels} == {"bust", "across-front", "across-back"}
    assert not {Girth("hip"), Girth("waist")} & {aim.measure for aim in cropped.aims}
    drafted = build(b, [(draft_knit_bodice, {"below_hip": -190.0})])
    for face in ("front", "back"):
        for name in ("hem-left", "hem-right"):
            one, two = (g.piece(face).line(name).path for g in (cropped, drafted))
            assert one.start.distance(two.start) < 0.5
            assert one.end.distance(two.end) < 0.5
    for join in prove(cropped, b).joins:
        assert abs(join.angle) < math.radians(0.5)


@pytest.mark.parametrize("by", [-80.0, -120.0])
@pytest.mark.parametrize("voice", SINGERS)
def test_a_hem_cropped_above_the_hip_is_level_and_trued_to_the_sides(voice: str, by: float) -> None:
    """The sides end within 1 cm of the centre's height (common practice), and nothing between dips below both."""
    for piece in build(brief(voice), BODY, [(lengthen_body, {"by": by, "at": "hem"})]).pieces:
        hem = find_hemline(piece)
        assert hem is not None
        centre, ends = hem.centre().y, (hem.path.start.y, hem.path.end.y)
        assert all(abs(y - centre) <= 10.0 + 1e-6 for y in ends)
        heights = [hem.path.at(hem.path.length * n / 40.0).y for n in range(41)]
        assert min(centre, *ends) - 1e-6 <= min(heights)
        assert max(heights) <= max(centre, *ends) + 1e-6


@pytest.mark.parametrize(
    ("options", "because"),
    [
        ({}, ("by", "to", "below_knee")),
        ({"by": 10.0, "to": 600.0}, ("by", "to", "below_knee")),
        ({"by": -160.0, "at": "line"}, ("by", "to")),
        ({"by": -380.0, "at": "hem"}, ("by", "to")),
        ({"to": 220.0, "at": "hem"}, ("to",)),
    ],
)
def test_what_cannot_be_is_refused_with_the_change_and_the_reason(
    options: dict[str, Any], because: tuple[str, ...]
) -> None:
    """Never a broken outline."""
    with pytest.raises(CannotDraft) as refused:
        build(brief(), BODY, [(lengthen_body, options)])
    assert refused.value.step == "lengthen"
    assert refused.value.because == because
