"""The two PDF files: the pattern on tiles, and the whole sheet on one page.

Both show the same ink to the dot.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from drafting.output.pages.cover import Cover, plan_cover, write_cover
from drafting.output.pages.discs import disc_operators, disc_places, name_neighbours, store_disc
from drafting.output.pages.furniture import PageFrame, name_tile, store_surround
from drafting.output.pages.strip import draw_strip, strip_for
from drafting.output.pdf.document import Document
from drafting.output.pdf.operators import METRIC, PER_MM, rectangle
from drafting.output.pdf.plot import Plot
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.paper import Orientation, PaperPlan, SheetPlan, Tile, Tiling
from drafting.paper.papers import GRID, LARGEST_PAPER, Paper

WIDE: Final = "wide paper"
"""What a sheet's paper is called."""


def pattern_pdf(
    plan: SheetPlan, info: PrintInfo, drawing: Drawing, cover: Cover | None = None, start: SheetPlan | None = None
) -> bytes:
    """Return the bytes of the pattern on tiles: the start pages, then one page for each tile that carries something.

    Each tile's TrimBox is its live area, its page label its place in the grid. ``cover`` saves setting the same start
    pages again; ``start`` is the plan for these where they are of another paper.
    """
    info = info.tidy()
    document = Document(_title(info), f"Sewing pattern, true to size, for {plan.paper.paper.name}")
    frame = PageFrame.of(plan.paper)
    plot = Plot.of(drawing, document)
    sheet = (-1, -1, math.ceil(drawing.width) + 1, math.ceil(drawing.height) + 1)
    document.form("cut", sheet, plot.cut)
    store_disc(document)
    shares = disc_places(plan, drawing)
    discs, cut = disc_operators(document, plan.tiling, shares), document.form_operator("cut")
    document.store_operators("sheet", [*discs, cut, "q", METRIC, *plot.lines, "Q Q"])
    store_surround(document, frame, info)
    start = start or plan
    write_cover(document, cover or plan_cover(start, info, drawing), start, info, drawing)
    for tile in plan.tiling.tiles:
        heading, around = f"Page {tile.name}", ["round"]
        with document.page(frame.page, tile.name, heading, frame.trim, metric=False, before=around, after=["sheet"]):
            name_tile(document, frame, tile, name_neighbours(frame, tile, shares))
            _window(document, plot, plan, tile, frame)
    return document.bytes()


def sheet_pdf(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> bytes:
    """Return the bytes of the whole sheet on one page, or on several that join where it is longer than a page may be.

    The sheet is the page's TrimBox; what else a print of it needs stands in a strip outside that. Sheets that join are
    marked as the pattern's pages are, and come after its start pages.
    """
    info = info.tidy()
    strip = strip_for(plan, info, drawing)
    if max(strip.size) > LARGEST_PAPER:
        large = _on_large_pages(plan)
        home = replace(plan.paper, paper=replace(plan.paper.paper, name=WIDE), correct_x=1.0, correct_y=1.0)
        return pattern_pdf(large, info, drawing, start=replace(large, paper=home))
    document = Document(_title(info), "Sewing pattern, true to size, the whole sheet on one page")
    left, low = strip.sheet
    trim = (left, low, left + drawing.width, low + drawing.height)
    with document.page(strip.size, "Sheet", "The whole sheet", trim, metric=False):
        plot = Plot.of(drawing, document)
        # plainly, without stored forms, so that programs that follow lines (plotters, cutters) find them
        document.ops(f"q 1 0 0 1 {_show_short(left * PER_MM)} {_show_short(low * PER_MM)} cm")
        for operators in (*plot.letters, METRIC, *plot.cut, *plot.lines, "Q"):
            document.ops(operators)
        document.ops(f"q {METRIC}")
        draw_strip(document, strip, info, drawing)
        document.ops("Q")
        for ink in drawing.pieces:
            x0, y0, x1, y1 = ink.box
            document.place(ink.title, (x0 + left, y0 + low, x1 + left, y1 + low))
    return document.bytes()


def _on_large_pages(plan: SheetPlan) -> SheetPlan:
    """The same sheet parted into as few pages as it takes, all of one size and none longer than a PDF page may be."""
    frame = 2 * plan.paper.inset
    sides = (plan.sheet.width, plan.sheet.height)
    cols, rows = (math.ceil(side / (LARGEST_PAPER - frame - GRID)) for side in sides)
    wide, high = (
        math.ceil(side / count / GRID - 0.001) * GRID for side, count in zip(sides, (cols, rows), strict=True)
    )
    page = Paper(WIDE, wide + frame, high + frame)
    held = Orientation.LANDSCAPE if wide > high else Orientation.PORTRAIT
    paper = PaperPlan(page, held, plan.paper.margin, gap=plan.paper.gap)
    tiles = tuple(Tile(row, col) for row in range(rows) for col in range(cols))
    return replace(plan, paper=paper, tiling=Tiling(rows, cols, wide, high, tiles))


def _window(document: Document, plot: Plot, plan: SheetPlan, tile: Tile, frame: PageFrame) -> None:
    """Open a tile's window, its live area and the lap beyond it, on the sheet, and print the letters that show there.

    The shared lines of the sheet follow.
    """
    x0, y0, x1, y1 = plan.tiling.box(tile)
    (left, below, right, above), (sx, sy), (lap_x, lap_y) = frame.trim, frame.scale, frame.lap
    window = (side * PER_MM for side in (left, below - lap_y, right + lap_x, above))
    document.ops(f"q {rectangle(*window)} W n")
    at_x, at_y = (left - x0 * sx) * PER_MM, (above - y1 * sy) * PER_MM
    document.ops(f"{sx:.8g} 0 0 {sy:.8g} {_show_short(at_x)} {_show_short(at_y)} cm")
    for operators in plot.showing((x0, y0 - lap_y / sy, x1 + lap_x / sx, y1)):
        document.ops(operators)


def _show_short(number: float) -> str:
    return f"{number:.4f}".rstrip("0").rstrip(".")


def _title(info: PrintInfo) -> str:
    return info.name_draft()
