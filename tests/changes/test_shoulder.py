"""A narrowed shoulder: both faces alike, the armhole square to its new end, one side alone."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafting.changes.design.armhole import cut_in_armhole
from drafting.changes.design.shoulder import shape_shoulder
from drafting.changes.design.underarm import move_underarm
from drafting.changes.sleeve.length import change_sleeve_length
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, Side
from drafting.garment.armholes import take_armhole
from drafting.geometry import turn
from drafting.proof import prove
from drafting.proof.fit import fit_rows
from tests.changes.halves_alike import assert_alike, assert_side_untouched
from tests.garments import BODY, SINGERS, SLEEVED, TOP, brief, build


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("narrow", [25.0, -12.0])
def test_both_shoulders_change_and_the_top_proves(voice: str, narrow: float) -> None:
    """Shoulders, across back and sleeves follow, and every aim holds."""
    b = brief(voice)
    before, after = build(b, TOP), build(b, TOP, [(shape_shoulder, {"narrow": narrow})])
    for piece in ("front", "back"):
        for side in ("left", "right"):
            old, new = (g.piece(piece).line(f"shoulder-{side}").path.length for g in (before, after))
            assert old - new == pytest.approx(narrow, abs=1e-6)
    assert prove(after, b).passed


def test_the_armhole_keeps_its_underarm_and_is_square_to_the_shoulder() -> None:
    """Same point and direction below; a right angle at the shoulder's new end."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(shape_shoulder, {"narrow": 30.0})])
    old, new = (g.piece("front").line("armhole-left").path for g in (before, after))
    assert new.start.near(old.start)
    assert turn(old.tangent(0.0), new.tangent(0.0)) == pytest.approx(0.0, abs=1e-6)
    shoulder = after.piece("front").line("shoulder-left").path
    assert turn(new.tangent(new.length), shoulder.tangent(0.0)) == pytest.approx(math.pi / 2.0, abs=1e-6)


@pytest.mark.parametrize(("side", "halves"), [("left", 1.0), ("both", 2.0)])
@pytest.mark.parametrize("share", [0.6, 1.0])
def test_the_across_back_shrinks_by_the_share_on_each_side(side: str, halves: float, share: float) -> None:
    """One side alone takes one side's amount, level and aim alike."""
    b = brief("alto")
    before = build(b, BODY)
    after = build(b, BODY, [(shape_shoulder, {"narrow": 20.0, "across": share, "side": side})])

    def across(garment: Garment) -> float:
        piece = garment.piece("back")
        return next(level.path.length for level in piece.levels if level.name == "across-back")

    assert across(before) - across(after) == pytest.approx(20.0 * share * halves, abs=0.01)
    assert prove(after, b).passed


def test_one_side_leaves_the_other_as_it_was() -> None:
    """Line by line."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(shape_shoulder, {"narrow": 25.0, "side": "right"})])
    assert_side_untouched(before, after, Side.LEFT)
    both = build(b, BODY, [(shape_shoulder, {"narrow": 25.0})])
    one_by_one = build(b, BODY, [(shape_shoulder, {"narrow": 25.0, "side": s}) for s in ("right", "left")])
    assert_alike(both, one_by_one)


@pytest.mark.parametrize(("narrow", "words"), [(110.0, "too little"), (-60.0, "no armhole is left")])
def test_too_much_is_refused(narrow: float, words: str) -> None:
    """Either way, with the reason and by how much."""
    with pytest.raises(CannotDraft, match=words) as error:
        build(brief("soprano"), BODY, [(shape_shoulder, {"narrow": narrow})])
    assert error.value.step == "shoulder"
    assert error.value.short_by > 0.0


@given(a=st.floats(-8.0, 20.0), b=st.floats(-8.0, 20.0))
@settings(derandomize=True, deadline=None, max_examples=15)
def test_narrowing_twice_is_narrowing_by_the_sum(a: float, b: float) -> None:
    """By a and then by b is by a + b, the across lines following by one share."""
    assume(a and b and a + b)
    stuff = brief("bass")
    one, two, both = ((shape_shoulder, {"narrow": by, "across": 0.6}) for by in (a, b, a + b))
    assert_alike(build(stuff, BODY, [one, two]), build(stuff, BODY, [both]))


@given(
    narrow=st.floats(-5.0, 25.0),
    lower=st.floats(-10.0, 40.0),
    cut=st.floats(-5.0, 6.0),
    sides=st.tuples(*[st.sampled_from(("left", "right", "both"))] * 3),
)
@settings(derandomize=True, deadline=None, max_examples=20)
def test_shoulder_underarm_and_cutting_in_commute(
    narrow: float, lower: float, cut: float, sides: tuple[str, str, str]
) -> None:
    """Each moves its own point of the armhole."""
    assume(narrow and lower and cut)
    b = brief("bass")
    changes = [
        (shape_shoulder, {"narrow": narrow, "side": sides[0]}),
        (move_underarm, {"by": lower, "side": sides[1]}),
        (cut_in_armhole, {"by": cut, "side": sides[2]}),
    ]
    one = build(b, BODY, changes)
    assert_alike(one, build(b, BODY, changes[::-1]))
    assert prove(one, b).passed


def test_a_longer_shoulder_leaves_the_arm_its_room() -> None:
    """By rule the across lines follow no farther than that: the armhole stays as wide as a knit's has to be."""
    b = brief("soprano", Fit.CLOSE)
    ruled, asked = (build(b, SLEEVED, [(shape_shoulder, {"narrow": -20.0, **more})]) for more in ({}, {"across": 0.8}))
    widths = [taken.width for taken in (take_armhole(garment, Side.LEFT) for garment in (ruled, asked)) if taken]
    least = 0.9 * b.body["upper_arm_girth"] / math.pi
    assert widths[1] < least < widths[0]
    assert prove(ruled, b).passed


@pytest.mark.parametrize(("narrow", "length"), [(38.0, None), (-12.0, None), (38.0, {"to": "long"})])
def test_a_sleeve_takes_up_what_its_shoulder_loses(narrow: float, length: dict[str, str] | None) -> None:
    """Both wrists lie as far from the body's shoulder points (common practice): the cap is higher, no seam below it."""
    b = brief("alto")
    made = build(
        b,
        SLEEVED,
        [(shape_shoulder, {"narrow": narrow, "side": "right"})],
        [(change_sleeve_length, length)] if length else [],
    )
    left, right = (made.piece(f"sleeve-{side}") for side in (Side.LEFT, Side.RIGHT))
    heights = [piece.outline.bounds[3] - piece.lines(role=Role.WRIST)[0].path.start.y for piece in (left, right)]
    assert heights[1] - heights[0] == pytest.approx(narrow, abs=1e-6)
    seams = [piece.lines(role=Role.UNDERARM)[0].path.length for piece in (left, right)]
    assert seams[1] == pytest.approx(seams[0], abs=8.0)
    assert [row.beyond for row in fit_rows(made, b) if row.name == "sleeve_length"] == [0.0, 0.0]
