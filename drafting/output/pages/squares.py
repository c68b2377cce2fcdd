"""The test square of a page, a scale bar in the other unit below it, and the words inside the square."""

from __future__ import annotations

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
"""How far the scale bar reaches below the square (mm)."""

_LETTERS: Final = 7.0
_TICKS: Final = (1.3, 0.6)
"""How far a bar's ends reach to either side of it, and the steps between (mm)."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """What a page's size is measured by: the square, what its side measures; the bar's line and what that measures.

    ``bar`` has no height.
    """

    square: Box
    side: str
    bar: Box
    long: str

    @property
    def box(self) -> Box:
        """The room that both take."""
        return Box(self.square.x0, self.square.bottom - BAR, max(self.square.x1, self.bar.x1), self.square.top)

    @property
    def room(self) -> float:
        """How wide words inside the square may be (mm)."""
        return self.square.x1 - self.square.x0 - 2 * _PAD


def place_gauge(body: Box, scale: tuple[float, float], unit: Unit) -> Gauge:
    """Return the test square in the ticket's unit at the top of a page's body, the bar in the other below it.

    ``scale`` is the printer's correction. Half as large on small papers.
    """
    (sx, sy), top = scale, body.top
    whole = min((body.x1 - body.x0) / sx, (top - body.bottom - BAR) / sy) >= 4 * INCH + 1.0
    metric, inches = ((100.0, "10 cm"), (4 * INCH, "4 in")) if whole else ((50.0, "5 cm"), (2 * INCH, "2 in"))
    (side, words), (long, told) = (inches, metric) if unit == "in" else (metric, inches)
    x, low = body.x0 + 0.3, top - side * sy
    y = low - BAR + _TICKS[0]
    return Gauge(Box(x, low, x + side * sx, top), words, Box(x, y, x + long * sx, y), told)


def draw_gauge(document: Document, gauge: Gauge) -> None:
    """Draw the square and the bar, both measured from the middle of one line to the middle of the other."""
    square, bar = gauge.square, gauge.bar
    document.ops(f"{pen(0.25)} {rectangle(square.x0, square.bottom, square.x1, square.top)} S")
    document.ops(f"{' '.join(_bar_lines(gauge))} S")
    document.text_about(gauge.long, (bar.x0 + bar.x1) / 2, bar.bottom - 0.9, _LETTERS)


def _bar_lines(gauge: Gauge) -> Iterator[str]:
    """Yield the operators of the bar: open about its words, with a tick at every centimetre or inch."""
    bar, steps = gauge.bar, int(gauge.long.split()[0])
    middle, half = (bar.x0 + bar.x1) / 2, text_width(gauge.long, _LETTERS) / 2 + 1.0
    for start, end in ((bar.x0, middle - half), (middle + half, bar.x1)):
        yield line(start, bar.bottom, end, bar.bottom)
    for step in range(steps + 1):
        x, reach = bar.x0 + (bar.x1 - bar.x0) * step / steps, _TICKS[0 < step < steps]
        if abs(x - middle) > half:
            yield line(x, bar.bottom - reach, x, bar.bottom + reach)


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
