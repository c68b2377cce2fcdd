"""The sound garment proves, and what is told of it is right."""

from __future__ import annotations

import math

import pytest

from drafting.proof import prove
from drafting.proof.checks.openings import BAND_SEAM
from tests.proof.box_top import HALF, SIDE, armhole, box_top, brief, half_neck
from tests.proof.reading import grave


def test_nothing_is_found():
    """A garment that goes together and fits has neither errors nor warnings."""
    proof = prove(box_top(), brief())
    assert grave(proof) == ()
    assert proof.passed


def test_lengths_of_every_section_and_seam():
    """Each section has a row with its plies' lengths; a seam of several sections one more for the whole."""
    rows = {(row.seam, row.section): row for row in prove(box_top(), brief()).seams}
    assert rows["side-left", 1].lengths == pytest.approx((SIDE, SIDE))
    assert rows["side-left", 0].lengths == pytest.approx((2 * SIDE, 2 * SIDE))
    assert rows["armhole-right", 2].lengths == pytest.approx((armhole().length,) * 2)
    neck = 2 * (half_neck(130.0).length + half_neck(45.0).length)
    assert rows["neck-band", 0].ease == pytest.approx((0.0, -0.1 * neck), abs=1e-3)


def test_every_passage_over_a_seam_is_a_join():
    """Neck, armholes, caps, wrists, hem and the edges of bands are judged wherever they cross a seam."""
    joins = {(row.before, row.after): row for row in prove(box_top(), brief()).joins}
    assert joins["front.armhole-left", "back.armhole-left"].across == ("shoulder-left",)
    assert joins["back.armhole-left", "front.armhole-left"].across == ("side-left",)
    assert joins["front.neckline-right", "back.neckline-right"].across == ("shoulder-right",)
    assert ("sleeve-left.cap-back", "sleeve-left.cap-front") in joins
    assert {across for row in joins.values() for across in row.across} >= {"cuff-left-end", "neck-band-end"}
    assert any(row.before.startswith("front.hem") for row in joins.values())
    assert max(abs(row.angle) for row in joins.values()) < math.radians(0.1)


def test_ease_is_measured_on_the_pieces():
    """Girths are the sum of the levels of all pieces; widths and lines stand for themselves."""
    rows = {row.measure: row for row in prove(box_top(), brief()).eases}
    assert rows["girth:bust"].finished == pytest.approx(4 * HALF)
    assert rows["girth:bust"].got == pytest.approx(40.0)
    assert rows["across-back"].finished == pytest.approx(420.0)
    assert rows["line:shoulder-left"].finished == pytest.approx(100.0)
    assert rows["girth:upper-arm left"].finished < 400.0


def test_openings_reach_their_length_and_stretch():
    """Relaxed length x (1 + stretch), each layer with its own cloth."""
    rows = {(row.opening, row.edge): row for row in prove(box_top(), brief()).openings}
    hem = rows["hem", "edge"]
    assert (hem.length, hem.reach) == pytest.approx((4 * HALF, 4 * HALF * 1.25))
    assert rows["neck", "outer edge"].stretch == pytest.approx(0.5)
    assert rows["neck", BAND_SEAM].stretch == pytest.approx(0.25)
    assert rows["neck", "outer edge"].must_pass == brief().body["head_girth"]


def test_surface_is_that_of_a_top_with_sleeves():
    """Four openings, one part, and 2 - 4 by Euler's count (topology of surfaces)."""
    surface = prove(box_top(), brief()).surface
    assert surface is not None
    assert (surface.components, surface.euler, len(surface.openings)) == (1, -2, 4)


def test_order_is_told():
    """The make-up order comes with the proof: the neck band after the shoulders it crosses."""
    order = [task.seam for task in prove(box_top(), brief()).order]
    assert order.index("neck-band") > max(order.index("shoulder-left"), order.index("shoulder-right"))


def test_estimates_are_noted_with_their_rule():
    """Each measurement that wasn't taken is a note that says how it was estimated."""
    proof = prove(box_top(), brief())
    notes = {finding.place: finding for finding in proof.findings if finding.code == "body.estimated"}
    assert "head_girth" in notes
    assert "bust_girth" not in notes
    assert notes["head_girth"].value == brief().body["head_girth"]
    assert str(brief().body.estimated["head_girth"]) in str(notes["head_girth"].sentence)
