"""The start page: test squares, page map, piece list, what to do next, and the usual cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.finishing.cutpiece import CutPiece
from drafting.output.advice import making, printing
from drafting.output.document import Document, line, pen, rectangle
from drafting.output.drawing import Drawing, PrintInfo
from drafting.output.flow import Box, Para, flow
from drafting.output.furniture import fit
from drafting.output.ink import STYLES
from drafting.output.page_map import draw_map
from drafting.output.text import width
from drafting.paper import SheetPlan

INCH: Final = 25.4


def write_cover(document: Document, plan: SheetPlan, info: PrintInfo, drawing: Drawing, *, whole: bool = False) -> None:
    """Write the start page, and further ones if its words need them; ``whole``: for the sheet on one page."""
    frame = _printable(plan)
    squares = _squares(frame, plan)
    with document.page(plan.paper.page, "Start", "Start: test squares, page map, pieces"):
        _heading(document, plan, info, frame, whole)
        spare = _fill_squares(document, squares, printing(plan, whole=whole), making())
        column, below = _rest(frame, squares)
        column = draw_map(document, plan, drawing, column)
        column = _legend(document, column, drawing)
        spare = [*flow(document, [*_list(plan), *_notes(info)], [column, below]), *spare]
    number = 2
    while spare:
        with document.page(plan.paper.page, f"Start {number}", f"Start, page {number}"):
            middle = (frame.x0 + frame.x1) / 2
            boxes = [
                Box(frame.x0, frame.bottom, middle - 3, frame.top),
                Box(middle + 3, frame.bottom, frame.x1, frame.top),
            ]
            left = flow(document, spare, boxes)
        if len(left) == len(spare):
            return
        spare, number = left, number + 1


def _printable(plan: SheetPlan) -> Box:
    (wide, high), margin = plan.paper.page, plan.paper.margin + 1.0
    return Box(margin, margin, wide - margin, high - margin)


def _heading(document: Document, plan: SheetPlan, info: PrintInfo, frame: Box, whole: bool) -> None:
    room = frame.x1 - frame.x0
    size = min(17.0, 17.0 * room / max(width(info.title, 17.0), 1.0))
    document.text(info.title, frame.x0, frame.top - 6.0, max(size, 7.0))
    mark = f"draft {info.mark}" if info.mark else ""
    size_ = f"one sheet of {plan.sheet.width / 10:.0f} x {plan.sheet.height / 10:.0f} cm"
    paper = (
        size_
        if whole
        else f"{plan.pages} pages of {plan.paper.paper.name}, {'landscape' if plan.paper.landscape else 'portrait'}"
    )
    line_ = "  \u00b7  ".join(part for part in (info.wearer, mark, paper) if part)
    document.text(fit(line_, room, 9.0), frame.x0, frame.top - 12.0, 9.0)


_HEAD: Final = 16.0


def _squares(frame: Box, plan: SheetPlan) -> list[tuple[Box, str]]:
    """Return the test squares' places.

    Side by side, one above the other, or one inside the other on small papers.
    """
    (sx, sy), top = plan.paper.scale, frame.top - _HEAD
    wide, high = frame.x1 - frame.x0, top - frame.bottom
    whole = min(wide / sx, high / sy) >= 104.0
    sizes = ((100.0, "10 cm"), (4 * INCH, "4 in")) if whole else ((50.0, "5 cm"), (2 * INCH, "2 in"))
    (first, one), (second, two) = sizes
    a = Box(frame.x0 + 0.3, top - first * sy, frame.x0 + 0.3 + first * sx, top)
    if wide >= (first + second) * sx + 8:
        b = Box(a.x1 + 6, top - second * sy, a.x1 + 6 + second * sx, top)
    elif high >= (first + second) * sy + 8:
        b = Box(a.x0, a.bottom - 6 - second * sy, a.x0 + second * sx, a.bottom - 6)
    else:
        b = Box(a.x0, a.top - second * sy, a.x0 + second * sx, a.top)
    return [(a, one), (b, two)]


def _fill_squares(
    document: Document, squares: Sequence[tuple[Box, str]], first: list[Para], second: list[Para]
) -> list[Para]:
    """Draw the test squares with words inside them; return the paragraphs that find no room."""
    (a, one), (b, two) = squares
    for box, _ in squares:
        document.ops(f"{pen(0.25)} {rectangle(box.x0, box.bottom, box.x1, box.top)} S")
    if a.x0 == b.x0 and a.top == b.top:  # one inside the other, on small papers
        document.text(f"inner square {one} \u00d7 {one}", a.x0 + 4, a.top - 5.5, 9.0)
        document.text(f"outer square {two} \u00d7 {two}", a.x0 + 4, a.top - 10.0, 9.0)
        return flow(document, [*first, *second], [Box(a.x0 + 4, a.bottom + 3, a.x1 - 4, a.top - 11)])
    spare = []
    for (box, words), side in zip(squares, (first, second), strict=True):
        document.text(f"{words} \u00d7 {words}", box.x0 + 4, box.top - 6.5, 11.0)
        spare += flow(document, side, [Box(box.x0 + 4, box.bottom + 4, box.x1 - 4, box.top - 9)])
    return spare


def _rest(frame: Box, squares: Sequence[tuple[Box, str]]) -> tuple[Box, Box]:
    """Return the room beside the squares and the room below them."""
    right = max(box.x1 for box, _ in squares) + 5
    low = min(box.bottom for box, _ in squares) - 4
    top = frame.top - _HEAD
    if frame.x1 - right < 40:
        middle = (frame.x0 + frame.x1) / 2
        return Box(frame.x0, frame.bottom, middle - 2, low), Box(middle + 2, frame.bottom, frame.x1, low)
    return Box(right, frame.bottom, frame.x1, top), Box(frame.x0, frame.bottom, right - 5, low)


def _list(plan: SheetPlan) -> Iterator[Para]:
    yield Para("Pieces", 10.0, 3.0)
    for piece in plan.pieces:
        yield Para(_told(piece), 8.0, 0.8, 5.0)


def _told(piece: CutPiece) -> str:
    return f"{piece.code}   {piece.title}: {piece.how}"


def _notes(info: PrintInfo) -> Iterator[Para]:
    for i, words in enumerate(info.lines):
        yield Para(words, 8.0, 3.0 if i == 0 else 0.8)


_MEANINGS: Final = (
    ("cut", "cut here"),
    ("stitch", "sew here"),
    ("fold-edge", "lay on the cloth's fold"),
    ("fold", "fold here when sewing"),
    ("level", "level of the body"),
    ("adjust", "lengthen or shorten here"),
    ("grain", "grain: along the cloth"),
    ("stretch", "greatest stretch"),
)


def _legend(document: Document, box: Box, drawing: Drawing) -> Box:
    """Draw what the lines mean, for the kinds that occur; return the room below."""
    kinds = {s.style.kind for ink in drawing.pieces for s in ink.strokes}
    rows = [(kind, words) for kind, words in _MEANINGS if kind in kinds]
    if box.top - box.bottom < 8 + 3.6 * len(rows):
        return box
    document.text("Lines", box.x0, box.top - 5.0, 10.0)
    y = box.top - 9.0
    for kind, words in rows:
        style = STYLES[kind]
        offsets = (-0.7, 0.7) if kind == "adjust" else (0.0,)
        strokes = " ".join(line(box.x0, y + off, box.x0 + 16, y + off) for off in offsets)
        document.ops(f"{pen(style.width, style.grey, style.dash)} {strokes} S")
        if kind in ("grain", "stretch"):
            for tip, way in ((box.x0, 1), (box.x0 + 16, -1)):
                barb = (
                    f"{tip + way * 2.6:.2f} {y + 0.8:.2f} m {tip:.2f} {y:.2f} l {tip + way * 2.6:.2f} {y - 0.8:.2f} l"
                )
                document.ops(f"[] 0 d 0 g {barb} " + ("h f" if kind == "grain" else "S"))
        document.text(words, box.x0 + 19, y - 0.9, 7.5)
        y -= 3.6
    return Box(box.x0, box.bottom, box.x1, y + 1.0)
