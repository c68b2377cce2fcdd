"""One thing broken at a time in the pieces: the right finding appears, with the right number."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from drafting.errors import GeometryError
from drafting.finishing import FinishPlan, finish
from drafting.garment import Garment, Piece, Zone
from drafting.garment.carry import with_only
from drafting.geometry import Path, Point
from drafting.proof import Severity, prove
from drafting.proof.checks.outlines import check_outlines
from drafting.proof.checks.samples import sample
from drafting.saying import render
from tests.proof.box_top import HALF, ROUND, TOP, box_top, brief, straight, with_line
from tests.proof.reading import codes, one


def mirrored(piece: Piece) -> Piece:
    """The piece turned over: drawn from its wrong side, its ring anticlockwise again."""
    ring = tuple(replace(line, path=line.path.mirrored().reversed()) for line in reversed(piece.ring))
    return replace(piece, ring=ring)


@pytest.mark.parametrize("name", ["front", "back", "sleeve-left", "sleeve-right"])
def test_a_piece_drawn_from_its_wrong_side(name: str):
    """A piece that is turned over is found, whatever it is called."""
    top = box_top()
    found = one(prove(top.with_(pieces=[mirrored(top.piece(name))]), brief()), "handed.piece")
    assert found.place == name
    assert found.severity is Severity.ERROR


def test_handedness_doesnt_hang_on_the_order_of_lines():
    """A ring that starts elsewhere is the same piece."""
    top = box_top()
    front = top.piece("front")
    turned = replace(front, ring=front.ring[3:] + front.ring[:3])
    assert prove(top.with_(pieces=[turned]), brief()).passed


def test_an_open_outline():
    """A gap between two lines is an error of its width."""
    top = with_line(box_top(), "front", "side-left", path=straight(HALF, 0.0, HALF, 399.0))
    found = one(prove(top, brief()), "outlines.open")
    assert found.place == "front.side-left"
    assert found.value == pytest.approx(1.0)


def test_an_outline_that_runs_clockwise():
    """A clockwise outline is an error, with its signed area."""
    top = box_top()
    ring = tuple(replace(line, path=line.path.mirrored()) for line in top.piece("cuff-left").ring)
    found = one(prove(top.with_(pieces=[replace(top.piece("cuff-left"), ring=ring)]), brief()), "outlines.turned")
    assert found.value == pytest.approx(-top.piece("cuff-left").outline.area)


def test_an_outline_that_crosses_itself():
    """A neckline that runs over the shoulder makes the outline cross itself."""
    loop = Path.cubic(Point(100, TOP), Point(260, TOP - 700), Point(-700, TOP - 500), Point(0, TOP - 130))
    top = with_line(box_top(), "front", "neckline-left", path=loop)
    assert one(prove(top, brief()), "outlines.crossed").place == "front"


@pytest.mark.parametrize("seed", range(8))
def test_crossings_agree_with_shapely(seed: int):
    """Simple or not, the verdict on a random ring is that of shapely (GEOS) on the same points."""
    from drafting.proof.checks.outlines import outline_findings

    random = np.random.default_rng(seed)
    for _ in range(25):
        angle = np.sort(random.uniform(0.0, math.tau, 14)) + random.normal(0.0, 0.18, 14)
        size = random.uniform(60.0, 100.0, 14)
        ring = np.stack([size * np.cos(angle), size * np.sin(angle)], axis=1)
        found = any(f.code == "outlines.crossed" for f in outline_findings("ring", ring))
        assert found is not shapely.LinearRing(ring).is_simple


def test_a_kink_inside_a_line():
    """A corner inside a line is named with its place along the line and its angle."""
    bent = Path.polyline([Point(HALF, 0), Point(HALF + 14, 200), Point(HALF, 400)])
    found = one(prove(with_line(box_top(), "front", "side-left", path=bent), brief()), "outlines.kink")
    assert abs(found.value or 0.0) == pytest.approx(2 * math.atan2(14, 200))
    assert found.severity is Severity.ERROR
    assert "20.0 cm" in render(found.sentence, "cm")


def test_a_neckline_that_bends_back():
    """A neckline bends to one side; an S is not fair."""
    wave = Path.cubic(Point(100, TOP), Point(100, TOP - 300), Point(60, TOP + 100), Point(0, TOP - 130))
    found = one(prove(with_line(box_top(), "front", "neckline-left", path=wave), brief()), "outlines.bend")
    assert (found.place, found.value, found.limit) == ("front.neckline-left", 1.0, 0.0)


def test_a_side_with_bumps():
    """A side that wavers is named with how often it bends most."""
    parts = []
    for i in range(4):
        y, out = 100.0 * i, 6.0 * (-1) ** i
        parts.append(
            Path.cubic(Point(HALF, y), Point(HALF + out, y + 33), Point(HALF + out, y + 67), Point(HALF, y + 100))
        )
    wavy = Path.join(*parts)
    proof = prove(with_line(box_top(), "front", "side-left", path=wavy), brief())
    assert one(proof, "outlines.bend").value == 3


def test_a_cap_with_a_point():
    """The halves of a cap run on smoothly at its top."""
    top = box_top()
    old = top.piece("sleeve-left").line("cap-back").path
    pointed = Path.cubic(old.start, old.start + Point(-60, 0), old.end - Point(-60, 25), old.end)
    found = one(prove(with_line(top, "sleeve-left", "cap-back", path=pointed), brief()), "outlines.kink")
    assert abs(found.value or 0.0) == pytest.approx(math.atan2(25, 60))


def test_a_stay_along_no_line():
    """A stay zone lies on a line that its piece has."""
    top = box_top()
    front = with_only(
        top.piece("front"), Zone, (Zone("sholder", 12.0, "shoulder"), Zone("shoulder-left", 12.0, "shoulder"))
    )
    found = one(prove(top.with_(pieces=[front]), brief()), "zones.line")
    assert found.place == "front.sholder"


def test_what_cant_be_checked_is_a_finding():
    """A check that can't be made doesn't raise: it is told as an error."""

    class Broken(Garment):
        @property
        def openings(self) -> tuple[str, ...]:
            raise GeometryError("no answer")

    top = box_top()
    broken = object.__new__(Broken)
    for name in ("pieces", "seams", "facts", "solves", "aims", "notes", "departures", "closures", "_kept"):
        object.__setattr__(broken, name, getattr(top, name))
    assert "no answer" in str(one(prove(broken, brief()), "puzzle.unproved").sentence)


def test_checks_leave_the_garment_alone():
    """No check repairs: the garment is what it was."""
    top = with_line(box_top(), "front", "side-left", path=straight(HALF, 0.0, HALF, 399.0))
    copy = with_line(box_top(), "front", "side-left", path=straight(HALF, 0.0, HALF, 399.0))
    check_outlines(top, brief(), sample(top))
    prove(top, brief())
    assert top == copy


def test_pieces_cut():
    """Each net piece is cut once."""
    assert "cutting.missing" in codes(prove(box_top(), brief(), cut=[]))


def test_an_end_tighter_than_its_allowance():
    """A quarter of an ellipse 40 by 220 mm is too tight: its radius below is 40^2 / 220, 7.3 mm (geometry)."""
    start, end = Point(HALF, 400.0), Point(200.0, TOP)
    arm = Path.cubic(start, start - Point(40.0 * ROUND, 0.0), end - Point(0.0, 220.0 * ROUND), end)
    broken = with_line(box_top(), "front", "armhole-left", path=arm)
    found = one(prove(broken, brief()), "outlines.tight")
    assert found.place == "front.armhole-left"
    assert found.value == pytest.approx(40.0**2 / 220.0, rel=0.03)
    piece = next(piece for piece in finish(broken, FinishPlan()) if piece.name == "front")
    ring = np.concatenate([edge.path.flatten() for edge in piece.outline])
    assert shapely.Polygon(ring).buffer(0.0).area == pytest.approx(shapely.Polygon(ring).area)
