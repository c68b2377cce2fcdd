"""Closures: how far a garment opens, and what then passes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.bodice import draft_knit_bodice
from blocks.darted_bodice import draft_darted_bodice
from blocks.skirt import draft_straight_skirt
from drafting.body import make_body
from drafting.changes.design.closure import open_closure, width_at
from drafting.changes.design.lengthen import lengthen_body
from drafting.changes.design.mirror import mirror_whole
from drafting.changes.design.style_line import draw_style_line
from drafting.errors import CannotDraft
from drafting.finishing import finish
from drafting.finishing.plan import FinishPlan
from drafting.garment import ClosureEnd, Face, Line, Piece, Role, Side, Step, openings
from drafting.geometry import Path, Point
from drafting.job import draft_job, finish_job
from drafting.proof import prove
from drafting.proof.fit.closures import ZIP_OFF, closure_rows
from drafting.saying import render
from drafting.ticket import find_catalogue
from drafting.work import make_up
from drafting.work.hemming import list_needs
from tests.body.people import GROUPS, people
from tests.garments import brief, build
from tests.kinds import kind as kind_of
from tests.laws.jobs import WEARER, job_from, job_of, with_changes
from tests.skirts.dressed import JERSEY, WOVEN, cloth_at, errors, skirt

INSTALLED = find_catalogue().find_mends
"""What the installed changes mend."""


PLACES = ["back", "left", "right"]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("kind", ["skirt", "circle-skirt", "flared-skirt"])
def test_a_skirt_opens_as_far_as_the_hips_need(place: str, kind: str) -> None:
    """The waist counts both edges of the opening: its length is the waist and twice the closure."""
    garment, b = skirt([kind, ("closure", {"place": place})])
    assert not errors(garment, b)
    length = garment.fact("closure_length")
    row = next(row for row in prove(garment, b).openings if row.opening == "waist")
    assert row.length == pytest.approx(b.body["waist_girth"] + 16.0 + 2.0 * length, abs=1e-3)
    assert row.length >= b.body["hip_girth"]
    assert garment.fact("closure_passes") >= b.body["hip_girth"]
    assert 120.0 <= length <= 230.0  # zips of 18 to 20 cm are the usual ones (common practice)


def test_girth_at_its_end_is_what_lies_there() -> None:
    """Of a straight skirt: the cloth at that height, darts left out."""
    garment, _b = skirt(["skirt", ("closure", {"place": "left", "length": 150.0})])
    top = max(ln.path.bounds[1] for p in garment.pieces for ln in p.lines("waist"))
    assert garment.fact("closure_passes") == pytest.approx(cloth_at(garment, top - 150.0), abs=0.5)


def test_a_width_is_whole_where_an_edge_is_parted_at_that_height() -> None:
    """Two lines meet at a closure's end: neither is counted twice, nor left out."""
    corners = [Point(0.0, 0.0), Point(200.0, 0.0), Point(200.0, 300.0), Point(0.0, 300.0), Point(0.0, 100.0)]
    ring = [
        Line(f"edge-{i}", Path.straight(a, b), Role.STYLE) for i, (a, b) in enumerate(pairwise([*corners, corners[0]]))
    ]
    assert width_at(Piece("panel", "Panel", tuple(ring)), 100.0) == pytest.approx(200.0)


def test_a_closure_runs_on_over_the_seam_of_a_hip_yoke() -> None:
    """As long as without it but for a centimetre, for the yoke's edge is curved; nothing else is open; it is proven."""
    steps = ["skirt", "closure", "waistband"]
    plain, _b = skirt(steps)
    made, b = skirt(steps, onto=[(draw_style_line, {"start": "side 0.22", "end": "side 0.22"})])
    assert made.fact("closure_length") == pytest.approx(plain.fact("closure_length"), abs=10.5)
    for edge in "ab":
        run = made.seam(f"closure-back-{edge}").plies[0]
        assert len({use.piece for use in run}) == 2
    assert len(openings(made)) == len(openings(plain))
    assert not errors(made, b)


@pytest.mark.parametrize("share", [0.28, 0.3])
def test_a_closure_that_ends_at_a_hip_yokes_seam_lets_the_hips_pass(share: float) -> None:
    """A yoke with darts taken up is turned on the paper: its closure is as long as without it all the same."""
    at = {"start": f"side {share}", "end": f"side {share}"}
    steps = ["skirt", ("closure", {"place": "left"}), "waistband"]
    body = make_body("someone", people("bodies_2012_women")[200], rules="women")
    (plain, _), (made, b) = skirt(steps, body), skirt(steps, body, onto=[(draw_style_line, at)])
    assert made.fact("closure_length") == pytest.approx(plain.fact("closure_length"), abs=10.5)
    assert made.fact("closure_passes") == pytest.approx(plain.fact("closure_passes"), rel=0.03)
    assert not errors(made, b)


@pytest.mark.parametrize("place", PLACES)
def test_too_short_a_closure_fails_the_proof(place: str) -> None:
    """6 cm open: the hips don't pass, and the proof says so."""
    garment, b = skirt(["skirt", ("closure", {"place": place, "length": 60.0})], "soprano")
    assert any("hips" in error for error in errors(garment, b))


@settings(max_examples=8, deadline=None, derandomize=True)
@given(st.floats(60.0, 300.0))
def test_both_edges_are_as_long_as_asked(length: float) -> None:
    """And what was one seam is that much shorter."""
    whole, _ = skirt(["skirt"])
    garment, _ = skirt(["skirt", ("closure", {"place": "right", "length": length})])
    before = whole.run_length(whole.seam("skirt-side-right").plies[0])
    after = [garment.run_length(run) for run in garment.seam("skirt-side-right").plies]
    assert after == pytest.approx([before - length] * 2, abs=1e-3)
    edges = [garment.run_length(garment.seam(f"closure-right-{x}").plies[0]) for x in "ab"]
    assert edges == pytest.approx([length] * 2, abs=1e-3)


def test_the_other_side_stays_as_it_was() -> None:
    """A closure on the right leaves the left side seam the very same."""
    whole, _ = skirt(["skirt"])
    garment, _ = skirt(["skirt", ("closure", {"place": "right"})])
    for piece in ("skirt-front", "skirt-back"):
        assert garment.piece(piece).line("side-left").path.same_as(whole.piece(piece).line("side-left").path)


@pytest.mark.parametrize("sewn", ["flat", "round"])
def test_a_side_closure_of_a_dress_is_an_opening_of_its_own(sewn: str) -> None:
    """It lies between underarm and hip, across the waist seam, which is sewn before the zip."""
    garment, b = skirt(
        ["skirt", ("waist-seam", {"sewn": sewn}), ("closure", {"place": "left"})],
        cloth=JERSEY,
        onto=[(draft_knit_bodice, {})],
    )
    assert not errors(garment, b)
    assert "placket-left" in {opening.name for opening in openings(garment)}
    order = [task.seam for task in make_up(garment)]
    waist = max(i for i, name in enumerate(order) if name.startswith("waist"))
    assert order.index("closure-left-a") > waist


def test_a_woven_bodice_closes_down_the_back() -> None:
    """Its neck then passes the head."""
    garment, b = skirt([("closure", {"length": 390.0})], onto=[(draft_darted_bodice, {})])
    assert not any("head" in error for error in errors(garment, b))


def test_a_closure_down_to_the_hem_is_refused() -> None:
    """Then nothing would hold the skirt together at that seam."""
    with pytest.raises(CannotDraft, match="down to the hem"):
        skirt([("skirt", {"length": 300.0}), ("closure", {"place": "left", "length": 400.0})])


@pytest.mark.parametrize("place", ["back", "left"])
def test_a_second_closure_at_one_place_is_refused(place: str) -> None:
    """In a sentence; at another place there may be one."""
    with pytest.raises(CannotDraft, match=f"there is a closure at the {place} already"):
        skirt(["skirt", ("closure", {"place": place}), ("closure", {"place": place})])
    garment, _ = skirt(["skirt", ("closure", {"place": place}), ("closure", {"place": "right"})])
    assert {"closure-right-a", f"closure-{place}-a"} <= {seam.name for seam in garment.seams}


def test_its_edges_get_the_allowance_of_a_zip() -> None:
    """2 cm at a centre back with a zip (3/4 in on a tape in inches; trade practice), unless something else is asked."""
    assert FinishPlan().allowance_of(kind_of("closure")) == pytest.approx(20.0)
    assert FinishPlan(allowances={"closure": 15.0}).allowance_of(kind_of("closure")) == 15.0
    garment, b = skirt(["skirt", "closure"])
    cut = finish(garment, FinishPlan())
    assert not errors(garment, b, cut)


@pytest.mark.parametrize(
    ("step", "words"), [(draft_darted_bodice, 'place = "back"'), (draft_straight_skirt, 'place = "back"')]
)
def test_a_woven_that_does_not_pass_is_told_to_open(step: Step[Any], words: str) -> None:
    """By the change's key and where; no woven is told to stretch by half, nor its neck to be lowered to the chest."""
    garment = build(brief(cloth=WOVEN), [(step, {})])
    remedies = [
        render(f.remedy, "cm")
        for f in prove(garment, brief(cloth=WOVEN), advisor=INSTALLED).findings
        if f.code == "openings.pass"
    ]
    assert remedies
    assert any('change = "closure"' in remedy and words in remedy for remedy in remedies)
    assert not any("stretch" in remedy or "lower the front neckline" in remedy for remedy in remedies)


def test_a_closure_that_is_too_short_is_told_to_be_longer() -> None:
    """A back opened by 8 cm: the neck's ring is still too small for the head, or the waist for the bust."""
    garment, b = skirt([("closure", {"length": 80.0})], onto=[(draft_darted_bodice, {})])
    remedies = [
        str(f.remedy)
        for f in prove(garment, b, advisor=INSTALLED).findings
        if f.code == "openings.pass" and "neck" in f.place
    ]
    assert all("greater length" in remedy for remedy in remedies)


def test_a_closure_mirrored_is_on_the_other_side() -> None:
    """Its two edges are those of the other side's seam; one at the centre back stays there."""
    garment, _ = skirt(["skirt", ("closure", {"place": "left"})])
    (closure,), (other,) = garment.closures, mirror_whole(garment).closures
    assert (closure.place, other.place) == (Side.LEFT, Side.RIGHT)
    assert other.seams == ("closure-right-a", "closure-right-b")
    assert (other.passes, other.button, other.hole) == (closure.passes, closure.button, closure.hole)
    assert replace(closure, place=Face.BACK).mirrored.place is Face.BACK


@pytest.mark.parametrize("number", [0, 300, 810])
def test_the_zip_of_a_dress_without_a_waist_seam_ends_at_about_hip_level(number: int) -> None:
    """Not 5 cm above the vent, which was 93 cm for everybody: where the hips pass; its end is marked on both edges."""
    body = make_body("someone", people("bodies_1988_women")[number], rules=GROUPS["bodies_1988_women"])
    b = brief(body, cloth=WOVEN)
    plans = [(lengthen_body, {"to": 980.0, "at": "hem"}), (open_closure, {})]
    garment = build(b, [(draft_darted_bodice, {"to": "hip"})], plans)
    (row,) = closure_rows(garment, b)
    assert row.beyond == 0.0
    assert row.bounds == (row.body + ZIP_OFF[0], row.body + ZIP_OFF[1])
    marks = [mark for piece in garment.pieces for mark in piece.of_kind(ClosureEnd)]
    assert [mark.name for mark in marks] == ["zip-end", "zip-end"]


def test_a_zip_far_below_the_hip_is_told() -> None:
    """A length of one's own may be anything; what is longer than the hips need is a warning."""
    b = brief("soprano", cloth=WOVEN)
    plans = [(lengthen_body, {"to": 980.0, "at": "hem"}), (open_closure, {"length": 700.0})]
    garment = build(b, [(draft_darted_bodice, {"to": "hip"})], plans)
    assert any(found.code == "fit.closure_end" for found in prove(garment, b).findings)


def test_where_a_zip_at_the_back_ends_is_not_told_of_one_at_a_side() -> None:
    """A second opening at a side ends on the back piece too, lower down."""
    b = brief("soprano", cloth=WOVEN)
    plans = [(lengthen_body, {"to": 980.0, "at": "hem"}), (open_closure, {})]
    one, two = (
        build(b, [(draft_darted_bodice, {"to": "hip"})], [*plans, *more])
        for more in ([], [(open_closure, {"place": "left"})])
    )
    assert [row.garment for row in closure_rows(two, b)] == [row.garment for row in closure_rows(one, b)]


@pytest.mark.parametrize("number", [0, 300, 810])
def test_the_sheath_ends_at_the_wearers_knee_with_vents_to_its_length(number: int) -> None:
    """At the middle of the knee, whatever the stature; the vents are half of what hangs below the hip."""
    body = make_body("someone", people("bodies_1988_women")[number], rules=GROUPS["bodies_1988_women"])
    b = brief(body, cloth=WOVEN)
    garment = draft_job(with_changes(job_of("sheath-dress"), [], b))
    facts = {fact.name: fact.value for fact in garment.facts}
    assert facts["body_length"] == pytest.approx(body["back_neck_point_height"] - body["knee_height"], abs=0.1)
    below = facts["body_length"] - body["back_neck_point_to_waist"] - body["waist_to_hip"]
    assert facts["vent_left"] == pytest.approx(below / 2.0, abs=15.0)


def test_a_yoke_that_is_eased_opens_at_the_back() -> None:
    """A seam across the back that holds ease is matched at the centre: halves of both sides are never sewn together."""
    yoke = [
        ("move-dart", {"dart": "shoulder", "to": "armhole 0.5"}),
        ("dart-to-seam", {"dart": "shoulder", "to": "other side", "name": "yoke"}),
    ]
    garment = draft_job(with_changes(job_of("fitted-bodice"), yoke, brief(cloth=WOVEN)))
    assert {opening.name for opening in openings(garment)} == {"hem", "neck", "wrist-left", "wrist-right"}
    neck = next(opening for opening in openings(garment) if opening.name == "neck")
    assert {use.piece for use in neck.run} >= {"back-left", "back-right"}


def test_a_zip_over_bodice_and_skirt_is_whole_centimetres_long() -> None:
    """Zips are sold so, and the rule may let one end a little lower."""
    job = with_changes(job_of("waist-seam-dress"), [], brief(cloth=WOVEN))
    length = draft_job(job).fact("closure_length")
    assert length % 10.0 == pytest.approx(0.0, abs=1e-6) or length % 10.0 == pytest.approx(10.0, abs=1e-6)


@pytest.mark.parametrize("kind", ["zip", "buttons"])
def test_a_bodice_to_the_waist_opens_down_to_its_lower_edge(kind: str) -> None:
    """Its waist doesn't pass over the bust: both edges are open from neck to waist, and each stays an opening."""
    woven = WEARER[: WEARER.index("[cloth]")] + '[cloth]\nkind = "woven"\nstretch_across = "2 %"\n'
    asked = f'[blocks.bodice]\nto = "waist"\n[[changes]]\nchange = "closure"\nkind = "{kind}"\n'
    job = job_from(f'builds_on = "fitted-bodice"\nleave_out = ["closure"]\nunit = "cm"\n{woven}{asked}')
    garment = draft_job(job)
    _, proof = finish_job(job, garment)
    assert proof.passed
    assert [opening.name for opening in openings(garment) if opening.name in ("neck", "hem")] == ["neck", "hem"]
    assert not any(piece.of_kind(ClosureEnd) for piece in garment.pieces)
    for seam in garment.closures[0].seams:
        whole = sum(line.path.length for line in garment.piece(garment.seam(seam).plies[0][0].piece).lines("centre"))
        assert garment.run_length(garment.seam(seam).plies[0]) == pytest.approx(whole)
    if kind == "zip":
        assert any("open-ended zip" in each for each in list_needs(garment, "cm"))


@pytest.mark.parametrize("more", [-4.0, 4.0])
def test_a_length_that_is_the_whole_backs_opens_it_to_the_edge(more: float) -> None:
    """As a tape measures it, to half a centimetre: the zip parts at its lower end, and the garment passes."""
    job = with_changes(job_of("fitted-bodice"), [], brief(cloth=WOVEN))
    whole = sum(line.path.length for line in draft_job(job).piece("back-left").lines("centre"))
    plain = replace(job, steps=tuple(each for each in job.steps if each.step.name != "closure"))
    garment = draft_job(with_changes(plain, [("closure", {"length": whole + more})]))
    (closure,) = garment.closures
    assert garment.run_length(garment.seam(closure.seams[0]).plies[0]) == pytest.approx(whole)
    assert not errors(garment, job.brief)


@pytest.mark.parametrize("by", [-150.0, -210.0])
def test_a_cropped_bodice_opens_through_its_hem(by: float) -> None:
    """Above the hip, or the waist, what is left doesn't pass over the bust: the back is parted, and worn as a coat."""
    job = with_changes(job_of("fitted-bodice"), [("lengthen", {"by": by})], brief(cloth=WOVEN))
    garment = draft_job(job)
    whole = sum(line.path.length for line in garment.piece("back-left").lines("centre"))
    (closure,) = garment.closures
    assert garment.run_length(garment.seam(closure.seams[0]).plies[0]) == pytest.approx(whole)
    assert not errors(garment, job.brief)
