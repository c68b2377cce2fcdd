"""The drawing as PDF operators, stored once and shown through a window a page.

Letters are written only where they show.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby
from typing import Final

import numpy as np

from drafting.output.pdf.document import Document
from drafting.output.pdf.ink import STYLES, Floats, Style, Text
from drafting.output.pdf.operators import PER_MM, pen, ring_ops
from drafting.output.pdf.text import ASCENT, DESCENT
from drafting.output.pictures.drawing import Drawing
from drafting.output.pictures.words import box_points
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

_ORDER: Final = (
    "hatch",
    "zone",
    "level",
    "adjust",
    "stitch",
    "fold",
    "leader",
    "stretch",
    "grain",
    "on-fold",
    "fold-edge",
)

Window = tuple[float, float, float, float]

CUT_PEN: Final = pen(STYLES["cut"].width, STYLES["cut"].grey, round_=True)


@dataclass(frozen=True, slots=True, eq=False)
class Plot:
    """A drawing's ink as operators: ``cut`` and ``lines`` in sheet mm.

    ``letters`` in points of the sheet, with their ``boxes`` in mm.
    """

    cut: tuple[str, ...]
    lines: tuple[str, ...]
    letters: tuple[str, ...]
    boxes: Floats

    @staticmethod
    def of(drawing: Drawing, document: Document) -> Plot:
        """Return a drawing's operators; letters belong to the document they were made for."""
        cut, lines = _line_ops(drawing)
        groups = [list(group) for ink in drawing.pieces for _, group in groupby(ink.texts, _block_key)]
        letters = tuple(
            document.rows_ops([(t.text, t.x, t.y) for t in group], group[0].size, group[0].angle, per=PER_MM)
            for group in groups
        )
        boxes = np.array([_text_box(group) for group in groups]).reshape(-1, 4)
        return Plot(cut, lines, letters, boxes)

    def showing(self, window: Window) -> Iterator[str]:
        """Yield the letters that show in a window (xmin, ymin, xmax, ymax of the sheet, mm)."""
        x0, y0, x1, y1 = window
        b = self.boxes
        shows = (b[:, 0] < x1) & (b[:, 2] > x0) & (b[:, 1] < y1) & (b[:, 3] > y0)
        yield from (self.letters[i] for i in np.flatnonzero(shows).tolist())


@lru_cache(maxsize=2)
def _line_ops(drawing: Drawing) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the operators of the cut lines, and of all other lines and fills: the same for every file of a drawing."""
    by_kind: dict[str, list[Floats]] = {}
    for ink in drawing.pieces:
        for stroke in ink.strokes:
            by_kind.setdefault(stroke.style.kind, []).append(stroke.segments)
    cut = by_kind.pop("cut", [])
    kinds = sorted(by_kind, key=lambda kind: (_ORDER.index(kind) if kind in _ORDER else len(_ORDER), kind))
    lines = [_kind_ops(STYLES[kind], by_kind[kind]) for kind in kinds]
    fills = [fill.rings for ink in drawing.pieces for fill in ink.fills]
    if fills:
        lines.append(f"0 g {ring_ops(np.concatenate(fills))} f")
    return ((CUT_PEN, f"{ring_ops(np.concatenate(cut))} S") if cut else ()), tuple(lines)


def _kind_ops(style: Style, segments: Sequence[Floats]) -> str:
    return f"{pen(style.width, style.grey, style.dash, round_=not style.dash)} {ring_ops(np.concatenate(segments))} S"


def _block_key(text: Text) -> tuple[str, float, float]:
    """What lines of text share that are printed as one block; each of a piece's letters is a block of its own."""
    return (
        f"letter {text.x:.0f} {text.y:.0f}" if text.kind == "letter" else text.kind,
        text.size,
        round(text.angle + TOLERANCE.off_edge, 6),
    )  # as it is printed, whatever its last figures


def _text_box(texts: Sequence[Text]) -> Floats:
    corners = np.concatenate([box_points(text, 1e6) for text in texts])
    room = texts[0].size * (ASCENT + DESCENT) * 0.1
    return np.concatenate([corners.min(axis=0) - room, corners.max(axis=0) + room])
