"""Truing: one fair curve drawn over the parts of an edge that were moved, as a cutter draws it with a curved rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from drafting.geometry import Affine, Path, fit_cubics, root
from drafting.tolerance import TOLERANCE

Array = npt.NDArray[np.float64]

STRAY = 0.5
"""mm by which a trued curve may stray from the middles of the parts it is drawn over (common practice: the width of
a pencil line)."""

_HANDLES = (0.4, 2.0)  # how far a curve's handles may be drawn in or out to give it a length


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a path, from ``low`` to ``high`` (mm along it), and the rigid motion it was moved by."""

    low: float
    high: float
    move: Affine


def trued(path: Path, parts: Sequence[Part], length: float | None) -> Path:
    """Return a fair curve over the moved parts of a path, in order.

    It runs through both ends, in their directions, and near the parts' middles. Where ``length`` is given, the
    curve's fullness is solved for it. GeometryError where it can't be.
    """
    last = len(parts) - 1
    held = [(p, p.low + share * (p.high - p.low)) for i, p in enumerate(parts) for share in _shares(i == 0, i == last)]
    at = np.array([s for _, s in held])
    m = np.array([(p.move.xx, p.move.xy, p.move.dx, p.move.yx, p.move.yy, p.move.dy) for p, _ in held])
    (x, y), (u, v) = path.points(at).T, path.tangents(at).T
    points = np.stack((m[:, 0] * x + m[:, 1] * y + m[:, 2], m[:, 3] * x + m[:, 4] * y + m[:, 5]), axis=1)
    tangents = np.stack((m[:, 0] * u + m[:, 1] * v, m[:, 3] * u + m[:, 4] * v), axis=1)
    made = _ended(fit_cubics(points, tangents, STRAY), path, parts)
    return made if length is None else with_length(made, length)


def _ended(made: Path, path: Path, parts: Sequence[Part]) -> Path:
    """Set the ends exactly where the parts' ends were moved to, so that the ring stays closed to the last figure."""
    segments = made.segments.copy()
    segments[0, 0] = tuple(parts[0].move.apply(path.start))
    segments[-1, 3] = tuple(parts[-1].move.apply(path.end))
    return Path.of(segments)


def _shares(first: bool, last: bool) -> tuple[float, ...]:
    """Where along a part the curve is held: the outer halves at the ends, else the middle alone."""
    if first:
        return (0.0, 0.25, 0.5)
    return (0.5, 0.75, 1.0) if last else (0.5,)


def with_length(path: Path, length: float) -> Path:
    """Return the curve with its handles drawn out or in until it is ``length`` mm long; ends and directions stay.

    GeometryError where that would bend it too much, or where the curve is straight.
    """
    ends, out, back = _handles(path)

    def drawn(fullness: float) -> Path:
        return Path.of(np.stack((ends[0], ends[0] + out * fullness, ends[1] - back * fullness, ends[1]), axis=1))

    if abs(path.length - length) <= TOLERANCE.same_point * TOLERANCE.joint:
        return path
    low, high = _HANDLES
    within = TOLERANCE.same_point * TOLERANCE.same_point
    fullness, _ = root(lambda k: drawn(k).length - length, low, high, within=within)
    return drawn(fullness)


def _handles(path: Path) -> tuple[tuple[Array, Array], Array, Array]:
    s = path.segments
    return (s[:, 0], s[:, 3]), s[:, 1] - s[:, 0], s[:, 3] - s[:, 2]
