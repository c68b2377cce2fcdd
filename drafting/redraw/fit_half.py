"""What the fit changes share: a half with its darts, all drawn as on +x, and the displacement of lines.

A fit change moves corners of a piece. Between them a line is drawn out softly: its handles go with their ends, so that
it leaves and arrives as before, and one displacement after another is the two in one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace

import numpy as np

from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Line, Piece, Role, SeamKind, Side
from drafting.garment.darts import Dart, dart_of, darts_of, mouth_edges
from drafting.geometry import Path, Point
from drafting.redraw.halves import Half
from drafting.redraw.mouths import MEANT_TURN, bend_at_mouth
from drafting.redraw.shapes import ArmholeFrame, has_floor
from drafting.saying import say
from drafting.tolerance import TOLERANCE

Shift = Callable[[Point], Point]
"""By how much (mm) a point is moved, as on +x."""

NO_SHIFT = Point(0.0, 0.0)

FRONT_AND_BACK = (Face.FRONT, Face.BACK)


def move_joints(path: Path, shift: Shift, lean: Callable[[Point], float] | None = None) -> Path:
    """Return a path whose joints are moved, each handle with its own; the very same path where nothing moves.

    ``lean`` tells by how much each joint's handles are sheared upwards besides, mm per mm to +x.
    """
    segments = path.segments
    corners = np.concatenate((segments[:, 0], segments[-1:, 3]))
    moves = np.array([tuple(shift(Point(x, y))) for x, y in corners.tolist()])
    if np.abs(moves).max() == 0.0:
        return path
    new = segments.copy()
    new[:, :2] += moves[:-1, None]
    new[:, 2:] += moves[1:, None]
    if lean is not None:
        slopes = np.array([lean(Point(x, y)) for x, y in corners.tolist()])
        new[:, 1, 1] += slopes[:-1] * (segments[:, 1, 0] - segments[:, 0, 0])
        new[:, 2, 1] += slopes[1:] * (segments[:, 2, 0] - segments[:, 3, 0])
    return Path.of(new)


def move_ends(path: Path, shift: Shift) -> Path:
    """Return a straight path with its ends moved; the very same path where nothing moves."""
    one, two = shift(path.start), shift(path.end)
    return path if one == two == NO_SHIFT else Path.straight(path.start + one, path.end + two)


def turn_end(path: Path, by: float) -> Path:
    """Return a path whose direction at its end is turned by an angle (rad): its last handle turns with it."""
    segments = path.segments.copy()
    end, handle = (Point(*xy) for xy in (segments[-1, 3].tolist(), segments[-1, 2].tolist()))
    segments[-1, 2] = tuple(end + (handle - end).turned(by))
    return Path.of(segments)


def turn_start(path: Path, by: float) -> Path:
    """Return a path whose direction at its start is turned by an angle (rad)."""
    return turn_end(path.reversed(), by).reversed()


def mouth_bend(piece: Piece, name: str) -> float:
    """Return by how much (rad) the edge turns at a dart's mouth when the dart is folded; 0 for an inner dart."""
    dart = dart_of(piece, name)
    return 0.0 if dart.inside else bend_at_mouth(piece, dart, dart.point)


def true_half_mouth(piece: Piece, name: str, like: Piece) -> Piece:
    """Return the piece with the edges at a dart's mouth turned alike, so that folded they meet as they do in ``like``.

    Whole handles turn, which keeps an edge as fair as it was; the mouth and the legs stay.
    """
    dart = dart_of(piece, name)
    if dart.inside:
        return piece
    before, after = mouth_edges(piece, dart)
    bend = bend_at_mouth(piece, dart, dart.point) - mouth_bend(like, name)
    if before is after or before.role is not after.role or abs(bend) > MEANT_TURN:
        return piece
    new = {
        before.name: replace(before, path=turn_end(before.path, bend / 2.0)),
        after.name: replace(after, path=turn_start(after.path, -bend / 2.0)),
    }
    return replace(piece, ring=tuple(new.get(line.name, line) for line in piece.ring))


def waist_length(piece: Piece, side: Side) -> float:
    """Return the length (mm) of one side's waist edge, without its darts."""
    return math.fsum(line.path.length for line in piece.lines(role=Role.WAIST, side=side))


def keep_waist(piece: Piece, side: Side, like: Piece) -> Piece:
    """Return the piece with one side's waist edge as long as it is in ``like``, the mouths of its darts trued.

    What bending makes it longer by, the first dart takes in, at both ends of its mouth alike, so that its legs stay
    equal. A waist without a dart at its edge stays as it is.
    """
    at_edge = [d for d in darts_of(piece) if not d.inside and mouth_edges(piece, d)[0].role is Role.WAIST]
    own = [d.name for d in at_edge if d.lines[0].side is side]
    length = waist_length(like, side)
    for _ in range(_TRIALS):
        for name in own:
            piece = true_half_mouth(piece, name, like)
        over = waist_length(piece, side) - length
        if not own or abs(over) <= TOLERANCE.same_point * TOLERANCE.joint:
            break
        piece = _take_in(piece, own[0], over / 2.0)
    return piece


_TRIALS = 12  # far more than the four or five that it takes


def _take_in(piece: Piece, name: str, by: float) -> Piece:
    """The piece with a dart's mouth wider by ``by`` at either end."""
    dart = dart_of(piece, name)
    way = (dart.mouth_b - dart.mouth_a).unit * by
    a, b = dart.mouth_a - way, dart.mouth_b + way
    before, after = mouth_edges(piece, dart)
    new = {
        before.name: move_joints(before.path, lambda p: -way if p.near(dart.mouth_a, TOLERANCE.joint) else NO_SHIFT),
        after.name: move_joints(after.path, lambda p: way if p.near(dart.mouth_b, TOLERANCE.joint) else NO_SHIFT),
        **leg_paths(dart, a, dart.point, b),
    }
    ring = tuple(replace(line, path=new[line.name]) if line.name in new else line for line in piece.ring)
    return replace(piece, ring=ring)


# darts of a half


def darts_in(half: Half) -> tuple[Dart, ...]:
    """Return the darts of a half as on +x, their lines in the order of the +x half's ring."""
    return tuple(
        dart.mirrored() if half.flipped else dart
        for dart in darts_of(half.piece)
        if dart.lines[0].side is half.side and (not half.face or dart.lines[0].face is half.face)
    )


def flip_point(p: Point) -> Point:
    """Return a point's image in the centre."""
    return Point(-p.x, p.y)


def leg_paths(dart: Dart, first: Point, point: Point, last: Point) -> dict[str, Path]:
    """Return the paths, by their names, of the two legs of a dart at an edge when it is drawn to other corners."""
    return {line.name: line.path for line in dart.with_corners(first, point, last).lines}


def dart_on(half: Half, role: Role) -> Dart | None:
    """Return the half's one dart that opens in its edge of a role; None if there is none, or more than one."""
    found = [dart for dart in darts_in(half) if not dart.inside and opens_in(half.piece, dart) is role]
    return found[0] if len(found) == 1 else None


def opens_in(piece: Piece, dart: Dart) -> Role | None:
    """Return what the edge is that a dart opens in; None at a corner, where the edges beside it are of two kinds."""
    before, after = mouth_edges(piece, dart_of(piece, dart.name))
    return before.role if before.role is after.role else None


# the armhole


def outer_shoulder(half: Half) -> Line:
    """Return the stretch of a half's shoulder that ends at the armhole; CannotDraft if it isn't straight."""
    line = half.lines(Role.SHOULDER)[0]
    if line.path.is_straight:
        return line
    raise CannotDraft(line.name, say("the {side} {face} shoulder isn't straight", side=half.side, face=half.face))


def arm_frame(half: Half) -> ArmholeFrame:
    """Read the points between which this half's armhole is drawn; the shoulder's end is where its line ends."""
    armhole, outer, across = half.path(Role.ARMHOLE), half.on_plus_x(outer_shoulder(half).path), half.half_across
    slope = -(outer.start - outer.end).angle
    full = half.across.full
    frame = ArmholeFrame(armhole.start, outer.start, across.x, 0.0, slope, armhole.tangent(0.0), full=full)
    frame = replace(frame, floored=has_floor(armhole))
    return frame.at_level(across.y)


# seams


def restate_ease(garment: Garment, pieces: Iterable[str], kind: SeamKind, side: Side) -> Garment:
    """Return the garment with the ease of one side's seams of a kind stated as the lines of the pieces now have it."""
    names = set(pieces)
    new = []
    for seam in garment.seams:
        if seam.kind != kind or not any(_is_on(garment.line(u).side, u.piece in names, side) for u in seam.uses()):
            continue
        sections = []
        for section in seam.sections:
            lengths = [garment.run_length(run) for run in section.plies]
            ease = tuple(
                length - lengths[0] if run else 0.0 for length, run in zip(lengths, section.plies, strict=True)
            )
            sections.append(replace(section, ease=ease))
        new.append(replace(seam, sections=tuple(sections)))
    return garment.with_(seams=new)


def _is_on(of: Side, named: bool, side: Side) -> bool:
    return named and of is side


def refuse_unless_body(garment: Garment) -> None:
    """Raise CannotDraft where the design has no body."""
    if not any(piece.lines(role=Role.SHOULDER) for piece in garment.pieces):
        raise CannotDraft("", "there is no bodice to fit", help="let the design have a bodice")
