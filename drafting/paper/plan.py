"""From cut pieces to a sheet and its tiles: the layout that prints the fewest pages."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from drafting.errors import InputError, Problem
from drafting.finishing.cutpiece import CutPiece
from drafting.geometry.cells import Bools, even_points, quarter_turn, touch_cells
from drafting.paper.gathering import gather_pieces
from drafting.paper.nest import Nest, best_nest, len_of
from drafting.paper.papers import PaperPlan
from drafting.paper.raster import Grid, Shape, shape_of
from drafting.paper.settling import Outline, outline_of, settle_pieces, shift_on_tiles, tiles_of
from drafting.paper.sheet import Placement, Sheet, SheetPlan, Tile, Tiling

_CELL = 8.0  # mm; finer cells find no fewer tiles on tops and cost more time
_MOST_CELLS = 36_000  # as with the cell: more of them find no fewer tiles
_ORDERS = (81, 86, 76, 114, 23, 46, 138, 40, 132, 4, 47, 68, 39)
"""The orders that are tried: one after the other those of the first 160 that save most, by trial on every design of the
catalogue for three people and two papers. Together they leave 1,401 tiles where all 160 leave 1,399. Turned by every
fifteen degrees, at twenty times the work, the pieces would take about two in a hundred fewer."""


def plan_sheet(pieces: Sequence[CutPiece], plan: PaperPlan) -> SheetPlan:
    """Lay the pieces on a sheet and the sheet on tiles so that the fewest pages are printed.

    Pieces are turned by quarter turns and never mirrored; they keep ``plan.gap`` mm apart. The same pieces and
    plan always give the same layout. InputError if there is no piece.
    """
    if not pieces:
        raise InputError([Problem("paper", "no piece", "at least one piece", "let the design draft something")])
    outlines = [outline_of(piece) for piece in pieces]
    nest, margin = _nest_outlines(outlines, plan)
    placements = place_nest(nest, outlines, margin)
    placements = shift_on_tiles(placements, outlines, plan.live, _CELL)
    placements = settle_pieces(placements, outlines, plan.live, plan.gap)
    placements = gather_pieces(placements, outlines, plan.live, plan.gap)
    return _crop_tiles(tuple(pieces), plan, placements, outlines)


def _nest_outlines(outlines: Sequence[Outline], plan: PaperPlan) -> tuple[Nest, float]:
    margin = plan.gap / 2
    weights = ([outline.area for outline in outlines], [outline.reach for outline in outlines])
    for roomy in (False, True):
        grid = _grid(outlines, plan, roomy)
        stock = stock_shapes(outlines, grid, margin)
        found = best_nest(grid, stock, weights, _ORDERS)
        if found is not None:
            return _keep_whole(found, stock, weights), margin
    raise InputError([Problem("paper", "pieces that find no room on the sheet", mend="choose a larger paper")])


def _keep_whole(nest: Nest, stock: Sequence[Sequence[Shape]], weights: Sequence[Sequence[float]]) -> Nest:
    """Return a nest in which no piece is parted that fits on a tile, if one is found that takes no more tiles."""
    if not nest.parted:
        return nest
    grid = replace(nest.grid, uncut=nest.grid.per_tile)
    turns = [whole_turns(shapes, grid) for shapes in stock]
    return best_nest(grid, turns, weights, _ORDERS, len_of(nest)) or nest


def whole_turns(shapes: Sequence[Shape], grid: Grid) -> Sequence[Shape]:
    """Return a piece's turns in which it lies whole on one tile or sheet; all of them where it does in none."""
    return [shape for shape in shapes if grid.holds_whole(shape.cols, shape.rows)] or shapes


def _grid(outlines: Sequence[Outline], plan: PaperPlan, roomy: bool) -> Grid:
    """Return a grid of twice the tiles that the pieces would fill without waste.

    ``roomy``: enough for any layout.
    """
    width, height = plan.live
    longest = max(o.reach for o in outlines) + 2 * plan.gap
    needed = 2.0 * sum(o.area for o in outlines)
    side = max(longest, math.sqrt(needed))
    across = math.ceil(side / width) + (1 if width < side else 0)
    up = math.ceil(max(longest, needed / (across * width)) / height) + (1 if height < side else 0)
    if roomy:
        up = math.ceil(sum(o.reach + 2 * plan.gap for o in outlines) / height) + 1
    cell = max(_CELL, math.sqrt(across * up * width * height / _MOST_CELLS))
    per_tile = max(1, round(width / cell)), max(1, round(height / cell))
    return Grid((across, up), per_tile, (width / per_tile[0], height / per_tile[1]))


def stock_shapes(outlines: Sequence[Outline], grid: Grid, margin: float) -> list[list[Shape]]:
    """Return each piece's shapes in its four turns (in two where half a turn changes nothing)."""
    stock = []
    for outline in outlines:
        along = even_points(outline.ring, min(grid.cell) / 4)
        upright, lying = (
            touch_cells(quarter_turn(outline.ring, t), quarter_turn(along, t), grid.cell, margin) for t in range(2)
        )
        masks = (upright, lying, upright[::-1, ::-1], lying[::-1, ::-1])
        turns = range(2) if all(np.array_equal(masks[t], masks[t + 2]) for t in range(2)) else range(4)
        fits = any(_lies_within(masks[turn], grid.per_tile) for turn in turns)
        stock.append([shape_of(masks[turn], turn, grid, fits=fits) for turn in turns])
    return stock


def _lies_within(mask: Bools, tile: tuple[int, int]) -> bool:
    return len(mask.T) <= tile[0] and len(mask) <= tile[1]


def place_nest(nest: Nest, outlines: Sequence[Outline], margin: float) -> list[Placement]:
    """Return where on the sheet a nest's pieces lie, in their order."""
    width, height = nest.grid.cell
    out = []
    for spot in sorted(nest.spots, key=lambda spot: spot.piece):
        x, y = outlines[spot.piece].corner(spot.shape.turn)
        spare_x, spare_y = _spare_room(spot.shape, outlines[spot.piece], nest.grid, margin)
        dx, dy = spot.col * width + margin - x + spare_x, spot.row * height + margin - y + spare_y
        out.append(Placement(spot.piece, spot.shape.turn, dx, dy))
    return out


def _spare_room(shape: Shape, outline: Outline, grid: Grid, margin: float) -> tuple[float, float]:
    """Return how far a half-turned piece lies from its mask's lower left corner.

    Its cells were counted from the other end.
    """
    if shape.turn < 2:
        return 0.0, 0.0
    size = np.ptp(quarter_turn(outline.ring, shape.turn), axis=0) + 2 * margin
    return shape.cols * grid.cell[0] - float(size[0]), shape.rows * grid.cell[1] - float(size[1])


def _crop_tiles(
    pieces: tuple[CutPiece, ...], plan: PaperPlan, placements: list[Placement], outlines: Sequence[Outline]
) -> SheetPlan:
    """Cut the grid down to the tiles that carry something, and set the sheet's corner there."""
    width, height = plan.live
    inked = set[tuple[int, int]]()
    for placement in placements:
        inked |= tiles_of(placement, outlines[placement.piece], (width, height))
    left, below = min(x for x, _ in inked), min(y for _, y in inked)
    cols, rows = max(x for x, _ in inked) - left + 1, max(y for _, y in inked) - below + 1
    tiles = sorted((rows - 1 - (y - below), x - left) for x, y in inked)
    moved = tuple(Placement(p.piece, p.turn, p.dx - left * width, p.dy - below * height) for p in placements)
    tiling = Tiling(rows, cols, width, height, tuple(Tile(row, col) for row, col in tiles))
    return SheetPlan(pieces, plan, Sheet(cols * width, rows * height, moved), tiling)
