"""Folded edges: the hidden half beyond the fold."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.finishing import FinishPlan, finish
from drafting.garment import Fate, Garment, Side
from drafting.geometry import Path, Point, hook
from tests.finishing.flat import by_name, cut_polygon, flap, folded
from tests.finishing.made import band, ring, tunic

WHOLE = FinishPlan(on_fold=False)


def test_a_straight_band_is_cut_twice_its_width_and_its_allowances() -> None:
    """Cut width of a folded band = 2 x finished + 2 allowances (rib: 2 x finished + 1/2 in, of 1/4 in each)."""
    piece = band("band", "Band", 300.0, 25.0, Side.NONE)
    (cut,) = finish(Garment((piece,)), FinishPlan(on_fold=False, allowance=6.35))
    x0, y0, x1, y1 = cut.cut_path.bounds
    assert y1 - y0 == pytest.approx(2 * 25.0 + 12.7)
    assert x1 - x0 == pytest.approx(300.0 + 12.7)
    assert cut.area == pytest.approx((x1 - x0) * (y1 - y0))


@pytest.mark.parametrize("narrower", [0.0, 8.0, 20.0])
def test_the_inner_half_folds_exactly_onto_the_outer(narrower: float) -> None:
    """The piece, folded along its fold mark, covers itself."""
    piece = band("cuff", "Cuff", 220.0, 70.0, Side.NONE, narrower)
    (cut,) = finish(Garment((piece,)), WHOLE)
    (fold,) = [mark for mark in cut.marks if mark.kind == "fold"]
    whole = cut_polygon(cut)
    inner = flap(whole, fold.path.start, fold.path.end)
    over = folded(inner, fold.path.start, fold.path.end)
    assert over.symmetric_difference(whole.difference(inner)).area < 1e-6


def test_the_inner_half_has_its_own_stitch_lines() -> None:
    """Each stitch line of a folded cuff stands twice, the inner one under its own name."""
    cuff = by_name(finish(tunic(), WHOLE))["cuff"]
    names = [mark.name for mark in cuff.marks if mark.kind == "stitch"]
    assert sorted(names) == ["band", "band-inner", "end-a", "end-a-inner", "end-b", "end-b-inner"]


def test_a_fold_of_two_lines_on_end_is_one_fold() -> None:
    """A neck band whose outer edge is two lines in a row is opened out along both."""
    piece = band("band", "Band", 300.0, 25.0, Side.NONE)
    edge = piece.line("edge")
    parts = [edge.part(str(i), path) for i, path in enumerate(edge.path.split(120.0))]
    split = replace(piece, ring=(*parts, *piece.ring[1:]))
    (one,), (two,) = finish(Garment((piece,)), WHOLE), finish(Garment((split,)), WHOLE)
    assert two.area == pytest.approx(one.area)
    assert len([mark for mark in two.marks if mark.kind == "fold"]) == 2


def test_a_half_of_a_folded_band_has_one_edge_on_the_cloths_fold() -> None:
    """Opened out and halved, the band's fold edge is one straight edge over both layers."""
    piece = band("band", "Band", 300.0, 25.0, Side.NONE)
    (cut,) = finish(Garment((piece,)), FinishPlan())
    on_fold = [edge for edge in cut.outline if edge.name == "on-fold"]
    assert len(on_fold) == 1
    assert on_fold[0].path.length == pytest.approx(2 * (25.0 + 10.0))


def test_a_curved_edge_cannot_be_folded_and_the_piece_says_so() -> None:
    """A curved outer edge is given an allowance instead, and the label tells to cut twice."""
    a, b, c, d = Point(0.0, 0.0), Point(200.0, 0.0), Point(200.0, 60.0), Point(0.0, 60.0)
    sides = (
        ("edge", hook(a, Point(0.9, -0.4), b, Point(0.9, 0.4)), Fate.FOLDED),
        ("end-b", Path.straight(b, c), Fate.SEWN),
        ("band", Path.straight(c, d), Fate.SEWN),
        ("end-a", Path.straight(d, a), Fate.SEWN),
    )
    (cut,) = finish(Garment((ring("collar", *sides),)), WHOLE)
    assert any("can't be folded" in label for label in cut.labels)
    assert cut.cut_path.bounds[1] > -60.0
    assert not [mark for mark in cut.marks if mark.kind == "fold"]
