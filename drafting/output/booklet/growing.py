"""The pictures of the steps as large as paper lets them be: each page is planned with the least, then filled with them.

A picture grows beside its words as far as these reach, whatever the page; then all of a page's by one measure, as far
as that has room left. So the plan of the pages stays as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.flat import FlatView, without_earlier
from drafting.output.booklet.blocks import place_step
from drafting.output.booklet.content import Booklet, BookletStep, RoomedView
from drafting.output.booklet.paper import page_room, plan_booklet
from drafting.output.pictures.step import set_picture
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

GROWN: Final = 1.0, 1.1, 1.2, 1.3, 1.45, 1.6, 1.8
"""Times its least room that a picture's is, as is tried."""

MOST: Final = 72.0, 66.0
"""Room for a picture at most (mm: across, up): its words stay legible on a telephone, which shows it as wide."""


@dataclass(frozen=True, slots=True, eq=False)
class GrowingStep:
    """A step, and how high (mm) its block is with its pictures grown by each measure."""

    step: BookletStep
    heights: tuple[float, ...]

    def more(self, grown: int) -> float:
        """Return by how much (mm) its block is higher than with its least pictures."""
        return self.heights[self.settle(grown)] - self.heights[0]

    def settle(self, grown: int) -> int:
        """Return by which measure its pictures grow at least so far: as far as they may at that cost."""
        allowed = max(high for high in self.heights[: grown + 1] if high < math.inf) + TOLERANCE.same_point
        return max(i for i, high in enumerate(self.heights) if high <= allowed)

    def draw(self, grown: int) -> BookletStep:
        """Return the step with its pictures, grown so far."""
        rooms = _list_rooms(self.step, GROWN[self.settle(grown)])
        return replace(self.step, pictures=tuple(set_picture(each.framed, *room) for each, room in rooms))


def set_pictures(booklet: Booklet, size: tuple[float, float]) -> Booklet:
    """Return a booklet with its steps' pictures, for pages of ``size`` (mm)."""
    room = page_room(size)
    flat = without_earlier(booklet.flat)
    growing = {step.number: _try_out(step, room.x1 - room.x0, flat) for step in booklet.steps}
    chosen = dict[int, int]()
    for spots in plan_booklet(replace(booklet, steps=tuple(_leave_blank(step, 1.0) for step in booklet.steps)), size):
        steps = [growing[block.step] for block, _, _ in spots if block.step]
        left = min(top - block.height for block, _, top in spots) - room.bottom
        held = (i for i in range(len(GROWN)) if sum(step.more(i) for step in steps) <= left)
        chosen |= dict.fromkeys((each.step.number for each in steps), max(held, default=0))
    return replace(booklet, steps=tuple(growing[step.number].draw(chosen[step.number]) for step in booklet.steps))


def _try_out(step: BookletStep, wide: float, flat: Sequence[FlatView]) -> GrowingStep:
    """A step with its heights; what would set its pictures in more rows is no way to grow."""
    blocks = [place_step(_leave_blank(step, by), wide, flat) for by in GROWN]
    rows = [len({down for _, down, _ in block.pictures}) for block in blocks]
    heights = (block.height if count <= rows[0] else math.inf for block, count in zip(blocks, rows, strict=True))
    return GrowingStep(step, tuple(heights))


def _leave_blank(step: BookletStep, by: float) -> BookletStep:
    """A step with the frames of its pictures, grown so far."""
    return replace(step, pictures=tuple(each.framed.leave_blank(*room) for each, room in _list_rooms(step, by)))


def _list_rooms(step: BookletStep, by: float) -> Iterator[tuple[RoomedView, tuple[float, float]]]:
    """The views of a step, each with its room grown so far."""
    for each in step.views:
        wide, high = (max(least, min(least * by, most)) for least, most in zip(each.least, MOST, strict=True))
        yield each, (wide, high)
