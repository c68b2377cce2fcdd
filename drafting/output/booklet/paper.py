"""The booklet on paper: A4 or Letter, a step's words on the left and its pictures on the right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.flat import FlatView
from drafting.output.booklet.content import LEGEND, SMALL, Booklet, BookletStep, SmallPiece
from drafting.output.pages.flat_picture import draw_views, point_out, store_views
from drafting.output.pages.step_picture import draw_step_picture
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import LEADING, Box, Para, lay_paragraphs, set_down, wrap_words
from drafting.output.pdf.ink import POINT
from drafting.output.pictures.flat import FlatPicture, place_views
from drafting.output.pictures.step import StepPicture
from drafting.paper.papers import PAPERS, Paper
from drafting.record import dataclass

MARGIN: Final = 15.0
"""Of every page (mm)."""

_WORDS: Final = 58.0
"""Width of the column that a step's words stand in (mm)."""

_GAP, _CAPTION, _BETWEEN = 4.0, 5.0, 7.0

_WHERE: Final = 26.0
"""Height of the flat that shows where a step is (mm)."""

_FOOT: Final = 6.0
_ALL: Final = 1e6
"""Room without an end (mm): how high paragraphs are is found by laying them there."""


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    """Something that stands whole on a page.

    ``height`` is how high it is and ``after`` what is left free below it (mm). ``columns`` are paragraphs, each with
    how far from the left and from the top they begin, and how wide they run; ``pictures`` stand at such places too, and
    so does the flat that shows where a step is: its views, and the same views with what is marked.
    """

    height: float
    columns: tuple[tuple[float, float, float, tuple[Para, ...]], ...]
    pictures: tuple[tuple[float, float, StepPicture], ...] = ()
    where: tuple[float, float, FlatPicture, tuple[FlatView, ...]] | None = None
    after: float = _BETWEEN


def sheet_to_read(paper: Paper) -> tuple[float, float]:
    """Return the size (mm) of the pages that a booklet is printed on: A4, or Letter where the pattern is on that."""
    letter = next(each for each in PAPERS if each.name == "US Letter")
    a4 = next(each for each in PAPERS if each.name == "A4")
    chosen = letter if paper.name.startswith("US") else a4
    return chosen.width, chosen.height


def booklet_pdf(booklet: Booklet, size: tuple[float, float]) -> bytes:
    """Return the booklet as a PDF of pages of ``size`` (mm), upright."""
    wide, high = min(size), max(size)
    document = Document(f"{booklet.title}: booklet", "How to cut and sew this garment")
    room = Box(MARGIN, MARGIN + _FOOT, wide - MARGIN, high - MARGIN)
    waiting = list(_list_blocks(booklet, room.x1 - room.x0))
    flats = {_name_of(block.where[2]): block.where[2] for block in waiting if block.where}
    for name, flat in flats.items():
        store_views(document, name, flat)
    number = 0
    while waiting or not number:
        number += 1
        with document.page((wide, high), str(number), f"Page {number}"):
            top = room.top if number > 1 else _print_cover(document, booklet, room)
            _print_foot(document, booklet, number, room)
            while waiting and (top - waiting[0].height >= room.bottom or top == room.top):
                block = waiting.pop(0)
                _print_block(document, block, room.x0, top)
                top -= block.height + block.after
    return document.bytes()


def _print_cover(document: Document, booklet: Booklet, room: Box) -> float:
    """Print title, wearer and flat; return how far down the page they reach (mm)."""
    document.text(booklet.title, room.x0, room.top - 7.0, 20.0)
    line = "  \u00b7  ".join(part for part in (booklet.wearer, f"draft {booklet.mark}" if booklet.mark else "") if part)
    document.text(line, room.x0, room.top - 13.0, 10.0)
    top = room.top - 18.0
    if booklet.flat:
        picture = place_views(booklet.flat, room.x1 - room.x0, 95.0)
        draw_views(document, picture, room.x0 + (room.x1 - room.x0 - picture.width) / 2.0, top - picture.height)
        top -= picture.height + 9.0
    return top


def _print_foot(document: Document, booklet: Booklet, number: int, room: Box) -> None:
    mark = f"draft {booklet.mark}  \u00b7  " if booklet.mark else ""
    document.text(f"{booklet.title}  \u00b7  {mark}page {number}", room.x0, MARGIN, 8.0, grey=0.35)


def _print_block(document: Document, block: PlacedBlock, x: float, top: float) -> None:
    for dx, down, wide, paragraphs in block.columns:
        laid, _ = lay_paragraphs(paragraphs, [Box(x + dx, top - _ALL, x + dx + wide, top - down)])
        set_down(document, laid)
    for dx, down, picture in block.pictures:
        draw_step_picture(document, picture, x + dx, top - down - picture.height)
        document.text(picture.title, x + dx, top - down - picture.height - 3.6, 7.5, grey=0.25)
    if block.where is not None:
        dx, down, flat, marked = block.where
        point_out(document, _name_of(flat), flat, marked, x + dx, top - down - flat.height)


def _name_of(flat: FlatPicture) -> str:
    """What the flat from some faces is stored as."""
    return "-".join(["flat", *(placed.view.face for placed in flat.views)])


def _list_blocks(booklet: Booklet, wide: float) -> Iterator[PlacedBlock]:
    """What the booklet is made of, in order."""
    if booklet.warning:
        yield _words([Para(booklet.warning, 12.0, 0.0)], wide)
    for title, body in booklet.before:
        yield from _section(title, body, wide)
    yield from _pieces(booklet.pieces, wide)
    yield from _section("Reading the pictures", (LEGEND,), wide)
    for step in booklet.steps:
        yield _step(step, wide, booklet.flat)
    for title, body in booklet.after:
        yield from _section(title, body, wide)


def _section(title: str, body: Sequence[str], wide: float) -> Iterator[PlacedBlock]:
    """A heading with its first paragraph, then the others."""
    first, *others = [Para(words, 9.5, 1.2) for words in body] or [Para("", 9.5)]
    blocks = [_words([Para(title, 13.0, 0.0), first], wide), *(_words([para], wide) for para in others)]
    yield from (replace(block, after=0.0) for block in blocks[:-1])
    yield blocks[-1]


def _words(paragraphs: Sequence[Para], wide: float) -> PlacedBlock:
    return PlacedBlock(_height(paragraphs, wide), ((0.0, 0.0, wide, tuple(paragraphs)),))


def _height(paragraphs: Sequence[Para], wide: float) -> float:
    """How high paragraphs are in a column so wide (mm)."""
    rows = ((para, len(wrap_words(para.words, wide, para.size, para.hang))) for para in paragraphs)
    return sum(para.before + count * para.size * LEADING * POINT for para, count in rows)


def _pieces(pieces: Sequence[SmallPiece], wide: float) -> Iterator[PlacedBlock]:
    """The pieces drawn small, in rows, each with how it is cut below it."""
    across = max(1, int(wide / (SMALL + _GAP)))
    step = wide / across
    for start in range(0, len(pieces), across):
        row = pieces[start : start + across]
        head = () if start else ((0.0, 0.0, wide, (Para("Pieces", 13.0, 0.0),)),)
        down = 8.0 if head else 0.0
        tall = max(piece.picture.height for piece in row)
        words = [(Para(f"{piece.letter}  {piece.title}: {piece.how}.", 8.5, 0.0),) for piece in row]
        columns = ((i * step, down + tall + 2.0, step - _GAP, said) for i, said in enumerate(words))
        pictures = tuple((i * step, down + tall - p.picture.height, p.picture) for i, p in enumerate(row))
        low = max(_height(said, step - _GAP) for said in words)
        yield PlacedBlock(down + tall + 2.0 + low, (*head, *columns), pictures)


def _step(step: BookletStep, wide: float, views: Sequence[FlatView]) -> PlacedBlock:
    """A step: its words in a narrow column, where it is below them, its pictures beside them in rows."""
    paragraphs = [Para(f"{step.number}. {step.title}", 11.0, 0.0)]
    paragraphs += [Para(words, 9.5, 1.4) for words in step.meets]
    paragraphs += [Para(f"\u2022 {words}", 9.5, 1.2, 2.5) for words in step.sentences]
    words_wide = _WORDS if step.pictures else wide - _WORDS
    told = _height(paragraphs, words_wide)
    column = (0.0, 0.0, words_wide, tuple(paragraphs))
    faces = {view.face for view in step.where}
    flat = place_views([view for view in views if view.face in faces], _WORDS, _WHERE) if faces else None
    pictures = tuple(_place_pictures(step.pictures, wide - _WORDS - _GAP))
    low = max((down + picture.height + _CAPTION for _, down, picture in pictures), default=0.0)
    where = (0.0, told + 2.0, flat, step.where) if flat else None
    below = told + flat.height + 2.0 + _CAPTION if flat else told
    return PlacedBlock(max(below, low), (column,), pictures, where)


def _place_pictures(pictures: Sequence[StepPicture], wide: float) -> Iterator[tuple[float, float, StepPicture]]:
    """Pictures in rows, as many beside each other as there is room for."""
    x, down, tall = 0.0, 0.0, 0.0
    for picture in pictures:
        if x and x + picture.width > wide + 0.1:
            x, down, tall = 0.0, down + tall + _CAPTION + 2.0, 0.0
        yield _WORDS + _GAP + x, down, picture
        x, tall = x + picture.width + _GAP, max(tall, picture.height)
