"""What stands round a tile, outside its live area: its place, rulers, trim lines and the draft's mark."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from drafting.finishing.labels import name_mark
from drafting.output.pdf.document import DOT, Document
from drafting.output.pdf.ink import POINT
from drafting.output.pdf.operators import METRIC, PER_MM, line, pen
from drafting.output.pdf.text import text_width
from drafting.output.pictures.drawing import PrintInfo
from drafting.paper import PaperPlan, Tile
from drafting.paper.papers import STRIP
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

_HAIR: Final = 0.12  # width of trim lines, and how far they keep off the live area
_TICK: Final = 0.35  # where ruler ticks begin, counted from the live area
_TICK_PEN: Final = 0.1
_OUTER: Final = 4.35  # where the outer line of words begins


@dataclass(frozen=True, slots=True)
class PageFrame:
    """Where things lie on a page (mm from its lower left corner).

    The live area, and how far ink runs on to the right and below.
    """

    page: tuple[float, float]
    trim: tuple[float, float, float, float]
    lap: tuple[float, float]
    margin: float
    scale: tuple[float, float]
    correction: str = ""

    @staticmethod
    def of(plan: PaperPlan) -> PageFrame:
        """Return the frame of every tile's page.

        The live area hangs from the upper left corner of the page.
        """
        wide, high = (side * factor for side, factor in zip(plan.live, plan.scale, strict=True))
        top = round(plan.page[1] * PER_MM / DOT) * DOT / PER_MM - plan.inset
        lap = (plan.lapped, plan.lapped)
        return PageFrame(
            plan.page, (plan.inset, top - high, plan.inset + wide, top), lap, plan.margin, plan.scale, plan.correction
        )


@dataclass(frozen=True, slots=True)
class PageEdge:
    """One edge of the live area.

    Where it starts, its direction, the direction outwards, its length and where the strip begins.
    """

    name: str
    start: tuple[float, float]
    along: tuple[int, int]
    out: tuple[int, int]
    length: float
    skip: float
    scale: float

    def at(self, u: float, v: float) -> tuple[float, float]:
        """Return the point ``u`` mm along the edge and ``v`` mm outside it."""
        (x, y), (a, b), (c, d) = self.start, self.along, self.out
        return x + a * u + c * v, y + b * u + d * v

    def line(self, u0: float, v0: float, u1: float, v1: float) -> str:
        """Return the operators that trace a line between two such points."""
        return line(*self.at(u0, v0), *self.at(u1, v1))

    @property
    def angle(self) -> float:
        """How words along this edge are turned: level ones read rightwards, upright ones upwards."""
        return 0.0 if self.along[0] else math.pi / 2


Words = tuple[PageEdge, str, float, float, float, float]
"""Words beside an edge: how far along it and outside it their middle is (mm), their size (points) and grey."""


def edges_of(frame: PageFrame) -> tuple[PageEdge, PageEdge, PageEdge, PageEdge]:
    """Return the left, the lower, the right and the upper edge of a page's live area."""
    x0, y0, x1, y1 = frame.trim
    (sx, sy), (lx, ly) = frame.scale, frame.lap
    return (
        PageEdge("left", (x0, y0), (0, 1), (-1, 0), y1 - y0, 0.0, sy),
        PageEdge("lower", (x0, y0), (1, 0), (0, -1), x1 - x0, ly, sx),
        PageEdge("right", (x1, y0), (0, 1), (1, 0), y1 - y0, lx, sy),
        PageEdge("upper", (x0, y1), (1, 0), (0, 1), x1 - x0, 0.0, sx),
    )


def store_surround(document: Document, frame: PageFrame, info: PrintInfo) -> None:
    """Store what is the same round every tile."""
    document.store_operators("round", ["q 0 g", METRIC, *_surround(document, frame, info), "Q"])


def _surround(document: Document, frame: PageFrame, info: PrintInfo) -> Iterator[str]:
    """Yield trim lines, rulers (centimetres left and below, inches right and above), title and draft mark."""
    yield pen(_HAIR, 0.35)
    for side in edges_of(frame):
        for u in (0.0, side.length):
            yield side.line(u, 0.0, u, side.skip + STRIP)
        yield side.line(0.0, _HAIR, side.length, _HAIR)
    yield "S"
    for side in edges_of(frame):
        yield from _ticks(side, side.name in _METRIC)
    numbers = [number for side in edges_of(frame) for number in _numbers(side, side.name in _METRIC)]
    yield letter_operators(document, numbers, 1.0)
    yield from _captions(document, info, frame)


_METRIC: Final = ("left", "lower")

_LOWER: Final = 0.9
"""How much of the lower edge its words may take, about their middle: what a print is corrected for is told whole."""


def _ticks(side: PageEdge, metric: bool) -> Iterator[str]:
    """Yield a ruler's ticks: the dashes of three lines as wide as the ticks are long."""
    base = side.skip + _TICK
    steps = ((1.0, 0.9), (5.0, 1.5), (10.0, 2.2)) if metric else ((3.175, 0.9), (12.7, 1.5), (25.4, 2.2))
    for step, size in steps:
        apart = step * side.scale
        v = base + size / 2
        yield f"{size:g} w 0 G 0 J [{_TICK_PEN} {apart - _TICK_PEN:.6f}] {_TICK_PEN / 2} d"
        yield f"{side.line(apart, v, side.length, v)} S"


def _numbers(side: PageEdge, metric: bool) -> Iterator[Words]:
    """Yield a ruler's numbers."""
    step = (10.0 if metric else 25.4) * side.scale
    for i in range(1, int((side.length - 3.0) / step) + 1):
        words = f"{i}" + ((" cm" if metric else " in") if i == 1 else "")
        yield side, words, i * step, side.skip + _TICK + 2.95, 4.5, 0.0


def _words(document: Document, side: PageEdge, words: str, u: float, v: float, size: float, grey: float = 0.0) -> str:
    """Return the operators that print words about a point beside an edge, read rightwards or upwards."""
    x, y = side.at(u, v)
    half, drop = text_width(words, size) / 2, size * POINT * 0.36
    if side.angle:
        return document.text_ops(words, x + drop, y - half, size, side.angle, grey)
    return document.text_ops(words, x - half, y - drop, size, 0.0, grey)


def name_tile(document: Document, frame: PageFrame, tile: Tile, others: Iterable[Words]) -> None:
    """Print a tile's place in the corner outside its live area, and the names of others, in points."""
    upper = edges_of(frame)[-1]
    size = float(int(fitting_size(tile.name, 15.0, STRIP - 0.8)) or 1)
    own = (upper, tile.name, -STRIP / 2, STRIP / 2, size, 0.0)
    document.ops(letter_operators(document, [own, *others], PER_MM, digits=0))


def fitting_size(words: str, size: float, room: float) -> float:
    """Return the size in points at which words take no more than ``room`` mm; ``size`` at most, in tenths."""
    return math.floor(10 * min(size, size * room / max(text_width(words, size), 0.1))) / 10


def letter_operators(document: Document, words: Sequence[Words], per: float, *, digits: int = 1) -> str:
    """Return the operators that print words about points beside their edges, ``per`` units of the page to a mm.

    Places are rounded to ``digits``.
    """
    out, turned, size, shade = ["BT"], False, 0.0, 0.0
    px = py = 0.0
    for side, text, u, v, points, grey in words:
        x, y = side.at(u, v)
        half, drop = text_width(text, points) / 2, points * POINT * 0.36
        upright = bool(side.angle)
        x, y = (x + drop, y - half) if upright else (x - half, y - drop)
        x, y = (round(side * per + TOLERANCE.off_edge, digits) for side in (x, y))
        if grey != shade:
            out.append(f"{grey:g} g")
        if upright != turned:
            out.append(f"{'0 1 -1 0' if upright else '1 0 0 1'} {x:g} {y:g} Tm")
        else:
            dx, dy = (y - py, px - x) if turned else (x - px, y - py)
            out.append(f"{round(dx, digits):g} {round(dy, digits):g} Td")
        out.append(document.glyph_ops(text, points * POINT * per if points != size else 0.0))
        px, py, turned, size, shade = x, y, upright, points, grey
    return " ".join([*out, "0 g ET" if shade else "ET"])


def _captions(document: Document, info: PrintInfo, frame: PageFrame) -> Iterator[str]:
    """Yield title and wearer above, the draft's mark on every side, and below what the print is corrected for."""
    left, lower, right, upper = edges_of(frame)
    mark = name_mark(info.mark)
    below = "  \u00b7  ".join(part for part in (mark, frame.correction) if part)
    above = "  \u00b7  ".join(part for part in (info.title, info.wearer, mark) if part)
    for side, words in ((upper, above), (lower, below), (left, mark), (right, mark)):
        fitted = cut_words(words, side.length * (_LOWER if side is lower else 0.5) - 16.0, 6.0)
        if fitted:
            yield _words(document, side, fitted, side.length * 0.45, side.skip + _OUTER + 0.9, 6.0)


def cut_words(words: str, room: float, size: float) -> str:
    """Return words cut at the end, with an ellipsis, so that they take no more than ``room`` mm; "" if nothing fits.

    >>> cut_words("Concert top", 100.0, 6.0)
    'Concert top'
    """
    if text_width(words, size) <= room:
        return words
    while words and text_width(words + "\u2026", size) > room:
        words = words[: min(len(words) - 1, max(0, int(len(words) * room / text_width(words, size)) + 1))]
    return words.rstrip() + "\u2026" if words else ""
