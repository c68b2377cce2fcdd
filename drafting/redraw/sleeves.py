"""Sleeves: which a change speaks of, how long the arm is, how short and flat one may be, how its seam is called."""

from __future__ import annotations

from itertools import pairwise

from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Piece, Role, Side
from drafting.garment.departures import sum_departures
from drafting.garment.sleeves import SleeveTaken
from drafting.geometry import Path, Point
from drafting.redraw.hemline import ADJUST_ROOM
from drafting.saying import Saying, Words, say, without_sides
from drafting.trade import TradeValue, trade_row

SHORTEST_UNDERARM = TradeValue(30.0, "mm", "from memory")
"""Of underarm seam that the shortest sleeve has; a woven one is drafted with more."""

LOWEST_CAP = TradeValue(1.0 / 7.0, "share", "from memory", "knit tops 1/4 to 1/5")
"""Of the armhole, or the cap's length, that a cap is high at least: below it there is no cap to set in."""

FOREARM = trade_row((0.6, 0.98), "share", "from memory")
"""Of the way from wrist to elbow at which the forearm is thickest, and of the elbow's girth that it measures there."""

HALF_WAY_UP = TradeValue(0.7, "share", "from memory", "the muscle is fullest half-way up")
"""Of what the upper arm at the armpit is thicker than the elbow, by which it is thicker half-way between."""

ELBOW_DART_WIDE = trade_row((15.0, 25.4), "mm", "common practice", "1.5 to 2.5 cm, 5/8 to 1 in")
"""What an elbow dart takes in, at least and at most."""

ELBOW_DART_SHARE = TradeValue(0.25, "share", "common practice")
"""Of a sleeve's width at the elbow that its dart reaches in at most."""

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


def turn_upright(path: Path, down: Point) -> Path:
    """Return an underarm seam, run from the underarm down, whose last stretch curves to end along ``down`` (a unit)."""
    half = min(UPRIGHT_OVER, path.length / 2.0) / 2.0
    s = path.length - 2.0 * half
    leave = path.at(s)
    bend = leave + path.tangent(s) * half
    end = bend + down * half
    return Path.join(path.between(0.0, s), Path.cubic(leave, leave.to(bend, _PARABOLA), end.to(bend, _PARABOLA), end))


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


def arm_length(brief: Brief, bent: bool = False) -> float:
    """Return the arm (mm) from the shoulder point to the wrist, as a sleeve takes it.

    A straight sleeve takes the middle between the bent and the straight arm, one with an elbow dart the bent arm.
    """
    outer = brief.body["outer_arm_length"]
    return outer if bent else (outer + brief.body["straight_arm_length"]) / 2.0


def shoulder_inset(garment: Garment, side: Side) -> float:
    """Return how far (mm) in from the body's shoulder point changes have moved a side's armhole (less than 0: out).

    So much longer is its sleeve from the top of the cap: the arm is measured from the shoulder point (common practice).
    """
    return -sum_departures(garment, "shoulder_length", side.value)


def shoulder_point_height(garment: Garment, taken: SleeveTaken, side: Side) -> float:
    """Return the height (y, mm) on a sleeve at which the body's shoulder point lies.

    It lies below the top of the cap by what the armhole is set in, and by what a puff stands higher: that is drawn up
    again over the shoulder.
    """
    puff = sum_departures(garment, "cap_height", side.value) * taken.armhole
    return taken.crown - puff - shoulder_inset(garment, side)


def elbow_depth(brief: Brief, bent: bool = False) -> float:
    """Return how far (mm) below the shoulder point the elbow lies, along the same tape as the sleeve's length."""
    return arm_length(brief, bent) * brief.body["upper_arm_length"] / brief.body["outer_arm_length"]


def arm_girth(brief: Brief, above: float) -> float:
    """Return the arm's girth (mm) at ``above`` mm over the wrist.

    It runs straight between the wrist, the thickest part of the forearm, the elbow, half-way up from there to the
    armpit, where it is fuller than straight between (from memory), and the upper arm.

    The forearm is nearly as thick as the elbow at 6/10 of the way up to it (from memory).
    """
    body = brief.body
    elbow, top = body["lower_arm_length"], body["lower_arm_length"] + 0.6 * body["upper_arm_length"]
    at = (
        (0.0, body["wrist_girth"]),
        (FOREARM[0] * elbow, FOREARM[1] * body["elbow_girth"]),
        (elbow, body["elbow_girth"]),
        ((elbow + top) / 2.0, body["elbow_girth"] + HALF_WAY_UP * (body["upper_arm_girth"] - body["elbow_girth"])),
        (top, body["upper_arm_girth"]),
    )
    for (low, thin), (high, thick) in pairwise(at):
        if above <= high:
            return thin + (thick - thin) * (above - low) / (high - low)
    return body["upper_arm_girth"]


def adjust_heights(elbow: float, bottom: float) -> tuple[tuple[str, float], ...]:
    """Return the names and heights (mm, 0 at the underarm) of a sleeve's lengthen lines.

    They lie half way to the elbow and half way from there, a short one half way down.
    """
    if elbow - bottom < 2.0 * ADJUST_ROOM:
        return (("sleeve", bottom / 2.0),)
    return ("sleeve", elbow / 2.0), ("below-elbow", (elbow + bottom) / 2.0)


NO_SLEEVE_HELP = "set one in, or leave this change out: without sleeves the armholes are bare already"
"""What mends a change of sleeves that there aren't."""


def sleeves_of(garment: Garment, side: str) -> tuple[Piece, ...]:
    """Return the sleeves of a side, or of both; CannotDraft where there is none."""
    found = tuple(p for p in garment.pieces if p.lines(role=Role.CAP) and side in ("both", p.side))
    if not found:
        which, asked = ("", "") if side == "both" else (f" {side}", "side")
        raise CannotDraft(asked, say("there is no{which} sleeve", which=which), help=NO_SLEEVE_HELP, leave_out=True)
    return found
