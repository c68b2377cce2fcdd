"""The whole sheet as one SVG drawing in true millimetres.

One group a piece, in it one a layer; ids by piece and line, classes by kind; below the sheet a square to measure.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

import numpy as np

from drafting.output.pages.squares import INCH
from drafting.output.pdf.ink import POINT, STYLES, Fill, Floats, PieceInk, Stroke, Style, Text, straight_ones
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.seal import SEAL_ROOM
from drafting.text import clean_line
from drafting.tolerance import TOLERANCE

_APART = 6.0
"""How far the test square keeps from the sheet and the edges (mm)."""

FONTS = "DejaVu Sans, Verdana, sans-serif"

_LONGEST: Final = 4000
"""Characters of a paragraph at most: what a user may write is kept shorter where it is read."""


def svg(info: PrintInfo, drawing: Drawing) -> str:
    """Return the drawing as an SVG document; width, height and the user unit are millimetres."""
    info = info.tidy()
    title = info.name_draft()
    side, words = (4 * INCH, "4 in") if info.unit == "in" else (100.0, "10 cm")
    wide, high = show_number(max(drawing.width, side + 2 * _APART)), show_number(drawing.height + side + 2 * _APART)
    ids = _Ids()
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f"<!-- {SEAL_ROOM} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}">',
        f"<title>{escape_xml(title)}</title>",
        f"<style>{''.join(_rules(drawing))}</style>",
    ]
    paths = _paths([*_shapes(drawing)], drawing.height)
    for ink in drawing.pieces:
        out += _group(ink, drawing.height, ids, paths)
    return "\n".join([*out, *_square(side, words, drawing.height + _APART, ids), "</svg>", ""])


def _square(side: float, words: str, top: float, ids: _Ids) -> Iterator[str]:
    """Yield the test square, measured from the middle of one line to the middle of the other, and what it is for."""
    left, right, low = show_number(_APART), show_number(_APART + side), show_number(top + side)
    corners = f"M{left} {show_number(top)}L{right} {show_number(top)}L{right} {low}L{left} {low}Z"
    yield f'<path id="{ids.new("test-square")}" class="square" d="{corners}"/>'
    says = (f"{words} \u00d7 {words}", "Measure this square before you cut:", "if it is off, print or plot at 100 %.")
    for i, line in enumerate(says):
        x, y = show_number(_APART + 4.0), show_number(top + 10.0 + 6.0 * i)
        yield f'<text x="{x}" y="{y}" font-size="4.233" class="label">{line}</text>'


class _Ids:
    """Gives out ids that are valid in XML and all different."""

    __slots__ = ("_given",)

    def __init__(self) -> None:
        self._given: dict[str, int] = {}

    def new(self, *parts: str) -> str:
        """Return an id made of the parts, with a number added if it was given before."""
        plain = ".".join(re.sub(r"[^A-Za-z0-9_-]+", "-", part).strip("-") or "x" for part in parts if part)
        if not re.match(r"[A-Za-z_]", plain):
            plain = f"x{plain}"
        count = self._given[plain] = self._given.get(plain, 0) + 1
        return plain if count == 1 else self.new(f"{plain}-{count}")


def _rules(drawing: Drawing) -> Iterator[str]:
    kinds = {stroke.style.kind for ink in drawing.pieces for stroke in ink.strokes}
    kinds |= {fill.style.kind for ink in drawing.pieces for fill in ink.fills}
    yield "path{fill:none;stroke-linecap:round;stroke-linejoin:round}"
    yield f"text{{font-family:{FONTS};fill:#000}}"
    for style in STYLES.values():
        if style.kind in kinds:
            yield _rule(style)
    yield ".solid{fill:#000;stroke:none}"
    yield ".square{stroke:#000;stroke-width:0.25}"


def _rule(style: Style) -> str:
    grey = f"{round(style.grey * 255):02x}" * 3
    dash = f";stroke-dasharray:{' '.join(f'{d:g}' for d in style.dash)};stroke-linecap:butt" if style.dash else ""
    return f".{style.kind}{{stroke:#{grey};stroke-width:{style.width:g}{dash}}}"


def _shapes(drawing: Drawing) -> Iterator[Floats]:
    """Yield the cubics of every path, in the order in which they are written."""
    for ink in drawing.pieces:
        yield from (stroke.segments for stroke in ink.strokes if len(stroke.segments))
        yield from (fill.rings for fill in ink.fills)


LAYERS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "cutting line": ("cut", "fold-edge"),
        "stitching line": ("stitch",),
        "fold": ("fold",),
        "grain": ("grain", "stretch", "on-fold"),
        "notches": ("notch",),
        "stays": ("zone", "hatch"),
        "marks": (),
    }
)
"""The layers of a piece, each with the kinds of lines and signs in it; the last has all others, and labels follow."""


def _layer_of(kind: str) -> str:
    return next((layer for layer, kinds in LAYERS.items() if kind in kinds), "marks")


def _group(ink: PieceInk, high: float, ids: _Ids, paths: Iterator[str]) -> Iterator[str]:
    """Yield a piece: a group in which what is of one meaning is a group, its layer."""
    name = ids.new(ink.name)
    yield f'<g id="{name}" class="piece"><title>{escape_xml(ink.title)}</title>'
    drawn: dict[str, list[str]] = {layer: [] for layer in LAYERS}
    for stroke in ink.strokes:
        if len(stroke.segments):
            drawn[_layer_of(stroke.style.kind)].append(_stroke(ink.name, stroke, next(paths), ids))
    for fill in ink.fills:
        drawn[_layer_of(fill.style.kind)].append(_fill(ink.name, fill, next(paths), ids))
    for layer, inner in (*drawn.items(), ("labels", [_text(text, high) for text in ink.texts])):
        if inner:
            yield f'<g id="{ids.new(ink.name, "layer", layer)}" class="layer" aria-label="{layer}">'
            yield from inner
            yield "</g>"
    yield "</g>"


def _stroke(piece: str, stroke: Stroke, path: str, ids: _Ids) -> str:
    kind = stroke.style.kind
    name = ids.new(piece, kind, stroke.name)
    return f'<path id="{name}" class="{kind}" d="{path}"/>'


def _fill(piece: str, fill: Fill, path: str, ids: _Ids) -> str:
    kind = fill.style.kind
    return f'<path id="{ids.new(piece, kind, fill.name)}" class="{kind} solid" d="{path}"/>'


def _paths(shapes: Sequence[Floats], high: float) -> Iterator[str]:
    """Yield each shape's path; what is reckoned is reckoned for all at once."""
    segments = np.concatenate([*shapes, np.zeros((0, 4, 2))])
    flipped = (segments * (1.0, -1.0) + (0.0, high)).tolist()
    flat = straight_ones(segments).tolist()
    lifted = np.ones(len(segments), dtype=np.bool_)
    lifted[1:] = np.abs(segments[1:, 0] - segments[:-1, 3]).max(axis=1) > TOLERANCE.same_point
    lifts, at = lifted.tolist(), 0
    for shape in shapes:
        end = at + len(shape)
        if at < end:
            lifts[at] = True
        yield "".join(map(_segment, flipped[at:end], flat[at:end], lifts[at:end]))
        at = end


def _segment(control: list[list[float]], level: bool, lift: bool) -> str:
    p, a, b, q = (f"{show_number(x)} {show_number(y)}" for x, y in control)
    to = f"M{p}" if lift else ""
    return f"{to}L{q}" if level else f"{to}C{a} {b} {q}"


def _text(text: Text, high: float) -> str:
    x, y, size = show_number(text.x), show_number(high - text.y), show_number(text.size * POINT)
    turn = -math.degrees(text.angle)
    turned = f' transform="rotate({show_number(turn)} {x} {y})"' if abs(text.angle) > TOLERANCE.same_point else ""
    return f'<text x="{x}" y="{y}" font-size="{size}" class="{text.kind}"{turned}>{escape_xml(text.text)}</text>'


def show_number(number: float) -> str:
    """Return a number to a thousandth, without idle zeros."""
    shown = f"{number + TOLERANCE.off_edge:.3f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def escape_xml(text: str) -> str:
    """Return text safe inside XML: markup escaped, control characters left out."""
    plain = clean_line(text, _LONGEST)
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")
