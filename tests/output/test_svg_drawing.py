"""The SVG file: true size, valid, grouped by piece, named by line, safe whatever the names hold."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import parse_path

from drafting.output import PrintInfo, draw_sheet, svg
from drafting.paper import PaperPlan, paper_named, plan_sheet
from drafting.units import Unit
from tests.output.pieces import MARK, sleeve, top

SVG = "{http://www.w3.org/2000/svg}"
INFO = PrintInfo("Concert top", "Alto", MARK)


@pytest.fixture(scope="module")
def root() -> ElementTree.Element:
    plan = plan_sheet(top(), PaperPlan())
    return ElementTree.fromstring(svg(INFO, draw_sheet(plan, INFO)))


def test_sheet_is_true_to_size(root: ElementTree.Element) -> None:
    """The user unit is a millimetre."""
    plan = plan_sheet(top(), PaperPlan())
    wide, high = root.get("width"), root.get("height")
    assert wide is not None
    assert float(wide.removesuffix("mm")) == pytest.approx(plan.sheet.width, abs=0.001)
    assert root.get("viewBox") == f"0 0 {wide.removesuffix('mm')} {str(high).removesuffix('mm')}"


@pytest.mark.parametrize(
    ("unit", "side", "told"), [("cm", 100.0, "10 cm"), ("mm", 100.0, "10 cm"), ("in", 101.6, "4 in")]
)
def test_a_square_below_the_sheet_is_true_in_the_makers_unit(unit: Unit, side: float, told: str) -> None:
    """Read by fontTools: as wide and as high as it says, clear of the sheet, within the drawing, a narrow one too."""
    plan = plan_sheet((sleeve(),), PaperPlan(paper_named("100 x 150 mm")))
    tree = ElementTree.fromstring(svg(replace(INFO, unit=unit), draw_sheet(plan, INFO)))
    drawn, *others = [e for e in tree.iter() if e.get("class") == "square"]
    pen = BoundsPen(None)
    parse_path(drawn.get("d", ""), pen)
    assert not others
    x0, y0, x1, y1 = pen.bounds
    left, above, wide, high = map(float, tree.get("viewBox", "").split())
    to_mm = float(tree.get("width", "").removesuffix("mm")) / wide
    assert ((x1 - x0) * to_mm, (y1 - y0) * to_mm) == pytest.approx((side, side), abs=0.001)
    assert y0 > plan.sheet.height
    assert left < x0 < x1 < left + wide
    assert above < y0 < y1 < above + high
    assert f"{told} \u00d7 {told}" in [e.text for e in tree.iter(f"{SVG}text")]


def test_one_group_a_piece(root: ElementTree.Element) -> None:
    """Ids by piece, in the pieces' order."""
    assert [group.get("id") for group in root.findall(f"{SVG}g")] == [piece.name for piece in top()]


def test_what_is_of_one_meaning_is_a_layer_of_its_piece(root: ElementTree.Element) -> None:
    """Cutting line, stitching line, grain, notches and labels are groups, named, and hold nothing else."""
    piece = next(group for group in root.findall(f"{SVG}g") if group.get("id") == "front")
    layers = {group.get("aria-label"): group for group in piece.findall(f"{SVG}g")}
    assert {"cutting line", "stitching line", "grain", "notches", "labels"} <= set(layers)
    assert {path.get("class") for path in layers["cutting line"]} == {"cut", "fold-edge"}
    assert {path.get("class") for path in layers["stitching line"]} == {"stitch"}
    assert {each.tag for each in layers["labels"]} == {f"{SVG}text"}
    assert len(layers) == len(piece) - 1, "all but its title"


def test_ids_name_piece_and_line_and_are_all_different(root: ElementTree.Element) -> None:
    """A cut edge is found by piece, kind and line."""
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert "front.cut.armhole" in ids
    assert "sleeve.grain.grain" in ids


def test_the_cut_line_is_where_the_plan_puts_it() -> None:
    """The first point of an edge, with y down, is the placed point of the piece."""
    plan = plan_sheet((sleeve(),), PaperPlan())
    tree = ElementTree.fromstring(svg(INFO, draw_sheet(plan, INFO)))
    edge = next(e for e in tree.iter() if e.get("id") == "sleeve.cut.wrist")
    x, y = edge.get("d", "").removeprefix("M").split("L")[0].split()
    at = plan.sheet.placements[0].affine.apply(sleeve().outline[0].path.start)
    assert (float(x), plan.sheet.height - float(y)) == pytest.approx((at.x, at.y), abs=0.001)


def test_hostile_names_are_escaped() -> None:
    """Markup, quotes and control characters in names do no harm."""
    nasty = '</svg><script>"x"&\x00\x1b[31m\u202e'
    piece = replace(sleeve(), name=nasty, title=nasty, how=nasty, labels=(nasty,))
    plan = plan_sheet((piece, replace(piece, code="<")), PaperPlan())
    info = PrintInfo(nasty, nasty, nasty, (nasty,))
    text = svg(info, draw_sheet(plan, info))
    tree = ElementTree.fromstring(text)
    assert not list(tree.iter(f"{SVG}script"))
    assert "\x1b" not in text
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_drawing_is_the_same_each_time() -> None:
    """The same text for the same input."""
    plan, info = plan_sheet(top(), PaperPlan()), replace(INFO, wearer="Žofie")
    one, other = (svg(info, draw_sheet(plan, info)) for _ in range(2))
    assert one == other
    assert "Žofie" in one
