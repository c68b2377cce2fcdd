"""The fitting sheet as pages to print: measures beside the body's, how to fit, where to look, and room for a pen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.columns import show_ease
from drafting.finishing.labels import name_mark
from drafting.output.pages.furniture import cut_words
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import LEADING, Box, wrap_words
from drafting.output.pdf.ink import POINT
from drafting.output.pdf.operators import line, pen, rectangle
from drafting.output.pdf.text import ASCENT
from drafting.output.pictures.drawing import PrintInfo
from drafting.paper import PaperPlan
from drafting.proof.words.fitting import AMOUNT_HEADING, FittingMeasure, FittingSheet, amounts
from drafting.proof.words.fitting_folds import Fold
from drafting.record import dataclass
from drafting.units import Unit, show_length

A4: Final = (210.0, 297.0)
LEAST: Final = 140.0
LARGEST: Final = 360.0
"""A paper with a shorter side or a longer side (mm) than these is no page to write on: the sheet is then A4."""

MARGIN: Final = 12.0
HEAD: Final = 15.0
SIZE: Final = 8.5
PAD: Final = 1.8
ROW: Final = SIZE * LEADING * POINT
KEPT_WHOLE: Final = 8
"""A table of no more rows than this isn't parted."""
TICKED: Final = 3.0
"""The side of a box to tick (mm)."""


@dataclass(frozen=True, slots=True)
class _PageTable:
    """A table: its heading, the names of its columns, their shares of the width, and its rows.

    The words of a row are wrapped in their cells; an empty cell is room for a pen. ``ticked``: a box to tick stands
    before each row; ``figures`` are the columns set to the right.
    """

    heading: str
    names: tuple[str, ...]
    shares: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    ticked: bool = False
    figures: tuple[int, ...] = ()
    least: float = 0.0


def fitting_pdf(sheet: FittingSheet, info: PrintInfo, paper: PaperPlan) -> bytes:
    """Return the bytes of the fitting sheet."""
    info = info.tidy()
    named = info.name_draft()
    document = Document(f"Fitting sheet: {named}", "Fitting sheet for the first toile")
    page = page_of(paper)
    frame = Box(MARGIN, MARGIN, page[0] - MARGIN, page[1] - MARGIN - HEAD)
    pages = list(_lay_pages(_tables(sheet, info.unit), frame))
    for number, placed in enumerate(pages, start=1):
        with document.page(page, f"Fitting {number}", f"Fitting sheet, page {number}"):
            _draw_head(document, info, frame, f"page {number} of {len(pages)}")
            for table, first, last, top in placed:
                _draw_table(document, table, table.rows[first:last], frame, top)
    return document.bytes()


def page_of(paper: PaperPlan) -> tuple[float, float]:
    """Return the size (mm) of a page to read and write on: the job's paper, or A4 where that is large or tiny."""
    return (paper.page[0], paper.page[1]) if min(paper.page) >= LEAST and max(paper.page) <= LARGEST else A4


def _draw_head(document: Document, info: PrintInfo, frame: Box, place: str) -> None:
    room = frame.x1 - frame.x0
    document.text(cut_words(f"Fitting sheet: {info.title}", room, 14.0), frame.x0, frame.top + HEAD - 5.0, 14.0)
    mark = name_mark(info.mark)
    words = "  \u00b7  ".join(part for part in (info.wearer, mark, "first toile", place) if part)
    document.text(cut_words(words, room, 9.0), frame.x0, frame.top + HEAD - 10.5, 9.0)


def _tables(sheet: FittingSheet, unit: Unit) -> Iterator[_PageTable]:
    rows = tuple(_measure_row(measure, unit) for measure in sheet.measures)
    names = ("Measure", "Body", "Garment", "Ease", "On the toile", "Notes")
    yield _PageTable(
        "The garment's measures beside the body's", names, (34, 12, 12, 12, 14, 26), rows, figures=(1, 2, 3)
    )
    yield _PageTable("Fitting the first toile", (), (1,), tuple((step,) for step in sheet.steps), ticked=True)
    yield _PageTable(AMOUNT_HEADING, (), (1,), tuple((words,) for words in amounts(unit, sheet.example)))
    seen = ("What is seen", "It means", "What helps", "How much", "Found")
    shares = (34, 26, 30, 30, 18)
    yield _PageTable("Where to look", seen, shares, tuple(map(_fold_row, sheet.folds)), ticked=True, least=9.0)


def _measure_row(measure: FittingMeasure, unit: Unit) -> tuple[str, ...]:
    body, ease = "-", "-"
    if measure.body is not None:
        body, ease = show_length(measure.body, unit), show_ease(measure.body, measure.garment, unit)
    return measure.title[:1].upper() + measure.title[1:], body, show_length(measure.garment, unit), ease, "", ""


def _fold_row(fold: Fold) -> tuple[str, ...]:
    answer = f"{fold.answer}: {fold.written}" if fold.written else fold.answer
    return f"{fold.where}: {fold.seen}", fold.means, answer, fold.amount, ""


def _widths(table: _PageTable, frame: Box) -> list[float]:
    room = frame.x1 - frame.x0 - (TICKED + 2.0 if table.ticked else 0.0)
    return [room * share / sum(table.shares) for share in table.shares]


def _height(table: _PageTable, row: Sequence[str], frame: Box) -> float:
    widths = _widths(table, frame)
    rows = max(len(wrap_words(words, wide - 2 * PAD, SIZE)) for words, wide in zip(row, widths, strict=True))
    return max(rows * ROW + PAD, table.least)


def _top_height(table: _PageTable) -> float:
    return 9.0 + (ROW + PAD if table.names else 0.0)


_Placed = tuple[_PageTable, int, int, float]
"""A table, the rows of it that stand on a page, from and to, and the height its heading starts at (mm)."""


def _lay_pages(tables: Iterator[_PageTable], frame: Box) -> Iterator[list[_Placed]]:
    """Lay tables out on pages; one that goes on overleaf has its heading again there."""
    page: list[_Placed] = []
    y = frame.top
    for table in tables:
        heights = [_height(table, row, frame) for row in table.rows]
        first = 0
        if page and len(heights) <= KEPT_WHOLE and y - _top_height(table) - sum(heights) < frame.bottom:
            yield page
            page, y = [], frame.top
        while first < len(heights):
            last, low = first, y - _top_height(table)
            while last < len(heights) and low - heights[last] >= frame.bottom:
                low -= heights[last]
                last += 1
            if last > first:
                page.append((table, first, last, y))
                first, y = last, low - 3.0
            if first < len(heights):
                if not page:  # a row higher than a page: nothing this sheet holds
                    raise ValueError(f"a row of {table.heading!r} finds no room on a page")
                yield page
                page, y = [], frame.top
    if page:
        yield page


def _draw_table(document: Document, table: _PageTable, rows: Sequence[Sequence[str]], frame: Box, top: float) -> None:
    document.text(table.heading, frame.x0, top - 6.0, 10.5)
    y = top - 9.0
    widths, left = _widths(table, frame), frame.x0 + (TICKED + 2.0 if table.ticked else 0.0)
    if table.names:
        _print_cells(document, table, table.names, widths, left, y)
        y -= ROW + PAD
    document.ops(f"{pen(0.25)} {line(frame.x0, y, frame.x1, y)} S")
    for row in rows:
        high = _height(table, row, frame)
        if table.ticked:
            low = y - PAD * 0.6 - TICKED
            document.ops(f"{pen(0.25)} {rectangle(frame.x0, low, frame.x0 + TICKED, low + TICKED)} S")
        _print_cells(document, table, row, widths, left, y)
        for i in range(1, len(row)):
            if not row[i]:  # room for a pen
                x = left + sum(widths[:i]) - PAD / 2
                document.ops(f"{pen(0.1, 0.5)} {line(x, y, x, y - high)} S")
        y -= high
        document.ops(f"{pen(0.1, 0.5)} {line(frame.x0, y, frame.x1, y)} S")


def _print_cells(
    document: Document, table: _PageTable, row: Sequence[str], widths: Sequence[float], left: float, top: float
) -> None:
    """Print a row's words; columns of figures end at their right edge."""
    from drafting.output.pdf.text import text_width

    for i, (words, wide) in enumerate(zip(row, widths, strict=True)):
        if words:
            rows = wrap_words(words, wide - 2 * PAD, SIZE)
            base = top - PAD * 0.6 - SIZE * ASCENT * POINT
            x = left + wide - PAD - text_width(rows[0], SIZE) if i in table.figures else left
            document.rows(rows, x, base, SIZE, ROW)
        left += wide
