"""The outline of the woven sleeve: a cap on two underarm seams, straight, or bent forward with an elbow dart.

Both seams end upright, side by side, so that the lower edge is straight and a hem of full depth turns up flat on it.

Drawn with the front on -x, as a left sleeve is seen from its right side; a right sleeve is turned over.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from blocks.caps import SolvedCap
from drafting.garment import Adjust, Face, Fate, Level, Line, Piece, Role, Side
from drafting.garment.darts import Dart, dart_name, draw_dart
from drafting.geometry import Path, Point, turn
from drafting.record import dataclass
from drafting.redraw.shapes import Curve
from drafting.redraw.sleeves import ELBOW_DART_SHARE, adjust_heights, draw_upright_seam, turn_at
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

ELBOW_DART_LENGTH = TradeValue(70.0, "mm", "common practice", "6 to 8 cm")
"""From the back seam that the elbow dart reaches in."""

ELBOW_OUT = TradeValue(8.0, "mm", "from memory")
"""By which the back seam runs out at the elbow dart, so that the bent elbow and the forearm have room."""

EVENLY = trade_row((1.0 / 3.0, 1.0 / 3.0), "share", "derived")
"""Of an underarm seam, the reach of its curve at its ends where it bends evenly."""

LATE = trade_row((0.42, 0.2), "share", "derived", "by drawing: the forearm keeps its room")
"""The same where it turns upright late, below the forearm."""

_SETTLES = 12  # far more than the four or five that it takes


@dataclass(frozen=True, slots=True)
class SleeveStretch:
    """A stretch of the sleeve's outline as drawn with the front on -x, in ring order."""

    stem: str
    path: Path
    role: Role
    face: Face = Face.NONE


Outline = tuple[SleeveStretch | Dart, ...]


@dataclass(frozen=True, slots=True)
class Arm:
    """What the sleeve is drawn to (mm): widths, length, and how far below the top of its cap the elbow lies.

    ``narrowest`` is how wide it is at least for its cap's sake, ``tightest`` where that is
    low; ``dart`` is what the elbow dart takes in, 0 in a
    straight sleeve; ``cap`` is the kind of its cap, ``cap_ease`` its ease where one was asked for;
    ``inset`` is how far in from the body's shoulder point the top of the cap lies.
    """

    width: float
    narrowest: float
    tightest: float
    wrist: float
    length: float
    elbow: float
    dart: float
    cap: str
    cap_ease: float | None
    inset: float = 0.0


def draw_sleeve(cap: SolvedCap, arm: Arm, holes: list[float]) -> Outline:
    """Draw the outline with the front on -x, its forearm turned forward by as much as the elbow dart takes in.

    ``holes`` are the armhole's runs (mm): front low, front high, back high, back low.
    """
    front_arm, back_arm = Point(-cap.front_width, 0.0), Point(cap.back_width, 0.0)
    back_low, back_high = cap.back.path.mirrored().split(holes[3])
    front_low, front_high = cap.front.path.split(holes[0])
    draw = _bent_seams if arm.dart else _straight_seams
    wrist, back, front = draw(cap, arm, front_arm, back_arm)
    return (
        SleeveStretch("wrist", wrist, Role.WRIST),
        *back,
        SleeveStretch("cap-back", back_low, Role.CAP, Face.BACK),
        SleeveStretch("cap-back", back_high, Role.CAP, Face.BACK),
        SleeveStretch("cap-front", front_high.reversed(), Role.CAP, Face.FRONT),
        SleeveStretch("cap-front", front_low.reversed(), Role.CAP, Face.FRONT),
        SleeveStretch("underarm-front", front, Role.UNDERARM, Face.FRONT),
    )


def _corners(cap: SolvedCap, arm: Arm) -> tuple[Point, Point]:
    """The front and back end of a straight sleeve's lower edge."""
    middle, bottom = (cap.back_width - cap.front_width) / 2.0, cap.height - arm.length
    return Point(middle - arm.wrist / 2.0, bottom), Point(middle + arm.wrist / 2.0, bottom)


def _straight_seams(cap: SolvedCap, arm: Arm, front_arm: Point, back_arm: Point) -> tuple[Path, Outline, Path]:
    left, right = _corners(cap, arm)
    back = draw_upright_seam(back_arm, right).reversed()
    stretch = SleeveStretch("underarm-back", back, Role.UNDERARM, Face.BACK)
    return Path.straight(left, right), (stretch,), draw_upright_seam(front_arm, left)


def _bent_seams(cap: SolvedCap, arm: Arm, front_arm: Point, back_arm: Point) -> tuple[Path, Outline, Path]:
    """Turn the forearm forward about the front seam: the front seam is hollowed, the back opens in an elbow dart.

    The back seam, its dart closed, is as long as the front's and runs smoothly over the dart.
    """
    left, right = _corners(cap, replace(arm, length=arm.length - arm.dart / 2.0))  # the turn lowers the middle again
    level = cap.height - arm.elbow
    out, home = (turn_at(corner) - top for corner, top in ((left, front_arm), (right, back_arm)))
    pivot, upper = front_arm + out * (level / out.y), back_arm + home * (level / home.y)
    upper = upper + (upper - pivot).unit * ELBOW_OUT
    out, home, across = out.unit, home.unit, upper.distance(pivot)
    bend = 2.0 * math.asin(arm.dart / 2.0 / across)
    down = Point(0.0, -1.0).turned(-bend)

    def turned(p: Point) -> Point:
        return pivot + (p - pivot).turned(-bend)

    low_left, low_right, lower = turned(left), turned(right), turned(upper)
    front = _seam_curve(front_arm, out, low_left, down, LATE)
    mouth = lower - upper
    reach = min(ELBOW_DART_LENGTH, ELBOW_DART_SHARE * across)
    point = upper + mouth * 0.5 + mouth.unit.right * reach
    angle = turn(lower - point, upper - point)
    # The dart turns the forearm by more than the bend; both edges share what is over, so that they meet smoothly.
    arrive = home.turned((angle - bend) / 2.0)
    one = _seam_curve(back_arm, home, upper, arrive)
    for _ in range(_SETTLES):
        two = _seam_curve(lower, arrive.turned(-angle), low_right, down, LATE)
        short = front.length - one.length - two.length
        if abs(short) < TOLERANCE.same_point:
            break
        low_right = low_right + down * short
    back: Outline = (
        SleeveStretch("underarm-back", two.path.reversed(), Role.UNDERARM, Face.BACK),
        draw_dart(dart_name("elbow"), lower, point, upper),
        SleeveStretch("underarm-back", one.path.reversed(), Role.UNDERARM, Face.BACK),
    )
    return Path.straight(low_left, two.d), back, front.path


def _seam_curve(a: Point, out: Point, b: Point, arrive: Point, reaches: Sequence[float] = EVENLY) -> Curve:
    """Draw an underarm seam from ``a`` in direction ``out`` to ``b`` along ``arrive``, its ends' reaches as shares."""
    leave, come = (reach * a.distance(b) for reach in reaches)
    return Curve.leaving(a, out, leave, b, arrive, come)


def _flip_outline(outline: Outline) -> Outline:
    """The outline turned over, in ring order again."""
    return tuple(
        part.mirrored() if isinstance(part, Dart) else replace(part, path=part.path.mirrored().reversed())
        for part in reversed(outline)
    )


def _lines(outline: Outline, side: Side) -> tuple[Line, ...]:
    """The outline as lines in ring order; stretches of one line get letters."""
    stems = [part.stem for part in outline if isinstance(part, SleeveStretch)]
    seen: list[str] = []
    lines: list[Line] = []
    for part in outline:
        if isinstance(part, Dart):
            lines += part.of_side(side, Face.BACK).lines
            continue
        fate, opening = (Fate.HEMMED, f"wrist-{side}") if part.role is Role.WRIST else (Fate.SEWN, "")
        line = Line(part.stem, part.path, part.role, side, part.face, fate, opening)
        if stems.count(part.stem) > 1:
            line = line.part(seen.count(part.stem), part.path)
        seen.append(part.stem)
        lines.append(line)
    return tuple(lines)


def make_piece(outline: Outline, cap: SolvedCap, elbow: float, side: Side) -> Piece:
    """Make the piece of a left sleeve, or turn it over for a right one; its elbow lies ``elbow`` mm below its crown."""
    sign = 1.0 if side is Side.LEFT else -1.0
    front, back = Point(-sign * cap.front_width, 0.0), Point(sign * cap.back_width, 0.0)
    ring = _lines(outline if side is Side.LEFT else _flip_outline(outline), side)
    return Piece(
        f"sleeve-{side}",
        say("{side:capital} sleeve", side=side),
        ring,
        side=side,
        features=(
            Level(f"upper-arm-{side}", Path.straight(front, back), side=side),
            *_adjust_lines(ring, cap.height - elbow),
        ),
    )


def _adjust_lines(ring: tuple[Line, ...], elbow: float) -> Iterator[Adjust]:
    """Where the sleeve is lengthened, each as far from the lower edge along the front seam as along the back's."""
    lowest = [
        min((ln for ln in ring if ln.role is Role.UNDERARM and ln.face is face), key=lambda ln: ln.path.bounds[1])
        for face in (Face.FRONT, Face.BACK)
    ]
    bottom = min(line.path.bounds[1] for line in lowest)
    for name, y in adjust_heights(elbow, bottom):
        if elbow < y:
            xs = sorted(
                line.path.at(s).x for line in ring if line.role is Role.UNDERARM for s in line.path.cross_level(y)
            )
            yield Adjust(name, Path.straight(Point(xs[0], y), Point(xs[-1], y)))
        else:
            one, two = sorted((_above_end(line.path, y - bottom) for line in lowest), key=lambda p: p.x)
            yield Adjust(name, Path.straight(one, two))


def _above_end(path: Path, by: float) -> Point:
    """The place ``by`` mm above the lower end of a seam, along it."""
    return path.at(by if path.start.y < path.end.y else path.length - by)
