"""Turning darts about their apex: laws that hold wherever a dart is turned to."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.errors import GeometryError
from drafting.garment import Face, Piece, Role, Side
from drafting.garment.darts import angle, dart_name, dart_of, darts_of
from drafting.garment.places import Place
from drafting.geometry import Path, Point
from drafting.redraw.mouths import bend_at_mouth, true_mouth
from drafting.redraw.swing import draw_point_to, gather_into, open_at, share_out
from tests.darts.toile import APEX, front, plain, with_slits

HOMES = ("shoulder-left", "neckline-left", "armhole-left", "waist-left")
"""Lines in straight reach of the left bust point, other than the side that the dart comes from."""

SECOND = dart_name("bust-2", Side.LEFT)

places = st.tuples(st.sampled_from(HOMES), st.floats(0.15, 0.85))
few = settings(max_examples=25, deadline=None, derandomize=True)


def place(piece: Piece, line: str, share: float) -> Place:
    """A place on a line that may be in parts."""
    parts = piece.lines(line)
    want = share * sum(part.path.length for part in parts)
    for part in parts:
        if want <= part.path.length:
            return Place(part.name, want)
        want -= part.path.length
    raise AssertionError


def home(piece: Piece) -> Place:
    """Where the two parts of the left side meet: where the bust dart came from."""
    return Place(piece.lines("side-left")[1].name, 0.0)


def same_curve(piece: Piece, other: Piece, name: str) -> bool:
    one, two = (Path.join(*(line.path for line in p.lines(name))) for p in (piece, other))
    return one.same_as(two, 1e-6)


@few
@given(st.lists(places, min_size=1, max_size=4))
def test_a_dart_turned_round_any_closed_way_gives_the_piece_back(way: list[tuple[str, float]]):
    """Through any places and home again: every leg, edge, level and mark is where it was, to a millionth of a mm."""
    piece = turned = front("bust")
    for line, share in way:
        turned = open_at(turned, "bust-left", place(turned, line, share))
    turned = open_at(turned, "bust-left", home(turned))
    for leg in ("dart-bust-left-a", "dart-bust-left-b"):
        assert piece.line(leg).path.same_as(turned.line(leg).path, 1e-6)
    for part in piece.lines("side-left"):
        assert part.path.same_as(turned.line(part.name).path, 1e-6)
    for line in HOMES[:3]:
        whole, parts = piece.line(line).path, turned.lines(line)
        assert math.fsum(part.path.length for part in parts) == pytest.approx(whole.length, abs=1e-6)
        assert max(whole.nearest(part.path.at(part.path.length / 2.0))[1] for part in parts) < 1e-6
    assert all(one.at.near(two.at, 1e-6) for one, two in zip(piece.drills, turned.drills, strict=True))
    assert _bust(turned) == pytest.approx(_bust(piece), abs=1e-6)


def _bust(piece: Piece) -> float:
    return math.fsum(level.path.length for level in piece.levels if level.name == "bust")


@few
@given(places, st.floats(10.0, 45.0))
def test_a_turned_dart_keeps_apex_suppression_and_equal_legs(to: tuple[str, float], back: float):
    """Whatever the place and set-back: the angle at the apex stays, the legs are equal, the folded edge is smooth."""
    piece = front("bust")
    turned = open_at(piece, "bust-left", place(piece, *to), back)
    dart, was = dart_of(turned, "bust-left"), dart_of(piece, "bust-left")
    assert angle(dart) == pytest.approx(angle(was), abs=1e-9)
    assert dart.apex.near(APEX, 1e-9)
    assert dart.point.distance(dart.mouth_a) == pytest.approx(dart.point.distance(dart.mouth_b), abs=1e-9)
    assert dart.set_back == pytest.approx(back, abs=1e-6)
    assert abs(bend_at_mouth(turned, dart, dart.point)) < 1e-9
    assert turned.outline.closed
    assert turned.outline.area > 0.0


@few
@given(places)
def test_nothing_moves_on_the_other_side(to: tuple[str, float]):
    """The wearer's right keeps its very lines."""
    piece = front("bust", "waist")
    turned = open_at(piece, "bust-left", place(piece, *to))
    for line in piece.ring:
        if line.side == "right":
            assert turned.line(line.name) is line


@few
@given(places, st.floats(0.1, 0.9))
def test_a_split_keeps_the_total_suppression(to: tuple[str, float], share: float):
    """The two darts take out together what the one did, each its share, about the one apex."""
    piece = front("bust")
    was = angle(dart_of(piece, "bust-left"))
    made = share_out(piece, "bust-left", SECOND, place(piece, *to), share)
    one, two = dart_of(made, "bust-left"), dart_of(made, "bust-2-left")
    assert angle(two) == pytest.approx(share * was, abs=1e-9)
    assert angle(one) + angle(two) == pytest.approx(was, abs=1e-9)
    assert one.apex.near(two.apex, 1e-9)
    for dart in (one, two):
        assert dart.point.distance(dart.mouth_a) == pytest.approx(dart.point.distance(dart.mouth_b), abs=1e-9)
        assert abs(bend_at_mouth(made, dart, dart.point)) < 1e-9


def test_split_and_joined_again_it_is_the_dart_it_was():
    """Joining undoes splitting."""
    piece = front("bust")
    made = share_out(piece, "bust-left", SECOND, Place("armhole-left", 110.0), 0.4)
    back = gather_into(made, "bust-2-left", "bust-left")
    for name in ("dart-bust-left-a", "dart-bust-left-b", "side-left/a", "side-left/b"):
        assert piece.line(name).path.same_as(back.line(name).path, 1e-6)
    assert same_curve(piece, back, "armhole-left")


def test_two_darts_about_one_apex_join_into_one_of_both_angles():
    """The waist dart takes up the bust dart; its intake follows from the sum of the angles."""
    piece = front("bust", "waist")
    total = angle(dart_of(piece, "bust-left")) + angle(dart_of(piece, "waist-front-left"))
    joined = gather_into(piece, "bust-left", "waist-front-left")
    assert [d.name for d in darts_of(joined) if d.name.endswith("left")] == ["waist-front-left"]
    assert angle(dart_of(joined, "waist-front-left")) == pytest.approx(total, abs=1e-9)


def test_darts_about_two_points_dont_join():
    """The left dart can't be closed into the right one."""
    with pytest.raises(GeometryError, match="one point"):
        gather_into(front("waist"), "waist-front-left", "waist-front-right")


def test_lines_keep_their_lengths_when_the_dart_is_closed():
    """Seam lengths across a dart agree: closed, the side is as long as its two parts, and no line has changed."""
    piece = front("bust")
    flat = open_at(piece, "bust-left", Place("shoulder-left", 0.0), 0.0)
    for line in piece.ring:
        if line.role is not Role.DART and not line.answers_to("side-left"):
            parts = [ln for ln in flat.ring if ln.answers_to(line.name)]
            assert math.fsum(p.path.length for p in parts) == pytest.approx(line.path.length, abs=1e-6)
    side = [flat.line(name).path for name in ("side-left/a", "side-left/b")]
    assert side[0].end.near(side[1].start, 1e-9)
    assert abs(side[0].tangent(side[0].length).cross(side[1].tangent(0.0))) < 1e-6


def test_the_point_can_be_drawn_back_and_forth():
    """Drawing the point to another distance and back again changes nothing."""
    piece = front("bust")
    again = draw_point_to(draw_point_to(piece, "bust-left", 40.0), "bust-left", 25.0)
    for line in piece.ring:
        assert line.path.same_as(again.line(line.name).path, 1e-6)


def test_truing_twice_is_truing_once():
    """A trued mouth is left as it is."""
    piece = front("bust")
    assert true_mouth(piece, "bust-left") is piece or all(
        line.path.same_as(true_mouth(piece, "bust-left").line(line.name).path, 1e-9) for line in piece.ring
    )


def test_a_way_that_meets_another_dart_is_refused():
    """The straight way from the place to the apex must lie in the cloth, and not over a dart."""
    piece = front("bust", "waist")
    with pytest.raises(GeometryError, match="leave the piece or cross another dart"):
        open_at(piece, "bust-left", Place("side-right/b", 30.0))


def test_a_dart_within_the_piece_has_no_mouth_to_turn():
    """Only darts at an edge are turned."""
    with pytest.raises(GeometryError, match="fish-eye"):
        open_at(with_slits(plain(Face.FRONT)), "waist-front-left", Place("side-left", 50.0))


def test_levels_are_parted_and_joined_with_the_cloth():
    """The bust level, which runs through the apex, stays one line and as long, wherever the dart is turned."""
    piece = front("bust")
    for line, share in (("shoulder-left", 0.5), ("waist-left", 0.4), ("armhole-left", 0.6)):
        turned = open_at(piece, "bust-left", place(piece, line, share))
        assert _bust(turned) == pytest.approx(_bust(piece), abs=1e-6)
        assert Point(*turned.drills[0].at).near(APEX, 1e-9)
