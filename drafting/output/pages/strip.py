"""The strip beside or below the whole sheet: what a print of it on one page needs besides the pattern.

Title, wearer, draft mark, test square, lines and their meanings, piece list, and the usual cautions.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from drafting.output.pages.advice import advise_making, advise_printing_whole
from drafting.output.pages.cover import HEAD, cover_groups, print_heading, under_heading
from drafting.output.pages.legend import Legend, draw_legend, plan_legend
from drafting.output.pages.squares import BAR, Gauge, draw_gauge, place_gauge, set_square
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, Group, LaidParagraph, lay_groups, set_down, split_columns
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.paper import SheetPlan
from drafting.paper.papers import GRID, LARGEST_PAPER
from drafting.record import dataclass
from drafting.units import show_length

MARGIN: Final = 8.0
"""White round the strip's words; wide printers reach to within 5 mm of the edge (common practice)."""

_NARROWEST: Final = 4 * 25.4 + BAR + 2 * MARGIN + 1.0
_SHORTEST: Final = 4 * 25.4 + BAR + HEAD + 2 * MARGIN + 1.0
_GUTTER: Final = 6.0

StripParts = tuple[Box, Gauge, Box, Legend, tuple[LaidParagraph, ...]]
"""A frame, its square, the place of the list of lines, that list, and the words laid."""


@dataclass(frozen=True, slots=True)
class StripPage:
    """A page that holds the sheet in its upper left corner and words below it or to its right (all mm).

    ``size`` is the page's, ``sheet`` the sheet's lower left corner on it.
    """

    size: tuple[float, float]
    sheet: tuple[float, float]
    frame: Box
    gauge: Gauge
    lines: Box
    legend: Legend
    laid: tuple[LaidParagraph, ...]

    @property
    def area(self) -> float:
        """The page's area."""
        return self.size[0] * self.size[1]


def strip_for(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> StripPage:
    """Return the smaller of the pages that hold sheet and words: the words below the sheet, or to its right."""
    groups = list(cover_groups(plan, info, drawing))
    ways = (_put_below(drawing, groups, info), _put_beside(drawing, groups, info))
    return min(ways, key=lambda strip: (max(strip.size) > LARGEST_PAPER, strip.area))


def _put_below(drawing: Drawing, groups: Sequence[Group], info: PrintInfo) -> StripPage:
    wide = _whole_dots(max(drawing.width, _NARROWEST))
    for depth in _growing_depths(_SHORTEST):
        found = _arrange_strip(Box(MARGIN, MARGIN, wide - MARGIN, depth - MARGIN), groups, drawing, info)
        if found is not None:
            return StripPage((wide, drawing.height + depth), (0.0, depth), *found)
    raise AssertionError("a strip that grows holds any words")


def _put_beside(drawing: Drawing, groups: Sequence[Group], info: PrintInfo) -> StripPage:
    high = _whole_dots(max(drawing.height, _SHORTEST))
    for depth in _growing_depths(_NARROWEST):
        left = drawing.width
        found = _arrange_strip(Box(left + MARGIN, MARGIN, left + depth - MARGIN, high - MARGIN), groups, drawing, info)
        if found is not None:
            return StripPage((left + depth, high), (0.0, high - drawing.height), *found)
    raise AssertionError("a strip that grows holds any words")


def _growing_depths(least: float) -> Iterator[float]:
    """Yield depths of a strip, whole multiples of GRID, so that the sheet beside it lies on whole dots."""
    depth = least
    while True:
        yield _whole_dots(depth)
        depth = depth * 1.02 + 5.0


def _whole_dots(length: float) -> float:
    return math.ceil(length / GRID - 0.001) * GRID


def _arrange_strip(frame: Box, groups: Sequence[Group], drawing: Drawing, info: PrintInfo) -> StripParts | None:
    """Return words and the square set in a frame; None if they find no room in it."""
    gauge = place_gauge(under_heading(frame), (1.0, 1.0), info.unit)
    if gauge.side not in ("10 cm", "4 in"):
        return None
    signs = plan_legend(drawing, info, gauge.room)
    inside, spare, place = set_square(gauge, advise_printing_whole(), signs.height)
    if place is None or spare:
        raise AssertionError("the square holds its words and the list of lines")
    told = [*((para,) for para in advise_making()), *groups]
    laid, left = lay_groups(told, list(_columns(frame, gauge.box)))
    return None if left else (frame, gauge, place, signs, (*inside, *laid))


def _columns(frame: Box, gauge: Box) -> Iterator[Box]:
    """Yield columns to the right of the square, then below it."""
    yield from split_columns(Box(gauge.x1 + _GUTTER, frame.bottom, frame.x1, frame.top - HEAD))
    yield from split_columns(Box(frame.x0, frame.bottom, gauge.x1, gauge.bottom - _GUTTER))


def draw_strip(document: Document, strip: StripPage, info: PrintInfo, drawing: Drawing) -> None:
    """Print the strip, in mm from the page's lower left corner."""
    wide, high = (show_length(side, info.unit) for side in (drawing.width, drawing.height))
    print_heading(document, info, f"one sheet, {wide} wide, {high} high", strip.frame)
    draw_gauge(document, strip.gauge)
    draw_legend(document, strip.legend, strip.lines)
    set_down(document, strip.laid)
