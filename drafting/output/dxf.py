"""The pieces as a DXF drawing for other programs: one block a piece, layers by what a line is for, in millimetres.

The layers are those of the AAMA and ASTM D6673 as they are remembered: nobody here has read that standard, and the
file says that it is unverified. It is written by ezdxf, which the extra "dxf" installs.
"""

from __future__ import annotations

import contextlib
import io
import logging
import os
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from enum import StrEnum
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from drafting.errors import InputError, Problem, install_words
from drafting.finishing.cutpiece import CutPiece, Notch
from drafting.geometry import Path, Point
from drafting.output.pictures.drawing import PrintInfo
from drafting.paper import SheetPlan
from drafting.seal import SEAL_ROOM
from drafting.text import clean_line
from drafting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.base import BaseLayout


class LineLayer(StrEnum):
    """What a layer holds, by its number (from memory)."""

    BOUNDARY = "1"
    TURN_POINTS = "2"
    CURVE_POINTS = "3"
    NOTCHES = "4"
    MIRROR = "6"
    GRAIN = "7"
    INTERNAL = "8"
    DRILLS = "13"
    SEW = "14"
    TEXT = "15"


_LAYERS: Final[Mapping[str, LineLayer]] = MappingProxyType(
    {"stitch": LineLayer.SEW, "grain": LineLayer.GRAIN, "on-fold": LineLayer.MIRROR, "side": LineLayer.TEXT}
)
"""Of kinds of marks; all others are internal lines."""

_LETTERS: Final = 6.0
"""Height of letters (mm)."""

_APART: Final = 4.5
"""Between the two of a double notch (mm)."""

_LONGEST_NAME: Final = 31
"""Letters of a block's name, in a drawing of this age."""

UNVERIFIED: Final = "AAMA/ASTM-STYLE DXF, UNVERIFIED"


def dxf(plan: SheetPlan, info: PrintInfo) -> bytes:
    """Return the pieces of a sheet, as they lie on it, as a DXF drawing of release 12, in mm.

    InputError where ezdxf isn't installed.
    """
    info = info.tidy()
    with _ezdxf_ready():
        from ezdxf.filemanagement import new

        drawing = new("R12")
        for layer in LineLayer:
            drawing.layers.add(layer.value)
        drawing.header["$EXTMIN"], drawing.header["$EXTMAX"] = (0, 0, 0), (plan.sheet.width, plan.sheet.height, 0)
        names = _Names()
        for piece, placement in plan.placed_pieces():
            block = drawing.blocks.new(names.new(piece.name))
            _draw_piece(block, piece)
            drawing.modelspace().add_blockref(
                block.name,
                (placement.dx, placement.dy),
                dxfattribs={"layer": LineLayer.BOUNDARY.value, "rotation": 90.0 * placement.turn},
            )
        _tell_style(drawing, info, plan.sheet.height)
        return _bytes_of(drawing)


@contextlib.contextmanager
def _ezdxf_ready() -> Iterator[None]:
    """Let ezdxf be loaded, which keeps a list of fonts, without a trace in the maker's folders, and write no date."""
    home = os.environ.get("XDG_CACHE_HOME")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = folder
        try:
            from ezdxf._options import options
        except ImportError:
            told = "ezdxf, which writes such files, isn't installed"
            raise InputError([Problem("--dxf", told, "", install_words("dxf"))]) from None
        finally:
            os.environ.pop("XDG_CACHE_HOME")
            if home is not None:
                os.environ["XDG_CACHE_HOME"] = home
    log, dated = logging.getLogger("ezdxf"), options.write_fixed_meta_data_for_testing
    level = log.level
    log.setLevel(logging.ERROR)  # it warns that a release 12 names no unit
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = dated
        log.setLevel(level)


def _bytes_of(drawing: Drawing) -> bytes:
    text = io.StringIO()
    drawing.write(text)
    return f"999\n{SEAL_ROOM}\n{text.getvalue()}".encode(drawing.output_encoding, "dxfreplace")


class _Names:
    """Gives blocks names that a drawing takes, all different."""

    def __init__(self) -> None:
        self._given: set[str] = set()

    def new(self, name: str) -> str:
        letters = (each if each.isascii() and (each.isalnum() or each == "_") else "-" for each in name.upper())
        plain = "".join(letters).strip("-")[: _LONGEST_NAME - 4] or "PIECE"
        number, found = 1, plain
        while found in self._given:
            number += 1
            found = f"{plain}-{number}"
        self._given.add(found)
        return found


def _draw_piece(block: BaseLayout, piece: CutPiece) -> None:
    """Draw a piece in its own frame: boundary with its points, notches, lines within, drill holes and words."""
    corners = [_points(edge.path) for edge in piece.outline]
    ring = [point for edge in corners for point in edge[:-1]]
    block.add_polyline2d(ring, close=True, dxfattribs={"layer": LineLayer.BOUNDARY.value})
    for edge in corners:
        block.add_point(edge[0], dxfattribs={"layer": LineLayer.TURN_POINTS.value})
        for point in edge[1:-1]:
            block.add_point(point, dxfattribs={"layer": LineLayer.CURVE_POINTS.value})
    for mark in piece.marks:
        if mark.kind != "side":
            layer = _LAYERS.get(mark.kind, LineLayer.INTERNAL)
            block.add_polyline2d(_points(mark.path), dxfattribs={"layer": layer.value})
    for at in (at for notch in piece.notches for at in _notch_points(notch, piece.side_by_fold(notch))):
        block.add_point((at.x, at.y), dxfattribs={"layer": LineLayer.NOTCHES.value})
    for _, at in piece.drills:
        block.add_point((at.x, at.y), dxfattribs={"layer": LineLayer.DRILLS.value})
    _write_rows(block, _piece_words(piece), _middle(ring))


def _points(path: Path) -> list[tuple[float, float]]:
    """Return a path as corners of straight stretches that stray from it by no more than a printer's dot."""
    return [(x, y) for x, y in path.flatten(TOLERANCE.printed / 2).tolist()]


def _notch_points(notch: Notch, side: float) -> Iterator[Point]:
    """The points of a notch; of one on the cloth's fold those on the side where the piece lies."""
    for i in range(notch.count):
        aside = (i - (notch.count - 1) / 2) * _APART
        if aside * side >= 0.0:
            yield notch.at + notch.inward.left * aside


def _piece_words(piece: CutPiece) -> Sequence[str]:
    told = (("PIECE NAME", f"{piece.code} {piece.title}"), ("QUANTITY", str(piece.quantity)))
    more = (("ANNOTATION", piece.how), ("MATERIAL", piece.cloth))
    return [f"{key}: {clean_line(words)}" for key, words in (*told, *more)]


def _tell_style(drawing: Drawing, info: PrintInfo, top: float) -> None:
    style = info.name_draft()
    rows = ("AUTHOR: Blockwright", f"STYLE NAME: {style}", "UNITS: METRIC", f"ANNOTATION: {UNVERIFIED}")
    _write_rows(drawing.modelspace(), rows, (0.0, top + 8.0 * _LETTERS))


def _write_rows(layout: BaseLayout, rows: Sequence[str], at: tuple[float, float]) -> None:
    for i, row in enumerate(rows):
        place = (at[0], at[1] - i * 1.6 * _LETTERS)
        layout.add_text(row, height=_LETTERS, dxfattribs={"layer": LineLayer.TEXT.value, "insert": place})


def _middle(ring: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)
