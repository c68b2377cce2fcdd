"""What lies within a piece goes with it: kinds of feature that the engine knows, and kinds that it doesn't."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from drafting.garment import Adjust, Drill, Garment, Level, Piece, Zone
from drafting.garment.carry import (
    AffineMotion,
    Redrawing,
    RuledMotion,
    carry_features,
    drop_features,
    exchange_feature,
    follow_edges,
    hand_on,
    join_features,
    mirror_piece,
    move_piece,
    only,
    with_features,
    with_only,
)
from drafting.garment.features import Gathers, Heir
from drafting.garment.lines import Line
from drafting.garment.places import Place
from drafting.geometry import Affine, Path, Point
from drafting.redraw.heights import HeightShift, stretch_piece
from drafting.redraw.parting import Cut, part_piece
from drafting.redraw.spreading import Slash, spread_piece
from drafting.sides import swap_sides
from tests.garment.invented import Elastic, Label, Tuck
from tests.redraw.sheets import sheet

LAW = settings(max_examples=25, derandomize=True, deadline=None)
AT = Point(320.0, 480.0)


def own(at: Point = AT) -> Piece:
    """A rectangle, 400 by 600, with features of invented kinds beside its level, line, mark and stay."""
    across = Path.straight(Point(0.0, at.y), Point(400.0, at.y))
    return with_features(sheet(), (Label("label", at), Tuck("tuck", across), Elastic("top", 8.0, "elastic")))


def label(piece: Piece) -> Point:
    """Where the label is."""
    return piece.of_kind(Label)[0].at


def tuck(piece: Piece) -> Path:
    """Where the tuck runs."""
    return piece.of_kind(Tuck)[0].path


@LAW
@given(st.floats(-3.0, 3.0), st.floats(-500.0, 500.0), st.floats(-500.0, 500.0))
def test_a_piece_is_moved_with_all_that_lies_in_it(angle: float, x: float, y: float) -> None:
    """Whatever its kind, and moved back it is where it was."""
    to = Affine.turn(angle, Point(x, y))
    made = move_piece(own(), AffineMotion(to))
    assert label(made).near(to.apply(AT), 1e-9)
    assert tuck(made).end.near(to.apply(Point(400.0, AT.y)), 1e-9)
    assert made.drills[0].at.near(to.apply(own().drills[0].at), 1e-9)
    assert label(move_piece(made, AffineMotion(Affine.turn(-angle, Point(x, y))))).near(AT, 1e-6)


@LAW
@given(st.floats(20.0, 380.0), st.floats(20.0, 580.0), st.floats(50.0, 550.0))
def test_each_part_of_a_cut_piece_keeps_what_lies_in_it(x: float, y: float, height: float) -> None:
    """A point goes to one part only; a line across the cut is parted, what lies along an edge goes with that."""
    piece = own(Point(x, y))
    cut = Cut(Place("inner", 300.0), Place("outer", height), Path.straight(Point(0.0, 300.0), Point(400.0, height)),
              "yoke", ("upper", "Upper"), ("lower", "Lower"))  # fmt: skip
    parts = part_piece(Garment((piece,)), "front", cut, "yoke").pieces
    rises = y - 300.0 - (height - 300.0) * x / 400.0
    assume(abs(rises) > 1e-6)
    above = rises > 0.0
    assert [len(each.of_kind(Label)) for each in parts] == [int(above), int(not above)]
    assert sum(t.path.length for each in parts for t in each.of_kind(Tuck)) == pytest.approx(400.0)
    assert all(t.depth == 5.0 for each in parts for t in each.of_kind(Tuck))
    assert [len(each.of_kind(Elastic)) for each in parts] == [1, 0]


def test_a_label_goes_with_its_part_of_a_spread_piece() -> None:
    """As the mark beside it does; a tuck that was cut is bridged, and ends on the edges."""
    slash = Slash(Place("hem", 200.0), Place("top", 200.0), 0.1)
    made = spread_piece(own(), (slash,), Place("inner", 300.0))
    assert label(made).near(made.drills[0].at)
    assert not label(made).near(AT, 10.0)
    assert all(made.outline.nearest(end)[1] < 0.1 for end in (tuck(made).start, tuck(made).end))


@LAW
@given(st.floats(20.0, 580.0), st.floats(-80.0, 120.0))
def test_a_label_goes_down_with_the_cloth_that_is_drawn_out(y: float, by: float) -> None:
    """Above the region it stays, below it moves by all, within it by its share."""
    made = stretch_piece(own(Point(200.0, y)), HeightShift(400.0, 200.0, by))
    share = min(max((400.0 - y) / 200.0, 0.0), 1.0)
    assert label(made).near(Point(200.0, y - by * share), 1e-6)
    assert tuck(made).start.near(Point(0.0, y - by * share), 1e-6)


def test_what_ends_on_an_edge_that_is_drawn_anew_ends_on_it_still() -> None:
    """A tuck is drawn on to a side let out, and cut back with one taken in; a label stays on its cloth."""
    for by in (12.0, -9.0):
        piece = own()
        ring = tuple(_let_out(line, by) for line in piece.ring)
        made = follow_edges(piece, replace(piece, ring=ring))
        assert tuck(made).end.near(Point(400.0 + by, AT.y), 1e-6)
        assert tuck(made).start == tuck(piece).start
        assert label(made) == AT


def _let_out(line: Line, by: float) -> Line:
    ends = (Point(p.x + by if p.x == 400.0 else p.x, p.y) for p in (line.path.start, line.path.end))
    return replace(line, path=Path.straight(*ends)) if line.name in ("outer", "hem", "top") else line


class _Image:
    """The image of what lies in a sheet, on the other side of x = 0."""

    def point(self, at: Point) -> Point:
        return Point(-at.x, at.y)

    def path(self, path: Path) -> Path:
        return path.mirrored().reversed()

    def name(self, name: str) -> str:
        return swap_sides(name)

    def line(self, line: Line) -> Line:
        return replace(line, path=self.path(line.path))

    def words(self, words: str) -> str:
        return words


def test_a_piece_mirrored_twice_is_itself() -> None:
    """Features too, of any kind; those of a pair keep left and right in the order they had."""
    pair = (Label("label-left", Point(10.0, 20.0)), Label("label-right", Point(30.0, 40.0)))
    piece = with_features(own(), pair)
    once = mirror_piece(piece, _Image())
    assert [(each.name, each.at.x) for each in once.of_kind(Label)[1:]] == [
        ("label-left", -30.0),
        ("label-right", -10.0),
    ]
    assert label(once) == Point(-AT.x, AT.y)
    assert mirror_piece(once, _Image()) == piece


@LAW
@given(st.floats(0.05, 0.95))
def test_what_lies_along_a_line_goes_to_the_heirs_of_that_line(share: float) -> None:
    """Parted and joined again, a strip covers what it covered; its kind and what else it says are kept."""
    piece = own()
    parted = hand_on(piece, {"top": (Heir("top/a", 0.0, share), Heir("top/b", share, 1.0))})
    assert {each.line for each in parted.of_kind(Elastic)} == {"top/a", "top/b"}
    back = {"top/a": (Heir("top", start=0.0, end=share),), "top/b": (Heir("top", start=share, end=1.0),)}
    again = join_features(hand_on(parted, back), lambda one, two: None)
    assert [type(each) for each in again.zones] == [Zone, Elastic]
    for old, new in zip(piece.zones, again.zones, strict=True):
        assert (new.width, new.reason) == (old.width, old.reason)
        assert (new.start, new.end) == pytest.approx((old.start, old.end))


def test_lines_that_run_on_in_each_other_are_one() -> None:
    """Where they are of one kind and say the same; a level and a tuck stay two."""
    a, b, c = (Point(x, 50.0) for x in (0.0, 100.0, 400.0))
    piece = with_features(sheet(), (Tuck("t", Path.straight(a, b)), Tuck("t", Path.straight(b, c)),
                                    Tuck("t", Path.straight(b, c), 7.0), Level("t", Path.straight(b, c))))  # fmt: skip
    made = join_features(piece, lambda one, two: Path.join(one, two) if one.end.near(two.start) else None)
    assert [(each.path.length, each.depth) for each in made.of_kind(Tuck)] == [(400.0, 5.0), (300.0, 7.0)]
    assert [level.path.length for level in made.levels if level.name == "t"] == [300.0]


def test_features_are_added_taken_away_and_exchanged() -> None:
    """In their places; a piece of which nothing is meant is the very same."""
    piece, new = own(), Label("other", AT)
    assert exchange_feature(piece, piece.of_kind(Label)[0], new).of_kind(Label) == (new,)
    assert drop_features(piece, lambda each: isinstance(each, Tuck)).of_kind(Tuck) == ()
    assert drop_features(piece, lambda each: False) is piece
    assert carry_features(piece, AffineMotion(Affine())) is piece
    assert with_only(piece, Drill, (Drill("one", AT),)).drills == (Drill("one", AT),)
    assert piece.levels == sheet().levels


def test_a_ruled_line_is_straight_again() -> None:
    """A motion that bends lines leaves straight ones straight between their new ends where they are ruled."""
    bow = Redrawing(lambda p: Path.cubic(p.start, p.start + Point(50.0, 40.0), p.end + Point(-50.0, 40.0), p.end))
    soft, ruled = (carry_features(own(), each, only(Adjust)).adjusts[0].path for each in (bow, RuledMotion(bow)))
    assert not soft.is_straight
    assert ruled.is_straight
    assert math.isclose(ruled.length, 400.0)


def test_gathers_are_shared_by_the_parts_of_their_line() -> None:
    """All of them together are as many, each part's those of its own stretch; joined again, none is lost."""
    piece = with_features(sheet(), (Gathers("top", 60.0, 0.2, 0.8),))
    parts = (Heir("one", 0.0, 0.4), Heir("two", 0.4, 1.0))
    apart = hand_on(piece, {"top": parts})
    assert [(each.line, each.by) for each in apart.of_kind(Gathers)] == [
        ("one", pytest.approx(20.0)),
        ("two", pytest.approx(40.0)),
    ]
    joined = hand_on(apart, {"one": (Heir("all", end=0.5),), "two": (Heir("all", start=0.5),)})
    assert sum(each.by for each in joined.of_kind(Gathers)) == pytest.approx(60.0)
