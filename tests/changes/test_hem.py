"""Curved hems, hems higher on one side, a longer back."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.band import draft_neck_band
from blocks.circle_skirt import draft_circle_skirt
from drafting.changes.design.hem import shape_hem
from drafting.changes.design.lengthen import back_length, lengthen_body
from drafting.changes.design.mirror import mirror_garment
from drafting.errors import CannotDraft
from drafting.garment import Garment, Girth, Role
from drafting.geometry import turn
from drafting.proof import prove
from drafting.redraw.hemline import find_hemline
from tests.changes.test_lengthen import same_pieces
from tests.garments import BODY, SINGERS, SLEEVED, TOP, brief, build

FEW = settings(max_examples=10, derandomize=True, deadline=None)
PLAIN = (*SLEEVED, (draft_neck_band, {}))


def hemmed(**options: Any) -> Garment:
    """A body with its hem drawn anew."""
    return build(brief(), BODY, [(shape_hem, options)])


def side_heights(garment: Garment) -> dict[tuple[str, str], float]:
    """Where the hem meets each side seam, by face and side."""
    return {
        (piece.name, line.side): min(line.path.start.y, line.path.end.y)
        for piece in garment.pieces
        for line in piece.lines(role=Role.SIDE)
    }


def test_a_plain_straight_hem_is_the_one_that_was_there() -> None:
    """Drawn anew by its rule it is the same."""
    assert same_pieces(hemmed(), build(brief(), BODY))


@FEW
@given(
    rise=st.floats(10, 90),
    higher=st.sampled_from(["none", "left", "right"]),
    by=st.floats(10, 70),
    drop=st.floats(0, 12),
)
def test_front_and_back_agree_at_the_sides_and_the_hem_runs_smoothly_round(
    rise: float, higher: str, by: float, drop: float
) -> None:
    """Square to both side seams; one smooth curve over the centre, equally bent from both halves."""
    garment = hemmed(shape="curved", rise=rise, higher=higher, by=by, longer_at_back=drop)
    heights = side_heights(garment)
    before = side_heights(build(brief(), BODY))
    for side in ("left", "right"):
        wanted = before["front", side] + rise + (by if side == higher else 0.0)
        assert heights["front", side] == pytest.approx(wanted)
        assert heights["back", side] == pytest.approx(wanted)
    for piece in garment.pieces:
        one, two = sorted(piece.lines(role=Role.HEM), key=lambda line: line.path.start.x)
        assert abs(turn(one.path.tangent(one.path.length), two.path.tangent(0.0))) < 1e-9
        assert one.path.curvature(one.path.length) == pytest.approx(two.path.curvature(0.0), abs=1e-9)
    joins = [join for join in prove(garment, brief()).joins if "hem" in join.before]
    assert len(joins) == 2
    assert all(abs(join.angle) < math.radians(0.5) for join in joins)


def test_a_hem_higher_on_one_side_leaves_the_other_side_as_it_was() -> None:
    """The other side's lines are the very same."""
    plain = build(brief(), BODY)
    new = shape_hem.apply(plain, brief(), shape_hem.options(higher="left", by=90.0))
    for piece in plain.pieces:
        for line in piece.ring:
            if line.role is not Role.HEM and line.side != "left":
                assert new.piece(piece.name).line(line.name) is line
    assert Girth("hip") not in {aim.measure for aim in new.aims}
    (note,) = [finding for finding in prove(new, brief()).findings if finding.code == "ease.cut_off"]
    assert str(note.sentence) == "the hem lies above the hip on one side, so no hip girth is told"


def test_higher_on_the_left_mirrored_is_higher_on_the_right() -> None:
    """No side is the better one."""
    left = mirror_garment.apply(hemmed(higher="left", by=90.0), brief(), mirror_garment.options())
    assert same_pieces(left, hemmed(higher="right", by=90.0))


def test_a_dropped_back_is_longer_by_that_at_its_centre_alone() -> None:
    """The front and the sides stay."""
    plain, new = build(brief(), BODY), hemmed(longer_at_back=60.0)
    assert back_length(new) - back_length(plain) == pytest.approx(60.0)
    assert side_heights(new) == side_heights(plain)
    assert all(a.path.same_as(b.path) for a, b in zip(plain.piece("front").ring, new.piece("front").ring, strict=True))


def test_a_shirt_tail_is_carried_along_by_a_change_of_length() -> None:
    """Longer at the line, then drawn, is drawn and then longer: changes to different places commute."""
    hem, longer = (shape_hem, {"shape": "curved", "rise": 60.0}), (lengthen_body, {"by": 50.0, "at": "line"})
    assert same_pieces(build(brief(), BODY, [hem, longer]), build(brief(), BODY, [longer, hem]))


@FEW
@given(a=st.floats(0, 120), b=st.floats(-60, 120), higher=st.sampled_from(["none", "left"]))
def test_a_drawn_hem_keeps_its_shape_when_the_body_is_lengthened_there(a: float, b: float, higher: str) -> None:
    """By a, then by b, is by both; and the sides end lower by just that."""
    body = hemmed(shape="curved", rise=50.0, higher=higher, by=60.0)

    def longer(garment: Garment, by: float) -> Garment:
        return lengthen_body.apply(garment, brief(), lengthen_body.options(by=by, at="hem"))

    assert same_pieces(longer(longer(body, a), b), longer(body, a + b), 1e-5)
    before, after = side_heights(body), side_heights(longer(body, a))
    assert {key: before[key] - after[key] for key in before} == pytest.approx(dict.fromkeys(before, a))


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("base", [PLAIN, TOP], ids=["turned", "banded"])
def test_a_changed_hem_proves_for_every_singer(voice: str, base: Any) -> None:
    """Turned or banded."""
    b = brief(voice)
    proof = prove(build(b, base, [(shape_hem, {"shape": "curved", "rise": 40.0, "higher": "right", "by": 60.0})]), b)
    assert proof.passed, [f.sentence for f in proof.findings]


def test_too_steep_a_hem_and_too_short_a_side_are_refused() -> None:
    """With what would help."""
    with pytest.raises(CannotDraft, match="hem: the hem would rise by"):
        hemmed(shape="curved", rise=150.0, longer_at_back=100.0)
    with pytest.raises(CannotDraft, match="below the underarm"):
        hemmed(higher="left", by=380.0)


@pytest.mark.parametrize("circle", ["half", "full"])
def test_a_circle_skirt_is_longer_at_the_back_alone(circle: str) -> None:
    """Its front stays as it is, its sides stay as long as each other, its back runs out to them without a corner."""
    plans = ((draft_circle_skirt, {"circle": circle}),)
    before, after = (build(brief(), plans, more) for more in ((), ((shape_hem, {"longer_at_back": 60.0}),)))
    front, back = "skirt-front", "skirt-back"
    assert after.piece(front).outline == before.piece(front).outline
    lows = [g.piece(back).outline.bounds[1] for g in (before, after)]
    assert lows[0] - lows[1] == pytest.approx(60.0, abs=1e-3)
    for role in (Role.SIDE, Role.WAIST):
        assert [ln.path for ln in after.piece(back).lines(role=role)] == [
            ln.path for ln in before.piece(back).lines(role=role)
        ]
    hem = find_hemline(after.piece(back))
    assert hem is not None
    assert not hem.path.corners()


def test_a_round_hem_has_no_side_to_be_higher() -> None:
    """What can't be drawn on it is refused with what can, instead of failing."""
    with pytest.raises(CannotDraft, match="runs round a circle"):
        build(brief(), ((draft_circle_skirt, {"circle": "full"}),), ((shape_hem, {"higher": "left"}),))
