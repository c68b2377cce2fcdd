"""The armhole: one curve from the underarm to the shoulder, through the across width."""

from __future__ import annotations

from dataclasses import replace

from drafting.geometry import Point, root
from drafting.record import dataclass
from drafting.redraw.shapes.curve import Curve, gentle_handle
from drafting.redraw.shapes.floor import lay_floor
from drafting.redraw.shapes.hollow import HollowCurve, hollow_curve
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEVEL_IN = Point(-1.0, 0.0)
"""Towards the centre: square to a side seam that ends upright."""

LEAST_SCYE = TradeValue(20.0, "mm", "derived", "tried on the surveys' bodies")
"""From half the across width out to the side seam: a body with less leaves no armhole to draw."""

ACROSS_BACK_HEIGHT = TradeValue(0.5, "share", "derived", "as it is measured")
"""Of the armhole's height at which the across back is taken: halfway from armpit to shoulder."""

ACROSS_FRONT_HEIGHT = TradeValue(0.42, "share", "common practice")
"""Of the armhole's height at which the across front is taken."""

ARMHOLE_RADIUS = TradeValue(11.0, "mm", "derived", "from the allowance of 3/8 in")
"""Of radius at least at an armhole's ends, so that its allowance, which lies inside the turn, has room."""

ROUND_UNDERARM = TradeValue(25.0, "mm", "from memory", "its cut edge, 3/8 in within, still has a radius of 1.5 cm")
"""Of radius at the underarm, up to which an armhole is drawn rounder there if it keeps its across width, or hardly."""

GIVES_FOR_ROUND = TradeValue(3.0, "mm", "from memory", "of half an across back that has 0 to 2.5 cm of ease")
"""By which it lies inside its across width at most for that."""

STRAIGHTEST = TradeValue(0.25, "times", "derived", "by drawing the armholes of the 1988 survey")
"""Of the usual scoop at least, for an armhole to be a fair curve: with less it turns too sharply at the underarm."""

DEEPEST = TradeValue(1.15, "times", "derived", "by drawing the armholes of the 1988 survey")
"""Of the usual scoop at most, for an armhole to be a fair curve: with more it turns too sharply at the across width."""

DEEPEST_CUT = TradeValue(1.70, "times", "derived", "by drawing the choir's armholes")
"""Of the usual scoop at most, where a design cuts an armhole in on purpose: its turn at the across width is tighter
than a block's, but still of 30 mm radius or more."""

SCOOPED = TradeValue(0.72, "share", "from memory")
"""Of the way from the side in to the across width that an ordinary armhole runs on at the underarm."""

SCOOPED_UP = TradeValue(0.06, "share", "from memory")
"""Of its height that an ordinary armhole runs on farther at the underarm."""

HELD_UP = TradeValue(0.50, "share", "from memory")
"""Of its height that an ordinary armhole runs on square to the shoulder."""

UNDERARM_ABOVE_WAIST = TradeValue(40.0, "mm", "from memory")
"""Above the waist at least that an underarm lies."""


@dataclass(frozen=True, slots=True)
class ArmholeFrame:
    """The points an armhole is drawn between, on the +x half (mm).

    ``underarm`` on the side seam, ``shoulder`` at the shoulder's end, ``across`` half the width wanted at the share
    ``height`` of the way up from underarm to shoulder; ``slope`` of the shoulder (rad); ``leave`` the direction,
    square to the side seam, in which the armhole starts; ``radius`` its least at both ends, ``rounder`` that at the
    underarm where it is more. With ``full`` it is drawn hollow: upright at the across width, or leaning in, ``full``
    the share of its handle at the underarm; one that is ``floored`` has a floor beside its side seam.
    """

    underarm: Point
    shoulder: Point
    across: float
    height: float
    slope: float
    leave: Point = LEVEL_IN
    radius: float = ARMHOLE_RADIUS
    full: float | None = None
    rounder: float = 0.0
    floored: bool = False

    @property
    def level(self) -> float:
        """The y at which the across width is taken."""
        return self.underarm.y + self.height * (self.shoulder.y - self.underarm.y)

    def at_level(self, y: float) -> ArmholeFrame:
        """Return the frame with the across width taken at the level ``y``."""
        return replace(self, height=(y - self.underarm.y) / (self.shoulder.y - self.underarm.y))


def armhole_curve(frame: ArmholeFrame, scoop: float) -> Curve:
    """Draw the armhole with a given scoop (0 is nearly straight, 1 an ordinary armhole).

    It leaves the side seam square and arrives square to the shoulder, so that front and back run on smoothly.
    """
    across = max(frame.underarm.x - frame.across, 0.0)
    up = frame.shoulder.y - frame.underarm.y
    arrive = Point(1.0, 0.0).turned(-frame.slope).left
    reach, hold = scoop * (SCOOPED * across + SCOOPED_UP * up), scoop * HELD_UP * up
    first = frame.underarm + frame.leave * reach
    hold = max(hold, gentle_handle(frame.radius, abs((first - frame.shoulder).cross(arrive))))
    second = frame.shoulder - arrive * hold
    reach = max(
        reach, gentle_handle(max(frame.radius, frame.rounder), abs((second - frame.underarm).cross(frame.leave)))
    )
    return Curve.leaving(frame.underarm, frame.leave, reach, frame.shoulder, arrive, hold)


def armhole_spare(frame: ArmholeFrame, scoop: float) -> float:
    """Return by how much the armhole of that scoop lies outside the across width wanted (mm)."""
    return armhole_curve(frame, scoop).x_at_level(frame.level) - frame.across


def deepest_fair(frame: ArmholeFrame, deepest: float) -> float:
    """Return the scoop, ``deepest`` at most, up to which the armhole bends to one side only.

    Its handle at the underarm ends where the tangent at the shoulder crosses it, at the latest.
    """
    arrive = Point(1.0, 0.0).turned(-frame.slope).left
    room = (frame.shoulder - frame.underarm).cross(arrive) / frame.leave.cross(arrive)
    across = max(frame.underarm.x - frame.across, 0.0)
    usual = SCOOPED * across + SCOOPED_UP * (frame.shoulder.y - frame.underarm.y)
    return min(max(room / usual, STRAIGHTEST), deepest)


def least_scoop(frame: ArmholeFrame, comes_in: float, deepest: float) -> float:
    """Return the least scoop with which the armhole comes in so far (mm) from the shoulder's end; at most ``deepest``.

    It is at least the straightest that is fair.
    """

    def spare(scoop: float) -> float:
        return frame.shoulder.x - armhole_curve(frame, scoop).least_x - comes_in

    if spare(deepest) <= 0.0:
        return deepest
    if spare(STRAIGHTEST) >= 0.0:
        return STRAIGHTEST
    return root(spare, STRAIGHTEST, deepest, within=TOLERANCE.same_point / 1000.0)[0]


def draw_armhole(frame: ArmholeFrame, deepest: float = DEEPEST, straightest: float = STRAIGHTEST) -> Curve:
    """Draw the armhole through its across width, or as near to it as a fair curve comes, to ``deepest``."""
    if armhole_spare(frame, deepest) >= 0.0:
        return armhole_curve(frame, deepest)
    if armhole_spare(frame, straightest) <= 0.0:
        return armhole_curve(frame, straightest)
    scoop, _ = root(lambda k: armhole_spare(frame, k), straightest, deepest, within=TOLERANCE.same_point / 1000.0)
    return armhole_curve(frame, scoop)


def round_underarm(frame: ArmholeFrame, straightest: float = STRAIGHTEST) -> ArmholeFrame:
    """Return the frame with as large a radius at the underarm as leaves its armhole hardly inside its across width."""

    def spare(radius: float) -> float:
        return armhole_spare(replace(frame, rounder=radius), straightest) + GIVES_FOR_ROUND

    if frame.radius >= ROUND_UNDERARM or spare(frame.radius) <= 0.0:
        return frame
    if spare(ROUND_UNDERARM) >= 0.0:
        return replace(frame, rounder=float(ROUND_UNDERARM))
    radius, _ = root(spare, frame.radius, float(ROUND_UNDERARM), within=TOLERANCE.same_point)
    return replace(frame, rounder=radius)


ArmholeCurve = Curve | HollowCurve
"""An armhole as it is drawn: one cubic, or two that meet at its narrowest place."""


def lay_if_floored(curve: Curve, frame: ArmholeFrame) -> ArmholeCurve:
    """Return the armhole with a floor where its frame has one."""
    return lay_floor(curve, frame.level) if frame.floored else curve


def draw_as_framed(frame: ArmholeFrame, deepest: float = DEEPEST) -> ArmholeCurve:
    """Draw the armhole hollow where that is wanted and it comes in from the side by enough; else as one cubic."""
    if frame.full is None or frame.across > frame.underarm.x - TOLERANCE.sewn_length:
        return lay_if_floored(draw_armhole(frame, deepest), frame)
    across = Point(frame.across, frame.level)
    radii = float(frame.radius), max(frame.radius, frame.rounder)
    return hollow_curve(frame.underarm, frame.leave, across, frame.shoulder, frame.slope, frame.full, radii)
