"""Paragraphs flowing into boxes on a page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from drafting.output.document import Document
from drafting.output.ink import POINT
from drafting.output.text import ASCENT, width
from drafting.record import dataclass

LEADING: Final = 1.35


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph: its words, size (points), the space before it and the indent of its further lines (mm)."""

    words: str
    size: float = 8.0
    before: float = 1.0
    hang: float = 0.0


@dataclass(frozen=True, slots=True)
class Box:
    """Room for paragraphs, from ``top`` down to ``bottom`` (mm)."""

    x0: float
    bottom: float
    x1: float
    top: float


@dataclass(frozen=True, slots=True)
class Laid:
    """A paragraph in its rows; the first row's base line starts at (x, y) mm."""

    para: Para
    rows: tuple[str, ...]
    x: float
    y: float


def flow(document: Document, paragraphs: Sequence[Para], boxes: Sequence[Box]) -> list[Para]:
    """Print paragraphs into boxes, one box after the other, whole paragraphs only.

    Return what finds no room.
    """
    laid, waiting = lay(paragraphs, boxes)
    set_down(document, laid)
    return waiting


def lay(paragraphs: Sequence[Para], boxes: Sequence[Box]) -> tuple[list[Laid], list[Para]]:
    """Return where paragraphs go in boxes, and those that find no room."""
    waiting, laid = list(paragraphs), []
    for box in boxes:
        y = box.top
        while waiting:
            para = waiting[0]
            rows = wrap(para.words, box.x1 - box.x0, para.size, para.hang)
            high = para.before + len(rows) * para.size * LEADING * POINT
            if box.x1 - box.x0 < 15 or y - high < box.bottom:
                break
            laid.append(Laid(para, tuple(rows), box.x0, y - para.before - para.size * ASCENT * POINT))
            y -= high
            waiting.pop(0)
    return laid, waiting


def set_down(document: Document, laid: Sequence[Laid]) -> None:
    """Print paragraphs where they were laid."""
    for each in laid:
        size = each.para.size
        document.rows(each.rows, each.x, each.y, size, size * LEADING * POINT, each.para.hang)


def wrap(words: str, room: float, size: float, hang: float = 0.0) -> list[str]:
    """Return words in rows that take no more than ``room`` mm each, parted at spaces.

    Or inside words that are too long.
    """
    rows: list[str] = []
    row = ""
    for word in words.split(" "):
        tried = f"{row} {word}" if row else word
        if width(tried, size) <= room - (hang if rows else 0.0):
            row = tried
            continue
        if row:
            rows.append(row)
        row = word
        while width(row, size) > room - hang and len(row) > 1:
            cut = max(1, int(len(row) * (room - hang) / width(row, size)))
            rows.append(row[:cut])
            row = row[cut:]
    return [*rows, row] if row else rows or [""]
