"""The lines of an asymmetric overlay on one face, drawn with the covered shoulder on -x and turned over for +x."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drafting.errors import CannotDraft
from drafting.garment import Face, Fate, Garment, Line, Piece, Role, Side
from drafting.garment.shapes import Curve, v_half
from drafting.geometry import Path, Point, curve_through, root
from drafting.tolerance import TOLERANCE

NAME = "asymmetric overlay"


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
        raise CannotDraft(NAME, "style lines", f"the {face} is already parted", help="let the overlay come first")
    piece = garment.piece(names[0])

    def one(role: Role, side: Side) -> Line:
        found = piece.lines(role=role, side=side)
        if len(found) != 1:
            raise CannotDraft(NAME, f"{role} {side}", f"the {face} has {len(found)} such lines where one is needed",
                              help="let the overlay come before changes that part them")  # fmt: skip
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


def ends_in_out(path: Path) -> tuple[Point, Point]:
    """Return a path's ends, the one nearer to the centre line first."""
    return (path.start, path.end) if abs(path.start.x) < abs(path.end.x) else (path.end, path.start)


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


def draw_diagonal(ground: Ground, base: Point, depth: float, side_drop: float, slope: float) -> Diagonal:
    """Draw the diagonal through the V, ``depth`` below the neck base, to ``side_drop`` below the underarm (mm)."""
    neck_cover, _ = ends_in_out(ground.view(ground.shoulder_cover.path))
    neck_far, _ = ends_in_out(ground.view(ground.shoulder_far.path))
    v = Point(0.0, base.y - depth)
    side = ground.side_far.path
    rising = side.end.y > side.start.y
    s = side.length - side_drop if rising else side_drop
    if not TOLERANCE.joint < s < side.length - TOLERANCE.joint:
        raise CannotDraft(
            NAME, "side_drop", f"the side seam is only {side.length:.0f} mm long", help="let the line end higher"
        )
    end = ground.seen(side.at(s))
    down = Point(-1.0, 0.0).turned(-slope).left  # square to a shoulder that falls away on +x
    along = ground.view(side).tangent(s)
    square = along.right if along.y > 0.0 else along.left
    whole = _edge(neck_cover, Point(-down.x, down.y), end, square, v, ground.face).path
    neck, style = whole.split(whole.nearest(v)[0])
    far_neck = v_half(neck_far, v, slope).path
    return Diagonal(ground.view(neck), ground.view(style), ground.view(far_neck), s)


def _edge(start: Point, out: Point, end: Point, arrive: Point, v: Point, face: Face) -> Curve:
    """Draw the whole edge, neck and diagonal, as one curve through the V: fair, and bent one way only.

    CannotDraft says between which depths the V can lie on such a curve.
    """

    def trial(reach: float) -> Curve:
        across, down = end.x - start.x, start.y - end.y
        return Curve.leaving(start, out, reach * 0.75 * down, end, arrive, reach * 0.75 * across)

    def height(reach: float) -> float:
        edge = trial(reach)
        return edge.at(edge.parameter_at_x(v.x)).y

    slack, full = 0.12, 1.1
    if not height(full) < v.y < height(slack):
        low = v.y < height(full)
        by = height(full) - v.y if low else v.y - height(slack)
        where = "higher" if low else "deeper"
        raise CannotDraft(
            NAME, f"{face}_depth",
            f"the {face} V must lie {by:.0f} mm {where} for a fair line from the neck past the centre",
            short_by=by, help=f"change {face}_depth by that, or where the line meets the side seam (side_drop)",
        )  # fmt: skip
    return trial(root(lambda reach: height(reach) - v.y, slack, full, within=TOLERANCE.same_point / 1000.0)[0])


def in_ring_order(line: Line, path: Path) -> Line:
    """Return the line along a new path, turned to run as the old one did."""
    keep = line.path.start.distance(path.start) + line.path.end.distance(path.end)
    turned = line.path.start.distance(path.end) + line.path.end.distance(path.start)
    return replace(line, path=path if keep <= turned else path.reversed())


def redrawn(ground: Ground, diagonal: Diagonal) -> Piece:
    """Return the piece with the V neck that the diagonal asks for."""
    new = {
        ground.neck_cover.name: in_ring_order(ground.neck_cover, diagonal.neck),
        ground.neck_far.name: in_ring_order(ground.neck_far, diagonal.far_neck),
    }
    return replace(ground.piece, ring=tuple(new.get(line.name, line) for line in ground.piece.ring))


@dataclass(frozen=True, slots=True)
class Hang:
    """How the overlay hangs (mm, rad): drop over the arm, the arm's fall, length caught, the hem's height at centre."""

    arm_drop: float
    arm_angle: float
    caught: float
    hem: float


def draw_overlay(ground: Ground, diagonal: Diagonal, hang: Hang) -> tuple[Line, ...]:
    """Draw the overlay of one face as a ring: caught edge, diagonal, neck edge, convex edge over the arm, hem."""
    neck, tip = ends_in_out(ground.view(ground.shoulder_cover.path))
    side = ground.view(ground.side_far.path)
    side = side if side.end.y > side.start.y else side.reversed()
    top = ground.view(diagonal.style).end
    at, _ = side.nearest(top)
    if at - hang.caught < 10.0:
        raise CannotDraft(NAME, "caught", f"only {at:.0f} mm of side seam lie below the line", help="catch less of it")
    caught = side.between(at - hang.caught, at)
    arm = Point.polar(-hang.arm_angle)
    arm = Point(-arm.x, arm.y)
    wrist = tip + arm * hang.arm_drop
    leave = neck.to(tip, 0.5)
    bend = Curve.leaving(leave, tip - neck, 0.9 * leave.distance(tip), wrist, arm.turned(0.06), 0.45 * hang.arm_drop)
    over = Path.join(Path.straight(neck, leave), bend.path)
    centre = Point(0.0, hang.hem)
    out = over.tangent(over.length).left
    hem = curve_through([wrist, centre, caught.start], start=out, end=caught.tangent(0.0).right)
    cover, far, face = ground.far.other, ground.far, ground.face
    style, neckline = ground.view(diagonal.style).reversed(), ground.view(diagonal.neck).reversed()
    ring = (
        Line("caught", caught, Role.SIDE, far, face),
        Line("diagonal", style, Role.STYLE, Side.NONE, face),
        Line("neckline", neckline, Role.NECKLINE, cover, face),
        Line("over-arm", over, Role.SHOULDER, cover, face),
        Line("hem", hem, Role.HEM, Side.NONE, face, Fate.HEMMED, "overlay-hem"),
    )
    if not ground.flipped:
        return ring
    return tuple(replace(line, path=line.path.mirrored().reversed()) for line in reversed(ring))
