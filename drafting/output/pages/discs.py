"""Joining marks: half-discs inside two pages' live areas that become one disc where the pages are joined.

A page's strip beyond its live area is cut off or covered at a join, so the halves stand within, in a thin grey line
under the pattern's ink; the first of a join's two carries the name of the page next to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from drafting.output.pages.furniture import PageEdge, PageFrame, Words, edges_of, fitting_size
from drafting.output.pdf.document import Document
from drafting.output.pdf.ink import Floats, circle
from drafting.output.pdf.operators import PER_MM, num, pen, ring_ops
from drafting.output.pictures.drawing import Drawing, ink_points
from drafting.paper import SheetPlan, Tile, Tiling

RADIUS: Final = 4.0
"""Of a disc's outer edge (mm)."""

PEN: Final = 0.25
"""Width of a disc's line (mm)."""

GREY: Final = 0.45
"""Of the line and the letters: seen on white paper, and light beside the pattern's lines."""

LETTERS: Final = 6.0
"""Size of the neighbour's name (points), or less where it is long."""

_SHARES: Final = ((0.25, 0.2, 0.3, 0.15, 0.35, 0.4, 0.1, 0.45), (0.75, 0.8, 0.7, 0.85, 0.65, 0.6, 0.9, 0.55))
"""Where along a join its two discs may stand, best first."""

_CLEAR: Final = RADIUS + 1.0
_DISC: Final = "disc"

Shares = Mapping[tuple[Tile, Tile], tuple[float, float]]
"""Where along each join its two discs stand: shares of its length, from the left or from below."""


def disc_places(plan: SheetPlan, drawing: Drawing) -> Shares:
    """Return where along each join its discs lie clear of the pattern's ink, or over the least of it."""
    points = np.concatenate([ink_points(ink, 4.0) for ink in drawing.pieces])
    side = (plan.tiling.width, plan.tiling.height)
    off = np.abs((points + np.multiply(side, 0.5)) % side - np.multiply(side, 0.5)) < _CLEAR
    by_row, by_column = points[off[:, 0]], points[off[:, 1]]  # those near upright and near level joins
    return {
        (a, b): _quietest_place(by_row if a.row == b.row else by_column, plan.tiling, a, b)
        for a, b in plan.tiling.joins()
    }


def _quietest_place(points: Floats, tiling: Tiling, a: Tile, b: Tile) -> tuple[float, float]:
    x0, y0, x1, y1 = tiling.box(a)
    beside = a.row == b.row
    across, along = (0, 1) if beside else (1, 0)
    start, long, at = (y0, y1 - y0, x1) if beside else (x0, x1 - x0, y0)
    near = points[np.abs(points[:, across] - at) < _CLEAR] - ((at, start) if beside else (start, at))
    found = []
    for shares in _SHARES:
        far = np.hypot(near[:, across, None], near[:, along, None] - np.array(shares) * long)
        found.append(shares[int((far < _CLEAR).sum(axis=0).argmin())])
    return found[0], found[1]


def store_disc(document: Document) -> None:
    """Store a disc about the origin: a ring."""
    size = RADIUS + PEN
    document.form(
        _DISC, (-size, -size, size, size), [f"{pen(PEN, GREY)} {ring_ops(circle(0.0, 0.0, RADIUS - PEN / 2.0))} S"]
    )


def disc_operators(document: Document, tiling: Tiling, shares: Shares) -> Iterator[str]:
    """Yield the operators that draw all discs of a sheet, in its points: each page's window shows its halves."""
    yield "q"
    px = py = 0.0
    for (a, b), places in shares.items():
        x0, y0, x1, y1 = tiling.box(a)
        for share in places:
            at = (x1, y0 + share * (y1 - y0)) if a.row == b.row else (x0 + share * (x1 - x0), y0)
            x, y = (round(side * PER_MM, 1) for side in at)
            yield f"1 0 0 1 {num(x - px, 1)} {num(y - py, 1)} cm {document.form_operator(_DISC)}"
            px, py = x, y
    yield "Q"


def name_neighbours(frame: PageFrame, tile: Tile, shares: Shares) -> Iterator[Words]:
    """Yield the names of a page's neighbours, each in its half of a disc."""
    for side, other, places in _neighbours(frame, tile, shares):
        size = fitting_size(other.name, LETTERS, 2 * RADIUS - 2.0)
        yield side, other.name, side.length * places[0], -0.42 * RADIUS, size, GREY


def _neighbours(frame: PageFrame, tile: Tile, shares: Shares) -> Iterator[tuple[PageEdge, Tile, tuple[float, float]]]:
    """Yield the edges at which a printed page joins this one, with where the discs stand."""
    left, lower, right, upper = edges_of(frame)
    for side in (left, right, lower, upper):
        other = Tile(tile.row - side.out[1], tile.col + side.out[0])
        places = shares.get((tile, other)) or shares.get((other, tile))
        if places is not None:
            yield side, other, places
