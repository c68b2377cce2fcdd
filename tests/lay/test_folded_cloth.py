"""Cloth folded lengthwise: halves on the fold, pairs through both layers, the rest opened out."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
import shapely

from drafting.cloth import Cloth, Flaw, Stripe
from drafting.lay import Lay
from drafting.lay.folded import plan_folded_lays
from drafting.lay.places import find_flaws, find_places, span_from_fold
from drafting.lay.spread import Layers
from drafting.lay.words import (
    compare_folded,
    describe_spreads,
    show_cloth_length,
    show_place,
    tell_each_laying,
    tell_laying,
)
from tests.lay.laying import lays, made

DESIGNS = ("basic-tee", "diagonal-overlay-top", "princess-top", "sheath-dress")


@cache
def _folded(design: str, cloth: Cloth | None = None) -> tuple[Lay, ...]:
    what = made(design)
    return plan_folded_lays(what.garment, what.cut, replace(what.brief, cloth=cloth or what.brief.cloth))


def _cloth(design: str) -> Cloth:
    return made(design).brief.cloth


@pytest.mark.parametrize("design", DESIGNS)
def test_every_piece_is_cut_as_often_as_it_is_said(design: str) -> None:
    """A half on the fold is one whole piece, a part through both layers a pair; what is neither lies singly."""
    what = made(design)
    for kind in {lay.kind for lay in _folded(design)} - {"interfacing"}:
        cut: Counter[str] = Counter()
        (lay,) = (lay for lay in _folded(design) if lay.kind == kind)
        assert not lay.too_wide
        for spread in lay.spreads:
            for each in spread.laid:
                cut[each.part.piece.code] += 2 if each.layers is Layers.BOTH else 1
                assert (each.layers is Layers.SINGLE) != spread.folded
        assert cut == {piece.code: piece.quantity for piece in what.cut if piece.cloth == kind}


@pytest.mark.parametrize("design", DESIGNS)
def test_halves_lie_on_the_fold_and_nothing_overlaps_or_leaves_the_cloth(design: str) -> None:
    """Judged by shapely: the fold line on the fold to a hair, all else clear of it and of each other."""
    for spread in (spread for lay in _folded(design) for spread in lay.spreads):
        shapes = [shapely.Polygon(each.ring) for each in spread.laid]
        assert all(shape.is_valid for shape in shapes)
        near = shapely.STRtree(shapes)
        for i, (each, shape) in enumerate(zip(spread.laid, shapes, strict=True)):
            assert list(near.query(shape, predicate="dwithin", distance=2.9)) == [i]
            left, low, right, high = shape.bounds
            assert low >= 0.0
            assert right <= spread.width
            assert high <= spread.length + 1e-6
            on_fold = each.layers is Layers.ON_FOLD
            assert left == pytest.approx(0.0, abs=1e-6) if on_fold else left >= 1.4 * spread.folded


def test_a_half_on_the_fold_is_half_of_the_whole_piece() -> None:
    """Mirrored at the fold it has the area of the piece that a single layer is laid with."""
    single = {each.part.piece.code: shapely.Polygon(each.ring).area for each in lays(made("basic-tee"))[0].laid}
    halves = [each for each in _folded("basic-tee")[0].laid if each.layers is Layers.ON_FOLD]
    assert len(halves) > 1
    (main,) = (lay for lay in _folded("sheath-dress") if lay.kind == "main")
    assert all(each.layers is Layers.ON_FOLD for each in main.laid if each.part.piece.on_fold)
    for each in halves:
        assert 2.0 * shapely.Polygon(each.ring).area == pytest.approx(single[each.part.piece.code], rel=1e-6)


def test_a_flaw_in_either_layer_is_kept_free() -> None:
    """A hole 10 cm left of the fold spoils what lies 10 cm from it in both layers; one on the fold reaches to it."""
    assert span_from_fold(Flaw("hole", 600.0, 0.0, 50.0, 50.0), 750.0) == (100.0, 150.0)
    assert span_from_fold(Flaw("hole", 740.0, 0.0, 50.0, 50.0), 750.0) == (0.0, 40.0)
    lay = _folded("basic-tee", replace(_cloth("basic-tee"), flaws=(Flaw("hole", 600.0, 200.0, 50.0, 50.0),)))[0]
    for x0, y0, x1, y1 in find_flaws(lay.spreads[0]):
        flaw = shapely.box(x0, y0, x1, y1)
        assert all(not shapely.Polygon(each.ring).intersects(flaw) for each in lay.spreads[0].laid)


def test_what_is_left_over_is_laid_opened_out_and_bought_with_the_folded() -> None:
    """One figure to buy for both; the words say how each is laid, and from where its places are measured."""
    lay = _folded("diagonal-overlay-top")[0]
    first, rest = lay.spreads
    assert (first.folded, rest.folded) == (True, False)
    assert rest.begins >= first.length
    assert lay.buy >= rest.begins + rest.length
    of_first, of_rest = describe_spreads(lay, "cm")
    assert "folded lengthwise" in of_first.heading
    assert "opened out" in of_rest.heading
    assert tell_laying(first) != tell_laying(rest)
    assert show_place(find_places(first)[0], "cm")[0].startswith("fold ")


def test_a_flaw_in_what_is_opened_out_is_kept_free_and_told_there() -> None:
    """It lies in the rest's own places, counted from where the folded part ends, and nowhere in the folded one's."""
    (_, rest) = _folded("diagonal-overlay-top")[0].spreads
    middle = rest.begins + rest.length / 2.0
    lay = _folded(
        "diagonal-overlay-top",
        replace(_cloth("diagonal-overlay-top"), flaws=(Flaw("hole", 300.0, middle, 60.0, 60.0),)),
    )[0]
    (first, rest) = lay.spreads
    assert first.flaws == ()
    ((x0, y0, x1, y1),) = find_flaws(rest)
    assert (x0, y0) == pytest.approx((300.0, middle - rest.begins))
    hole = shapely.box(x0 - rest.left, y0, x1 - rest.left, y1)
    assert all(not shapely.Polygon(each.ring).intersects(hole) for each in rest.laid)
    of_first, of_rest = describe_spreads(lay, "cm")
    assert "flaws (hole), crossed out" in " ".join(of_rest.lines)
    assert "hole" not in " ".join(of_first.lines)


def test_striped_cloth_lies_in_a_single_layer() -> None:
    """Its stripes are matched there; folded, no one sees those of the layer below."""
    assert not any(
        spread.folded
        for lay in _folded("basic-tee", replace(_cloth("basic-tee"), stripe=Stripe(40.0)))
        for spread in lay.spreads
        if lay.kind == "main"
    )


def test_each_cloth_is_compared_by_itself_and_a_striped_one_says_why_it_lies_single() -> None:
    """What crepe takes isn't added to what interfacing does; `--folded` on stripes is answered in words."""
    single = lays(made("sheath-dress"))
    other = _folded("sheath-dress", replace(_cloth("sheath-dress"), width=1150.0))
    figures = [
        show_cloth_length(math.fsum(lay.buy for lay in some if lay.kind == "main"), "cm") for some in (single, other)
    ]
    assert figures[0] != figures[1]
    told = f"Main cloth: {figures[0]} in a single layer, {figures[1]} folded"
    assert compare_folded(single, other, "cm", asked=False)[0].startswith(told)
    assert compare_folded(other, single, "cm", asked=True) == (f"{told}.",)
    striped = _folded("basic-tee", replace(_cloth("basic-tee"), stripe=Stripe(40.0)))
    assert "striped" in compare_folded(striped, striped, "cm", asked=True)[0]
    ways = tell_each_laying(_folded("sheath-dress"))
    assert any(way.startswith("Main cloth: ") for way in ways)
    assert any("nterfacing: " in way for way in ways)
