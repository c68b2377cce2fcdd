"""The lay of the main cloth drawn small: what lies where, to be seen before the cutting plan itself is made."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.garment.model import MAIN_CLOTH
from drafting.lay.spread import ClothSpread, LaidPart, Lay
from drafting.output.lay_drawing import INKS, Look, draw_spread, middle_of, reach_of
from drafting.output.layers.view import Points
from drafting.output.pictures.flat import thin_courses
from drafting.output.pictures.shapes import ClothArea, Course, Inked, Lettering, StepPicture
from drafting.units import Unit, show_length

LAY_ROOM: Final = 80.0, 110.0
"""Room for a lay drawn small: across and up (mm)."""

LETTERED: Final = 2.2
"""Of the room about a letter, its size (points for each mm), within the sizes that follow."""

SMALLEST, LARGEST = 6.0, 10.0
"""Of a letter (points)."""

PEN: Final = 0.25
"""Of its lines (mm)."""

ASIDE, TALL, HEAD = 2.2, 5.0, 1.2
"""From a letter to the arrow that points to its piece's top, that arrow's length, and its head's (mm)."""


def draw_small_lay(lays: Sequence[Lay], unit: Unit) -> StepPicture | None:
    """Return the main cloth with its pieces on it; None where it is spread more than once, or not all find room."""
    lay = next((each for each in lays if each.kind == MAIN_CLOTH), None)
    if lay is None or len(lay.spreads) > 1 or lay.too_wide or not lay.laid:
        return None
    spread = lay.spreads[0]
    scale = min(LAY_ROOM[0] / spread.wide, LAY_ROOM[1] / reach_of(spread))
    wide = show_length(lay.cloth.width, unit).replace(".0 ", " ")
    spread_out = "folded, the fold to the left" if spread.folded else "a single layer, right side up"
    over = "; grey: the pattern printed side down" if any(each.part.over for each in spread.laid) else ""
    title = f"How it lies on cloth {wide} wide, {spread_out}; arrows point to the tops{over}"
    drawn = (*_draw_cloth(lay, spread, scale), *(ink for each in spread.laid for ink in _name(each, spread, scale)))
    return StepPicture(title, spread.wide * scale, reach_of(spread) * scale, drawn)


def _draw_cloth(lay: Lay, spread: ClothSpread, scale: float) -> Iterator[Inked]:
    for shape in draw_spread(lay, spread):
        ink, points = INKS[shape.look], thin_courses([np.array(shape.points) * scale])[0]
        if ink.fill is not None:
            yield ClothArea(points, ink.fill)
        else:
            yield Course(points, PEN if shape.look is Look.EDGE else ink.pen or PEN, ink.grey, ink.dash)


def _name(part: LaidPart, spread: ClothSpread, scale: float) -> Iterator[Inked]:
    """The letter of a part, and beside it, where there is room, an arrow to its top."""
    middle, reach = middle_of(part.ring)
    x, y, room = (middle.x + spread.left) * scale, middle.y * scale, reach * scale
    size = max(SMALLEST, min(LARGEST, room * LETTERED))
    yield Lettering(part.part.piece.code, x, y, size)
    if math.hypot(ASIDE, TALL / 2.0) < room:
        yield from _point_up(np.array([x + ASIDE, y]), -1.0 if part.turned else 1.0)


def _point_up(middle: Points, way: float) -> Iterator[Course]:
    up = np.array([0.0, way * TALL / 2.0])
    yield Course(np.stack([middle - up, middle + up]), PEN)
    barb, aside = np.array([0.0, way * HEAD]), np.array([HEAD / 2.0, 0.0])
    tip = middle + up
    yield Course(np.stack([tip - barb - aside, tip, tip - barb + aside]), PEN)
