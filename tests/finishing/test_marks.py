"""Marks inside a piece: where they lie, and that they stay inside."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from drafting.finishing import CutPiece, FinishPlan, Mark, finish
from drafting.finishing.clipping import clip_paths
from drafting.finishing.levels import level_marks
from drafting.garment import Level
from drafting.garment.carry import with_features, with_only
from drafting.geometry import Path, Point
from tests.finishing.flat import by_name, cut_polygon, net_polygon
from tests.finishing.made import Shape, tunic
from tests.garment.invented import Label, Tuck

WHOLE = FinishPlan(on_fold=False)
SHAPES = [Shape(), Shape(v=True, tilt=-15.0), Shape(hem_rise=60.0, depth=140.0)]


def of_kind(piece: CutPiece, kind: str) -> list[Mark]:
    """The marks of a kind."""
    return [mark for mark in piece.marks if mark.kind == kind]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("on_fold", [False, True])
def test_every_mark_lies_inside_the_cut_outline(shape: Shape, on_fold: bool) -> None:
    """No stitch line, level, arrow or strip leaves its piece."""
    for piece in finish(tunic(shape), FinishPlan(on_fold=on_fold)):
        cut = cut_polygon(piece).buffer(0.06)
        for mark in piece.marks:
            assert cut.contains(shapely.LineString(mark.path.flatten()))


@pytest.mark.parametrize("shape", SHAPES)
def test_the_grain_arrow_is_long_straight_with_the_grain_and_inside(shape: Shape) -> None:
    """Two to three fifths of the height, that nobody cuts along it; inside the net outline, clear of the centre."""
    garment = tunic(shape)
    for piece in finish(garment, WHOLE):
        net = garment.piece(piece.stands_for[0])
        (arrow,) = of_kind(piece, "grain")
        along = arrow.path.end - arrow.path.start
        assert along.unit.near(net.grain, 1e-9)
        assert cut_polygon(piece).contains(shapely.LineString(arrow.path.flatten()))
        if net.name in ("front", "back"):
            height = net.outline.bounds[3] - net.outline.bounds[1]
            assert 0.4 * height < along.length < 0.6 * height
            assert abs(arrow.path.start.x) > 20.0


def test_the_stretch_arrow_crosses_the_grain_arrow_squarely() -> None:
    """One arrow across the grain on every piece; both long, they cross, and else one stands clear beside the other."""
    crossed = set()
    for plan in (WHOLE, FinishPlan()):
        for piece in finish(tunic(), plan):
            (grain,), (stretch,) = of_kind(piece, "grain"), of_kind(piece, "stretch")
            assert abs((stretch.path.end - stretch.path.start).unit.dot(piece.grain)) < 1e-9
            long = min(grain.path.length, stretch.path.length) >= 60.0
            crossed.add(long)
            assert len(stretch.path.crossings(grain.path)) == long
            lines = [shapely.LineString(mark.path.flatten()) for mark in (grain, stretch)]
            assert long or lines[0].distance(lines[1]) > 6.0
    assert crossed == {True, False}


def test_cloth_that_does_not_stretch_has_no_stretch_arrow() -> None:
    """Only the cloths named are without; the bands of another cloth keep theirs."""
    for piece in finish(tunic(), FinishPlan(still=("main",))):
        assert len(of_kind(piece, "stretch")) == (piece.cloth != "main")
        assert len(of_kind(piece, "grain")) == 1


def test_a_level_is_not_drawn_over_an_edge_or_a_fold() -> None:
    """A level on the hem's fold, or 2 mm off it, is left out; one 10 mm off is drawn to the edges."""
    for off, drawn in ((0.0, 0), (2.0, 0), (10.0, 1)):
        garment = tunic()
        front = garment.piece("front")
        level = Level("hip", Path.straight(Point(-400.0, off), Point(400.0, off)))
        pieces = [with_only(front, Level, (level,)) if piece is front else piece for piece in garment.pieces]
        found = of_kind(by_name(finish(garment.with_(pieces=pieces), WHOLE))["front"], "level")
        assert len(found) == drawn
        assert all(mark.path.length > 480.0 for mark in found)


def test_features_of_any_kind_are_shown_with_their_names() -> None:
    """A point among those to mark, a line cut to the piece."""
    garment = tunic()
    front = garment.piece("front")
    more = (Label("eyelet", Point(40.0, 200.0)), Tuck("tuck", Path.straight(Point(-900.0, 250.0), Point(900.0, 250.0))))
    front = with_features(front, more)
    cut = by_name(finish(garment.with_(pieces=[front]), WHOLE))["front"]
    assert ("eyelet", Point(40.0, 200.0)) in cut.drills
    (mark,) = of_kind(cut, "line")
    assert mark.name == "tuck"
    assert 400.0 < mark.path.length < 800.0


def test_a_level_that_runs_along_an_edge_for_a_part_is_drawn_beyond_it() -> None:
    """A line that leaves an edge is drawn from where it leaves it."""
    notch = np.array([(0, 0), (100, 0), (100, 40), (200, 40), (200, 100), (0, 100)], float)
    line = Level("bust", Path.straight(Point(-10.0, 41.0), Point(210.0, 41.0)))
    piece = with_only(tunic().piece("front"), Level, (line,))
    (mark,) = level_marks(piece, notch, ())
    assert mark.path.end.x == pytest.approx(100.0, abs=6.0)
    assert mark.path.start.x == pytest.approx(0.0, abs=0.01)


def test_a_print_that_serves_both_sides_names_no_side() -> None:
    """A pair's levels and points, and a half's, are called by what they are; a whole lopsided piece keeps the sides."""
    lines = {f"sleeve-{side}": (side, x) for side, x in (("left", 1.0), ("right", -1.0))}
    pieces = []
    for piece in tunic().pieces:
        side, x = lines.get(piece.name, ("", 0.0))
        level = Level(f"upper-arm-{side}", Path.straight(Point(x * 500.0, 250.0), Point(x * 900.0, 250.0)))
        pieces.append(with_only(piece, Level, (level,)) if side else piece)
    cut = by_name(finish(tunic().with_(pieces=pieces), FinishPlan()))
    assert [mark.name for mark in of_kind(cut["sleeve"], "level")] == ["upper-arm"]
    assert [name for name, _ in cut["front"].drills] == ["bust"]
    whole = by_name(finish(tunic(Shape(tilt=-10.0)), FinishPlan()))["front"]
    assert [name for name, _ in whole.drills] == ["bust-left", "bust-right"]


def test_levels_and_adjust_lines_end_on_the_net_outline() -> None:
    """Lines drawn out beyond the piece are cut to it; in a half, to its fold."""
    garment = tunic()
    front = garment.piece("front")
    y = Shape().length - Shape().scye - 5.0
    width = garment.piece("front").line("side-left").path
    reach = width.at(width.cross_level(y)[0]).x
    for plan, low in ((WHOLE, -reach), (FinishPlan(), 0.0)):
        (bust,) = of_kind(by_name(finish(garment, plan))["front"], "level")
        assert bust.path.start.x == pytest.approx(low, abs=0.05)
        assert bust.path.end.x == pytest.approx(reach, abs=0.05)
        (waist,) = of_kind(by_name(finish(garment, plan))["front"], "adjust")
        assert waist.path.start.y == front.adjusts[0].path.start.y


@pytest.mark.parametrize(("allowance", "outside"), [(15.0, 10.0), (10.0, 10.0), (6.0, 6.0)])
def test_a_tape_lies_across_the_stitching_line(allowance: float, outside: float) -> None:
    """The shoulder's stay, 13 mm wide: 3 mm within the stitch line, the rest on the allowance as far as that reaches.

    Common practice: else the seam doesn't catch it.
    """
    garment = tunic()
    front = by_name(finish(garment, FinishPlan(on_fold=False, allowance=allowance)))["front"]
    net = net_polygon(line.path for line in garment.piece("front").ring)
    strips = of_kind(front, "zone")
    assert len(strips) == 2
    for strip in strips:
        shape = shapely.Polygon(strip.path.flatten())
        assert strip.path.closed
        assert shape.difference(cut_polygon(front).buffer(0.2)).area < 0.5
        side = "left" if shape.centroid.x > 0 else "right"
        shoulder = garment.piece("front").line(f"shoulder-{side}").path
        assert shape.intersection(net).area == pytest.approx(3.0 * shoulder.length, rel=0.06)
        assert shape.difference(net).area == pytest.approx(outside * shoulder.length, rel=0.06)


def test_stitch_lines_are_the_net_lines() -> None:
    """A stitch mark is its net line, by name; a hem's line is a fold."""
    garment = tunic()
    front = by_name(finish(garment, WHOLE))["front"]
    for mark in of_kind(front, "stitch"):
        assert mark.path == garment.piece("front").line(mark.name).path
    assert {mark.name for mark in of_kind(front, "fold")} == {"hem-left", "hem-right"}


def test_bound_edges_have_no_stitch_line_apart() -> None:
    """The cut line of a bound edge is its stitch line, and is drawn once."""
    front = by_name(finish(tunic(neck="bound"), WHOLE))["front"]
    assert not [mark for mark in of_kind(front, "stitch") if mark.name.startswith("neckline")]


def test_a_line_across_a_hollow_piece_is_cut_into_its_inside_parts() -> None:
    """Clipping a straight line to a U leaves two parts (checked against shapely)."""
    u = np.array([(0, 0), (90, 0), (90, 80), (60, 80), (60, 30), (30, 30), (30, 80), (0, 80)], float)
    (parts,) = clip_paths([Path.straight(Point(-10.0, 55.0), Point(100.0, 57.0))], u)
    wanted = shapely.Polygon(u).intersection(shapely.LineString([(-10, 55), (100, 57)]))
    assert len(parts) == 2
    assert sum(part.length for part in parts) == pytest.approx(wanted.length)
    (inside,) = clip_paths([Path.straight(Point(5.0, 10.0), Point(80.0, 12.0))], u)
    assert len(inside) == 1
    assert inside[0].length == pytest.approx(Point(5.0, 10.0).distance(Point(80.0, 12.0)))
