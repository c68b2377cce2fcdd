"""A sleeve wider from the underarm down: the cap keeps the length of its armhole, and is lower for it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from drafting.errors import CannotDraft
from drafting.garment import Face, Line, Piece, Role
from drafting.garment.carry import carry_features
from drafting.garment.darts import darts_of
from drafting.geometry import Path, Point, root, turn
from drafting.record import dataclass
from drafting.redraw.mouths import true_mouth
from drafting.redraw.truing import Respanning, redirect_path, with_length
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import trade_row

CAP_LIFTS = trade_row((-0.3, 0.75), "share", "from memory")
"""Of its height by which a cap may be made lower or higher: beyond, it is no cap, or none that can be set in."""


def only_line(piece: Piece, role: Role, face: Face = Face.NONE) -> Line:
    """Return a sleeve's only line of a role and face; CannotDraft if it has none, or has it in parts."""
    found = piece.lines(role=role, face=face)
    if len(found) != 1:
        raise CannotDraft(
            f"{face} {role}".strip(),
            say("the {title:lower} has {count} such lines", title=piece.title, count=len(found)),
            help="change it earlier",
        )
    return found[0]


def with_whole_caps(piece: Piece) -> Piece:
    """Return the sleeve with each half of its cap, which a woven sleeve's notches part in two, as one line."""
    ring: list[Line] = []
    for line in piece.ring:
        last = ring[-1] if ring else None
        if last and last.role is Role.CAP is line.role and last.face is line.face and line.ancestry:
            ring[-1] = replace(
                last, name=line.ancestry[-1], path=Path.join(last.path, line.path), ancestry=line.ancestry[:-1]
            )
        else:
            ring.append(line)
    return replace(piece, ring=tuple(ring))


def with_parted_caps(old: Piece, new: Piece) -> Piece:
    """Return ``new``, made of a sleeve with whole caps, with its caps parted where those of ``old`` are.

    What was let into a half of the cap lies above its notch: below it the cap keeps its length.
    """
    ring: list[Line] = []
    for line in new.ring:
        parts = [part for part in old.ring if line.name in part.ancestry and part.role is Role.CAP]
        if len(parts) != 2:
            ring.append(line)
            continue
        high_first = parts[0].path.bounds[3] > parts[1].path.bounds[3]
        at = line.path.length - parts[1].path.length if high_first else parts[0].path.length
        ring += (replace(part, path=path) for part, path in zip(parts, line.path.split(at), strict=True))
    return replace(new, ring=tuple(ring))


def crown_of(piece: Piece) -> Point:
    """Return where the front and the back of the cap meet."""
    front, back = (only_line(piece, Role.CAP, face).path for face in (Face.FRONT, Face.BACK))
    for end in (front.start, front.end):
        if min(end.distance(back.start), end.distance(back.end)) <= TOLERANCE.joint:
            return end
    raise CannotDraft("cap", say("the cap of the {title:lower} is parted at its crown", title=piece.title))


@dataclass(frozen=True, slots=True)
class _SleeveHalf:
    """Half of a sleeve: its cap and underarm lines, with the points it hangs between.

    ``low`` is where the seam ends: at the lower edge, or at the mouth of an elbow dart. ``rest`` are the lines from
    there on to the lower edge, which move out with it as they are.
    """

    cap: Line
    seam: Line
    crown: Point
    arm: Point
    low: Point
    rest: tuple[Line, ...] = ()

    @property
    def end(self) -> Point:
        """Where the half ends on the lower edge."""
        last = self.rest[-1].path if self.rest else self.seam.path
        return min((last.start, last.end), key=lambda p: p.y)

    @property
    def height(self) -> float:
        """The height of the crown over the underarm (mm)."""
        return self.crown.y - self.arm.y

    def turn_of_seam(self, lift: float) -> float:
        """How far the underarm seam turns (rad) when its upper end is raised by ``lift``."""
        seam = self.low - self.arm
        return turn(seam, seam - Point(0.0, lift))

    def raised(self, lift: float, out: float) -> Point:
        """The underarm, raised and moved out."""
        return Point(self.arm.x + math.copysign(1.0, self.arm.x - self.crown.x) * out, self.arm.y + lift)

    def draw_cap(self, lift: float, out: float) -> Path:
        """The cap's half, its underarm raised and moved out; it stays level at the crown and as square to the seam."""
        path = self.cap.path
        to = {self.arm: self.raised(lift, out), self.crown: self.crown}
        turns = [
            0.0 if end.near(self.crown, TOLERANCE.joint) else self.turn_of_seam(lift) for end in (path.start, path.end)
        ]
        return redirect_path(
            path, (_moved_point(path.start, to), _moved_point(path.end, to)), [0.0, path.length], turns
        )

    def give(self, lift: float) -> float:
        """How far out (mm) the underarm lies, raised by ``lift``, if the cap keeps its length; within bounds."""
        length, half = self.cap.path.length, abs(self.arm.x - self.crown.x)
        low, high = -0.6 * half, 1.2 * half
        if self.draw_cap(lift, low).length >= length:
            return low
        return root(lambda out: self.draw_cap(lift, out).length - length, low, high, within=TOLERANCE.same_point)[0]


def _half(piece: Piece, face: Face, crown: Point) -> _SleeveHalf:
    cap = only_line(piece, Role.CAP, face)
    arm = max((cap.path.start, cap.path.end), key=crown.distance)
    seam, *below = _seam_lines(piece, face, arm)
    low = max((seam.path.start, seam.path.end), key=arm.distance)
    return _SleeveHalf(cap, seam, crown, arm, low, tuple(below))


def _seam_lines(piece: Piece, face: Face, arm: Point) -> tuple[Line, ...]:
    """The lines of one face's underarm seam from the arm down, with the legs of an elbow dart in it."""
    start = piece.index(next(line.name for line in piece.ring if line.path.start.near(arm, TOLERANCE.joint)))
    ring = (*piece.ring[start:], *piece.ring[:start])
    down = ring if ring[0].role is Role.UNDERARM else ring[::-1]
    lines = tuple(takewhile(lambda line: line.role in (Role.UNDERARM, Role.DART), down))
    if not any(line.role is Role.DART for line in lines):
        only_line(piece, Role.UNDERARM, face)
    return lines


def widen_sleeve(piece: Piece, by: float) -> Piece:
    """Return the sleeve ``by`` mm wider from the underarm down; the cap keeps its length and is lower for it.

    Its angle to the underarm seam stays. CannotDraft where the cap would be too flat or too steep.

    Any two of armhole length, width and cap height fix the third (derived): the cap pays for the width.
    """
    crown = crown_of(piece)
    halves = [_half(piece, face, crown) for face in (Face.FRONT, Face.BACK)]
    height = halves[0].height
    low, high = (share * height for share in CAP_LIFTS)

    def spare(lift: float) -> float:
        return sum(half.give(lift) for half in halves) - by

    if spare(low) > 0.0 or spare(high) < 0.0:
        raise CannotDraft(
            "width",
            say("a cap {height} high can't give {by} of width", height=mm(height), by=mm(by)),
            help="ask for less",
        )
    lift, _ = root(spare, low, high, within=TOLERANCE.same_point)
    first = halves[0].give(lift)
    return _draw_sleeve(piece, halves, lift, (first, by - first))


def _draw_sleeve(piece: Piece, halves: Sequence[_SleeveHalf], lift: float, outs: Sequence[float]) -> Piece:
    new: dict[str, Path] = {}
    spin: dict[Point, tuple[Point, float]] = {}
    for half, out in zip(halves, outs, strict=True):
        arm = half.raised(lift, out)
        aside = Point(arm.x - half.arm.x, 0.0)
        spin[half.end] = (half.end + aside, 0.0 if half.rest else half.turn_of_seam(lift))
        path, moved = half.seam.path, {half.arm: arm, half.low: half.low + aside}
        new[half.seam.name] = path.with_ends(_moved_point(path.start, moved), _moved_point(path.end, moved))
        new[half.cap.name] = with_length(half.draw_cap(lift, out), half.cap.path.length)
        new |= {line.name: line.path.moved(aside) for line in half.rest}
    wrist = only_line(piece, Role.WRIST)
    (a, one), (b, two) = (
        min(spin.items(), key=lambda kv: kv[0].distance(end))[1] for end in (wrist.path.start, wrist.path.end)
    )
    new[wrist.name] = redirect_path(wrist.path, (a, b), [0.0, wrist.path.length], [one, two])
    made = replace(piece, ring=tuple(replace(line, path=new.get(line.name, line.path)) for line in piece.ring))
    made = carry_features(made, Respanning(piece, made))
    for dart in darts_of(piece):
        made = true_mouth(made, dart.name)
    return made


def _moved_point(point: Point, to: dict[Point, Point]) -> Point:
    return next((new for old, new in to.items() if old.near(point, TOLERANCE.joint)), point)
