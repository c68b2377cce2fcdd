"""A garment worn, in lines alone, as an SVG drawing: four views side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.output.svg import escape_xml, show_number
from drafting.seal import SEAL_ROOM

Line = npt.NDArray[np.float64]

SHARE: Final = 0.15
"""Of true size the drawing is."""
_MARK: Final = 120.0
"""mm on the body that a mark's letters are tall."""
_NAME: Final = 30.0
"""mm on the body that the name of a view is tall."""
_PEN: Final = 1.6
"""mm on the body that a line is wide."""


def worn_svg(
    views: Sequence[Sequence[Line]],
    window: tuple[float, float, float],
    title: str,
    mark: str = "",
    names: Sequence[str] = (),
) -> str:
    """Return views as a drawing; a line is a row of points (mm; across from the middle, and a height).

    The ``window`` says from which height to which something is shown, and how wide each view is (mm). A ``mark`` is
    written large across each view, its name of ``names`` below it.
    """
    low, high, wide = window
    across, tall = wide * len(views), high - low + bool(names) * 2.0 * _NAME
    size = f'width="{show_number(SHARE * across)}mm" height="{show_number(SHARE * tall)}mm"'
    placed = (
        f'<g transform="translate({show_number((i + 0.5) * wide)} {show_number(high)}) scale(1 -1)">'
        f'<path d="{"".join(map(_write_line, view))}"/></g>'
        for i, view in enumerate(views)
    )
    return "\n".join([
        '<?xml version="1.0" encoding="UTF-8"?>',
        f"<!-- {SEAL_ROOM} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {show_number(across)} {show_number(tall)}" '
        f'role="img"><title>{escape_xml(title)}</title>',
        f'<g fill="none" stroke="#000" stroke-width="{_PEN}" stroke-linecap="round" stroke-linejoin="round">',
        *placed,
        "</g>",
        *(_write_words(mark, (i + 0.5) * wide, tall / 2.0, _MARK) for i in range(len(views)) if mark),
        *(_write_words(name, (i + 0.5) * wide, tall - _NAME / 2.0, _NAME) for i, name in enumerate(names)),
        "</svg>",
        "",
    ])  # fmt: skip


def _write_words(words: str, across: float, down: float, large: float) -> str:
    place = f'x="{show_number(across)}" y="{show_number(down)}" font-size="{large}"'
    return f'<text {place} text-anchor="middle" font-family="sans-serif">{escape_xml(words)}</text>'


def _write_line(line: Line) -> str:
    points = (f"{show_number(round(x, 1))} {show_number(round(y, 1))}" for x, y in line.tolist())
    return f"M{' '.join(points)}"
