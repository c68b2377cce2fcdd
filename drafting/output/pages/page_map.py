"""The page map: which pages are printed, and what lies on them."""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box
from drafting.output.pdf.ink import POINT, PieceInk
from drafting.output.pdf.operators import num, pen, rectangle, ring_ops
from drafting.output.pdf.text import ASCENT, text_width
from drafting.output.pictures.drawing import Drawing
from drafting.output.pictures.words import box_points
from drafting.paper import SheetPlan

_TITLE: Final = 5.0
_HALO: Final = 1.2
"""Width of the white round the letters (mm, half of it inside them)."""

_NUMBER: Final = 0.3
"""The pages' names are a dark grey, the pieces' codes black."""

Rect = tuple[float, float, float, float]


def map_height(plan: SheetPlan, drawing: Drawing, box: Box) -> float:
    """Return how high the map is in a box (mm), with its heading and the room below it."""
    return _TITLE + drawing.height * _scale(drawing, box) + 2.0


def _scale(drawing: Drawing, box: Box) -> float:
    return min((box.x1 - box.x0) / drawing.width, max((box.top - box.bottom) * 0.38, 20.0) / drawing.height)


def draw_map(document: Document, plan: SheetPlan, drawing: Drawing, box: Box) -> None:
    """Draw the page map at the top of a box."""
    tiling, scale = plan.tiling, _scale(drawing, box)
    x0, y0 = box.x0, box.top - _TITLE - drawing.height * scale
    document.text("Pages", box.x0, box.top - 3.2, 10.0)
    document.ops(f"q {scale:.8g} 0 0 {scale:.8g} {x0:.4f} {y0:.4f} cm")
    document.ops(pen(0.15 / scale, 0.45))
    document.ops(" ".join(rectangle(*tiling.box(tile)) for tile in tiling.tiles) + " S")
    document.ops(pen(0.2 / scale))
    folds = (s.segments for ink in drawing.pieces for s in ink.strokes if s.style.kind == "fold-edge")
    document.ops(" ".join(f"{ring_ops(fold, 0)} S" for fold in folds))
    document.ops(f"{POINT:.8g} 0 0 {POINT:.8g} 0 0 cm")
    document.show("cut")
    document.ops("Q")
    _map_words(document, plan, drawing, scale, (x0, y0))


def _map_words(document: Document, plan: SheetPlan, drawing: Drawing, scale: float, at: tuple[float, float]) -> None:
    """Print each page's place in its upper left corner, and each piece's code well inside the piece, clear of those."""
    tiling, (x0, y0) = plan.tiling, at
    size = max(3.5, min(8.0, tiling.width * scale * 0.26 / POINT))
    taken: list[Rect] = []
    words: list[tuple[str, float, float, float, float]] = []
    for tile in tiling.tiles:
        left, _, _, top = (side * scale for side in tiling.box(tile))
        wide, high = text_width(tile.name, size), size * ASCENT * POINT
        taken.append((left, top - high - 1.6, left + wide + 1.6, top))
        words.append((tile.name, x0 + left + 0.8, y0 + top - high - 0.8, size, _NUMBER))
    for ink, (piece, _) in zip(drawing.pieces, plan.placed_pieces(), strict=True):
        x, y = (side * scale for side in _title_place(ink))
        wide, high = text_width(piece.code, 11.0), 11.0 * ASCENT * POINT
        spots = [(x - wide / 2 + dx, y - high / 2 + dy) for dy in (0.0, -2.5, 2.5, -5.0) for dx in (0.0, -3.0, 3.0)]
        near = [box for box in taken if abs(box[0] - x) < 20.0 and abs(box[1] - y) < 20.0]
        px, py = min(spots, key=lambda spot: _overlap((*spot, spot[0] + wide, spot[1] + high), near))
        words.append((piece.code, x0 + px, y0 + py, 11.0, 0.0))
    # white round them all first, so that no line, and no other's white, strikes through them
    document.ops(f"q 1 G {num(_HALO)} w 1 j 1 Tr {' '.join(document.text_ops(*each[:4]) for each in words)} Q")
    for told, x, y, points, grey in words:
        document.text(told, x, y, points, 0.0, grey)


def _overlap(box: Rect, taken: list[Rect]) -> float:
    """Return how much of a box is taken (mm2)."""
    x0, y0, x1, y1 = box
    return sum(
        max(0.0, min(x1, right) - max(x0, left)) * max(0.0, min(y1, top) - max(y0, low))
        for left, low, right, top in taken
    )


def _title_place(ink: PieceInk) -> tuple[float, float]:
    """Return the middle of a piece's title block: a place that is well inside it."""
    texts = [t for t in ink.texts if t.kind in ("title", "label")]
    corners = np.concatenate([box_points(text, 1e6) for text in texts] or [np.array([ink.box]).reshape(-1, 2)])
    x, y = ((corners.min(axis=0) + corners.max(axis=0)) / 2).tolist()
    return float(x), float(y)
