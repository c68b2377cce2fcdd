"""Darts made ready to cut: folded shut and pressed, the dart lies flush under its edge."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import Polygon

from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.garment import Face, Garment, Piece, Side, Slit
from drafting.garment.carry import with_only
from drafting.garment.darts import Dart, dart_name, dart_of, draw_inner_dart
from drafting.garment.places import Place
from drafting.geometry import Point
from drafting.redraw.swing import open_at
from tests.darts.toile import front, plain, sewn, with_slits
from tests.kinds import kind as kind_of

FLAT = FinishPlan(on_fold=False, allowance=15.0)

PRESSED_TO_FIRST = {"bust-left": True, "bust-right": False, "waist-front-left": True, "waist-front-right": False}
"""Which end of its mouth, in ring order, a dart is pressed to: the lower of a side's, the waist's nearer the centre."""


def garment(piece: Piece, darts: tuple[str, ...]) -> Garment:
    return sewn(piece, plain(Face.BACK), darts)


def cut_front(piece: Piece, darts: tuple[str, ...], plan: FinishPlan = FLAT) -> CutPiece:
    return next(cut for cut in finish(garment(piece, darts), plan) if cut.name == "front")


def _cone(point: Point, one: Point, two: Point) -> Polygon:
    """The endless corner at a point between two directions (cut off far outside the piece)."""
    far = [point + d.unit * 900.0 for d in (one, one.unit + two.unit, two)]
    return Polygon([(p.x, p.y) for p in (point, *far)])


def _reflected(shape: Polygon, at: Point, along: Point) -> Polygon:
    """A shape's image in a line, by shapely's own map."""
    u = along.unit
    c, s = u.x * u.x - u.y * u.y, 2.0 * u.x * u.y
    matrix = (c, s, s, -c, at.x - c * at.x - s * at.y, at.y - s * at.x + c * at.y)
    return affinity.affine_transform(shape, matrix)


def _layers(cut: CutPiece, dart: Dart, to_first: bool) -> tuple[Polygon, Polygon, Polygon]:
    """The edge that is covered, and the dart's two layers as they lie on it, cut by hand from the cut outline."""
    outline = Polygon(np.asarray(cut.cut_path.flatten(0.005)))
    assert outline.is_valid
    legs = [dart.mouth_a - dart.point, dart.mouth_b - dart.point]
    near, far = legs if to_first else legs[::-1]
    middle = near.unit + far.unit
    next_to = outline.intersection(_cone(dart.point, near, middle))
    below = outline.intersection(_cone(dart.point, middle, far))
    beside = middle.unit * 2.0 * middle.unit.dot(near.unit) - near.unit  # the far leg, seen from the near one
    turned_over = near.unit * (2.0 * near.unit.dot(middle.unit)) - middle.unit
    assert beside.near(far.unit, 1e-9)
    covered = outline.intersection(_cone(dart.point, turned_over, near))
    first = _reflected(next_to, dart.point, near)
    second = _reflected(_reflected(below, dart.point, middle), dart.point, near)
    return covered, first, second


def _flush(cut: CutPiece, dart: Dart, to_first: bool) -> None:
    covered, first, second = _layers(cut, dart, to_first)
    assert covered.symmetric_difference(first).area < 0.5
    assert covered.symmetric_difference(second).area < 0.5


@pytest.mark.parametrize("name", sorted(PRESSED_TO_FIRST))
def test_folded_shut_the_dart_lies_flush_with_its_edge(name: str):
    """Both layers, folded by shapely as the cloth is, cover just what lies beside the leg: to half a square mm."""
    piece = front("bust", "waist")
    cut = cut_front(piece, ("bust", "waist-front"))
    _flush(cut, dart_of(piece, name), PRESSED_TO_FIRST[name])


@pytest.mark.parametrize("line", ["shoulder-left", "neckline-left", "armhole-left"])
def test_a_dart_turned_to_another_edge_lies_flush_there(line: str):
    """Also on curved edges, and where the edge beside the mouth runs askew to the dart."""
    piece = front("bust")
    turned = open_at(piece, "bust-left", Place(line, 0.5 * piece.line(line).path.length))
    base = sewn(piece, plain(Face.BACK), ("bust",))
    # The side is whole again, and the line that was opened is in two: the seams are not looked at here.
    cut = finish(
        replace(base, pieces=(turned,), seams=(base.seam("dart-bust-left"), base.seam("dart-bust-right"))), FLAT
    )
    dart = dart_of(turned, "bust-left")
    across = abs((dart.point - dart.mouth_a).x) > abs((dart.point - dart.mouth_a).y)
    a, b = dart.mouth_a, dart.mouth_b
    _flush(cut[0], dart, a.y < b.y if across else abs(a.x) < abs(b.x))


def test_the_sewn_and_pressed_edge_runs_on():
    """At the mouth the cut lines of the two sides meet when the dart is folded: no step in the raw edge."""
    piece = front("bust")
    cut = cut_front(piece, ("bust",))
    dart = dart_of(piece, "bust-left")
    roof = next(edge for edge in cut.outline if edge.name == "dart-bust-left").path
    reach = dart.point.distance(roof.start), dart.point.distance(roof.end)
    assert reach[0] == pytest.approx(reach[1], abs=0.05)


def test_notches_stand_at_both_legs_and_a_hole_inside_the_point():
    """A notch at either end of the mouth, in line with its leg; the drill 12 mm inside the point (common practice)."""
    piece = front("bust")
    cut = cut_front(piece, ("bust",))
    dart = dart_of(piece, "bust-left")
    notches = [n for n in cut.notches if n.seam == "dart-bust-left"]
    assert {n.on_stitch for n in notches} == {dart.mouth_a, dart.mouth_b}
    outline = cut.cut_path
    for notch in notches:
        assert outline.nearest(notch.at)[1] < 1e-6
        assert abs((notch.at - dart.point).unit.cross((notch.on_stitch - dart.point).unit)) < 1e-9
    hole = dict(cut.drills)["dart-bust-left-point"]
    assert hole.distance(dart.point) == pytest.approx(12.0, abs=1e-9)
    assert hole.distance(dart.mouth_a) == pytest.approx(hole.distance(dart.mouth_b), abs=1e-9)
    assert dict(cut.drills)["bust-point-left"].near(dart.apex)


def test_legs_are_stitch_lines_and_the_middle_a_fold():
    """The cut outline doesn't follow the legs into the dart."""
    cut = cut_front(front("bust"), ("bust",))
    kinds = {(mark.kind, mark.name) for mark in cut.marks if mark.name.startswith("dart-bust-left")}
    assert kinds == {
        ("stitch", "dart-bust-left-a"),
        ("stitch", "dart-bust-left-b"),
        ("fold", "dart-bust-left"),
    }
    assert not any(edge.line.startswith("dart-") for edge in cut.outline)


def test_the_intake_is_printed():
    """Each dart tells what it takes in and where it is pressed."""
    cut = cut_front(front("bust", "waist"), ("bust", "waist-front"))
    assert "bust dart: takes in 2.8 cm, pressed down" in cut.labels
    assert "front waist dart: takes in 3.0 cm, pressed to the centre" in cut.labels
    assert "allowances included: 1.5 cm" in cut.labels


def test_a_dart_within_the_piece_is_marked_and_drilled():
    """Both points and the widest places are drilled inside the dart; the outline knows nothing of it."""
    piece = with_slits(plain(Face.FRONT))
    cut = cut_front(piece, ("waist-front",))
    bare = cut_front(plain(Face.FRONT), ())
    assert cut.area == pytest.approx(bare.area, abs=1e-6)
    holes = {name: at for name, at in cut.drills if name.startswith("dart-waist-front-left")}
    assert len(holes) == 4
    shape = Polygon([(line.path.start.x, line.path.start.y) for line in piece.slits[0]])
    assert all(shape.contains(Polygon([(p.x, p.y), (p.x + 0.01, p.y), (p.x, p.y + 0.01)])) for p in holes.values())
    assert sum(mark.kind == "stitch" and mark.name.startswith("dart-waist-front-left") for mark in cut.marks) == 4


@pytest.mark.parametrize("inner", [False, True])
def test_a_front_with_darts_alike_is_printed_on_the_fold(inner: bool):
    """Symmetry is found with darts, and half of them are drawn."""
    piece = with_slits(plain(Face.FRONT)) if inner else front("bust", "waist")
    darts = ("waist-front",) if inner else ("bust", "waist-front")
    cut = cut_front(piece, darts, FinishPlan(allowance=15.0))
    assert cut.on_fold
    assert not any("right" in name for name, _ in cut.drills)


@pytest.mark.parametrize("inner", [False, True])
def test_darts_that_differ_are_seen(inner: bool):
    """A front whose left dart differs from its right is no longer symmetric."""
    piece = front("bust", "waist")
    darts = ("bust", "waist-front")
    if inner:
        piece, darts = with_slits(plain(Face.FRONT)), ("waist-front",)
        called = dart_name("waist-front", Side.LEFT)
        other = draw_inner_dart(called, Point(95, -290), Point(108, -340), Point(95, -400), Point(82, -340)).lines
        piece = with_only(piece, Slit, map(Slit, (other, piece.slits[1])))
    else:
        piece = open_at(piece, "bust-left", Place("side-left/b", piece.line("side-left/b").path.length / 2.0))
        base = sewn(front("bust", "waist"), plain(Face.BACK), darts)
        lone = replace(base, pieces=(piece,), seams=tuple(s for s in base.seams if s.kind == kind_of("dart")))
        assert not finish(lone, FinishPlan())[0].on_fold
        return
    assert not cut_front(piece, darts, FinishPlan()).on_fold
