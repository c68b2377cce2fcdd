"""What a maker is told of the drawing."""

from __future__ import annotations

from dataclasses import replace

from drafting.finishing import CutPiece
from drafting.output import PrintInfo, draw_sheet, remarks
from drafting.output.pictures.names import LostName
from drafting.paper import PaperPlan, plan_sheet
from tests.output.pieces import MARK, sleeve, top

INFO = PrintInfo("Concert top", "Alto", MARK)


def told(
    pieces: tuple[CutPiece, ...],
    info: PrintInfo = INFO,
    crowded: tuple[str, ...] = (),
    lost: tuple[LostName, ...] = (),
) -> tuple[str, ...]:
    plan = plan_sheet(pieces, PaperPlan())
    drawing = draw_sheet(plan, info)
    return remarks(plan, info, replace(drawing, crowded=crowded or drawing.crowded, lost=lost or drawing.lost))


def test_a_good_drawing_says_nothing() -> None:
    """No note where every label found room and every character a font."""
    assert told(top()) == ()


def test_pieces_without_room_for_their_label_are_named() -> None:
    """By code and title, as on the piece list."""
    (note,) = told((sleeve(),), crowded=("sleeve",))
    assert "C Sleeve" in note


def test_lines_without_room_for_their_name_are_told() -> None:
    """Each with its piece, and the page where it begins."""
    (note,) = told((sleeve(),), lost=(LostName("sleeve", "level", "upper arm"), LostName("sleeve", "grain", "grain")))
    assert "upper arm on C Sleeve, grain on C Sleeve" in note
    plan = plan_sheet((sleeve(),), PaperPlan())
    last = plan.tiling.tiles[-1]
    x, y, _, _ = plan.tiling.box(last)
    (note,) = told((sleeve(),), lost=(LostName("sleeve", "zone", "stay-stitch", (x + 1.0, y + 1.0)),))
    assert f"stay-stitch on C Sleeve (page {last.name})" in note
    assert "key" in note


def test_characters_that_no_font_has_are_told_with_the_mend() -> None:
    """By character and code point, once each, wherever they stand."""
    lacking = "\U0010fffd"  # for private use: no font at hand has it
    (note,) = told((replace(sleeve(), labels=(f"{lacking}{lacking}",)),), PrintInfo("Top", lacking, MARK))
    assert note.count("U+10FFFD") == 1
    assert "blockwright[scripts]" in note
