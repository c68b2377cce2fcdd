"""The pattern on a copy shop's wide paper: the pieces, a test square among them, a line that says what it is.

No paper is spent on what the pattern's start page tells. Sheets are joined only where a piece is larger than one.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from drafting.finishing.labels import name_mark
from drafting.output.pages.advice import advise_printing_wide
from drafting.output.pages.discs import Shares, disc_operators, disc_places, name_neighbours, store_disc
from drafting.output.pages.furniture import PageFrame, cut_words, letter_operators
from drafting.output.pages.legend import draw_legend, plan_legend
from drafting.output.pages.squares import BAR, INCH, draw_gauge, place_gauge, set_square
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, set_down
from drafting.output.pdf.operators import METRIC, PER_MM, num, pen, rectangle
from drafting.output.pdf.plot import Plot
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.paper import Tile
from drafting.paper.wide import EDGE, HEADING, WidePlan

_ROUND: Final = 1.0

NOTE: Final = 4 * INCH + BAR + 2 * _ROUND + 1.5
"""The room that the test square and its scale bars take, each way (mm)."""

_SIZE: Final = 12.0


def wide_pdf(wide: WidePlan, info: PrintInfo, drawing: Drawing) -> bytes:
    """Return the bytes of the pattern on wide paper: a page for each sheet, or length of a roll.

    Each page's TrimBox is what carries pattern, its label the number of the sheet.
    """
    info = info.tidy()
    title = info.name_draft()
    document = Document(title, f"Sewing pattern, true to size, for {wide.paper.tell(info.unit)}")
    shares = disc_places(wide.plan, drawing) if wide.parted else {}
    if wide.parted:
        store_disc(document)
    for number, tile in enumerate(wide.plan.tiling.tiles, start=1):
        frame = _frame(wide, tile)
        with document.page(frame.page, str(number), f"Sheet {number}", frame.trim, metric=False):
            _draw_tile(document, wide, tile, frame, drawing)
            _draw_heading(document, wide, info, number)
            if tile in {each for pair in wide.plan.tiling.joins() for each in pair}:
                _draw_joins(document, wide, frame, tile, shares)
            _draw_note(document, wide, info, drawing, tile)
    return document.bytes()


def _frame(wide: WidePlan, tile: Tile) -> PageFrame:
    left, tiling = wide.inset, wide.plan.tiling
    trim = (left, left, left + tiling.width, left + wide.heights[tile.row])
    return PageFrame(wide.page_of(tile), trim, (0.0, 0.0), wide.inset, (1.0, 1.0))


def _draw_tile(document: Document, wide: WidePlan, tile: Tile, frame: PageFrame, drawing: Drawing) -> None:
    """Draw the pieces that lie on a sheet, plainly, so that plotters and cutters, which follow lines, find them."""
    x0, y0, x1, y1 = wide.plan.tiling.box(tile)
    left, low = frame.trim[:2]
    pieces = [ink for ink in drawing.pieces if _meets(ink.box, (x0, y0, x1, y1))]
    plot = Plot.of(replace(drawing, pieces=tuple(pieces)), document)
    _open_window(document, wide, tile, frame)
    for operators in (*plot.letters, METRIC, *plot.cut, *plot.lines, "Q"):
        document.ops(operators)
    for ink in pieces:
        ax, ay, bx, by = ink.box
        document.place(ink.title, (ax - x0 + left, ay - y0 + low, bx - x0 + left, by - y0 + low))


def _open_window(document: Document, wide: WidePlan, tile: Tile, frame: PageFrame) -> None:
    """Let a sheet's part of the whole show, in points of the whole."""
    (x0, y0, _, _), (left, low, _, _) = wide.plan.tiling.box(tile), frame.trim
    window = (side * PER_MM for side in frame.trim)
    document.ops(f"q {rectangle(*window)} W n 1 0 0 1 {num((left - x0) * PER_MM)} {num((low - y0) * PER_MM)} cm")


def _meets(box: tuple[float, float, float, float], tile: tuple[float, float, float, float]) -> bool:
    return box[0] < tile[2] and box[2] > tile[0] and box[1] < tile[3] and box[3] > tile[1]


def _draw_heading(document: Document, wide: WidePlan, info: PrintInfo, number: int) -> None:
    """Say at the head of a sheet what it is, which of how many, and how it is printed."""
    count, tile = wide.plan.pages, wide.plan.tiling.tiles[number - 1]
    name = f" ({tile.name})" if wide.parted else ""
    sheet = f"sheet {number} of {count}{name}" if count > 1 else ""
    how = f"{wide.paper.tell(info.unit)}, print at 100 %"
    mark = name_mark(info.mark)
    words = "  \u00b7  ".join(part for part in (info.title, info.wearer, mark, sheet, how) if part)
    width, height = wide.page_of(tile)
    document.ops(f"q {METRIC}")
    document.text(cut_words(words, width - 2 * EDGE, _SIZE), EDGE, height - EDGE - HEADING + 1.6, _SIZE)
    document.ops("Q")


def _draw_joins(document: Document, wide: WidePlan, frame: PageFrame, tile: Tile, shares: Shares) -> None:
    """Draw where a sheet is cut, and the discs that name those it is joined to."""
    document.ops(f"q {METRIC} {pen(0.12, 0.35)} {rectangle(*frame.trim)} S Q")
    _open_window(document, wide, tile, frame)
    for operators in (*disc_operators(document, wide.plan.tiling, shares), "Q"):
        document.ops(operators)
    document.ops(letter_operators(document, list(name_neighbours(frame, tile, shares)), PER_MM, digits=0))


def _draw_note(document: Document, wide: WidePlan, info: PrintInfo, drawing: Drawing, tile: Tile) -> None:
    """Draw the test square where it lies, with how to print and the list of lines in it."""
    x0, y0, x1, y1 = wide.plan.tiling.box(tile)
    x, y = wide.note
    if not (x0 <= x + NOTE / 2 < x1 and y0 <= y + NOTE / 2 < y1):
        return
    left, low = x - x0 + wide.inset + _ROUND, y - y0 + wide.inset + _ROUND
    gauge = place_gauge(Box(left, low, left + NOTE, low + NOTE - 2 * _ROUND), (1.0, 1.0), info.unit)
    signs = plan_legend(drawing, info, gauge.room, joins=bool(wide.parted))
    laid, _, place = set_square(gauge, advise_printing_wide(wide.paper.tell(info.unit)), signs.height)
    document.ops(f"q {METRIC}")
    draw_gauge(document, gauge)
    if place is not None:
        draw_legend(document, signs, place)
    set_down(document, laid)
    document.ops("Q")
