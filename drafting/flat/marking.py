"""Where a piece or a seam lies on the flat, and the flat with some of them pointed out: for a picture of one step.

Every shape of a view says of which piece it is the area and which lines of pieces lie along it. What can't be seen from
either side, as a facing turned in, is found by the lines that it is sewn to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from drafting.flat.shapes import FlatKind, FlatShape, FlatView, Points
from drafting.garment import Garment, Seam, Use
from drafting.geometry.polygon import are_inside
from drafting.trade import TradeValue

COVERED_DOT = TradeValue(32.0, "mm", "derived", "by drawing")
"""Of a line that is covered, how long each dot is, and each gap (mm)."""

BESIDE_COVERED = TradeValue(0.5, "mm", "derived", "by drawing")
"""From a line to where it is asked on either side whether an area covers it: none does along its own edge (mm)."""


def find_piece(view: FlatView, name: str) -> tuple[FlatShape, ...]:
    """Return the areas in which a piece is seen in a view, none where it isn't seen."""
    return tuple(shape for shape in view.shapes if shape.piece == name and shape.kind is FlatKind.CLOTH)


def find_seam(view: FlatView, seam: Seam) -> tuple[FlatShape, ...]:
    """Return the courses of a view along which a seam lies, though another layer may lie over it there."""
    return find_lines(view, seam.uses())


def find_lines(view: FlatView, uses: Iterable[Use]) -> tuple[FlatShape, ...]:
    """Return the courses of a view along which any of some lines lies."""
    asked = {(use.piece, use.line) for use in uses}
    return tuple(shape for shape in view.shapes if any((use.piece, use.line) in asked for use in shape.uses))


def mark_flat(
    views: Sequence[FlatView],
    garment: Garment,
    pieces: Iterable[str] = (),
    seams: Iterable[Seam] = (),
    lines: Iterable[Use] = (),
) -> tuple[FlatView, ...]:
    """Return views with the areas of some pieces toned, and some seams and lines drawn bold on top of all.

    A piece that is seen in none of them is pointed out by the lines that it is sewn along.
    """
    names = frozenset(pieces)
    unseen = {name for name in names if not any(find_piece(view, name) for view in views)}
    uses = [*lines, *(use for seam in seams for use in seam.uses())]
    uses += [use for seam in garment.seams if unseen & {u.piece for u in seam.uses()} for use in seam.uses()]
    return tuple(FlatView(view.face, (*_tone(view, names), *_draw_bold(view, uses))) for view in views)


def _tone(view: FlatView, names: frozenset[str]) -> Iterator[FlatShape]:
    for shape in view.shapes:
        yield shape
        if shape.kind is FlatKind.CLOTH and shape.piece in names:
            yield replace(shape, kind=FlatKind.MARKED_AREA)


def _draw_bold(view: FlatView, uses: Iterable[Use]) -> Iterator[FlatShape]:
    asked = {(use.piece, use.line) for use in uses}
    for i, shape in enumerate(view.shapes):
        if any((use.piece, use.line) in asked for use in shape.uses):
            over = [each.points for each in view.shapes[i + 1 :] if each.kind is FlatKind.CLOTH]
            yield from (
                replace(shape, kind=FlatKind.MARKED, points=points) for points in _dot_covered(shape.points, over)
            )


def _dot_covered(course: Points, over: Sequence[Points]) -> Iterator[Points]:
    """A course, in one or in stretches: dotted where an area lies over it on both its sides."""
    step = np.diff(course, axis=0)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(step[:, 0], step[:, 1]))])
    count = max(3, round(float(along[-1]) / COVERED_DOT))
    at = np.linspace(0.0, along[-1], 2 * count + 1)
    places = np.stack([np.interp(at, along, course[:, k]) for k in (0, 1)], axis=1)
    points, middle = places[::2], places[1::2]  # on the course itself: a chord's middle lies off a bend
    way = np.diff(points, axis=0)
    aside = np.stack([-way[:, 1], way[:, 0]], axis=1) * (BESIDE_COVERED / np.hypot(way[:, 0], way[:, 1]).max())
    covered = np.zeros(count, dtype=np.bool_)
    for ring in over:
        covered |= are_inside(middle + aside, ring) & are_inside(middle - aside, ring)
    if not covered.any():
        yield course
        return
    drawn = ~covered | (np.arange(count) % 2 == 0)
    ends = np.flatnonzero(np.diff(np.concatenate([[False], drawn, [False]]).astype(int)))
    yield from (points[a : b + 1] for a, b in zip(ends[::2].tolist(), ends[1::2].tolist(), strict=True))
