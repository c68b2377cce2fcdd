"""What a flat is made of: shapes laid one over another, each a course of points and what it stands for."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from drafting.cloth.colour import Tint
from drafting.garment import Garment, Run, Use
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.sides import Face
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

Points = NDArray[np.float64]
"""Points (n, 2), mm: x to the viewer's right, y up, 0 at the nape."""

DRAWN_APART = TradeValue(6.0, "mm", "derived", "a hair's breadth on a flat of a tenth of the true size")
"""How far apart the points of a curve are drawn."""


class FlatKind(StrEnum):
    """What a shape of a flat stands for."""

    INSIDE = "inside"  # the area of a layer's wrong side, seen through an opening
    CLOTH = "cloth"  # a layer's area: it hides what lies below
    EDGE = "edge"  # where the garment ends to the eye
    SEAM = "seam"
    DART = "dart"
    STITCHES = "stitches"  # that hold a hem
    OPENING = "opening"  # a zip, or the edge of a lap
    BUTTON = "button"
    GATHERS = "gathers"
    STRIPE = "stripe"  # of the cloth
    BODY = "body"
    HIDDEN = "hidden"  # a line that isn't drawn: another lies over it, or the cloth does
    BEFORE = "before"  # where an edge was in an earlier draft
    MARKED_AREA = "marked-area"  # the area of a piece that is pointed out
    MARKED = "marked"  # a line that is pointed out


@dataclass(frozen=True, slots=True, eq=False)
class FlatShape:
    """A course of points and its kind, and what of the garment it is; of an area, what lies within the points.

    ``piece`` is whose area it is, or "" if none's; ``uses`` are the lines that lie along the course; ``tint`` is the
    colour of the area's cloth, None where nothing is said of it.
    """

    kind: FlatKind
    points: Points
    piece: str = ""
    uses: tuple[Use, ...] = ()
    tint: Tint | None = None


@dataclass(frozen=True, slots=True, eq=False)
class FlatView:
    """The garment from one face, in true size: its shapes, what lies on top last."""

    face: Face
    shapes: tuple[FlatShape, ...]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top (mm)."""
        points = np.concatenate([shape.points for shape in self.shapes])
        (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
        return float(left), float(low), float(right), float(high)


def sample_path(path: Path) -> Points:
    """Return points along a path, its ends among them, as close as a flat is drawn: two of a straight one."""
    segments = path.segments
    if path.is_straight:
        return np.array([segments[0, 0], segments[-1, 3]])
    counts = np.maximum(1, np.ceil(np.hypot(*np.diff(segments, axis=1).T).sum(axis=0) / DRAWN_APART)).astype(int)
    which = np.repeat(np.arange(len(segments)), counts)
    t = ((np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[which])[:, None]
    p, a, b, q = (segments[which, i] for i in range(4))
    u = 1.0 - t
    return np.concatenate([u * u * (u * p + 3.0 * t * a) + t * t * (3.0 * u * b + t * q), segments[-1:, 3]])


def sample_run(garment: Garment, run: Run, count: int) -> Points:
    """Return so many points along a run of lines, by equal shares of its length."""
    paths = [garment.path(use) for use in run]
    ends = np.cumsum([0.0, *(path.length for path in paths)])
    at = np.linspace(0.0, ends[-1], count)
    which = np.clip(np.searchsorted(ends, at, side="right") - 1, 0, len(paths) - 1)
    return np.concatenate([path.points(at[which == i] - ends[i]) for i, path in enumerate(paths) if (which == i).any()])


def join_points(courses: Sequence[Points]) -> Points:
    """Return courses one after another as one."""
    return np.concatenate(list(courses))


def even_out(course: Points, apart: float) -> Points:
    """Return points along a course about so many mm apart, its ends among them.

    A course of half a step more has a point more, whatever its last figure is.
    """
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    at = np.linspace(0.0, run[-1], max(2, round(float(run[-1]) / apart + TOLERANCE.same_point) + 1))
    return np.stack([np.interp(at, run, course[:, i]) for i in (0, 1)], axis=1)
