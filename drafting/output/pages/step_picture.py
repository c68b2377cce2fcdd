"""A step's picture in a PDF: cloth, lines and letters, cut off at their frame."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from drafting.output.layers.view import Points
from drafting.output.pdf.document import Document
from drafting.output.pdf.operators import num, pen, rectangle
from drafting.output.pictures.shapes import ClothArea, Course, Lettering, StepPicture
from drafting.output.pictures.step import EDGE

_PER_MM: Final = 20
"""Steps of a mm in which points are written, as whole numbers."""


def draw_step_picture(document: Document, picture: StepPicture, x: float, foot: float) -> None:
    """Draw a picture with its lower left corner at a place on the page (mm)."""
    document.ops(f"q {rectangle(x, foot, x + picture.width, foot + picture.height)} W n")
    document.ops(f"{1.0 / _PER_MM} 0 0 {1.0 / _PER_MM} {num(x)} {num(foot)} cm")
    for each in picture.drawn:
        if not isinstance(each, Lettering):
            document.ops(" ".join(_draw_shape(each)))
    document.ops("Q")
    for each in picture.drawn:
        if isinstance(each, Lettering):
            document.text_about(each.words, x + each.x, foot + each.y - each.size * 0.12, each.size)


def _draw_shape(shape: ClothArea | Course) -> Iterator[str]:
    """The operators of an area or a line."""
    if isinstance(shape, Course):
        yield pen(shape.width * _PER_MM, shape.grey, [d * _PER_MM for d in shape.dashes])
        yield f"{_trace(shape.points)} S"
        return
    yield f"{pen(EDGE * _PER_MM)} {num(shape.grey)} g {_trace(shape.points)} h B"


def _trace(points: Points) -> str:
    steps = (points * _PER_MM).round().astype(int).tolist()
    return " ".join(f"{x} {y} {'l' if i else 'm'}" for i, (x, y) in enumerate(steps))
