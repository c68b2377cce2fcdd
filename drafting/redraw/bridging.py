"""Lines across a piece that was cut open, or drawn again: bridged across the gaps, or spanned from edge to edge."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from drafting.garment import Piece
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.truing import MovedPart
from drafting.tolerance import TOLERANCE


def bridge_parts(path: Path, parts: Sequence[MovedPart]) -> Path:
    """Return the moved stretches of a level, with straight lines across what opened between them."""
    moved = [path.between(part.low, part.high).transformed(part.move) for part in parts]
    out = [moved[0]]
    for one, two in pairwise(moved):
        if one.end.distance(two.start) > TOLERANCE.joint:
            out.append(Path.straight(one.end, two.start))
        out.append(two)
    return Path.join(*out)


@dataclass(frozen=True, slots=True)
class Respanning:
    """The motion of what lies within a piece whose lines were drawn again: the same share across it, edge to edge."""

    old: Piece
    new: Piece

    def path(self, path: Path) -> Path:
        """Return a line across the piece, straight again between the same shares of the same lines."""
        return Path.straight(self._again(path.start), self._again(path.end))

    def point(self, at: Point) -> Point:
        """Return where a point goes, by the level line across the piece that it lies on."""
        found = [line.path.at(s) for line in self.old.ring for s in line.path.cross_level(at.y)]
        if not found:
            return at + self._again(at) - self.old.outline.at(self.old.outline.nearest(at)[0])
        left, right = min(found, key=lambda p: p.x), max(found, key=lambda p: p.x)
        share = (at.x - left.x) / max(right.x - left.x, TOLERANCE.joint)
        return self._again(left).to(self._again(right), share)

    def _again(self, point: Point) -> Point:
        (s, _), line = min(((ln.path.nearest(point), ln) for ln in self.old.ring), key=lambda found: found[0][1])
        path = self.new.line(line.name).path
        return path.at(s / line.path.length * path.length)
