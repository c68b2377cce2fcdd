"""What a printed booklet is made of: blocks that each stand whole on a page, words beside pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.flat import FlatView, without_earlier
from drafting.output.booklet.content import AS_WORN, LEGEND, Booklet, BookletStep
from drafting.output.booklet.sections import BookletSection, CellTable
from drafting.output.booklet.small import SCALES, SMALL, SmallPiece
from drafting.output.painted import PaintedPicture
from drafting.output.pdf.flow import LEADING, Para, wrap_words
from drafting.output.pdf.ink import POINT
from drafting.output.pdf.text import text_width
from drafting.output.pictures.flat import FlatPicture, place_views
from drafting.output.pictures.key import KeyEntry
from drafting.output.pictures.shapes import StepPicture
from drafting.record import dataclass

WORDS: Final = 0.44
"""The share of the page's width that a step's words take; its pictures stand beside them."""

GUTTER: Final = 7.0
"""Between two columns (mm)."""

BETWEEN: Final = 5.0
"""Below what belongs together (mm)."""

CAPTION_SIZE: Final = 7.5
"""Of the words below a picture (points)."""

CAPTION: Final = 4.6
"""Below a picture, for what it shows (mm)."""

_GAP, _WHERE = 3.0, 22.0

_KEYED: Final = 3
"""Columns of the key to the pictures."""

_COVER: Final = 84.0
"""Height of the flat on the first page at most (mm)."""

HEADING, BODY, SMALLER = 12.0, 9.0, 8.0
"""Sizes of letters (points)."""

MOST_WHOLE: Final = 24
"""Rows of a table at most that is kept whole on a page: half a page of Letter."""

MOST_WHOLE_NARROW: Final = 8
"""Rows of a table at most that is kept whole in a column."""

Column = tuple[float, float, float, tuple[Para, ...]]
"""Paragraphs, and before them how far from the left and from the top they begin, and how wide they run (mm)."""


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    """Something that stands whole on a page.

    ``height`` is how high it is and ``after`` what is left free below it (mm). ``narrow``: it stands in one of two
    columns; ``head``: what belongs together begins with it; ``step``: the number of the step that it is, which has a
    line across the page above it; 0 if it is none.
    Pictures stand at places from the left and from the top, and so does a flat: its views, and those of them in which
    something is marked, if it shows where a step is. One that is ``painted`` fills the width (mm) from the top.
    """

    height: float
    columns: tuple[Column, ...]
    pictures: tuple[tuple[float, float, StepPicture], ...] = ()
    flat: tuple[float, float, FlatPicture, tuple[FlatView, ...]] | None = None
    after: float = BETWEEN
    narrow: bool = False
    head: bool = True
    step: int = 0
    painted: tuple[PaintedPicture, float] | None = None


def list_blocks(booklet: Booklet, wide: float) -> Iterator[PlacedBlock]:
    """Yield what the booklet is made of below its title, in order, for pages so wide (mm)."""
    yield _cover(booklet, wide)
    if booklet.worn is not None:
        high, below = wide * booklet.worn.high / booklet.worn.wide, (Para(AS_WORN, SMALLER, 0.0),)
        columns = ((0.0, high + 1.0, wide, below),)
        yield PlacedBlock(high + 1.0 + _height(below, wide), columns, painted=(booklet.worn, wide))
    for section in booklet.before:
        yield from _section(section, wide)
    yield from _pieces(booklet.pieces, wide)
    yield from _section(BookletSection("Order of work", (LEGEND,), wide=True), wide)
    yield _key(booklet.key, wide)
    flat = without_earlier(booklet.flat)  # where a step is, is told of the garment as it becomes
    yield from (place_step(step, wide, flat) for step in booklet.steps)
    for section in booklet.after:
        yield from _section(section, wide)


def _cover(booklet: Booklet, wide: float) -> PlacedBlock:
    """The flat, and beside it what is told of the garment."""
    words = [Para(booklet.warning, 11.0, 0.0)] if booklet.warning else []
    words += [Para(line, BODY, 1.4) for line in booklet.lines]
    if not booklet.flat:
        return PlacedBlock(_height(words, wide), ((0.0, 0.0, wide, tuple(words)),))
    picture = place_views(booklet.flat, wide * 0.66, _COVER)
    left = picture.width + GUTTER
    high = max(picture.height + CAPTION, _height(words, wide - left))
    return PlacedBlock(high, ((left, 0.0, wide - left, tuple(words)),), flat=(0.0, 0.0, picture, ()))


def _section(section: BookletSection, wide: float) -> Iterator[PlacedBlock]:
    """A heading with what follows it, then the other paragraphs and rows, each a block that may go on elsewhere."""
    across = wide if section.wide else (wide - GUTTER) / 2.0
    parts = [_paragraph(Para(section.heading, HEADING, 0.0), across, 0.8)]
    sign, hang = ("\u2022 ", 2.5) if section.listed else ("", 0.0)
    parts += [_paragraph(Para(f"{sign}{words}", BODY, 1.0, hang), across) for words in section.words]
    if section.table is not None:
        head, first, *others = (
            _row(cells, section.table, across) for cells in (section.table.head, *section.table.rows)
        )
        parts += [_stack([head, first]), *others]
    if section.true_size is not None:
        high = section.true_size.height + CAPTION + 2.0
        told, columns = _stack(parts)
        yield PlacedBlock(told + high, columns, ((0.0, told + 2.0, section.true_size),))
        return
    most = MOST_WHOLE if section.wide else MOST_WHOLE_NARROW
    whole = section.table is not None and len(section.table.rows) <= most
    parts = [_stack(parts)] if whole else [_stack(parts[:2]), *parts[2:]]
    for i, (high, columns) in enumerate(parts):
        after = BETWEEN if i == len(parts) - 1 else 0.0
        yield PlacedBlock(high, columns, after=after, narrow=not section.wide, head=i == 0)
    if section.drawn is not None:
        yield _drawing(section.drawn, across, narrow=not section.wide)


def _drawing(picture: StepPicture, wide: float, *, narrow: bool) -> PlacedBlock:
    """A drawing with what it shows below it, in as many lines as that takes."""
    told = (Para(picture.title, SMALLER, 0.0),)
    columns = ((0.0, picture.height + 1.0, wide, told),)
    high = picture.height + 1.0 + _height(told, wide)
    return PlacedBlock(high, columns, ((0.0, 0.0, replace(picture, title="")),), narrow=narrow, head=False)


def _paragraph(para: Para, wide: float, below: float = 0.0) -> tuple[float, tuple[Column, ...]]:
    return _height([para], wide) + below, ((0.0, 0.0, wide, (para,)),)


def _row(cells: Sequence[str], table: CellTable, wide: float) -> tuple[float, tuple[Column, ...]]:
    """A row of a table: its height, and its cells in their columns."""
    if len(cells) == 1:
        return _paragraph(Para(cells[0], BODY, 1.6), wide)
    columns, x = [], 0.0
    for words, share in zip(cells, table.shares, strict=True):
        para = Para(words, SMALLER if cells is table.head else BODY, 0.8)
        columns.append((x, 0.0, wide * share - 1.5, (para,)))
        x += wide * share
    high = max(_height(paras, across) for _, _, across, paras in columns)
    return high, tuple(columns)


def _stack(blocks: Sequence[tuple[float, tuple[Column, ...]]]) -> tuple[float, tuple[Column, ...]]:
    """Blocks one below the other, as one."""
    down, out = 0.0, []
    for high, columns in blocks:
        out += [(x, down + below, across, paras) for x, below, across, paras in columns]
        down += high
    return down, tuple(out)


def _height(paragraphs: Sequence[Para], wide: float) -> float:
    """How high paragraphs are in a column so wide (mm)."""
    rows = ((para, len(wrap_words(para.words, wide, para.size, para.hang))) for para in paragraphs)
    return sum(para.before + count * para.size * LEADING * POINT for para, count in rows)


def _pieces(pieces: Sequence[SmallPiece], wide: float) -> Iterator[PlacedBlock]:
    """The pieces drawn small, in rows, each with how it is cut below it."""
    across = max(1, int((wide + _GAP) / (SMALL[0] + _GAP)))
    step = (wide + _GAP) / across
    for start in range(0, len(pieces), across):
        row = pieces[start : start + across]
        told = (Para("Pieces", HEADING, 0.0), Para(SCALES, SMALLER, 0.8))
        head: tuple[Column, ...] = () if start else ((0.0, 0.0, wide, told),)
        down = _height(told, wide) + 1.5 if head else 0.0
        tall = max(piece.picture.height for piece in row)
        words = [(Para(f"{p.letter}  {p.title}", BODY, 0.0), Para(f"{p.how}.", SMALLER, 0.4)) for p in row]
        columns = ((i * step, down + tall + 1.5, step - _GAP, said) for i, said in enumerate(words))
        pictures = tuple((i * step, down + tall - p.picture.height, p.picture) for i, p in enumerate(row))
        low = max(_height(said, step - _GAP) for said in words)
        yield PlacedBlock(down + tall + 1.5 + low, (*head, *columns), pictures, after=4.0)


def _key(entries: Sequence[KeyEntry], wide: float) -> PlacedBlock:
    """What the pictures are drawn with, in columns: a sample, and beside it what it means."""
    step, down = (wide + _GAP) / _KEYED, 0.0
    columns, pictures = list[Column](), list[tuple[float, float, StepPicture]]()
    for row in (entries[i : i + _KEYED] for i in range(0, len(entries), _KEYED)):
        tall = 0.0
        for i, entry in enumerate(row):
            beside = i * step + entry.sample.width + 1.5
            said = (Para(entry.words, SMALLER, 0.0),)
            across = (i + 1) * step - _GAP - beside
            columns.append((beside, down, across, said))
            pictures.append((i * step, down, entry.sample))
            tall = max(tall, entry.sample.height, _height(said, across))
        down += tall + 1.2
    return PlacedBlock(down, tuple(columns), tuple(pictures), head=False)


def place_step(step: BookletStep, wide: float, views: Sequence[FlatView]) -> PlacedBlock:
    """Return a step: its words, its pictures beside them, and where on the garment it is, where that takes least."""
    title = (Para(f"{step.number}.  {step.title}", HEADING, 0.0),)
    down = _height(title, wide) + 1.0
    words_wide = wide * WORDS if step.pictures or step.where else wide
    left = words_wide + _GAP
    words = [Para(each, BODY, 0.6) for each in step.meets]
    words += [Para(f"\u2022 {each}", BODY, 1.0, 2.5) for each in step.sentences]
    told = down + _height(words, words_wide)
    sizes = [(max(p.width, text_width(p.title, CAPTION_SIZE)), p.height + CAPTION) for p in step.pictures]
    faces = {view.face for view in step.where}
    flat = place_views([view for view in views if view.face in faces], wide * WORDS, _WHERE) if faces else None
    places, low = _place_in_rows(sizes, left, wide, down)
    columns = ((0.0, 0.0, wide, title), (0.0, down, words_wide, tuple(words)))
    spot = None
    if flat is not None:
        under = (0.0, told + 2.0)
        beside, reach = _place_in_rows([*sizes, (flat.width, flat.height + CAPTION)], left, wide, down)
        below = told + 2.0 + flat.height + CAPTION
        at = under if max(below, low) <= max(told, reach) else beside[-1]
        spot = (*at, flat, step.where)
        told, low = (below, low) if at == under else (told, reach)
    pictures = tuple((*place, picture) for place, picture in zip(places, step.pictures, strict=True))
    return PlacedBlock(max(told, low), columns, pictures, spot, step=step.number)


def _place_in_rows(
    sizes: Sequence[tuple[float, float]], left: float, right: float, down: float
) -> tuple[list[tuple[float, float]], float]:
    """Where boxes of these sizes stand in rows, as many beside each other as there is room for, and how far down."""
    x, tall, places = left, 0.0, []
    for width, height in sizes:
        if x > left and x + width > right + 0.1:
            x, down, tall = left, down + tall + 1.0, 0.0
        places.append((x, down))
        x, tall = x + width + _GAP, max(tall, height)
    return places, down + tall
