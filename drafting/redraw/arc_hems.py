"""Hems that are arcs about the points their side lines meet in, as those of skirts that are a share of a circle.

Such a hem is lengthened along every ray from that point alike, so that it stays an arc about it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from drafting.errors import CannotDraft
from drafting.garment import Line, Role
from drafting.geometry import Path, Point
from drafting.redraw.hemline import Hemline
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

STRAYS = TradeValue(0.5, "mm", "from memory", "less than a cutter's line is wide")
"""By which a hem strays from an arc at most to be taken for one."""

LEAST_ARC = TradeValue(10.0, "mm", "from memory")
"""Of the lines beside such a hem that remain at least where it is shortened."""


def find_centres(hem: Hemline) -> Mapping[bool, Point]:
    """Return the points about which a hem is an arc, where x >= 0 (True) and where x <= 0; none where it is no arc."""
    found = {}
    for line, at_end in ((hem.before, True), (hem.after, False)):
        if line.role is Role.SIDE:
            centre = _meet_centre(line.path, at_end)
            if centre is None or not _is_arc(hem, centre, at_end):
                return {}
            found[not at_end] = centre
    return found


def _meet_centre(side: Path, at_end: bool) -> Point | None:
    """Where a side line run on upwards meets the line x = 0; None where it doesn't, or isn't straight at the hem."""
    low = side.end if at_end else side.start
    up = -side.tangent(side.length) if at_end else side.tangent(0.0)
    if low.x * up.x >= -TOLERANCE.tangent:
        return None
    centre = low + up * (-low.x / up.x)
    return centre if centre.y > low.y - TOLERANCE.joint else None


def _is_arc(hem: Hemline, centre: Point, left: bool) -> bool:
    """Whether the part of a hem on one side of x = 0 lies all at one distance from a centre."""
    path = hem.path
    points = path.points(np.linspace(0.0, path.length, 1 + 2 * len(path.segments)))
    own = points[points[:, 0] <= TOLERANCE.joint] if left else points[points[:, 0] >= -TOLERANCE.joint]
    away = np.hypot(own[:, 0] - centre.x, own[:, 1] - centre.y)
    return bool(np.ptp(away) <= STRAYS)


def lengthen_arc(hem: Hemline, centres: Mapping[bool, Point], by: float) -> tuple[tuple[Line, ...], Path, Path]:
    """Return a hem's lines and the lines before and after it, all as much (mm) farther from the hem's centres."""
    ends = (hem.path.start, hem.path.end)
    radii = {right: centre.distance(ends[right]) for right, centre in centres.items()}
    before, after = _run_on(hem.before.path.reversed(), by).reversed(), _run_on(hem.after.path, by)

    def move(line: Line) -> Line:
        new = line.path.segments.copy()
        for segment in new:
            right = bool(segment[:, 0].mean() > 0.0)
            right = right if right in centres else not right
            centre = np.array((centres[right].x, centres[right].y))
            segment[:] = centre + (segment - centre) * (1.0 + by / radii[right])
        return replace(line, path=Path.of(new))

    return tuple(move(line) for line in hem.lines), before, after


def _run_on(path: Path, by: float) -> Path:
    """A line that starts at the hem, run on there by an amount along itself, or cut off."""
    if by >= 0.0:
        return path.extended(by, 0.0)
    if path.length + by < LEAST_ARC:
        raise CannotDraft(
            "hem", "so short a skirt would end above the line beside its hem",
            short_by=LEAST_ARC - path.length - by, help="shorten it by less",
        )  # fmt: skip
    return path.between(-by, path.length)
