"""The booklet on paper, A4 or Letter: short texts in two columns, steps across the page, every page used."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile
from typing import Final

from drafting.finishing.labels import name_mark
from drafting.output.booklet.blocks import BETWEEN, CAPTION_SIZE, GUTTER, PlacedBlock, list_blocks
from drafting.output.booklet.content import Booklet
from drafting.output.pages.flat_picture import draw_views, point_out, store_views
from drafting.output.pages.step_picture import draw_step_picture
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, lay_paragraphs, set_down
from drafting.output.pdf.operators import line, pen
from drafting.output.pictures.flat import FlatPicture
from drafting.paper.papers import PAPERS, Paper

MARGIN: Final = 15.0
"""Of every page (mm)."""

_TITLE, _FOOT = 17.0, 6.0
_ALL: Final = 1e6
"""Room without an end (mm): paragraphs are laid there, as their height is known."""

AIRS: Final = 1.0, 0.8, 0.6
"""Shares of the air between blocks that are tried."""

WHOLE: Final = 1.3
"""Columns may be longer by so much than if they were even, so that what belongs together stays together."""

Spot = tuple[PlacedBlock, float, float]
"""A block, and the left and the top of its place on the page (mm)."""


def sheet_to_read(paper: Paper) -> tuple[float, float]:
    """Return the size (mm) of the pages that a booklet is printed on: A4, or Letter where the pattern is on that."""
    letter = next(each for each in PAPERS if each.name == "US Letter")
    a4 = next(each for each in PAPERS if each.name == "A4")
    chosen = letter if paper.name.startswith("US") else a4
    return chosen.width, chosen.height


def booklet_pdf(booklet: Booklet, size: tuple[float, float]) -> bytes:
    """Return the booklet as a PDF of pages of ``size`` (mm), upright."""
    document = Document(f"{booklet.title}: booklet", "How to cut and sew this garment")
    room, pages = page_room(size), plan_booklet(booklet, size)
    blocks = [block for spots in pages for block, _, _ in spots]
    flats = {_name_of(block.flat[2]): block.flat[2] for block in blocks if block.flat and block.flat[3]}
    for name, flat in flats.items():
        store_views(document, name, flat)
    for number, spots in enumerate(pages, start=1):
        with document.page((min(size), max(size)), str(number), f"Page {number}"):
            if number == 1:
                _print_title(document, booklet, room, len(pages))
            _print_foot(document, booklet, f"page {number} of {len(pages)}")
            for block, x, top in spots:
                _print_block(document, block, x, top, room)
    return document.bytes()


def page_room(size: tuple[float, float]) -> Box:
    """Return the room within the margins of an upright page of ``size`` (mm)."""
    return Box(MARGIN, MARGIN + _FOOT, min(size) - MARGIN, max(size) - MARGIN)


def plan_booklet(booklet: Booklet, size: tuple[float, float]) -> list[list[Spot]]:
    """Return what stands where on each page of ``size`` (mm), with as much air as doesn't cost a page.

    What sections have drawn, as how the pieces lie on the cloth, is left out where it would cost one: the cutting plan
    shows it larger.
    """
    room = page_room(size)
    plain = replace(booklet, before=tuple(replace(each, drawn=None) for each in booklet.before))
    return min((_plan_airy(each, room) for each in (booklet, plain)), key=len)


def _plan_airy(booklet: Booklet, room: Box) -> list[list[Spot]]:
    """What stands where on each page, with as much air as doesn't cost a page."""
    blocks = list(list_blocks(booklet, room.x1 - room.x0))
    plans = [plan_pages([replace(each, after=each.after * air) for each in blocks], room) for air in AIRS]
    return min(plans, key=len)


def plan_pages(blocks: Sequence[PlacedBlock], room: Box) -> list[list[Spot]]:
    """Return what stands where on each page: each block whole, and narrow ones in two columns that are about even."""
    pages: list[list[Spot]] = [[]]
    waiting, top = list(blocks), room.top - _TITLE
    while waiting:
        narrow = list(takewhile(lambda block: block.narrow, waiting))
        fresh = not pages[-1]
        if narrow:
            spots, used = _lay_columns(narrow, room, top, force=fresh)
        else:
            spots, used = [(waiting[0], room.x0, top)], waiting[0].height
            if top - used < room.bottom and not fresh:
                spots = []
        pages[-1] += spots
        del waiting[: len(spots)]
        top -= used + (spots[-1][0].after if spots and not narrow else BETWEEN)
        if not spots or len(spots) < len(narrow):
            pages.append([])
            top = room.top
    return [page for page in pages if page]


def _lay_columns(blocks: Sequence[PlacedBlock], room: Box, top: float, *, force: bool) -> tuple[list[Spot], float]:
    """Lay as many narrow blocks as there is room for, in two columns; return them and how far down they reach."""
    high = top - room.bottom
    cuts = [(max(_reach(blocks[:k]), _reach(blocks[k:])), k) for k in range(1, len(blocks) + 1)]
    least = min(reach for reach, _ in cuts)
    whole = [(reach, k) for reach, k in cuts if k == len(blocks) or blocks[k].head]
    reach, cut = min(whole) if min(whole)[0] <= min(high, WHOLE * least) else min(cuts)
    end = len(blocks)
    if reach > high:
        cut = _count(blocks, high)
        end = cut + _count(blocks[cut:], high)
    if not end and force:
        cut = end = 1
    right = room.x0 + (room.x1 - room.x0 + GUTTER) / 2.0
    spots = [*_lay_column(blocks[:cut], room.x0, top), *_lay_column(blocks[cut:end], right, top)]
    return spots, max(_reach(blocks[:cut]), _reach(blocks[cut:end]))


def _lay_column(blocks: Sequence[PlacedBlock], x: float, top: float) -> list[Spot]:
    return [(block, x, top - sum(each.height + each.after for each in blocks[:i])) for i, block in enumerate(blocks)]


def _reach(blocks: Sequence[PlacedBlock]) -> float:
    """How high blocks are, one below the other (mm)."""
    return sum(block.height + block.after for block in blocks) - (blocks[-1].after if blocks else 0.0)


def _count(blocks: Sequence[PlacedBlock], high: float) -> int:
    """How many blocks there is room for, one below the other."""
    return sum(1 for _ in takewhile(lambda k: _reach(blocks[:k]) <= high, range(1, len(blocks) + 1)))


def _print_title(document: Document, booklet: Booklet, room: Box, pages: int) -> None:
    document.text(booklet.title, room.x0, room.top - 7.0, 20.0)
    mark = name_mark(booklet.mark)
    count = f"{len(booklet.steps)} steps, {pages} pages"
    words = "  \u00b7  ".join(part for part in (booklet.wearer, mark, count) if part)
    document.text(words, room.x0, room.top - 12.5, 9.5)


def _print_foot(document: Document, booklet: Booklet, page: str) -> None:
    mark = name_mark(booklet.mark)
    words = "  \u00b7  ".join(part for part in (booklet.title, mark, page) if part)
    document.text(words, MARGIN, MARGIN, 8.0, grey=0.35)


def _print_block(document: Document, block: PlacedBlock, x: float, top: float, room: Box) -> None:
    if block.step and top < room.top:
        document.ops(f"{pen(0.2, 0.55)} {line(room.x0, top + BETWEEN * 0.5, room.x1, top + BETWEEN * 0.5)} S")
    for dx, down, wide, paragraphs in block.columns:
        laid, _ = lay_paragraphs(paragraphs, [Box(x + dx, top - _ALL, x + dx + wide, top - down)])
        set_down(document, laid)
    for dx, down, picture in block.pictures:
        draw_step_picture(document, picture, x + dx, top - down - picture.height)
        if picture.title:
            document.text(picture.title, x + dx, top - down - picture.height - 3.4, CAPTION_SIZE, grey=0.25)
    if block.painted is not None:
        painted, wide = block.painted
        document.paint(painted, x, top - wide * painted.high / painted.wide, wide)
    if block.flat is not None:
        dx, down, flat, marked = block.flat
        at = x + dx, top - down - flat.height
        if marked:
            point_out(document, _name_of(flat), flat, marked, *at)
        else:
            draw_views(document, flat, *at)


def _name_of(flat: FlatPicture) -> str:
    """What the small flat from some faces is stored as."""
    return "-".join(["flat", *(placed.view.face for placed in flat.views)])
