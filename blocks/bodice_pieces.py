"""From the half that a bodice recipe draws to whole pieces: rings of named lines, levels, lengthen/shorten lines."""

from __future__ import annotations

from collections.abc import Iterator

from blocks.side import SideSeam
from blocks.stays import TAPE_WIDTH
from drafting.garment import Adjust, Face, Fate, Level, Line, Piece, Role, Side, Zone
from drafting.garment.seam import Seam, Section, Use
from drafting.geometry import Path, Point, hook
from drafting.record import dataclass
from drafting.redraw.heights import BELOW_HIP, find_below_hip
from drafting.redraw.hemline import ADJUST_ROOM, fall_square
from drafting.redraw.shapes import ArmholeCurve, ArmholeFrame, Neckline
from drafting.saying import say, specify
from drafting.tolerance import TOLERANCE
from drafting.work.kinds import SHOULDER, SIDE


@dataclass(frozen=True, slots=True)
class BodiceHalf:
    """The +x half of a front or back as the recipe draws it."""

    face: Face
    side: SideSeam
    frame: ArmholeFrame
    armhole_curve: ArmholeCurve
    neckline: Path
    neck: Neckline
    bust_level: float
    dropped: float = 0.0
    """By how much (mm) waist, hip and hem lie lower at the centre than at the side."""

    @property
    def armhole(self) -> ArmholeCurve:
        """The armhole, from the underarm up to the shoulder."""
        return self.armhole_curve

    @property
    def hem_slope(self) -> float:
        """The slope of the side at the hem (mm outwards per mm down)."""
        return self.side.flare if self.side.hem <= self.side.hip else self.side.slope(self.side.hem)

    @property
    def hem_centre(self) -> float:
        """The height of the hem at the centre (mm, y)."""
        above = self.side.hem > self.side.hip
        return self.side.hem - fall_square(self.side.x(self.side.hem), self.hem_slope, above) - self.dropped

    def hem_from(self, centre: float) -> Path:
        """The hem from the centre, at the height ``centre``, to the side, meeting both square."""
        end, slope = Point(self.side.x(self.side.hem), self.side.hem), self.hem_slope
        lower = Point(0.0, centre)
        level = not slope and not self.dropped
        return Path.straight(lower, end) if level else hook(lower, Point(1.0, 0.0), end, Point(1.0, slope))

    @property
    def shoulder(self) -> Path:
        """The shoulder, from its end in to the neckline."""
        return Path.straight(self.frame.shoulder, self.neck.shoulder)


def _half_lines(half: BodiceHalf, side: Side, hem: float) -> tuple[Line, ...]:
    """The lines of a +x half in ring order, from the centre of the hem to the centre of the neckline."""
    face = half.face
    return (
        Line(f"hem-{side}", half.hem_from(hem), Role.HEM, side, face, Fate.HEMMED, "hem"),
        Line(f"side-{side}", half.side.path, Role.SIDE, side, face),
        Line(f"armhole-{side}", half.armhole.path, Role.ARMHOLE, side, face, Fate.HEMMED, f"armhole-{side}"),
        Line(f"shoulder-{side}", half.shoulder, Role.SHOULDER, side, face),
        Line(f"neckline-{side}", half.neckline, Role.NECKLINE, side, face, Fate.HEMMED, "neck"),
    )


def mirror_line(line: Line, name: str, side: Side) -> Line:
    """Return the line's mirror image in the centre, in ring order again, under another name and side."""
    opening = line.opening.replace(str(line.side), str(side)) if line.side else line.opening
    return Line(name, line.path.mirrored().reversed(), line.role, side, line.face, line.fate, opening)


def whole_piece(left: BodiceHalf, right: BodiceHalf, waist: float, hip: float) -> Piece:
    """Make the whole piece from its halves, both drawn on +x; the one that lies on -x is turned over.

    Halves whose hems meet the centre at heights of their own meet it half way.
    """
    face = left.face
    plus = Side.LEFT if face is Face.FRONT else Side.RIGHT
    half, other = (left, right) if plus is Side.LEFT else (right, left)
    hem = half.hem_centre if half is other else (half.hem_centre + other.hem_centre) / 2.0
    one = _half_lines(half, plus, hem)
    turned = one if half is other else _half_lines(other, plus, hem)
    two = tuple(
        mirror_line(line, line.name.replace(str(plus), str(plus.other)), plus.other) for line in reversed(turned)
    )
    return Piece(
        name=str(face),
        title=say("{face:capital}", face=face),
        ring=(*one, *two),
        face=face,
        features=(*_levels(half, other, waist, hip), *_adjusts(half, other, waist, hip)),
    )


def _line_across(y: float, plus: float, minus: float) -> Path:
    return Path.straight(Point(-minus, y), Point(plus, y))


def _drop_across(y: float, half: BodiceHalf, other: BodiceHalf) -> Path:
    """A line at the height ``y`` at both sides, as much lower at the centre as the halves are dropped there."""
    plus, minus = half.side.x(y), other.side.x(y)
    if not half.dropped:
        return _line_across(y, plus, minus)
    out, centre = Point(1.0, 0.0), Point(0.0, y - half.dropped)
    return Path.join(hook(Point(-minus, y), out, centre, out), hook(centre, out, Point(plus, y), out))


def _levels(half: BodiceHalf, other: BodiceHalf, waist: float, hip: float) -> Iterator[Level]:
    """The levels, from edge to edge; at the centre one steps where the halves have it at heights of their own."""
    plus, minus = ((h.bust_level, h.side.x(h.bust_level)) for h in (half, other))
    yield from _level("bust", plus, minus)
    for name, y in (("waist", waist), ("hip", hip)):
        if y >= half.side.hem:
            yield Level(name, _drop_across(y, half, other))
    name = "across-back" if half.face is Face.BACK else "across-front"
    plus, minus = ((h.frame.level, h.armhole_curve.x_at_level(h.frame.level)) for h in (half, other))
    yield from _level(name, plus, minus, False, (half.frame.full, other.frame.full))


def _level(
    name: str,
    plus: tuple[float, float],
    minus: tuple[float, float],
    girth: bool = True,
    full: tuple[float | None, float | None] = (None, None),
) -> Iterator[Level]:
    """A level given on each half as height and width (mm)."""
    (y, x), (y_minus, x_minus) = plus, minus
    if abs(y - y_minus) <= TOLERANCE.same_point and full[0] == full[1]:
        yield Level(name, _line_across(y, x, x_minus), girth, full=full[0])
    else:
        yield Level(name, _line_across(y, x, 0.0), girth, full=full[0])
        yield Level(name, _line_across(y_minus, 0.0, x_minus), girth, full=full[1])


def _adjusts(half: BodiceHalf, other: BodiceHalf, waist: float, hip: float) -> tuple[Adjust, ...]:
    """The body is lengthened between bust and waist, waist and hip, and hip and hem, where there is room below."""
    bust = (half.bust_level + other.bust_level) / 2.0
    heights = [("body", (bust + waist) / 2.0), ("below-waist", (waist + hip) / 2.0)]
    if (low := find_below_hip(hip, half.side.hem)) is not None:
        heights.append((BELOW_HIP, low))
    return tuple(
        Adjust(name, _line_across(y, half.side.x(y), other.side.x(y)))
        for name, y in heights
        if y > half.side.hem + ADJUST_ROOM
    )


def body_seams() -> tuple[Seam, ...]:
    """Return shoulder and side seams; the plies of each run one way, from neck to arm and from hem to underarm."""
    out = []
    for side in (Side.LEFT, Side.RIGHT):
        # On the front's left (+x) the ring runs up the side and in along the shoulder; on the right (-x) the other way.
        front_against = side is Side.LEFT
        shoulder = (
            (Use("front", f"shoulder-{side}", front_against),),
            (Use("back", f"shoulder-{side}", not front_against),),
        )
        seam = (
            (Use("front", f"side-{side}", not front_against),),
            (Use("back", f"side-{side}", front_against),),
        )
        out.append(
            Seam(f"shoulder-{side}", SHOULDER, say("{side} shoulder", side=side), (Section(shoulder, (0.0, 0.0)),))
        )
        out.append(Seam(f"side-{side}", SIDE, say("{side} side", side=side), (Section(seam, (0.0, 0.0)),)))
    return tuple(sorted(out, key=lambda s: s.kind != SHOULDER))


def shoulder_zones() -> tuple[Zone, ...]:
    """Return the stay tapes in a knit's shoulder seams, on its front."""
    why = specify("stay tape cut to the paper's length", "sewn into the shoulder seam")
    return tuple(Zone(f"shoulder-{side}", TAPE_WIDTH, why) for side in ("left", "right"))
