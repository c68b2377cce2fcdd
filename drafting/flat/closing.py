"""Darts and panel seams sewn shut, in the plane: what lies beyond one moves up to it.

Cloth that is sewn along darts doesn't lie flat, so a flat is true only in the main: widths are at every height what the
pieces measure there, darts taken out; heights are those of the piece nearest to the centre.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from drafting.flat.shapes import Points, sample_run
from drafting.garment import Face, Garment, Role, Run, Seam, Section, hanging_pieces
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

_SHARES = 41
"""Points along a leg at which the gap is taken."""


@dataclass(frozen=True, slots=True, eq=False)
class Gap:
    """What is sewn shut: the edge of a piece that moves, and each point's way to the edge that stays.

    ``upright``: the edge runs up the body and what lies beyond it, seen from the centre, moves sideways; else it runs
    across, and what lies above it moves down, less and less towards ``top``.
    """

    piece: str
    moving: Points
    way: Points
    upright: bool
    sign: float
    top: float = 0.0

    def move(self, points: Points) -> Points:
        """Return by how much each point moves, so that the gap closes."""
        axis = 1 if self.upright else 0
        order = np.argsort(self.moving[:, axis], kind="stable")
        along, across = self.moving[order, axis], self.moving[order, 1 - axis]
        at = points[:, axis]
        middle = np.interp(at, along, across + self.way[order, 1 - axis] / 2.0)
        by = np.stack([np.interp(at, along, self.way[order, i]) for i in (0, 1)], axis=1)
        beyond = (points[:, 1 - axis] - middle) * (self.sign if self.upright else 1.0) > 0.0
        return np.where(beyond[:, None], by * self._fade(points)[:, None], 0.0)

    def _fade(self, points: Points) -> Points:
        if self.upright:
            return np.ones(len(points))
        low = float(self.moving[:, 1].max())
        return np.clip((self.top - points[:, 1]) / max(self.top - low, 1.0), 0.0, 1.0)


def find_gaps(garment: Garment, face: Face) -> tuple[Gap, ...]:
    """Return what is sewn shut on one face: its darts, and the seams between its pieces."""
    return tuple(gap for seam in garment.seams for gap in _seam_gaps(garment, seam, face))


def close_gaps(points: Points, gaps: Iterable[Gap]) -> Points:
    """Return points as they lie once all gaps are sewn shut."""
    return points + sum((gap.move(points) for gap in gaps), np.zeros_like(points))


def _seam_gaps(garment: Garment, seam: Seam, face: Face) -> Iterator[Gap]:
    """The gaps of one seam: sections that follow each other are one, as the two halves of a dart within a piece."""
    parts: list[tuple[str, Points, Points]] = []
    for section in seam.sections:
        runs = _sewn_on(garment, section, face)
        if runs is None:
            continue
        one, two = (sample_run(garment, run, _SHARES) for run in runs)
        if parts and np.abs(parts[-1][1][-1] - one[0]).max() < TOLERANCE.sewn_length:
            _, before, beside = parts.pop()
            one, two = np.concatenate([before, one[1:]]), np.concatenate([beside, two[1:]])
        parts.append((runs[0][0].piece, one, two))
    yield from (_make_gap(*part) for part in parts if np.abs(part[1] - part[2]).max() > TOLERANCE.sewn_length)


def _sewn_on(garment: Garment, section: Section, face: Face) -> tuple[Run, Run] | None:
    """The two edges of a section that lie on one face; None where it joins something else, or a skirt at the waist."""
    hanging = hanging_pieces(garment)
    plies = [run for run in section.plies if run and run[0].piece not in hanging]
    if len(plies) != 2 or any(garment.piece(run[0].piece).face is not face for run in plies):
        return None
    waist = all(garment.line(run[0]).role is Role.WAIST for run in plies)
    return None if waist else (plies[0], plies[1])


def _make_gap(piece: str, one: Points, two: Points) -> Gap:
    middle = (one + two) / 2.0
    along = np.abs(middle - middle[0]).max(axis=0)
    if along[1] >= along[0]:
        sign = float(np.sign(middle[:, 0].mean()) or 1.0)
        stays, moves = (one, two) if (one[:, 0] * sign).mean() < (two[:, 0] * sign).mean() else (two, one)
        return Gap(piece, moves, stays - moves, True, sign)
    stays, moves = (one, two) if one[:, 1].mean() < two[:, 1].mean() else (two, one)
    return Gap(piece, moves, stays - moves, False, 1.0)
