"""Symmetry is found where it is, and nowhere else."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.finishing.allowance import net_edges
from drafting.finishing.symmetry import axis_of, image_of
from drafting.garment import Drill, Fate, Garment, Level, Piece, Zone
from drafting.geometry import Path, Point
from tests.finishing.flat import by_name, cut_polygon, edge
from tests.finishing.made import Shape, ring, tunic
from tests.garment.invented import Label, Tuck

WHOLE, FOLD = FinishPlan(on_fold=False), FinishPlan()


def moved(piece: Piece, by: Point, angle: float = 0.0) -> Piece:
    """The piece elsewhere, turned about the origin first."""
    lines = tuple(replace(line, path=line.path.turned(angle).moved(by)) for line in piece.ring)
    return replace(piece, ring=lines, grain=piece.grain.turned(angle))


def leaf(name: str, flip: bool = False) -> Piece:
    """A lopsided piece with a straight grain; ``flip`` draws its mirror image."""
    a, b, c = Point(0.0, 0.0), Point(200.0, 0.0), Point(60.0, 150.0)
    paths = [
        Path.straight(a, b),
        Path.cubic(b, Point(190.0, 60.0), Point(120.0, 140.0), c),
        Path.straight(c, a),
    ]
    if flip:
        paths = [path.mirrored(0.0).reversed() for path in reversed(paths)]
    return ring(name, *((f"l{i}", path, Fate.SEWN) for i, path in enumerate(paths)), title="Leaf")


def rectangle(name: str, width: float = 300.0, height: float = 80.0, **more: object) -> Piece:
    """A plain rectangle."""
    p = [Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)]
    sides = [Path.straight(p[i], p[(i + 1) % 4]) for i in range(4)]
    return ring(name, *((f"s{i}", path, Fate.SEWN) for i, path in enumerate(sides)), title="Strip", **more)


def only(piece: Piece, plan: FinishPlan = FOLD) -> CutPiece:
    """The one cut piece of a garment of one piece."""
    (cut,) = finish(Garment((piece,)), plan)
    return cut


@pytest.mark.parametrize("shape", [Shape(), Shape(v=True), Shape(hem_rise=60.0), Shape(back_depth=60.0, drop=60.0)])
def test_a_half_and_its_mirror_image_make_the_whole(shape: Shape) -> None:
    """The half on the fold, opened out, is the piece that is printed whole, to 0.01 mm on the outline."""
    halves, wholes = by_name(finish(tunic(shape), FOLD)), by_name(finish(tunic(shape), WHOLE))
    for name in ("front", "back", "neck-band"):
        half, whole = cut_polygon(halves[name]), cut_polygon(wholes[name])
        axis = edge(halves[name], "on-fold").path
        assert halves[name].on_fold
        assert not wholes[name].on_fold
        assert abs(axis.start.x - axis.end.x) < 1e-6
        other = shapely.affinity.scale(half, -1.0, 1.0, origin=(axis.start.x, 0.0))
        opened = shapely.union_all([half.buffer(1e-4), other.buffer(1e-4)])
        assert opened.symmetric_difference(whole).area / whole.length < 0.01


def test_a_half_keeps_to_one_side_and_marks_its_fold() -> None:
    """Everything printed lies on one side of the fold, and the fold runs from cut line to cut line."""
    front = by_name(finish(tunic(), FOLD))["front"]
    (mark,) = [mark for mark in front.marks if mark.kind == "on-fold"]
    box = front.cut_path.bounds
    assert mark.path.length == pytest.approx(box[3] - box[1] - 0.0, abs=200.0)
    assert mark.path.same_as(edge(front, "on-fold").path)
    assert box[0] == pytest.approx(0.0, abs=1e-6)
    assert all(mark.path.bounds[0] >= -1e-6 for mark in front.marks)
    assert [name for name, _ in front.drills] == ["bust"]
    assert front.how == "cut 1 on the fold"


def sides(piece: CutPiece) -> dict[str, bool]:
    """The notes of the wearer's sides, and whether each stands on the viewer's right, wherever it is written."""
    found: dict[str, set[bool]] = {}
    for mark in piece.marks:
        if mark.kind == "side":
            found.setdefault(mark.name, set()).add(mark.path.at(mark.path.length / 2.0).x > 0.0)
    return {name: all(places) for name, places in found.items() if len(places) == 1}


def test_one_narrower_shoulder_is_cut_whole_and_right_side_up() -> None:
    """A difference of 2 mm on one side ends the symmetry, and the words say which side is which."""
    pieces = by_name(finish(tunic(Shape(tilt=-2.0)), FOLD))
    assert pieces["front"].how == "cut 1, single layer, right side up"
    assert not pieces["front"].on_fold
    assert sides(pieces["front"]) == {"wearer's left": True, "wearer's right": False}
    assert sides(pieces["back"]) == {"wearer's left": False, "wearer's right": True}
    assert sides(pieces["sleeve"]) == {}


def test_sleeves_and_cuffs_are_found_to_be_pairs() -> None:
    """Left and right are printed once, without their side in the title, and both are named."""
    sleeve = by_name(finish(tunic(), FOLD))["sleeve"]
    assert (sleeve.title, sleeve.quantity, sleeve.mirrored) == ("Sleeve", 2, 1)
    assert sleeve.how == "cut 2, one mirrored"
    assert sleeve.stands_for == ("sleeve-left", "sleeve-right")


def test_a_pair_is_one_by_its_names_whatever_its_titles_say() -> None:
    """Titles in plain words, which say the side as a word, part nothing; together they are called by their name."""
    sleeves = (replace(p, title=f"{p.side} arm") if p.name.startswith("sleeve") else p for p in tunic().pieces)
    sleeve = by_name(finish(replace(tunic(), pieces=tuple(sleeves)), FOLD))["sleeve"]
    assert (sleeve.title, sleeve.how) == ("Sleeve", "cut 2, one mirrored")


def test_a_pair_printed_once_is_the_mirror_image_of_the_other_printed_alone() -> None:
    """Finishing the right sleeve by itself gives the left one's cut outline turned over."""
    garment = tunic()
    both = by_name(finish(garment, FOLD))["sleeve"]
    cloths = {"sleeve-left": "one", "sleeve-right": "other"}
    apart = replace(garment, pieces=tuple(replace(p, cloth=cloths.get(p.name, p.cloth)) for p in garment.pieces))
    right = by_name(finish(apart, FOLD))["sleeve-right"]
    a, b = cut_polygon(both), cut_polygon(right)
    turned = shapely.affinity.scale(a, -1.0, 1.0, origin=(0.0, 0.0))
    turned = shapely.affinity.translate(turned, b.bounds[0] - turned.bounds[0], b.bounds[1] - turned.bounds[1])
    assert turned.symmetric_difference(b).area / b.length < 0.02


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.floats(-500.0, 500.0), st.floats(-500.0, 500.0), st.floats(-3.0, 3.0), st.booleans())
def test_wherever_a_twin_lies_it_is_found(x: float, y: float, angle: float, flip: bool) -> None:
    """A copy, moved and turned, is the same piece; its mirror image is cut turned over."""
    twin = moved(leaf("leaf-right", flip), Point(x, y), angle)
    (cut,) = finish(Garment((leaf("leaf-left"), twin)), FOLD)
    assert (cut.quantity, cut.mirrored) == (2, int(flip))
    assert cut.how == ("cut 2, one mirrored" if flip else "cut 2, single layer, right side up")


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.integers(0, 2), st.floats(0.05, 5.0), st.floats(0.0, 6.28))
def test_a_corner_elsewhere_is_another_piece(which: int, gap: float, way: float) -> None:
    """A corner off by five hundredths of a millimetre or more is seen."""
    first, second = leaf("leaf-left"), leaf("leaf-right")
    shift = Point.polar(way, gap)
    old = first.ring[which].path.start
    lines = []
    for line in second.ring:
        start = line.path.start + shift if line.path.start.near(old) else line.path.start
        end = line.path.end + shift if line.path.end.near(old) else line.path.end
        lines.append(replace(line, path=line.path.with_ends(start, end)))
    assert len(finish(Garment((first, replace(second, ring=tuple(lines)))), FOLD)) == 2


def test_a_turned_grain_is_another_piece() -> None:
    """The same outline on another grain, or with the nap the other way, isn't the same piece."""
    first = leaf("leaf-left")
    for grain in (Point(1.0, 0.0), Point(0.0, -1.0)):
        assert len(finish(Garment((first, replace(leaf("leaf-right"), grain=grain))), FOLD)) == 2


@pytest.mark.parametrize(
    "change",
    [
        {"features": (Drill("dot", Point(60.0, 30.0)),)},
        {"features": (Level("bust", Path.straight(Point(0.0, 20.0), Point(200.0, 20.0))),)},
        {"features": (Zone("s0", 10.0, "stay", 0.0, 0.4),)},
        {"features": (Label("dot", Point(60.0, 30.0)),)},
        {"features": (Tuck("tuck", Path.straight(Point(60.0, 30.0), Point(90.0, 40.0))),)},
    ],
)
def test_what_lies_within_counts(change: dict[str, object]) -> None:
    """A drill, a level or a zone on one side only makes a piece lopsided, or two pieces different."""
    assert only(rectangle("strip")).on_fold
    lopsided = rectangle("strip", **change)
    if not lopsided.levels:  # a level right across is as symmetric as the strip
        assert not only(lopsided).on_fold
    pair = (rectangle("strip-left"), replace(lopsided, name="strip-right"))
    assert len(finish(Garment(pair), FOLD)) == 2


def test_a_level_that_lies_in_two_stretches_is_still_one() -> None:
    """A dart that was split parts a level at one bust point alone: the piece is as symmetric as before."""
    a, b, c = (Point(x, 20.0) for x in (0.0, 140.0, 300.0))
    stretches = (Level("bust", Path.straight(a, b)), Level("bust", Path.straight(b, c)))
    assert only(rectangle("strip", features=stretches)).on_fold
    assert not only(rectangle("strip", features=stretches[:1])).on_fold


def test_fates_count() -> None:
    """A strip hemmed on two sides that meet is no half."""
    strip = rectangle("strip")
    lines = tuple(replace(line, fate=Fate.HEMMED) if line.name in ("s1", "s2") else line for line in strip.ring)
    assert not only(replace(strip, ring=lines)).on_fold


@pytest.mark.parametrize("angle", [0.0, 0.4, math.pi / 2])
def test_the_axis_runs_with_the_grain_wherever_the_piece_lies(angle: float) -> None:
    """A turned strip is halved along its own grain; the axis is found, not believed to be upright."""
    strip = moved(rectangle("strip"), Point(40.0, -70.0), angle)
    edges = net_edges(Garment((strip,)), FOLD, {})["strip"]
    axis = axis_of(strip, edges)
    assert axis is not None
    assert not axis.crosswise
    assert abs(axis.along.cross(strip.grain)) < 1e-9
    assert only(strip).area * 2.0 == pytest.approx(only(strip, WHOLE).area, rel=1e-9)


def test_a_strip_that_only_mirrors_across_the_grain_lies_on_a_crosswise_fold() -> None:
    """A triangle with its point along the cross grain says that its fold is crosswise."""
    a, b, c = Point(0.0, 0.0), Point(200.0, 60.0), Point(0.0, 120.0)
    sides = (Path.straight(a, b), Path.straight(b, c), Path.straight(c, a))
    piece = ring("gusset", *((f"g{i}", path, Fate.SEWN) for i, path in enumerate(sides)))
    assert only(piece).how == "cut 1 on the crosswise fold"


def test_two_symmetric_pieces_that_are_alike_are_one_print() -> None:
    """Two equal strips: cut 2, none mirrored; whole pieces need no right side up."""
    pair = Garment((rectangle("strip-left"), moved(rectangle("strip-right"), Point(500.0, 0.0))))
    (half,), (whole,) = finish(pair, FOLD), finish(pair, WHOLE)
    assert (half.how, half.quantity, half.mirrored) == ("cut 2 on the fold", 2, 0)
    assert whole.how == "cut 2"


def test_unlike_cloths_are_never_one_print() -> None:
    """The same shape in another cloth is another piece."""
    pair = (rectangle("strip-left"), rectangle("strip-right", cloth="rib"))
    assert len(finish(Garment(pair), FOLD)) == 2


def test_a_piece_is_its_own_image() -> None:
    """Every piece falls on itself, and nothing else is claimed of a lopsided one."""
    piece = leaf("leaf")
    edges = net_edges(Garment((piece,)), FOLD, {})["leaf"]
    image = image_of(piece, edges, piece, edges, flipped=False)
    assert image is not None
    assert image.partner == (0, 1, 2)
    assert image_of(piece, edges, piece, edges, flipped=True) is None
    assert axis_of(piece, edges) is None
