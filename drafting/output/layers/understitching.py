"""The understitching of a facing: on the facing, beside the edge that it was turned in at."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from drafting.garment import Garment, Role, Seam
from drafting.output.layers.ply import PlyLaid
from drafting.output.layers.unfold import courses_of, join_courses, move_aside
from drafting.output.layers.view import Points

UNDERSTITCHED, OUT_OF_REACH = 5.0, 40.0
"""From the edge, on the facing, that it is understitched as drawn (mm), and how far from a shoulder that ends where a
facing for neck and armholes was turned through there."""


def understitch(garment: Garment, seam: Seam, base: PlyLaid) -> Iterator[Points]:
    """Yield the understitching of a facing that is turned in, the wrong side of the garment up.

    Where neck and armholes were turned through the shoulders it ends short of these.
    """
    courses = []
    for use in base.run:
        (course,) = courses_of(garment, (use,), base.laid)
        course = move_aside(course, UNDERSTITCHED if use.against else -UNDERSTITCHED)
        piece = garment.piece(use.piece)
        ends = piece.before(use.line), piece.after(use.line)
        first, last = ends[::-1] if use.against else ends
        off = [OUT_OF_REACH * (seam.kind.within and each.role is Role.SHOULDER) for each in (first, last)]
        courses.append(_shorten(course, *off))
    yield from join_courses(courses)


def _shorten(course: Points, first: float, last: float) -> Points:
    """A course without so much of its ends (mm); all of it where less than that is left."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    if along[-1] <= first + last:
        return course
    kept = along[(along > first) & (along < along[-1] - last)]
    at = np.concatenate([[first], kept, [along[-1] - last]])
    return np.stack([np.interp(at, along, course[:, i]) for i in (0, 1)], axis=1)
