"""What the PDF files say of themselves."""

from __future__ import annotations

import io
import re

import pikepdf
import pytest

from drafting.output import PrintInfo, draw_sheet, pattern_pdf, sheet_pdf
from drafting.paper import PaperPlan, SheetPlan, plan_sheet
from tests.output.pieces import MARK, band, top
from tests.output.rendered import labels, words

INFO = PrintInfo("Concert top", "Alto", MARK)


@pytest.fixture(scope="module")
def sheet() -> SheetPlan:
    return plan_sheet(top(), PaperPlan())


@pytest.fixture(scope="module")
def pattern(sheet: SheetPlan) -> bytes:
    return pattern_pdf(sheet, INFO, draw_sheet(sheet, INFO))


def test_same_input_gives_the_same_bytes(sheet: SheetPlan, pattern: bytes) -> None:
    """Files of one ticket can be compared."""
    assert pattern_pdf(sheet, INFO, draw_sheet(sheet, INFO)) == pattern
    again = plan_sheet(top(), PaperPlan())
    assert sheet_pdf(again, INFO, draw_sheet(again, INFO)) == sheet_pdf(sheet, INFO, draw_sheet(sheet, INFO))


def test_pages_are_labelled_by_their_place(sheet: SheetPlan, pattern: bytes) -> None:
    """The start page first, then the tiles in reading order."""
    assert labels(pattern) == ["Start", *(tile.name for tile in sheet.tiling.tiles)]


def test_reader_is_told_not_to_scale(pattern: bytes) -> None:
    """PrintScaling is None (ISO 32000-1, table 150), the title is shown, and title and subject are set."""
    document = pikepdf.open(io.BytesIO(pattern))
    assert document.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")
    assert str(document.docinfo.Title) == f"Concert top, Alto, draft mark {MARK}"
    assert "A4" in str(document.docinfo.Subject)


def test_every_font_is_embedded(pattern: bytes) -> None:
    """No page asks for a font that the file does not hold."""
    document = pikepdf.open(io.BytesIO(pattern))
    fonts = [font for page in document.pages for font in page.Resources.Font.values()]
    assert fonts
    for font in fonts:
        assert "/FontFile2" in font.FontDescriptor
        assert str(font.BaseFont)[1:8].endswith("+")


def test_trim_boxes_are_the_live_area(sheet: SheetPlan, pattern: bytes) -> None:
    """Every tile's TrimBox has the tile's size, and lies half an inch inside the page."""
    document = pikepdf.open(io.BytesIO(pattern))
    for page in document.pages[1:]:
        x0, y0, x1, y1 = (float(side) / 72 * 25.4 for side in page.TrimBox)
        assert (x1 - x0, y1 - y0) == pytest.approx((sheet.tiling.width, sheet.tiling.height), abs=0.001)
        assert x0 >= 12.69
        assert y0 >= 12.69
        width, height = (float(side) / 72 * 25.4 for side in page.MediaBox[2:])
        assert (width, height) == pytest.approx((210.0, 297.0), abs=0.05)
        assert x1 <= width - 12.6
        assert y1 <= height - 12.69


def test_outline_leads_to_every_page(sheet: SheetPlan, pattern: bytes) -> None:
    """One bookmark a page; the sheet's file has one a piece."""
    document = pikepdf.open(io.BytesIO(pattern))
    with document.open_outline() as outline:
        titles = [entry.title for entry in outline.root]
    assert [title.split()[-1] for title in titles[1:]] == [tile.name for tile in sheet.tiling.tiles]
    whole = pikepdf.open(io.BytesIO(sheet_pdf(sheet, INFO, draw_sheet(sheet, INFO))))
    with whole.open_outline() as outline:
        assert [entry.title for entry in outline.root[0].children] == [piece.title for piece in sheet.pieces]


def test_pages_carry_only_the_words_they_show(sheet: SheetPlan, pattern: bytes) -> None:
    """Text drawn on one tile is not hidden on the others; the draft mark is on all."""
    texts = [words(pattern, number) for number in range(1, sheet.pages + 1)]
    assert all(MARK in text for text in texts)
    assert sum("Sleeve" in text for text in texts) <= 2


def test_start_page_lists_every_piece(sheet: SheetPlan, pattern: bytes) -> None:
    """Code, title and how to cut; test squares, cautions and what to do next."""
    text = " ".join(words(pattern, 0).split())
    for piece in sheet.pieces:
        assert f"{piece.title}: {piece.how}" in text
    for expected in ("10 cm", "4 in", "100 %", "blades", "irons", "needles", MARK, "Concert top", "Alto"):
        assert expected in text


def test_every_neighbour_is_named(sheet: SheetPlan, pattern: bytes) -> None:
    """Each page names the pages that it joins."""
    for a, b in sheet.tiling.joins():
        for here, other in ((a, b), (b, a)):
            assert other.name in words(pattern, labels(pattern).index(here.name))


def test_a_sheet_longer_than_a_page_may_be_goes_on_to_the_next() -> None:
    """No page is longer than 14,400 points or in a larger unit, which readers print at a quarter of the size (ISO
    32000-1, 14.11.2, and PDF 1.7, annex C): the sheet is parted, and its parts name each other and add up to it."""
    train = band("train", "Train", "A", 9000.0, 700.0)
    plan = plan_sheet((train,), PaperPlan())
    pdf = sheet_pdf(plan, INFO, draw_sheet(plan, INFO))
    document = pikepdf.open(io.BytesIO(pdf))
    assert all(float(max(page.MediaBox)) <= 14_400 and "/UserUnit" not in page for page in document.pages)
    sheets = [place for place, label in enumerate(labels(pdf)) if re.fullmatch("[A-Z][0-9]+", label)]
    assert len(sheets) == 2
    shown = [[float(side) / 72 * 25.4 for side in document.pages[place].TrimBox] for place in sheets]
    across = plan.sheet.width > plan.sheet.height
    one, other = (labels(pdf)[place] for place in sheets)
    long = sum(x1 - x0 if across else y1 - y0 for x0, y0, x1, y1 in shown)
    assert long == pytest.approx(max(plan.sheet.width, plan.sheet.height), abs=2.0)
    assert other in words(pdf, sheets[0])
    assert one in words(pdf, sheets[1])
    assert "10 cm" in words(pdf, 0)


def test_packed_file_opens_in_a_strict_reader(pattern: bytes) -> None:
    """A checker of PDF syntax outside the project finds nothing to mend."""
    document = pikepdf.open(io.BytesIO(pattern))
    assert document.check_pdf_syntax() == []
