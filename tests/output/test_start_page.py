"""The start page on any paper, with any words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.output import PrintInfo, draw, pattern_pdf, sheet_pdf
from drafting.output.document import Document
from drafting.output.flow import Box, Para, flow, wrap
from drafting.output.furniture import fit
from drafting.output.text import width
from drafting.paper import Orientation, PaperPlan, paper_named, plan_sheet
from tests.output.pieces import MARK, sleeve
from tests.output.rendered import labels, picture, words


@pytest.mark.parametrize("name", ["A4", "US Letter", "A3", "148 x 210 mm", "110 x 160 mm", "36 x 48 in"])
@pytest.mark.parametrize("orientation", [Orientation.PORTRAIT, Orientation.LANDSCAPE])
def test_nothing_that_is_told_is_lost(name: str, orientation: Orientation) -> None:
    """What finds no room on the start page goes on to further ones, on any paper."""
    notes = tuple(f"note number {i} of the summary" for i in range(40))
    info = PrintInfo("Concert top", "Alto", MARK, notes)
    plan = plan_sheet((sleeve(),), PaperPlan(paper_named(name), orientation))
    pdf = pattern_pdf(plan, info, draw(plan, info))
    starts = [i for i, label in enumerate(labels(pdf)) if label.startswith("Start")]
    told = " ".join(" ".join(words(pdf, i) for i in starts).split())
    for note in notes:
        assert note in told
    for expected in ("actual size", "needles", "Sleeve: cut 2, one mirrored"):
        assert expected in told


def test_empty_words_leave_no_hole() -> None:
    """A pattern without title, wearer or mark still prints."""
    info = PrintInfo("", "", "")
    plan = plan_sheet((replace(sleeve(), labels=(), how=""),), PaperPlan())
    assert (picture(pattern_pdf(plan, info, draw(plan, info)), 0, 60) < 128).any()


@settings(max_examples=12, deadline=None, derandomize=True)
@given(st.text(max_size=300), st.text(max_size=300))
def test_any_words_can_be_printed(title: str, wearer: str) -> None:
    """Markup, controls, any script: the files are made, and they open."""
    info = PrintInfo(title, wearer, MARK, (title, wearer))
    plan = plan_sheet((replace(sleeve(), title=title, how=wearer),), PaperPlan())
    drawing = draw(plan, info)
    for pdf in (pattern_pdf(plan, info, drawing), sheet_pdf(plan, info, drawing)):
        assert labels(pdf)


@pytest.mark.parametrize("text", ["Concert top for the alto voices of the choir", "x" * 200, "", "愛" * 60])
def test_rows_fit_their_room(text: str) -> None:
    """Words are parted at spaces, too long ones inside; nothing is dropped."""
    rows = wrap(text, 30.0, 8.0)
    assert "".join(rows).replace(" ", "") == text.replace(" ", "")
    assert all(width(row, 8.0) <= 30.01 for row in rows)


def test_cut_words_end_in_an_ellipsis() -> None:
    """A caption that is too long says so."""
    short = fit("a very long title " * 10, 40.0, 6.0)
    assert short.endswith("\u2026")
    assert width(short, 6.0) <= 40.0


def test_what_flows_over_is_given_back() -> None:
    """Whole paragraphs only, in order."""
    document = Document("t", "s")
    with document.page((100.0, 100.0), "1", "one"):
        left = flow(document, [Para(f"paragraph {i}") for i in range(50)], [Box(10, 60, 90, 90), Box(10, 10, 90, 50)])
    assert left
    assert left[-1].words == "paragraph 49"
    assert [para.words for para in left] == [f"paragraph {i}" for i in range(50 - len(left), 50)]
