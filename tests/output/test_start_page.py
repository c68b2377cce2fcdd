"""The start page on any paper, with any words."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.output import PrintInfo, draw_sheet, pattern_pdf, plan_cover, sheet_pdf
from drafting.output.pages.furniture import cut_words
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, LaidParagraph, Para, flow, wrap_words
from drafting.output.pdf.text import text_width
from drafting.paper import Orientation, PaperPlan, paper_named, plan_sheet
from drafting.saying import Unit, say
from tests.laws.jobs import WEARER, job_from
from tests.output.pieces import MARK, band, sleeve, top
from tests.output.rendered import labels, picture, words

ORDER = (
    say("{short} (as is usual)", short="Order of work"),
    tuple(f"{i}. Seam number {i}, sewn with care from end to end." for i in range(1, 19)),
)
PROOF = ("Proof", tuple(f"Opening {i} opens to 60 cm; the head, 55 cm, must pass." for i in range(1, 9)))


@pytest.mark.parametrize("name", ["A4", "US Letter", "A3", "148 x 210 mm", "110 x 160 mm", "36 x 48 in"])
@pytest.mark.parametrize("orientation", [Orientation.PORTRAIT, Orientation.LANDSCAPE])
def test_nothing_that_is_told_is_lost(name: str, orientation: Orientation) -> None:
    """What finds no room on the start page goes on to further ones, on any paper."""
    notes = tuple(f"note number {i} of the summary" for i in range(40))
    info = PrintInfo("Concert top", "Alto", MARK, notes)
    plan = plan_sheet((sleeve(),), PaperPlan(paper_named(name), orientation))
    pdf = pattern_pdf(plan, info, draw_sheet(plan, info))
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
    assert (picture(pattern_pdf(plan, info, draw_sheet(plan, info)), 0, 60) < 128).any()


@settings(max_examples=12, deadline=None, derandomize=True)
@given(st.text(max_size=300), st.text(max_size=300))
def test_any_words_can_be_printed(title: str, wearer: str) -> None:
    """Markup, controls, any script: the files are made, and they open."""
    info = PrintInfo(title, wearer, MARK, (title, wearer))
    plan = plan_sheet((replace(sleeve(), title=title, how=wearer),), PaperPlan())
    drawing = draw_sheet(plan, info)
    for pdf in (pattern_pdf(plan, info, drawing), sheet_pdf(plan, info, drawing)):
        assert labels(pdf)


@pytest.mark.parametrize("text", ["Concert top for the alto voices of the choir", "x" * 200, "", "愛" * 60])
def test_rows_fit_their_room(text: str) -> None:
    """Words are parted at spaces, too long ones inside; nothing is dropped."""
    rows = wrap_words(text, 30.0, 8.0)
    assert "".join(rows).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(row, 8.0) <= 30.01 for row in rows)


def test_cut_words_end_in_an_ellipsis() -> None:
    """A caption that is too long says so."""
    short = cut_words("a very long title " * 10, 40.0, 6.0)
    assert short.endswith("\u2026")
    assert text_width(short, 6.0) <= 40.0


def test_what_flows_over_is_given_back() -> None:
    """Whole paragraphs only, in order."""
    document = Document("t", "s")
    with document.page((100.0, 100.0), "1", "one"):
        left = flow(document, [Para(f"paragraph {i}") for i in range(50)], [Box(10, 60, 90, 90), Box(10, 10, 90, 50)])
    assert left
    assert left[-1].words == "paragraph 49"
    assert [para.words for para in left] == [f"paragraph {i}" for i in range(50 - len(left), 50)]


def columns(laid: tuple[LaidParagraph, ...]) -> list[list[LaidParagraph]]:
    """What is laid on a page, in columns as it is read: a new one begins where words stand higher than the last."""
    out: list[list[LaidParagraph]] = []
    for each in laid:
        if not out or each.x != out[-1][-1].x or each.y > out[-1][-1].y:
            out.append([])
        out[-1].append(each)
    return out


@pytest.mark.parametrize("name", ["A4", "US Letter", "A3", "148 x 210 mm"])
@pytest.mark.parametrize("orientation", [Orientation.PORTRAIT, Orientation.LANDSCAPE])
def test_sections_stay_whole_and_are_read_from_left_to_right(name: str, orientation: Orientation) -> None:
    """No heading ends a column, no list of steps is parted, and no column stands left of the one before."""
    info = PrintInfo("Concert top", "Alto", MARK, ("Fit: close.",), (PROOF, ORDER))
    plan = plan_sheet(top(), PaperPlan(paper_named(name), orientation))
    cover = plan_cover(plan, info, draw_sheet(plan, info))
    told = [columns(page) for page in cover.pages]
    gauge = cover.gauge.box
    for number, page in enumerate(told):
        rest = [column for column in page if number or column[0].y < gauge.bottom or column[0].x > gauge.x1]
        assert [column[0].x for column in rest] == sorted(column[0].x for column in rest)
        assert all(column[-1].para.size < 10.0 for column in rest)
    for heading, body in (PROOF, ORDER):
        inside = [column for page in told for column in page if any(each.para.words == str(heading) for each in column)]
        assert len(inside) == 1
        found = [each.para.words for each in inside[0]]
        at = found.index(str(heading))
        assert tuple(found[at + 1 : at + 1 + len(body)]) == body


def test_page_one_says_what_stands_on_the_next() -> None:
    """And how many pages there are, start pages and all."""
    info = PrintInfo("Concert top", "Alto", MARK, (), (PROOF, ("Fit", PROOF[1]), ORDER))
    plan = plan_sheet(top(), PaperPlan())
    pdf = pattern_pdf(plan, info, draw_sheet(plan, info))
    starts = sum(label.startswith("Start") for label in labels(pdf))
    assert starts == len(plan_cover(plan, info, draw_sheet(plan, info)).pages) == 2
    told = " ".join(words(pdf, 0).split())
    assert "Order of work: next page." in told
    assert f"{len(labels(pdf))} pages of A4, portrait: 2 start pages and {plan.pages} of pattern" in told


def test_the_words_inside_use_the_room_of_the_square() -> None:
    """What stands in the test square fills most of it, in letters of at least 8 points."""
    plan = plan_sheet(top(), PaperPlan())
    cover = plan_cover(plan, PrintInfo("Concert top", "Alto", MARK), draw_sheet(plan, PrintInfo("", "", "")))
    box = cover.gauge.square
    inside = [each for each in cover.pages[0] if box.x0 < each.x < box.x1 and box.bottom < each.y < box.top]
    lowest = min(each.y - (len(each.rows) - 1) * each.para.size * 0.476 for each in inside)
    assert (box.top - lowest) / (box.top - box.bottom) > 0.75
    assert all(each.para.size >= 8.0 for each in inside)


@pytest.mark.parametrize(("unit", "square"), [("cm", "10 cm"), ("in", "4 in")])
def test_a_printer_that_is_off_is_told_in_the_tickets_own_keys(unit: Unit, square: str) -> None:
    """The keys are those of the square on the page, and what they hold is what was measured."""
    from drafting.ticket.keys import PAPER_KEYS

    asked = {f"square_{square.replace(' ', '')}_{way}" for way in ("across", "along")}
    plan = plan_sheet((sleeve(),), PaperPlan())
    info = PrintInfo("Concert top", "Alto", MARK, unit=unit)
    told = " ".join(words(pattern_pdf(plan, info, draw_sheet(plan, info)), 0).split())
    assert asked <= {info.name for info in PAPER_KEYS}
    for expected in ("[paper]", f"what the {square} square measured", *(f"{key} =" for key in asked)):
        assert expected in told
    written = "\n".join(re.findall(r'square_\w+ = "[^"]+"', told.replace("\u201c", '"').replace("\u201d", '"')))
    paper = job_from(f'builds_on = "knit-top"\nunit = "cm"\n{WEARER}\n[paper]\n{written}').paper
    assert all(factor != 1.0 for factor in paper.scale), "what it says as an example can be written as it stands"


def test_every_page_says_what_printer_it_is_corrected_for() -> None:
    """Both ways, whole; also the start page, which asks to measure again. A side that is right isn't named."""
    info = PrintInfo("Concert top", "Alto", MARK)
    for along, said in ((1.0, "98 % across"), (1 / 1.008, "98 % across, 100.8 % along")):
        plan = plan_sheet((sleeve(),), PaperPlan(correct_x=1 / 0.98, correct_y=along))
        pdf = pattern_pdf(plan, info, draw_sheet(plan, info))
        for number in range(len(labels(pdf))):
            told = [line for line in words(pdf, number).splitlines() if MARK in line]
            assert any(f"corrected for a printer that prints {said}" in line for line in told)
            assert not any("98 % across," in line for line in told if along == 1.0)
        assert "it must be right now" in " ".join(words(pdf, 0).split())


def test_every_sign_that_occurs_is_explained() -> None:
    """Notches, strips to stay, points and joins as well as lines; what does not occur is left out."""
    info = PrintInfo("Concert top", "Alto", MARK, unit="in")
    plan = plan_sheet(top(), PaperPlan())
    told = " ".join(words(pattern_pdf(plan, info, draw_sheet(plan, info)), 0).split())
    for expected in (
        "double notch",
        "edge to strengthen",
        "a dart ends 1/2 in beyond",
        "match half-discs; page beside named",
    ):
        assert expected in told, expected
    plan = plan_sheet((replace(band("loop", "Loop", "A", 200.0, 60.0), notches=()),), PaperPlan())
    told = " ".join(words(pattern_pdf(plan, info, draw_sheet(plan, info)), 0).split())
    for unexpected in ("notch", "edge to strengthen", "dart", "page beside named"):
        assert unexpected not in told, unexpected


def test_the_piece_list_tells_what_a_small_piece_leaves_off() -> None:
    """Allowances, cloth, interfacing and side, where the piece carries its code alone."""
    said = ("allowances included: 1.0 cm", "main cloth", "wearer's left", "Cut in interfacing too.")
    tiny = replace(band("loop", "Loop", "H", 26.0, 14.0), marks=(), notches=(), labels=(*said, f"draft mark {MARK}"))
    plan, info = plan_sheet((tiny, sleeve()), PaperPlan()), PrintInfo("Concert top", "Alto", MARK)
    drawing = draw_sheet(plan, info)
    assert drawing.crowded == ("loop",)
    told = " ".join(words(pattern_pdf(plan, info, drawing), 0).split())
    for expected in said:
        assert expected.rstrip(".") in told
    assert told.count("seam allowance 10 mm included") == 0


def test_no_line_of_the_start_page_is_cut_short() -> None:
    """However many measurements were estimated, all are named."""
    names = [f"measurement number {i}" for i in range(60)]
    info = PrintInfo("Concert top", "Alto", MARK, (f"Estimated, for want of a measurement: {', '.join(names)}.",))
    plan = plan_sheet((sleeve(),), PaperPlan())
    pdf = pattern_pdf(plan, info, draw_sheet(plan, info))
    starts = [i for i, label in enumerate(labels(pdf)) if label.startswith("Start")]
    told = " ".join(" ".join(words(pdf, i) for i in starts).split())
    assert all(name in told for name in names)


def test_pages_are_named_in_the_same_corner_of_the_map() -> None:
    """Every page's name stands as far from its cell's left and upper edge as every other's."""
    import pypdfium2

    info = PrintInfo("Concert top", "Alto", MARK)
    plan = plan_sheet(top(), PaperPlan())
    drawing = draw_sheet(plan, info)
    box = plan_cover(plan, info, drawing).map[1]
    page = pypdfium2.PdfDocument(pattern_pdf(plan, info, drawing))[0].get_textpage()
    offs = []
    for tile in plan.tiling.tiles:
        search = page.search(tile.name, match_case=True, match_whole_word=True)
        found = [page.get_charbox(at[0], loose=True) for at in iter(search.get_next, None)]
        (place,) = {(x, top_) for x, _, _, top_ in found if x * 25.4 / 72 > box.x0}
        offs.append((tile, place[0] * 25.4 / 72 - box.x0, box.top - place[1] * 25.4 / 72))
    wide = {round(x - t.col * (offs[-1][1] - offs[0][1]) / (offs[-1][0].col - offs[0][0].col), 1) for t, x, _ in offs}
    assert len({round(x, 0) for x in wide}) == 1
    rows = {tile.row: {round(y, 1) for t, _, y in offs if t.row == tile.row} for tile, _, _ in offs}
    assert all(len(places) == 1 for places in rows.values())
