"""The mouth of a dart: the edges on either side of it, folded together, and trued so that they run on in each other.

Truing bends the two edges without moving the mouth, so the legs stay equal. It is a map that can be undone exactly: a
dart trued, closed and opened at its old place again finds its edges as they were. A side seam is bowed as far as the
waist, which keeps it fair and the waist where it is; any other edge bends in the 30 mm beside the mouth alone, as a
cutter blends it, and so does a centre, for the body's widths are told from it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from drafting.garment.carry import follow_edges
from drafting.garment.darts import Dart, dart_of, mouth_edges
from drafting.garment.model import Garment, Piece, Role
from drafting.garment.seam import Run
from drafting.geometry import Affine, Path, Point, lengths_along, root, turn
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

TRUED = TradeValue(30.0, "mm", "from memory")
"""Of an edge on either side of a dart's mouth that are bent to true it; a side seam bends as far as its next joint."""

MEANT_TURN = TradeValue(math.radians(30.0), "rad", "from memory")
"""By which a folded edge turns at its mouth where the corner is meant: a sharper one isn't trued."""

GENTLE_TURN = TradeValue(math.radians(5.0), "rad", "from memory")
"""Of a bend that is spread as far as the edge's next joint; a sharper one is kept beside the mouth."""

_FINE = TOLERANCE.same_point * TOLERANCE.same_point


def folding(dart: Dart) -> Affine:
    """Return the turn that lays the second leg of a dart, with the edge after it, onto the first."""
    return Affine.turn(turn(dart.mouth_b - dart.point, dart.mouth_a - dart.point), dart.point)


def fold_of(dart: Dart) -> float:
    """Return the turn (rad) that lays the edge after a dart's mouth on from the edge before it, the dart sewn.

    It is told from the parts of the legs that end there: those of a dart that runs open to a hem below its widest place
    come nearer to each other again.
    """
    one, two = dart.lines[0].path, dart.lines[-1].path
    return turn(-two.tangent(two.length), one.tangent(0.0))


def bend_in_edge(piece: Piece, dart: Dart) -> float:
    """Return the turn (radians, left positive) of the edge at a dart's mouth, the dart sewn."""
    before, after = mouth_edges(piece, dart)
    return _bend(before.path, after.path, fold_of(dart))


def bend_at_mouth(piece: Piece, dart: Dart, about: Point) -> float:
    """Return the turn (radians, left positive) of the edge at a dart's mouth, folded shut about a point."""
    before, after = mouth_edges(piece, dart)
    return _bend(before.path, after.path, turn(dart.mouth_b - about, dart.mouth_a - about))


def _bend(before: Path, after: Path, fold: float) -> float:
    return turn(before.tangent(before.length), after.tangent(0.0).turned(fold))


def true_mouth(piece: Piece, name: str) -> Piece:
    """Return the piece with the edges at a dart's mouth bent so that, folded along its legs, the edge runs on smooth.

    The mouth stays where it is, and so do the legs. A corner that is meant (30 degrees and more, or where two kinds
    of edge meet) stays, and so does a dart within the piece.
    """
    dart = dart_of(piece, name)
    return piece if dart.inside else true_about(piece, dart, dart.point)


def true_about(piece: Piece, dart: Dart, about: Point) -> Piece:
    """Return the piece with its edges at a dart's mouth smooth as they lie folded shut about a point."""
    return true_folded(piece, dart, turn(dart.mouth_b - about, dart.mouth_a - about))


def true_folded(piece: Piece, dart: Dart, fold: float) -> Piece:
    """Return the piece with its edges at a dart's mouth smooth where the second is turned by ``fold`` (rad) to it."""
    before, after = mouth_edges(piece, dart)
    bend = _bend(before.path, after.path, fold)
    if before is after or abs(bend) > MEANT_TURN or abs(bend) <= _FINE or before.role is not after.role:
        return piece
    gentle = before.role is Role.SIDE or (abs(bend) <= GENTLE_TURN and before.role is not Role.CENTRE)
    made = bow_edges if gentle else blend_edges
    one, two = made(before.path, after.path, fold)
    new = {before.name: replace(before, path=one), after.name: replace(after, path=two)}
    return follow_edges(piece, replace(piece, ring=tuple(new.get(line.name, line) for line in piece.ring)))


def blend_edges(before: Path, after: Path, fold: float) -> tuple[Path, Path]:
    """Return two edges with the direction of each turned at the mouth by half of what they are off, near it alone."""
    half = _bend(before, after, fold) / 2.0
    return _turn_end(before, half), _turn_end(after.reversed(), -half).reversed()


def _turn_end(path: Path, by: float) -> Path:
    segments = np.array(path.segments)
    last = Path.of(segments[-1:])
    if last.length > 1.5 * TRUED:
        one, two = last.split(last.length - TRUED)
        segments = np.concatenate((segments[:-1], one.segments, two.segments))
    end, handle = (Point(*segments[-1, k].tolist()) for k in (3, 2))
    segments[-1, 2] = tuple(Affine.turn(by, end).apply(handle))
    return Path.of(segments)


def bow_edges(before: Path, after: Path, fold: float) -> tuple[Path, Path]:
    """Return two edges bent evenly from the mouth to their next joints, both alike, until they run on in each other.

    A side seam is jointed at the waist, so that what the mouth needs leaves the waist and all beyond where they are.
    """
    back = after.reversed()
    near, far = near_end(before), near_end(back)
    lengths = near.start.distance(near.end), far.start.distance(far.end)
    one, two = _end_slope(near), _end_slope(far)
    bend = _bend(before, after, fold)

    def left(bow: float) -> float:
        """The turn that is left at the mouth: a bow changes the slope of each edge there by its share."""
        first, second = (bow * length / sum(lengths) for length in lengths)
        return bend + math.atan(two + second) - math.atan(two) - math.atan(one - first) + math.atan(one)

    most = 2.0 * math.tan(MEANT_TURN)
    bow, _ = root(left, -most, most, within=_FINE)
    first, second = (bow * length / sum(lengths) for length in lengths)
    return _bow(before, first), _bow(back, -second).reversed()


def near_end(path: Path) -> Path:
    """Return the last segments of a path that are together long enough to be bent: a window's length, or the whole."""
    segments = path.segments
    for n in range(1, len(segments)):
        if math.dist(segments[-n, 0], segments[-1, 3]) > TRUED:
            return Path.of(segments[-n:])
    return path


def _end_slope(path: Path) -> float:
    """The slope of a path at its end, seen from its chord."""
    return math.tan(turn(path.end - path.start, path.tangent(path.length)))


def _bow(path: Path, slope: float) -> Path:
    """A path bowed to the left of the chord of its near end, as steep as ``slope`` at its end, level at the other.

    Every place moves square to the chord by what a cubic is high there, and every handle by its slope, so that smooth
    joints stay smooth, and the opposite slope undoes it. Both ends of what is bowed stay.
    """
    near = near_end(path)
    along = (near.end - near.start).unit
    size = near.start.distance(near.end)
    v = np.array(tuple(along.left))
    segments = np.array(near.segments)
    x = lengths_along(segments - segments[0, 0], along)
    moved = segments.copy()
    for on, handle in ((0, 1), (3, 2)):
        share = x[:, on] / size
        up = slope * size * share**2 * (1.0 - share)
        moved[:, on] += up[:, None] * v
        rise = slope * share * (2.0 - 3.0 * share) * (x[:, handle] - x[:, on])
        moved[:, handle] += (up + rise)[:, None] * v
    moved[0, 0], moved[-1, 3] = segments[0, 0], segments[-1, 3]
    return Path.of(np.concatenate((path.segments[: -len(moved)], moved)))


BESIDE_DART = TradeValue(25.0, "mm", "derived", "by drawing")
"""From a dart's mouth within which an edge is parted at the dart: its folded end is cut by as much of the edge beside
it."""


def clear_of_darts(garment: Garment, run: Run, at: float) -> float:
    """Return where a run is parted that would be at ``at`` mm from its start: at a dart's mouth, where that is near."""
    so_far = 0.0
    for one, two in pairwise(run):
        so_far += garment.line(one).path.length
        parted = not garment.path(one).end.near(garment.path(two).start, TOLERANCE.joint)
        if one.piece == two.piece and parted and abs(at - so_far) < BESIDE_DART:
            return so_far
    return at
