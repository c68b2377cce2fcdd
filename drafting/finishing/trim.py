"""Cut lines cut short, or drawn straight on, where they meet at a corner."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from drafting.geometry import Path, Point
from drafting.geometry.crossing import unit_roots
from drafting.geometry.measure import coefficients, place, velocity
from drafting.geometry.shape import cut_cubic as cut_segment
from drafting.geometry.shape import line as line_segment
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class PathHit:
    """A place on a path: which segment, the parameter on it, and the point."""

    segment: int
    t: float
    point: Point


@dataclass(frozen=True, slots=True)
class Trim:
    """Where a cut line ends: at ``point``; on the line itself if there is a ``hit``, else straight on from its end."""

    point: Point
    hit: PathHit | None = None


def find_hits(path: Path, at: Point, along: Point) -> list[PathHit]:
    """Return where a path crosses the endless straight line through a point in a direction, in order."""
    segments = path.segments
    distance = (segments[:, :, 1] - at.y) * along.x - (segments[:, :, 0] - at.x) * along.y
    near = TOLERANCE.crossing
    rows = np.flatnonzero((distance.min(axis=1) <= near) & (distance.max(axis=1) >= -near))
    found: list[PathHit] = []
    for i in rows.tolist():
        d0, d1, d2, d3 = distance[i].tolist()
        for t in unit_roots(d3 - 3.0 * (d2 - d1) - d0, 3.0 * (d2 - 2.0 * d1 + d0), 3.0 * (d1 - d0), d0):
            found.append(PathHit(i, t, Point(*place(coefficients(segments[i].tolist()), t))))
    return found


def direction_at(path: Path, hit: PathHit) -> Point:
    """Return the direction (not of unit length) of a path at a place on it."""
    return Point(*velocity(coefficients(path.segments[hit.segment].tolist()), hit.t))


def cut_between(path: Path, first: PathHit | None, last: PathHit | None) -> npt.NDArray[np.float64] | None:
    """Return the control points of a path between two places (None: its own end); None if nothing is left."""
    n = len(path.segments)
    i, t = (first.segment, first.t) if first else (0, 0.0)
    j, u = (last.segment, last.t) if last else (n - 1, 1.0)
    if t >= 1.0:
        i, t = i + 1, 0.0
    if u <= 0.0:
        j, u = j - 1, 1.0
    if (i, t) >= (j, u):
        return None
    segments = np.array(path.segments[i : j + 1])
    if i == j:
        segments[0] = cut_segment(segments[0].tolist(), t, u)
    else:
        segments[0] = cut_segment(segments[0].tolist(), t, 1.0)
        segments[-1] = cut_segment(segments[-1].tolist(), 0.0, u)
    return segments


def trim_line(cut: Path, start: Trim, end: Trim, straight: bool = False) -> Path:
    """Return a cut line from one trim to the other; ``straight`` says that it runs straight.

    If nothing of it is left it is the straight line between them.
    """
    body = None if straight else cut_between(cut, start.hit, end.hit)
    if body is None:
        return Path.straight(start.point, end.point)
    parts = [body]
    first, last = Point(*body[0, 0].tolist()), Point(*body[-1, 3].tolist())
    if first.near(start.point, TOLERANCE.offset):
        body[0, 0] = (start.point.x, start.point.y)
    else:
        parts.insert(0, _straight_segment(start.point, first))
    if last.near(end.point, TOLERANCE.offset):
        body[-1, 3] = (end.point.x, end.point.y)
    else:
        parts.append(_straight_segment(last, end.point))
    return Path.of(np.concatenate(parts)) if len(parts) > 1 else Path.of(body)


def _straight_segment(a: Point, b: Point) -> npt.NDArray[np.float64]:
    return np.array((line_segment(a.x, a.y, b.x, b.y),))
