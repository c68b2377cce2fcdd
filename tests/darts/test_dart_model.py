"""Darts in the model: found by name, sewn before what crosses them, and no hole in the surface."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drafting.garment import Drill, Face, Garment, UnknownLine, balance_marks, glue
from drafting.garment.carry import with_only
from drafting.garment.darts import (
    angle,
    dart_name,
    dart_of,
    darts_of,
    draw_inner_dart,
    drawn_angle,
    intake,
    leg_lengths,
)
from drafting.geometry import Path, Point
from drafting.proof.checks.darts import check_darts
from drafting.proof.checks.puzzle import check_puzzle, check_twice
from drafting.redraw.parting import with_split
from drafting.work import make_up
from drafting.work.kinds import sew_dart
from tests.darts.toile import APEX, front, plain, sewn, with_slits
from tests.garments import brief


def test_darts_are_found_in_ring_order_with_their_apex():
    """Each dart turns about the mark on its middle line, beyond its point."""
    piece = front("bust", "waist")
    names = [dart.name for dart in darts_of(piece)]
    assert names == ["waist-front-left", "bust-left", "bust-right", "waist-front-right"]
    for dart in darts_of(piece):
        side = 1.0 if dart.name.endswith("left") else -1.0
        assert dart.apex.near(Point(side * APEX.x, APEX.y), 1e-9)
        assert dart.set_back == pytest.approx(25.0, abs=1e-9)


def test_the_suppression_is_the_angle_at_the_apex():
    """A dart drawn short of the apex opens wider at its point; its suppression is the angle it has at the apex."""
    dart = dart_of(front("waist"), "waist-front-left")
    depth = APEX.distance(dart.mouth_a.to(dart.mouth_b, 0.5))
    assert intake(dart) == pytest.approx(30.0, abs=1e-6)
    assert angle(dart) == pytest.approx(2.0 * math.atan(15.0 / depth), abs=1e-9)
    assert drawn_angle(dart) == pytest.approx(2.0 * math.atan(15.0 / (depth - 25.0)), abs=1e-9)


def test_a_mark_off_the_middle_line_is_not_the_apex():
    """A dart that no mark stands over turns about its own point."""
    piece = with_only(front("waist"), Drill, ())
    dart = dart_of(piece, "waist-front-left")
    assert dart.apex == dart.point
    assert dart.set_back == 0.0


def test_a_leg_that_is_split_is_still_the_leg_of_its_dart():
    """Its parts are found by their lineage: the dart keeps its corners, and its legs their lengths."""
    whole = sewn(front("bust"), plain(Face.BACK), ("bust",))
    split = with_split(whole, "front", "dart-bust-left-b", 40.0)
    was, dart = (dart_of(garment.piece("front"), "bust-left") for garment in (whole, split))
    assert (dart.mouth_a, dart.point, dart.mouth_b) == (was.mouth_a, was.point, was.mouth_b)
    assert [len(leg) for leg in dart.legs] == [1, 2]
    assert leg_lengths(dart)[0] == pytest.approx(leg_lengths(was)[0], abs=1e-9)
    assert split.seam(dart.seam).sections == sew_dart(dart).sections
    assert not check_darts(split, brief())


def test_a_dart_is_found_by_what_its_legs_say_and_not_by_their_names():
    """Legs called anything are the legs of their dart, the first in the ring the first."""
    piece = front("bust")
    ring = tuple(replace(line, name=f"line {i}") for i, line in enumerate(piece.ring))
    dart = dart_of(replace(piece, ring=ring), "bust-left")
    was = dart_of(piece, "bust-left")
    assert [line.path for line in dart.lines] == [line.path for line in was.lines]
    assert (str(dart.title), dart.seam) == ("left bust dart", "dart-bust-left")


@pytest.mark.parametrize("start", [3, 4, 5])
def test_a_dart_is_found_wherever_its_ring_begins(start: int):
    """A ring that begins between a dart's legs, or at one of them, has the same darts."""
    piece = front("bust")
    turned = replace(piece, ring=(*piece.ring[start:], *piece.ring[:start]))
    assert {dart.name for dart in darts_of(turned)} == {"bust-left", "bust-right"}
    assert dart_of(turned, "bust-left") == dart_of(piece, "bust-left")


def test_lines_of_slits_are_found_like_those_of_the_ring():
    """A piece knows the lines of the darts within it, and what follows each of them round its slit."""
    piece = with_slits(plain(Face.FRONT))
    assert piece.after("dart-waist-front-left-upper-b").name == "dart-waist-front-left-upper-a"
    assert piece.before("dart-waist-front-left-upper-a").name == "dart-waist-front-left-upper-b"
    assert len(piece.all_lines) == len(piece.ring) + 8
    assert [d.name for d in darts_of(piece)] == ["waist-front-left", "waist-front-right"]
    with pytest.raises(UnknownLine, match="upper-a"):
        piece.line("dart-waist-front-left-upper-c")


@pytest.mark.parametrize("swap", [False, True])
def test_a_slit_runs_clockwise_whichever_side_is_given_first(swap: bool):
    """A hole runs clockwise, so that the cloth lies to the left of its lines."""
    sides = [Point(12, 0), Point(-12, 0)]
    if swap:
        sides.reverse()
    lines = draw_inner_dart(dart_name("waist"), Point(0, 90), sides[0], Point(0, -110), sides[1]).lines
    assert Path.join(*(line.path for line in lines)).area < 0.0


def _surfaces() -> list[tuple[str, Garment]]:
    back = plain(Face.BACK)
    return [
        ("edge darts", sewn(front("bust", "waist"), back, ("bust", "waist-front"))),
        ("inner darts", sewn(with_slits(plain(Face.FRONT)), back, ("waist-front",))),
    ]


@pytest.mark.parametrize(("kind", "garment"), _surfaces(), ids=lambda value: value if isinstance(value, str) else "")
def test_darts_sewn_shut_leave_the_surface_as_it_is_without_them(kind: str, garment: Garment):
    """Puzzle test with darts: the same Euler number and the same openings as the toile without darts."""
    bare = glue(sewn(plain(Face.FRONT), plain(Face.BACK)))
    surface = glue(garment)
    assert surface.euler == bare.euler == -2
    assert sorted(o.name for o in surface.openings) == sorted(o.name for o in bare.openings)
    assert check_twice(garment, None) == check_puzzle(garment, None, surface) == ()


def test_a_dart_left_open_is_an_opening_that_isnt_meant():
    """Without its seam a dart within a piece is a hole."""
    garment = sewn(with_slits(plain(Face.FRONT)), plain(Face.BACK), ("waist-front",))
    surface = glue(garment.without(seams=["dart-waist-front-left"]))
    assert len(surface.openings) == 5
    assert surface.euler == -3


def test_darts_are_sewn_before_the_seams_that_cross_them():
    """A bust dart lies in the side seam, so it is sewn first."""
    garment = sewn(front("bust"), plain(Face.BACK), ("bust",))
    order = [task.seam for task in make_up(garment)]
    for side in ("left", "right"):
        assert order.index(f"dart-bust-{side}") < order.index(f"side-{side}")
    assert {task.seam: task.before for task in make_up(garment)}["side-left"] == ("dart-bust-left",)


def test_the_plain_ply_is_marked_where_the_dart_meets_it():
    """The back's side gets a notch where the front's dart ends; the front has the dart itself there, and legs none."""
    marks = balance_marks(sewn(front("bust"), plain(Face.BACK), ("bust",)))
    assert not [mark for mark in marks if mark.seam.startswith("dart-")]
    met = [use for mark in marks if mark.seam == "side-left" for use, _ in mark.at]
    assert {use.piece for use in met} == {"back"}
