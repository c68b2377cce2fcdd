"""The list of lines and signs: what each kind that occurs means."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from drafting.finishing.cutpiece import Mark, Notch
from drafting.garment.darts import DRILL_HOLE
from drafting.geometry import Path, Point
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import LEADING, Box, wrap_words
from drafting.output.pdf.ink import POINT, STYLES, Fill, Stroke, circle
from drafting.output.pdf.operators import line, pen, ring_ops
from drafting.output.pictures import symbols
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.record import dataclass
from drafting.units import show_length

SIZE: Final = 7.0
_HEAD: Final = 6.0
_SAMPLE: Final = 12.0
_BESIDE: Final = 2.0
_APART: Final = 0.9
_TWO: Final = 80.0
"""A box as wide as this (mm) takes two columns."""

_GUTTER: Final = 3.0


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of line or sign, and the rows of words that tell what it means."""

    kind: str
    words: tuple[str, ...]

    @property
    def height(self) -> float:
        """How high it stands (mm)."""
        return max(1, len(self.words)) * SIZE * LEADING * POINT + _APART


@dataclass(frozen=True, slots=True)
class Legend:
    """The list, set in columns of ``wide`` mm; ``height`` with its heading."""

    columns: tuple[tuple[Row, ...], ...]
    wide: float

    @property
    def height(self) -> float:
        """How high it stands (mm)."""
        return _HEAD + max(sum(row.height for row in column) for column in self.columns)


def meanings(drawing: Drawing, info: PrintInfo) -> list[tuple[str, str]]:
    """Return the kinds of lines and signs that occur, each with what it means."""
    kinds = {s.style.kind for ink in drawing.pieces for s in ink.strokes}
    wedges = {len(fill.rings) for ink in drawing.pieces for fill in ink.fills if fill.style.kind == "notch"}
    kinds |= {f"notch-{count // 3}" for count in wedges}
    return [(kind, words) for kind, words in _meanings(show_length(DRILL_HOLE, info.unit)) if kind in kinds]


def _meanings(hole: str) -> Iterator[tuple[str, str]]:
    yield "cut", "cut here"
    yield "stitch", "sew here"
    yield "fold-edge", "lay on the cloth's fold"
    yield "fold", "fold here when sewing"
    yield "level", "bust, waist or hip line"
    yield "adjust", "lengthen or shorten here"
    yield "line", "line to mark, named beside it"
    yield "grain", "grain: along the cloth"
    yield "stretch", "greatest stretch"
    yield "notch-1", "notch: match it to the one it is sewn to"
    yield "notch-2", "double notch: match it to a double one"
    yield "zone", "edge to strengthen before sewing"
    yield "drill", f"point to mark; a dart ends {hole} beyond it"
    yield "buttonhole", "buttonhole"
    yield "placement", "a piece is sewn on here"
    yield "disc", "match half-discs; page beside named"


def plan_legend(drawing: Drawing, info: PrintInfo, wide: float, *, joins: bool = False) -> Legend:
    """Return the list set in a box ``wide`` mm wide; ``joins``: with the half-discs of pages that are joined."""
    count = 2 if wide >= _TWO else 1
    column = (wide - (count - 1) * _GUTTER) / count
    told = meanings(drawing, info) + ([(k, w) for k, w in _meanings("") if k == "disc"] if joins else [])
    rows = [Row(kind, wrap_words(words, column - _SAMPLE - _BESIDE, SIZE)) for kind, words in told]
    return Legend(tuple(_columns(rows, count)), column)


def _columns(rows: list[Row], count: int) -> Iterator[tuple[Row, ...]]:
    """Part the rows into columns about as high as each other."""
    if count == 1:
        yield tuple(rows)
        return
    heights = np.cumsum([0.0, *(row.height for row in rows)])
    half = int(np.argmin(np.maximum(heights, heights[-1] - heights)))
    yield from (tuple(rows[:half]), tuple(rows[half:]))


def draw_legend(document: Document, found: Legend, box: Box) -> Box:
    """Draw the list at the top of a box; return the room below it."""
    document.text("Key", box.x0, box.top - 3.5, 10.0)
    for i, column in enumerate(found.columns):
        x, y = box.x0 + i * (found.wide + _GUTTER), box.top - _HEAD
        for row in column:
            middle = y - SIZE * LEADING * POINT / 2
            document.ops(_sign_operators(row.kind, x, middle))
            document.rows(row.words, x + _SAMPLE + _BESIDE, middle - SIZE * POINT * 0.36, SIZE, SIZE * LEADING * POINT)
            y -= row.height
    return Box(box.x0, box.bottom, box.x1, box.top - found.height)


_MARKS: Final = ("grain", "stretch", "adjust", "buttonhole", "zone")


def _draw_sample(kind: str, x: float, y: float) -> tuple[list[Stroke], list[Fill]]:
    """Return a sample of a sign as it is drawn on a piece."""
    across = Path.straight(Point(x, y), Point(x + _SAMPLE, y))
    if kind == "grain":
        return symbols.grain(Mark(kind, "", across))
    if kind == "stretch":
        return symbols.stretch(Mark(kind, "", across))
    if kind == "adjust":
        return symbols.adjust(Mark(kind, "", across)), []
    if kind == "buttonhole":
        return symbols.buttonhole(Mark(kind, "", across.between(2.0, _SAMPLE - 2.0))), []
    if kind == "zone":
        corners = [(x, y - 1.2), (x + _SAMPLE, y - 1.2), (x + _SAMPLE, y + 1.2), (x, y + 1.2), (x, y - 1.2)]
        return symbols.zone(Mark(kind, "", Path.polyline([Point(*corner) for corner in corners]))), []
    at = Point(x + _SAMPLE / 2, y + 1.3)
    strokes, fills = symbols.notch(Notch(at, Point(0.0, -1.0), int(kind[-1]), at, ""))
    return [Stroke(STYLES["cut"], across.moved(Point(0.0, 1.3)).segments), *strokes], fills


def _sign_operators(kind: str, x: float, y: float) -> str:
    """Return the operators that draw a sample of a kind of line or sign, from x to the right, about y."""
    if kind in _MARKS or kind.startswith("notch"):
        return _ink_operators(*_draw_sample(kind, x, y))
    if kind == "drill":
        ring = circle(x + _SAMPLE / 2, y, 1.2)
        cross = (
            line(x + _SAMPLE / 2 - 2, y, x + _SAMPLE / 2 + 2, y),
            line(x + _SAMPLE / 2, y - 2, x + _SAMPLE / 2, y + 2),
        )
        return f"{pen(STYLES['drill'].width)} {ring_ops(ring)} {' '.join(cross)} S"
    if kind == "disc":
        ring = circle(x + _SAMPLE / 2, y, 1.5)
        return f"{pen(0.25, 0.45)} {ring_ops(ring)} S {pen(0.12, 0.35)} {line(x, y, x + _SAMPLE, y)} S"
    style = STYLES[kind]
    phase = style.dash[0] / 2 if style.dash else 0.0
    dashed = pen(style.width, style.grey, style.dash).removesuffix("0 d") + f"{phase:g} d"
    return f"{dashed} {line(x, y, x + _SAMPLE, y)} S"


def _ink_operators(strokes: list[Stroke], fills: list[Fill]) -> str:
    drawn = [
        f"{pen(s.style.width, s.style.grey, s.style.dash)} {ring_ops(s.segments)} S" for s in strokes if len(s.segments)
    ]
    return " ".join([*drawn, *(f"0 g {ring_ops(fill.rings)} f" for fill in fills)])
