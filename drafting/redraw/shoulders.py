"""How a shoulder is turned about its neck end, its dart following, and how long the armhole then is."""

from __future__ import annotations

import math

from drafting.errors import CannotDraft
from drafting.garment import Fact, Garment, Role, Side
from drafting.geometry import Path, Point, turn
from drafting.redraw.fit_half import dart_on, leg_paths, outer_shoulder
from drafting.redraw.halves import Half
from drafting.saying import mm, say


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
            say("the {side} {face} shoulder is in {count} parts", side=half.side, face=half.face, count=len(lines)),
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
