"""The bodice and the sleeve against drafts worked out in print, inch by inch.

Old drafts include seam allowances in some lines, so that they are met to 15 mm.
"""

from __future__ import annotations

import math
from statistics import fmean

import pytest

from blocks.bodice import draft_knit_bodice
from blocks.sleeve import draft_set_in_sleeve
from drafting.body import Body, make_body
from drafting.cloth import Fit
from drafting.garment import Brief, Garment
from tests.blocks.surveyed import MEN, WOMEN, person
from tests.body.people import people
from tests.garments import BODY, JERSEY, RIB, SLEEVED, build

INCH = 25.4
NEAR = 15.0

CLOSE_NECK = {"front_depth": 0.0, "back_depth": 0.0, "neck_widen": 0.0}

# Means of the women of ANSUR 1988 (ADA225094, transcribed pages 90 to 338): size 36 of the old tables.
MEAN_WOMAN = {
    "stature": 1629.0, "bust_girth": 907.0, "waist_girth": 726.0, "hip_girth": 967.0, "neck_girth": 316.0,
    "neck_base_girth": 346.0, "shoulder_length": 145.0, "across_back_width": 376.0, "armscye_girth": 371.0,
    "scye_depth_length": 186.0, "upper_arm_girth": 292.0, "elbow_girth": 238.0, "wrist_girth": 151.0,
    "hand_girth": 186.0, "head_girth": 546.0, "back_neck_point_to_waist": 367.0,
}  # fmt: skip


def woman(**given: float) -> Body:
    """The mean woman, with some measures of her own."""
    return make_body("mean woman", {**MEAN_WOMAN, **given})


def bodice(body: Body, fit: Fit = Fit.SEMI, **options: object) -> Garment:
    """Only front and back."""
    return build(Brief(body, JERSEY, fit, {"rib": RIB}), [(draft_knit_bodice, options)])


def side_neck(garment: Garment, face: str) -> tuple[float, float]:
    """The neckline's half width, and its height at the shoulder over its centre (mm)."""
    path = garment.piece(face).line("neckline-left" if face == "front" else "neckline-right").path
    return path.start.x - path.end.x, path.start.y - path.end.y


@pytest.mark.parametrize("inches", [12.0, 12.5, 13.0])
def test_front_neck_of_a_shirt_waist_of_1916(inches: float) -> None:
    """2 in wide and deep for a 12 in neck, 1/8 in more for each 1/2 in of neck; the neck measured at its base.

    Burton & Burton, School Sewing Based on Home Problems (1916).
    """
    garment = bodice(woman(neck_girth=inches * INCH / 1.095, neck_base_girth=inches * INCH), **CLOSE_NECK)
    published = (2.0 + (inches - 12.0) / 4.0) * INCH
    width, depth = side_neck(garment, "front")
    assert width == pytest.approx(published, abs=NEAR)
    assert depth == pytest.approx(published, abs=NEAR)


@pytest.mark.parametrize("neck", [320.0, 346.0, 374.0])
def test_neck_of_a_shirt_of_1916(neck: float) -> None:
    """Back half width neck/6, rise 3/4 in; front half width neck/6 and 3/8 in, depth neck/6; the neck at its base.

    Baldt, Clothing for Women (1916), To Draft Shirt. Necks of the 5th, 50th and 95th women of ANSUR 1988.
    """
    garment = bodice(woman(neck_base_girth=neck), **CLOSE_NECK)
    width, rise = side_neck(garment, "back")
    assert width == pytest.approx(neck / 6.0, abs=NEAR)
    assert rise == pytest.approx(0.75 * INCH, abs=NEAR / 2.0)
    width, depth = side_neck(garment, "front")
    assert width == pytest.approx(neck / 6.0 + 0.375 * INCH, abs=NEAR)
    assert depth == pytest.approx(neck / 6.0, abs=NEAR)


@pytest.mark.parametrize("group", [WOMEN, MEN])
def test_the_front_neck_is_as_deep_as_the_bodies(group: str) -> None:
    """Side neck point over front neck point as surveyed (ANSUR 1988), in the mean; women 67 mm, men 71 mm."""
    bodies = [person(group, row) for row in range(1, len(people(group)) + 1, 40)]
    drawn = [side_neck(bodice(body, **CLOSE_NECK), "front")[1] for body in bodies]
    surveyed = [body["side_neck_point_height"] - body["front_neck_point_height"] for body in bodies]
    assert fmean(drawn) == pytest.approx(fmean(surveyed), abs=NEAR)


def test_the_shoulder_meets_the_neck_a_sixth_of_its_girth_from_the_back() -> None:
    """Baldt (1916), Shirtwaist, part 2: the shoulder seam meets the neck about 1/6 of the neck from centre back.

    For shoulders that slope as the drafts of her time do.
    """
    garment = bodice(woman(shoulder_slope=math.radians(22.0)), **CLOSE_NECK)
    along = garment.piece("back").line("neckline-right").path.length
    assert along == pytest.approx(MEAN_WOMAN["neck_base_girth"] / 6.0, abs=NEAR)
    assert along / MEAN_WOMAN["neck_base_girth"] == pytest.approx(1.0 / 6.0, abs=0.05)


def test_back_neck_of_size_36() -> None:
    """Rosenfeld, The Practical Designer for Women's and Misses' Underwear (1918): 3 in half width, 1 in rise."""
    width, rise = side_neck(bodice(woman(), **CLOSE_NECK), "back")
    assert width == pytest.approx(3.0 * INCH, abs=NEAR)
    assert rise == pytest.approx(1.0 * INCH, abs=NEAR / 2.0)


def test_an_opened_neck_of_size_36() -> None:
    """A home-science draft, chest 36 in: half width chest/12 and 1/4 in, 3 1/4 in; an opened neck, as ours is."""
    width, _ = side_neck(bodice(woman()), "front")
    assert width == pytest.approx(3.25 * INCH, abs=NEAR)


def test_the_breast_line_of_size_36() -> None:
    """Rosenfeld (1918): back depth 7 in gives the breast line 7 in down, nape to waist 15 1/2 in the waist."""
    body = woman(scye_depth_length=7.0 * INCH, back_neck_point_to_waist=15.5 * INCH)
    garment = bodice(body, underarm_drop=0.0, fit=Fit.CLOSE)
    depth = -garment.piece("back").line("armhole-left").path.bounds[1]
    assert depth == pytest.approx(7.0 * INCH, abs=NEAR)
    waist = next(level for level in garment.piece("back").levels if level.name == "waist")
    assert waist.path.start.y == pytest.approx(-15.5 * INCH, abs=1e-6)


def test_the_scye_depth_from_the_chest() -> None:
    """A home-science draft: chest/8 and 2 1/2 in, 7 in for a chest of 36 in; the body's own is 186 mm (ANSUR 1988)."""
    garment = bodice(woman(), fit=Fit.CLOSE)
    published = (36.0 / 8.0 + 2.5) * INCH
    assert garment.fact("scye_depth") == pytest.approx(published, abs=NEAR + 5.0)
    assert garment.fact("scye_depth") == pytest.approx(186.0, abs=NEAR)


@pytest.mark.parametrize("arm", [270.0, 292.0, 320.0])
def test_the_armhole_line_from_the_arm(arm: float) -> None:
    """US Patent 4,899,448, claim 1: the armhole depth line lies arm girth/4 and 14 cm down."""
    armscye = arm * 1.27  # armscye over upper arm girth, derived from the means of ANSUR 1988
    garment = bodice(woman(upper_arm_girth=arm, armscye_girth=armscye))
    assert garment.fact("scye_depth") == pytest.approx(arm / 4.0 + 140.0, abs=NEAR)


def test_half_the_back_of_size_36() -> None:
    """Rosenfeld (1918): half back = 12/2 and 1 1/2 in = 7 1/2 in."""
    garment = bodice(woman(), fit=Fit.RELAXED)
    across = next(level for level in garment.piece("back").levels if level.name == "across-back")
    assert across.path.length / 2.0 == pytest.approx(7.5 * INCH, abs=NEAR)


def test_the_shoulder_drops_as_a_draft_of_1916_has_it() -> None:
    """Burton & Burton (1916): 1 1/2 in at the end of the shoulder measure, 2 in if it slopes much; on 5 in.

    On average of front and back: the seam lies ahead of theirs. 22 degrees are usual, and 28 are steep.
    """
    for degrees, inches in ((22.0, 1.5), (28.0, 2.0)):
        garment = bodice(woman(shoulder_slope=math.radians(degrees)), neck_widen=0.0)
        paths = [garment.piece(face).line("shoulder-left").path for face in ("front", "back")]
        drops = [abs(path.end.y - path.start.y) * 5.0 * INCH / path.length for path in paths]
        assert sum(drops) / 2.0 == pytest.approx(inches * INCH, abs=NEAR / 3.0)
        assert drops[1] < drops[0]


def test_a_shirts_cap_is_a_quarter_of_the_armhole() -> None:
    """Baldt (1916), To Draft Shirt: cap height = armhole/4; met by the relaxed sleeve."""
    garment = build(Brief(woman(), JERSEY, Fit.RELAXED, {"rib": RIB}), SLEEVED)
    armhole = sum(garment.piece(f).line("armhole-left").path.length for f in ("front", "back"))
    low, high = garment.piece("sleeve-left").line("cap-front").path.bounds[1::2]
    assert high - low == pytest.approx(armhole / 4.0, abs=NEAR)


def test_a_knit_cap_lies_between_a_fifth_and_a_third_of_the_armhole() -> None:
    """Knit tops 1/4 to 1/5, fitted sleeves about 1/3, to 5 mm (from memory)."""
    for fit in Fit:
        garment = build(Brief(woman(), JERSEY, fit, {"rib": RIB}), SLEEVED)
        armhole = sum(garment.piece(f).line("armhole-left").path.length for f in ("front", "back"))
        assert armhole / 5.0 - NEAR <= garment.fact("cap_height_left") <= armhole / 3.0 + NEAR / 3.0


def test_cap_width_and_armhole_fix_each_other() -> None:
    """Derived: of armhole, width at the underarm and cap height any two give the third; a wider sleeve is flatter."""
    brief = Brief(woman(), JERSEY, Fit.SEMI, {"rib": RIB})
    heights = [
        build(brief, BODY, [(draft_set_in_sleeve, {"upper_arm_ease": ease})]).fact("cap_height_left")
        for ease in (75.0, 105.0, 135.0)  # narrower, the sleeve gives way to its armhole
    ]
    assert heights == sorted(heights, reverse=True)
    assert heights[0] - heights[2] > 20.0
