"""The page map: which pages are printed, and what lies on them."""

from __future__ import annotations

import numpy as np

from drafting.output.document import Document
from drafting.output.drawing import Drawing
from drafting.output.flow import Box
from drafting.output.ink import POINT, Floats, PieceInk, sampled
from drafting.output.operators import pen, rectangle, ring_ops
from drafting.output.text import ASCENT, width
from drafting.output.words import box_points
from drafting.paper import SheetPlan


def draw_map(document: Document, plan: SheetPlan, drawing: Drawing, box: Box) -> Box:
    """Draw the page map at the top of a box; return the room below it."""
    tiling = plan.tiling
    wide, high = box.x1 - box.x0, box.top - box.bottom
    scale = min(wide / drawing.width, high * 0.45 / drawing.height)
    x0, y0 = box.x0, box.top - 5.0 - drawing.height * scale
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
    return Box(box.x0, box.bottom, box.x1, y0 - 2.0)


def _map_words(document: Document, plan: SheetPlan, drawing: Drawing, scale: float, at: tuple[float, float]) -> None:
    """Print each piece's code at its title block, and each page's place where the map is emptiest."""
    tiling, (x0, y0) = plan.tiling, at
    lines_ = [s.segments for ink in drawing.pieces for s in ink.strokes if s.style.kind in ("cut", "fold-edge")]
    taken = sampled(lines_, 8.0) * scale
    for ink, (piece, _) in zip(drawing.pieces, plan.placed(), strict=True):
        x, y = (side * scale for side in _title_place(ink))
        document.centred(piece.code, x0 + x, y0 + y - 1.3, 11.0)
        taken = np.concatenate([taken, [(x + dx, y + dy) for dx in (-1.5, 0.0, 1.5) for dy in (-1.5, 0.0, 1.5)] * 4])
    size = max(3.5, min(8.0, tiling.width * scale * 0.26 / POINT))
    for tile in tiling.tiles:
        wide, high = width(tile.name, size), size * ASCENT * POINT
        left, low, right, top = (side * scale for side in tiling.box(tile))
        spots = [(x, y) for y in (top - high - 0.8, low + 0.8) for x in (left + 0.8, right - wide - 0.8)]
        spots.append(((left + right - wide) / 2, (low + top - high) / 2))
        inside = [_covered(taken, x, y, wide, high) for x, y in spots]
        x, y = spots[inside.index(min(inside))]
        document.text(tile.name, x0 + x, y0 + y, size, 0.0, 0.4)


def _covered(points: Floats, x: float, y: float, wide: float, high: float) -> int:
    near = (points[:, 0] > x - 0.4) & (points[:, 0] < x + wide + 0.4)
    return int(np.count_nonzero(near & (points[:, 1] > y - 0.4) & (points[:, 1] < y + high + 0.4)))


def _title_place(ink: PieceInk) -> tuple[float, float]:
    """Return the middle of a piece's title block: a place that is well inside it."""
    texts = [t for t in ink.texts if t.kind in ("title", "label")]
    corners = np.concatenate([box_points(text, 1e6) for text in texts] or [np.array([ink.box]).reshape(-1, 2)])
    x, y = ((corners.min(axis=0) + corners.max(axis=0)) / 2).tolist()
    return float(x), float(y)
