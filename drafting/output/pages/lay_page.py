"""The cutting plan as pages to print: for each cloth, how its parts lie, how much to buy, and where stripes meet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from drafting.cautions import CAUTIONS
from drafting.finishing.labels import name_mark
from drafting.geometry import Point, deepest_inside
from drafting.lay.places import LaidPlace, find_flaws, find_places
from drafting.lay.plan import Lay
from drafting.lay.words import (
    LayWords,
    describe_lay,
    show_place,
    tell_across,
    tell_layers,
    tell_laying,
    tell_washing,
)
from drafting.mending import Advisor, advise_nothing
from drafting.output.pages.fitting_page import page_of
from drafting.output.pages.furniture import cut_words, fitting_size
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, Para, flow, split_columns
from drafting.output.pdf.ink import POINT, Floats
from drafting.output.pdf.operators import fill_ink, line, num, pen, rectangle
from drafting.output.pdf.text import ASCENT, DESCENT, text_width
from drafting.output.pictures.drawing import PrintInfo
from drafting.paper import PaperPlan
from drafting.record import dataclass
from drafting.units import Unit, show_length

MARGIN: Final = 12.0
HEAD: Final = 24.0
SIDE: Final = 12.0
"""Room beside the cloth for its measures (mm)."""

SHARE: Final = 0.58
"""The share of a page's height that the drawing may take."""


LARGEST: Final = 7.0
"""Of type in a part (pt)."""

SMALLEST: Final = 4.5
"""Of type (pt), below which it isn't read."""

LINE: Final = 1.3
"""From one line to the next, over the size of its type."""


@dataclass(frozen=True, slots=True)
class LabelSpot:
    """Where the edge of what can be used of the cloth is drawn (mm on the page), and at what scale.

    ``grow`` is how much larger than on paper labels are.
    """

    x0: float
    y0: float
    scale: float
    grow: float = 1.0


def lay_pdf(lays: Sequence[Lay], info: PrintInfo, paper: PaperPlan, advisor: Advisor = advise_nothing) -> bytes:
    """Return the bytes of the cutting plan: a page for each cloth, and more where the words find no room on one."""
    info = info.tidy()
    named = info.name_draft()
    document = Document(f"Cutting plan: {named}", "How the pieces lie on the cloth, and how much to buy")
    page = page_of(paper)
    frame = Box(MARGIN, MARGIN, page[0] - MARGIN, page[1] - MARGIN)
    pages = itertools.count(1)
    unlike = len({each.cloth.cut_unwashed for each in lays}) > 1
    for lay in lays:
        says = describe_lay(lay, info.unit, advisor)
        washing = [tell_washing([lay.cloth])] if lay is lays[0] or unlike else []
        once = (washing, [CAUTIONS] if lay is lays[-1] else [])
        waiting = [Para(words, 8.5, 1.6) for words in (*once[0], tell_laying(lay), *says.lines, *once[1])]
        stretches = _stretches(lay, frame)
        bare: list[LaidPlace] = []
        begun = False
        while stretches or waiting:
            with document.page(page, f"Cutting {next(pages)}", says.heading):
                _draw_head(document, info, says, frame)
                top, drawn = frame.top - HEAD, bool(stretches)
                if stretches:
                    box = Box(frame.x0, frame.bottom, frame.x1, top)
                    top, more = _draw_lay(document, lay, info, box, stretches.pop(0))
                    bare += more
                if stretches:
                    continue
                if not begun:
                    begun, waiting[1:1] = True, _tell_bare(bare, info.unit)
                left = flow(document, waiting, split_columns(Box(frame.x0, frame.bottom, frame.x1, top)))
                if len(left) == len(waiting) and not drawn:
                    raise ValueError("a paragraph finds no room on a page")
                waiting = left
    return document.bytes()


LONGEST: Final = 1.4
"""Of a cloth's width as which a lay is drawn on one page at most; a longer one is drawn stretch by stretch."""


def _stretches(lay: Lay, frame: Box) -> list[tuple[float, float]]:
    """From where to where the cloth's length is drawn on each page (mm)."""
    wide, high = lay.wide, max(lay.length, lay.width / 10.0)
    if high <= LONGEST * wide:
        return [(0.0, high)]
    scale = (frame.x1 - frame.x0 - SIDE) / wide
    count = math.ceil(high * scale / (frame.top - HEAD - frame.bottom - 2 * ENDS))
    return [(high * i / count, high * (i + 1) / count) for i in range(count)]


ENDS: Final = 5.0
"""Above and below a drawing, for what is told of its ends (mm)."""


GROWN: Final = 4.0
"""How much larger than on paper labels are in true size, to be read from a table's height."""


def true_size_pdf(lays: Sequence[Lay], info: PrintInfo) -> bytes:
    """Return the plan in true size, a page for each cloth, for a projector over a table or a long print."""
    info = info.tidy()
    named = info.name_draft()
    document = Document(f"Cutting plan in true size: {named}", "Each piece where it lies on the cloth")
    for number, lay in enumerate(lays, start=1):
        wide, high = lay.wide, max(lay.length, lay.width / 10.0)
        with document.page((wide, high), f"Cloth {number}", describe_lay(lay, info.unit).heading):
            _draw_cloth(document, lay, wide, high, 1.0)
            for each in lay.laid:
                document.ops(f"{pen(1.0, round_=True)} 1 g {_trace_polygon(each.ring, lay.left)} B 0 g")
            _draw_stripes(document, lay, high, 1.0)
            for place in find_places(lay):
                _draw_label(document, place, LabelSpot(lay.left, 0.0, 1.0, GROWN), info.unit)
    return document.bytes()


def _tell_bare(places: Sequence[LaidPlace], unit: Unit) -> list[Para]:
    """Where parts lie in which there was no room to write it."""
    named = ((place.laid.part, ", ".join(show_place(place, unit))) for place in places)
    each = [f"{part.piece.code} {part.title}: {told}" for part, told in named]
    if len(each) <= FEW:
        return [Para(f"Not written into the piece: {'; '.join(each)}.", 8.5, 1.6)] if each else []
    return [Para("Not written into the piece:", 8.5, 1.6), *(Para(told, 8.5, 0.4) for told in each)]


FEW: Final = 6
"""How many parts are told of in one paragraph."""


def _draw_head(document: Document, info: PrintInfo, says: LayWords, frame: Box) -> None:
    room = frame.x1 - frame.x0
    document.text(cut_words(f"Cutting plan: {info.title}", room, 14.0), frame.x0, frame.top - 5.0, 14.0)
    mark = name_mark(info.mark)
    words = "  \u00b7  ".join(part for part in (info.wearer, mark) if part)
    document.text(cut_words(words, room, 9.0), frame.x0, frame.top - 10.5, 9.0)
    document.text(cut_words(f"{says.heading}. {says.buy}.", room, 11.0), frame.x0, frame.top - 18.0, 11.0)


def _draw_lay(
    document: Document, lay: Lay, info: PrintInfo, box: Box, stretch: tuple[float, float]
) -> tuple[float, list[LaidPlace]]:
    """Draw a stretch of the cloth and its parts at the top of a box.

    Returns the height (mm) below which there is room, and the parts in which their places found none.
    """
    wide, high = lay.wide, max(lay.length, lay.width / 10.0)
    begin, end = stretch
    share = SHARE if end - begin == high else 1.0
    scale = min((box.x1 - box.x0 - SIDE) / wide, ((box.top - box.bottom) * share) / (end - begin))
    x0, low = box.x0, box.top - ENDS - (end - begin) * scale
    document.ops(f"q {num(scale, 8)} 0 0 {num(scale, 8)} {num(x0)} {num(low - begin * scale)} cm")
    document.ops(f"{rectangle(-1.0 / scale, begin, wide + 1.0 / scale, end)} W n")
    _draw_cloth(document, lay, wide, high, scale)
    for each in lay.laid:
        document.ops(f"{pen(0.3 / scale, round_=True)} 1 g {_trace_polygon(each.ring, lay.left)} B 0 g")
    _draw_stripes(document, lay, high, scale)
    document.ops("Q")
    spot = LabelSpot(x0 + lay.left * scale, low - begin * scale, scale)
    here = [place for place in find_places(lay) if begin <= deepest_inside(place.laid.ring, 4.0)[0].y < end]
    bare = [place for place in here if not _draw_label(document, place, spot, info.unit)]
    across = tell_across(lay, info.unit)
    document.text_about(across, x0 + wide * scale / 2, low + (end - begin) * scale + 1.2, 7.0)
    if lay.folded:
        document.text("fold", x0 - 1.2, (low + box.top - ENDS) / 2.0, 7.0, math.pi / 2)
    right, middle = x0 + wide * scale, low + (end - begin) * scale / 2
    told = show_length(lay.length, info.unit)
    if begin > 0.0 or end < high:
        told = f"{show_length(begin, info.unit)} to {show_length(end, info.unit)} from the cut end, of {told}"
    document.text(told, right + 4.0, middle - text_width(told, 7.0) / 2, 7.0, math.pi / 2)
    document.ops(f"{pen(0.15)} {line(right + 5.0, low, right + 5.0, low + (end - begin) * scale)} S")
    return low - 4.0, bare


def _draw_cloth(document: Document, lay: Lay, wide: float, high: float, scale: float) -> None:
    """The cloth from its cut end, its selvedges grey; it runs on beyond the parts."""
    document.ops(f"{fill_ink(lay.cloth.tint, 0.93)} {rectangle(0, 0, wide, high)} f")
    document.ops(f"0.75 g {rectangle(0, 0, lay.left, high)} f {rectangle(wide - lay.edge, 0, wide, high)} f 0 g")
    for x0, y0, x1, y1 in find_flaws(lay):
        document.ops(f"0.6 g {rectangle(x0, y0, x1, y1)} f 0 g")
        document.ops(f"{pen(0.3 / scale)} {line(x0, y0, x1, y1)} {line(x0, y1, x1, y0)} S")
    sides = f"{line(0, high, 0, 0)} {line(0, 0, wide, 0)} {line(wide, 0, wide, high)}"
    document.ops(f"{pen(0.25 / scale)} {sides} S")
    document.ops(f"{pen(0.2 / scale, 0.4, (2 / scale, 1.5 / scale))} {line(0, high, wide, high)} S")


def _draw_stripes(document: Document, lay: Lay, high: float, scale: float) -> None:
    for each in (each for each in lay.stripes if each.shifts):
        across = each.is_across
        ends = np.arange(each.first, high if across else lay.width, each.stripe.repeat).tolist()
        lines = (line(0, y, lay.wide, y) if across else line(lay.left + y, 0, lay.left + y, high) for y in ends)
        document.ops(f"{pen(0.12 / scale, 0.6)} {' '.join(lines)} S")


def _trace_polygon(ring: Floats, right: float) -> str:
    """The operators that trace a polygon, moved to the right."""
    points = [f"{num(x + right, 1)} {num(y, 1)}" for x, y in ring[:-1].tolist()]
    return f"{points[0]} m {' '.join(f'{point} l' for point in points[1:])} h"


def _draw_label(document: Document, place: LaidPlace, spot: LabelSpot, unit: Unit) -> bool:
    """The part's code, its title and place as far as they fit, how the pattern lies, and an arrow to its top.

    Returns whether there was room for the place.
    """
    each, grow = place.laid, spot.grow
    middle, reach = deepest_inside(each.ring, 4.0)
    x, y, reach = spot.x0 + middle.x * spot.scale, spot.y0 + middle.y * spot.scale, reach * spot.scale
    code = min(12.0 * grow, max(5.0, reach * 1.6))
    _print_clear(document, each.part.piece.code, (x, y + 0.6 * grow), code)
    if reach > 3.0:
        tall = min(0.6 * reach, 7.0 * grow) * (-1.0 if each.turned else 1.0)
        _draw_arrow(document, x + min(0.75 * reach, 9.0 * grow), y + code * POINT * 0.4 - tall / 2, tall)
    titled = [each.part.title, *tell_layers(each), *(["printed side down"] if each.part.over else [])]
    told = show_place(place, unit)
    owner = [each.part.owner] if each.part.owner else []
    joined = ", ".join(told)
    for words in ([*titled, joined], [*titled, *told], [*owner, joined], [*owner, *told], [joined], told, titled):
        size = _fit_lines(words, each.ring, middle, spot)
        if size:
            for number, text in enumerate(words, start=1):
                _print_clear(document, text, (x, y - number * size * LINE * POINT), size)
            return words is not titled
    return False


def _print_clear(document: Document, text: str, middle: tuple[float, float], size: float) -> None:
    """Print a line of text about a point on white, so that no stripe's line strikes it through."""
    x, y = middle
    half, low, high = text_width(text, size) / 2 + 0.4, DESCENT * size * POINT, ASCENT * size * POINT
    document.ops(f"1 g {rectangle(x - half, y - low, x + half, y + high)} f 0 g")
    document.text_about(text, x, y, size)


def _fit_lines(words: Sequence[str], ring: Floats, middle: Point, spot: LabelSpot) -> float:
    """The size of type (pt) in which lines of words fit below a point within a part; 0 where they don't."""
    size = LARGEST * spot.grow
    while size >= SMALLEST * spot.grow:
        step = size * LINE * POINT / spot.scale
        rooms = [
            min(_room_beside(ring, middle.x, middle.y - (number + down) * step) for down in (-0.7, 0.3)) * spot.scale
            for number in range(1, len(words) + 1)
        ]
        if all(fitting_size(text, size, room) >= size for text, room in zip(words, rooms, strict=True)):
            return size
        size -= 0.5 * spot.grow
    return 0.0


def _room_beside(ring: Floats, x: float, y: float) -> float:
    """How wide words about x may be at a height within a polygon (mm): twice the way to its nearer edge."""
    a, b = ring[:-1], ring[1:]
    crosses = (a[:, 1] <= y) != (b[:, 1] <= y)
    a, b = a[crosses], b[crosses]
    at = np.sort(a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0]))
    beyond = int(np.searchsorted(at, x))
    return 2.0 * float(min(x - at[beyond - 1], at[beyond] - x)) if beyond % 2 else 0.0


def _draw_arrow(document: Document, x: float, y: float, tall: float) -> None:
    """An arrow from (x, y) up, or down where it is less than 0 tall (mm)."""
    tip, barb = y + tall, y + tall - math.copysign(1.2, tall)
    head = f"{line(x - 0.8, barb, x, tip)} {num(x + 0.8)} {num(barb)} l"
    document.ops(f"{pen(0.2)} {line(x, y, x, tip)} {head} S")
