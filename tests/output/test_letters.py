"""Any name in any script prints."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pikepdf
import pytest
import reportlab
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.output import PrintInfo, draw_sheet, missing_characters, pattern_pdf, text_width
from drafting.output.pdf import shaping
from drafting.output.pdf import text as letters
from drafting.output.pdf.scripts import join_letters, order_visually
from drafting.output.pdf.text import CORE, WHOLE, LetterOutlines, TextRun, typeset
from drafting.paper import PaperPlan, plan_sheet
from drafting.text import clean_line
from tests.output.pieces import sleeve
from tests.output.rendered import picture, words


def test_latin_greek_and_cyrillic_come_from_the_small_font() -> None:
    """The fast way is taken for most names."""
    for name in ("Zoë Ångström-Łódź", "Ελένη Παπαδοπούλου", "Ада Лавлейс", "Nguyễn Thị Ánh"):
        assert [run.font for run in typeset(name).runs if isinstance(run, TextRun)] == [CORE]
        assert missing_characters([name]) == ()


def test_right_to_left_names_are_turned() -> None:
    """Hebrew is printed from right to left, numbers in it from left to right (UAX 9)."""
    assert order_visually("\u05d0\u05d1\u05d2") == "\u05d2\u05d1\u05d0"
    assert order_visually("\u05d0\u05d1 12 \u05d2") == "\u05d2 12 \u05d1\u05d0"
    assert order_visually("\u05d0\u05d1, Alto") == "\u05d1\u05d0, Alto"
    assert order_visually("Ada \u05d0\u05d1 (x)") == "Ada \u05d1\u05d0 (x)"


def test_arabic_letters_join() -> None:
    """Initial, medial and final forms follow the neighbours; lam and alef become one letter (Unicode, 9.2)."""
    assert join_letters("\u0628\u0628\u0628") == "\ufe91\ufe92\ufe90"
    assert join_letters("\u0633\u0644\u0627\u0645") == "\ufeb3\ufefc\ufee1"
    assert join_letters("abc") == "abc"


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("\u05e9\u05e8\u05d4 12", "12 \u05d4\u05e8\u05e9"),
        ("\u0633\u0644\u0627\u0645", "\ufee1\ufefc\ufeb3"),
        ("Noor \u0646\u0648\u0631", "Noor \ufead\ufeee\ufee7"),
    ],
)
def test_names_that_run_leftwards_need_no_other_package(
    name: str, printed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the shaping engine the shipped fonts print Hebrew and Arabic, turned and joined (Unicode, 9.2)."""
    monkeypatch.setitem(sys.modules, "uharfbuzz", None)
    typeset.cache_clear()
    line = typeset(name)
    assert "".join(run.text for run in line.runs if isinstance(run, TextRun)) == printed
    assert {run.font for run in line.runs if isinstance(run, TextRun)} <= {CORE, WHOLE}
    assert line.missing == ()


def test_a_character_no_font_has_is_boxed_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing vanishes: the box shows the code point."""
    monkeypatch.setattr(letters, "_shape_if_possible", lambda text: None)
    typeset.cache_clear()
    try:
        line = typeset("A\U0001f457B")
        assert line.missing == ("\U0001f457",)
        assert any(isinstance(run, LetterOutlines) for run in line.runs)
        assert [run.text for run in line.runs if isinstance(run, TextRun)] == ["A", "1F4", "57", "B"]
    finally:
        typeset.cache_clear()


def test_letters_from_other_fonts_are_drawn_as_outlines(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a shaping engine and a font, a stretch of text becomes filled outlines of the right width.

    The font is one that comes with ReportLab: a machine may have none.
    """
    font = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
    monkeypatch.setattr(shaping, "_rank_fonts", lambda: (str(font),))
    found = shaping.shape_text.__wrapped__("Hamburg")
    assert found is not None
    assert 2.0 < found.width < 7.0
    assert found.rings.shape[1:] == (4, 2)
    assert 0.5 < found.rings[..., 1].max() < 1.2


def test_control_characters_are_left_out() -> None:
    """Names keep to one line and steer nothing."""
    assert clean_line("Ada\x00\x1b[31m\nLove\u202elace\u200b  B") == "Ada[31m Lovelace B"
    assert clean_line("x" * 10_000_000).endswith("\u2026")
    assert len(clean_line("x" * 1000)) == 160


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.text(max_size=40))
def test_any_text_can_be_measured(text: str) -> None:
    """Width is never negative and grows with size, whatever the text holds."""
    tidy = clean_line(text)
    assert text_width(tidy, 12.0) >= 0.0
    assert text_width(tidy, 12.0) == pytest.approx(2 * text_width(tidy, 6.0))


def test_width_is_what_the_font_says() -> None:
    """Against fontTools: the sum of the advances of the letters."""
    from importlib import resources

    from fontTools.ttLib import TTFont

    with resources.as_file(resources.files("drafting.output.pdf") / "fonts" / "dejavu-sans-core.ttf") as path:
        font = TTFont(path)
    advances = sum(font["hmtx"][font.getBestCmap()[ord(c)]][0] for c in "Concert top") / font["head"].unitsPerEm
    assert text_width("Concert top", 10.0) == pytest.approx(advances * 10.0 * 25.4 / 72, rel=1e-3)


def test_names_in_many_scripts_print_and_can_be_read_back() -> None:
    """Two fonts live in one file; Latin, Cyrillic and Hebrew can be found again as text."""
    name = "Zoë Ада \u05e2\u05d3\u05d4"
    info = PrintInfo("Chor", name, "K7QD")
    plan = plan_sheet((sleeve(),), PaperPlan())
    pdf = pattern_pdf(plan, info, draw_sheet(plan, info))
    assert pikepdf.open(io.BytesIO(pdf)).check_pdf_syntax() == []
    text = words(pdf, 0)
    assert "Zoë Ада" in text
    assert "\u05e2" in text
    assert (picture(pdf, 0, 100) < 128).any()
