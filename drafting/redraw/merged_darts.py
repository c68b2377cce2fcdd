"""Darts within a piece gathered into one of them, and moved sideways: what a panel seam takes up lies on its way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise

from drafting.garment import Level, Piece, Slit
from drafting.garment.carry import drop_features, join_features, only, part_features, with_features
from drafting.garment.darts import INNER_LEGS, Dart, intake
from drafting.geometry import Path, Point, is_inside
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


def merge_within(piece: Piece, darts: Sequence[Dart], middle: float, top: float) -> tuple[Piece, Dart]:
    """Return the piece with darts of two points made into the first of them, which takes in as much as all, and it.

    Its middle lies at ``middle`` (mm, x), its upper point at the height ``top`` (mm, y); every level is as wide as it
    was, the darts sewn.
    """
    made = _widen_dart(darts[0], math.fsum(map(intake, darts)), middle, top)
    for dart in darts:
        legs = [line.path for line in dart.lines]
        piece = join_features(piece, partial(_join_over, legs=legs), only(Level))
    gone = {dart.called for dart in darts}
    piece = drop_features(piece, lambda each: isinstance(each, Slit) and each.lines[0].dart in gone)
    piece = part_features(piece, _OutsideSlit(Path.join(*(line.path for line in made.lines))), only(Level))
    return with_features(piece, (Slit(made.lines),)), made


def _widen_dart(dart: Dart, width: float, middle: float, top: float) -> Dart:
    """A dart of another width about another middle, its upper point at the height ``top``, else as high as it was."""
    assert dart.lower is not None
    by = Point(middle - dart.middle.x, 0.0)
    out = (dart.mouth_b - dart.mouth_a).unit * ((width - intake(dart)) / 2.0)
    point = Point(dart.point.x, top)
    corners = (point, dart.mouth_a - out, dart.lower, dart.mouth_b + out, point)
    moved = [corner + by for corner in corners]
    paths = [Path.straight(one, two) for one, two in pairwise(moved)]
    lines = tuple(replace(line, path=path) for line, path in zip(dart.lines, paths, strict=True))
    assert len(lines) == len(INNER_LEGS)
    return replace(dart, lines=lines, apex=moved[0])


def _join_over(a: Path, b: Path, legs: Sequence[Path]) -> Path | None:
    """Two stretches of a level that end at the legs of a dart, as one over it."""
    for one, two in ((a, b), (b, a), (a.reversed(), b), (a, b.reversed())):
        if all(min(leg.nearest(tip)[1] for leg in legs) <= TOLERANCE.flatten for tip in (one.end, two.start)):
            return Path.join(one, Path.straight(one.end, two.start), two)
    return None


@dataclass(frozen=True, slots=True)
class _OutsideSlit:
    """What lies outside a slit."""

    outline: Path

    def holds(self, at: Point) -> bool:
        return True

    def has_line(self, name: str) -> bool:
        return True

    def stretches(self, path: Path) -> Sequence[Path]:
        parts = path.cut_at(path.cuts_by((self.outline,), TOLERANCE.flatten), TOLERANCE.sewn_length)
        if len(parts) == 1:
            return (path,)
        around = self.outline.flatten()
        return [part for part in parts if not is_inside(part.at(part.length / 2.0), around)]
