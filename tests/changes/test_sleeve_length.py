"""Sleeves longer and shorter, by name, by an amount, to a finished length; one side alone."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.band import draft_neck_band
from blocks.sleeve import draft_set_in_sleeve
from drafting.changes.sleeve.length import change_sleeve_length
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role
from drafting.proof import Severity, prove
from drafting.redraw.sleeves import arm_length
from tests.blocks_woven.people import brief_for, mean_person, sleeved
from tests.changes.test_lengthen import same_pieces
from tests.garments import BODY, SINGERS, SLEEVED, TOP, brief, build
from tests.laws.jobs import WEARER, job_from

FEW = settings(max_examples=12, derandomize=True, deadline=None)
PLAIN = (*SLEEVED, (draft_neck_band, {}))


def changed(garment: Garment, **options: Any) -> Garment:
    """Change a drafted garment once more."""
    return change_sleeve_length.apply(garment, brief(), change_sleeve_length.options(**options))


@FEW
@given(at=st.sampled_from(["line", "hem"]), a=st.floats(-60, 60), b=st.floats(-60, 60))
def test_longer_by_a_then_by_b_is_longer_by_both(at: str, a: float, b: float) -> None:
    """Straight underarm seams stay straight, and the lower edge is drawn afresh."""
    top = build(brief(), SLEEVED)
    assert same_pieces(changed(changed(top, by=a, at=at), by=b, at=at), changed(top, by=a + b, at=at))


@FEW
@given(
    options=st.sampled_from([{"to": "short"}, {"by": 40.0}, {"by": -70.0, "at": "line"}]),
    side=st.sampled_from(["left", "right"]),
)
def test_one_side_leaves_the_other_as_it_was(options: dict[str, Any], side: str) -> None:
    """The very same piece; the changed one keeps its cap."""
    top = build(brief(), SLEEVED)
    new = changed(top, side=side, **options)
    for piece in top.pieces:
        if piece.name != f"sleeve-{side}":
            assert new.piece(piece.name) is piece
    sleeve = new.piece(f"sleeve-{side}")
    assert sleeve.lines(role=Role.CAP) == top.piece(sleeve.name).lines(role=Role.CAP)
    assert all(ln.path.is_straight for ln in sleeve.lines(role=Role.UNDERARM))


def test_both_sides_is_left_and_right_in_either_order() -> None:
    """Changes to different places commute."""
    top = build(brief(), SLEEVED)
    both = changed(top, to="elbow")
    one = changed(changed(top, to="elbow", side="left"), to="elbow", side="right")
    two = changed(changed(top, to="elbow", side="right"), to="elbow", side="left")
    assert both.pieces == one.pieces == two.pieces


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize(
    "options",
    [{"to": n} for n in ("long", "bracelet", "elbow", "short")]
    + [{"by": -80.0, "at": "line"}, {"by": 60.0, "at": "hem"}],
    ids=str,
)
def test_a_changed_sleeve_proves_for_every_singer(voice: str, options: dict[str, Any]) -> None:
    """The lower edge runs on smoothly across the underarm seam, whose two sides agree."""
    b = brief(voice)
    proof = prove(build(b, PLAIN, [(change_sleeve_length, options)]), b)
    assert proof.passed, [f.sentence for f in proof.findings]


def test_an_elbow_sleeve_ends_at_the_elbow_of_the_survey() -> None:
    """ANSUR II (NATICK/TR-15/007, 2014): acromion to elbow over acromion to wrist, 5th to 95th percentile."""
    b = brief()
    top = build(b, SLEEVED, [(change_sleeve_length, {"to": "elbow"})])
    sleeve = top.piece("sleeve-left")
    length = sleeve.outline.bounds[3] - sleeve.line("wrist").path.start.y
    assert 0.545 <= length / arm_length(b) <= 0.583
    assert sleeve.line("wrist").path.start.y == pytest.approx(sleeve.line("wrist").path.end.y)
    assert not sleeve.adjusts or sleeve.adjusts[0].path.start.y > sleeve.line("wrist").path.start.y + 30.0


def test_room_is_left_for_a_cuff() -> None:
    """With its cuff a bracelet sleeve is 7/8 of the arm."""
    b = brief()
    top = build(b, TOP, [(change_sleeve_length, {"to": "bracelet", "cuff": 70.0})])
    assert top.fact("sleeve_length_left") + 70.0 == pytest.approx(0.875 * arm_length(b))
    assert prove(top, b).passed


def test_a_finished_length_is_met_on_one_side() -> None:
    """Shoulder point to lower edge."""
    top = build(brief(), SLEEVED, [(change_sleeve_length, {"length": 300.0, "side": "right"})])
    sleeve = top.piece("sleeve-right")
    assert sleeve.outline.bounds[3] - sleeve.line("wrist").path.start.y == pytest.approx(300.0)


@pytest.mark.parametrize(
    ("options", "because"),
    [
        ({}, ("to", "by", "length")),
        ({"to": "long", "by": 10.0}, ("to", "by", "length")),
        ({"length": 130.0}, ("to", "by", "length")),
        ({"by": -330.0, "at": "line"}, ("at",)),
        ({"by": 390.0, "at": "hem"}, ("hand_girth",)),
    ],
)
def test_what_cannot_be_is_refused(options: dict[str, Any], because: tuple[str, ...]) -> None:
    """With the change's name and what stands in the way."""
    with pytest.raises(CannotDraft) as refused:
        build(brief(), SLEEVED, [(change_sleeve_length, options)])
    assert (refused.value.step, *refused.value.because) == ("sleeve-length", *because)


def test_a_sleeve_that_is_not_there_is_missed() -> None:
    """Asked for by name."""
    with pytest.raises(CannotDraft, match="no right sleeve"):
        build(
            brief(),
            BODY,
            [(draft_set_in_sleeve, {"arm": "left"}), (change_sleeve_length, {"to": "short", "side": "right"})],
        )


@pytest.mark.parametrize("to", ["bracelet", "elbow", "short"])
def test_a_shortened_woven_sleeve_keeps_a_hem_that_turns_up(to: str) -> None:
    """Its lower edge is straight, its seams meet it side by side and are of one length."""
    asked = brief_for(mean_person())
    garment = change_sleeve_length.apply(sleeved(asked), asked, change_sleeve_length.options(to=to))
    sleeve = garment.piece("sleeve-left")
    assert sleeve.line("wrist").path.is_straight
    angles = []
    for line in sleeve.ring:
        after = sleeve.after(line.name)
        if {line.role, after.role} == {Role.WRIST, Role.UNDERARM}:
            angles.append(line.path.tangent(line.path.length).cross(after.path.tangent(0.0)))
    assert all(square > 0.98 for square in angles)
    front, back = garment.seam("underarm-left").plies
    assert garment.run_length(front) == pytest.approx(garment.run_length(back), abs=0.01)


def test_a_tapering_sleeve_is_lengthened_at_its_line() -> None:
    """By 4 cm: its seams leave the underarm as they did, so that the cap's edge runs on smoothly, and curve in."""
    for fit in Fit:
        asked = brief("soprano", fit)
        before = build(asked, SLEEVED, ((change_sleeve_length, {"to": "short"}),))
        after = change_sleeve_length.apply(before, asked, change_sleeve_length.options(by=40.0, at="line"))
        assert after.fact("sleeve_longer_left") == 40.0
        assert not [f for f in prove(after, asked).findings if f.severity is Severity.ERROR]


def test_a_length_by_name_leaves_room_for_the_cuffs_that_follow() -> None:
    """With them the sleeve of a knit top ends where it was drafted to, at the wrist; it ended a cuff below that."""
    wearer = brief("alto")
    cuffed = replace(wearer, lengthened={Role.WRIST: 70.0})
    top = build(wearer, SLEEVED)
    arm = arm_length(wearer)
    step = change_sleeve_length
    asked: tuple[tuple[dict[str, Any], float], ...] = (
        ({"to": "long"}, arm - 70.0),
        ({"to": "long", "cuff": 0.0}, arm),
        ({"length": 500.0}, 430.0),
    )
    for options, length in asked:
        new = step.apply(top, cuffed, step.options(**options))
        told = {fact.name: fact.value for fact in new.facts}
        assert told["sleeve_length_left"] == pytest.approx(length, abs=0.01)
    job = job_from('builds_on = "knit-top"\nunit = "cm"\n[blocks.cuffs]\nheight = 5\n' + WEARER)
    assert job.brief.lengthened == {Role.WRIST: 50.0}
