"""The strip beside or below the whole sheet: what a print of it on one page needs besides the pattern.

Title, wearer, draft mark, test squares, lines and their meanings, piece list, and the usual cautions.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from drafting.output.advice import making, printing_whole
from drafting.output.cover import HEAD, fill_squares, heading, legend, legend_height, place_squares, told
from drafting.output.document import Document
from drafting.output.drawing import Drawing, PrintInfo
from drafting.output.flow import Box, Laid, Para, lay, set_down
from drafting.paper import SheetPlan
from drafting.paper.papers import GRID
from drafting.record import dataclass

MARGIN: Final = 8.0
"""White round the strip's words; wide printers reach to within 5 mm of the edge (common practice)."""

_NARROWEST: Final = 4 * 25.4 + 2 * MARGIN + 1.0
_SHORTEST: Final = 4 * 25.4 + HEAD + 2 * MARGIN + 1.0
_COLUMN: Final = 88.0
_GUTTER: Final = 6.0


@dataclass(frozen=True, slots=True)
class Strip:
    """A page that holds the sheet in its upper left corner and words below it or to its right (all mm).

    ``size`` is the page's, ``sheet`` the sheet's lower left corner on it.
    """

    size: tuple[float, float]
    sheet: tuple[float, float]
    frame: Box
    legend: Box
    laid: tuple[Laid, ...]

    @property
    def area(self) -> float:
        """The page's area."""
        return self.size[0] * self.size[1]


def strip_for(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> Strip:
    """Return the smaller of the pages that hold sheet and words: the words below the sheet, or to its right."""
    words, high = list(told(plan, info)), legend_height(drawing)
    ways = (_below(drawing, words, high), _beside(drawing, words, high))
    return min(ways, key=lambda strip: strip.area)


def _below(drawing: Drawing, words: Sequence[Para], legend_high: float) -> Strip:
    wide = _whole(max(drawing.width, _NARROWEST))
    for depth in _growing(_SHORTEST):
        found = _arranged(Box(MARGIN, MARGIN, wide - MARGIN, depth - MARGIN), words, legend_high)
        if found is not None:
            return Strip((wide, drawing.height + depth), (0.0, depth), *found)
    raise AssertionError("a strip that grows holds any words")


def _beside(drawing: Drawing, words: Sequence[Para], legend_high: float) -> Strip:
    high = _whole(max(drawing.height, _SHORTEST))
    for depth in _growing(_NARROWEST):
        left = drawing.width
        found = _arranged(Box(left + MARGIN, MARGIN, left + depth - MARGIN, high - MARGIN), words, legend_high)
        if found is not None:
            return Strip((left + depth, high), (0.0, high - drawing.height), *found)
    raise AssertionError("a strip that grows holds any words")


def _growing(least: float) -> Iterator[float]:
    """Yield depths of a strip, whole multiples of GRID, so that the sheet beside it lies on whole dots."""
    depth = least
    while True:
        yield _whole(depth)
        depth = depth * 1.02 + 5.0


def _whole(length: float) -> float:
    return math.ceil(length / GRID - 0.001) * GRID


def _arranged(frame: Box, words: Sequence[Para], legend_high: float) -> tuple[Box, Box, tuple[Laid, ...]] | None:
    """Return the frame, the legend's box and the words laid in columns; None if they find no room in the frame."""
    squares = place_squares(frame, (1.0, 1.0))
    if squares[0][1] != "10 cm" or (squares[0][0].x0 == squares[1][0].x0 and squares[0][0].top == squares[1][0].top):
        return None
    columns = list(_columns(frame, [box for box, _ in squares]))
    for i, box in enumerate(columns):
        if box.top - box.bottom >= legend_high:
            legend_box = Box(box.x0, box.top - legend_high, box.x1, box.top)
            rest = Box(box.x0, box.bottom, box.x1, legend_box.bottom)
            laid, left = lay(words, [*columns[:i], rest, *columns[i + 1 :]])
            return None if left else (frame, legend_box, tuple(laid))
    return None


def _columns(frame: Box, squares: Sequence[Box]) -> Iterator[Box]:
    """Yield columns to the right of the squares, then below them."""
    right, low = max(box.x1 for box in squares), min(box.bottom for box in squares)
    yield from _parted(Box(right + _GUTTER, frame.bottom, frame.x1, frame.top - HEAD))
    yield from _parted(Box(frame.x0, frame.bottom, right, low - _GUTTER))


def _parted(room: Box) -> Iterator[Box]:
    wide = room.x1 - room.x0
    if wide < _COLUMN * 0.5 or room.top - room.bottom < 10.0:
        return
    count = max(1, int((wide + _GUTTER) / (_COLUMN + _GUTTER)))
    step = (wide + _GUTTER) / count
    for i in range(count):
        yield Box(room.x0 + i * step, room.bottom, room.x0 + (i + 1) * step - _GUTTER, room.top)


def draw_strip(document: Document, strip: Strip, info: PrintInfo, drawing: Drawing) -> None:
    """Print the strip, in mm from the page's lower left corner."""
    size = f"one sheet of {drawing.width / 10:.0f} x {drawing.height / 10:.0f} cm"
    heading(document, info, size, strip.frame)
    fill_squares(document, place_squares(strip.frame, (1.0, 1.0)), printing_whole(), making())
    legend(document, strip.legend, drawing)
    set_down(document, strip.laid)
