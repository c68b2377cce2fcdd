"""The pattern for a projector or a screen: true to size on one page, its grain upright, calibrated by grid and bars."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pypdfium2
import pytest

from drafting.geometry import Point
from drafting.output import PrintInfo
from drafting.output.pages.screen_page import Light, draw_large, projector_pdf
from drafting.paper.upright import plan_upright
from drafting.saying import Unit
from tests.output.pieces import MARK, band, sleeve
from tests.output.rendered import labels, picture, words
from tests.output.test_printed_truth import line_at

INFO = PrintInfo("Concert top", "Alto", MARK)
LOOP = band("loop", "Loop", "B", 200.0, 26.0)
PIECES = (sleeve(), replace(LOOP, labels=("allowances included: 1 cm",)))


def test_pieces_are_as_large_as_they_are_and_their_words_larger() -> None:
    """Drawn small and enlarged, every line lies where the piece's lies, to a thousandth of a mm."""
    plan = plan_upright(PIECES)
    drawn = draw_large(plan, INFO)
    for ink, (piece, placement) in zip(drawn.pieces, plan.placed_pieces(), strict=True):
        cut = np.concatenate([stroke.segments for stroke in ink.strokes if stroke.style.kind == "cut"])
        meant = np.concatenate([placement.affine.apply_all(edge.path.segments) for edge in piece.outline])
        assert np.abs(cut - meant).max() < 1e-3
        assert placement.turn % 2 == 0
    assert min(text.size for ink in drawn.pieces for text in ink.texts) >= 15.0


def test_a_piece_on_the_bias_is_turned_upright() -> None:
    """Its grain runs up the page, and its outline is as long as it was."""
    askew = replace(PIECES[0], grain=Point(1.0, 1.0))
    (drawn,) = plan_upright((askew,)).pieces
    assert (drawn.grain.x, drawn.grain.y) == (0.0, 1.0)
    way = drawn.cut_path.end, askew.cut_path.end
    assert drawn.cut_path.length == pytest.approx(askew.cut_path.length)
    assert way[0].unit.dot(Point(0.0, 1.0)) == pytest.approx(way[1].unit.dot(askew.grain.unit))


@pytest.mark.parametrize(("light", "unit", "long"), [(Light.LINES, "cm", 500.0), (Light.GROUND, "in", 508.0)])
def test_one_page_with_bars_that_are_true(light: Light, unit: Unit, long: float) -> None:
    """As light or dark as asked, a bar of 50 cm or 20 in each way; what has no room for its label is told above."""
    pdf = projector_pdf(PIECES, replace(INFO, unit=unit), light)
    assert labels(pdf) == ["Projector"]
    told = " ".join(words(pdf, 0).split())
    for expected in (
        "Concert top",
        MARK,
        {500.0: "50 cm", 508.0: "20 in"}[long],
        "C Sleeve",
        "B Loop: cut",
        "allowances included: 1 cm",
    ):
        assert expected in told
    shown = picture(pdf, 0, 50)
    assert (np.median(shown) < 10) == (light is Light.LINES)
    ink, dots = (shown > 200 if light is Light.LINES else shown < 55), 50 / 25.4
    strip = round(80 * dots)
    for lines in (ink[-strip:, :], ink[:, :strip].T):
        ends = line_at(lines.T, 20 * dots)  # the ticks at its ends
        assert abs(max(ends) - min(ends) - long * dots) <= 2.0


def test_what_has_no_room_is_listed_below_the_cautions() -> None:
    """The rows at the head of the page don't run into each other."""
    document = pypdfium2.PdfDocument(projector_pdf(PIECES, INFO, Light.GROUND))
    text = document[0].get_textpage()
    caution, listed = (_heights(text, words) for words in ("look into the lamp", "B Loop"))
    assert caution[0] - listed[1] > (listed[1] - listed[0]) / 3.0
    document.close()


def _heights(text: pypdfium2.PdfTextPage, words: str) -> tuple[float, float]:
    """The lowest and the highest of the letters of the first place that has the words (points)."""
    found = text.search(words).get_next()
    assert found is not None
    boxes = [text.get_charbox(i) for i in range(found[0], found[0] + found[1])]
    return min(box[1] for box in boxes), max(box[3] for box in boxes)
