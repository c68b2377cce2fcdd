"""An armhole cut in: nearer to the centre at the level of the across width, its ends where they were."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafting.changes.design.armhole import cut_in_armhole
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Role, Side, Width
from drafting.garment.armholes import hollow_of
from drafting.geometry import bends_back, bumps
from drafting.proof import prove
from drafting.proof.fit.hollows import FLATTER
from drafting.proof.fit.rows import fit_rows
from tests.changes.halves_alike import assert_alike, assert_side_untouched
from tests.garments import BODY, SINGERS, TOP, brief, build


def width(garment: Garment, face: str, side: str) -> float:
    """From the centre to an armhole, on the line itself, at the across level's height."""
    piece = garment.piece(face)
    y = next(level.path.start.y for level in piece.levels if level.name == f"across-{face}")
    path = piece.line(f"armhole-{side}").path
    return min(abs(path.at(s).x) for s in path.cross_level(y))


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("by", [6.0, -2.0])
def test_it_is_cut_in_by_as_much_and_the_top_proves(voice: str, by: float) -> None:
    """On both faces and sides; the sleeve is drafted for the armhole that is there."""
    b = brief(voice)
    before, after = build(b, TOP), build(b, TOP, [(cut_in_armhole, {"by": by})])
    for face in ("front", "back"):
        for side in ("left", "right"):
            assert width(before, face, side) - width(after, face, side) == pytest.approx(by, abs=1e-3)
            old, new = (g.piece(face).line(f"armhole-{side}").path for g in (before, after))
            assert new.start.near(old.start)
            assert new.end.near(old.end)
            assert (bends_back(new), bumps(new) <= 1) == (0, True)
    assert prove(after, b).passed


@pytest.mark.parametrize(("face", "moved"), [("front", 0.0), ("back", 8.0), ("both", 8.0)])
def test_only_the_face_asked_for_is_cut_in(face: str, moved: float) -> None:
    """A front cut in leaves the across back and its aim."""
    b = brief("bass")
    before = build(b, BODY)
    after = build(b, BODY, [(cut_in_armhole, {"by": 8.0, "on": face, "side": "left"})])
    assert width(before, "back", "left") - width(after, "back", "left") == pytest.approx(moved, abs=1e-3)
    old, new = ({a.measure: a.ease for a in g.aims}[Width("across-back")] for g in (before, after))
    assert old - new == pytest.approx(moved, abs=1e-3)
    assert_side_untouched(before, after, Side.RIGHT)
    assert prove(after, b).passed


def test_limits_move_by_what_an_armhole_is_cut_in_and_no_more() -> None:
    """Its least width stays the arm's; its most width and length, and the across front's limits, move with the cut."""
    b = brief()
    b = replace(b, body=replace(b.body, estimated={}))
    plain, cut = (
        {row.name: row.bounds for row in fit_rows(build(b, BODY, changes), b)}
        for changes in ([], [(cut_in_armhole, {"by": 6.0})])
    )
    for name, low, high in [
        ("across_front_width", -12.0, -12.0),
        ("armhole_width", 0.0, 12.0),
        ("armhole_length", 0.0, 12.0),
    ]:
        moved = [after - before for before, after in zip(plain[name], cut[name], strict=True) if before and after]
        assert moved == pytest.approx([low, high], abs=1e-3)


@pytest.mark.parametrize("voice", SINGERS)
def test_a_back_cut_in_far_is_narrowest_at_its_across_width(voice: str) -> None:
    """At 0.40 of its height or higher (common practice), and longer by hardly more than its front is: none hooks."""
    b = brief(voice)
    before, after = build(b, BODY), build(b, BODY, [(cut_in_armhole, {"by": 20.0})])
    front, back = (after.piece(face).line("armhole-left").path for face in ("front", "back"))
    points = back.flatten()
    low, high = points[:, 1].min(), points[:, 1].max()
    assert points[abs(points[:, 0]).argmin(), 1] >= low + 0.40 * (high - low)
    grown = [after.piece(face).line("armhole-left").path.length - before.piece(face).line("armhole-left").path.length
             for face in ("front", "back")]  # fmt: skip
    assert max(grown) < 1.5 * 20.0
    assert hollow_of(front) > hollow_of(back) - FLATTER - 2.0


def test_too_deep_a_cut_is_refused() -> None:
    """There is no fair curve for it."""
    with pytest.raises(CannotDraft, match="no fair armhole") as error:
        build(brief(), BODY, [(cut_in_armhole, {"by": 60.0})])
    assert error.value.step == "cut-in-armhole"
    assert error.value.short_by > 0.0


@pytest.mark.parametrize("fit", list(Fit))
@pytest.mark.parametrize("voice", SINGERS)
def test_by_rule_it_is_cut_in_by_a_centimetre_or_as_much_as_is_fair(voice: str, fit: Fit) -> None:
    """Each half says how much that was, without a figure asked by anyone; cut in further, the shoulder gets shorter."""
    b = brief(voice, fit)
    before, after = build(b, BODY), build(b, TOP, [(cut_in_armhole, {})])
    for face, most in (("front", 10.0), ("back", 7.0)):
        by = width(before, face, "left") - width(after, face, "left")
        assert 1.0 <= by <= most + 1e-3
        assert after.fact(f"armhole_cut_in_{face}_left") == pytest.approx(by, abs=0.05)
        if by < most - 0.1 and not _inset(after):
            assert _inset(build(b, BODY, [(cut_in_armhole, {"by": by + 0.2, "on": face})])) > 0.0
    rows = [row for row in fit_rows(after, b) if row.name in ("armhole_end", "armhole_hollow")]
    assert len(rows) == 4
    assert not any(row.beyond for row in rows)
    assert prove(after, b).passed


def _inset(garment: Garment) -> float:
    """By how much the left shoulder was made shorter for the armhole to be fair."""
    return sum(fact.value for fact in garment.facts if fact.name == "shoulder_narrowed_left")


def test_where_no_fair_armhole_comes_so_near_its_shoulder_gets_shorter() -> None:
    """By as little as lets one, alike in front and back: the shoulder seam still goes together."""
    b = brief("soprano", Fit.CLOSE)
    before, after = build(b, BODY), build(b, TOP, [(cut_in_armhole, {"by": 12.0})])
    assert 0.0 < _inset(after) <= 20.0
    for face in ("front", "back"):
        assert width(before, face, "left") - width(after, face, "left") == pytest.approx(12.0, abs=0.1)
        old, new = (garment.piece(face).lines(role=Role.SHOULDER, side=Side.LEFT)[0] for garment in (before, after))
        assert old.path.length - new.path.length == pytest.approx(_inset(after), abs=1e-6)
    assert prove(after, b).passed


@given(a=st.floats(-6.0, 6.0), b=st.floats(-6.0, 6.0))
@settings(derandomize=True, deadline=None, max_examples=15)
def test_cutting_in_twice_is_cutting_in_by_the_sum(a: float, b: float) -> None:
    """By a and then by b is by a + b."""
    assume(a and b and a + b)
    stuff = brief("bass")
    twice = build(stuff, BODY, [(cut_in_armhole, {"by": a}), (cut_in_armhole, {"by": b})])
    assert_alike(twice, build(stuff, BODY, [(cut_in_armhole, {"by": a + b})]))


@pytest.mark.parametrize("voice", SINGERS)
@given(by=st.floats(-20.0, 30.0))
@settings(derandomize=True, deadline=None, max_examples=12)
def test_a_cut_in_armhole_is_fair_or_refused_with_a_way_out(voice: str, by: float) -> None:
    """No armhole that is square at the underarm, or much longer for little width; the refusal names a change."""
    b = brief(voice)
    plain = build(b, BODY)
    after, refusal = cut_or_refused(b, by)
    if refusal is not None:
        assert 'change = "shoulder"' in refusal.help or by == 0.0
        return
    assert not [f for f in prove(after, b).findings if f.code in ("outlines.bend", "outlines.bump")]
    old, new = (sum(g.piece(f).line("armhole-left").path.length for f in ("front", "back")) for g in (plain, after))
    assert new <= 1.2 * old


def cut_or_refused(b: Brief, by: float) -> tuple[Garment, CannotDraft | None]:
    """The body with its left armhole cut in, or why not."""
    try:
        return build(b, BODY, [(cut_in_armhole, {"by": by, "side": "left"})]), None
    except CannotDraft as refusal:
        return Garment(), refusal
