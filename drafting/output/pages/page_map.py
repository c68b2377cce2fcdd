"""The page map: which pages are printed, and what lies on them."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from drafting.geometry import are_inside, distances_to, following
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box
from drafting.output.pdf.ink import POINT, Floats, PieceInk, sample_strokes
from drafting.output.pdf.operators import num, pen, rectangle, ring_ops
from drafting.output.pdf.text import ASCENT, text_width
from drafting.output.pictures.drawing import Drawing
from drafting.paper import SheetPlan
from drafting.tolerance import TOLERANCE

_TITLE: Final = 5.0
_HALO: Final = 1.2
"""Width of the white round the letters (mm, half of it inside them)."""

_NUMBER: Final = 0.3
"""The pages' names are a dark grey, the pieces' codes black."""

_LETTERS: Final = (11.0, 9.0, 7.5, 6.0)
"""Sizes in which a piece's letter is tried (points)."""

_ROUND: Final = 0.5
"""That a letter keeps from its piece's edge and from the pages' names, both sides together (mm)."""

_ON_LINE: Final = 0.2
"""Half the width of a line between pages, for a letter that may stand on it if there is no other room (mm)."""

_APART: Final = 1.0
"""Between the places at which a letter is tried (mm)."""

_MOST: Final = 40
"""Of them each way."""

_TRIED: Final = 60
"""Of them the best, in each size."""

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
        left, low, right, top = (side * scale for side in tiling.box(tile))
        wide, high = text_width(tile.name, size), size * ASCENT * POINT
        taken.append((left, top - high - 1.6, left + wide + 1.6, top))
        taken += [(left - _ON_LINE, low, left + _ON_LINE, top), (left, low - _ON_LINE, right, low + _ON_LINE)]
        words.append((tile.name, x0 + left + 0.8, y0 + top - high - 0.8, size, _NUMBER))
    for ink, (piece, _) in zip(drawing.pieces, plan.placed_pieces(), strict=True):
        px, py, points = place_letter(ink, piece.code, scale, taken)
        wide, high = text_width(piece.code, points), points * ASCENT * POINT
        taken.append((px, py, px + wide, py + high))
        words.append((piece.code, x0 + px, y0 + py, points, 0.0))
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


def place_letter(ink: PieceInk, code: str, scale: float, taken: list[Rect]) -> tuple[float, float, float]:
    """Return where a piece's letter stands on the map (mm), and its size (points): inside its piece, off the names.

    The largest size is taken that finds such a place; where none does, the smallest in the place that is off the most.
    """
    ring = sample_strokes([s.segments for s in ink.strokes if s.style.kind in ("cut", "fold-edge")], 4.0) * scale
    grid = _spread_places(ring)
    best, least = (0.0, 0.0, _LETTERS[-1]), math.inf
    for size in _LETTERS:
        wide, high = text_width(code, size), size * ASCENT * POINT
        corners = np.array([(x, y) for x in (-0.5, 0.0, 0.5) for y in (-0.5, 0.5)]) * (wide + _ROUND, high + _ROUND)
        inside = are_inside((grid[:, None] + corners).reshape(-1, 2), ring).reshape(len(grid), -1)
        depth = distances_to(grid, ring, following(ring))
        for at in np.lexsort((-depth.round(2), -inside.sum(axis=1)))[:_TRIED].tolist():
            x, y = (grid[at] - (wide / 2.0, high / 2.0)).tolist()
            over = _overlap((x, y, x + wide, y + high), taken) + float(np.count_nonzero(~inside[at]))
            if over < least - TOLERANCE.same_point:
                best, least = (x, y, size), over
        if not least:
            break
    return best


def _spread_places(ring: Floats) -> Floats:
    """Return places spread over what a piece covers on the map, shape (n, 2)."""
    low, high = ring.min(axis=0), ring.max(axis=0)
    counts = np.clip(np.ceil((high - low) / _APART), 3, _MOST).astype(int).tolist()
    x, y = (np.linspace(low[i], high[i], counts[i] + 2)[1:-1] for i in range(2))
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
