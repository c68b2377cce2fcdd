"""The cutting plan as pages to print: for each cloth, how its parts lie, how much to buy, and where stripes meet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.cautions import CAUTIONS
from drafting.finishing.labels import name_mark
from drafting.geometry import signed_area
from drafting.lay.places import LaidPlace, find_places
from drafting.lay.spread import ClothSpread, Lay
from drafting.lay.washing import tell_washing
from drafting.lay.words import LayWords, describe_spreads, show_place, tell_across, tell_laying
from drafting.mending import Advisor, advise_nothing
from drafting.output.lay_drawing import (
    INKS,
    SMALLEST,
    TONED,
    TRUE_HEAD,
    LabelScale,
    LayInk,
    LayLabel,
    LayShape,
    Look,
    clip_stretch,
    draw_head,
    draw_spread,
    reach_of,
    write_code,
    write_label,
)
from drafting.output.pages.fitting_page import page_of
from drafting.output.pages.furniture import cut_words, fitting_size
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box, Para, flow, least_height, split_columns
from drafting.output.pdf.ink import POINT, Floats
from drafting.output.pdf.operators import fill_ink, line, num, pen, rectangle
from drafting.output.pdf.text import ASCENT, DESCENT, text_width
from drafting.output.pictures.drawing import PrintInfo
from drafting.paper import PaperPlan
from drafting.text import clean_line
from drafting.units import Unit, show_length

MARGIN: Final = 12.0
HEAD: Final = 25.0
SIDE: Final = 12.0
"""Room beside the cloth for its measures (mm)."""

SHARE: Final = 0.58
"""The share of a page's height that the drawing may take."""


def lay_pdf(
    lays: Sequence[Lay], info: PrintInfo, paper: PaperPlan, advisor: Advisor = advise_nothing, more: Sequence[str] = ()
) -> bytes:
    """Return the bytes of the cutting plan, and what ``more`` is said of all of it.

    It has a page for each spread, and further ones where the words find no room on one.
    """
    asked, info = info, info.tidy()
    document = Document(f"Cutting plan: {info.name_draft()}", "How the pieces lie on the cloth, and how much to buy")
    pages = PlanPages(document, info, page_of(paper))
    unlike = len({each.cloth.cut_unwashed for each in lays}) > 1
    for lay in lays:
        says = describe_spreads(lay, info.unit, advisor)
        for told, spread in zip(says, lay.spreads, strict=True):
            is_first, is_last = (spread is lays[end].spreads[end] for end in (0, -1))
            washing = [tell_washing([(lay.kind, lay.cloth)])] if is_first or (unlike and not spread.begins) else []
            toned = [TONED] * any(each.part.over for each in spread.laid)
            begun = _tell_all_of_it(asked, page_of(paper)[0] - 2 * MARGIN, more)
            whole = begun if spread is lays[0].spreads[0] else []
            words = (*washing, tell_laying(spread), *toned, *told.lines, *whole, *([CAUTIONS] if is_last else []))
            pages.draw(lay, spread, told, [Para(each, 8.5, 1.6) for each in words])
    return document.bytes()


class PlanPages:
    """The pages of a plan, one after the other."""

    def __init__(self, document: Document, info: PrintInfo, size: tuple[float, float]) -> None:
        self._document, self._info, self._size, self._number = document, info, size, itertools.count(1)

    def draw(self, lay: Lay, spread: ClothSpread, says: LayWords, waiting: list[Para]) -> None:
        """Draw a spread, stretch by stretch, and what is said of it below."""
        document, unit = self._document, self._info.unit
        frame = Box(MARGIN, MARGIN, self._size[0] - MARGIN, self._size[1] - MARGIN)
        stretches = _choose_stretches(lay, spread, unit, frame)
        later: list[Para] = []
        while stretches or waiting:
            with document.page(self._size, f"Cutting {next(self._number)}", says.heading):
                _draw_head(document, self._info, says, frame)
                top, drawn = frame.top - HEAD, bool(stretches)
                if stretches:
                    box = Box(frame.x0, frame.bottom, frame.x1, top)
                    top, bare = _draw_lay(document, lay, spread, unit, box, stretches.pop(0))
                    later += _tell_bare(bare, unit)
                columns = split_columns(Box(frame.x0, frame.bottom, frame.x1, top))
                if stretches:
                    later = flow(document, later, columns)
                    continue
                waiting[1:1], later = later, []
                left = flow(document, waiting, columns)
                if len(left) == len(waiting) and not drawn:
                    raise ValueError("a paragraph finds no room on a page")
                waiting = left


LONGEST: Final = 1.4
"""Of a cloth's width as which a lay is drawn on one page at most; a longer one is drawn stretch by stretch."""


def _choose_stretches(lay: Lay, spread: ClothSpread, unit: Unit, frame: Box) -> list[tuple[float, float]]:
    """The stretches, with room below each for where those of its parts lie in which that can't be written."""
    scale, room = LabelScale((frame.x1 - frame.x0 - SIDE) / spread.wide, 1.0, SMALLEST), 0.0
    below = Box(frame.x0, frame.bottom, frame.x1, frame.top - HEAD)
    stretches = _stretches(spread, frame, room)
    for _ in range(CHOSEN_ANEW if len(stretches) > 1 else 0):
        labels = (_label_stretch(lay, spread, stretch, scale, unit) for stretch in stretches)
        told = (_tell_bare([place for place, label in some if not label.is_placed], unit) for some in labels)
        high = max(least_height(paragraphs, below) for paragraphs in told)
        if high <= room:
            break
        room = high
        stretches = _stretches(spread, frame, room)
    return stretches


CHOSEN_ANEW: Final = 3
"""How often stretches are chosen anew at most, for other parts lie on shorter ones."""


def _stretches(spread: ClothSpread, frame: Box, room: float) -> list[tuple[float, float]]:
    """From where to where the cloth's length is drawn on each page (mm), room left below it."""
    wide, high = spread.wide, reach_of(spread)
    if high <= LONGEST * wide:
        return [(0.0, high)]
    scale = (frame.x1 - frame.x0 - SIDE) / wide
    count = math.ceil(high * scale / (frame.top - HEAD - frame.bottom - 2 * ENDS - room))
    return [(high * i / count, high * (i + 1) / count) for i in range(count)]


ENDS: Final = 5.0
"""Above and below a drawing, for what is told of its ends (mm)."""


def true_size_pdf(lays: Sequence[Lay], info: PrintInfo) -> bytes:
    """Return the plan in true size, a page for each spread, for a projector over a table or a long print."""
    info, at = info.tidy(), LabelScale()
    document = Document(f"Cutting plan in true size: {info.name_draft()}", "Each piece where it lies on the cloth")
    every = [(lay, *each) for lay in lays for each in zip(lay.spreads, describe_spreads(lay, info.unit), strict=True)]
    for number, (lay, spread, says) in enumerate(every, start=1):
        reach = reach_of(spread)
        with document.page((spread.wide, reach + TRUE_HEAD), f"Cloth {number}", says.heading):
            _trace(document, draw_spread(lay, spread), at, lay.cloth.tint)
            lines, shapes = draw_head(says, info, spread)
            for text in lines:
                size = fitting_size(text.words, text.size, spread.wide - 2 * MARGIN)
                document.text(text.words, text.x, reach + text.y, size)
            _trace(document, ([replace(each, points=[(x, reach + y) for x, y in each.points]) for each in shapes]), at)
            for place in find_places(spread, lay.across):
                _print_label(document, write_label(place, spread.left, at, info.unit), (0.0, 0.0), at, lay.is_tied)
    return document.bytes()


def _tell_bare(places: Sequence[LaidPlace], unit: Unit) -> list[Para]:
    """Where parts lie in which there was no room to write it."""
    over = {True: "printed side down, ", False: ""}
    named = ((at.laid.part, f"{over[at.laid.part.over]}{', '.join(show_place(at, unit))}") for at in places)
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
    for told, low, size in ((f"{says.heading}.", 16.5, 11.0), (f"{says.buy}.", 21.5, 10.0)):
        size = max(LEAST_HEAD, fitting_size(told, size, room))
        document.text(cut_words(told, room, size), frame.x0, frame.top - low, size)


LEAST_HEAD: Final = 6.0
"""Of type in a heading (pt)."""


LONGEST_LIST: Final = 1200
"""Of the names and draft marks of all garments, in characters: a choir's."""


def _tell_all_of_it(info: PrintInfo, room: float, more: Sequence[str]) -> list[str]:
    """Whose garments and which draft marks a plan is of, where the heading has no room for all of them."""
    words = clean_line("; ".join(part for part in (info.wearer, name_mark(info.mark)) if part), LONGEST_LIST)
    return [*([f"The plan of {words}."] if text_width(words, 9.0) > room - SIDE else []), *more]


def _draw_lay(
    document: Document, lay: Lay, spread: ClothSpread, unit: Unit, box: Box, stretch: tuple[float, float]
) -> tuple[float, list[LaidPlace]]:
    """Draw a stretch of the cloth and its parts at the top of a box.

    Returns the height (mm) below which there is room, and the parts in which their places found none.
    """
    wide, high = spread.wide, reach_of(spread)
    begin, end = stretch
    share = SHARE if end - begin == high else 1.0
    scale = min((box.x1 - box.x0 - SIDE) / wide, ((box.top - box.bottom) * share) / (end - begin))
    at = LabelScale(scale, 1.0, SMALLEST)
    low = box.top - ENDS - (end - begin) * at.scale
    origin = (box.x0, low - begin * at.scale)
    document.ops(f"q {num(at.scale, 8)} 0 0 {num(at.scale, 8)} {num(origin[0])} {num(origin[1])} cm")
    document.ops(f"{rectangle(-1.0 / at.scale, begin, wide + 1.0 / at.scale, end)} W n")
    _trace(document, draw_spread(lay, spread), at, lay.cloth.tint)
    document.ops("Q")
    labels = list(_label_stretch(lay, spread, stretch, at, unit))
    for _, label in labels:
        _print_label(document, label, origin, at, lay.is_tied)
    _print_measures(document, spread, unit, (box.x0, low, box.x0 + wide * at.scale, box.top - ENDS), stretch)
    return low - 4.0, [place for place, label in labels if not label.is_placed]


def _label_stretch(
    lay: Lay, spread: ClothSpread, stretch: tuple[float, float], at: LabelScale, unit: Unit
) -> Iterator[tuple[LaidPlace, LayLabel]]:
    """What is written into the parts of a stretch, within it: all into one that mostly lies there, else its letter."""
    whole = stretch == (0.0, reach_of(spread))
    for place in find_places(spread, lay.across):
        ring = place.laid.ring
        here = ring if whole else clip_stretch(ring, *stretch)
        share = 1.0 if whole else _share_of(here, ring)
        if share > 0.5 or (share == 0.5 and ring[:, 1].min() >= stretch[0]):
            yield place, write_label(replace(place, laid=replace(place.laid, ring=here)), spread.left, at, unit)
        elif share > 0.0 and float(np.ptp(here[:, 1])) * at.scale > LEAST_NAMED:
            yield place, write_code(place, here, spread.left, at)


def _share_of(ring: Floats, whole: Floats) -> float:
    """How much of a part's area lies in a stretch."""
    return abs(signed_area(ring)) / abs(signed_area(whole)) if len(ring) else 0.0


LEAST_NAMED: Final = 4.0
"""How far (mm) a part must reach into a page for its letter to be written there."""


def _print_measures(
    document: Document,
    spread: ClothSpread,
    unit: Unit,
    drawn: tuple[float, float, float, float],
    stretch: tuple[float, float],
) -> None:
    """Print beside a stretch, drawn from left, low to right, top (mm), how wide and long it is."""
    (left, low, right, top), (begin, end) = drawn, stretch
    document.text_about(tell_across(spread, unit), (left + right) / 2, top + 1.2, 7.0)
    if spread.folded:
        document.text("fold", left - 1.2, (low + top) / 2.0, 7.0, math.pi / 2)
    told = show_length(spread.length, unit)
    if begin > 0.0 or end < reach_of(spread):
        told = f"{show_length(begin, unit)} to {show_length(end, unit)} from the cut end, of {told}"
    document.text(told, right + 4.0, (low + top) / 2 - text_width(told, 7.0) / 2, 7.0, math.pi / 2)
    document.ops(f"{pen(0.15)} {line(right + 5.0, low, right + 5.0, top)} S")


def _trace(document: Document, shapes: Iterable[LayShape], at: LabelScale, tint: str | None = None) -> None:
    """Draw shapes, the cloth in its tint."""
    for shape in shapes:
        ink, thick = INKS[shape.look], at.grow / at.scale
        first, *rest = (f"{num(x, 1)} {num(y, 1)}" for x, y in shape.points)
        path = f"{first} m {' '.join(f'{point} l' for point in rest)}"
        filled = "" if ink.fill is None else f"{fill_ink(tint if shape.look is Look.CLOTH else None, ink.fill)} "
        drawn = "" if ink.pen is None else f"{_take_pen(ink, thick)} "
        paint = ("h B" if drawn else "h f") if filled else "S"
        document.ops(f"{drawn}{filled}{path} {paint}{' 0 g' * bool(filled)}")


def _take_pen(ink: LayInk, thick: float) -> str:
    return pen((ink.pen or 0.0) * thick, ink.grey, [dash * thick for dash in ink.dash], round_=ink.fill is not None)


def _print_label(
    document: Document, label: LayLabel, origin: tuple[float, float], at: LabelScale, striped: bool
) -> None:
    """Print what is written into a part; on white where there are stripes, so that none strikes it through."""
    if label.arrow is not None:
        points = [(origin[0] + x * at.scale, origin[1] + y * at.scale) for x, y in label.arrow.points]
        _trace(document, [LayShape(Look.ARROW, points)], LabelScale(1.0, at.grow))
    for text in label.texts:
        x, y = origin[0] + text.x * at.scale, origin[1] + text.y * at.scale
        half = text_width(text.words, text.size) / 2 + 0.4
        low, high = DESCENT * text.size * POINT, ASCENT * text.size * POINT
        if striped:  # elsewhere the white would only break an edge that the words come near to
            document.ops(f"1 g {rectangle(x - half, y - low, x + half, y + high)} f 0 g")
        document.text_about(text.words, x, y, text.size)
