"""The pattern for a copy shop: true to size, at the paper's width, with what a print of it needs."""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pytest

from drafting.output import NOTE, PrintInfo, draw_sheet, wide_pdf
from drafting.paper import plan_wide, wide_paper_named
from tests.output.pieces import MARK, sleeve, top
from tests.output.rendered import labels, picture, words
from tests.output.test_printed_truth import line_at

INFO = PrintInfo("Concert top", "Alto", MARK)


def test_a_roll_is_one_page_of_its_width_with_a_square_that_is_true() -> None:
    """As wide as the roll; 10 cm both ways to a dot, the sheet's heading, the pieces' labels, no start text."""
    plan = plan_wide((sleeve(),), wide_paper_named("24 in"), 4.0, NOTE)
    pdf = wide_pdf(plan, INFO, draw_sheet(plan.plan, INFO))
    document = pikepdf.open(io.BytesIO(pdf))
    (page,) = document.pages
    assert [float(side) * 25.4 / 72 for side in page.MediaBox[2:]] == pytest.approx([609.6, plan.length], abs=0.1)
    told = " ".join(words(pdf, 0).split())
    for expected in (
        "Concert top",
        "Alto",
        MARK,
        "a roll 24 in wide",
        "at 100 %",
        "10 cm × 10 cm",
        "cut here",
        "C Sleeve",
    ):
        assert expected in told
    assert "tape" not in told
    (x, y), ink = plan.note, picture(pdf, 0, 150) < 128
    low, left = (round((side + plan.inset) / 25.4 * 150) for side in (y, x))
    size = round(NOTE / 25.4 * 150)
    square = ink[ink.shape[0] - low - size : ink.shape[0] - low, left : left + size]
    for lines in (square, square.T):
        middles = np.array(line_at(lines, 0.97 * 10 / 2.54 * 150))
        assert np.abs(np.abs(middles[:, None] - middles[None]) - 10 / 2.54 * 150).min() <= 1.0


def test_sheets_are_counted_and_each_carries_its_own_pieces_alone() -> None:
    """Two of A1, numbered, with the draft's mark; each piece's label stands on one."""
    plan = plan_wide(top()[:5], wide_paper_named("A1"), 4.0, NOTE)
    pdf = wide_pdf(plan, INFO, draw_sheet(plan.plan, INFO))
    count = plan.plan.pages
    assert labels(pdf) == [str(number) for number in range(1, count + 1)]
    told = [" ".join(words(pdf, number).split()) for number in range(count)]
    assert all(f"sheet {number} of {count}" in page and MARK in page for number, page in enumerate(told, start=1))
    assert all(sum(f"{piece.code} {piece.title}" in page for page in told) == 1 for piece in top()[:5])
