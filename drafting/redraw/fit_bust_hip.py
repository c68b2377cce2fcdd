"""Where the slash of a full bust ends: how far each point of the front moves, and how hip and hem keep their widths.

From the waist, where the dart takes the width in again, the slash is closed to nothing at the hip (common practice in
pattern alteration). The side then takes another course from waist to hip, and the hem's end is trued to its length.
"""

from __future__ import annotations

import math
from dataclasses import replace

from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Role
from drafting.garment.darts import Dart
from drafting.geometry import Point, root
from drafting.record import dataclass
from drafting.redraw.fit_half import move_joints
from drafting.redraw.fit_inner import half_levels
from drafting.redraw.halves import Half
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LED_IN_BELOW_WAIST = TradeValue(90.0, "mm", "from memory")
"""Below the waist within which the side isn't led back in: a front that ends there stays wider."""


@dataclass(frozen=True, slots=True)
class Spread:
    """What becomes of one half of the front, as on +x: its slash opened by ``wide`` and ``long`` (mm).

    ``turn`` (rad) turns the upper side about ``pivot``; ``bust_point`` is the new one, ``lower`` and ``upper`` the
    bust dart's new mouth, ``slash`` the x at which the waist is cut. ``at_centre``: how much longer the centre is.
    ``closed``: the heights at which the slash begins to close below the waist and where it is shut, if it does;
    ``let_down``: how much lower besides the side is from there on, and ``drawn_in`` how much farther in, since a line
    that slopes is longer.
    """

    dart: Dart
    wide: float
    long: float
    at_centre: float
    turn: float
    pivot: Point
    bust_point: Point
    lower: Point
    upper: Point
    slash: float
    closed: tuple[float, float] | None = None
    let_down: float = 0.0
    drawn_in: float = 0.0

    def shift(self, p: Point) -> Point:
        """By how much a point on the bust line or below it moves."""
        if p.x <= TOLERANCE.joint:
            return Point(0.0, -self.at_centre)
        if p.near(self.dart.apex, TOLERANCE.joint) or abs(p.x - self.slash) <= TOLERANCE.joint:
            return Point(self.wide / 2.0, -self.long)
        if p.x < self.slash:
            return Point(0.0, -self.long)
        if self.closed is None or p.y >= self.closed[0]:
            return Point(self.wide, -self.long)
        waist, hip = self.closed
        down = min(1.0, (waist - p.y) / (waist - hip))
        return Point(self.wide * (1.0 - down) - self.drawn_in * down, -self.long - self.let_down * down)

    def shift_bust(self, p: Point) -> Point:
        """By how much a joint of the bust's level moves: beside the bust it goes with the upper side, if it ends there.

        That lies above the bust dart, and is turned with all that does.
        """
        dart = self.dart
        if p.x <= max(dart.apex.x, TOLERANCE.joint) + TOLERANCE.joint or p.y <= dart.mouth_a.y + TOLERANCE.joint:
            return self.shift(p)
        return self.pivot + (p - self.pivot).turned(self.turn) - p


def closing(half: Half, dart: Dart | None) -> tuple[float, float] | None:
    """The heights of waist and hip (of the hem, on a front that ends above the hip); None where it ends at the waist.

    Both as they lie at this half's side, where a spread of one half alone has let them down; the waist no higher than
    the mouth of its dart, whose ends move alike. None too where the front ends too near the waist for the side to come
    back in.
    """
    waist, hip = (_outer_height(half, name) for name in ("waist", "hip"))
    if waist is not None and dart is not None:
        waist = min(waist, dart.mouth_a.y, dart.mouth_b.y)
    hems = [min(line.path.start.y, line.path.end.y) for line in half.piece.lines(role=Role.HEM)]
    end = hip if hip is not None else min(hems, default=None)
    if waist is None or end is None or waist - end < LED_IN_BELOW_WAIST:
        return None
    return waist, end


def _outer_height(half: Half, name: str) -> float | None:
    """The height of a level of that name where it is farthest from the centre; None without it."""
    ends = [p for path in half_levels(half.piece, name, half.flipped) for p in (path.start, path.end)]
    return max(ends, key=lambda p: abs(p.x)).y if ends else None


def keep_side(half: Half, plan: Spread) -> Spread:
    """The plan with the side below the waist as long as it was, let down or taken up, and the hip line too."""
    if plan.closed is None:
        return plan
    lines = [half.on_plus_x(line.path) for line in half.lines(Role.SIDE)]
    sides = [path for path in lines if path.bounds[1] < plan.closed[0]]
    length = math.fsum(path.length for path in sides)
    hips = [half.on_plus_x(path) for path in half_levels(half.piece, "hip", half.flipped)]

    def over(by: float) -> float:
        let = replace(plan, let_down=by)
        return math.fsum(move_joints(path, let.shift).length for path in sides) - length

    for _ in range(_TRIALS):
        try:
            by = root(over, -abs(plan.wide), abs(plan.wide), within=TOLERANCE.same_point)[0]
        except GeometryError:
            raise CannotDraft(
                "by",
                say("the {side} front's side can't be led back to the hip from so much at the waist", side=half.side),
                help="change it by less",
            ) from None
        plan = replace(plan, let_down=by)
        longer = math.fsum(move_joints(path, plan.shift).length - path.length for path in hips)
        if abs(longer) <= TOLERANCE.same_point:
            break
        plan = replace(plan, drawn_in=plan.drawn_in + longer)
    return plan


_TRIALS = 6  # the second finds all but some thousandths of a millimetre
