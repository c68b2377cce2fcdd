"""Letters: any name in any script prints.

Most text is set in a small font that loads fast; what it lacks comes from the whole font, then, if a shaping engine
is installed, as outlines from any font on the machine; a character that nothing has is drawn as a box with its code
point, so that nothing vanishes.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from drafting.output.pdf.ink import POINT, Floats
from drafting.output.pdf.scripts import join_letters, order_visually, reads_leftwards
from drafting.record import dataclass

if TYPE_CHECKING:
    from drafting.output.pdf.shaping import Shaped

CORE: Final = "BlockwrightSans"
WHOLE: Final = "BlockwrightSansWhole"
_FILES: Final = {CORE: "dejavu-sans-core.ttf", WHOLE: "dejavu-sans.ttf"}

ASCENT: Final = 0.76
"""Height of capitals and tall letters above the base line, in sizes."""
DESCENT: Final = 0.24
"""Depth of letters below the base line, in sizes."""


@dataclass(frozen=True, slots=True)
class TextRun:
    """Letters of one font in the order they are printed, at ``x`` and ``y`` in sizes.

    ``scale`` times the size.
    """

    font: str
    text: str
    x: float
    y: float = 0.0
    scale: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class LetterOutlines:
    """Letters as filled outlines: cubics, shape (n, 4, 2), in sizes."""

    rings: Floats


@dataclass(frozen=True, slots=True, eq=False)
class TextLine:
    """A line of text ready to print: its runs and its width, both for a size of 1.

    ``missing`` are the characters no font has.
    """

    runs: tuple[TextRun | LetterOutlines, ...]
    width: float
    missing: tuple[str, ...] = ()


def text_width(text: str, size: float) -> float:
    """Return how wide a line of text of ``size`` points prints (mm)."""
    return typeset(text).width * size * POINT


@lru_cache(maxsize=2)
def font(name: str) -> Any:
    """Load and register one of the shipped fonts; returns reportlab's font object."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    loaded = TTFont(name, str(Path(__file__).with_name("fonts") / _FILES[name]), asciiReadable=True)
    pdfmetrics.registerFont(loaded)
    return loaded


@lru_cache(maxsize=4096)
def typeset(text: str) -> TextLine:
    """Return a line of text as runs in printing order."""
    widths = list(map(font(CORE).face.charWidths.get, map(ord, text)))
    if None not in widths:
        return TextLine((TextRun(CORE, text, 0.0),) if text else (), sum(widths) / 1000.0)
    shown = order_visually(join_letters(text)) if reads_leftwards(text) else text
    return _in_several_fonts(shown)


def missing_characters(texts: Iterable[str]) -> tuple[str, ...]:
    """Return the characters of some texts that no font at hand has, each once, in order."""
    return tuple(dict.fromkeys(c for text in texts for c in typeset(text).missing))


def _in_several_fonts(text: str) -> TextLine:
    runs: list[TextRun | LetterOutlines] = []
    lacking: list[str] = []
    x = 0.0
    for name, part in _parts(text):
        if name:
            runs.append(TextRun(name, part, x))
            x += sum(font(name).face.charWidths[ord(c)] for c in part) / 1000.0
            continue
        shaped = _shape_if_possible(part)
        if shaped is not None:
            runs.append(LetterOutlines(shaped.rings + np.array((x, 0.0))))
            x += shaped.width
            continue
        for c in part:
            runs.extend(_box(c, x))
            x += _BOX_WIDTH
            lacking.append(c)
    return TextLine(tuple(runs), x, tuple(dict.fromkeys(lacking)))


def _parts(text: str) -> list[tuple[str, str]]:
    """Split text by the font that has it: the small one, the whole one, or "" for none.

    Marks stay with what they mark.
    """
    parts: list[tuple[str, str]] = []
    for c in text:
        name = next((n for n in (CORE, WHOLE) if ord(c) in font(n).face.charWidths), "")
        if parts and parts[-1][0] == "" and (unicodedata.category(c).startswith("M") or c in "\u200c\u200d"):
            name = ""
        if parts and parts[-1][0] == name:
            parts[-1] = (name, parts[-1][1] + c)
        else:
            parts.append((name, c))
    return parts


def _shape_if_possible(text: str) -> Shaped | None:
    try:
        from drafting.output.pdf.shaping import shape_text
    except ImportError:
        return None
    return shape_text(text)


_BOX_WIDTH: Final = 1.0


def _box(character: str, x: float) -> list[TextRun | LetterOutlines]:
    """Return a box with the character's code point in two rows of small digits."""
    from drafting.output.pdf.ink import lines

    low, high, left, right, wall = -0.12, 0.74, x + 0.06, x + 0.94, 0.04
    outer = lines([(left, low), (right, low), (right, high), (left, high), (left, low)])
    a, b, c, d = left + wall, right - wall, low + wall, high - wall
    inner = lines([(a, c), (a, d), (b, d), (b, c), (a, c)])
    code = f"{ord(character):04X}"
    half = (len(code) + 1) // 2
    widths = font(CORE).face.charWidths
    rows = []
    for row, y in ((code[:half], 0.36), (code[half:], -0.02)):
        wide = sum(widths[ord(digit)] for digit in row) / 1000.0 * 0.38
        rows.append(TextRun(CORE, row, (left + right - wide) / 2, y, 0.38))
    return [LetterOutlines(np.concatenate([outer, inner])), *rows]
