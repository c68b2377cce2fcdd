"""Lengthen/shorten lines as they are drawn: from edge to edge within the piece, or not at all.

A change may have moved the edges that such a line ended on: it is drawn on to where they are now, and parted where a
dart lies in its way. One that would end on a hem, a cap or a neckline, say, is left out: to cut there would alter
more than the length.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from drafting.finishing.allowance import NetEdge
from drafting.finishing.clipping import clip_curve, columns
from drafting.garment import Adjust, Piece, Role
from drafting.geometry import Path, Point, lengths_along
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

Array = npt.NDArray[np.float64]

NEVER_ENDS_ON = frozenset({Role.HEM, Role.WRIST, Role.WAIST, Role.CAP, Role.ARMHOLE, Role.NECKLINE, Role.SHOULDER})
"""Lines that run across the way a piece grows, or are fitted to another: a lengthen line that meets one is lost."""

HELD = TradeValue(0.5, "share", "from memory")
"""Of a stretch from edge to edge that a lengthen/shorten line must have had to be drawn there."""

NEAR_EDGE = TradeValue(1.0, "mm", "from memory")
"""From its edges within which a bent lengthen/shorten line must end."""


def adjust_lines(piece: Piece, edges: Sequence[NetEdge], polygon: Array) -> list[tuple[Adjust, Path]]:
    """Return the stretches of a piece's lengthen/shorten lines that are drawn; ``polygon`` is its net outline."""
    lost = _lost_at(piece, edges) if piece.adjusts else []
    out = []
    for adjust in piece.adjusts:
        parts = _clip_straight(adjust.path, polygon) if adjust.path.is_straight else _clip_bent(adjust.path, polygon)
        if not any(_lies_on(lost, end) for part in parts for end in (part.start, part.end)):
            out += [(adjust, part) for part in parts]
    return out


def _lost_at(piece: Piece, edges: Sequence[NetEdge]) -> list[Path]:
    roles = {line.name: line.role for line in piece.ring}
    return [edge.path for edge in edges if roles.get(edge.line) in NEVER_ENDS_ON]


def _lies_on(paths: Sequence[Path], at: Point) -> bool:
    """Whether a point lies on one of some paths, to a tenth of what is seen."""
    near = TOLERANCE.sewn_length
    for path in paths:
        x0, y0, x1, y1 = path.bounds
        if x0 - near <= at.x <= x1 + near and y0 - near <= at.y <= y1 + near and path.nearest(at)[1] <= near:
            return True
    return False


def _clip_straight(path: Path, polygon: Array) -> list[Path]:
    """The stretches of a straight line, drawn on both ways, from edge to edge, that it lay on."""
    u = (path.end - path.start).unit
    flat = np.stack((lengths_along(polygon, u.left), lengths_along(polygon, u)), axis=1)
    (meetings,) = columns(flat, [u.cross(path.start)])
    low, high = u.dot(path.start), u.dot(path.end)
    shift = path.start - u * low
    stretches = zip(meetings[::2], meetings[1::2], strict=False)
    return [
        Path.straight(shift + u * a, shift + u * b)
        for a, b in stretches
        if min(b, high) - max(a, low) > max(HELD * (b - a), TOLERANCE.sewn_length)
    ]


def _clip_bent(path: Path, polygon: Array) -> list[Path]:
    """The stretches of a bent line that lie within; none where one of them doesn't end on an edge."""
    parts = clip_curve(path, polygon)
    outline = Path.polyline([Point(x, y) for x, y in (*polygon.tolist(), polygon[0].tolist())])
    ends = [end for part in parts for end in (part.start, part.end)]
    return parts if all(outline.nearest(end)[1] <= NEAR_EDGE for end in ends) else []
