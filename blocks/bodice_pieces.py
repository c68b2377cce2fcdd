"""From the half that a bodice recipe draws to whole pieces: rings of named lines, levels, lengthen/shorten lines."""

from __future__ import annotations

from blocks.side import SideSeam
from drafting.garment import Adjust, Face, Fate, Level, Line, Piece, Role, Side
from drafting.garment.shapes import ArmholeFrame, Curve, Neckline
from drafting.geometry import Path, Point, hook
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Half:
    """The +x half of a front or back as the recipe draws it."""

    face: Face
    side: SideSeam
    frame: ArmholeFrame
    armhole_curve: Curve
    neckline: Path
    neck: Neckline
    bust_level: float

    @property
    def armhole(self) -> Curve:
        """The armhole, from the underarm up to the shoulder."""
        return self.armhole_curve

    @property
    def hem(self) -> Path:
        """The hem from the centre to the side, meeting both square."""
        end = Point(self.side.x(self.side.hem), self.side.hem)
        slope = self.side.flare if self.side.hem <= self.side.hip else self.side.slope(self.side.hem)
        lower = Point(0.0, end.y - 0.5 * end.x * slope)
        return hook(lower, Point(1.0, 0.0), end, Point(1.0, slope)) if slope else Path.straight(lower, end)

    @property
    def shoulder(self) -> Path:
        """The shoulder, from its end in to the neckline."""
        return Path.straight(self.frame.shoulder, self.neck.shoulder)


def _half_lines(half: Half, side: Side) -> tuple[Line, ...]:
    """The lines of a +x half in ring order, from the centre of the hem to the centre of the neckline."""
    face = half.face
    return (
        Line(f"hem-{side}", half.hem, Role.HEM, side, face, Fate.HEMMED, "hem"),
        Line(f"side-{side}", half.side.path, Role.SIDE, side, face),
        Line(f"armhole-{side}", half.armhole.path, Role.ARMHOLE, side, face, Fate.HEMMED, f"armhole-{side}"),
        Line(f"shoulder-{side}", half.shoulder, Role.SHOULDER, side, face),
        Line(f"neckline-{side}", half.neckline, Role.NECKLINE, side, face, Fate.HEMMED, "neck"),
    )


def mirrored_line(line: Line, name: str, side: Side) -> Line:
    """Return the line's mirror image in the centre, in ring order again, under another name and side."""
    opening = line.opening.replace(str(line.side), str(side)) if line.side else line.opening
    return Line(name, line.path.mirrored().reversed(), line.role, side, line.face, line.fate, opening)


def whole_piece(half: Half, waist: float, hip: float) -> Piece:
    """Make the whole piece from the +x half and its mirror image."""
    plus = Side.LEFT if half.face is Face.FRONT else Side.RIGHT
    one = _half_lines(half, plus)
    two = tuple(
        mirrored_line(line, line.name.replace(str(plus), str(plus.other)), plus.other) for line in reversed(one)
    )
    face = half.face
    return Piece(
        name=str(face),
        title=str(face).capitalize(),
        ring=(*one, *two),
        face=face,
        levels=_levels(half, waist, hip),
        adjusts=_adjusts(half, waist),
    )


def _across(y: float, x: float) -> Path:
    return Path.straight(Point(-x, y), Point(x, y))


def _levels(half: Half, waist: float, hip: float) -> tuple[Level, ...]:
    side, arm = half.side, half.frame
    found = [Level("bust", _across(half.bust_level, side.x(half.bust_level)))]
    for name, y in (("waist", waist), ("hip", hip)):
        if y >= side.hem:
            found.append(Level(name, _across(y, side.x(y))))
    name = "across-back" if half.face is Face.BACK else "across-front"
    found.append(Level(name, _across(arm.level, half.armhole_curve.x_at_level(arm.level)), girth=False))
    return tuple(found)


def _adjusts(half: Half, waist: float) -> tuple[Adjust, ...]:
    """Body lengthens between bust and waist, and below the waist when there is room."""
    side = half.side
    between = (half.bust_level + waist) / 2.0
    heights = [("body", between)] if between > side.hem + 30.0 else []
    return tuple(Adjust(name, _across(y, side.x(y))) for name, y in heights)
