"""The cutting plan as an SVG drawing in true size: the cloths one above the other, a group for each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.lay.places import find_places
from drafting.lay.spread import ClothSpread, Lay
from drafting.lay.words import LayWords, describe_spreads
from drafting.output.lay_drawing import (
    INKS,
    TRUE_HEAD,
    LabelScale,
    LayShape,
    Look,
    draw_head,
    draw_spread,
    reach_of,
    write_label,
)
from drafting.output.pages.furniture import fitting_size
from drafting.output.pdf.ink import POINT
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.svg import FONTS, escape_xml, show_number
from drafting.seal import SEAL_ROOM

TRUE_SIZE: Final = LabelScale()


def lay_svg(lays: Sequence[Lay], info: PrintInfo) -> str:
    """Return the plan as an SVG document; width, height and the user unit are millimetres."""
    info = info.tidy()
    every = [(lay, *each) for lay in lays for each in zip(lay.spreads, describe_spreads(lay, info.unit), strict=True)]
    wide = show_number(max(spread.wide for _, spread, _ in every))
    high = show_number(sum(TRUE_HEAD + reach_of(spread) for _, spread, _ in every))
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f"<!-- {SEAL_ROOM} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}">',
        f"<title>Cutting plan: {escape_xml(info.name_draft())}</title>",
        f"<style>{''.join(_rules())}</style>",
    ]
    foot = 0.0
    for number, (lay, spread, says) in enumerate(every, start=1):
        foot += TRUE_HEAD + reach_of(spread)
        out += [f'<g id="cloth-{number}">', *_draw_cloth(lay, spread, says, foot, info), "</g>"]
    return "\n".join([*out, "</svg>", ""])


def _rules() -> Iterator[str]:
    """The style of words, which stand on white so that no stripe strikes them through, and of all that is drawn."""
    yield f"text{{font-family:{FONTS};text-anchor:middle;paint-order:stroke;stroke:#fff;stroke-width:4px}}"
    yield ".head{text-anchor:start}"
    for look, ink in INKS.items():
        thick = show_number((ink.pen or 0.0) * TRUE_SIZE.grow)
        dash = " ".join(show_number(each * TRUE_SIZE.grow) for each in ink.dash)
        drawn = f"stroke:{_grey(ink.grey)};stroke-width:{thick}{f';stroke-dasharray:{dash}' * bool(dash)}"
        fill = "none" if ink.fill is None else _grey(ink.fill)
        yield f".{look}{{fill:{fill};{drawn if ink.pen is not None else 'stroke:none'}}}"


def _grey(share: float) -> str:
    return f"#{round(share * 255):02x}" + f"{round(share * 255):02x}" * 2


def _draw_cloth(lay: Lay, spread: ClothSpread, says: LayWords, foot: float, info: PrintInfo) -> Iterator[str]:
    """A spread, its cut end at a height of the drawing, and what lies on it."""
    lines, bar = draw_head(says, info, spread)
    top = foot - reach_of(spread)
    for text in lines:
        size = show_number(fitting_size(text.words, text.size, spread.wide - text.x) * POINT)
        at = f'x="{show_number(text.x)}" y="{show_number(top - text.y)}" font-size="{size}px"'
        yield f'<text class="head" {at}>{escape_xml(text.words)}</text>'
    for shape in bar:
        yield _trace(shape, top)
    for shape in draw_spread(lay, spread):
        yield _trace(shape, foot, lay.cloth.tint)
    for place in find_places(spread, lay.across):
        label = write_label(place, spread.left, TRUE_SIZE, info.unit)
        yield from () if label.arrow is None else [_trace(label.arrow, foot)]
        for text in label.texts:
            x, y, size = map(show_number, (text.x, foot - text.y, text.size * POINT))
            yield f'<text x="{x}" y="{y}" font-size="{size}px">{escape_xml(text.words)}</text>'


def _trace(shape: LayShape, foot: float, tint: str | None = None) -> str:
    """A polygon, where it is filled, or a line; the cloth in its tint."""
    points = " ".join(f"{show_number(x)},{show_number(foot - y)}" for x, y in shape.points)
    style = f' style="fill:#{tint}"' if tint and shape.look is Look.CLOTH else ""
    drawn = "polyline" if INKS[shape.look].fill is None else "polygon"
    return f'<{drawn} class="{shape.look}"{style} points="{points}"/>'
