"""Pieces on one page for a projector or a screen: each with its grain upright, as it lies on the cloth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from drafting.errors import InputError, Problem
from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Affine, Point
from drafting.paper.nest import best_nest
from drafting.paper.papers import LARGEST_PAPER, Paper, PaperPlan
from drafting.paper.plan import place_nest, stock_shapes
from drafting.paper.raster import Shape
from drafting.paper.settling import outline_of
from drafting.paper.sheet import Sheet, SheetPlan, Tile, Tiling
from drafting.paper.wide import grid_roll
from drafting.tolerance import TOLERANCE

WIDTH: Final = 1_500.0
"""mm: about as wide as cloth is; pieces lie beside each other so far, and then above each other."""

_GAP: Final = 12.0
"""Between pieces (mm), so that thick lines keep apart."""

_ORDERS: Final = range(6)


def plan_upright(pieces: Sequence[CutPiece]) -> SheetPlan:
    """Lay pieces on one sheet, each turned so that its grain is upright; none is parted or mirrored."""
    pieces = [_turn_upright(piece) for piece in pieces]
    outlines = [outline_of(piece) for piece in pieces]
    wide = max(WIDTH, *(outline.reach + _GAP for outline in outlines))
    area = sum(outline.area for outline in outlines)
    for spare in (2.0, 6.0):
        grid = grid_roll(spare * area, 0.0, (wide, LARGEST_PAPER))
        shapes = stock_shapes(outlines, grid, _GAP / 2)
        stock = [[_choose_turn(each, piece.grain)] for each, piece in zip(shapes, pieces, strict=True)]
        found = best_nest(grid, stock, ([o.area for o in outlines], [o.reach for o in outlines]), _ORDERS)
        if found is not None:
            break
    else:
        raise InputError([Problem("paper", "pieces that find no room on a screen")])
    placements = place_nest(found, outlines, _GAP / 2)
    ends = [(outlines[p.piece].corner(p.turn + 2), (p.dx, p.dy)) for p in placements]
    width, height = (max(at[i] - low[i] for low, at in ends) + _GAP / 2 for i in range(2))
    plan = PaperPlan(Paper("screen", width, height))
    return SheetPlan(
        tuple(pieces), plan, Sheet(width, height, tuple(placements)), Tiling(1, 1, width, height, (Tile(0, 0),))
    )


def _turn_upright(piece: CutPiece) -> CutPiece:
    """A piece that lies askew on the cloth, as on the bias, turned so that its grain runs up; any other as it is."""
    if min(abs(piece.grain.x), abs(piece.grain.y)) < TOLERANCE.joint:
        return piece
    turn = Affine.turn(math.pi / 2.0 - math.atan2(piece.grain.y, piece.grain.x))
    return replace(piece.mapped(turn), grain=Point(0.0, 1.0))


def _choose_turn(shapes: Sequence[Shape], grain: Point) -> Shape:
    """Return the turn in which a piece's grain is upright, or nearest to it."""
    turn = 0 if abs(grain.y) >= abs(grain.x) else 1
    return shapes[turn]
