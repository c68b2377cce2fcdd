"""The drawing for other programs, read by ezdxf, which is no part of how pieces are drawn."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import ezdxf
import pytest
from shapely import LineString, Polygon

from drafting.errors import InputError
from drafting.output import PrintInfo
from drafting.output.dxf import UNVERIFIED, LineLayer, dxf
from drafting.paper import PaperPlan, SheetPlan, plan_sheet
from drafting.tolerance import TOLERANCE
from tests.output.pieces import MARK, body, sleeve

INFO = PrintInfo("Concert top", "Žofie", MARK)
PIECES = (body("front", "Front", "A", 90.0, back=False), sleeve())


@pytest.fixture(scope="module")
def plan() -> SheetPlan:
    return plan_sheet(PIECES, PaperPlan())


@pytest.fixture(scope="module")
def drawing(plan: SheetPlan):
    """The file as ezdxf reads it."""
    return ezdxf.read(io.StringIO(dxf(plan, INFO).decode("cp1252")))


def test_the_auditor_finds_nothing(drawing) -> None:
    """Neither errors nor fixes; one block a piece, each placed once, on the layers told, and said unverified."""
    audit = drawing.audit()
    assert not audit.errors
    assert not audit.fixes
    placed = [each.dxf.name for each in drawing.modelspace().query("INSERT")]
    assert placed == ["FRONT", "SLEEVE"]
    told = [each.dxf.text for each in drawing.modelspace().query("TEXT")]
    assert "UNITS: METRIC" in told
    assert any(UNVERIFIED in row for row in told)
    used = {each.dxf.layer for name in placed for each in drawing.blocks[name]}
    assert used <= {layer.value for layer in LineLayer}


def test_outlines_and_stitching_lines_lie_where_ours_do(drawing, plan: SheetPlan) -> None:
    """Placed on the sheet, measured by shapely: within a printer's dot both ways; notches lie on the cut line."""
    for insert, (piece, placement) in zip(drawing.modelspace().query("INSERT"), plan.placed_pieces(), strict=True):
        parts = list(insert.virtual_entities())
        (ring,) = (
            Polygon([(v.dxf.location.x, v.dxf.location.y) for v in each.vertices])
            for each in parts
            if each.dxftype() == "POLYLINE" and each.dxf.layer == LineLayer.BOUNDARY
        )
        meant = Polygon(piece.cut_path.transformed(placement.affine).flatten(0.001))
        assert ring.exterior.hausdorff_distance(meant.exterior) < TOLERANCE.printed
        assert ring.area == pytest.approx(meant.area, rel=1e-4)
        sewn = [each for each in parts if each.dxf.layer == LineLayer.SEW]
        stitch = [mark for mark in piece.marks if mark.kind == "stitch"]
        for each, mark in zip(sewn, stitch, strict=True):
            drawn = LineString([(v.dxf.location.x, v.dxf.location.y) for v in each.vertices])
            ours = LineString(mark.path.transformed(placement.affine).flatten(0.001))
            assert drawn.hausdorff_distance(ours) < TOLERANCE.printed
        counted = [each for each in parts if each.dxf.layer == LineLayer.NOTCHES]
        assert len(counted) == sum(notch.count for notch in piece.notches)


def test_the_same_pieces_make_the_same_bytes_and_leave_no_trace(
    plan: SheetPlan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No date in it, nothing in the maker's folders."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert dxf(plan, INFO) == dxf(plan, INFO)
    assert not list(tmp_path.iterdir())


def test_without_ezdxf_it_is_told_how_to_install_it(plan: SheetPlan, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a sentence, with the extra's name."""
    monkeypatch.setitem(sys.modules, "ezdxf._options", None)
    with pytest.raises(InputError, match=r"blockwright\[dxf\]"):
        dxf(plan, INFO)
