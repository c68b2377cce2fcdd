"""Worked drafts printed long ago, drafted again from their inputs, to within 15 mm (some of them hold seam allowance).

Sources: R. Rosenfeld, The Practical Designer for Women's and Misses' Underwear (1918), "Woman's First Foundation
Lines"; M. Baldt, Clothing for Women (1916), "To Draft Shirt"; Burton and Burton, School Sewing Based on Home Problems
(1916), "The Front"; a home-science draft for chest 36; US Patent 4,899,448, claim 1.
"""

from __future__ import annotations

import math
import statistics

import pytest

from drafting.body import Body, make_body
from drafting.garment import Garment, Piece
from tests.blocks_woven.people import bodice, brief_for, mean_person, people, sleeved

INCH = 25.4
NEAR = 15.0
"""mm; old drafts hold seam allowance in some lines (Rosenfeld 1911, p. 255)."""


def level(piece: Piece, name: str) -> float:
    """The height of a level."""
    return next(each.path for each in piece.levels if each.name == name).start.y


@pytest.fixture(scope="module")
def size_36() -> tuple[Body, Garment]:
    """Size 36: bust 39, waist 25, hip 43, stature 66, nape to waist 15 1/2 in; depth 7 in with no more ease below."""
    body = make_body(
        "size 36",
        {
            "bust_girth": 39.0 * INCH,
            "waist_girth": 25.0 * INCH,
            "hip_girth": 43.0 * INCH,
            "stature": 66.0 * INCH,
            "back_neck_point_to_waist": 15.5 * INCH,
            "scye_depth_length": 7.0 * INCH,
        },
    )
    return body, bodice(brief_for(body), to="hip", underarm_drop=0.0)


def test_rosenfeld_1918_waist_line(size_36: tuple[Body, Garment]) -> None:
    """The waist lies 15 1/2 in below the nape: given so, and so it stays whatever else the block draws."""
    _, garment = size_36
    assert -level(garment.piece("back"), "waist") == pytest.approx(15.5 * INCH, abs=NEAR)


def test_rosenfeld_1918_half_back(size_36: tuple[Body, Garment]) -> None:
    """Half back = 12/2 + 1 1/2 = 7 1/2 in."""
    _, garment = size_36
    across = next(each.path for each in garment.piece("back").levels if each.name == "across-back")
    assert across.length / 2.0 == pytest.approx(7.5 * INCH, abs=NEAR)


def test_rosenfeld_1918_back_neck(size_36: tuple[Body, Garment]) -> None:
    """Half width 3 in, rise 1 in."""
    _, garment = size_36
    side = garment.piece("back").line("neckline-right").path.start
    assert side.x == pytest.approx(3.0 * INCH, abs=NEAR)
    assert side.y == pytest.approx(1.0 * INCH, abs=NEAR)


def test_rosenfeld_1918_back_shoulder(size_36: tuple[Body, Garment]) -> None:
    """The back's shoulder is 6 in, its dart closed."""
    _, garment = size_36
    shoulder = garment.run_length(garment.seam("shoulder-left").plies[1])
    assert shoulder == pytest.approx(6.0 * INCH, abs=NEAR)


def test_breast_line_is_seven_inches_down_where_the_arm_has_room(size_36: tuple[Body, Garment]) -> None:
    """The depth line lies 7 in down (Rosenfeld 1918; chest/8 + 2 1/2 in in a home-science draft) for a slender arm."""
    body, _ = size_36
    slender = Body("slender", {**body.values, "armscye_girth": 300.0})
    assert bodice(brief_for(slender), underarm_drop=0.0).fact("scye_depth") == pytest.approx(7.0 * INCH, abs=NEAR)


def test_home_science_draft_width() -> None:
    """Chest 36 with 6 in of ease: a quarter is 36/4 + 1 1/2 = 10 1/2 in wide."""
    body = Body("chest 36", {**mean_person().values, "bust_girth": 36.0 * INCH})
    garment = bodice(brief_for(body), bust_ease=6.0 * INCH)
    for piece in garment.pieces:
        width = math.fsum(each.path.length for each in piece.levels if each.name == "bust")
        assert width / 2.0 == pytest.approx(10.5 * INCH, abs=NEAR)


def test_baldt_1916_neck() -> None:
    """Back half width neck/6, rise 3/4 in; front half width neck/6 + 3/8 in, depth neck/6."""
    body = mean_person()
    neck = body["neck_base_girth"]
    garment = bodice(brief_for(body))
    side = garment.piece("back").line("neckline-right").path.start
    assert side.x == pytest.approx(neck / 6.0, abs=NEAR)
    assert side.y == pytest.approx(0.75 * INCH, abs=NEAR)
    front = garment.piece("front").line("neckline-left").path
    assert front.start.x == pytest.approx(neck / 6.0 + 0.375 * INCH, abs=NEAR)
    assert front.start.y - front.end.y == pytest.approx(neck / 6.0, abs=NEAR)


def test_burton_1916_front_neck_and_shoulder() -> None:
    """2 in wide for a 12 in neck and 1/8 more for each 1/2 in; the shoulder drops 1 1/2 to 2 in at its end."""
    body = mean_person()
    front = bodice(brief_for(body)).piece("front")
    wide = 2.0 * INCH + (body["neck_base_girth"] - 12.0 * INCH) / 4.0
    neck, tip = front.line("neckline-left").path.start, front.line("shoulder-left").path.start
    assert neck.x == pytest.approx(wide, abs=NEAR)
    assert 1.5 * INCH - NEAR <= neck.y - tip.y <= 2.0 * INCH + NEAR


def test_patent_4899448_armhole() -> None:
    """Armhole depth = arm girth/4 + 14 cm, width = arm girth/4 + 4 cm, for the mean woman of 1988."""
    body = mean_person()
    garment = bodice(brief_for(body))
    arm = body["upper_arm_girth"]
    assert garment.fact("scye_depth") == pytest.approx(arm / 4.0 + 140.0, abs=NEAR)
    front, back = garment.pieces
    half = math.fsum(each.path.length for p in (front, back) for each in p.levels if each.name == "bust") / 2.0
    names = ("across-front", "across-back")
    across = math.fsum(each.path.length for p in (front, back) for each in p.levels if each.name in names) / 2.0
    assert half - across == pytest.approx(arm / 4.0 + 40.0, abs=NEAR)


def test_rosenfeld_1918_neck_is_a_sixth_of_the_half_size(size_36: tuple[Body, Garment]) -> None:
    """A-D, B-E, C-F are a third of the size, 12 in: half the neck is a quarter of that wide."""
    _, garment = size_36
    third = 36.0 / 3.0 * INCH
    assert garment.piece("back").line("neckline-right").path.start.x == pytest.approx(third / 4.0, abs=NEAR)


def test_rosenfeld_1918_waist_length_follows_the_stature() -> None:
    """1/4 in more waist length for 1 in more stature (Rosenfeld 1918, p. 16): the survey's regression says as much."""
    rows = people("women")
    tall = [row["stature"] for row in rows]
    back = [row["back_neck_point_to_waist"] for row in rows]
    slope = statistics.linear_regression(tall, back).slope
    assert slope == pytest.approx(0.25, abs=0.06)


def test_rosenfeld_1918_length_of_the_sleeve(size_36: tuple[Body, Garment]) -> None:
    """Cap 6 in and inside length 18 in: 24 in from crown to wrist (p. 150, lesson 67).

    Its two-piece sleeve has a higher cap and so much less below it; the whole is the arm's.
    """
    body, _ = size_36
    sleeve = sleeved(brief_for(body)).piece("sleeve-left")
    _, low, _, crown = sleeve.outline.bounds
    assert crown - low == pytest.approx(24.0 * INCH, abs=NEAR)
