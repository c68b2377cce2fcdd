"""The flat as an SVG drawing: the finished garment from in front and from behind, a tenth to a fifth of its size."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from drafting.flat import FlatKind
from drafting.flat.shapes import Points
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.pictures.flat import PENS, PlacedView, place_views
from drafting.output.svg import FONTS, escape_xml, show_number
from drafting.seal import SEAL_ROOM

WIDE, HIGH = 260.0, 260.0
"""The room for both views (mm)."""

_EDGE, _WORDS = 6.0, 10.0
_SIZE: Final = 4.0


def flat_svg(info: PrintInfo) -> str:
    """Return the flat of a print, front and back, as an SVG document in millimetres of the picture."""
    picture = place_views(info.flat, WIDE, HIGH)
    wide, high = picture.width + 2 * _EDGE, picture.height + 2 * _EDGE + _WORDS
    title = ", ".join(part for part in (info.title, info.wearer, f"draft {info.mark}" if info.mark else "") if part)
    size = f"{show_number(wide)} {show_number(high)}"
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f"<!-- {SEAL_ROOM} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{show_number(wide)}mm" height="{show_number(high)}mm" '
        f'viewBox="0 0 {size}" role="img">',
        f"<title>{escape_xml(title)}</title>",
        f"<style>{''.join(_rules())}</style>",
        f'<rect width="{show_number(wide)}" height="{show_number(high)}" fill="#fff"/>',
    ]
    for placed in picture.views:
        out += _draw_view(placed, _EDGE + picture.height)
    return "\n".join([*out, "</svg>", ""])


def _rules() -> Iterator[str]:
    yield "path{fill:none;stroke-linecap:round;stroke-linejoin:round}"
    yield f".cloth{{fill:#fff}}text{{font-family:{FONTS};font-size:{_SIZE}px;text-anchor:middle}}"
    for kind, (width, grey, dash) in PENS.items():
        shade = f"{round(grey * 255):02x}" * 3
        dashed = f";stroke-dasharray:{' '.join(f'{d:g}' for d in dash)};stroke-linecap:butt" if dash else ""
        yield f".{kind}{{stroke:#{shade};stroke-width:{width:g}{dashed}}}"


def _draw_view(placed: PlacedView, foot: float) -> Iterator[str]:
    left, _, right, _ = placed.view.bounds
    middle = _EDGE + placed.x + (left + right) / 2.0 * placed.scale
    yield f'<g id="{placed.view.face}">'
    for shape, points in placed.shapes():
        closed = "Z" if shape.kind is FlatKind.CLOTH else ""
        yield f'<path class="{shape.kind}" d="{_path(points, foot)}{closed}"/>'
    yield f'<text x="{show_number(middle)}" y="{show_number(foot + _WORDS - 2.0)}">{placed.view.face}</text>'
    yield "</g>"


def _path(points: Points, foot: float) -> str:
    flipped = [(show_number(_EDGE + x), show_number(foot - y)) for x, y in points.tolist()]
    return "M" + "L".join(f"{x} {y}" for x, y in flipped)
