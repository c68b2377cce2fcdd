"""One thing broken at a time in fit, cloth and openings: the right finding appears, with the right number."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.body import Body
from drafting.cloth import Cloth, ClothNeeds, Fit, Kind, hand_passage
from drafting.garment import Aim, Brief, Girth, Solve
from drafting.garment.carry import with_features
from drafting.geometry import Affine
from drafting.proof import Severity, prove
from drafting.proof.checks.openings import BAND_SEAM
from drafting.saying import render
from tests.proof.box_top import HALF, box_top, brief
from tests.proof.reading import codes, grave, one


def with_body(asked: Brief, **values: float) -> Brief:
    """The brief for a body with other measurements."""
    body = asked.body
    return replace(asked, body=Body(body.name, {**body.values, **values}, body.estimated))


def with_aim(measure: Girth, body: float, ease: float):
    """The box top with one aim alone."""
    return replace(box_top(), aims=(Aim(measure, measure.name, body, ease),))


def test_ease_that_wasnt_got():
    """Ease got and ease asked stand beside each other, within half a millimetre."""
    found = one(prove(with_aim(Girth("bust"), 900.0, 57.0), brief()), "ease.asked")
    assert (found.value, found.limit) == pytest.approx((60.0, 57.0))
    assert "ease.asked" not in codes(prove(with_aim(Girth("bust"), 900.0, 60.4), brief()))


def test_a_measure_that_no_piece_shows():
    """An aim whose level isn't drawn can't be proved, which is an error."""
    assert one(prove(with_aim(Girth("knee"), 400.0, 0.0), brief()), "ease.missing").place == "girth:knee"


def test_the_later_aim_counts():
    """A change that asks for other ease states the aim again."""
    top = box_top().with_(aims=[Aim(Girth("bust"), "bust", 920.0, 10.0)])
    assert one(prove(top, brief()), "ease.asked").limit == 10.0


@pytest.mark.parametrize(("body", "severity"), [(1060.0, None), (1080.0, Severity.WARNING), (1210.0, Severity.ERROR)])
def test_negative_ease_against_the_stretch(body: float, severity: Severity | None):
    """Finished x (1 + s) >= body allows s/(1+s), 20 % at a stretch of 25 % (arithmetic); more than half of it warns."""
    finished = 4 * HALF
    proof = prove(with_aim(Girth("bust"), body, finished - body), brief())
    found = [f for f in proof.findings if f.code == "ease.stretch"]
    assert [f.severity for f in found] == ([severity] if severity else [])
    if severity:
        assert found[0].value == pytest.approx((body - finished) / body)
        assert found[0].limit == pytest.approx(0.2 if severity is Severity.ERROR else 0.1)


def test_the_reduction_that_just_reaches():
    """The greatest reduction is where the stretched garment measures the body, to a hair on either side."""
    finished = 4 * HALF
    for more, severity in ((-0.5, Severity.WARNING), (0.5, Severity.ERROR)):
        body = finished * 1.25 + more
        assert one(prove(with_aim(Girth("bust"), body, finished - body), brief()), "ease.stretch").severity is severity


def test_a_head_that_doesnt_pass():
    """Neck x (1 + stretch) < head: told with both figures and two ways to mend it."""
    proof = prove(box_top(), with_body(brief(), head_girth=780.0))
    found = one(proof, "openings.pass", "neck")
    assert found.limit == 780.0
    row = next(r for r in proof.openings if r.opening == "neck" and r.edge == BAND_SEAM)
    assert found.value == pytest.approx(row.length * 1.25)
    assert "lower the front neckline by about 2.5 cm" in render(found.remedy, "cm")
    assert "35 % stretch" in render(found.remedy, "cm")


def test_a_band_that_doesnt_pass_the_head():
    """The band's own cloth decides at its edge; 25 % passes at this neck, 0 % doesn't."""
    stiff = replace(brief(), cloths={"rib": Cloth(stretch_across=0.0)})
    proof = prove(box_top(), with_body(stiff, head_girth=560.0))
    found = one(proof, "openings.pass", "neck, outer edge")
    assert found.severity is Severity.ERROR
    assert found.value == pytest.approx(next(r.length for r in proof.openings if r.opening == "neck"))


def test_a_hand_that_doesnt_pass():
    """A cuff below the hand's girth is an error; between the hand and the hand with its thumb, a warning."""
    reach = next(r for r in prove(box_top(), brief()).openings if r.opening == "wrist-left").reach
    for hand, severity in ((reach + 2.0, Severity.ERROR), (reach - 20.0, Severity.WARNING)):
        found = one(prove(box_top(), with_body(brief(), hand_girth=hand)), "openings.pass", "wrist-left, outer")
        assert (found.severity, found.limit) == (severity, pytest.approx(hand_passage(hand)))


def test_hips_that_dont_pass():
    """A hem that covers the hip must reach round it."""
    top = box_top()
    front = top.piece("front")
    covering = with_features(front, [replace(level, name="hip") for level in front.levels if level.name == "seat"])
    found = one(prove(top.with_(pieces=[covering]), with_body(brief(), hip_girth=1300.0)), "openings.pass", "hem")
    assert (found.value, found.limit) == pytest.approx((4 * HALF * 1.25, 1300.0))


def test_an_armhole_smaller_than_the_arm():
    """The armhole of a semi-fitted draft is never less than the armscye girth; a close one may be."""
    tight = with_body(brief(), armscye_girth=480.0)
    found = one(prove(box_top(), tight), "openings.armhole", "left")
    assert (found.value, found.limit) == (pytest.approx(463.6, abs=0.5), 480.0)
    assert "openings.armhole" not in codes(prove(box_top(), replace(tight, fit=Fit.CLOSE)))


def test_a_band_that_cant_stretch_to_its_edge():
    """A neck band of 90 % needs a stretch of 1/0.9 - 1; without it the band rule fails."""
    stiff = replace(brief(), cloths={"rib": Cloth(stretch_across=0.05)})
    found = one(prove(box_top(), stiff), "bands.rule", "neck-band")
    rows = prove(box_top(), stiff).openings
    neck = next(r.length for r in rows if (r.opening, r.edge) == ("neck", BAND_SEAM))
    assert found.severity is Severity.ERROR
    assert (found.value, found.limit) == pytest.approx((0.9 * neck, neck / (1.0 + 0.05 * 0.95)))


def test_a_wide_band_on_a_round_neck_gapes():
    """A band of width w lies flat at L - 2 pi w on a round neck (derived): 60 mm wide, this one stands away."""
    top = box_top()
    band = top.piece("neck-band")
    wide = tuple(replace(line, path=line.path.transformed(Affine(yy=6.0))) for line in band.ring)
    found = one(prove(top.with_(pieces=[replace(band, ring=wide)]), brief()), "bands.rule", "neck-band")
    assert found.severity is Severity.WARNING
    assert found.value is not None
    assert found.limit == pytest.approx(found.value / 0.9 - 2 * 3.14159265 * 60.0, abs=0.5)


def test_cloth_that_cant_serve():
    """A design says what it needs; a cloth that fails is refused with the figure."""
    top = replace(box_top(), needs=ClothNeeds(Kind.KNIT, 0.3))
    found = one(prove(top, brief()), "cloth.stretch_across")
    assert (found.value, found.limit) == (0.25, 0.3)
    woven = replace(brief(), cloth=Cloth(kind=Kind.WOVEN, stretch_across=0.3))
    assert "cloth.kind" in codes(prove(top, woven))


def test_a_solve_that_fell_short():
    """What is left of a solve is told."""
    top = box_top().with_(solves=[Solve("cap", 460.0, 457.0, 12), Solve("neck", 400.0, 400.1, 8)])
    found = one(prove(top, brief()), "solves.left")
    assert (found.place, found.value) == ("cap", pytest.approx(-3.0))


def test_inches_in_the_sentences():
    """The maker's unit is used in sentences and remedies; figures stay in millimetres."""
    proof = prove(box_top(), with_body(brief(), head_girth=780.0))
    found = one(proof, "openings.pass", "neck")
    assert found.limit == 780.0
    assert "about 1 in," in render(found.remedy, "in")
    assert all(" cm" not in render(f.sentence, "in") for f in grave(proof))
