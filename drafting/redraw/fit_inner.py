"""What lies within a piece as a fit change moves its half: inner darts, levels, lengthen/shorten lines."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from drafting.garment import Feature, Level, PathFeature, Piece, Role, Side, Slit
from drafting.garment.carry import Redrawing, carry_features, only
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.fit_half import Shift, flip_point, move_joints
from drafting.tolerance import TOLERANCE


def move_slits(piece: Piece, side: Side, shift: Shift, flip: bool) -> Piece:
    """Return the piece with the corners of one side's inner darts moved by a shift given as on +x."""
    way = HalfShifts({flip: shift})
    return carry_features(piece, way, lambda feature: isinstance(feature, Slit) and feature.lines[0].side is side)


def in_place(shift: Shift, flip: bool) -> Shift:
    """Return a shift given as on +x as it is for points of the half where that lies."""
    if not flip:
        return shift

    def over(p: Point) -> Point:
        return flip_point(shift(flip_point(p)))

    return over


@dataclass(frozen=True, slots=True)
class HalfShifts:
    """A motion by the shifts of a piece's halves, given as on +x; a half without one stays.

    ``shifts`` holds the shift of each half by whether it lies on -x. Points above the height ``below`` stay. A line
    over the centre is parted there, and ``drawn`` tells how each of its parts is.
    """

    shifts: Mapping[bool, Shift]
    below: float = math.inf
    drawn: Callable[[Path, Shift], Path] = move_joints

    def point(self, at: Point) -> Point:
        """Return where a point goes."""
        flip = at.x < 0.0
        return at if at.y > self.below or flip not in self.shifts else at + in_place(self.shifts[flip], flip)(at)

    def path(self, path: Path) -> Path:
        """Return where a path goes."""
        parts = [
            self.drawn(part, in_place(self.shifts[flip], flip)) if flip in self.shifts else part
            for part in _part_at_centre(path)
            for flip in (part.at(part.length / 2.0).x < 0.0,)
        ]
        return Path.join(*parts) if len(parts) > 1 else parts[0]


def move_inner(
    piece: Piece, shifts: Mapping[bool, Shift], below: float, wanted: Callable[[PathFeature], bool]
) -> Piece:
    """Return the piece with what lies within, but for slits, moved by the shifts of its halves, given as on +x.

    Points go that lie no higher than ``below`` (y, mm), and the lines that are ``wanted``.
    """

    def which(feature: Feature) -> bool:
        return wanted(feature) if isinstance(feature, PathFeature) else not isinstance(feature, Slit)

    return carry_features(piece, HalfShifts(shifts, below), which)


def move_level(piece: Piece, name: str, shifts: Mapping[bool, Shift]) -> Piece:
    """Return the piece with the joints of a level moved by the shifts of its halves, ruled between them as it was."""
    return carry_features(piece, HalfShifts(shifts, drawn=_rule_level), only(Level, called=(name,)))


def _rule_level(path: Path, shift: Shift) -> Path:
    """A level with its joints moved, ruled straight again where it was."""
    new = move_joints(path, shift)
    if new is path:
        return path
    segments = new.segments.copy()
    for i, old in enumerate(path.segments):
        if Path.of(old[None]).is_straight:
            segments[i, 1] = (2.0 * segments[i, 0] + segments[i, 3]) / 3.0
            segments[i, 2] = (segments[i, 0] + 2.0 * segments[i, 3]) / 3.0
    return Path.of(segments)


def _part_at_centre(path: Path) -> tuple[Path, ...]:
    x0, y0, x1, y1 = path.bounds
    if x0 >= -TOLERANCE.joint or x1 <= TOLERANCE.joint:
        return (path,)
    centre = Path.straight(Point(0.0, y0 - 1.0), Point(0.0, y1 + 1.0))
    s = path.crossings(centre)[0].s
    return path.split(s)


def half_levels(piece: Piece, name: str, flip: bool) -> list[Path]:
    """Return the piece's levels of a name on +x (on -x with ``flip``), those over the centre parted there."""
    parts = [part for level in piece.levels if level.name == name for part in _part_at_centre(level.path)]
    return [part for part in parts if (part.at(part.length / 2.0).x < 0.0) is flip]


def follow_waist(piece: Piece) -> Piece:
    """Return the piece with its waist levels drawn along the edges of its waist, where it ends at the waist."""
    edges = [line for line in piece.ring if line.role is Role.WAIST]
    if not edges or not any(level.name == "waist" for level in piece.levels):
        return piece
    paths: list[Path] = []
    for line in edges:
        if paths and paths[-1].end.near(line.path.start, TOLERANCE.joint):
            paths[-1] = Path.join(paths[-1], line.path)
        else:
            paths.append(line.path)
    if len(paths) > 1 and paths[-1].end.near(paths[0].start, TOLERANCE.joint):  # the ring begins at the centre
        paths[0] = Path.join(paths.pop(), paths[0])
    along = Redrawing(lambda path: _nearest_path(paths, path))
    return carry_features(piece, along, only(Level, called=("waist",)))


def _nearest_path(paths: Sequence[Path], old: Path) -> Path:
    """The path whose middle lies nearest to that of an older one, run as that is."""
    middle = old.at(old.length / 2.0)
    path = min(paths, key=lambda p: p.at(p.length / 2.0).distance(middle))
    same = path.start.distance(old.start) <= path.start.distance(old.end)
    return path if same else path.reversed()
