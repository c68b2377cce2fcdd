"""The flat as an SVG drawing: the finished garment from in front and from behind, a tenth to a fifth of its size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.flat import FlatKind, FlatShape, FlatView
from drafting.flat.shapes import Points
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.pictures.flat import FILLS, PENS, PlacedView, place_views, tint_of
from drafting.output.svg import FONTS, escape_xml, show_number
from drafting.seal import SEAL_ROOM

WIDE, HIGH = 260.0, 260.0
"""The room for both views (mm)."""

_EDGE, _WORDS = 6.0, 10.0
_SIZE: Final = 4.0

IN_PAGE: Final = (160.0, 110.0)
"""The room (mm) for both views in a page."""

_POINTED: Final = 2.2
"""Of the line (mm) that points a seam out on the flat, which is then shown a third as large."""


def flat_svg(info: PrintInfo, wide: float = WIDE, high: float = HIGH) -> str:
    """Return the flat of a print as an SVG document in millimetres of the picture, as large as a room lets it be."""
    title = info.name_draft()
    head = ('<?xml version="1.0" encoding="UTF-8"?>', f"<!-- {SEAL_ROOM} -->")
    return "\n".join([*head, *_drawing(info.flat, title, wide, high), ""])


def flat_element(views: Sequence[FlatView], title: str) -> str:
    """Return some views side by side as an ``svg`` element to stand in a page, for ``pointing_element`` to find."""
    return "\n".join(_drawing(views, title, *IN_PAGE))


def pointing_element(views: Sequence[FlatView], marked: Sequence[FlatView], title: str, wide: float) -> str:
    """Return the flat that stands in the page already, ``wide`` mm, what is marked in some views drawn over it."""
    picture = place_views(views, *IN_PAGE)
    width, height = picture.width + 2 * _EDGE, picture.height + 2 * _EDGE + _WORDS
    over = {view.face: view for view in marked}
    return "\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{show_number(wide)}mm" '
        f'viewBox="0 0 {show_number(width)} {show_number(height)}" role="img"><title>{escape_xml(title)}</title>',
        *(f'<use href="#flat-{placed.view.face}"/>' for placed in picture.views),
        *(
            f'<path class="pointed" d="{_path(points, _EDGE + picture.height)}"/>'
            for placed in picture.views
            if placed.view.face in over
            for _, points in replace(placed, view=over[placed.view.face]).shapes(FlatKind.MARKED)
        ),
        "</svg>",
    ])  # fmt: skip


def _drawing(views: Sequence[FlatView], title: str, wide: float, high: float) -> Iterator[str]:
    picture = place_views(views, wide, high)
    width, height = (show_number(picture.width + 2 * _EDGE), show_number(picture.height + 2 * _EDGE + _WORDS))
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img">'
    )
    yield f"<title>{escape_xml(title)}</title>"
    yield f"<style>{''.join(_rules())}</style>"
    yield f'<rect width="{width}" height="{height}" fill="#fff"/>'
    for placed in picture.views:
        yield from _draw_view(placed, _EDGE + picture.height)
    yield "</svg>"


def _rules() -> Iterator[str]:
    """Rules for what stands in a flat, and for nothing else of a page that it stands in."""
    yield ".flat path{fill:none;stroke-linecap:round;stroke-linejoin:round}"
    yield f".flat text{{font-family:{FONTS};font-size:{_SIZE}px;text-anchor:middle}}"
    yield f".pointed{{fill:none;stroke:#000;stroke-width:{_POINTED:g}}}"
    yield from (f".flat .{kind}{{fill:#{_shade(grey)}}}" for kind, grey in FILLS.items())
    for kind, (width, grey, dash) in PENS.items():
        dashed = f";stroke-dasharray:{' '.join(f'{d:g}' for d in dash)};stroke-linecap:butt" if dash else ""
        yield f".flat .{kind}{{stroke:#{_shade(grey)};stroke-width:{width:g}{dashed}}}"


def _shade(grey: float) -> str:
    return f"{round(grey * 255):02x}" * 3


def _draw_view(placed: PlacedView, foot: float) -> Iterator[str]:
    left, _, right, _ = placed.view.bounds
    middle = _EDGE + placed.x + (left + right) / 2.0 * placed.scale
    yield f'<g id="flat-{placed.view.face}" class="flat {placed.view.face}">'
    for shape, points in placed.shapes():
        closed = "Z" if shape.kind in FILLS else ""
        if shape.kind is not FlatKind.BEFORE:
            yield f'<path class="{shape.kind}"{_fill(shape)} d="{_path(points, foot)}{closed}"/>'
    yield f'<text x="{show_number(middle)}" y="{show_number(foot + _WORDS - 2.0)}">{placed.view.face}</text>'
    yield "</g>"
    left_over = [points for _, points in placed.shapes(FlatKind.BEFORE)]
    if left_over:  # beside the view, not in it: what points out a step shows that again without them
        paths = (f'<path class="{FlatKind.BEFORE}" d="{_path(points, foot)}"/>' for points in left_over)
        yield f'<g class="flat">{"".join(paths)}</g>'


def _fill(shape: FlatShape) -> str:
    """The attribute that fills an area with its cloth's colour, "" where its kind's grey does."""
    tint = tint_of(shape)
    return "" if tint is None else f' style="fill:#{tint}"'


def _path(points: Points, foot: float) -> str:
    flipped = [(show_number(_EDGE + x), show_number(foot - y)) for x, y in points.tolist()]
    return "M" + "L".join(f"{x} {y}" for x, y in flipped)
