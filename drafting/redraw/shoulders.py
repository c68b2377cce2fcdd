"""How a shoulder is turned about its neck end, its dart following, or made shorter, and how long the armhole is."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Face, Fact, Garment, LineLength, Role, Side, shift_aim
from drafting.garment.armholes import take_armhole
from drafting.geometry import Path, Point, root, turn
from drafting.redraw.fit_half import dart_on, leg_paths, outer_shoulder
from drafting.redraw.halves import Half, armhole_frame, find_half, put_back, shoulder_of, with_armhole
from drafting.redraw.over_darts import ARM, work_over_darts
from drafting.redraw.shapes import SHORTEST_SHOULDER
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BACK_STAYS_LONGER = TradeValue(2.0, "mm", "from memory", "equal or longer")
"""By which an armhole's back is longer than its front where a narrowed front would else be the longer."""


def armhole_facts(before: Garment, after: Garment, side: Side) -> tuple[Fact, ...]:
    """Tell how long one side's armhole is after a change."""
    old, new = (armhole_length(g, side) for g in (before, after))
    by = say("front and back; {sign}{by} by this change", sign="-" if new < old else "+", by=mm(abs(new - old), 1))
    return (Fact(f"armhole_{side}", new, "mm", "solve", by),)


def armhole_length(garment: Garment, side: Side) -> float:
    """Return the length (mm) of one side's armhole, front and back."""
    found = (ln.path.length for p in garment.pieces for ln in p.lines(role=Role.ARMHOLE, side=side))
    return math.fsum(found)


def refuse_short(half: Half, by: float) -> None:
    """Raise CannotDraft where a shoulder is to be turned by more than a third of its length."""
    if abs(by) > shoulder_length(half) / 3.0:
        raise CannotDraft(
            "by",
            say(
                "the {side} shoulder is only {shoulder_length} long",
                side=half.side,
                shoulder_length=mm(shoulder_length(half)),
            ),
            short_by=abs(by) - shoulder_length(half) / 3.0,
            help="change it by less",
        )


def turn_up(half: Half, by: float) -> Half:
    """Return the half with its shoulder's outer end ``by`` mm higher, turned about the neck end; the dart follows."""
    angle = turn_angle(half, by)
    lines = half.lines(Role.SHOULDER)
    neck = half.on_plus_x(lines[-1].path).end
    outer = half.on_plus_x(outer_shoulder(half).path)
    if len(lines) == 1:
        return half.with_paths({lines[0].name: Path.straight(_turn_about(neck, outer.start, angle), neck)})
    dart = dart_on(half, Role.SHOULDER)
    if len(lines) != 2 or dart is None:
        raise CannotDraft(
            f"shoulder-{half.side}",
            say("the {side} {face} shoulder is in {count} lengths", side=half.side, face=half.face, count=len(lines)),
            help="make this change before the one that did that",
        )
    opens = turn(dart.mouth_b - dart.point, dart.mouth_a - dart.point)
    tip = _turn_about(neck, _turn_about(dart.point, outer.start, -opens), angle)
    inner = _turn_about(neck, dart.mouth_b, angle)
    mouth, end = (_turn_about(dart.point, p, opens) for p in (inner, tip))
    return half.with_paths(
        {
            lines[0].name: Path.straight(end, mouth),
            **leg_paths(dart, mouth, dart.point, inner),
            lines[1].name: Path.straight(inner, neck),
        }
    )


def _turn_about(centre: Point, p: Point, angle: float) -> Point:
    return centre + (p - centre).turned(angle)


def turn_angle(half: Half, by: float) -> float:
    """Return the angle (rad) by which a half's shoulder turns as its outer end rises ``by`` mm along the arc."""
    return by / shoulder_length(half)


def shoulder_length(half: Half) -> float:
    """Return the length (mm) of a half's shoulder, its dart closed."""
    return math.fsum(line.path.length for line in half.lines(Role.SHOULDER))


def narrow_half(half: Half, by: float, share: float) -> Half:
    """Return the half with its shoulder shorter by ``by`` mm, the armhole square to the shoulder's new end."""
    outer, neck = shoulder_of(half)
    remains = outer.distance(neck) - by
    if remains < SHORTEST_SHOULDER:
        raise CannotDraft(
            f"shoulder-{half.side}",
            say(
                "the {side} shoulder measures {distance}; narrowed by {by} too little of it remains",
                side=half.side,
                distance=mm(outer.distance(neck)),
                by=mm(by),
            ),
            short_by=SHORTEST_SHOULDER - remains,
            help="narrow it less, or open the neckline less",
        )
    end = outer + (neck - outer).unit * by
    old = armhole_frame(half)
    frame = replace(old, shoulder=end, across=old.across - share * by).at_level(old.level)
    moved = half.with_paths({half.line(Role.SHOULDER).name: Path.straight(end, neck)})
    return with_armhole(moved, frame)


def narrow_shoulder(garment: Garment, side: Side, by: float, share: float) -> Garment:
    """Return the garment with one side's shoulder shorter by ``by`` mm on front and back; ``share`` of it across.

    In front less follows across where its armhole would become longer than the back's: its shoulder, the steeper, rises
    more as it is cut off.
    """

    def narrow(now: Garment, face: Face, follows: float) -> Garment:
        def shape(turned: Garment) -> Garment:
            return put_back(turned, [narrow_half(find_half(turned, side, face), by, follows)])

        return work_over_darts(now, (side,), face, ARM, shape)

    backed = narrow(garment, Face.BACK, share)
    made = narrow(backed, Face.FRONT, share)
    if _back_longer(garment, side) >= 0.0 > _back_longer(made, side):

        def spare(follows: float) -> float:
            return _back_longer(narrow(backed, Face.FRONT, follows), side) - BACK_STAYS_LONGER

        made = narrow(backed, Face.FRONT, _balance(spare, share))
    return shift_aim(made, LineLength(f"shoulder-{side}"), -by)


def _balance(spare: Callable[[float], float], most: float) -> float:
    """The share up to ``most`` at which a front's armhole leaves the back's longer by enough; 0 where none does."""
    return root(spare, 0.0, most, within=_SAME_SHARE)[0] if spare(0.0) > 0.0 else 0.0


_SAME_SHARE = TOLERANCE.same_point / 1000.0  # of at most some 100 mm: the width within a tenth of the same point


def _back_longer(garment: Garment, side: Side) -> float:
    """By how much the back of an armhole is longer than its front."""
    taken = take_armhole(garment, side)
    return 0.0 if taken is None else taken.back - taken.front
