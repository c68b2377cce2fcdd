"""The drawing of a cloth that is spread and of what lies on it, for any canvas, in mm of the cloth.

x runs from the cloth's left edge, or its fold, to the right, y from where the spread begins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from typing import Final

import numpy as np

from drafting.geometry import Point, deepest_inside
from drafting.geometry.polygon import are_inside, distances_to, following
from drafting.lay.places import LaidPlace, find_flaws
from drafting.lay.spread import ClothSpread, Lay
from drafting.lay.words import LayWords, show_place
from drafting.output.pages.furniture import fitting_size
from drafting.output.pdf.ink import POINT, Floats
from drafting.output.pictures.drawing import PrintInfo
from drafting.record import dataclass
from drafting.trade import trade_table
from drafting.units import Unit, show_length

LARGEST: Final = 8.0
"""Of type in a part (pt)."""

SMALLEST: Final = 7.0
"""Of type in a part on paper (pt), as of the cloth's measures beside it: smaller isn't read at a cutting table."""

SMALLEST_TRUE: Final = 18.0
"""Of type in a part in true size (pt), which is read from a table's height."""

LINE: Final = 1.3
"""From one line to the next, over the size of its type."""

GROWN: Final = 4.0
"""How much larger than on paper labels and lines are in true size, to be read from a table's height."""

Corner = tuple[float, float]


class Look(StrEnum):
    """What is drawn."""

    CLOTH = "cloth"
    SELVEDGE = "selvedge"
    FLAW = "flaw"
    CROSS = "cross"
    EDGE = "edge"
    END = "end"
    PART = "part"
    OVER = "over"
    STRIPE = "stripe"
    ARROW = "arrow"


@dataclass(frozen=True, slots=True)
class LayInk:
    """How something is drawn: filled with a grey (1: white), and with a pen of so many mm and its grey; None: not."""

    fill: float | None = None
    pen: float | None = None
    grey: float = 0.0
    dash: tuple[float, ...] = ()


INKS: Final[Mapping[Look, LayInk]] = {
    Look.CLOTH: LayInk(fill=0.93),
    Look.SELVEDGE: LayInk(fill=0.75),
    Look.FLAW: LayInk(fill=0.6),
    Look.CROSS: LayInk(pen=0.3),
    Look.EDGE: LayInk(pen=0.25),
    Look.END: LayInk(pen=0.2, grey=0.4, dash=(2.0, 1.5)),
    Look.PART: LayInk(fill=1.0, pen=0.3),
    Look.OVER: LayInk(fill=0.82, pen=0.3),
    Look.STRIPE: LayInk(pen=0.12, grey=0.6),
    Look.ARROW: LayInk(pen=0.2),
}


@dataclass(frozen=True, slots=True)
class LayShape:
    """A polygon, where what it shows is filled, or a line."""

    look: Look
    points: Sequence[Corner]


@dataclass(frozen=True, slots=True)
class LayText:
    """A line of words about a point, on white so that no stripe strikes it through; its size in pt as it is printed."""

    words: str
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class LayLabel:
    """What is written into a part: its code, its title and place as far as they fit, and an arrow to its top.

    ``is_placed``: there was room for its place.
    """

    texts: tuple[LayText, ...]
    arrow: LayShape | None
    is_placed: bool


@dataclass(frozen=True, slots=True)
class LabelScale:
    """How many mm on paper a mm of the cloth takes, and how much larger than on paper labels and lines are.

    ``least`` is the least size of type (pt) in a part.
    """

    scale: float = 1.0
    grow: float = GROWN
    least: float = SMALLEST_TRUE


def reach_of(spread: ClothSpread) -> float:
    """Return how much of a spread's length is drawn (mm): what is laid, or a strip of it where nothing is."""
    return max(spread.length, spread.width / 10.0)


TRUE_HEAD: Final = 90.0
"""Above a cloth in true size, for what it is (mm)."""

BAR: Final = trade_table({"cm": 200.0, "mm": 200.0, "in": 203.2}, "mm", "common practice", "20 cm, 8 in")
"""How long a bar is by which a projector is set and a print is measured."""


def draw_head(says: LayWords, info: PrintInfo, spread: ClothSpread) -> tuple[tuple[LayText, ...], tuple[LayShape, ...]]:
    """Return what stands above a cloth in true size, from its end up (mm): its words, from their left end, and a bar.

    The bar is what a projector is set, or a print measured, by.
    """
    long = float(BAR[info.unit])
    ticks = ((x, 12.0 - 4.0 * (x in (0.0, long))) for x in np.linspace(0.0, long, 5).tolist())
    bar = [LayShape(Look.EDGE, ((MARGIN_LEFT, 12.0), (MARGIN_LEFT + long, 12.0)))]
    bar += [LayShape(Look.EDGE, ((MARGIN_LEFT + x, low), (MARGIN_LEFT + x, 16.0))) for x, low in ticks]
    over = f" {TONED}" * any(each.part.over for each in spread.laid)
    lines = (
        (f"Cutting plan in true size: {info.name_draft()}", 76.0, 44.0),
        (f"{says.heading}. {says.buy}.", 58.0, 36.0),
        (f"The grain runs up the page, along the selvedges. {OUTLINES}{over}", 40.0, 24.0),
        (f"This bar is {show_length(long, info.unit)} long: set the projector, or the print, by it.", 22.0, 24.0),
    )
    return tuple(LayText(words, MARGIN_LEFT, y, size) for words, y, size in lines), tuple(bar)


MARGIN_LEFT: Final = 12.0
OUTLINES = "Cut outlines only: take notches, darts and marks from the pattern."
"""What the plan in true size doesn't draw."""


def draw_spread(lay: Lay, spread: ClothSpread) -> Iterator[LayShape]:
    """Yield the cloth with its selvedges and flaws, then the parts, then the stripes that tie them."""
    yield from _draw_cloth(spread)
    for each in spread.laid:
        look = Look.OVER if each.part.over else Look.PART
        yield LayShape(look, [(x + spread.left, y) for x, y in each.ring[:-1].tolist()])
    high = reach_of(spread)
    for stripe in (stripe for stripe in lay.stripes if stripe.shifts):
        end = high if stripe.is_across else spread.width
        for at in np.arange(stripe.first, end, stripe.stripe.repeat).tolist():
            x = spread.left + at
            yield LayShape(Look.STRIPE, ((0.0, at), (spread.wide, at)) if stripe.is_across else ((x, 0.0), (x, high)))


def _draw_cloth(spread: ClothSpread) -> Iterator[LayShape]:
    """The cloth from where it begins; it runs on beyond the parts."""
    wide, high = spread.wide, reach_of(spread)
    yield _box(Look.CLOTH, 0.0, 0.0, wide, high)
    yield from ([] if spread.folded else [_box(Look.SELVEDGE, 0.0, 0.0, spread.left, high)])
    yield _box(Look.SELVEDGE, wide - spread.edge, 0.0, wide, high)
    for x0, y0, x1, y1 in (flaw for flaw in find_flaws(spread) if flaw[1] < high):
        yield _box(Look.FLAW, x0, y0, x1, y1)
        yield LayShape(Look.CROSS, ((x0, y0), (x1, y1)))
        yield LayShape(Look.CROSS, ((x0, y1), (x1, y0)))
    yield LayShape(Look.EDGE, ((0.0, high), (0.0, 0.0), (wide, 0.0), (wide, high)))
    yield LayShape(Look.END, ((0.0, high), (wide, high)))


def _box(look: Look, x0: float, y0: float, x1: float, y1: float) -> LayShape:
    return LayShape(look, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


TONED = "Toned pieces lie with the pattern printed side down."
"""What the drawing's tone means."""


def clip_stretch(ring: Floats, begin: float, end: float) -> Floats:
    """Return what of a closed ring lies between two heights, closed; empty where nothing does.

    Where it comes in more than one part these hang together along the height that it is cut at.
    """
    for at, sign in ((begin, 1.0), (end, -1.0)):
        kept: list[list[float]] = []
        for a, b in zip(ring[:-1].tolist(), ring[1:].tolist(), strict=True):
            beyond = [(y - at) * sign > 0.0 for _, y in (a, b)]
            kept += [a] if beyond[0] else []
            if beyond[0] is not beyond[1]:
                kept.append([a[0] + (b[0] - a[0]) * (at - a[1]) / (b[1] - a[1]), at])
        ring = np.array([*kept, kept[0]] if kept else np.empty((0, 2)))
        if not kept:
            break
    return ring


WITHIN: Final = 4.0
"""To so much (mm) the deepest point of a part is found."""


def middle_of(ring: Floats) -> tuple[Point, float]:
    """Return where in a part its words stand, and how far that is from its edges (mm).

    That is its deepest point, or the middle of its box where that is as deep, as in a band.
    """
    deepest, reach = deepest_inside(ring, WITHIN)
    middle = (ring.min(axis=0) + ring.max(axis=0)) / 2.0
    depth = float(distances_to(middle[None], ring, following(ring))[0]) if are_inside(middle[None], ring)[0] else 0.0
    return (deepest, reach) if depth < reach - WITHIN else (Point(*map(float, middle)), depth)


def write_label(place: LaidPlace, left: float, at: LabelScale, unit: Unit) -> LayLabel:
    """Return what is written into a part, ``left`` of what can be used of the cloth from its edge (mm)."""
    each = place.laid
    middle, reach = middle_of(each.ring)
    x, reach = left + middle.x, reach * at.scale
    code = min(12.0 * at.grow, max(5.0, reach * 1.6))
    named = LayText(each.part.piece.code, x, middle.y + 0.6 * at.grow / at.scale, code)
    tall = min(0.6 * reach, 7.0 * at.grow) * (-1.0 if each.turned else 1.0)
    aside = min(0.75 * reach, 9.0 * at.grow)
    foot = middle.y + (code * POINT * 0.4 - tall / 2) / at.scale
    arrow = _arrow(x + aside / at.scale, foot, tall / at.scale, at) if reach > 3.0 else None
    titled, choices = _choose_words(place, unit)
    for words in choices:
        size = _fit_lines(words, each.ring, middle, at)
        step = size * LINE * POINT / at.scale
        if size:
            lines = (LayText(text, x, middle.y - n * step, size) for n, text in enumerate(words, start=1))
            return LayLabel((named, *lines), arrow, words is not titled)
    return LayLabel((named,), arrow, is_placed=False)


def write_code(place: LaidPlace, ring: Floats, left: float, at: LabelScale) -> LayLabel:
    """Return the letter of a part that is named on another page, for what of its ``ring`` is drawn here."""
    middle, reach = middle_of(ring)
    size = min(12.0 * at.grow, max(5.0, reach * at.scale * 1.6))
    return LayLabel((LayText(place.laid.part.piece.code, left + middle.x, middle.y, size),), None, is_placed=True)


def _choose_words(place: LaidPlace, unit: Unit) -> tuple[list[str], list[list[str]]]:
    """A part's title, how it is cut and lies; and all that may be written, what tells most first.

    Whose it is and that its pattern lies printed side down are never left out of what is written.
    """
    part = place.laid.part
    must = [*filter(None, [part.owner]), *["printed side down"] * part.over]
    titled = [part.title, *filter(None, [place.laid.layers]), *must[bool(part.owner) :]]
    told = show_place(place, unit)
    joined = ", ".join(told)
    return titled, [[*titled, joined], [*titled, *told], [*must, joined], [*must, *told], titled]


def _arrow(x: float, y: float, tall: float, at: LabelScale) -> LayShape:
    """An arrow from (x, y) up, or down where it is less than 0 tall (mm)."""
    wide, tip = 0.8 * at.grow / at.scale, y + tall
    barb = tip - math.copysign(1.5 * wide, tall)
    return LayShape(Look.ARROW, ((x, y), (x, tip), (x - wide, barb), (x, tip), (x + wide, barb)))


def _fit_lines(words: Sequence[str], ring: Floats, middle: Point, at: LabelScale) -> float:
    """The size of type (pt) in which lines of words fit below a point within a part; 0 where they don't."""
    size = LARGEST * at.grow
    while size >= at.least:
        step = size * LINE * POINT / at.scale
        rooms = [
            min(_room_beside(ring, middle.x, middle.y - (number + down) * step) for down in (-0.7, 0.3)) * at.scale
            for number in range(1, len(words) + 1)
        ]
        if all(fitting_size(text, size, room) >= size for text, room in zip(words, rooms, strict=True)):
            return size
        size -= 0.5 * at.grow
    return 0.0


def _room_beside(ring: Floats, x: float, y: float) -> float:
    """How wide words about x may be at a height within a polygon (mm): twice the way to its nearer edge."""
    a, b = ring[:-1], ring[1:]
    crosses = (a[:, 1] <= y) != (b[:, 1] <= y)
    a, b = a[crosses], b[crosses]
    at = np.sort(a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0]))
    beyond = int(np.searchsorted(at, x))
    return 2.0 * float(min(x - at[beyond - 1], at[beyond] - x)) if beyond % 2 else 0.0
