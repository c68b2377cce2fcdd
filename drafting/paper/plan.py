"""From cut pieces to a sheet and its tiles: the layout that prints the fewest pages."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

from drafting.errors import InputError, Problem
from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Point, is_inside, signed_area
from drafting.geometry.cells import Floats, even_points, quarter_turn, ring_points, touch_cells
from drafting.paper.nest import Nest, best_nest
from drafting.paper.papers import PaperPlan
from drafting.paper.raster import Grid, Shape, shape_of
from drafting.paper.sheet import Placement, Sheet, SheetPlan, Tile, Tiling
from drafting.record import dataclass

_CELL = 8.0  # mm; finer cells find no fewer tiles on tops and cost more time
_MOST_CELLS = 36_000  # as with the cell: more of them find no fewer tiles
_INK = 0.6  # mm; no stroke reaches further beyond the cut line
_SHIFTS = 7
_ORDERS = (70, 21, 46, 12, 47, 30, 45, 28, 90, 63, 83, 101, 16)
"""The orders that are tried: one after the other those of the first 160 that add most, by trial on every design of the
catalogue for three people and two papers. Together they leave 1,576 tiles where all 160 leave 1,570. Turned by every
fifteen degrees, at twenty times the work, the pieces would take 1,547."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A piece's cut outline as a polygon, with its lower left and upper right bound."""

    ring: Floats

    def corner(self, turn: int) -> tuple[float, float]:
        """The lower left bound, turned by quarter turns."""
        low = quarter_turn(self.ring, turn).min(axis=0)
        return float(low[0]), float(low[1])

    @property
    def reach(self) -> float:
        """The longer side of its bounds (mm)."""
        return float(np.ptp(self.ring, axis=0).max())

    @property
    def area(self) -> float:
        """What it encloses (mm2)."""
        return abs(signed_area(self.ring))


def outline_of(piece: CutPiece) -> Outline:
    """Return a piece's cut outline."""
    return Outline(ring_points([edge.path.segments for edge in piece.outline]))


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
    placements = _shift_on_tiles(placements, outlines, plan.live)
    return _crop_tiles(tuple(pieces), plan, placements, outlines)


def _nest_outlines(outlines: Sequence[Outline], plan: PaperPlan) -> tuple[Nest, float]:
    margin = plan.gap / 2
    weights = ([outline.area for outline in outlines], [outline.reach for outline in outlines])
    for roomy in (False, True):
        grid = _grid(outlines, plan, roomy)
        found = best_nest(grid, stock_shapes(outlines, grid, margin), weights, _ORDERS)
        if found is not None:
            return found, margin
    raise InputError([Problem("paper", "pieces that find no room on the sheet", mend="choose a larger paper")])


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
        stock.append([shape_of(masks[turn], turn, grid) for turn in turns])
    return stock


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


def _edge_points(placements: Iterable[Placement], outlines: Sequence[Outline]) -> Floats:
    """Return points on and just beyond the outlines as placed: wherever the ink of a cut line may fall."""
    placed = [
        quarter_turn(even_points(outlines[p.piece].ring, 3.0), p.turn) + np.array((p.dx, p.dy)) for p in placements
    ]
    points = np.concatenate(placed)
    around = np.array([(_INK, 0.0), (-_INK, 0.0), (0.0, _INK), (0.0, -_INK)])
    spread: Floats = (points[:, None, :] + around).reshape(-1, 2)
    return spread


def _shift_on_tiles(
    placements: list[Placement], outlines: Sequence[Outline], live: tuple[float, float]
) -> list[Placement]:
    """Move everything against the tile grid by up to a cell or so, where that saves a tile."""
    placed = [quarter_turn(outlines[p.piece].ring, p.turn) + np.array((p.dx, p.dy)) for p in placements]
    points = np.concatenate([even_points(ring, 8.0) for ring in placed])
    steps = sorted(np.linspace(-1.5 * _CELL, 1.5 * _CELL, _SHIFTS).tolist(), key=abs)
    across = [_tiles_along(points[:, 0] + step, live[0]) for step in steps]
    up = [_tiles_along(points[:, 1] + step, live[1]) for step in steps]
    stride = max(int(row.max()) for row in up) + 1
    best, chosen = None, (0.0, 0.0)
    for dx, cols in zip(steps, across, strict=True):
        for dy, rows in zip(steps, up, strict=True):
            count = np.count_nonzero(np.bincount(cols * stride + rows))
            if best is None or count < best:
                best, chosen = count, (dx, dy)
    return [Placement(p.piece, p.turn, p.dx + chosen[0], p.dy + chosen[1]) for p in placements]


def _tiles_along(at: Floats, side: float) -> npt.NDArray[np.intp]:
    """Return the number of the tile in which each coordinate lies, the sheet's first at 1."""
    return np.floor(at / side).astype(np.intp) + 1


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


def tiles_of(placement: Placement, outline: Outline, live: tuple[float, float]) -> set[tuple[int, int]]:
    """Return the tiles (column, row from below) that a piece lies on, its middle included."""
    ring = quarter_turn(outline.ring, placement.turn) + np.array((placement.dx, placement.dy))
    found = np.floor(_edge_points([placement], [outline] * (placement.piece + 1)) / live).astype(np.intp)
    (x0, y0), (x1, y1) = found.min(axis=0).tolist(), found.max(axis=0).tolist()
    high = y1 - y0 + 1
    at = np.flatnonzero(np.bincount((found[:, 0] - x0) * high + found[:, 1] - y0)).tolist()
    tiles = {(x0 + number // high, y0 + number % high) for number in at}
    for x in range(x0, x1 + 1):
        for y in range(y0, y1 + 1):
            if (x, y) not in tiles and is_inside(Point((x + 0.5) * live[0], (y + 0.5) * live[1]), ring):
                tiles.add((x, y))
    return tiles
