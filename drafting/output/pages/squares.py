"""The test square of a page, scale bars in the other unit below and beside it, and the words inside the square."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, LaidParagraph, Para, lay_paragraphs
from drafting.output.pdf.operators import line, pen, rectangle
from drafting.output.pdf.text import text_width
from drafting.record import dataclass
from drafting.units import Unit

INCH: Final = 25.4

_SIZES: Final = (9.5, 9.0, 8.5, 8.0)
"""Sizes tried for the words inside (points)."""

_PAD: Final = 4.0
"""Room between the square's line and what stands inside (mm)."""

BAR: Final = 4.4
"""How far a scale bar reaches below the square, or to its left (mm)."""

_LETTERS: Final = 7.0
_TICKS: Final = (1.3, 0.6)
"""How far a bar's ends reach to either side of it, and the steps between (mm)."""
_DROP: Final = 0.9
"""How far the base line of a bar's words lies below its line (mm)."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """What a page's size is measured by: the square, what its side measures; both bars, and what each measures.

    The bars are lines, without width or without height: one below the square, the other to its left.
    """

    square: Box
    side: str
    bars: tuple[Box, Box]
    long: str

    @property
    def box(self) -> Box:
        """The room that all take."""
        across, upright = self.bars
        low = min(self.square.bottom - BAR, upright.bottom)
        return Box(self.square.x0 - BAR, low, max(self.square.x1, across.x1), self.square.top)

    @property
    def room(self) -> float:
        """How wide words inside the square may be (mm)."""
        return self.square.x1 - self.square.x0 - 2 * _PAD


def place_gauge(body: Box, scale: tuple[float, float], unit: Unit) -> Gauge:
    """Return the test square in the ticket's unit at the top of a page's body, the bars in the other below and beside.

    ``scale`` is the printer's correction. Half as large on small papers.
    """
    (sx, sy), top = scale, body.top
    room = min((body.x1 - body.x0 - BAR) / sx, (top - body.bottom - BAR) / sy)
    metric, inches = ((100.0, "10 cm"), (4 * INCH, "4 in")) if room >= 4 * INCH + 1.0 else _HALVES
    (side, words), (long, told) = (inches, metric) if unit == "in" else (metric, inches)
    x, low = body.x0 + BAR, top - side * sy
    y, beside = low - BAR + _TICKS[0], body.x0 + _TICKS[0]
    bars = (Box(x, y, x + long * sx, y), Box(beside, top - long * sy, beside, top))
    return Gauge(Box(x, low, x + side * sx, top), words, bars, told)


_HALVES: Final = ((50.0, "5 cm"), (2 * INCH, "2 in"))


def draw_gauge(document: Document, gauge: Gauge) -> None:
    """Draw the square and the bars, all measured from the middle of one line to the middle of the other."""
    square, (across, upright) = gauge.square, gauge.bars
    wide = text_width(gauge.long, _LETTERS)
    document.ops(f"{pen(0.25)} {rectangle(square.x0, square.bottom, square.x1, square.top)} S")
    for bar in gauge.bars:
        document.ops(f"{' '.join(_bar_lines(bar, int(gauge.long.split()[0]), wide / 2 + 1.0))} S")
    document.text(gauge.long, (across.x0 + across.x1 - wide) / 2, across.bottom - _DROP, _LETTERS)
    document.text(gauge.long, upright.x0 + _DROP, (upright.bottom + upright.top - wide) / 2, _LETTERS, math.pi / 2)


def _bar_lines(bar: Box, steps: int, half: float) -> Iterator[str]:
    """Yield the operators of a bar: open about its words, ``half`` as wide, with a tick at every centimetre or inch."""
    level = bar.top == bar.bottom
    start, end = (bar.x0, bar.x1) if level else (bar.bottom, bar.top)
    middle = (start + end) / 2

    def trace(along: float, to: float, off: float, beyond: float) -> str:
        if level:
            return line(along, bar.bottom + off, to, bar.bottom + beyond)
        return line(bar.x0 + off, along, bar.x0 + beyond, to)

    yield trace(start, middle - half, 0.0, 0.0)
    yield trace(middle + half, end, 0.0, 0.0)
    for step in range(steps + 1):
        at, reach = start + (end - start) * step / steps, _TICKS[0 < step < steps]
        if abs(at - middle) > half:
            yield trace(at, at, -reach, reach)


def set_square(gauge: Gauge, words: Sequence[Para], high: float) -> tuple[list[LaidParagraph], list[Para], Box | None]:
    """Return words set inside the square, as large as they go, what finds no room, and a place ``high`` mm high there.

    None for the place where the words leave none.
    """
    told = [Para(f"{gauge.side} \u00d7 {gauge.side}", 11.0), *words]
    inner = Box(gauge.square.x0 + _PAD, gauge.square.bottom + 2.0, gauge.square.x1 - _PAD, gauge.square.top - 1.5)
    laid, spare = _set_words(told, replace(inner, bottom=inner.bottom + high))
    if not spare:
        return laid, [], replace(inner, top=inner.bottom + high)
    return *_set_words(told, inner), None


def _set_words(words: Sequence[Para], box: Box) -> tuple[list[LaidParagraph], list[Para]]:
    """Return words laid in a box in the largest size that fits."""
    for size in _SIZES[:-1]:
        larger, left = lay_paragraphs([words[0], *(replace(para, size=size, before=1.4) for para in words[1:])], [box])
        if not left:
            return larger, left
    return lay_paragraphs(words, [box])
