"""The ease of a knit body: over the hip by what becomes of its hem, over the bust along the side of its front."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.arm import widest_armhole
from blocks.band import draft_hem_band
from blocks.bodice import draft_knit_bodice
from blocks.bodice_half import BodiceOptions
from drafting.body import make_body
from drafting.cloth import Fit, ease_for
from drafting.garment import Garment, Level, Side, begin_garment
from drafting.garment.armholes import hollow_of, take_armhole
from drafting.proof import prove
from drafting.proof.checks.openings import opening_rows
from drafting.proof.checks.waists import check_waists
from drafting.proof.fit import FitRow, fit_rows
from drafting.proof.fit.hollows import hollow_rows
from drafting.proof.fit.lengths import length_rows
from drafting.proof.fit.widths import width_rows
from tests.garments import BODY, SINGERS, TOP, brief, build, singer
from tests.laws.strategies import surveyed

VOICES = pytest.mark.parametrize("voice", SINGERS)


def girth(garment: Garment, name: str) -> float:
    """What all levels of a name measure together."""
    return sum(v.path.length for p in garment.pieces for v in p.of_kind(Level) if v.name == name)


def rows_of(garment: Garment, voice: str, fit: Fit = Fit.SEMI) -> dict[str, FitRow]:
    """The rows of the lower edge."""
    return {row.name: row for row in fit_rows(garment, brief(voice, fit)) if row.place == "hem"}


@VOICES
@pytest.mark.parametrize("fit", [Fit.SEMI, Fit.RELAXED])
def test_a_turned_hem_has_2_to_5_cm_of_ease_and_a_band_needs_none(voice: str, fit: Fit) -> None:
    """At the hip, and at the hem (from memory); under a band what the fit gives."""
    hip, b = singer(voice)["hip_girth"], brief(voice, fit)
    turned, banded = build(b, BODY), build(b, TOP)
    assert 20.0 <= girth(turned, "hip") - hip <= 50.0 + 1e-6
    assert girth(banded, "hip") - hip == pytest.approx(ease_for(fit, b.cloth, b.body).hip)
    assert rows_of(turned, voice, fit)["hem_width"].beyond == 0.0
    assert rows_of(banded, voice, fit)["hem_width"].least is None


@VOICES
def test_a_close_one_is_smaller_by_one_share_from_the_waist_down(voice: str) -> None:
    """So that it clings; its waist is the body's where a band holds it."""
    b = brief(voice, Fit.CLOSE)
    turned, banded = build(b, BODY), build(b, TOP)
    waist, hip = (girth(turned, name) / b.body[f"{name}_girth"] for name in ("waist", "hip"))
    assert waist == pytest.approx(hip) != 1.0
    assert girth(banded, "waist") == pytest.approx(b.body["waist_girth"])


def test_a_close_waist_passes_over_the_bust() -> None:
    """Stretched, with 1 cm to spare (from memory): it clings less where the bust is full. It is told with openings."""
    rules, given = SINGERS["alto"]
    b = brief(make_body("alto", {**given, "bust_girth": 1000.0, "waist_girth": 770.0}, rules=rules), Fit.CLOSE)
    garment = build(b, BODY)
    (row,) = (row for row in opening_rows(garment, b, ()) if row.opening == "waist")
    assert row.reach == pytest.approx(girth(garment, "waist") * (1.0 + b.cloth.stretch_across))
    assert row.spare == pytest.approx(10.0, abs=0.5)
    tight = replace(row, reach=row.must_pass + 2.0), replace(row, reach=row.must_pass - 2.0)
    assert [found.code for found in check_waists(garment, b, tight)] == ["openings.spare", "openings.pass"]


@pytest.mark.parametrize(("below", "code"), [(10.0, "fit.hem_clear"), (60.0, "")])
def test_a_close_hem_on_the_fullest_of_the_hip_is_found(below: float, code: str) -> None:
    """5 cm above or below it, at least (from memory), it holds where it is."""
    b = brief("alto", Fit.CLOSE)
    codes = [
        f.code
        for f in prove(build(b, ((draft_knit_bodice, {"below_hip": below}),)), b).findings
        if f.code.startswith("fit.hem")
    ]
    assert codes == ([code] if code else [])


def test_a_turned_hem_that_catches_on_the_hip_is_found() -> None:
    """A body drafted for a band, whose band is left out, is no wider than the hip at its hem."""
    b = brief("soprano")
    caught = draft_knit_bodice.apply(begin_garment([draft_hem_band]), b, BodiceOptions())
    assert rows_of(caught, "soprano")["hem_width"].beyond < 0.0
    assert "fit.hem_width" in [f.code for f in prove(caught, b).findings]


@pytest.mark.parametrize(("more", "eased"), [(-30.0, 0.0), (0.0, 0.0), (14.0, 7.9), (40.0, 12.0)])
def test_a_front_short_over_the_bust_is_drawn_out_and_eased(more: float, eased: float) -> None:
    """Beyond 8 mm, which a knit gives in its length, by up to 12 mm a side (common practice); the back stays.

    One that is longer than the body's is drafted lower over the chest: no front is left long by more than 8 mm.
    """
    rules, given = SINGERS["soprano"]
    length = singer("soprano")["side_neck_point_to_waist_over_bust"]
    b = brief(make_body("soprano", {**given, "side_neck_point_to_waist_over_bust": length + more}, rules=rules))
    garment = build(b, TOP)
    sides = [[garment.run_length(run) for run in garment.seam(f"side-{side}").plies] for side in ("left", "right")]
    for front, back in sides:
        assert front - back == pytest.approx(eased, abs=0.9)
    row = next(row for row in length_rows(garment, b) if row.name == "front_over_bust")
    assert -20.1 < row.off < 8.5 or more == 40.0
    assert prove(garment, b).passed


@pytest.mark.parametrize(("narrower", "followed"), [(0.0, True), (50.0, True), (60.0, True), (130.0, False)])
def test_a_measured_across_front_is_drafted(narrower: float, followed: bool) -> None:
    """As measured, the armhole's back no shorter than its front; one that can't be followed is told, for both."""
    rules, given = SINGERS["alto"]
    across = singer("alto")["across_back_width"] - narrower
    b = brief(make_body("alto", {**given, "across_front_width": across}, rules=rules))
    garment = build(b, TOP)
    row = next(row for row in width_rows(garment, b) if row.name == "across_front_width")
    assert row.most is not None
    assert row.meant + row.most >= 0.0  # none that isn't wider than the body is too wide
    assert (row.beyond == 0.0) is followed
    assert ("fit.across_front_width" in [f.code for f in prove(garment, b).findings]) is not followed
    front, back = (garment.piece(face).line("armhole-left").path.length for face in ("front", "back"))
    assert (back > front - 0.5) is followed
    assert ("fit.armhole_back" in [f.code for f in prove(garment, b).findings]) is not followed


@pytest.mark.parametrize("fit", list(Fit))
def test_a_broad_chest_is_as_wide_between_short_shoulders(fit: Fit) -> None:
    """The front is the body's width across, and its fit's ease, where that reaches beyond the shoulders' ends too."""
    rules, given = SINGERS["alto"]
    across = singer("alto")["across_back_width"] - 20.0
    broad = {
        "across_back_width": across + 10.0,  # a front as wide as its back would be no hollower
        "across_front_width": across,
        "shoulder_length": 105.0,
        "upper_arm_girth": 290.0,
    }
    b = brief(make_body("alto", {**given, **broad}, rules=rules), fit)
    garment = build(b, BODY)
    front = garment.piece("front")
    assert across / 2.0 > front.line("shoulder-left").path.bounds[2]
    wide = next(level.path.length for level in front.levels if level.name == "across-front")
    assert wide == pytest.approx(across + ease_for(fit, b.cloth, b.body).across_back, abs=0.1)
    assert not any(row.beyond for row in hollow_rows(garment, b))


@pytest.mark.parametrize("fit", list(Fit))
@pytest.mark.parametrize("broader", [0.0, 30.0, 60.0])
def test_a_back_however_broad_comes_in_from_its_shoulders_end(broader: float, fit: Fit) -> None:
    """By 5 mm at least, and its front by more (from memory); its shoulder is no longer than the bone by over 1 cm."""
    rules, given = SINGERS["tenor"]
    across = singer("tenor")["across_back_width"] + broader
    b = brief(make_body("tenor", {**given, "across_back_width": across}, rules=rules), fit)
    garment = build(b, BODY)
    front, back = (garment.piece(face).line("armhole-left").path for face in ("front", "back"))
    inset = {path: abs(path.end.x if path.end.y > path.start.y else path.start.x) - abs(path.flatten()[:, 0]).min()
             for path in (front, back)}  # fmt: skip
    assert inset[back] > 4.9
    assert inset[front] > inset[back] or broader == 0.0
    assert hollow_of(front) > hollow_of(back)
    assert sum(fact.value for fact in garment.facts if fact.name == "shoulder_lengthened") <= 15.0


def test_a_full_busts_armhole_is_narrower_for_a_shoulder_that_is_longer() -> None:
    """Its end lay far in, and the armhole stood off beside the arm: by at most 1.5 cm, a relaxed one's by more."""
    rules, given = SINGERS["alto"]
    body = make_body("alto", {**given, "bust_girth": 1100.0, "shoulder_length": 125.0}, rules=rules)
    longer = {}
    for fit in Fit:
        garment = build(brief(body, fit), BODY)
        (fact,) = [fact.value for fact in garment.facts if fact.name == "shoulder_lengthened"] or [0.0]
        longer[fit] = fact
        taken = take_armhole(garment, Side.LEFT)
        assert taken is not None
        assert taken.width < widest_armhole(brief(body, fit)) + 25.0
    assert longer[Fit.RELAXED] > longer[Fit.CLOSE]
    assert 0.0 < longer[Fit.RELAXED] <= 15.0


def test_the_across_front_is_held_to_the_body_whatever_the_arm_took() -> None:
    """By one limit: a knit gives 2 cm (from memory), beyond which it is told, in a note up to 4.5 cm."""
    rules, given = SINGERS["alto"]
    across = {"across_front_width": singer("alto")["across_back_width"] - 20.0}
    limits = set()
    for arm in (260.0, 330.0):
        b = brief(make_body("alto", {**given, **across, "upper_arm_girth": arm}, rules=rules))
        row = next(row for row in width_rows(build(b, BODY), b) if row.name == "across_front_width")
        limits.add((row.meant, row.least, row.most))
    assert limits == {(0.0, -20.0, 30.0)}


@pytest.mark.parametrize("row", [111, 335])
def test_a_close_back_is_drawn_in_no_farther_than_half_the_stretch(row: int) -> None:
    """At rest, and its shoulder ends at most 2.5 cm inside the bone (from memory); one drawn in farther is told."""
    b = brief(surveyed("bodies_2012_women" if row == 111 else "bodies_1988_women", row), Fit.CLOSE)
    top = build(b, TOP)
    held = {r.name: r for r in fit_rows(top, b) if r.name in ("across_back_width", "shoulder_length")}
    least = b.body["across_back_width"] / (1.0 + 0.5 * b.cloth.stretch_across)
    assert held["across_back_width"].garment >= least
    assert held["across_back_width"].bounds[0] == pytest.approx(least, abs=25.0)
    assert held["shoulder_length"].off >= -25.0
    assert replace(held["shoulder_length"], garment=b.body["shoulder_length"] - 30.0).beyond < 0.0
