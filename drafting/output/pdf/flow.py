"""Paragraphs flowing into boxes on a page; those that belong together stay together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from drafting.output.pdf.document import Document
from drafting.output.pdf.ink import POINT
from drafting.output.pdf.text import ASCENT, text_width
from drafting.record import dataclass
from drafting.text import KEPT, keep_figures
from drafting.tolerance import TOLERANCE

LEADING: Final = 1.35

NARROWEST: Final = 15.0
"""No words are set in a box narrower than this (mm)."""


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph: its words, size (points), the space before it and the indent of its further lines (mm).

    ``short`` is how a heading is called where it is told of, "" if by its words.
    """

    words: str
    size: float = 8.0
    before: float = 1.0
    hang: float = 0.0
    short: str = ""


@dataclass(frozen=True, slots=True)
class Box:
    """Room for paragraphs, from ``top`` down to ``bottom`` (mm)."""

    x0: float
    bottom: float
    x1: float
    top: float


@dataclass(frozen=True, slots=True)
class LaidParagraph:
    """A paragraph in its rows; the first row's base line starts at (x, y) mm."""

    para: Para
    rows: tuple[str, ...]
    x: float
    y: float


def flow(document: Document, paragraphs: Sequence[Para], boxes: Sequence[Box]) -> list[Para]:
    """Print paragraphs into boxes, one box after the other, whole paragraphs only.

    Return what finds no room.
    """
    laid, waiting = lay_paragraphs(paragraphs, boxes)
    set_down(document, laid)
    return waiting


def lay_paragraphs(paragraphs: Sequence[Para], boxes: Sequence[Box]) -> tuple[list[LaidParagraph], list[Para]]:
    """Return where paragraphs go in boxes, and those that find no room."""
    waiting, laid = list(paragraphs), []
    for box in boxes:
        y = box.top
        while waiting:
            para = waiting[0]
            rows = wrap_words(para.words, box.x1 - box.x0, para.size, para.hang)
            high = para.before + len(rows) * para.size * LEADING * POINT
            if box.x1 - box.x0 < NARROWEST or y - high < box.bottom - TOLERANCE.same_point:
                break
            laid.append(LaidParagraph(para, rows, box.x0, y - para.before - para.size * ASCENT * POINT))
            y -= high
            waiting.pop(0)
    return laid, waiting


Group = tuple[Para, ...]
"""Paragraphs that stay together where they fit: a heading with what it heads, or one paragraph alone."""


def lay_groups(
    groups: Sequence[Group], boxes: Sequence[Box], fresh: Sequence[Box] = ()
) -> tuple[list[LaidParagraph], list[Group]]:
    """Return where groups go in boxes, one after the other, and those that find no room.

    A group stands whole in a box if any box to come, of this page or of the next (``fresh``), holds it whole; only one
    that none holds is parted, never just below its heading.
    """
    laid: list[LaidParagraph] = []
    waiting, left = list(groups), list(boxes)
    while waiting and left:
        group, box = waiting[0], left[0]
        high = _height(group, box)
        if high <= box.top - box.bottom:
            more, _ = lay_paragraphs(group, [box])
            laid += more
            left[0] = replace(box, top=box.top - high)
            waiting.pop(0)
        elif any(_height(group, other) <= other.top - other.bottom for other in (*left[1:], *fresh)):
            left.pop(0)
        else:
            more, rest = lay_paragraphs(group, [box])
            if len(more) > 1 or (more and not rest):
                laid += more
                waiting[0] = tuple(rest)
            left.pop(0)
    return laid, waiting


def _height(group: Group, box: Box) -> float:
    """Return how high a group stands in a box as wide as this (mm); no room at all in one that is too narrow."""
    wide = box.x1 - box.x0
    if wide < NARROWEST:
        return math.inf
    rows = (len(wrap_words(para.words, wide, para.size, para.hang)) * para.size * LEADING * POINT for para in group)
    return sum(para.before for para in group) + sum(rows)


def halve_paragraph(groups: Sequence[Group]) -> list[Group]:
    """Return groups with their first paragraph, which no column holds, parted in two; at a space if it has one."""
    (para, *rest), *others = groups
    middle = len(para.words) // 2
    at = para.words.find(" ", middle)
    at = at if at >= 0 else middle
    parts: list[Group] = [(replace(para, words=some.strip()),) for some in (para.words[:at], para.words[at:]) if at]
    return [*parts, *([tuple(rest)] if rest else []), *others]


_COLUMN: Final = 88.0
_GUTTER: Final = 6.0


def split_columns(room: Box) -> list[Box]:
    """Return a box parted into columns that read well; none if it is too small for words."""
    wide = room.x1 - room.x0
    if wide < _COLUMN * 0.5 or room.top - room.bottom < 10.0:
        return []
    count = max(1, int((wide + _GUTTER) / (_COLUMN + _GUTTER)))
    step = (wide + _GUTTER) / count
    return [replace(room, x0=room.x0 + i * step, x1=room.x0 + (i + 1) * step - _GUTTER) for i in range(count)]


def least_height(paragraphs: Sequence[Para], room: Box) -> float:
    """Return how high a part of a box paragraphs take at least in columns (mm), at most all of it; 0 of none."""
    high, most = 0.0, room.top - room.bottom
    while paragraphs and high < most:
        high = min(most, high + _BY)
        if not lay_paragraphs(paragraphs, split_columns(replace(room, top=room.bottom + high)))[1]:
            break
    return high


_BY: Final = 4.0


def set_down(document: Document, laid: Sequence[LaidParagraph]) -> None:
    """Print paragraphs where they were laid."""
    for each in laid:
        size = each.para.size
        document.rows(each.rows, each.x, each.y, size, size * LEADING * POINT, each.para.hang)


@lru_cache(maxsize=2048)
def wrap_words(words: str, room: float, size: float, hang: float = 0.0) -> tuple[str, ...]:
    """Return words in rows that take no more than ``room`` mm each, parted at spaces.

    Or inside words that are too long.
    """
    rows: list[str] = []
    row = ""
    for word in keep_figures(words).split(" "):
        tried = f"{row} {word}" if row else word
        if text_width(tried, size) <= room - (hang if rows else 0.0):
            row = tried
            continue
        if row:
            rows.append(row)
        row = word
        while text_width(row, size) > room - hang and len(row) > 1:
            cut = max(1, int(len(row) * (room - hang) / text_width(row, size)))
            rows.append(row[:cut])
            row = row[cut:]
    return tuple(each.replace(KEPT, " ") for each in ((*rows, row) if row else rows or ("",)))
