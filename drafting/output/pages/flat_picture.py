"""The flat on the start page: the garment from in front and from behind, as it will look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.flat import FlatKind, FlatView
from drafting.output.pdf.document import Document
from drafting.output.pdf.flow import Box
from drafting.output.pdf.operators import fill_ink, num, pen
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.pictures.flat import FILLS, PENS, FlatPicture, PlacedView, place_views, tint_of
from drafting.tolerance import TOLERANCE

_HIGH: Final = 62.0
"""Height of the flat on a start page at most (mm)."""

_PER_MM: Final = 12
"""Steps of a mm in which points are written, as whole numbers: a printer dot of 300 to the inch each."""

_HEAD, _WORDS = 5.0, 7.0

PALE, PALE_PEN = 0.55, 0.18
"""The least grey (1 is white) and the widest pen (mm) of a flat in which something else is to stand out."""

DOTTED: Final = "; dotted: as it was"


def flat_height(info: PrintInfo, box: Box) -> float:
    """Return how high the flat is in a box (mm), with its heading and its words."""
    return _HEAD + _fit(info, box).height + _WORDS


def draw_flat_picture(document: Document, info: PrintInfo, box: Box) -> None:
    """Draw the flat at the top of a box."""
    picture = _fit(info, box)
    dotted = any(shape.kind is FlatKind.BEFORE for view in info.flat for shape in view.shapes)
    document.text("The garment" + DOTTED * dotted, box.x0, box.top - 3.2, 10.0)
    draw_views(document, picture, box.x0, box.top - _HEAD - picture.height)


def draw_views(document: Document, picture: FlatPicture, x: float, foot: float) -> None:
    """Draw placed views with their lower left corner at a place on the page (mm), and below each which face it is."""
    document.ops(f"q {_frame(x, foot)}")
    for placed in picture.views:
        document.ops(" ".join(_view_ops(placed)))
    document.ops("Q")
    _name_views(document, picture, x, foot)


def store_views(document: Document, name: str, picture: FlatPicture) -> None:
    """Store placed views once, thin and pale, for ``point_out`` to draw on pages in mm with something marked."""
    operators = (" ".join(_view_ops(placed, pale=True)) for placed in picture.views)
    document.form(name, (-1.0, -1.0, picture.width + 1.0, picture.height + 1.0), [_frame(), *operators], metric=True)


def point_out(
    document: Document, name: str, picture: FlatPicture, marked: Sequence[FlatView], x: float, foot: float
) -> None:
    """Draw stored views at a place on the page (mm), and over them what is marked in the same views of a step."""
    document.ops(f"q 1 0 0 1 {num(x)} {num(foot)} cm")
    document.show(name)
    document.ops(_frame())
    for placed, view in zip(picture.views, marked, strict=True):
        document.ops(" ".join(_view_ops(replace(placed, view=view), FlatKind.MARKED)))
    document.ops("Q")
    _name_views(document, picture, x, foot)


def _frame(x: float = 0.0, foot: float = 0.0) -> str:
    """The operator that sets the origin at a place (mm) and the steps in which points are written."""
    return f"{1.0 / _PER_MM} 0 0 {1.0 / _PER_MM} {num(x)} {num(foot)} cm"


def _name_views(document: Document, picture: FlatPicture, x: float, foot: float) -> None:
    for placed in picture.views:
        left, _, right, _ = placed.view.bounds
        middle = x + placed.x + (left + right) / 2.0 * placed.scale
        document.text_about(str(placed.view.face), middle, foot - 3.6, 8.0)


def _fit(info: PrintInfo, box: Box) -> FlatPicture:
    return place_views(info.flat, box.x1 - box.x0, _HIGH)


def _view_ops(placed: PlacedView, only: FlatKind | None = None, *, pale: bool = False) -> Iterator[str]:
    """The operators of a view, or of one kind of its shapes; a pen is taken up only where it isn't in hand."""
    held, filled = "", ""
    for shape, points in placed.shapes(only):
        steps = (points * _PER_MM + TOLERANCE.off_edge).round().astype(int).tolist()
        path = " ".join(f"{x} {y} {'l' if i else 'm'}" for i, (x, y) in enumerate(steps))
        if shape.kind in FILLS:
            ink = fill_ink(None if pale else tint_of(shape), FILLS[shape.kind])
            yield f"{path} f" if ink == filled else f"{ink} {path} f"
            filled = ink
            continue
        width, grey, dash = PENS[shape.kind]
        if pale:
            width, grey = min(width, PALE_PEN), max(grey, PALE)
        taken = pen(width * _PER_MM, grey, [each * _PER_MM for each in dash], not dash)
        yield f"{path} S" if taken == held else f"{taken} {path} S"
        held = taken
