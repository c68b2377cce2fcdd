"""The start page: test squares, page map, piece list, what to do next, and the usual cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.finishing.cutpiece import CutPiece
from drafting.output.advice import making, printing
from drafting.output.document import Document
from drafting.output.drawing import Drawing, PrintInfo
from drafting.output.flow import Box, Para, flow
from drafting.output.furniture import fit
from drafting.output.ink import STYLES
from drafting.output.operators import line, pen, rectangle
from drafting.output.page_map import draw_map
from drafting.output.text import width
from drafting.paper import SheetPlan

INCH: Final = 25.4


def write_cover(document: Document, plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> None:
    """Write the start page, and further ones if its words need them."""
    frame = _printable(plan)
    squares = place_squares(frame, plan.paper.scale)
    with document.page(plan.paper.page, "Start", "Start: test squares, page map, pieces"):
        heading(document, info, _paper(plan), frame)
        spare = fill_squares(document, squares, printing(plan), making())
        column, below = _rest(frame, squares)
        column = draw_map(document, plan, drawing, column)
        if column.top - column.bottom >= legend_height(drawing):
            column = legend(document, column, drawing)
        spare = [*flow(document, [*told(plan, info)], [column, below]), *spare]
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


def _paper(plan: SheetPlan) -> str:
    return f"{plan.pages} pages of {plan.paper.paper.name}, {'landscape' if plan.paper.landscape else 'portrait'}"


def heading(document: Document, info: PrintInfo, paper: str, frame: Box) -> None:
    """Print the title in the frame's upper edge, and below it wearer, draft mark and paper: HEAD mm in all."""
    room = frame.x1 - frame.x0
    size = min(17.0, 17.0 * room / max(width(info.title, 17.0), 1.0))
    document.text(info.title, frame.x0, frame.top - 6.0, max(size, 7.0))
    mark = f"draft {info.mark}" if info.mark else ""
    line_ = "  \u00b7  ".join(part for part in (info.wearer, mark, paper) if part)
    document.text(fit(line_, room, 9.0), frame.x0, frame.top - 12.0, 9.0)


HEAD: Final = 16.0


def place_squares(frame: Box, scale: tuple[float, float]) -> list[tuple[Box, str]]:
    """Return the test squares' places, below the heading; ``scale`` is the printer's correction.

    Side by side, one above the other, or one inside the other on small papers.
    """
    (sx, sy), top = scale, frame.top - HEAD
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


def fill_squares(
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
    top = frame.top - HEAD
    if frame.x1 - right < 40:
        middle = (frame.x0 + frame.x1) / 2
        return Box(frame.x0, frame.bottom, middle - 2, low), Box(middle + 2, frame.bottom, frame.x1, low)
    return Box(right, frame.bottom, frame.x1, top), Box(frame.x0, frame.bottom, right - 5, low)


def told(plan: SheetPlan, info: PrintInfo) -> Iterator[Para]:
    """Yield the piece list, and what else is told of the job."""
    yield Para("Pieces", 10.0, 3.0)
    for piece in plan.pieces:
        yield Para(_told(piece), 8.0, 0.8, 5.0)
    for i, words in enumerate(info.lines):
        yield Para(words, 8.0, 3.0 if i == 0 else 0.8)
    for heading_, body in info.sections:
        yield Para(heading_, 10.0, 3.0)
        for words in body:
            yield Para(words, 8.0, 0.8, 4.0)


def _told(piece: CutPiece) -> str:
    return f"{piece.code}   {piece.title}: {piece.how}"


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


def meanings(drawing: Drawing) -> list[tuple[str, str]]:
    """Return the kinds of lines that occur, each with what it means."""
    kinds = {s.style.kind for ink in drawing.pieces for s in ink.strokes}
    return [(kind, words) for kind, words in _MEANINGS if kind in kinds]


def legend_height(drawing: Drawing) -> float:
    """Return how high the legend is (mm)."""
    return 8 + 3.6 * len(meanings(drawing))


def legend(document: Document, box: Box, drawing: Drawing) -> Box:
    """Draw what the lines mean, for the kinds that occur; return the room below."""
    rows = meanings(drawing)
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
