"""Pieces on the sheet: none overlap, none are mirrored, few pages."""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from drafting.errors import InputError
from drafting.finishing.cutpiece import CutPiece
from drafting.paper import PaperPlan, Placement, SheetPlan, paper_named, plan_sheet
from drafting.paper.gathering import gather_pieces
from drafting.paper.settling import Outline, place_ring, tiles_of
from tests.output.pieces import band, sleeve, top


def polygons(plan: SheetPlan) -> list[Polygon]:
    """Each piece as placed."""
    out = []
    for piece, placement in plan.placed_pieces():
        points = np.concatenate([edge.path.flatten() for edge in piece.outline])
        out.append(Polygon(placement.affine.apply_all(points)).buffer(0))
    return out


def check(plan: SheetPlan) -> None:
    """Pieces keep their gap, stay on the sheet, and exactly the tiles they touch are printed."""
    shapes = polygons(plan)
    for a, b in combinations(shapes, 2):
        assert a.distance(b) >= plan.paper.gap - 0.05
    sheet = box(0, 0, plan.sheet.width, plan.sheet.height)
    for shape in shapes:
        assert sheet.contains(shape)
    tiling = plan.tiling
    assert (tiling.cols * tiling.width, tiling.rows * tiling.height) == pytest.approx(
        (plan.sheet.width, plan.sheet.height)
    )
    printed = {(tile.row, tile.col) for tile in tiling.tiles}
    for row in range(tiling.rows):
        for col in range(tiling.cols):
            x, y = col * tiling.width, (tiling.rows - 1 - row) * tiling.height
            tile = box(x, y, x + tiling.width, y + tiling.height)
            if any(tile.intersects(shape) for shape in shapes):
                assert (row, col) in printed
            elif (row, col) in printed:
                assert any(tile.distance(shape) < 0.7 for shape in shapes)


@pytest.mark.parametrize("name", ["A4", "US Letter", "A3", "US Legal", "US Tabloid", "120 x 150 mm", "36 x 48 in"])
def test_pieces_lie_apart_and_their_tiles_are_printed(name: str) -> None:
    """On every paper, checked with shapely."""
    check(plan_sheet(top(), PaperPlan(paper_named(name))))


def test_turns_are_turns() -> None:
    """No piece is mirrored: its area keeps its sign, its sizes stay."""
    plan = plan_sheet(top(), PaperPlan())
    for piece, placement in plan.placed_pieces():
        assert not placement.affine.flips
        moved = piece.cut_path.transformed(placement.affine)
        assert moved.area == pytest.approx(piece.area, rel=1e-9)


@pytest.mark.parametrize("name", ["A4", "US Letter", "A3"])
def test_few_pages(name: str) -> None:
    """Pages, over the area of the pieces in live areas, are at most 1.6 on a knit top."""
    assert plan_sheet(top(), PaperPlan(paper_named(name))).thrift <= 1.6


def test_layout_is_always_the_same() -> None:
    """The same pieces on the same paper give the same places."""
    assert plan_sheet(top(), PaperPlan()).sheet == plan_sheet(top(), PaperPlan()).sheet


def test_one_piece_that_fits_takes_one_page() -> None:
    """A cuff on A4."""
    plan = plan_sheet((band("cuff", "Cuff", "D", 120.0, 230.0),), PaperPlan())
    assert plan.pages == 1
    assert [tile.name for tile in plan.tiling.tiles] == ["A1"]


def test_a_band_longer_than_a_page_runs_on() -> None:
    """It lies along the longer side of the paper: four pages for a metre."""
    plan = plan_sheet((band("band", "Band", "G", 1000.0, 100.0),), PaperPlan())
    assert plan.pages == math.ceil(1000.0 / max(plan.tiling.width, plan.tiling.height))
    check(plan)


def test_no_piece_is_refused() -> None:
    """There is nothing to print."""
    with pytest.raises(InputError):
        plan_sheet((), PaperPlan())


def test_many_pieces_are_laid_in_bearable_time() -> None:
    """Forty pieces take no more than a few seconds on the slowest machine."""
    pieces: list[CutPiece] = [band(f"strip-{i}", "Strip", f"S{i}", 80.0 + 7 * i, 60.0 + 3 * (i % 9)) for i in range(40)]
    start = time.perf_counter()
    plan = plan_sheet(pieces, PaperPlan())
    assert time.perf_counter() - start < 5.0
    check(plan)
    assert plan.thrift < 1.6


@settings(max_examples=15, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.floats(30, 900), st.floats(25, 400)), min_size=1, max_size=6))
def test_any_rectangles_lie_apart(sizes: list[tuple[float, float]]) -> None:
    """Whatever the sizes."""
    pieces = [band(f"p{i}", "Strip", "S", w, h) for i, (w, h) in enumerate(sizes)]
    check(plan_sheet(pieces, PaperPlan()))


LARGE_AND_SMALL = (
    ((332, 265), (360, 326), (368, 345), (117, 110), (143, 98), (86, 62)),
    ((540, 211), (457, 380), (596, 300), (142, 71), (81, 114), (89, 51)),
    ((591, 341), (402, 329), (511, 324), (105, 103), (104, 50), (128, 119)),
)
"""Sizes of pieces (mm), three that no page holds and three that any page does."""


@pytest.mark.parametrize("sizes", LARGE_AND_SMALL)
def test_a_piece_that_fits_on_a_page_is_not_parted(sizes: Sequence[tuple[float, float]]) -> None:
    """And no edge passes a join by a sliver, which a shift of a few mm avoids."""
    plan = plan_sheet([band(f"p{i}", "Strip", "S", float(w), float(h)) for i, (w, h) in enumerate(sizes)], PaperPlan())
    check(plan)
    for shape in polygons(plan)[3:]:
        assert len(joins_passed(shape, plan)) == 0
    assert min(past for shape in polygons(plan) for past in joins_passed(shape, plan)) > 5.0


def joins_passed(shape: Polygon, plan: SheetPlan) -> list[float]:
    """By how much a piece passes the outermost joins that it lies over, from either side (mm)."""
    found = []
    for low, high, side in zip(shape.bounds[:2], shape.bounds[2:], plan.paper.live, strict=True):
        if math.floor(low / side) < math.floor(high / side):
            found += [-low % side, high % side]
    return found


def test_no_page_is_printed_for_the_width_of_a_line() -> None:
    """Pieces all but as wide as two and three pages keep the ink of their edges on these."""
    pieces = [band("a", "A", "A", 359.6, 270.7), band("b", "B", "B", 544.1, 533.9)]
    plan = plan_sheet(pieces, PaperPlan())
    for tile in plan.tiling.tiles:
        assert sum(box(*plan.tiling.box(tile)).intersection(shape).area for shape in polygons(plan)) > 300.0


def test_joins_are_pairs_of_printed_neighbours() -> None:
    """Left before right, upper before lower, each once."""
    plan = plan_sheet((sleeve(),), PaperPlan())
    joins = plan.tiling.joins()
    assert len(set(joins)) == len(joins)
    for a, b in joins:
        assert {a, b} <= set(plan.tiling.tiles)
        assert (b.row - a.row, b.col - a.col) in ((0, 1), (1, 0))


def test_a_piece_on_more_pages_than_it_needs_is_laid_where_pages_have_room() -> None:
    """On the corner of four pages, in the way of nothing: it comes to lie on one of them, and the others stay."""
    large, small = (Outline(ring_of(*size)) for size in ((300.0, 150.0), (80.0, 60.0)))
    live, gap = (200.0, 280.0), 4.0
    placements = [Placement(0, 0, 50.0, 20.0), Placement(1, 0, 160.0, 250.0), Placement(0, 0, 50.0, 400.0)]
    moved = gather_pieces(placements, [large, small], live, gap)
    assert (moved[0], moved[2]) == (placements[0], placements[2])
    assert len(tiles_of(placements[1], small, live)) == 4
    assert len(tiles_of(moved[1], small, live)) == 1
    rings = [Polygon(place_ring(each, (large, small)[each.piece])) for each in moved]
    assert all(a.distance(b) >= gap for a, b in combinations(rings, 2))


def ring_of(wide: float, high: float) -> np.ndarray:
    return np.array([(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high), (0.0, 0.0)])
