"""The lines of an asymmetric overlay on one face, drawn with the covered shoulder on -x and turned over for +x."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import pairwise

from drafting.errors import CannotDraft
from drafting.garment import Face, Fate, Garment, Line, Piece, Role, Side
from drafting.garment.carry import hand_on
from drafting.garment.features import Heir
from drafting.geometry import Path, Point, curve_through, root
from drafting.record import dataclass
from drafting.redraw.shapes import NECKLINE_RADIUS, Curve, v_half
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

HALF_WAY = TradeValue(0.75, "share", "from memory")
"""Of the depth and of the width that the edge reaches before it bends to be carried half way."""

ALONG_SHOULDER = TradeValue(0.2, "share", "from memory")
"""Of the way to the shoulder point, that the convex edge lies on the shoulder before it lifts off it."""

OUTSIDE_POINT = TradeValue(7.5, "mm", "from memory", "a cape or overlay rounds 0.5 to 1 cm outside the shoulder point")
"""By which the convex edge rounds outside the shoulder point, on the corner's bisector."""

CREST_TURN = TradeValue(0.15, "share", "derived", "by drawing: bent alike before and after")
"""Of its whole turn from the shoulder to the arm, that the convex edge has made where it passes the shoulder point."""

LIFT_HANDLES = trade_row((0.35, 0.3), "share", "from memory")
"""Of the way from the shoulder to its crest, that the convex edge runs on before and after it bends up and over."""

ARM_HANDLES = trade_row((0.3, 0.4), "share", "from memory")
"""Of its drop over the arm, that the convex edge runs on before and after it bends down."""

ARM_TURN = TradeValue(0.4, "share", "derived", "by drawing: bent one way down to the wrist")
"""Of that turn, by which the convex edge arrives at the wrist turned beyond the arm's fall."""

SLACK_EDGE = TradeValue(0.12, "share", "derived", "by drawing")
"""Of the reach that would carry the edge half way, at least before it bends: with less it is nearly a corner at its
ends."""
FULL_EDGE = TradeValue(1.1, "share", "derived", "by drawing")
"""Of the reach that would carry the edge half way, at most before it bends: with more it bends too sharply past the
centre."""

CAUGHT = TradeValue(0.36, "share", "from memory")
"""Of the way from nape to waist, how much of the far side seam catches the overlay by rule."""
LEAST_CAUGHT = TradeValue(40.0, "mm", "from memory")
"""Of the far side seam that holds the overlay at least."""
UNCAUGHT = TradeValue(10.0, "mm", "from memory")
"""Of the far side seam that are left free below the overlay."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What the overlay is drawn onto, on one face: the piece, its lines by meaning, and which way round it lies.

    ``far`` is the side whose seam catches the overlay, the other one is covered. In ``flipped`` faces the far side lies
    on -x, and the drawing is mirrored there and back.
    """

    piece: Piece
    face: Face
    far: Side
    flipped: bool
    neck_far: Line
    neck_cover: Line
    shoulder_far: Line
    shoulder_cover: Line
    side_far: Line

    def view(self, path: Path) -> Path:
        """Return a path as seen with the covered shoulder on -x (its own inverse)."""
        return path.mirrored() if self.flipped else path

    def seen(self, point: Point) -> Point:
        """Return a point as seen with the covered shoulder on -x."""
        return Point(-point.x, point.y) if self.flipped else point


def find_ground(garment: Garment, face: Face, far: Side) -> Ground:
    """Find the lines of a face by meaning; CannotDraft where an earlier change has parted them."""
    names = [p.name for p in garment.pieces if p.face is face and p.lines(role=Role.NECKLINE)]
    if len(names) != 1:
        raise CannotDraft(
            "style lines", say("the {face} is already parted", face=face), help="let the overlay come first"
        )
    piece = _with_whole_necks(garment.piece(names[0]))

    def one(role: Role, side: Side) -> Line:
        found = [line for line in piece.lines(role=role, side=side) if line.fate is Fate.SEWN or role is not Role.SIDE]
        if len(found) > 1 and any(line.role is Role.DART for line in piece.ring if line.side is side):
            told = say(
                "a dart parts the {side} {role} of the {face}, along which the overlay lies",
                side=side,
                role=role,
                face=face,
            )
            help = "leave the dart out, or ask less of what opens it: the overlay lies smooth over a whole front"
            raise CannotDraft(f"{role} {side}", told, help=help)
        if len(found) != 1:
            raise CannotDraft(
                f"{role} {side}",
                say("the {face} has {count} such lines where one is needed", face=face, count=len(found)),
                help="let the overlay come before changes that part them",
            )
        return found[0]

    shoulder = one(Role.SHOULDER, far)
    return Ground(
        piece,
        face,
        far,
        shoulder.path.start.x < 0.0,
        one(Role.NECKLINE, far),
        one(Role.NECKLINE, far.other),
        shoulder,
        one(Role.SHOULDER, far.other),
        one(Role.SIDE, far),
    )


def _with_whole_necks(piece: Piece) -> Piece:
    """Return the piece with each half's neckline as one line, whatever its shape was: the V takes its place."""
    for side in (Side.LEFT, Side.RIGHT):
        parts = piece.lines(role=Role.NECKLINE, side=side)
        if len(parts) > 1 and all(piece.after(a.name) is b for a, b in pairwise(parts)):
            name = parts[0].ancestry[0] if parts[0].ancestry else f"neckline-{side}"
            whole = replace(parts[0], name=name, path=Path.join(*(part.path for part in parts)), ancestry=())
            ring = tuple(whole if ln is parts[0] else ln for ln in piece.ring if ln not in parts[1:])
            piece = hand_on(replace(piece, ring=ring), {part.name: (Heir(name),) for part in parts})
    return piece


def ends_in_out(path: Path) -> tuple[Point, Point]:
    """Return a path's ends, the one nearer to the centre line first."""
    return (path.start, path.end) if abs(path.start.x) < abs(path.end.x) else (path.end, path.start)


def fall_of(ground: Ground, shoulder: Line) -> float:
    """Return how steeply a shoulder falls away from the neck (rad), as it lies: a fit change may have altered it."""
    neck, tip = ends_in_out(ground.view(shoulder.path))
    return math.atan2(neck.y - tip.y, abs(tip.x - neck.x))


@dataclass(frozen=True, slots=True)
class Diagonal:
    """The edge that the three layers share: from the covered shoulder's neck to the V, and from there to the far side.

    ``neck`` and ``style`` are in the piece's own frame; ``side_s`` is the arc length on the far side line, in ring
    direction, at which the style line ends. ``far_neck`` runs from the far shoulder to the V.
    """

    neck: Path
    style: Path
    far_neck: Path
    side_s: float


@dataclass(frozen=True, slots=True)
class Depth:
    """How far the V lies below the neck base (mm): ``asked``, or, if that is None, as near to ``usual`` as it can."""

    asked: float | None
    usual: float

    @property
    def wanted(self) -> float:
        """What is asked for, or else usual."""
        return self.usual if self.asked is None else self.asked


def draw_diagonal(ground: Ground, base: Point, depth: Depth, side_drop: float) -> Diagonal:
    """Draw the diagonal through the V, ``depth`` below the neck base, to ``side_drop`` below the underarm (mm)."""
    neck_cover, _ = ends_in_out(ground.view(ground.shoulder_cover.path))
    neck_far, _ = ends_in_out(ground.view(ground.shoulder_far.path))
    side = ground.side_far.path
    rising = side.end.y > side.start.y
    s = side.length - side_drop if rising else side_drop
    if not TOLERANCE.joint < s < side.length - TOLERANCE.joint:
        raise CannotDraft(
            "side_drop",
            say("the side seam is only {is_length} long", is_length=mm(side.length)),
            help="let the line end higher",
        )
    end = ground.seen(side.at(s))
    down = Point(-1.0, 0.0).turned(-fall_of(ground, ground.shoulder_cover)).left  # square to it, as if it lay on +x
    along = ground.view(side).tangent(s)
    square = along.right if along.y > 0.0 else along.left
    edge = _edge(neck_cover, Point(-down.x, down.y), end, square)
    v = Point(0.0, _v_height(edge, base, depth, ground.face))
    whole = edge.through(v.y).path
    neck, style = whole.split(whole.nearest(v)[0])
    far_neck = v_half(neck_far, v, fall_of(ground, ground.shoulder_far)).path
    return Diagonal(ground.view(neck), ground.view(style), ground.view(far_neck), s)


@dataclass(frozen=True, slots=True)
class _NeckEdge:
    """The whole edge, neck and diagonal, as one curve across the centre: fair, and bent one way only.

    The farther it reaches before it bends, the deeper it lies at the centre: ``high`` at the reach ``slack``, ``low``
    at the reach ``full``.
    """

    trial: Callable[[float], Curve]
    slack: float
    full: float

    def height(self, reach: float) -> float:
        """Return the height (mm, y) at the centre."""
        edge = self.trial(reach)
        return edge.y_at(0.0)

    @property
    def high(self) -> float:
        """The highest the edge can lie at the centre."""
        return self.height(self.slack)

    @property
    def low(self) -> float:
        """The lowest the edge can lie at the centre."""
        return self.height(self.full)

    def through(self, y: float) -> Curve:
        """Return the edge that lies at this height at the centre, between ``low`` and ``high``."""
        near = TOLERANCE.same_point / 1000.0
        return self.trial(root(lambda reach: self.height(reach) - y, self.slack, self.full, within=near)[0])


def _edge(start: Point, out: Point, end: Point, arrive: Point) -> _NeckEdge:
    def trial(reach: float) -> Curve:
        across, down = end.x - start.x, start.y - end.y
        return Curve.leaving(start, out, reach * HALF_WAY * down, end, arrive, reach * HALF_WAY * across)

    def spare(reach: float) -> float:
        path = trial(reach).path
        tightest = max(abs(path.curvature(0.0)), abs(path.curvature(path.length)))
        return 1.0 / NECKLINE_RADIUS - tightest

    slack: float = SLACK_EDGE
    if spare(slack) < 0.0 < spare(FULL_EDGE):
        slack = root(spare, slack, FULL_EDGE, within=TOLERANCE.same_point)[0]
    return _NeckEdge(trial, slack, FULL_EDGE)


def _v_height(edge: _NeckEdge, base: Point, depth: Depth, face: Face) -> float:
    """Return the height of the V; CannotDraft says by how much one asked for lies too high or too deep."""
    y, low, high = base.y - depth.wanted, edge.low + TOLERANCE.joint, edge.high - TOLERANCE.joint
    if depth.asked is None or low <= y <= high:
        return min(max(y, low), high)
    by = max(low - y, y - high)
    where = "higher" if y < low else "deeper"
    raise CannotDraft(
        f"{face}_depth",
        say(
            "the {face} V must lie {by} {where} for a fair line from the neck past the centre",
            face=face,
            by=mm(math.ceil(by)),
            where=where,
        ),
        short_by=by,
        help=say("change {face}_depth by that, or where the line meets the side seam (side_drop)", face=face),
    )


def in_ring_order(line: Line, path: Path) -> Line:
    """Return the line along a new path, turned to run as the old one did."""
    keep = line.path.start.distance(path.start) + line.path.end.distance(path.end)
    turned = line.path.start.distance(path.end) + line.path.end.distance(path.start)
    return replace(line, path=path if keep <= turned else path.reversed())


def draw_neck(ground: Ground, diagonal: Diagonal) -> Piece:
    """Return the piece with the V neck that the diagonal asks for."""
    new = {
        ground.neck_cover.name: in_ring_order(ground.neck_cover, diagonal.neck),
        ground.neck_far.name: in_ring_order(ground.neck_far, diagonal.far_neck),
    }
    return replace(ground.piece, ring=tuple(new.get(line.name, line) for line in ground.piece.ring))


def side_below(grounds: Iterable[Ground], side_drop: float) -> float:
    """Return how much of the far side seam lies below the diagonal (mm), on the face that has less."""
    return min(ground.side_far.path.length for ground in grounds) - side_drop


def caught_length(grounds: Iterable[Ground], side_drop: float, back: float, asked: float | None) -> float:
    """Return how much of the far side seam the overlay is caught in (mm); CannotDraft where there isn't enough of it.

    By rule it is a share of ``back``, the way from nape to waist (mm), or all there is below the diagonal but a little.
    """
    below = side_below(grounds, side_drop)
    caught = min(CAUGHT * back, below - UNCAUGHT) if asked is None else asked
    if below - caught < UNCAUGHT or caught < LEAST_CAUGHT:
        raise CannotDraft(
            ("side_drop", "caught"),
            say("only {below} of the far side seam lie below the diagonal", below=mm(max(below, 0.0))),
            short_by=max(LEAST_CAUGHT, caught) + UNCAUGHT - below,
            help="catch less of it, let the diagonal end higher, or shorten a vent there",
        )
    return caught


@dataclass(frozen=True, slots=True)
class Hang:
    """How the overlay hangs (mm, rad): drop over the arm, the arm's fall, length caught, the hem's height at centre.

    ``reach`` is how far the shoulder point lies from the covered shoulder's neck, were that neck not opened (mm);
    ``turned`` how deep its hem is turned, where it isn't as the ticket's other hems (mm).
    """

    reach: float
    arm_drop: float
    arm_fall: float
    caught: float
    hem: float
    turned: float | None = None


def shoulder_reach(ground: Ground, half_neck: float, shoulder: float) -> float:
    """Return how far from the covered shoulder's neck its point lies (mm): the body's, however narrow a strap is.

    ``half_neck`` is the half width of the neck before it was opened, ``shoulder`` the body's length from there; a
    shoulder drafted longer than that reaches to its own end.
    """
    path = ground.shoulder_cover.path
    opened = (abs(ends_in_out(path)[0].x) - half_neck) / math.cos(fall_of(ground, ground.shoulder_cover))
    return max(path.length, shoulder - opened)


def over_arm(ground: Ground, hang: Hang) -> Path:
    """Draw the convex edge: along the covered shoulder and on down over the arm, the covered shoulder on -x.

    It lifts off the shoulder to round outside the shoulder point, so that the cloth reaches over the arm's top; its
    fall is told from the shoulder as it lies.
    """
    neck, end = ends_in_out(ground.view(ground.shoulder_cover.path))
    along = (end - neck).unit
    arm, bisector = along.turned(hang.arm_fall), along.turned(hang.arm_fall / 2.0)
    crest = neck + along * hang.reach + bisector.right * OUTSIDE_POINT
    leave, wrist = neck + along * (ALONG_SHOULDER * hang.reach), crest + arm * hang.arm_drop
    over = along.turned(hang.arm_fall * CREST_TURN)
    lift, drop = leave.distance(crest), hang.arm_drop
    up = Curve.leaving(leave, along, LIFT_HANDLES[0] * lift, crest, over, LIFT_HANDLES[1] * lift)
    down = Curve.leaving(
        crest, over, ARM_HANDLES[0] * drop, wrist, arm.turned(hang.arm_fall * ARM_TURN), ARM_HANDLES[1] * drop
    )
    return Path.join(Path.straight(neck, leave), up.path, down.path)


def as_long_as(ground: Ground, hang: Hang, length: float) -> Hang:
    """Return the hang whose convex edge on this face measures ``length``: a back shoulder may be eased on."""

    def spare(drop: float) -> float:
        return over_arm(ground, replace(hang, arm_drop=drop)).length - length

    if abs(spare(hang.arm_drop)) <= TOLERANCE.same_point:
        return hang
    drop, _ = root(spare, 0.3 * hang.arm_drop, 2.0 * hang.arm_drop, within=TOLERANCE.same_point)
    return replace(hang, arm_drop=drop)


def draw_overlay(ground: Ground, diagonal: Diagonal, hang: Hang) -> tuple[Line, ...]:
    """Draw the overlay of one face as a ring: caught edge, diagonal, neck edge, convex edge over the arm, hem."""
    side = ground.view(ground.side_far.path)
    side = side if side.end.y > side.start.y else side.reversed()
    top = ground.view(diagonal.style).end
    at, _ = side.nearest(top)
    caught = side.between(at - hang.caught, at)
    over = over_arm(ground, hang)
    wrist, centre = over.end, Point(0.0, hang.hem)
    out = over.tangent(over.length).left
    hem = curve_through([wrist, centre, caught.start], start=out, end=caught.tangent(0.0).right)
    cover, far, face = ground.far.other, ground.far, ground.face
    style, neckline = ground.view(diagonal.style).reversed(), ground.view(diagonal.neck).reversed()
    ring = (
        Line("caught", caught, Role.SIDE, far, face),
        Line("diagonal", style, Role.STYLE, Side.NONE, face, opening="overlay-edge"),
        Line("neckline", neckline, Role.NECKLINE, cover, face, opening="overlay-edge"),
        Line("over-arm", over, Role.SHOULDER, cover, face),
        Line("hem", hem, Role.HEM, Side.NONE, face, Fate.HEMMED, "overlay-hem", turned=hang.turned),
    )
    if not ground.flipped:
        return ring
    return tuple(replace(line, path=line.path.mirrored().reversed()) for line in reversed(ring))
