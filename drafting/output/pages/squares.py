"""The test squares of the start page and of the whole sheet, and the words inside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, LaidParagraph, Para, lay_paragraphs
from drafting.output.pdf.operators import pen, rectangle

INCH: Final = 25.4

_SIZES: Final = (9.5, 9.0, 8.5, 8.0)
"""Sizes tried for the words inside (points)."""

_PAD: Final = 4.0
"""Room between a square's line and what stands inside (mm)."""

Square = tuple[Box, str]
"""A square's place, and what a side of it measures."""


def place_squares(body: Box, scale: tuple[float, float]) -> list[Square]:
    """Return the test squares' places at the top of a page's body; ``scale`` is the printer's correction.

    Side by side, one above the other, or one inside the other on small papers.
    """
    (sx, sy), top = scale, body.top
    wide, high = body.x1 - body.x0, top - body.bottom
    whole = min(wide / sx, high / sy) >= 104.0
    sizes = ((100.0, "10 cm"), (4 * INCH, "4 in")) if whole else ((50.0, "5 cm"), (2 * INCH, "2 in"))
    (first, one), (second, two) = sizes
    a = Box(body.x0 + 0.3, top - first * sy, body.x0 + 0.3 + first * sx, top)
    if wide >= (first + second) * sx + 8:
        b = Box(a.x1 + 6, top - second * sy, a.x1 + 6 + second * sx, top)
    elif high >= (first + second) * sy + 8:
        b = Box(a.x0, a.bottom - 6 - second * sy, a.x0 + second * sx, a.bottom - 6)
    else:
        b = Box(a.x0, a.top - second * sy, a.x0 + second * sx, a.top)
    return [(a, one), (b, two)]


def are_nested(squares: Sequence[Square]) -> bool:
    """Tell whether one square stands inside the other."""
    (a, _), (b, _) = squares
    return a.x0 == b.x0 and a.top == b.top


def room_in(square: Square) -> float:
    """Return how wide words inside a square may be (mm)."""
    return square[0].x1 - square[0].x0 - 2 * _PAD


def draw_squares(document: Document, squares: Sequence[Square]) -> None:
    """Draw the squares, whose sides are measured from the middle of one line to the middle of the other."""
    for box, _ in squares:
        document.ops(f"{pen(0.25)} {rectangle(box.x0, box.bottom, box.x1, box.top)} S")


def set_squares(
    squares: Sequence[Square], first: Sequence[Para], second: Sequence[Para], high: float
) -> tuple[list[LaidParagraph], list[Para], Box | None]:
    """Return words set inside the squares, as large as they go, what finds no room, and a place ``high`` mm high there.

    None for the place where the words leave none: in the second square, or else in the first.
    """
    (a, one), (b, two) = squares
    if are_nested(squares):
        captions = [Para(f"inner square {one} \u00d7 {one}", 9.0), Para(f"outer square {two} \u00d7 {two}", 9.0)]
        laid, spare = lay_paragraphs([*captions, *first, *second], [_inside_of(a)])
        return laid, spare, None
    sets = [[Para(f"{words} \u00d7 {words}", 11.0), *side] for words, side in ((one, first), (two, second))]
    free = (_set_words(sets[0], a, high), _set_words(sets[1], b, high))
    full = (_set_words(sets[0], a, 0.0), _set_words(sets[1], b, 0.0))
    with_place = 1 if not free[1][1] else 0 if not free[0][1] else None
    chosen = [free[i] if i == with_place else full[i] for i in range(2)]
    spare = [para for _, left in chosen for para in left]
    place = None
    if with_place is not None:
        inner = _inside_of(squares[with_place][0])
        place = replace(inner, top=inner.bottom + high)
    return [each for laid, _ in chosen for each in laid], spare, place


def _inside_of(square: Box) -> Box:
    return Box(square.x0 + _PAD, square.bottom + 2.0, square.x1 - _PAD, square.top - 1.5)


def _set_words(words: Sequence[Para], square: Box, kept: float) -> tuple[list[LaidParagraph], list[Para]]:
    """Return words laid in a square in the largest size that fits, ``kept`` mm below them left free."""
    inner = _inside_of(square)
    box = replace(inner, bottom=inner.bottom + kept)
    laid, spare = lay_paragraphs(words, [box])
    for size in _SIZES[:-1]:
        larger, left = lay_paragraphs([words[0], *(replace(para, size=size, before=1.4) for para in words[1:])], [box])
        if not left:
            return larger, left
    return laid, spare
