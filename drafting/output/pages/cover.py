"""The start page: test square, page map, piece list, what to do next, and the usual cautions.

It reads in columns, from left to right. What belongs together stays together; what finds no room whole goes on to a
further page, and the first says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.finishing.cutpiece import CutPiece
from drafting.finishing.labels import name_cloth, name_mark, tell_again
from drafting.garment.model import MAIN_CLOTH
from drafting.output.pages.advice import advise_making, advise_printing
from drafting.output.pages.flat_picture import draw_flat_picture, flat_height
from drafting.output.pages.furniture import cut_words, fitting_size
from drafting.output.pages.legend import Legend, draw_legend, plan_legend
from drafting.output.pages.page_map import draw_map, map_height
from drafting.output.pages.squares import Gauge, draw_gauge, place_gauge, set_square
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import (
    Box,
    Group,
    LaidParagraph,
    Para,
    halve_paragraph,
    lay_groups,
    lay_paragraphs,
    set_down,
    split_columns,
)
from drafting.output.pdf.text import text_width
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.paper import SheetPlan
from drafting.record import dataclass
from drafting.saying import shorten

HEAD: Final = 16.0
"""How much of the frame's upper edge the title takes (mm)."""

_GAP: Final = 5.0
"""Between the square and what stands beside or below them (mm)."""

_MAP: Final = 80.0
"""A column less high than this (mm) has no room for a map that can be read."""

_NOTICE: Final = 6.0
"""Room for the words that tell what stands on the next page (mm)."""


@dataclass(frozen=True, slots=True, eq=False)
class Cover:
    """The start pages, set.

    ``pages`` holds what is laid on each. The flat, the map and the list of lines stand at the top of their boxes, each
    on the page of its number, from 0; there may be no flat.
    """

    pages: tuple[tuple[LaidParagraph, ...], ...]
    frame: Box
    gauge: Gauge
    map: tuple[int, Box]
    lines: tuple[int, Box]
    legend: Legend
    flat: tuple[int, Box] | None = None


def plan_cover(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> Cover:
    """Return the start page, set, and further ones if its words need them."""
    info, joins = info.tidy(), bool(plan.tiling.joins())
    frame = _printable(plan)
    gauge = place_gauge(under_heading(frame), plan.paper.scale, info.unit)
    columns, fresh = _columns(under_heading(frame), gauge.box), list(split_columns(frame))
    flat_at = _take_column(columns, fresh, lambda box: flat_height(info, box)) if info.flat else None
    map_at = _take_column(
        columns, fresh, lambda box: map_height(plan, drawing, box) if _height_of(box) >= _MAP else math.inf
    )

    signs = plan_legend(drawing, info, gauge.room, joins=joins)
    inside, spare, room = set_square(gauge, advise_printing(plan, gauge.side), signs.height)
    lines_at = (0, room) if room is not None else None
    if lines_at is None:
        signs = plan_legend(drawing, info, min(box.x1 - box.x0 for box in (*columns, *fresh)), joins=joins)
        lines_at = _take_column(columns, fresh, lambda _: signs.height + 2.0)

    groups = [*((para,) for para in (*spare, *advise_making())), *cover_groups(plan, info, drawing)]
    pages = list(_lay_pages(groups, columns, fresh, split_columns(frame)))
    pages += [[]] * (max(map_at[0], lines_at[0], flat_at[0] if flat_at else 0) + 1 - len(pages))
    pages[0] = [*inside, *pages[0]]
    return Cover(tuple(map(tuple, pages)), frame, gauge, map_at, lines_at, signs, flat_at)


def write_cover(document: Document, cover: Cover, plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> None:
    """Write the start pages."""
    for number, laid in enumerate(cover.pages):
        label = f"Start {number + 1}" if number else "Start"
        title = f"Start, page {number + 1}" if number else "Start: test square, page map, pieces"
        with document.page(plan.paper.page, label, title):
            if number == 0:
                print_heading(document, info, _paper_words(plan, len(cover.pages)), cover.frame)
                draw_gauge(document, cover.gauge)
            if cover.flat is not None and cover.flat[0] == number:
                draw_flat_picture(document, info, cover.flat[1])
            if cover.map[0] == number:
                draw_map(document, plan, drawing, cover.map[1])
            if cover.lines[0] == number:
                draw_legend(document, cover.legend, cover.lines[1])
            set_down(document, laid)


def _printable(plan: SheetPlan) -> Box:
    (wide, high), margin = plan.paper.page, plan.paper.margin + 1.0
    return Box(margin, margin, wide - margin, high - margin)


def _paper_words(plan: SheetPlan, starts: int) -> str:
    """Return how many pages are printed, all told."""
    way = "landscape" if plan.paper.landscape else "portrait"
    start = "this start page" if starts == 1 else f"{starts} start pages"
    pages = f"{starts + plan.pages} pages of {plan.paper.paper.name}, {way}: {start} and {plan.pages} of pattern"
    return "  \u00b7  ".join(part for part in (pages, plan.paper.correction) if part)


def under_heading(frame: Box) -> Box:
    """Return what of a frame the heading leaves."""
    return replace(frame, top=frame.top - HEAD)


def print_heading(document: Document, info: PrintInfo, paper: str, frame: Box) -> None:
    """Print the title in the frame's upper edge, and below it wearer, draft mark and paper: HEAD mm in all."""
    room = frame.x1 - frame.x0
    size = min(17.0, 17.0 * room / max(text_width(info.title, 17.0), 1.0))
    document.text(info.title, frame.x0, frame.top - 6.0, max(size, 7.0))
    mark = name_mark(info.mark)
    line_ = "  \u00b7  ".join(part for part in (info.wearer, mark, paper) if part)
    small = max(fitting_size(line_, 9.0, room), 6.5)
    document.text(cut_words(line_, room, small), frame.x0, frame.top - 12.0, small)


def _columns(body: Box, gauge: Box) -> list[Box]:
    """Return the columns that the test square leaves, in reading order: below it, and beside it."""
    right, low = gauge.x1 + _GAP, gauge.bottom - _GAP
    beside = list(split_columns(replace(body, x0=right)))
    if not beside:
        return list(split_columns(replace(body, top=low)))
    below = Box(body.x0, body.bottom, right - _GAP, low)
    return [*([below] if _height_of(below) >= 10.0 else []), *beside]


def _take_column(columns: list[Box], fresh: list[Box], height: Callable[[Box], float]) -> tuple[int, Box]:
    """Take room for something at the top of the highest column, or of one of the next page; return page and place."""
    for page, boxes in enumerate((columns, fresh)):
        for i in sorted(range(len(boxes)), key=lambda i: boxes[i].bottom - boxes[i].top):
            box = boxes[i]
            if _height_of(box) >= height(box):
                boxes[i] = replace(box, top=box.top - height(box))
                return page, box
    return 1, fresh[0]


def _height_of(box: Box) -> float:
    return box.top - box.bottom


def _lay_pages(
    groups: Sequence[Group], columns: Sequence[Box], fresh: Sequence[Box], later: Sequence[Box]
) -> Iterator[list[LaidParagraph]]:
    """Yield what is laid on each page; the first tells what stands on the next."""
    first, waiting = lay_groups(groups, columns, fresh)
    if waiting and columns:
        end = columns[-1]
        first, waiting = lay_groups(groups, [*columns[:-1], replace(end, bottom=end.bottom + _NOTICE)], fresh)
        first += lay_paragraphs([_next_page(waiting)], [replace(end, top=min(end.top, end.bottom + _NOTICE))])[0]
    yield first
    boxes = fresh
    while waiting:
        laid, left = lay_groups(waiting, boxes, later)
        if left == waiting:
            left = halve_paragraph(waiting)
        else:
            yield laid
            boxes = later
        waiting = left


def _next_page(waiting: Sequence[Group]) -> Para:
    """Return the words that tell what stands on the next page, by its headings."""
    heads = [group[0].short or group[0].words for group in waiting if len(group) > 1]
    return Para(f"{', '.join(heads) or 'More'}: next page.", 9.0, 1.5)


def cover_groups(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> Iterator[Group]:
    """Yield what is told of the job, the piece list, and the sections."""
    if info.warning:
        yield (Para(info.warning, 10.0, 3.0),)
    for i, words in enumerate(info.lines):
        yield (Para(words, 8.0, 0.8 if i or info.warning else 3.0),)
    pieces = (Para(list_piece(piece, piece.name in drawing.crowded, info), 8.0, 0.8, 5.0) for piece in plan.pieces)
    yield (Para("Pieces", 10.0, 3.0), *pieces)
    for title, body in info.sections:
        head = Para(str(title), 10.0, 3.0, short=str(shorten(title)))
        yield (head, *(Para(words, 8.0, 0.8, 4.0) for words in body))


def list_piece(piece: CutPiece, crowded: bool, info: PrintInfo) -> str:
    """Return a piece's line in the list; with all that its label says, where the piece had no room for it."""
    labels = [label.rstrip(".") for label in piece.labels if label != name_mark(info.mark)] if crowded else []
    of = "" if piece.cloth == MAIN_CLOTH or labels else f", {name_cloth(piece.cloth)}"
    again = f", and {tell_again(piece.again)}" if piece.again and not labels else ""
    return f"{piece.code}   {piece.title}: {'; '.join([f'{piece.how}{again}{of}', *labels])}"
