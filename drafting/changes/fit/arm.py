"""A full upper arm: the sleeve wider at the upper arm, its cap as long as it was, so that it still fits the armhole.

The crown and the lower edge stay. Each half of the cap grows wider and flatter in one proportion until it has its old
length again, which raises the upper arm line; the underarm seams run out to it. Source: of armhole length, sleeve width
and cap height any two fix the third (derived); that a wider sleeve has a lower cap is common practice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from drafting.errors import CannotDraft, GeometryError
from drafting.garment import (
    Adjust,
    Brief,
    Face,
    Fact,
    Garment,
    Line,
    Piece,
    Role,
    Stage,
    change,
    option,
    side_option,
)
from drafting.garment.carry import Redrawing, all_but, carry_features, only
from drafting.garment.darts import darts_of
from drafting.geometry import Path, Point, root, turn
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.fit_half import NO_SHIFT, Shift, move_ends, move_joints, turn_end, turn_start
from drafting.redraw.heights import draw_across, keep_aims
from drafting.redraw.sleeves import LOWEST_CAP, sleeves_of
from drafting.redraw.truing import Respanning
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_CAP = TradeValue(LOWEST_CAP / 3.0, "share", "from memory", "a third of the lowest cap")
"""Of the cap's length that a cap is high at least to be made still lower, as where a hem was flared by much."""

CAP_WIDENED = TradeValue(1.6, "times", "derived", "by drawing")
"""Its width, that a half of the cap may become while its height is sought."""


@dataclass(frozen=True, slots=True)
class FullUpperArmOptions:
    """Options of the full upper arm."""

    by: float = option("How much wider the sleeve becomes at the upper arm.", "length", 15.0, low=0.0, high=80.0)
    side: str = side_option("Which sleeve.")


@dataclass(frozen=True, slots=True)
class CapHalves:
    """A sleeve's cap: each half as one path from the underarm up to the crown, and the lines it is made of."""

    front: Path
    back: Path
    front_lines: tuple[Line, ...]
    back_lines: tuple[Line, ...]

    @property
    def crown(self) -> Point:
        """Where the halves meet."""
        return self.front.end

    @property
    def height(self) -> float:
        """From the underarm up to the crown."""
        return self.crown.y - self.front.start.y

    def width(self, half: Path) -> float:
        """How far a half's underarm lies from the crown, sideways."""
        return abs(half.start.x - self.crown.x)


@change(
    "full-upper-arm",
    "A sleeve wider at the upper arm; its cap grows lower, so that it keeps its length and its ease.",
    Stage.SLEEVE_SHAPE,
    moves=("cap_height",),
    mends=(Mend("toile-arm-fuller", "slit lengthwise over the arm: by = the gap"), *mend_wavering(Role.CAP)),
)
def fit_full_upper_arm(garment: Garment, brief: Brief, o: FullUpperArmOptions) -> Garment:
    """Widen the sleeves asked for at the upper arm."""
    for sleeve in sleeves_of(garment, o.side):
        if o.by == 0.0:
            continue
        cap = _cap(sleeve)
        made, lower = widen_cap(sleeve, cap, o.by)
        garment = keep_aims(garment, garment.with_(pieces=(made,)))
        garment = garment.with_(
            facts=(
                Fact(f"upper_arm_wider_{sleeve.side}", o.by, "mm", "choice", "at the upper arm, the cap's length kept"),
                Fact(
                    f"cap_height_{sleeve.side}",
                    cap.height - lower,
                    "mm",
                    "solve",
                    say("lower by {lower}", lower=mm(lower, 1)),
                ),
            )
        )
    return garment


def _cap(sleeve: Piece) -> CapHalves:
    halves = []
    for face in (Face.FRONT, Face.BACK):
        lines = [line for line in sleeve.ring if line.role is Role.CAP and line.face is face]
        rising = lines and lines[0].path.start.y < lines[-1].path.end.y
        path = Path.join(*(line.path for line in lines)) if lines else None
        if path is None:
            raise CannotDraft("cap", say("the {title:lower} has no cap with a front and a back", title=sleeve.title))
        halves.append((path if rising else path.reversed(), tuple(lines)))
    (front, one), (back, two) = halves
    flat = max(front.start.y, back.start.y) > front.end.y - LEAST_CAP * (front.length + back.length)
    if flat or not front.end.near(back.end, TOLERANCE.joint):
        raise CannotDraft(
            "cap", say("the {title:lower}'s cap has hardly any height left to give", title=sleeve.title),
            help="widen the upper arm before fullness is let in below, or let in less",
        )  # fmt: skip
    return CapHalves(front, back, one, two)


def widen_cap(sleeve: Piece, cap: CapHalves, by: float) -> tuple[Piece, float]:
    """Return the sleeve ``by`` mm wider at the upper arm, and by how much (mm) its cap is lower.

    The cap leaves the underarm seams at the angles it did: they turn a little as they run out, so it is drawn a
    few times over.
    """
    turns = (0.0, 0.0)
    for within in _SETTLES:
        flat = _flatten_cap(sleeve, cap, by, turns, within)
        made = _draw_sleeve(sleeve, cap, flat)
        turns = (_seam_turn(sleeve, made, Face.FRONT), _seam_turn(sleeve, made, Face.BACK))
    return _even_seams(_turn_wrist(sleeve, made)), flat.low


_SETTLES = (TOLERANCE.sewn_length, TOLERANCE.arc_length, TOLERANCE.same_point * TOLERANCE.arc_length)
"""How exactly (mm) the cap is solved each time it is drawn."""


@dataclass(frozen=True, slots=True)
class Flat:
    """A cap made ``low`` mm lower, its halves wider, as new paths."""

    low: float
    front: Path
    back: Path


def _flatten_cap(sleeve: Piece, cap: CapHalves, by: float, turns: tuple[float, float], within: float) -> Flat:
    def drawn(low: float) -> Flat:
        one, two = (
            _widen_half(half, cap, low, way, within) for half, way in zip((cap.front, cap.back), turns, strict=True)
        )
        return Flat(low, one, two)

    def over(low: float) -> float:
        flat = drawn(low)
        grown = (cap.width(new) - cap.width(old) for new, old in ((flat.front, cap.front), (flat.back, cap.back)))
        return sum(grown) - by

    most = cap.height - LOWEST_CAP * (cap.front.length + cap.back.length)
    try:
        low = root(over, -by / 4.0, max(most, TOLERANCE.joint), within=within)[0]
    except GeometryError:
        raise CannotDraft(
            "by",
            say("the {title:lower}'s cap would be too flat for a sleeve {by} wider", title=sleeve.title, by=mm(by)),
            help="widen it by less, or lower the underarm",
        ) from None
    return drawn(low)


def _widen_half(half: Path, cap: CapHalves, low: float, turned: float, within: float) -> Path:
    """A half of the cap ``low`` mm lower and so much wider that it keeps its length.

    It is scaled about the crown, and leaves the underarm in its old direction turned by ``turned`` (rad).
    """
    crown = np.array(tuple(cap.crown))
    way = half.tangent(0.0).turned(turned)

    def drawn(wide: float) -> Path:
        scale = np.array((1.0 + wide / cap.width(half), 1.0 - low / cap.height))
        path = Path.of(crown + (half.segments - crown) * scale)
        return turn_start(path, turn(path.tangent(0.0), way))

    most = (CAP_WIDENED - 1.0) * cap.width(half)
    wide, _ = root(lambda w: drawn(w).length - half.length, -most / 2.0, most, within=within)
    return drawn(wide)


def _seam_turn(old: Piece, new: Piece, face: Face) -> float:
    """By how much an underarm seam has turned where it meets the cap (rad)."""

    def way(piece: Piece) -> Point:
        lines = piece.lines(role=Role.UNDERARM, face=face)
        ends = [
            (p, ln.path.tangent(s)) for ln in lines for p, s in ((ln.path.start, 0.0), (ln.path.end, ln.path.length))
        ]
        return max(ends, key=lambda end: end[0].y)[1]

    return turn(way(old), way(new))


def _draw_sleeve(sleeve: Piece, cap: CapHalves, flat: Flat) -> Piece:
    """The sleeve with its cap flattened and all below run out to it; the lower edge stays under the sleeve's middle."""
    front, back = cap.width(flat.front) - cap.width(cap.front), cap.width(flat.back) - cap.width(cap.back)
    sign = 1.0 if cap.back.start.x > cap.crown.x else -1.0
    middle = sign * (back - front) / 2.0
    bottom = min(line.path.bounds[1] for line in sleeve.lines(role=Role.WRIST))
    tops = [(old.start, new.start - old.start) for old, new in ((cap.front, flat.front), (cap.back, flat.back))]
    centre = (cap.front.start.x + cap.back.start.x) / 2.0

    def shift(p: Point) -> Point:
        arm, top = next(each for each in tops if (each[0].x > centre) is (p.x > centre))
        share = min(max((p.y - bottom) / (arm.y - bottom), 0.0), 1.0)
        return Point(middle + (top.x - middle) * share, top.y * share)

    paths = _lower(sleeve, shift, Point(middle, 0.0))
    for new, old, lines in ((flat.front, cap.front, cap.front_lines), (flat.back, cap.back, cap.back_lines)):
        paths |= _part_half(new, old, lines)
    made = _with_paths(sleeve, paths)
    made = carry_features(made, Respanning(sleeve, made), all_but(Adjust))
    ruled = Redrawing(lambda p: draw_across(made, p.start.y, p.start.x, p.end.x))
    return carry_features(made, ruled, only(Adjust))


def _with_paths(sleeve: Piece, paths: Mapping[str, Path]) -> Piece:
    ring = tuple(replace(line, path=paths[line.name]) if line.name in paths else line for line in sleeve.ring)
    return replace(sleeve, ring=ring)


def _turn_wrist(old: Piece, new: Piece) -> Piece:
    """The sleeve with its lower edge at its old angles to the seams, so that joined it runs on as smoothly."""
    paths: dict[str, Path] = {}
    for line in new.lines(role=Role.WRIST):
        path = paths.get(line.name, line.path)
        for seam, at_start in ((new.before(line.name), True), (new.after(line.name), False)):
            if seam.role is Role.UNDERARM:
                was, now = (ln.path.tangent(ln.path.length if at_start else 0.0) for ln in (old.line(seam.name), seam))
                path = (turn_start if at_start else turn_end)(path, turn(was, now))
        if path is not line.path:
            paths[line.name] = path
    return _with_paths(new, paths)


def _even_seams(sleeve: Piece) -> Piece:
    """The sleeve with its back seam drawn on, or cut off, at the lower edge until it is as long as the front's."""
    front, back = (sleeve.lines(role=Role.UNDERARM, face=face) for face in (Face.FRONT, Face.BACK))
    short = math.fsum(ln.path.length for ln in front) - math.fsum(ln.path.length for ln in back)
    if abs(short) <= TOLERANCE.same_point or not back:
        return sleeve
    wrist = sleeve.lines(role=Role.WRIST)[0]
    line = min(back, key=lambda ln: min(ln.path.start.y, ln.path.end.y))
    at_end = line.path.end.y < line.path.start.y
    down = line.path if at_end else line.path.reversed()
    new = down.extended(0.0, short) if short > 0.0 else down.between(0.0, down.length + short)
    moved = new.end - down.end
    edge = move_joints(wrist.path, lambda p: moved if p.near(down.end, TOLERANCE.joint) else NO_SHIFT)
    return _with_paths(sleeve, {line.name: new if at_end else new.reversed(), wrist.name: edge})


def _lower(sleeve: Piece, shift: Shift, wrist: Point) -> dict[str, Path]:
    """The paths below the cap: seams run out to the new upper arm, darts and the lower edge go with them."""
    corners: list[tuple[Point, Point]] = []
    for dart in darts_of(sleeve):
        move = shift(dart.mouth_a.to(dart.mouth_b, 0.5))
        corners += [(p, move) for p in (dart.mouth_a, dart.point, dart.mouth_b)]
    for line in sleeve.lines(role=Role.WRIST):
        corners += [(p, wrist) for p in (line.path.start, line.path.end)]

    def whole(p: Point) -> Point:
        return next((move for at, move in corners if at.near(p, TOLERANCE.joint)), shift(p))

    paths = {}
    for line in sleeve.ring:
        if line.role is Role.DART:
            paths[line.name] = move_ends(line.path, whole)
        elif line.role is Role.UNDERARM:
            start, end = line.path.start + whole(line.path.start), line.path.end + whole(line.path.end)
            paths[line.name] = Path.straight(start, end) if line.path.is_straight else line.path.with_ends(start, end)
        elif line.role is Role.WRIST:
            paths[line.name] = move_joints(line.path, whole)
    return paths


def _part_half(new: Path, old: Path, lines: tuple[Line, ...]) -> dict[str, Path]:
    """A half of the cap as the lines it was made of, each as long as it was."""
    rising = lines[0].path.start.near(old.start, TOLERANCE.joint)
    path = new if rising else new.reversed()
    out, s = {}, 0.0
    for i, line in enumerate(lines):
        end = path.length if i == len(lines) - 1 else s + line.path.length
        out[line.name] = path.between(s, end)
        s = end
    return out
