"""Letters that the shipped fonts lack, as outlines from a font on the machine.

Needs the optional package uharfbuzz.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from functools import lru_cache
from importlib.metadata import entry_points
from importlib.util import find_spec
from pathlib import Path as File
from typing import Any

import numpy as np
import uharfbuzz as hb

from drafting.output.pdf.ink import Floats
from drafting.record import dataclass

_MOST_FONTS = 400


@dataclass(frozen=True, slots=True, eq=False)
class Shaped:
    """Filled outlines of a stretch of text, cubics of shape (n, 4, 2), and its width, for a size of 1."""

    rings: Floats
    width: float


@lru_cache(maxsize=256)
def shape_text(text: str) -> Shaped | None:
    """Return a stretch of text shaped and drawn in the first font on the machine that has all of it.

    None if none has.
    """
    wanted = {ord(c) for c in text if c not in "\u200c\u200d\ufe0e\ufe0f"}
    for path in _rank_fonts():
        face = _face(path)
        if face is not None and wanted <= _covered_characters(path):
            return _draw_glyphs(face, text)
    return None


@lru_cache(maxsize=1)
def _rank_fonts() -> tuple[str, ...]:
    """Return font files, plain sans-serif ones first, always in the same order."""
    found = []
    for folder in _folders():
        for file in folder.rglob("*"):
            if file.suffix.lower() in (".ttf", ".otf", ".ttc"):
                found.append(str(file))
    return tuple(sorted(set(found), key=_rank)[:_MOST_FONTS])


def _rank(path: str) -> tuple[int, int, str]:
    name = File(path).stem.lower()
    heavy = any(word in name for word in ("bold", "italic", "oblique", "light", "thin", "black", "mono", "condensed"))
    return int(heavy), int("sans" not in name), path


def _folders() -> list[File]:
    """Return the folders that hold fonts: those of installed font packages, then the system's."""
    home = File.home()
    if sys.platform == "win32":
        system = [File(os.environ.get("WINDIR", "C:/Windows")) / "Fonts"]
    elif sys.platform == "darwin":
        system = [File("/System/Library/Fonts"), File("/Library/Fonts"), home / "Library/Fonts"]
    else:
        shared = [File("/usr/share/fonts"), File("/usr/local/share/fonts")]
        system = [*shared, home / ".local/share/fonts", home / ".fonts"]
    return [*_packaged_folders(), *system]


def _packaged_folders() -> Iterator[File]:
    """Yield the folders of fonts installed as Python packages that announce a font family by an entry point."""
    for entry in sorted(entry_points(group="fontpkg.family"), key=lambda entry: entry.name):
        spec = find_spec(entry.module)
        for place in (spec.submodule_search_locations or []) if spec else []:
            yield File(place)


@lru_cache(maxsize=64)
def _face(path: str) -> Any:
    try:
        return hb.Face(hb.Blob.from_file_path(path))
    except (OSError, hb.HarfBuzzError):
        return None


@lru_cache(maxsize=64)
def _covered_characters(path: str) -> frozenset[int]:
    face = _face(path)
    return frozenset(face.unicodes) if face is not None else frozenset()


def _draw_glyphs(face: Any, text: str) -> Shaped:
    font = hb.Font(face)
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    hb.shape(font, buffer)
    pen = _Pen()
    draw = hb.DrawFuncs()
    draw.set_move_to_func(lambda x, y, pen: pen.move(x, y))
    draw.set_line_to_func(lambda x, y, pen: pen.line(x, y))
    draw.set_quadratic_to_func(lambda a, b, x, y, pen: pen.bend(a, b, x, y))
    draw.set_cubic_to_func(lambda a, b, c, d, x, y, pen: pen.curve(a, b, c, d, x, y))
    draw.set_close_path_func(lambda pen: pen.close())
    for info, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        pen.origin = (pen.along + place.x_offset, place.y_offset)
        font.draw_glyph(info.codepoint, draw, pen)
        pen.along += place.x_advance
    rings = np.array(pen.segments, dtype=np.float64).reshape(-1, 4, 2) / face.upem
    return Shaped(rings, pen.along / face.upem)


class _Pen:
    """Gathers a glyph's outline as cubics."""

    __slots__ = ("along", "at", "first", "origin", "segments")

    def __init__(self) -> None:
        self.segments: list[tuple[tuple[float, float], ...]] = []
        self.origin = (0.0, 0.0)
        self.along = 0.0
        self.at = self.first = (0.0, 0.0)

    def _shift(self, x: float, y: float) -> tuple[float, float]:
        return x + self.origin[0], y + self.origin[1]

    def move(self, x: float, y: float) -> None:
        self.at = self.first = self._shift(x, y)

    def line(self, x: float, y: float) -> None:
        self._straight(self._shift(x, y))

    def _straight(self, end: tuple[float, float]) -> None:
        (x0, y0), (x1, y1) = self.at, end
        dx, dy = (x1 - x0) / 3, (y1 - y0) / 3
        self.segments.append((self.at, (x0 + dx, y0 + dy), (x1 - dx, y1 - dy), end))
        self.at = end

    def bend(self, a: float, b: float, x: float, y: float) -> None:
        (x0, y0), (cx, cy), end = self.at, self._shift(a, b), self._shift(x, y)
        one = (x0 + (cx - x0) * 2 / 3, y0 + (cy - y0) * 2 / 3)
        two = (end[0] + (cx - end[0]) * 2 / 3, end[1] + (cy - end[1]) * 2 / 3)
        self.segments.append((self.at, one, two, end))
        self.at = end

    def curve(self, *numbers: float) -> None:
        a, b, c, d, x, y = numbers
        end = self._shift(x, y)
        self.segments.append((self.at, self._shift(a, b), self._shift(c, d), end))
        self.at = end

    def close(self) -> None:
        if self.at != self.first:
            self._straight(self.first)
