"""An earlier draft under the new one: what its outline was, dotted where the new one leaves it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from drafting.flat.shapes import FlatKind, FlatShape, FlatView, Points, even_out, join_points
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

Outlines = Mapping[str, Sequence[Sequence[float]]]
"""Of each face, by its name, the courses of its edges: x and y of each point in turn."""

OUTLINE_APART = TradeValue(10.0, "mm", "derived", "by drawing")
"""How far apart the points of an outline are kept that a later draft is laid over."""
OUTLINE_SAME = TradeValue(6.0, "mm", "derived", "by drawing")
"""Of an earlier outline that lies nearer to the new one nothing is drawn: the pen is as wide."""
OUTLINE_FINE = TradeValue(4.0, "mm", "derived", "by drawing")
"""How far apart the points of both outlines are taken to be held against each other."""


def outline_views(views: Sequence[FlatView]) -> dict[str, list[list[int]]]:
    """Return where the garment ends to the eye, face by face, to a mm, to be kept with the draft."""
    return {str(view.face): [_write_course(each.points) for each in _edges(view)] for view in views}


def lay_over(views: Sequence[FlatView], before: Outlines) -> tuple[FlatView, ...]:
    """Return views with the outline of an earlier draft dotted wherever it lies off the new one."""
    return tuple(
        FlatView(view.face, (*view.shapes, *_list_left(view, before.get(str(view.face), ())))) for view in views
    )


def without_earlier(views: Sequence[FlatView]) -> tuple[FlatView, ...]:
    """Return views without what is dotted of an earlier draft."""
    return tuple(
        FlatView(view.face, tuple(each for each in view.shapes if each.kind is not FlatKind.BEFORE)) for view in views
    )


def _edges(view: FlatView) -> list[FlatShape]:
    return [shape for shape in view.shapes if shape.kind is FlatKind.EDGE]


def _write_course(points: Points) -> list[int]:
    return [int(each) for each in (even_out(points, OUTLINE_APART) + TOLERANCE.off_edge).round().ravel()]


def _list_left(view: FlatView, courses: Sequence[Sequence[float]]) -> list[FlatShape]:
    """The stretches of an earlier outline that lie off every edge of a view."""
    now = join_points([even_out(shape.points, OUTLINE_FINE) for shape in _edges(view)])
    shapes = []
    for course in courses:
        points = even_out(np.asarray(course, dtype=np.float64).reshape(-1, 2), OUTLINE_FINE)
        near = np.sqrt(((points[:, None] - now[None]) ** 2).sum(axis=2).min(axis=1))
        off = np.flatnonzero(near > OUTLINE_SAME)
        for stretch in np.split(off, np.flatnonzero(np.diff(off) > 1) + 1):
            if len(stretch) > 1:
                shapes.append(FlatShape(FlatKind.BEFORE, points[stretch[0] : stretch[-1] + 1]))
    return shapes
