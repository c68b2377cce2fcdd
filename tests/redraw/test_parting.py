"""Parting a piece: nothing is lost, nothing is doubled, and the two edges are sewn together again."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from drafting.errors import DraftingError
from drafting.garment import Drill, Garment, Level, Line, Piece, Role, Slit, Use, glue
from drafting.garment.carry import with_features, with_only
from drafting.geometry import Path, Point
from drafting.redraw.parting import Cut, Place, part_piece, with_split
from tests.redraw.sheets import sheet, tube

LAW = settings(max_examples=25, derandomize=True, deadline=None)
shares = st.floats(0.0, 1.0)
inner = st.floats(0.1, 0.9)
bulges = st.floats(-0.12, 0.12)
heights = st.floats(0.05, 0.95)


def across(garment: Garment, low: float, high: float, bulge: float = 0.0, name: str = "cut") -> Cut:
    """A cut over the front from its inner to its outer side, at shares of their heights."""
    front = garment.piece("front")
    one, two = front.line("inner").path, front.line("outer").path
    start, end = Place("inner", one.length * (1.0 - low)), Place("outer", two.length * high)
    a, b = one.at(start.s), two.at(end.s)
    lift = (b - a).left * bulge
    path = Path.cubic(a, a.to(b, 1 / 3) + lift, a.to(b, 2 / 3) + lift, b)
    return Cut(start, end, path, name, ("upper", "Upper"), ("front", "Front"))


@LAW
@given(inner, inner, bulges)
def test_parting_keeps_area(low: float, high: float, bulge: float) -> None:
    """The two parts cover the piece: by the engine's areas to rounding, by shapely's to the chords' error."""
    garment = tube()
    made = part_piece(garment, "front", across(garment, low, high, bulge), "cut")
    one, two = (made.piece(name) for name in ("upper", "front"))
    assert one.outline.area + two.outline.area == pytest.approx(400.0 * 600.0, abs=1e-6)
    polygons = [Polygon(piece.outline.flatten(0.001)) for piece in (one, two)]
    assert all(p.is_valid for p in polygons)
    assert polygons[0].intersection(polygons[1]).area < 1.0
    assert polygons[0].union(polygons[1]).area == pytest.approx(400.0 * 600.0, abs=1.0)


@LAW
@given(inner, inner, bulges, heights)
def test_parting_keeps_the_total_of_levels(low: float, high: float, bulge: float, at: float) -> None:
    """A level is handed on once over its whole length, also where it runs along the cut or crosses it twice."""
    front = sheet()
    level = replace(front.levels[0], path=Path.straight(Point(0.0, 600.0 * at), Point(400.0, 600.0 * at)))
    garment = tube().with_(pieces=[with_only(front, Level, (level,))])
    made = part_piece(garment, "front", across(garment, low, high, bulge), "cut")
    stretches = [lv.path.length for name in ("upper", "front") for lv in made.piece(name).levels]
    assert sum(stretches) == pytest.approx(400.0, abs=1e-6)


def test_a_level_along_the_cut_is_neither_lost_nor_doubled() -> None:
    """The level and the cut are the same line."""
    garment = tube()
    made = part_piece(garment, "front", across(garment, 0.5, 0.5), "cut")
    levels = [lv for name in ("upper", "front") for lv in made.piece(name).levels]
    assert [lv.path.length for lv in levels] == [pytest.approx(400.0)]


@LAW
@given(inner, inner, bulges)
def test_both_sides_of_the_new_seam_are_as_long(low: float, high: float, bulge: float) -> None:
    """One line makes both edges, so the seam has no ease; the garment is still one surface with its openings."""
    garment = tube()
    made = part_piece(garment, "front", across(garment, low, high, bulge), "cut")
    (section,) = made.seam("cut-front").sections
    lengths = [made.run_length(run) for run in section.plies]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-9)
    surface = glue(made)
    assert surface.components == 1
    assert surface.oriented
    assert surface.euler == 0  # a tube: 2 less two openings
    assert len(surface.openings) == 2


def test_seams_follow_the_parts_of_a_split_side() -> None:
    """The side seam runs over the lower, then the upper part; lineage is kept."""
    garment = tube()
    made = part_piece(garment, "front", across(garment, 0.5, 0.25), "cut")
    run = made.seam("left").plies[0]
    assert run == (Use("front", "outer/a"), Use("upper", "outer/b"))
    assert made.run_length(run) == pytest.approx(600.0)
    assert made.piece("upper").line("outer/b").answers_to("outer")


def test_marks_and_zones_go_with_their_part() -> None:
    """The mark lies in the upper part, and the stay on the top; what isn't touched is the same line."""
    garment = tube()
    made = part_piece(garment, "front", across(garment, 0.5, 0.5), "cut")
    upper, lower = made.piece("upper"), made.piece("front")
    assert [d.name for d in upper.drills] == ["mark"]
    assert not lower.drills
    assert upper.zones == garment.piece("front").zones
    assert upper.line("top") is garment.piece("front").line("top")


def test_a_zone_over_a_split_covers_the_same_stretch() -> None:
    """From 1/4 to 3/4 of the top, split at 40 %."""
    made = with_split(tube(), "front", "top", 160.0).piece("front")
    covered = [
        (z.line, z.start * made.line(z.line).path.length, z.end * made.line(z.line).path.length) for z in made.zones
    ]
    assert covered == [("top/a", pytest.approx(100.0), pytest.approx(160.0)), ("top/b", 0.0, pytest.approx(140.0))]


@pytest.mark.parametrize(
    ("path", "says"),
    [
        (Path.cubic(Point(0, 300), Point(100, 900), Point(300, 900), Point(400, 300)), "leaves it"),
        (Path.cubic(Point(0, 300), Point(700, 250), Point(700, 350), Point(400, 300)), "leaves it"),
    ],
)
def test_a_line_that_leaves_the_piece_is_refused(path: Path, says: str) -> None:
    """Over the top, and over the side it ends on."""
    garment = tube()
    cut = replace(across(garment, 0.5, 0.5), path=path)
    with pytest.raises(DraftingError, match=says):
        part_piece(garment, "front", cut, "cut")


def test_a_line_along_an_edge_is_refused() -> None:
    """From corner to corner along the top."""
    garment = tube()
    cut = replace(
        across(garment, 1.0, 1.0),
        path=Path.straight(Point(0, 600), Point(400, 600)),
    )
    with pytest.raises(DraftingError, match="runs along an edge"):
        part_piece(garment, "front", cut, "cut")


def test_names_that_are_taken_are_refused() -> None:
    """A part can't be called as another piece, nor an edge as another line of the piece."""
    garment = tube()
    cut = across(garment, 0.5, 0.5)
    with pytest.raises(DraftingError, match="a piece called back already"):
        part_piece(garment, "front", replace(cut, left=("back", "Back")), "cut")
    with pytest.raises(DraftingError, match="the front has a top already"):
        part_piece(garment, "front", replace(cut, name="top"), "cut")


def slit_piece() -> Piece:
    """The sheet with a dart of two points within it, and a mark at its upper point."""
    a, b, c, d = Point(200, 250), Point(190, 300), Point(200, 350), Point(210, 300)
    slit = tuple(
        Line(f"leg-{i}", Path.straight(p, q), Role.DART) for i, (p, q) in enumerate(((a, b), (b, c), (c, d), (d, a)))
    )
    return with_only(with_features(sheet(), (Slit(slit),)), Drill, (Drill("dart", c),))


def test_a_dart_within_goes_with_its_part_and_is_not_cut() -> None:
    """A line above the dart leaves it below; one through it is refused."""
    garment = tube().with_(pieces=[slit_piece()])
    made = part_piece(garment, "front", across(garment, 0.8, 0.8), "cut")
    assert made.piece("front").slits == slit_piece().slits
    assert not made.piece("upper").slits
    with pytest.raises(DraftingError, match="crosses a dart"):
        part_piece(garment, "front", across(garment, 0.5, 0.5), "cut")
