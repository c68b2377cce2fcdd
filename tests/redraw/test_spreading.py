"""Slash and spread: it moves only what it says, and comes near the exact sector of a cone."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.errors import GeometryError
from drafting.garment import Drill, Piece
from drafting.garment.carry import with_only
from drafting.garment.places import Place
from drafting.geometry import Path, Point, bends_back, turn
from drafting.redraw.letting_in import Fan, let_in, place_across
from drafting.redraw.spreading import Slash, spread_piece
from tests.redraw.sheets import sheet
from tests.redraw.test_parting import slit_piece

LAW = settings(max_examples=25, derandomize=True, deadline=None)
HOLD = Place("inner", 300.0)


def even(width: float, height: float, count: int, angle: float) -> Piece:
    """A rectangle spread evenly from its hem about pivots on its top, by an angle in all."""
    places = [width * (k + 0.5) / count for k in range(count)]
    slashes = [Slash(Place("hem", x), Place("top", width - x), angle / count) for x in places]
    return spread_piece(sheet(width, height), slashes, Place("inner", height / 2.0))


@LAW
@given(st.floats(200.0, 600.0), st.floats(200.0, 900.0), st.integers(4, 12), st.floats(0.05, 1.2))
def test_a_spread_rectangle_is_a_sector_of_a_cone(width: float, height: float, count: int, angle: float) -> None:
    """Plane geometry: the hem's arc is radius x angle, with the radius width / angle + height.

    Parts that hang square to an arc touch a circle a little smaller: width x angle^2 / (12 count^2) shorter (derived
    from tan x = x + x^3 / 3); a single cubic follows the arc to the last 1/4 mm.
    """
    made = even(width, height, count, angle)
    arc = (width / angle + height) * angle
    got = made.line("hem").path.length
    assert got == pytest.approx(arc - width * angle**2 / (12.0 * count**2), abs=0.25)
    assert got == pytest.approx(arc, abs=0.25 + width * angle**2 / (12.0 * count**2))
    assert len(made.line("hem").path.segments) == 1
    assert bends_back(made.line("hem").path) == 0


@LAW
@given(st.integers(2, 10), st.floats(-0.3, 0.9))
def test_lines_that_are_not_opened_keep_their_lengths(count: int, angle: float) -> None:
    """The sides move rigidly and the bent top is drawn for its old length; what is held is the same line."""
    old, made = sheet(), even(400.0, 600.0, count, angle)
    for name in ("outer", "top", "inner"):
        assert made.line(name).path.length == pytest.approx(old.line(name).path.length, abs=1e-9)
    assert made.line("outer").path.is_straight
    assert made.line("inner").path == old.line("inner").path


@LAW
@given(st.integers(2, 10), st.floats(0.05, 0.9))
def test_corners_keep_their_angles(count: int, angle: float) -> None:
    """A hem and a top that were square to the sides are square to them after: to 2 degrees, half of what shows."""
    made = even(400.0, 600.0, count, angle)
    for line, following in zip(made.ring, made.ring[1:] + made.ring[:1], strict=True):
        corner = turn(line.path.tangent(line.path.length), following.path.tangent(0.0))
        assert corner == pytest.approx(math.pi / 2.0, abs=math.radians(2.1))
    hem, outer = made.line("hem").path, made.line("outer").path
    assert turn(hem.tangent(hem.length), outer.tangent(0.0)) == pytest.approx(math.pi / 2.0, abs=1e-9)


def test_one_slash_turns_the_part_beyond_it_rigidly_about_its_pivot() -> None:
    """From the middle of the hem to the upper corner: the outer side turns by the angle about the corner."""
    angle = 0.1
    made = spread_piece(sheet(), [Slash(Place("hem", 200.0), Place("outer", 600.0), angle)], HOLD)
    pivot = Point(400.0, 600.0)
    assert made.line("outer").path.start.near(pivot + (Point(400.0, 0.0) - pivot).turned(angle))
    assert made.line("outer").path.end.near(pivot)
    assert made.line("top").path == sheet().line("top").path


def test_slashes_in_sequence_add_their_turns() -> None:
    """Two slashes about one pivot turn what lies beyond both by the sum."""
    cuts = [Slash(Place("hem", x), Place("outer", 600.0), 0.05) for x in (100.0, 250.0)]
    made = spread_piece(sheet(), cuts, HOLD)
    way = made.line("outer").path.tangent(1.0)
    assert turn(Point(0.0, 1.0), way) == pytest.approx(0.1, abs=1e-12)
    other = spread_piece(sheet(), cuts[::-1], HOLD)
    assert other.line("hem").path.same_as(made.line("hem").path)


def test_what_is_held_may_lie_on_either_side() -> None:
    """Held on the outer side, the inner side turns, by the mirror image of the same spread."""
    cut = [Slash(Place("hem", 200.0), Place("top", 200.0), 0.1)]
    one, two = spread_piece(sheet(), cut, Place("inner", 300.0)), spread_piece(sheet(), cut, Place("outer", 300.0))
    moved = one.line("outer").path.start
    assert two.line("inner").path.end.near(Point(400.0 - moved.x, moved.y))
    assert two.line("outer").path == sheet().line("outer").path


def test_marks_and_darts_go_with_their_part() -> None:
    """The mark beyond the slash turns with it; the dart, held, stays as it is, and no slash may run over it."""
    piece = with_only(slit_piece(), Drill, sheet().drills)
    made = spread_piece(piece, [Slash(Place("hem", 300.0), Place("top", 100.0), 0.1)], HOLD)
    pivot = Point(300.0, 600.0)
    assert made.drills[0].at.near(pivot + (Point(320.0, 480.0) - pivot).turned(0.1))
    assert made.slits == piece.slits
    with pytest.raises(GeometryError, match="over a dart"):
        spread_piece(piece, [Slash(Place("hem", 200.0), Place("top", 200.0), 0.1)], HOLD)


@LAW
@given(st.integers(1, 8), st.floats(0.05, 0.6))
def test_levels_are_bridged_where_they_are_cut(count: int, angle: float) -> None:
    """Half way down a spread lets in half: stretches and chords, 2 h sin(half a turn) each."""
    made = even(400.0, 600.0, count, angle)
    gaps = count * 2.0 * 300.0 * math.sin(angle / count / 2.0)
    assert made.levels[0].path.length == pytest.approx(400.0 + gaps, abs=0.3)
    assert made.adjusts[0].path.is_straight


@LAW
@given(st.integers(2, 8), st.floats(5.0, 200.0))
def test_parallel_spreading_widens_all_alike(count: int, by: float) -> None:
    """Moved apart, a rectangle is a wider rectangle."""
    cuts = tuple((Place("top", 400.0 - x), Place("hem", x)) for x in (400.0 * (k + 0.5) / count for k in range(count)))
    made = let_in(sheet(), [Fan(cuts, ("top",), by, parallel=True)], HOLD)
    for name, length in (("top", 400.0 + by), ("hem", 400.0 + by), ("outer", 600.0), ("inner", 600.0)):
        assert made.line(name).path.length == pytest.approx(length, abs=2e-3)
    assert made.levels[0].path.length == pytest.approx(400.0 + by, abs=1e-6)
    assert made.outline.area == pytest.approx((400.0 + by) * 600.0, rel=1e-4)


@LAW
@given(st.floats(10.0, 150.0), st.floats(10.0, 150.0))
def test_letting_in_twice_lets_in_the_sum(a: float, b: float) -> None:
    """By a and then by b, an edge grows by a + b."""
    cuts = tuple((Place("hem", x), Place("top", 400.0 - x)) for x in (50.0, 150.0, 250.0, 350.0))
    once = let_in(sheet(), [Fan(cuts, ("hem",), a)], HOLD)
    length = once.line("hem").path.length
    more = tuple((Place("hem", length * t), Place("top", 400.0 * (1.0 - t))) for t in (0.125, 0.375, 0.625, 0.875))
    twice = let_in(once, [Fan(more, ("hem",), b)], HOLD)
    assert twice.line("hem").path.length == pytest.approx(400.0 + a + b, abs=3e-3)


def test_what_cannot_be_spread_is_refused_in_words() -> None:
    """Crossing slashes, a slash along the edge, an opening wider than the slash is long, one that ends in a spike."""
    crossing = [
        Slash(Place("hem", 100.0), Place("top", 100.0), 0.1),
        Slash(Place("hem", 300.0), Place("top", 300.0), 0.1),
    ]
    with pytest.raises(GeometryError, match="cross each other"):
        spread_piece(sheet(), crossing, HOLD)
    with pytest.raises(GeometryError, match="another edge"):
        spread_piece(sheet(), [Slash(Place("hem", 100.0), Place("hem", 300.0), 0.1)], HOLD)
    with pytest.raises(GeometryError, match="can't be opened"):
        let_in(sheet(), [Fan(((Place("hem", 200.0), Place("top", 200.0)),), ("hem",), 900.0)], HOLD)
    with pytest.raises(GeometryError, match="bent to a corner"):
        let_in(sheet(), [Fan(((Place("hem", 200.0), Place("top", 200.0)),), ("hem",), 300.0)], HOLD)


def test_a_slash_finds_the_edge_across() -> None:
    """Along the grain from the hem to the top, and back."""
    assert place_across(sheet(), Place("hem", 100.0), Point(0.0, 1.0)) == Place("top", pytest.approx(300.0))
    assert place_across(sheet(), Place("top", 300.0), Point(0.0, 1.0)) == Place("hem", pytest.approx(100.0))


def test_a_curved_pivot_edge_stays_fair() -> None:
    """A hollow top keeps its one bend when it is bent further."""
    hollow = Path.cubic(Point(400, 600), Point(300, 500), Point(100, 500), Point(0, 600))
    old = sheet()
    piece = replace(old, ring=tuple(replace(ln, path=hollow) if ln.name == "top" else ln for ln in old.ring))
    cuts = [
        Slash(Place("hem", x), place_across(piece, Place("hem", x), Point(0, 1)), 0.05)
        for x in (60.0, 140.0, 260.0, 340.0)
    ]
    made = spread_piece(piece, cuts, HOLD).line("top").path
    assert made.length == pytest.approx(hollow.length, abs=1e-9)
    assert bends_back(made) == 0
