"""An underarm raised or lowered: it slides along the side seam, front and back alike."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafting.changes.design.underarm import move_underarm
from drafting.errors import CannotDraft
from drafting.garment import Girth, Line, Piece, Side
from drafting.geometry import Path, Point, turn
from drafting.proof import prove
from drafting.redraw.shapes import UNDERARM_ABOVE_WAIST
from tests.changes.halves_alike import assert_alike, assert_side_untouched
from tests.garments import BODY, SINGERS, TOP, brief, build


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("by", [-12.0, 30.0, 60.0])
def test_it_moves_and_the_top_proves(voice: str, by: float) -> None:
    """With the sleeves drafted onto the armhole that is there."""
    b = brief(voice)
    before, after = build(b, TOP), build(b, TOP, [(move_underarm, {"by": by})])
    assert prove(after, b).passed
    for piece in ("front", "back"):
        old, new = (g.piece(piece).line("side-left").path.length for g in (before, after))
        assert old - new == pytest.approx(by, abs=1e-3)


@pytest.mark.parametrize("by", [-15.0, 45.0])
def test_the_new_underarm_lies_on_the_side_seam_and_square_to_it(by: float) -> None:
    """On the seam as it was, or straight on from it."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(move_underarm, {"by": by})])
    old, new = (g.piece("front").line("side-left").path for g in (before, after))
    assert old.extended(0.0, 100.0).nearest(new.end)[1] < 1e-6
    arm = after.piece("front").line("armhole-left").path
    assert turn(new.tangent(new.length), arm.tangent(0.0)) == pytest.approx(math.pi / 2.0, abs=1e-6)
    top = before.piece("front").line("armhole-left").path.end
    assert arm.end.near(top)


def test_the_bust_line_stays_where_the_body_has_it() -> None:
    """Lowered a little, the bust level is the same; lowered beyond it, there is no bust left to measure."""
    b = brief("alto")
    before = build(b, BODY)
    little = build(b, BODY, [(move_underarm, {"by": 15.0})])
    far = build(b, BODY, [(move_underarm, {"by": 70.0})])
    kept, lost = ([lv for lv in g.piece("front").levels if lv.name == "bust"] for g in (little, far))
    assert kept == [lv for lv in before.piece("front").levels if lv.name == "bust"]
    assert not lost
    assert Girth("bust") not in {aim.measure for aim in far.aims}
    assert prove(far, b).passed


def test_the_lengthening_line_stays_inside_the_piece() -> None:
    """An armhole that reaches below it brings it down between underarm and waist."""
    b = brief("bass")
    back = build(b, BODY, [(move_underarm, {"by": 120.0})]).piece("back")
    underarm = back.line("armhole-left").path.bounds[1]
    for adjust in back.adjusts:
        assert adjust.path.start.y < underarm
        sides = [line.path.nearest(p)[1] for line, p in _ends(back, adjust.path)]
        assert max(sides) < 1e-6


def _ends(piece: Piece, path: Path) -> list[tuple[Line, Point]]:
    left, right = sorted((path.start, path.end), key=lambda p: p.x)
    return [(piece.line("side-left"), left), (piece.line("side-right"), right)]


def test_one_side_leaves_the_other_as_it_was() -> None:
    """Line by line."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(move_underarm, {"by": 35.0, "side": "left"})])
    assert_side_untouched(before, after, Side.RIGHT)
    assert prove(after, b).passed


def test_the_limits_are_the_armpit_and_the_waist() -> None:
    """Above the one and near the other it is refused, by as much as it is beyond."""
    b = brief("soprano")
    with pytest.raises(CannotDraft, match="above the armpit") as high:
        build(b, BODY, [(move_underarm, {"by": -60.0})])
    underarm = build(b, BODY).piece("front").line("armhole-left").path.start.y
    assert high.value.short_by == pytest.approx(underarm + 60.0 + b.body["scye_depth_length"], abs=1e-6)
    with pytest.raises(CannotDraft, match=f"less than {UNDERARM_ABOVE_WAIST:.0f} mm above the waist"):
        build(b, BODY, [(move_underarm, {"by": 200.0})])


@given(a=st.floats(1.0, 30.0), b=st.floats(-15.0, 30.0))
@settings(derandomize=True, deadline=None, max_examples=15)
def test_lowering_twice_is_lowering_by_the_sum(a: float, b: float) -> None:
    """By a and then by b is by a + b; raised again it lies on the straight line on from the cut."""
    assume(a and b)
    stuff = brief("alto")
    first = build(stuff, BODY, [(move_underarm, {"by": a}), (move_underarm, {"by": abs(b)})])
    assert_alike(first, build(stuff, BODY, [(move_underarm, {"by": a + abs(b)})]))


def test_raising_and_lowering_again_changes_nothing() -> None:
    """The piece that was added is cut off again."""
    b = brief("tenor")
    there = build(b, BODY, [(move_underarm, {"by": -14.0}), (move_underarm, {"by": 14.0})])
    before = build(b, BODY).piece("front").line("side-left").path
    assert there.piece("front").line("side-left").path.same_as(before, 1e-6)
