"""A set-in sleeve as it lies on the pieces: its cap against the armhole it is sewn into, and how wide it is below."""

from __future__ import annotations

import math

from drafting.garment.lines import Line, Role
from drafting.garment.model import Garment, Piece
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.sides import Face, Side


@dataclass(frozen=True, slots=True)
class SleeveTaken:
    """Figures of one sleeve (mm): how high its cap is and how long, and the edge of the armhole that it is sewn to."""

    piece: Piece
    height: float
    cap: float
    armhole: float

    @property
    def ease(self) -> float:
        """By how much the cap is longer than the armhole."""
        return self.cap - self.armhole

    @property
    def share(self) -> float:
        """The height as a share of the armhole."""
        return self.height / self.armhole

    @property
    def crown(self) -> float:
        """The height (y, mm) of the cap's highest point, which lies at the shoulder."""
        return max(line.path.bounds[3] for line in self.piece.lines(role=Role.CAP))


def take_sleeve(garment: Garment, side: Side) -> SleeveTaken | None:
    """Return the figures of the sleeve of a side; None where there is none, or one that is in parts."""
    found = [piece for piece in garment.pieces if piece.side is side and piece.lines(role=Role.CAP)]
    if len(found) != 1:
        return None
    caps = found[0].lines(role=Role.CAP)
    armhole = math.fsum(_sewn_to(garment, found[0], line) for line in caps)
    if armhole <= 0.0:
        return None
    height = max(line.path.bounds[3] for line in caps) - min(line.path.bounds[1] for line in caps)
    return SleeveTaken(found[0], height, math.fsum(line.path.length for line in caps), armhole)


def _sewn_to(garment: Garment, sleeve: Piece, cap: Line) -> float:
    """How long the stretch of armhole is that a line of the cap is sewn to; of its first layer, where there are two."""
    for seam in garment.seams:
        for section in seam.sections:
            if any(use.piece == sleeve.name and use.line == cap.name for run in section.plies for use in run):
                others = (run for run in section.plies if run and all(use.piece != sleeve.name for use in run))
                run = next(others, ())
                mates = [use for ply in section.plies for use in ply if use.piece == sleeve.name]
                return garment.run_length(run) / max(len(mates), 1)
    return 0.0


def width_at(sleeve: Piece, y: float) -> float | None:
    """Return how wide (mm) a sleeve is across at a height, from its front seam to its back seam; None where it ends.

    At the mouth of a dart in the back seam it is the nearest place of that seam that counts.
    """
    front, back = (_seam_at(sleeve, face, y) for face in (Face.FRONT, Face.BACK))
    return None if front is None or back is None else front.distance(back)


def _seam_at(sleeve: Piece, face: Face, y: float) -> Point | None:
    paths = [line.path for line in sleeve.lines(role=Role.UNDERARM, face=face)]
    if not paths or not min(path.bounds[1] for path in paths) <= y <= max(path.bounds[3] for path in paths):
        return None
    return min((_at_height(path, y) for path in paths), key=lambda at: abs(at.y - y))


def _at_height(path: Path, y: float) -> Point:
    crossed = path.cross_level(y)
    return path.at(crossed[0]) if crossed else min((path.start, path.end), key=lambda end: abs(end.y - y))
