"""The flats of a garment side by side, front and back, in the room there is: one scale for both, levels in line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drafting.cloth.colour import Tint
from drafting.flat import FlatKind, FlatShape, FlatView
from drafting.flat.shapes import Points
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

Places = NDArray[np.int_]
"""Of points in a row of them."""

BETWEEN: Final = 0.06
"""Of the width of both views together that is left between them."""

PENS: Final[Mapping[FlatKind, tuple[float, float, tuple[float, ...]]]] = MappingProxyType(
    {
        FlatKind.BODY: (0.12, 0.7, ()),
        FlatKind.EDGE: (0.35, 0.0, ()),
        FlatKind.SEAM: (0.2, 0.0, ()),
        FlatKind.DART: (0.2, 0.0, ()),
        FlatKind.STITCHES: (0.13, 0.25, (0.8, 0.5)),
        FlatKind.OPENING: (0.3, 0.0, ()),
        FlatKind.BUTTON: (0.2, 0.0, ()),
        FlatKind.GATHERS: (0.13, 0.25, ()),
        FlatKind.STRIPE: (0.3, 0.5, ()),
        FlatKind.BEFORE: (0.25, 0.45, (0.25, 0.75)),
        FlatKind.MARKED: (0.7, 0.0, ()),
    }
)
"""Width (mm), grey (0 is black) and dashes (mm) of each kind's line on paper; of others nothing is drawn."""

FILLS: Final[Mapping[FlatKind, float]] = MappingProxyType(
    {FlatKind.CLOTH: 1.0, FlatKind.INSIDE: 0.88, FlatKind.MARKED_AREA: 0.75}
)
"""The grey (1 is white) of each kind of area."""


def tint_of(shape: FlatShape) -> Tint | None:
    """Return the colour that an area is filled with, None where it is a grey."""
    return shape.tint if shape.kind is FlatKind.CLOTH else None


_SETTLED: Final = 1000
"""Steps of a mm on paper that points are thinned by."""

SEEN: Final = 0.1
"""What the eye still sees on paper (mm): a printer dot of 300 to the inch is hardly finer."""


@dataclass(frozen=True, slots=True, eq=False)
class PlacedView:
    """A view, and where on the paper its own origin lies (mm) at a scale."""

    view: FlatView
    x: float
    y: float
    scale: float

    def shapes(self, only: FlatKind | None = None) -> Iterator[tuple[FlatShape, Points]]:
        """Yield each shape with its points on the paper, no more than the eye needs, what lies on top last.

        ``only``: those of one kind.
        """
        kinds = {*FILLS, *PENS} if only is None else {only}
        shown = [shape for shape in self.view.shapes if shape.kind in kinds]
        points = [_settle(shape.points * self.scale + (self.x, self.y)) for shape in shown]
        yield from zip(shown, thin_courses(points), strict=True)


def _settle(points: Points) -> Points:
    """Points to the fineness they are thinned by, so that the last figure of a sum decides nothing."""
    return np.asarray((points * _SETTLED + TOLERANCE.off_edge).round() / _SETTLED)


@dataclass(frozen=True, slots=True, eq=False)
class FlatPicture:
    """Views placed on paper from (0, 0) up, and how wide and high (mm) they are together."""

    views: tuple[PlacedView, ...]
    width: float
    height: float


def place_views(views: Sequence[FlatView], wide: float, high: float) -> FlatPicture:
    """Return views side by side, as large as a width and a height (mm) let them be."""
    boxes = [view.bounds for view in views]
    low, top = min(box[1] for box in boxes), max(box[3] for box in boxes)
    alone = sum(box[2] - box[0] for box in boxes)
    gap = alone * BETWEEN
    whole = alone + gap * (len(boxes) - 1)
    scale = min(wide / whole, high / (top - low))
    placed, at = [], 0.0
    for view, (left, _, right, _) in zip(views, boxes, strict=True):
        placed.append(PlacedView(view, (at - left) * scale, -low * scale, scale))
        at += right - left + gap
    return FlatPicture(tuple(placed), whole * scale, (top - low) * scale)


def thin_courses(courses: Sequence[Points], within: float = SEEN) -> list[Points]:
    """Return courses, each with as few of its points as keep every other within so many mm of it.

    All are thinned together: the point of a span that lies farthest off is kept, and parts the span for the next turn.
    """
    if not courses:
        return []
    points = np.concatenate([*courses, np.zeros((0, 2))])
    ends = np.cumsum([len(course) for course in courses])
    last = ends - 1
    first = np.concatenate([[0], ends])[:-1]
    kept = np.zeros(len(points), dtype=np.bool_)
    kept[first] = kept[last] = True
    while len(first):
        middle, far = _farthest(points, first, last, within)
        kept[middle] = True
        first, last = np.concatenate([first[far], middle]), np.concatenate([middle, last[far]])
    return [points[start:end][kept[start:end]] for start, end in zip([0, *ends.tolist()], ends.tolist(), strict=False)]


def _farthest(points: Points, first: Places, last: Places, within: float) -> tuple[Places, Places]:
    """The point of each span that lies farthest off the straight line between its ends, and which spans these are.

    Only of those where it lies farther off than ``within``.
    """
    which = np.flatnonzero(last - first > 1)
    inner = last[which] - first[which] - 1
    starts = np.cumsum(inner) - inner
    span = np.repeat(which, inner)
    at = np.arange(len(span)) + np.repeat(first[which] + 1 - starts, inner)
    off = _distances(points[at], points[first[span]], points[last[span]])
    worst = np.maximum.reduceat(off, starts) if len(which) else off
    ties = np.flatnonzero(off == np.repeat(worst, inner))
    far = worst > within
    return at[ties[np.searchsorted(ties, starts[far])]], which[far]


def _distances(points: Points, a: Points, b: Points) -> Points:
    """How far points lie from the straight lines from a to b, each from its own."""
    way, off = b - a, points - a
    long = np.maximum(way[:, 0] ** 2 + way[:, 1] ** 2, SEEN * SEEN)
    share = np.clip((off[:, 0] * way[:, 0] + off[:, 1] * way[:, 1]) / long, 0.0, 1.0)
    return np.asarray(np.hypot(*(off - share[:, None] * way).T))
