"""The cutting plan as an SVG drawing in true size: the cloths one above the other, a group for each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.geometry import deepest_inside
from drafting.lay.places import LaidPlace, find_flaws, find_places
from drafting.lay.plan import Lay
from drafting.lay.words import describe_lay, show_place, tell_layers
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.svg import FONTS, escape_xml, show_number
from drafting.seal import SEAL_ROOM
from drafting.units import Unit

HEAD: Final = 40.0
"""Above each cloth, for its heading (mm)."""

NARROW: Final = 45.0
"""Less than so far (mm) from its edges at its deepest a part has its words half-way along it."""

_RULES: Final = (
    f"text{{font-family:{FONTS};font-size:14px;text-anchor:middle}}.head{{text-anchor:start;font-size:20px}}"
    ".cloth{fill:#ededed;stroke:#000;stroke-width:1}.selvedge{fill:#bfbfbf}.flaw{fill:#999;stroke:#000}"
    ".part{fill:#fff;stroke:#000;stroke-width:1}.stripe{stroke:#999;stroke-width:.5}"
)


def lay_svg(lays: Sequence[Lay], info: PrintInfo) -> str:
    """Return the plan as an SVG document; width, height and the user unit are millimetres."""
    info = info.tidy()
    wide = show_number(max(lay.wide for lay in lays))
    high = show_number(sum(HEAD + lay.length for lay in lays))
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f"<!-- {SEAL_ROOM} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}">',
        f"<title>Cutting plan: {escape_xml(info.name_draft())}</title>",
        f"<style>{_RULES}</style>",
    ]
    foot = 0.0
    for number, lay in enumerate(lays, start=1):
        foot += HEAD + lay.length
        out += [f'<g id="cloth-{number}">', *_draw_cloth(lay, foot, info.unit), "</g>"]
    return "\n".join([*out, "</svg>", ""])


def _draw_cloth(lay: Lay, foot: float, unit: Unit) -> Iterator[str]:
    """A cloth, its cut end at a height of the drawing, and what lies on it."""
    says = describe_lay(lay, unit)
    head = escape_xml(f"{says.heading}. {says.buy}.")
    yield f'<text class="head" x="4" y="{show_number(foot - lay.length - 12.0)}">{head}</text>'
    tint = f' style="fill:#{lay.cloth.tint}"' if lay.cloth.tint else ""
    yield _rect("cloth", (0.0, 0.0, lay.wide, lay.length), foot, tint)
    for left, right in ((0.0, lay.left), (lay.wide - lay.edge, lay.wide)):
        yield _rect("selvedge", (left, 0.0, right, lay.length), foot)
    for left, low, right, top in (flaw for flaw in find_flaws(lay) if flaw[1] < lay.length):
        yield _rect("flaw", (left, low, right, top), foot)
        x0, y0, x1, y1 = map(show_number, (left, foot - low, right, foot - top))
        yield f'<path class="flaw" d="M{x0} {y0}L{x1} {y1}M{x0} {y1}L{x1} {y0}"/>'
    for place in find_places(lay):
        yield from _draw_part(place, lay, foot, unit)
    for each in (each for each in lay.stripes if each.shifts):
        for at in np.arange(each.first, lay.length if each.is_across else lay.width, each.stripe.repeat).tolist():
            across = (0.0, foot - at, lay.wide, foot - at)
            ends = across if each.is_across else (lay.left + at, foot - lay.length, lay.left + at, foot)
            x1, y1, x2, y2 = map(show_number, ends)
            yield f'<line class="stripe" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>'


def _rect(kind: str, box: tuple[float, float, float, float], foot: float, style: str = "") -> str:
    x, y, wide, high = map(show_number, (box[0], foot - box[3], box[2] - box[0], box[3] - box[1]))
    return f'<rect class="{kind}"{style} x="{x}" y="{y}" width="{wide}" height="{high}"/>'


def _draw_part(place: LaidPlace, lay: Lay, foot: float, unit: Unit) -> Iterator[str]:
    """A part's outline, and within it what it is and where it lies."""
    each = place.laid
    points = " ".join(f"{show_number(x + lay.left)},{show_number(foot - y)}" for x, y in each.ring[:-1].tolist())
    yield f'<polygon class="part" points="{points}"/>'
    middle, reach = deepest_inside(each.ring, 4.0)
    along = (float(each.ring[:, 0].min()) + float(each.ring[:, 0].max())) / 2.0
    over = ["printed side down"] if each.part.over else []
    words = (f"{each.part.piece.code} {each.part.title}", *tell_layers(each), *over, *show_place(place, unit))
    x = show_number((along if reach < NARROW else middle.x) + lay.left)
    for number, line in enumerate(words):
        yield f'<text x="{x}" y="{show_number(foot - middle.y + 17.0 * number)}">{escape_xml(line)}</text>'
