"""Sleeves: which a change speaks of, how long the arm is, how short and flat one may be, how its seam is called."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Piece, Role, Side
from drafting.geometry import Path, Point
from drafting.saying import Saying, Words, say, without_sides
from drafting.trade import TradeValue

SHORTEST_UNDERARM = TradeValue(30.0, "mm", "from memory")
"""Of underarm seam that the shortest sleeve has; a woven one is drafted with more."""

LOWEST_CAP = TradeValue(1.0 / 7.0, "share", "from memory", "knit tops 1/4 to 1/5")
"""Of the armhole, or the cap's length, that a cap is high at least: below it there is no cap to set in."""

_PARABOLA = TradeValue(2.0 / 3.0, "share", "derived")
"""Of the way to where its ends' directions meet, that a cubic's handles reach if it is a parabola: it bends evenly."""

UPRIGHT_OVER = TradeValue(80.0, "mm", "from memory", "the depth of a hem and as much again")
"""Of a woven sleeve's seams above the lower edge, over which they come upright, so that its hem turns up flat."""


def turn_at(corner: Point) -> Point:
    """Return where the seam to that end of the lower edge, its two straight lines prolonged, turns upright."""
    return corner + Point(0.0, UPRIGHT_OVER / 2.0)


def draw_upright_seam(top: Point, corner: Point) -> Path:
    """Draw an underarm seam from the underarm down: straight, and over its last stretch curved to end upright."""
    bend = turn_at(corner)
    down = bend - top
    half = min(UPRIGHT_OVER / 2.0, down.length / 2.0)
    leave = bend - down.unit * half
    curve = Path.cubic(leave, leave.to(bend, _PARABOLA), corner.to(bend, _PARABOLA), corner)
    return Path.join(Path.straight(top, leave), curve)


def add_underarm_title(title: Words) -> Words:
    """Return the title of a side seam that runs on along the underarm; one that has a further name keeps it."""
    if isinstance(title, Saying) and without_sides(title) == _PLAIN_SIDE:
        return Saying("{side} side and underarm", (*title.values, ("seam", title)))
    return say("{seam}, on along the underarm", seam=title)


def drop_underarm_title(title: Words) -> Words:
    """Return the title that a side seam had before it ran on along the underarm."""
    seam = title.value("seam") if isinstance(title, Saying) else None
    return seam if isinstance(seam, str | Saying) else title


_PLAIN_SIDE = without_sides(say("{side} side", side=Side.LEFT))


def arm_length(brief: Brief) -> float:
    """Return the arm (mm) from the shoulder point to the wrist, between bent and straight, as the sleeve takes it."""
    return (brief.body["outer_arm_length"] + brief.body["straight_arm_length"]) / 2.0


def sleeves_of(garment: Garment, side: str) -> tuple[Piece, ...]:
    """Return the sleeves of a side, or of both; CannotDraft where there is none."""
    found = tuple(p for p in garment.pieces if p.lines(role=Role.CAP) and side in ("both", p.side))
    if not found:
        which = "" if side == "both" else f" {side}"
        raise CannotDraft(
            "side", say("there is no{which} sleeve", which=which), help="set one in, or leave this change out"
        )
    return found
