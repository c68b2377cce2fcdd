"""The printed truth: what a PDF engine outside the project makes of the files."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import numpy as np
import pikepdf
import pypdfium2
import pytest

from drafting.output import Drawing, PrintInfo, draw_sheet, pattern_pdf, sheet_pdf
from drafting.output.pages.discs import PEN, RADIUS, disc_places
from drafting.output.pdf.ink import sample_strokes
from drafting.paper import Join, Orientation, PaperPlan, SheetPlan, Tile, paper_named, plan_sheet
from tests.output.pieces import MARK, body, sleeve, top
from tests.output.rendered import labels, picture, sheet_picture, trim

INFO = PrintInfo("Concert top", "Alto", MARK, ("Bust 104 cm",))
DPI = 300

Made = tuple[SheetPlan, Drawing, bytes, bytes]


def made(plan: PaperPlan, pieces=None) -> Made:
    sheet = plan_sheet(pieces or (sleeve(),), plan)
    drawing = draw_sheet(sheet, INFO)
    return sheet, drawing, pattern_pdf(sheet, INFO, drawing), sheet_pdf(sheet, INFO, drawing)


@pytest.fixture(scope="module")
def a4() -> Made:
    return made(PaperPlan())


def dots(points: float) -> int:
    return round(points * DPI / 72)


def joined(sheet: SheetPlan, pattern: bytes) -> np.ndarray:
    """The tiles cut at their TrimBoxes and laid out by their page labels."""
    tiling = sheet.tiling
    wide, high = (round(side / 25.4 * DPI) for side in (tiling.width, tiling.height))
    canvas = np.full((tiling.rows * high, tiling.cols * wide), 255, dtype=np.uint8)
    document = pikepdf.open(io.BytesIO(pattern))
    for number, label in enumerate(labels(pattern)):
        place = re.fullmatch(r"([A-Z]+)(\d+)", label)
        if not place:
            continue
        x0, _, _, y1 = trim(document, number)
        top_edge = float(document.pages[number].MediaBox[3])
        page = picture(pattern, number)
        left, above = dots(x0), dots(top_edge - y1)
        row, col = ord(place[1]) - ord("A"), int(place[2]) - 1
        canvas[row * high : (row + 1) * high, col * wide : (col + 1) * wide] = page[
            above : above + high, left : left + wide
        ]
    return canvas


def disc_centres(sheet: SheetPlan, drawing: Drawing) -> list[tuple[Tile, Tile, float, float]]:
    """The middle of every disc on the sheet (mm), with the two pages that it joins."""
    found = []
    for (a, b), shares in disc_places(sheet, drawing).items():
        x0, y0, x1, y1 = sheet.tiling.box(a)
        for share in shares:
            at = (x1, y0 + share * (y1 - y0)) if a.row == b.row else (x0 + share * (x1 - x0), y0)
            found.append((a, b, *at))
    return found


def assert_same_ink(got: np.ndarray, expected: np.ndarray, sheet: SheetPlan, drawing: Drawing) -> None:
    """No ink of the sheet is missing; what is printed besides is light, and lies within the joining discs."""
    assert got.shape == expected.shape
    less, more = (((one.astype(int) - other) > 40) for one, other in ((got, expected), (expected, got)))
    assert less.mean() < 1e-6
    reach = round((RADIUS + 0.2) / 25.4 * DPI)
    for _, _, x, y in disc_centres(sheet, drawing):
        col, row = round(x / 25.4 * DPI), round((sheet.sheet.height - y) / 25.4 * DPI)
        around = (slice(max(row - reach, 0), row + reach + 1), slice(max(col - reach, 0), col + reach + 1))
        assert (got[around][more[around]] > 95).all()
        more[around] = False
    assert more.mean() < 1e-6


@pytest.mark.parametrize("name", ["A4", "US Letter"])
def test_joined_tiles_are_the_sheet_to_the_dot(name: str) -> None:
    """Rendered at 300 dots an inch, tiles joined by TrimBox and label show the sheet's ink and no other."""
    sheet, drawing, pattern, whole = made(PaperPlan(paper_named(name)))
    expected, got = sheet_picture(whole), joined(sheet, pattern)
    assert_same_ink(got, expected, sheet, drawing)
    assert (expected < 128).sum() > 10_000


def test_joined_overlapping_tiles_are_the_sheet() -> None:
    """Laps change what is printed beyond the live area, not within it."""
    sheet, drawing, pattern, whole = made(PaperPlan(join=Join.OVERLAP, orientation=Orientation.LANDSCAPE))
    assert_same_ink(joined(sheet, pattern), sheet_picture(whole), sheet, drawing)


def test_laps_show_the_neighbours_ink() -> None:
    """Beyond the right edge of the live area a lapped page repeats what its neighbour begins with."""
    plan = PaperPlan(join=Join.OVERLAP, overlap=10.0)
    sheet, _, pattern, _ = made(plan)
    document, names = pikepdf.open(io.BytesIO(pattern)), labels(pattern)
    left, right = next((a, b) for a, b in sheet.tiling.joins() if a.row == b.row)
    pages = [picture(pattern, names.index(tile.name)) for tile in (left, right)]
    x0, y0, x1, y1 = (dots(side) for side in trim(document, names.index(left.name)))
    height = pages[0].shape[0]
    lap = round(10.0 / 25.4 * DPI) - 2
    rows = slice(height - y1 + 2, height - y0 - 2)
    here, there = pages[0][rows, x1 + 3 : x1 + lap], pages[1][rows, x0 + 3 : x0 + lap]
    assert ((there < 100) & (here > 160)).sum() < 5


def line_at(ink: np.ndarray, least: float) -> list[float]:
    """The middles of all lines across the picture that are at least so many dots long."""
    dark = np.flatnonzero([longest_run(row) >= least for row in ink])
    groups = np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)
    return [float(group.mean()) for group in groups if len(group)]


def longest_run(row: np.ndarray) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(int), [0]])))
    return int((edges[1::2] - edges[::2]).max(initial=0))


def test_the_square_and_the_bar_measure_true() -> None:
    """10 cm both ways and 4 in across in a metric ticket, 4 in and 10 cm in one of inches, to a dot (0.085 mm)."""
    sides = {"cm": 10 / 2.54 * DPI, "in": 4.0 * DPI}
    plan = plan_sheet((sleeve(),), PaperPlan())
    for unit, other in (("cm", "in"), ("in", "cm")):
        info = replace(INFO, unit=unit)
        page = picture(pattern_pdf(plan, info, draw_sheet(plan, info)), 0) < 128
        for ink in (page, page.T):
            middles = np.array(line_at(ink, 0.97 * 10 / 2.54 * DPI))
            assert np.abs(np.abs(middles[:, None] - middles[None]) - sides[unit]).min() <= 1.0
        rows = [row.nonzero()[0] for row in page[:, : round(4.5 * DPI)]]
        bar = [row for row in rows if 0.85 * sides[other] < len(row) < 0.98 * sides[other]]  # open about its words
        assert abs(bar[0][-1] - bar[0][0] - 2 - sides[other]) <= 2.0  # from outer edge to outer edge of the end ticks


def test_a_known_printer_error_is_corrected() -> None:
    """A printer that makes 100 mm into 99 mm across is sent 101.01 mm."""
    plan = PaperPlan(correct_x=100 / 99)
    sheet, _, pattern, _ = made(plan)
    x0, y0, x1, y1 = trim(pikepdf.open(io.BytesIO(pattern)), 1)
    assert (x1 - x0) / 72 * 25.4 == pytest.approx(sheet.tiling.width * 100 / 99, abs=0.01)
    assert (y1 - y0) / 72 * 25.4 == pytest.approx(sheet.tiling.height, abs=0.01)


def test_furniture_keeps_inside_the_printable_area(a4: Made) -> None:
    """Nothing is printed in the outer quarter inch, which common home printers can't reach (common practice)."""
    margin = int(6.4 / 25.4 * DPI)
    for number in range(len(labels(a4[2]))):
        ink = picture(a4[2], number) < 200
        ink[margin:-margin, margin:-margin] = False
        assert not ink.any()


@pytest.mark.parametrize("join", list(Join))
def test_half_discs_become_discs_where_pages_are_joined(join: Join) -> None:
    """On pages cut and laid as the start page tells, every disc is a whole ring, half of it on each page."""
    sheet, drawing, pattern, _ = made(PaperPlan(join=join))
    canvas = joined(sheet, pattern)  # all that is left of the pages: strips are cut off, laps are covered
    turn = np.linspace(0.0, 2.0 * np.pi, 180, endpoint=False)
    radius = RADIUS - PEN / 2
    centres = disc_centres(sheet, drawing)
    assert len(centres) == 2 * len(sheet.tiling.joins())
    for _, _, x, y in centres:
        cols = np.round((x + radius * np.cos(turn)) / 25.4 * DPI - 0.5).astype(int)
        rows = np.round((sheet.sheet.height - y - radius * np.sin(turn)) / 25.4 * DPI - 0.5).astype(int)
        near = np.min([canvas[rows + i, cols + j] for i in (-1, 0, 1) for j in (-1, 0, 1)], axis=0)
        assert (near < 190).mean() > 0.98


def test_each_page_names_its_neighbours_within_its_live_area(a4: Made) -> None:
    """Where the name is neither cut off nor covered when the pages are joined."""
    sheet, _, pattern, _ = a4
    document, names = pikepdf.open(io.BytesIO(pattern)), labels(pattern)
    for a, b in sheet.tiling.joins():
        for here, other in ((a, b), (b, a)):
            number = names.index(here.name)
            assert other.name in words_within(pattern, number, trim(document, number))


def words_within(pdf: bytes, number: int, box: tuple[float, float, float, float]) -> str:
    """The words in a box of a page (points)."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return document[number].get_textpage().get_text_bounded(*box)
    finally:
        document.close()


def test_discs_keep_off_the_pattern_where_they_can() -> None:
    """They stand where the least ink is; few of a whole top's lie on any."""
    sheet = plan_sheet(top(), PaperPlan())
    drawing = draw_sheet(sheet, INFO)
    points = np.concatenate([sample_strokes([s.segments for s in ink.strokes], 1.0) for ink in drawing.pieces])
    far = [np.hypot(*(points - (x, y)).T).min() for _, _, x, y in disc_centres(sheet, drawing)]
    assert (np.array(far) < RADIUS - 0.5).mean() < 0.1


def test_a_lone_inside_tile_is_not_blank() -> None:
    """A page that lies wholly inside a piece, clear of its lines, carries the piece's code."""
    sheet, _, pattern, _ = made(PaperPlan(paper_named("90 x 90 mm")), (body("front", "Front", "A", 90.0, back=False),))
    document = pikepdf.open(io.BytesIO(pattern))
    for number, label in enumerate(labels(pattern)):
        if label.startswith("Start"):
            continue
        x0, y0, x1, y1 = (round(side * 100 / 72) for side in trim(document, number))
        page = picture(pattern, number, 100)
        inside = page[page.shape[0] - y1 + 1 : page.shape[0] - y0 - 1, x0 + 1 : x1 - 1]
        assert (inside < 200).any(), label
    assert sheet.pages == len(labels(pattern)) - sum(label.startswith("Start") for label in labels(pattern))


def between(number: int, side: float) -> slice:
    """The dots of one tile along one side, less one at each end."""
    return slice(round(number * side) + 1, round((number + 1) * side) - 1)


def test_every_printed_tile_carries_ink(a4: Made) -> None:
    """No blank tile is printed, and no tile that carries ink is left out."""
    sheet, _, _, whole = a4
    page = sheet_picture(whole, 100)
    high, wide = sheet.tiling.height / 25.4 * 100, sheet.tiling.width / 25.4 * 100
    inked = {
        (row, col)
        for row in range(sheet.tiling.rows)
        for col in range(sheet.tiling.cols)
        if (page[between(row, high), between(col, wide)] < 200).any()
    }
    assert inked == {(tile.row, tile.col) for tile in sheet.tiling.tiles}
