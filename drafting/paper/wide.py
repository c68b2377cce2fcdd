"""A copy shop's wide paper: big sheets and rolls, pieces laid so that the least of it is printed and none is parted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np

from drafting.errors import InputError, Problem, close_matches
from drafting.finishing.cutpiece import CutPiece
from drafting.geometry.cells import quarter_turn
from drafting.paper.nest import Nest, best_nest
from drafting.paper.papers import LARGEST_PAPER, Paper, PaperPlan, paper_named
from drafting.paper.plan import place_nest, stock_shapes, whole_turns
from drafting.paper.raster import Grid
from drafting.paper.settling import Outline, outline_of, tiles_of
from drafting.paper.sheet import Placement, Sheet, SheetPlan, Tile, Tiling
from drafting.record import dataclass
from drafting.saying import Unit, mm, say, show_length, span
from drafting.text import show_read
from drafting.trade import TradeValue
from drafting.units import parse_length

EDGE = TradeValue(5.0, "mm", "common practice")
"""At each edge of wide paper that its printer doesn't reach."""

NARROWEST: Final = 300.0
"""mm: what is narrower is no wide paper, and goes into a printer at home."""

HEADING: Final = 6.0
"""Room at the head of every sheet for what it is (mm)."""

SHEETS: Final[tuple[Paper, ...]] = (Paper("A0", 841.0, 1189.0), Paper("A1", 594.0, 841.0))
"""ISO 216."""

_CELL: Final = 5.0
_MOST_CELLS: Final = 120_000
_SHEET_CELL: Final = 8.0
_ORDERS: Final = range(64)
_SPARE: Final = 1.6
_SHORTEST: Final = 1_600.0
"""How many times the pieces' area is searched for room at first, and how much of a roll at least (mm)."""

_UNITS: Final[tuple[Unit, ...]] = ("cm", "mm", "in")


@dataclass(frozen=True, slots=True)
class WidePaper:
    """What a copy shop prints on: a sheet of ``width`` x ``length`` mm, or a roll, which has no length.

    ``name`` is how it was asked for, "" if in plain figures.
    """

    name: str
    width: float
    length: float | None = None

    def tell(self, unit: Unit) -> str:
        """Return what it is called: "A0", "a roll 91.4 cm wide"."""
        if self.length is None:
            return f"a roll {self.name or show_length(self.width, unit)} wide"
        return self.name or f"{show_length(self.width, unit)} x {show_length(self.length, unit)}"

    def unit_named(self, unit: Unit) -> Unit:
        """Return the unit that a roll was asked for in, so that its length is told in the same; else ``unit``."""
        return next((each for each in _UNITS if self.name.lower().endswith(each)), unit)


def wide_paper_named(text: str, default_unit: Unit = "mm", *, where: str = "paper") -> WidePaper:
    """Return wide paper by its name ("A0"), a roll's width ("36 in", "90 cm"), or a sheet's size ("24 x 36 in").

    InputError if it is none of them, or narrower than 30 cm.
    """
    for sheet in SHEETS:
        if text.strip().lower() == sheet.name.lower():
            return WidePaper(sheet.name, sheet.width, sheet.height)
    named = [sheet.name for sheet in SHEETS]
    if not any(letter.isdigit() for letter in text) or text.strip()[:1].isalpha():
        allowed = f"{' or '.join(named)}, or the width of a roll, as {show_length(914.4, default_unit)}"
        raise InputError([Problem(where, show_read(text), allowed, close=close_matches(text, named))])
    name = " ".join(text.split()) if text.strip()[-1:].isalpha() else ""
    if any(sign in text.lower() for sign in ("x", "\u00d7", "*", " by ")):
        size = paper_named(text, default_unit, where=where)
        paper = WidePaper(name, *sorted((size.width, size.height)))
    else:
        paper = WidePaper(name, parse_length(text, default_unit, where=where))
    if not NARROWEST <= paper.width <= LARGEST_PAPER:
        allowed_width = say("{range} wide", range=span(mm(NARROWEST, None), mm(LARGEST_PAPER, None)))
        mend = "paper for a printer at home, as A4 or Letter, goes under size in [paper]"
        says = "{width} is no roll's width" if paper.length is None else "{width} wide"
        raise InputError([Problem(where, say(says, width=mm(paper.width, None)), allowed_width, mend)])
    return paper


@dataclass(frozen=True, slots=True)
class WidePlan:
    """Pieces on wide paper: each tile of ``plan`` is a sheet, or a length of a roll.

    ``note`` is where the lower left corner of the room for words lies (mm); ``parted`` names the pieces that no sheet
    holds whole, whose sheets are joined. ``inset`` is how far the tiles keep from the paper's edges. ``heights`` are
    how much of each row of tiles is printed, from the top one on, each from below (mm).
    """

    plan: SheetPlan
    paper: WidePaper
    note: tuple[float, float]
    parted: tuple[str, ...]
    inset: float
    heights: tuple[float, ...]

    def page_of(self, tile: Tile) -> tuple[float, float]:
        """Return the width and height of a sheet, or of a length of a roll (mm)."""
        return self.paper.width, self.paper.length or self.heights[tile.row] + 2 * self.inset + HEADING

    @property
    def length(self) -> float:
        """How much of a roll is printed, or how long all sheets are together (mm)."""
        return sum(self.page_of(tile)[1] for tile in self.plan.tiling.tiles)

    def tell(self, unit: Unit) -> str:
        """Return how much paper it takes: "2 sheets of A0", "184 cm of a roll 90 cm wide"."""
        count = self.plan.pages
        if self.paper.length is None:
            return f"{show_length(self.length, self.paper.unit_named(unit))} of {self.paper.tell(unit)}"
        return f"{count} sheet{'s' * (count != 1)} of {self.paper.tell(unit)}"


def plan_wide(pieces: Sequence[CutPiece], paper: WidePaper, gap: float, note: float) -> WidePlan:
    """Lay pieces, and room for words (``note`` mm each way), on wide paper, turned by quarter turns as fits best.

    Of sheets as few as can be are printed, of a roll as little as can be. InputError where a piece finds no room.
    """
    words = Outline(note * np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0)]))
    outlines = [*(outline_of(piece) for piece in pieces), words]
    inset = max(EDGE - gap / 2, 0.0)
    parted = [i for i, each in enumerate(outlines) if not _fits(each, _field(paper, inset), gap)]
    if parted:
        inset = float(EDGE)  # what is joined is printed to its edge
    nest = _nest(outlines, parted, _field(paper, inset), paper, gap)
    placements = place_nest(nest, outlines, gap / 2)
    width, height = (count * side for count, side in zip(nest.grid.uncut, nest.grid.cell, strict=True))
    on = [tiles_of(each, outlines[each.piece], (width, height)) for each in placements]
    tops = [_top(each, outlines) + gap / 2 for each in placements]
    if paper.length is None and max(tops) <= height:
        height = max(tops)
    tiling = _tiling(on, parted, width, height)
    heights = _heights(on, tops, tiling) if paper.length is None else (height,) * tiling.rows
    (x, y), (dx, dy) = words.corner(placements[-1].turn), (placements[-1].dx, placements[-1].dy)
    asked = PaperPlan(Paper(paper.name, paper.width, paper.length or height), gap=gap)
    sheet = Sheet(tiling.cols * width, tiling.rows * height, tuple(placements[:-1]))
    names = tuple(pieces[i].name for i in parted if i < len(pieces))
    return WidePlan(SheetPlan(tuple(pieces), asked, sheet, tiling), paper, (x + dx, y + dy), names, inset, heights)


def _field(paper: WidePaper, inset: float) -> tuple[float, float]:
    """Return the width and height that a sheet, or the longest piece of a roll, has for pieces and their gaps."""
    return paper.width - 2 * inset, (paper.length or LARGEST_PAPER) - 2 * inset - HEADING


def _fits(outline: Outline, field: tuple[float, float], gap: float) -> bool:
    size = sorted((np.ptp(outline.ring, axis=0) + gap).tolist())
    return all(side <= room for side, room in zip(size, sorted(field), strict=True))


def _nest(
    outlines: Sequence[Outline], parted: Sequence[int], field: tuple[float, float], paper: WidePaper, gap: float
) -> Nest:
    weights = ([outline.area for outline in outlines], [outline.reach for outline in outlines])
    longest = max((outlines[i].reach + gap for i in parted), default=0.0)
    for spare in (_SPARE, 2 * _SPARE, 8 * _SPARE):
        area = spare * sum(outline.area for outline in outlines)
        grid = (grid_roll if paper.length is None else _sheet_grid)(area, longest, field)
        stock = [whole_turns(shapes, grid) for shapes in stock_shapes(outlines, grid, gap / 2)]
        found = best_nest(grid, stock, weights, _ORDERS)
        if found is not None:
            return found
    raise InputError([Problem("paper", "pieces that find no room on the sheets", mend="choose wider paper")])


def _sheet_grid(area: float, longest: float, field: tuple[float, float]) -> Grid:
    """Return sheets side by side, enough for an area, and one above the other where the longest piece asks for it."""
    width, height = field
    across, up = math.ceil(longest / width) or 1, math.ceil(longest / height) or 1
    across = max(across, math.ceil(area / (width * height * up)))
    cell = max(_SHEET_CELL, math.sqrt(2 * across * up * width * height / _MOST_CELLS))
    cols, rows = int(width / cell), int(height / cell)
    return Grid((across, up), (cols, rows), (width / cols, height / rows), (cols, rows))


def grid_roll(area: float, longest: float, field: tuple[float, float]) -> Grid:
    """Return a roll long enough for an area, each row of its cells a tile, so that the fewest rows are the shortest.

    A longest piece that is wider than the roll has several beside each other; what is longer than a page may be goes on
    to the next length of the roll.
    """
    width, most = field
    across = math.ceil(longest / width) or 1
    needed = max(area / (width * across), longest, _SHORTEST)
    lengths = math.ceil(needed / most)
    cell = max(_CELL, math.sqrt(area / _MOST_CELLS))
    cols, rows = int(width / cell), int(min(needed, most) / cell)
    high = most / int(most / cell) if lengths > 1 else cell
    return Grid((across, rows * lengths), (cols, 1), (width / cols, high), (cols, rows))


def _heights(on: Sequence[Iterable[tuple[int, int]]], tops: Sequence[float], tiling: Tiling) -> tuple[float, ...]:
    """Return how much of each row of a roll's lengths carries something, from the top one on."""
    found = [0.0] * tiling.rows
    for tiles, top in zip(on, tops, strict=True):
        for _, row in tiles:
            at = tiling.rows - 1 - row
            found[at] = max(found[at], min(top - row * tiling.height, tiling.height))
    return tuple(found)


def _top(placement: Placement, outlines: Sequence[Outline]) -> float:
    ring = quarter_turn(outlines[placement.piece].ring, placement.turn)
    return float(ring[:, 1].max()) + placement.dy


def _tiling(on: Sequence[Iterable[tuple[int, int]]], parted: Sequence[int], width: float, height: float) -> Tiling:
    """Return the sheets that carry something; those are joined that a parted piece goes over."""
    inked = {place for tiles in on for place in tiles}
    rows, cols = max(row for _, row in inked) + 1, max(col for col, _ in inked) + 1

    def named(col: int, row: int) -> Tile:
        return Tile(rows - 1 - row, col)

    over = [{named(*place) for place in on[i]} for i in parted]
    tiles = tuple(sorted((named(*place) for place in inked), key=lambda tile: (tile.row, tile.col)))
    whole = Tiling(rows, cols, width, height, tiles)
    joined = tuple(pair for pair in whole.joins() if any(set(pair) <= each for each in over))
    return Tiling(rows, cols, width, height, tiles, joined)
