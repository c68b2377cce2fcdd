"""The pattern on one page for a projector or a screen: thick lines, large words, and what its size is set by.

A grid lies under the pieces, and a bar across and one upright are measured on the cloth. Lines are told apart without
colour, and the middle of a line is where it lies, however thick it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from enum import StrEnum
from itertools import groupby
from typing import Final

import numpy as np

from drafting.cautions import AT_A_PROJECTOR
from drafting.finishing.cutpiece import CutPiece
from drafting.output.pages.cover import list_piece
from drafting.output.pages.squares import INCH
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import wrap_words
from drafting.output.pdf.ink import Style
from drafting.output.pdf.operators import line, num, pen, rectangle, ring_ops
from drafting.output.pictures.drawing import Drawing, PrintInfo, draw_sheet
from drafting.paper import SheetPlan
from drafting.paper.upright import plan_upright
from drafting.record import dataclass
from drafting.trade import TradeValue

LARGER = TradeValue(2.5, "times", "from memory")
"""As large as on paper are words and signs for a projector, a dot of whose light is half a millimetre on cloth."""

THICKER = TradeValue(3.5, "times", "from memory")
"""As thick as on paper are lines for a projector."""

THINNEST = TradeValue(0.8, "mm", "from memory")
"""At least of a line that a projector shows whole."""

_MARGIN: Final = 90.0
_BAR: Final = {"cm": (500.0, 10, "50 cm"), "in": (20 * INCH, 10, "20 in")}
"""The calibrating bar: its length (mm), how many steps it has, and what it measures."""

_GRID: Final = {"cm": (50.0, 5), "in": (2 * INCH, 2)}
"""From one line of the grid to the next (mm), and how many of the unit that is; every second line is stronger."""

_BESIDE: Final = 20.0
"""Size of words beside a piece (points)."""

_TOLD: Final = 28.0
"""Size of words at the head that a piece has no room for (points)."""

_LEADING: Final = 14.0
"""From one row of them to the next (mm)."""

_HEAD: Final = 60.0

_LIST: Final = 110.0
"""From the top of the page down to the first row of them (mm), below what is said of the pattern and its cautions."""


class Light(StrEnum):
    """Which is light, lines or ground."""

    LINES = "light-on-dark"
    GROUND = "dark-on-light"


@dataclass(frozen=True, slots=True)
class _Shades:
    """Greys, 0 black and 1 white: of the ground, of lines and words, and of the grid's lines, weak and strong."""

    ground: float
    ink: float
    weak: float
    strong: float


_SHADES: Final = {Light.LINES: _Shades(0.0, 1.0, 0.25, 0.4), Light.GROUND: _Shades(1.0, 0.0, 0.85, 0.7)}


def projector_pdf(pieces: tuple[CutPiece, ...], info: PrintInfo, light: Light) -> bytes:
    """Return the bytes of the pattern on one page, true to size, with a grid and two bars to calibrate by."""
    info, shades, plan = info.tidy(), _SHADES[light], plan_upright(pieces)
    drawing = draw_large(plan, info)
    unit = "in" if info.unit == "in" else "cm"
    wide = max(drawing.width, _BAR[unit][0]) + 2 * _MARGIN
    title, lost = info.name_draft(), _tell_crowded(plan, drawing, info, wide - 2 * _MARGIN)
    high = max(drawing.height, _BAR[unit][0]) + 2 * _MARGIN + _HEAD + len(lost) * _LEADING
    document = Document(title, "Sewing pattern, true to size, for a projector or a screen")
    trim = (_MARGIN, _MARGIN, _MARGIN + drawing.width, _MARGIN + drawing.height)
    with document.page((wide, high), "Projector", "The whole pattern", trim):
        document.ops(f"{shades.ground:g} g {rectangle(0.0, 0.0, wide, high)} f 0 g")
        for operators in (*_grid(unit, wide, high, shades), *_bars(unit, shades)):
            document.ops(operators)
        _write_bars(document, unit, shades)
        _write_head(document, title, unit, high, shades)
        for i, row in enumerate(lost):
            at = (_MARGIN, high - _LIST - i * _LEADING)
            document.ops(document.text_ops(row, *at, _TOLD, 0.0, shades.ink))
        _draw_pieces(document, drawing, shades)
        _name_crowded(document, plan, drawing, shades)
    return document.bytes()


def draw_large(plan: SheetPlan, info: PrintInfo) -> Drawing:
    """Draw the sheet with words and signs LARGER times as large: drawn that much smaller, and then enlarged."""
    down = 1.0 / LARGER
    sheet = replace(
        plan.sheet,
        width=plan.sheet.width * down,
        height=plan.sheet.height * down,
        placements=tuple(replace(each, dx=each.dx * down, dy=each.dy * down) for each in plan.sheet.placements),
    )
    tiling = replace(plan.tiling, width=sheet.width, height=sheet.height)
    small = replace(plan, pieces=tuple(each.enlarged(down) for each in plan.pieces), sheet=sheet, tiling=tiling)
    drawn = draw_sheet(small, info)
    pieces = tuple(
        replace(
            ink,
            strokes=tuple(replace(each, segments=each.segments * LARGER) for each in ink.strokes),
            fills=tuple(replace(each, rings=each.rings * LARGER) for each in ink.fills),
            texts=tuple(replace(t, x=t.x * LARGER, y=t.y * LARGER, size=t.size * LARGER) for t in ink.texts),
        )
        for ink in drawn.pieces
    )
    return replace(drawn, width=plan.sheet.width, height=plan.sheet.height, pieces=pieces)


def _draw_pieces(document: Document, drawing: Drawing, shades: _Shades) -> None:
    """Draw all lines, signs and words of the pieces in the margins' corner."""
    document.ops(f"q 1 0 0 1 {num(_MARGIN)} {num(_MARGIN)} cm")
    strokes = sorted((s for ink in drawing.pieces for s in ink.strokes if len(s.segments)), key=lambda s: s.style.kind)
    for style, group in groupby(strokes, key=lambda stroke: stroke.style):
        rings = np.concatenate([stroke.segments for stroke in group])
        document.ops(f"{_pen(style, shades)} {ring_ops(rings)} S")
    for ink in drawing.pieces:
        for fill in ink.fills:
            document.ops(f"{shades.ink:g} g {ring_ops(fill.rings)} f 0 g")
        for text in ink.texts:
            document.ops(document.text_ops(text.text, text.x, text.y, text.size, text.angle, shades.ink))
    document.ops("Q")


def _name_crowded(document: Document, plan: SheetPlan, drawing: Drawing, shades: _Shades) -> None:
    """Name above it each piece that has no room for its title."""
    for ink, (piece, _) in zip(drawing.pieces, plan.placed_pieces(), strict=True):
        if ink.name in drawing.crowded and not any(piece.title in text.text for text in ink.texts):
            left, _, _, top = ink.box
            at = (_MARGIN + left, _MARGIN + top + 3.0)
            document.ops(document.text_ops(f"{piece.code}  {piece.title}", *at, _BESIDE, 0.0, shades.ink))


def _tell_crowded(plan: SheetPlan, drawing: Drawing, info: PrintInfo, room: float) -> list[str]:
    """Return the whole labels of the pieces that have no room for them, in rows for the head of the page."""
    told = [list_piece(piece, True, info) for piece in plan.pieces if piece.name in drawing.crowded]
    return [row for words in told for row in wrap_words(words, room, _TOLD)]


def _pen(style: Style, shades: _Shades) -> str:
    shade = abs(shades.ink - style.grey / 2)
    dash = tuple(each * LARGER for each in style.dash)
    return pen(max(style.width * THICKER, THINNEST), shade, dash, round_=not dash)


def _grid(unit: str, wide: float, high: float, shades: _Shades) -> Iterator[str]:
    """Yield the lines of the grid, counted from the corner that the pieces and the bars are counted from."""
    step, _ = _GRID[unit]
    for strong in (False, True):
        yield pen(1.2 if strong else 0.8, shades.strong if strong else shades.weak)
        for across, long in ((True, wide), (False, high)):
            first = math.ceil(-_MARGIN / step)
            for i in range(first, int((long - _MARGIN) / step) + 1):
                if (i % 2 == 0) == strong:
                    at = _MARGIN + i * step
                    yield f"{line(at, 0.0, at, high) if across else line(0.0, at, wide, at)} S"


def _bars(unit: str, shades: _Shades) -> Iterator[str]:
    """Yield the calibrating bars, across and upright from the corner, with a tick at every step."""
    long, steps, _ = _BAR[unit]
    low = _MARGIN / 2
    yield pen(2.0, shades.ink)
    yield f"{line(_MARGIN, low, _MARGIN + long, low)} {line(low, _MARGIN, low, _MARGIN + long)} S"
    for i in range(steps + 1):
        at, reach = _MARGIN + long * i / steps, 12.0 if i in (0, steps) else 6.0
        yield f"{line(at, low - reach, at, low + reach)} {line(low - reach, at, low + reach, at)} S"


def _write_bars(document: Document, unit: str, shades: _Shades) -> None:
    long, _, words = _BAR[unit]
    size = 40.0
    at = _MARGIN + long / 2
    document.ops(document.text_ops(words, at, _MARGIN / 2 - 30.0, size, 0.0, shades.ink))
    document.ops(document.text_ops(words, _MARGIN / 2 - 18.0, at, size, math.pi / 2, shades.ink))


def _write_head(document: Document, title: str, unit: str, high: float, shades: _Shades) -> None:
    """Say what the pattern is and how its size is set, above the pieces."""
    count, words = _GRID[unit][1], _BAR[unit][2]
    rows = (
        title,
        f"Move and zoom until each bar measures {words} on your cloth, across and up.",
        f"The grid is {count} {unit}. Cut along the middle of the line.",
        AT_A_PROJECTOR,
    )
    for i, row in enumerate(rows):
        document.ops(document.text_ops(row, _MARGIN, high - 34.0 - i * 18.0, 44.0 if i == 0 else 34.0, 0.0, shades.ink))
