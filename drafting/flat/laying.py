"""How the pieces of one face lie in the flat: darts and seams shut, skirts hung from their waist."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import field
from functools import partial
from types import MappingProxyType

import numpy as np

from drafting.flat.bands import find_band
from drafting.flat.closing import Shut, close_gaps, find_gaps
from drafting.flat.shapes import FlatShape, Points, even_out, join_points, sample_path
from drafting.flat.skirts import Hung, hang_skirts, list_skirt
from drafting.garment import Face, Garment, Line, Piece, Role, Use, hanging_pieces
from drafting.garment.laying import Striped
from drafting.record import dataclass
from drafting.trade import TradeValue

MIRRORED = np.array([-1.0, 1.0])
"""Of a point of one face, seen from the other."""

SEEN_BEHIND = TradeValue(3.0, "mm", "derived", "by drawing")
"""By which an edge behind must be lower to be drawn below that in front."""

STRAIGHT_APART = TradeValue(16.0, "mm", "derived", "by drawing")
"""How far apart points of a straight line are taken."""


@dataclass(frozen=True, slots=True, eq=False)
class FaceLay:
    """The pieces of a face, those of the surface and those that hang over it, and how they lie in the flat."""

    face: Face
    base: tuple[Piece, ...]
    hung: tuple[Piece, ...]
    above: tuple[Shut, ...]
    below: tuple[Shut, ...]
    skirts: Mapping[str, Hung]
    beneath: frozenset[tuple[str, str]]
    striped: Striped
    laid: dict[str, Mapping[str, Points]] = field(default_factory=dict)

    @property
    def names(self) -> frozenset[str]:
        """The names of the surface's pieces."""
        return frozenset(piece.name for piece in self.base)

    def lies(self, use: Use, points: Points) -> Points:
        """Return points of a line's piece as they lie in the flat."""
        hung = self.skirts.get(use.piece)
        shut = close_gaps(points, self.above if hung is None else self.below, use.piece)
        return shut if hung is None else hung(shut)

    def course(self, piece: Piece, line: Line) -> Points:
        """Return a line of a piece as it lies in the flat; all lines of a piece are laid together, once."""
        courses = self.laid.get(piece.name)
        if courses is None:
            lines = {each.name: self._sample(each) for each in piece.all_lines}
            whole = self.lies(Use(piece.name, line.name), join_points(list(lines.values())))
            ends = np.cumsum([len(points) for points in lines.values()])[:-1]
            courses = self.laid[piece.name] = dict(zip(lines, np.split(whole, ends), strict=True))
        return courses[line.name]

    def _sample(self, line: Line) -> Points:
        """Points of a line as it is cut: a straight one isn't straight where darts are shut."""
        points = sample_path(line.path)
        return even_out(points, STRAIGHT_APART) if len(points) == 2 and (self.above or self.skirts) else points

    def edge(self, role: Role) -> Points | None:
        """Return the surface's edge of a role from left to right, None where the face has none."""
        found = [self.course(piece, line) for piece in self.base for line in piece.lines(role=role)]
        if not found:
            return None
        right = [course if course[0, 0] <= course[-1, 0] else course[::-1] for course in found]
        return join_points(sorted(right, key=lambda course: float(course[:, 0].mean())))


def lay_face(garment: Garment, face: Face, striped: Striped = MappingProxyType({})) -> FaceLay:
    """Return how the pieces of a face lie."""
    hanging = hanging_pieces(garment)
    pieces = [piece for piece in garment.pieces if piece.face is face]
    base, hung = (tuple(p for p in pieces if (p.name in hanging) is over) for over in (False, True))
    names, skirt = frozenset(piece.name for piece in base), list_skirt(garment, face)
    above, below = (find_gaps(garment, each) for each in (names - skirt, skirt))
    beneath = frozenset((use.piece, use.line) for use in _list_beneath(garment, names))
    return FaceLay(face, base, hung, above, below, hang_skirts(garment, face, above, below), beneath, striped)


def _list_beneath(garment: Garment, names: frozenset[str]) -> Iterator[Use]:
    """The lines that another is drawn for: of two pieces of one face the first one's, of an edge with a band that's."""
    for seam in garment.seams:
        if find_band(garment, seam) is not None:
            yield from seam.uses()
        for section in seam.sections:
            runs = [run for run in section.plies if run and run[0].piece in names]
            if len({run[0].piece for run in runs}) > 1:
                yield from (use for run in runs[1:] for use in run)


def fit_ends(course: Points, onto: Points) -> Callable[[Points], Points]:
    """Return what takes points so that the ends of a course come to lie on those of another."""
    (a, b), (to_a, to_b) = course[[0, -1]], onto[[0, -1]]
    wide = max(float(b[0] - a[0]), 1.0)

    def move(points: Points) -> Points:
        share = (points[:, 0] - a[0]) / wide
        across = to_a[0] + share * (to_b[0] - to_a[0])
        up = np.interp(share, [0.0, 1.0], [to_a[1] - a[1], to_b[1] - b[1]])
        return np.stack([across, points[:, 1] + up], axis=1)

    return move


def see_through(lay: FaceLay, behind: FaceLay, role: Role) -> tuple[Points, Points, Callable[[Points], Points]] | None:
    """Return an edge of a face, the same edge of the face behind as it is seen there, and what moves the latter so."""
    own, other = lay.edge(role), behind.edge(role)
    if own is None or other is None:
        return None
    move = partial(_seen_behind, fit_ends(other[::-1] * MIRRORED, own))
    return own, move(other)[::-1], move


def _seen_behind(fitted: Callable[[Points], Points], points: Points) -> Points:
    return fitted(points * MIRRORED)


def is_lower(course: Points, than: Points) -> bool:
    """Whether a course from left to right lies lower than another anywhere."""
    return bool((np.interp(course[:, 0], than[:, 0], than[:, 1]) - course[:, 1] > SEEN_BEHIND).any())


def move_shapes(shapes: Iterable[FlatShape], move: Callable[[Points], Points]) -> Iterator[FlatShape]:
    """Yield shapes moved."""
    yield from (FlatShape(each.kind, move(each.points), each.piece, each.uses) for each in shapes)
