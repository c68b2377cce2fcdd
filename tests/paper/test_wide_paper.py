"""A copy shop's wide paper: nothing is parted that fits, nothing lies beyond what is printed, little is spent."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely import Polygon, box

from drafting.errors import InputError
from drafting.paper import WidePaper, WidePlan, plan_wide, wide_paper_named
from drafting.paper.wide import EDGE
from tests.output.pieces import band, top
from tests.paper.test_nesting import polygons

NOTE = 110.0


def sheets(plan: WidePlan) -> list[Polygon]:
    """What each sheet's printer reaches, on the plan."""
    tiling, reach = plan.plan.tiling, EDGE - plan.inset
    boxes = (tiling.box(tile) for tile in tiling.tiles)
    return [box(x0 + reach, y0 + reach, x1 - reach, y1 - reach) for x0, y0, x1, y1 in boxes]


@pytest.mark.parametrize(
    ("text", "size"),
    [("A0", (841.0, 1189.0)), ("a1", (594.0, 841.0)), ("36 in", (914.4, None)), ("24 x 36 in", (609.6, 914.4))],
)
def test_wide_paper_is_named_by_sheet_or_by_the_rolls_width(text: str, size: tuple[float, float | None]) -> None:
    """ISO 216 names, a width in any unit, a sheet's two sides."""
    paper = wide_paper_named(text)
    assert (paper.width, paper.length) == size
    assert wide_paper_named("90", "cm").width == 900.0


def test_a_rolls_length_is_told_in_the_unit_of_its_width() -> None:
    """One unit in a sentence; plain figures are in the maker's."""
    assert wide_paper_named("36 in").unit_named("cm") == "in"
    assert wide_paper_named("90", "cm").unit_named("in") == "in"


@pytest.mark.parametrize("text", ["", "A4", "roll", "20 cm", "6 m", "x", "nan"])
def test_what_is_no_wide_paper_is_refused(text: str) -> None:
    """With what is allowed."""
    with pytest.raises(InputError, match="--copy-shop") as refused:
        wide_paper_named(text, where="--copy-shop")
    if text == "20 cm":
        assert "200 mm is no roll's width" in str(refused.value)


@pytest.mark.parametrize("text", ["A0", "61 cm"])
def test_what_fits_lies_whole_on_a_sheet_within_what_its_printer_reaches(text: str) -> None:
    """Pieces and the test square keep apart, checked with shapely; little of a roll is wasted."""
    plan = plan_wide(top(), wide_paper_named(text), 4.0, NOTE)
    x, y = plan.note
    shapes = [*polygons(plan.plan), box(x, y, x + NOTE, y + NOTE)]
    assert not plan.parted
    assert not plan.plan.tiling.joins()
    assert all(a.distance(b) >= 4.0 - 0.05 for a, b in combinations(shapes, 2))
    reached = sheets(plan)
    assert all(any(sheet.buffer(0.01).contains(shape) for sheet in reached) for shape in shapes)
    assert all(any(sheet.contains(shape) for shape in shapes) for sheet in reached)
    if plan.paper.length is None:
        assert plan.paper.width * plan.length < 1.5 * sum(shape.area for shape in shapes)


def test_only_a_piece_larger_than_the_paper_is_parted() -> None:
    """What is longer than an A1 sheet: those sheets are joined, and no others."""
    pieces = (*top()[2:], band("sash", "Sash", "H", 1000.0, 500.0))
    plan = plan_wide(pieces, wide_paper_named("A1"), 4.0, NOTE)
    assert plan.parted == ("hem-band", "sash")
    whole = [shape for piece, shape in zip(pieces, polygons(plan.plan), strict=True) if piece.name not in plan.parted]
    assert all(any(sheet.buffer(0.01).contains(shape) for sheet in sheets(plan)) for shape in whole)
    assert {tile for pair in plan.plan.tiling.joins() for tile in pair} < set(plan.plan.tiling.tiles)


def test_a_roll_is_printed_in_lengths_that_a_page_may_have() -> None:
    """Of 30 cm, for more than 508 cm of pieces: two lengths, each no longer than a PDF page may be."""
    pieces = [band(f"b{i}", "Band", "B", 1500.0, 180.0) for i in range(4)]
    plan = plan_wide(pieces, WidePaper("", 300.0), 4.0, NOTE)
    assert not plan.parted
    assert plan.plan.pages == 2
    assert max(plan.heights) <= 5080.0
    assert plan.length < 1.1 * 4 * 1500.0
