"""The whole sheet on one page: what stands round it, and that nothing stands on it."""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pypdfium2
import pytest

from drafting.output import PrintInfo, draw_sheet, sheet_pdf
from drafting.paper import PaperPlan, SheetPlan, paper_named, plan_sheet
from drafting.units import show_length
from tests.output.pieces import MARK, sleeve, top
from tests.output.rendered import labels, picture, sheet_picture, trim, words
from tests.output.test_printed_truth import line_at

INFO = PrintInfo("Concert top", "Alto", MARK, ("Fit: semi-fitted.", "Cloth: jersey, stretch 30 %."))
PAPERS = ["A4", "148 x 210 mm", "36 x 48 in", "5 m x 30 cm", "30 cm x 3 m"]


def made(paper: str, pieces=None) -> tuple[SheetPlan, bytes]:
    plan = plan_sheet(pieces or (sleeve(),), PaperPlan(paper_named(paper)))
    return plan, sheet_pdf(plan, INFO, draw_sheet(plan, INFO))


def told_beside(pdf: bytes) -> str:
    return " ".join(words(pdf, 0).split())


@pytest.mark.parametrize("paper", PAPERS)
def test_one_page_tells_all(paper: str) -> None:
    """One page, whatever the sheet's size, with title, wearer, mark, square, pieces, lines, cautions and notes."""
    _, pdf = made(paper)
    assert labels(pdf) == ["Sheet"]
    told = told_beside(pdf)
    for expected in (
        *("Concert top", "Alto", MARK, "10 cm \u00d7 10 cm", "4 in", "Sleeve: cut 2, one mirrored"),
        *("cut here", "sew here", "needles", "irons", "blades", "actual size", *INFO.lines),
    ):
        assert expected in told, expected


@pytest.mark.parametrize("paper", PAPERS)
def test_the_sheet_is_the_trim_box(paper: str) -> None:
    """The TrimBox has the sheet's size, lies on the page, and the words stand outside it."""
    plan, pdf = made(paper)
    document = pikepdf.open(io.BytesIO(pdf))
    page = document.pages[0]
    x0, y0, x1, y1 = trim(document, 0)
    assert min(x0, y0) >= 0
    size = ((x1 - x0) / 72 * 25.4, (y1 - y0) / 72 * 25.4)
    assert size == pytest.approx((plan.sheet.width, plan.sheet.height), abs=0.05)
    assert x1 <= float(page.MediaBox[2])
    assert y1 <= float(page.MediaBox[3])
    assert told_within(pdf, (x0, y0, x1, y1)).count("Concert top") == 0


def told_within(pdf: bytes, box: tuple[float, float, float, float]) -> str:
    """Return the words that stand in a box of the page (its own units)."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return document[0].get_textpage().get_text_bounded(*box)
    finally:
        document.close()


def test_the_square_beside_the_sheet_measures_true() -> None:
    """10 cm both ways, to a dot, also where the ticket corrects the home printer: this is another one."""
    plan = plan_sheet((sleeve(),), PaperPlan(correct_x=1.02, correct_y=0.98))
    pdf = sheet_pdf(plan, INFO, draw_sheet(plan, INFO))
    page = picture(pdf, 0)
    x0, _, x1, _ = (side * 300 / 72 for side in trim(pikepdf.open(io.BytesIO(pdf)), 0))
    sheet = sheet_picture(pdf)
    ink = page < 128
    ink[: sheet.shape[0], round(x0) : round(x1)] = False
    assert ink.any()
    for lines in (ink, ink.T):
        middles = np.array(line_at(lines, 0.97 * 10 / 2.54 * 300))
        steps = np.abs(middles[:, None] - middles[None])
        assert np.abs(steps - 10 / 2.54 * 300).min() <= 1.0


def test_the_strip_wastes_little_paper() -> None:
    """The words take a sixth of the page of a whole top at most."""
    plan, pdf = made("A4", top())
    document = pikepdf.open(io.BytesIO(pdf))
    _, _, wide, high = (float(side) for side in document.pages[0].MediaBox)
    area = wide * high * (25.4 / 72) ** 2
    assert area <= 1.2 * plan.sheet.width * plan.sheet.height


def test_nothing_of_the_strip_overlaps() -> None:
    """Every word that a reader finds stands alone: a page of many pieces and notes holds each once."""
    notes = tuple(f"note number {i} of the summary" for i in range(60))
    plan = plan_sheet((sleeve(),), PaperPlan())
    pdf = sheet_pdf(plan, PrintInfo("Concert top", "Alto", MARK, notes), draw_sheet(plan, INFO))
    told = told_beside(pdf)
    assert all(told.count(note) == 1 for note in notes)
    assert len(labels(pdf)) == 1


def test_the_sheets_size_is_told_in_the_tickets_unit() -> None:
    """An inch ticket reads inches."""
    plan = plan_sheet((sleeve(),), PaperPlan())
    info = PrintInfo("Concert top", "Alto", MARK, unit="in")
    told = told_beside(sheet_pdf(plan, info, draw_sheet(plan, info)))
    assert f"one sheet, {show_length(plan.sheet.width, 'in')} wide, {show_length(plan.sheet.height, 'in')} high" in told
    assert " cm high" not in told
