"""Gathers drawn up: a neckline to the length that it is gathered to, a side to that of its other half."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from drafting.flat.shapes import Points
from drafting.garment import Garment, Line, Piece, Role
from drafting.garment.features import Gathers
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

_SHARES = 41

FULLNESS_FALLS = TradeValue(130.0, "mm", "derived", "by drawing")
"""Below a gathered edge over which its fullness opens out."""

TAKEN_UP_WITHIN = TradeValue(90.0, "mm", "derived", "by drawing")
"""From a gathered side inwards over which what it takes up dies away."""


@dataclass(frozen=True, slots=True, eq=False)
class Pull:
    """What gathers take up along an edge: points on it, and by how much (mm) each comes nearer to where they start.

    ``across``: the edge runs across the body, both its sides come to its middle, and the fullness falls open below.
    Else it runs up and down, and what lies above comes down, less and less towards the nape and the centre.
    """

    course: Points
    taken: Points
    across: bool

    def move(self, points: Points) -> Points:
        """Return by how much each point moves."""
        order = np.argsort(self.course[:, 0 if self.across else 1], kind="stable")
        course, taken = self.course[order], self.taken[order]
        by = np.zeros_like(points)
        if self.across:
            fade = np.clip(1.0 - (course[:, 1].min() - points[:, 1]) / FULLNESS_FALLS, 0.0, 1.0)
            by[:, 0] = np.interp(points[:, 0], course[:, 0], taken) * fade
            return by
        sign = float(np.sign(course[:, 0].mean()) or 1.0)
        high = float(course[:, 1].max())
        fade = np.clip(points[:, 1] / min(high, -1.0), 0.0, 1.0)
        near = np.clip(1.0 - (np.abs(course[:, 0]).min() - points[:, 0] * sign) / TAKEN_UP_WITHIN, 0.0, 1.0)
        by[:, 1] = np.interp(points[:, 1], course[:, 1], taken) * fade * near
        return by


def find_pulls(garment: Garment, names: frozenset[str], shut: Callable[[Points], Points]) -> Iterator[Pull]:
    """Yield what the gathers of some pieces take up, but where they are sewn to each other."""
    beside = _sewn_beside(garment, names)
    for piece in (garment.piece(name) for name in sorted(names)):
        for each in piece.of_kind(Gathers):
            line = piece.line(each.line)
            if line.role is not Role.WAIST and (piece.name, line.name) not in beside:
                yield _find_pull(line, each, shut)


def _sewn_beside(garment: Garment, names: frozenset[str]) -> frozenset[tuple[str, str]]:
    """The lines along which pieces are sewn to others of these: that seam is shut as it is."""
    sections = [section for seam in garment.seams for section in seam.sections]
    return frozenset(
        (use.piece, use.line)
        for section in sections
        if len([run for run in section.plies if run and run[0].piece in names]) > 1
        for run in section.plies
        for use in run
    )


def _find_pull(line: Line, gathers: Gathers, shut: Callable[[Points], Points]) -> Pull:
    shares = np.linspace(0.0, 1.0, _SHARES)
    course = shut(line.path.points(shares * line.path.length))
    done = (
        np.clip((shares - gathers.start) / max(gathers.end - gathers.start, TOLERANCE.same_point), 0.0, 1.0)
        * gathers.by
    )
    wide, high = np.ptp(course, axis=0)
    if wide >= high:
        rightward = course[-1, 0] > course[0, 0]
        return Pull(course, (gathers.by / 2.0 - done) * (1.0 if rightward else -1.0), True)
    upward = course[-1, 1] > course[0, 1]
    return Pull(course, -(done if upward else gathers.by - done), False)


def find_gathers(piece: Piece) -> Iterator[tuple[Line, Points]]:
    """Yield each line of a piece that is gathered, with points along what of it is."""
    for each in piece.of_kind(Gathers):
        line = piece.line(each.line)
        count = max(3, round(line.path.length * (each.end - each.start) / 14.0) + 1)
        yield line, line.path.points(np.linspace(each.start, each.end, count) * line.path.length)
