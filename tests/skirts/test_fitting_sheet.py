"""The fitting sheet: measures beside the body's, and what to look for on the parts there are."""

from __future__ import annotations

import pytest

from blocks.bodice import draft_knit_bodice
from drafting.proof.words.fitting import fitting_lines, fitting_sheet, parts_of
from drafting.proof.words.fitting_folds import FOLDS
from tests.garments import TOP, brief, build
from tests.skirts.dressed import JERSEY, skirt


def test_measures_stand_beside_the_bodys() -> None:
    """Garment less body is the ease; each is taken on the pieces."""
    garment, b = skirt(["skirt", "closure"])
    sheet = fitting_sheet(garment, b)
    rows = {m.title: m for m in sheet.measures}
    assert rows["hip"].body == b.body["hip_girth"]
    assert rows["hip"].ease == pytest.approx(64.0, abs=0.1)
    assert rows["waist of the skirt"].ease == pytest.approx(16.0, abs=0.1)
    assert rows["closure"].body is None
    assert rows["closure"].ease is None


def test_only_the_parts_there_are_looked_at() -> None:
    """A skirt has no shoulder, a sleeveless dress no sleeve, a top no skirt, but a hip."""
    garment, b = skirt(["skirt"])
    assert {fold.part for fold in fitting_sheet(garment, b).folds} == {"waist", "hip", "skirt"}
    dress, b = skirt(["skirt", "waist-seam"], cloth=JERSEY, onto=[(draft_knit_bodice, {})])
    assert {"shoulder", "bust", "skirt"} <= parts_of(dress)
    assert "sleeve" not in parts_of(dress)
    assert {"hip", "skirt"} & parts_of(build(brief(), TOP)) == {"hip"}


def test_only_what_the_garment_has_is_spoken_of() -> None:
    """No dart and no closure of a knit top; both of a darted skirt with one."""
    top = fitting_sheet(build(brief(), TOP), brief())
    told = " ".join((*top.steps, *(f"{fold.seen} {fold.means} {fold.answer}" for fold in top.folds)))
    assert "dart" not in told
    assert "closure" not in told
    assert {"Bust", "Front armhole", "Front neckline"} <= {fold.where for fold in top.folds}
    garment, b = skirt(["skirt", "closure"])
    darted = fitting_sheet(garment, b)
    assert "darts first; leave the closure open" in darted.steps[1]
    assert "Dart ends" in {fold.where for fold in darted.folds}


def test_every_fit_change_of_the_trade_is_an_answer_to_some_fold() -> None:
    """Full and small bust, broad and narrow back, shoulders, sway back, high hip, upper arm, long and short waist."""
    answers = " ".join(fold.answer for fold in FOLDS)
    for change in (
        "full bust", "small bust", "broad back", "narrow back", "forward shoulder", "square shoulders",
        "sloping shoulders", "sway back", "high hip on one side", "one shoulder lower", "full upper arm",
        "long waist", "short waist",
    ):  # fmt: skip
        assert change in answers
    assert all(fold.where and fold.seen and fold.means and fold.answer for fold in FOLDS)


def test_it_prints_as_plain_text_in_the_makers_unit() -> None:
    """One line a measure, then how to fit, then where to look; inches where inches are asked."""
    garment, b = skirt(["skirt", "closure"])
    sheet = fitting_sheet(garment, b)
    text = fitting_lines(sheet)
    assert any(line.startswith("hip ") and "98.0 cm" in line and "104.4 cm" in line for line in text)
    assert "Where to look" in text
    assert any(" in " in line or line.endswith("in") for line in fitting_lines(sheet, "in"))
    assert all("\n" not in line for line in text)
