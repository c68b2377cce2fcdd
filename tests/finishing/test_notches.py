"""Notches stand where plies meet, on the cut line, straight out from the stitch line."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from drafting.finishing import CutPiece, FinishPlan, Notch, finish
from drafting.finishing.allowance import NetEdge, Tick
from drafting.garment import Garment, balance_marks
from drafting.geometry import Path, Point
from tests.finishing.flat import by_name, cut_polygon
from tests.finishing.made import Shape, tunic

WHOLE = FinishPlan(on_fold=False)


def apart(garment: Garment) -> dict[str, CutPiece]:
    """Every piece finished by itself, so that none stands for another."""
    pieces = {piece.name: piece for piece in garment.pieces}
    named = tuple(replace(piece, cloth=piece.name) for piece in pieces.values())
    return by_name(finish(replace(garment, pieces=named), WHOLE))


@pytest.mark.parametrize("shape", [Shape(), Shape(tilt=-15.0, v=True), Shape(drop=60.0, hem_rise=40.0)])
def test_every_balance_mark_is_a_notch_on_each_ply(shape: Shape) -> None:
    """Each ply has its notch at the mark's own arc length along the stitch line, with the mark's count."""
    garment = tunic(shape)
    cut = apart(garment)
    for mark in balance_marks(garment):
        for use, s in mark.at:
            place = garment.line(use).path.at(s)
            found = [n for n in cut[use.piece].notches if n.seam == mark.seam and n.on_stitch.near(place, 0.01)]
            assert found
            assert found[0].count == mark.count


@pytest.mark.parametrize("shape", [Shape(), Shape(tilt=-15.0, v=True), Shape(drop=60.0, hem_rise=40.0)])
def test_notches_stand_on_the_cut_line_square_to_the_stitch_line(shape: Shape) -> None:
    """``at`` lies on the cut outline, one allowance straight out of its place on the stitch line."""
    garment = tunic(shape)
    for piece in finish(garment, WHOLE):
        outline = piece.cut_path
        for notch in piece.notches:
            assert outline.nearest(notch.at)[1] < 0.1
            assert notch.inward.length == pytest.approx(1.0)
            if notch.seam in {seam.name for seam in garment.seams}:
                gap = notch.on_stitch - notch.at
                assert gap.unit.near(notch.inward, 1e-6)
                if not (shape.v and abs(notch.on_stitch.x) < 1e-6):  # the point of a V is mitred
                    assert gap.length == pytest.approx(WHOLE.allowance, abs=0.01)


def test_matching_notches_are_as_far_from_the_seams_start() -> None:
    """Along each ply of a side seam, hem to wrist, the notches come at the same share of the length."""
    garment = tunic(Shape(tilt=-8.0))
    shares = []
    for mark in balance_marks(garment):
        if mark.seam == "side-left":
            runs = garment.seam("side-left").plies
            shares.append([_share(garment, run, use, s) for run, (use, s) in zip(runs, mark.at, strict=True)])
    assert shares
    assert all(abs(a - b) < 1e-3 for a, b in shares)


def _share(garment: Garment, run: tuple, use: object, s: float) -> float:
    before = 0.0
    for each in run:
        length = garment.line(each).path.length
        if each == use:
            return (before + (length - s if each.against else s)) / garment.run_length(run)
        before += length
    raise AssertionError("the mark's line isn't in the run")


def test_front_is_single_and_back_double() -> None:
    """One notch on front edges, two on back (Intro to Apparel Production Workbook, Univ. of Arkansas, ch. 8)."""
    pieces = by_name(finish(tunic(), WHOLE))
    armhole = {
        name: [n.count for n in pieces[name].notches if n.seam.startswith("armhole")] for name in ("front", "back")
    }
    assert armhole == {"front": [1, 1], "back": [2, 2]}


def at_centre(piece: CutPiece) -> list[Notch]:
    """Notches in the middle of a whole piece."""
    return [notch for notch in piece.notches if abs(notch.on_stitch.x) < 1e-6]


def test_whole_pieces_are_notched_at_the_centre_of_neck_and_hem() -> None:
    """Where no fold shows it, the centre front and back are marked top and bottom."""
    pieces = by_name(finish(tunic(), WHOLE))
    for name in ("front", "back"):
        heights = sorted(notch.at.y for notch in at_centre(pieces[name]))
        assert len(heights) == 2
        assert heights[0] == pytest.approx(-WHOLE.hem_depth)


def test_a_hem_is_notched_where_it_folds() -> None:
    """The fold of the hem is snipped on each side's cut line, at the height of the fold."""
    for plan, count in ((WHOLE, 2), (FinishPlan(), 1)):
        front = by_name(finish(tunic(), plan))["front"]
        folds = [notch for notch in front.notches if notch.seam == "hem"]
        assert len(folds) == count
        assert all(notch.at.y == pytest.approx(0.0, abs=1e-9) for notch in folds)
        assert all(abs(notch.inward.x) == pytest.approx(1.0) for notch in folds)


def test_a_folded_cuff_is_notched_at_its_fold_and_on_both_layers() -> None:
    """Both ends of the fold, and the same balance mark on the outer and the inner edge."""
    cuff = by_name(finish(tunic(), WHOLE))["cuff"]
    assert len([notch for notch in cuff.notches if notch.seam == "fold"]) == 2
    marks = [notch for notch in cuff.notches if notch.seam == "cuff-left"]
    assert len(marks) == 2
    assert marks[0].on_stitch.x == pytest.approx(marks[1].on_stitch.x)
    assert marks[0].on_stitch.y == pytest.approx(-marks[1].on_stitch.y)


def test_notches_point_into_the_piece() -> None:
    """A step inwards from any notch lands inside the cut outline."""
    for piece in finish(tunic(Shape(v=True)), WHOLE):
        cut = cut_polygon(piece)
        for notch in piece.notches:
            assert cut.contains(shapely.Point(*(notch.at + notch.inward * 3.0)))


def test_a_mark_on_the_fold_of_a_half_stands_on_the_fold() -> None:
    """The centre mark of the neck seam is kept where the half is folded."""
    front = by_name(finish(tunic(), FinishPlan()))["front"]
    (centre,) = [notch for notch in front.notches if notch.seam == "neck-band"]
    assert centre.at.x == pytest.approx(0.0, abs=1e-6)
    assert Path.straight(centre.at, centre.on_stitch).length == pytest.approx(WHOLE.allowance, abs=0.01)


@pytest.mark.parametrize("off", [-1e-9, 0.0, 1e-9])
def test_a_mark_at_the_end_of_a_part_stays_with_it(off: float) -> None:
    """As on the fold of half a band: by rounding it lies a little before the fold or beyond it."""
    edge = NetEdge(
        "band", "band", Path.straight(Point(0.0, 0.0), Point(200.0, 0.0)), ticks=(Tick(100.0 + off, 1, "s"),)
    )
    assert len(edge.part(0.0, 100.0).ticks) == 1
    assert len(edge.part(100.0, 200.0).ticks) == 1
