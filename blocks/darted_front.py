"""The front of the darted bodice: the +x half, from the centre of its lower edge to the centre of its neck.

    point              rule                                                                  source
    bust point         half the bust point width out; above the waist by the way over the    ISO 8559-1 landmarks
                       bust, less side neck point to bust point
    side neck point    half the neck's width out, side neck point to bust point from there   as measured
    bust dart          in the side seam, its lower leg level with the bust point, lower      common practice
                       or higher for a mouth 5 to 8 cm below the underarm, and lower
                       still where it would fall to its point
    dart points        20 to 50 mm short of the bust point, by what the dart takes in        from memory
    underarm           the side seam as long as the back's, opened by the bust dart          the side seam is one line
    waist dart         upright under the bust point                                          common practice
    across front       at 0.42 of the armhole's height                                       common practice
    shoulder point     shoulder length from the side neck point                              as measured

The side seam is drawn with the bust dart closed. What lies above the dart is then turned up about the bust point until
the dart takes in what it should: the upper front is raised by that, and leans in over the bust.
"""

from __future__ import annotations

import math

from blocks.darted_back import (
    LOWER_DART_SHARE,
    LOWEST_DART,
    body_adjusts,
    inner_darts,
    lower_edge,
    unsettled_refusal,
    waist_levels,
)
from blocks.darted_frame import WOVEN_ARMHOLE_RADIUS, DartedFrame
from blocks.darted_pieces import DartedHalf, OutlinePart
from blocks.flank import Flank, draw_flank
from blocks.waist_darts import WaistDart, WaistLine, centre_above, draw_waist
from drafting.errors import CannotDraft
from drafting.garment import Face, Fate, Role
from drafting.garment.darts import Dart, angle, dart_name, draw_dart
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_points import LEAST_DART, MOST_IN_BUST_DART, MOUTH_BELOW_UNDERARM, set_back_for
from drafting.redraw.shapes import (
    ACROSS_FRONT_HEIGHT,
    LEAST_SCYE,
    ArmholeCurve,
    ArmholeFrame,
    deepest_fair,
    draw_armhole,
    lay_floor,
)
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

LEVEL_BELOW_UNDERARM = TradeValue(15.0, "mm", "from memory", "a girth is taken close under the arms")
"""At the side seam the bust line lies at least so far below the underarm, wherever the bust points are."""

DEEPEST_FRONT = TradeValue(1.25, "times", "derived", "tried on the surveys' bodies")
"""Of the usual scoop at most, where the front's armhole comes in to the across front, which is more hollow than the
back's and, raised by the bust dart, shorter: with more it turns too tightly."""

LEAST_DART_REACH = TradeValue(40.0, "mm", "from memory")
"""From the bust point to the side seam at least: nearer, it isn't on the front."""

STEEPEST_RULED = TradeValue(0.5, "share", "derived", "by drawing")
"""Of its length that the bust dart falls from the bust point to the side by rule: where the bust points lie so high
over the underarm that it would fall by more, its mouth lies nearer to the underarm."""

STEEPEST_DART = trade_row((0.5, 0.65), "share", "derived", "by drawing")
"""Of its length that a bust dart may fall at all: from the first on it takes in less, at the second nothing, as it
would no longer shape the side of the bust."""

MOST_FALL = TradeValue(0.035, "times", "from memory", "level, or rising to its point")
"""Of its length that a bust dart falls to its point at most by rule (2 degrees): a low bust's opens lower for that."""

LEAST_ABOVE_DART = TradeValue(30.0, "mm", "from memory")
"""Of side seam that are left between the underarm and a bust dart that was asked to lie high."""

MOST_DIP = TradeValue(math.radians(10.0), "rad", "from memory")
"""By which the front's armhole may fall below level where it leaves a side seam that the bust dart leans in."""

FRONT_FALLS = TradeValue(0.5, "share", "derived", "by drawing: neither dips below its end by more than 4 mm")
"""Of what front and back fall together where they leave the side, that the front falls where that is more."""

LEAST_BELOW_DART = TradeValue(40.0, "mm", "from memory")
"""Of side seam that are left between the bust dart and the waist."""

FRONT_LOWER = TradeValue(0.75, "share", "common practice")
"""Of the back darts' depth below the waist at which the front's darts end: the belly lies above the seat."""

FARTHEST_BACK = TradeValue(0.5, "share", "from memory")
"""Of the way from the bust point to the side at which the bust dart ends at most."""

SETTLED_SHARE = TradeValue(0.7, "share", "derived", "by trial: the whole swings to and fro on a short side")
"""Of what the waist's end lies lower than it was taken to, by which it is taken lower for the next trial."""

_SETTLES = 60  # far more than the ten or twelve that it takes


@dataclass(frozen=True, slots=True)
class FrontHalf:
    """What is drawn of the front's half before it becomes lines."""

    frame: DartedFrame
    side: FrontSide
    darts: tuple[WaistDart, ...]
    arm: ArmholeFrame
    dip: float

    @property
    def dart(self) -> Dart | None:
        """The bust dart."""
        return self.side.dart

    def armhole(self) -> ArmholeCurve:
        """Draw the armhole, from the underarm up to the shoulder."""
        return lay_floor(draw_armhole(self.arm, deepest_fair(self.arm, DEEPEST_FRONT)), self.arm.level)


def place_dart(frame: DartedFrame, underarm: float, drop: float | None) -> tuple[float, float]:
    """Return the height (y) of the bust dart's mouth on the closed side seam, and what the dart takes in (mm).

    The mouth lies level with the bust point, within ``MOUTH_BELOW_UNDERARM``, but low enough for the dart not to fall
    to its point, or by ``drop`` (mm) below the bust point where that is asked for. What the dart takes in is the body's
    own, whatever the fit, but for one too steep to be sewn: the armhole keeps the rest of that.
    """
    highest, lowest = underarm - LEAST_ABOVE_DART, frame.waist + LEAST_BELOW_DART
    if highest < lowest:
        raise CannotDraft(
            "scye_depth_length",
            "the underarm lies too near the waist for a bust level between them",
            short_by=lowest - highest,
            help="measure scye depth and back length again",
        )
    apex, reach = frame.bust_point, frame.bust_front - frame.bust_point.x
    if drop is None:
        least, most = MOUTH_BELOW_UNDERARM
        level = max(min(max(apex.y, underarm - most), underarm - least), apex.y - STEEPEST_RULED * reach)
        opened = frame.dart / (2.0 if frame.dart > MOST_IN_BUST_DART else 1.0)  # a full one is shared with a second
        level = min(level, apex.y - opened / 2.0 + MOST_FALL * reach)
    else:
        level = apex.y - drop
    level = min(max(level, lowest), highest)
    steep = (apex.y - level) / reach
    kept = (STEEPEST_DART[1] - steep) / (STEEPEST_DART[1] - STEEPEST_DART[0])
    return level, min(max(kept, 0.0), 1.0) * frame.dart


def waist_darts(frame: DartedFrame, set_back: float | None) -> tuple[WaistDart, ...]:
    """Place the waist dart of the half front."""
    taken = frame.suppression.front
    if taken < LEAST_DART:
        return ()
    drop = 0.0 if frame.hip is None else FRONT_LOWER * min(LOWER_DART_SHARE * (frame.waist - frame.hip), LOWEST_DART)
    at = frame.bust_point
    return (WaistDart("waist-front", at.x, taken, at.y - set_back_for(taken, set_back), frame.waist - drop),)


def level_bust(frame: DartedFrame, underarm: float) -> float:
    """Return the height (y) of the bust's level at the side: the bust points', or under the arm where that is lower."""
    return min(frame.bust_point.y, underarm - LEVEL_BELOW_UNDERARM)


def refuse_no_reach(frame: DartedFrame, level: float) -> None:
    """Refuse bust points too near the side seams for a dart whose mouth lies at the height ``level``."""
    reach = frame.bust_front - frame.bust_point.x
    least = math.hypot(frame.bust_point.y - level, LEAST_DART_REACH)
    if reach <= least:
        raise CannotDraft(
            "bust_point_width",
            say("the bust points lie {what} apart, too near the side seams", what=mm(2.0 * frame.bust_point.x)),
            short_by=least - reach,
            help="measure the bust point width again",
        )


@dataclass(frozen=True, slots=True)
class FrontSide:
    """The front's side: the seam with its dart closed, the waist, the dart, and where the bust's level meets it."""

    flank: Flank
    waist: WaistLine | None
    mouth: Point
    dart: Dart | None
    bust: Point


def draw_side(frame: DartedFrame, length: float, level: float, bust: float, set_back: float | None) -> FrontSide:
    """Draw the closed side seam, ``length`` mm long, and the waist together: each bends to meet the other square.

    The dart's mouth lies at the height ``level``, and the bust's level meets the side at ``bust``, as far from the
    centre over the bust point as half the front is wide.
    """
    darts = waist_darts(frame, set_back)
    taken = sum(dart.intake for dart in darts)
    centre = centre_above(darts[0], frame.waist) if darts else frame.waist
    hip = None if frame.hip is None else Point(frame.hip_front, frame.hip)
    x, y, top, wide = frame.waist_front + taken, frame.waist, (frame.hip or frame.waist) + length, frame.bust_front
    line = None
    for _ in range(_SETTLES):
        flank = draw_flank(top, frame.lean, Point(wide, bust), Point(x, y), hip)
        mouth = Point(flank.x(level), level)
        dart = open_dart(frame, mouth, set_back)
        end = _turn_up(dart, mouth, Point(flank.x(bust), bust))
        short, narrow = length - flank.length, frame.bust_front - frame.bust_point.x - end.distance(frame.bust_point)
        over, lower = 0.0, y
        if hip is None:
            line = draw_waist(frame.waist, centre, darts, x, flank.waist_slope)
            over, lower = line.length - frame.waist_front, line.end.y
        if abs(over) + abs(lower - y) + abs(short) + abs(narrow) < TOLERANCE.same_point:
            return FrontSide(flank, line, mouth, dart, end)
        down = SETTLED_SHARE * (lower - y)
        x, top, y, wide = x - over, top + short + down, y + down, wide + narrow
        if not level < top < level + 2.0 * length:
            break
    raise unsettled_refusal()


def _turn_up(dart: Dart | None, mouth: Point, at: Point) -> Point:
    """Where a point of the closed side seam lies with the dart open: what is above its mouth is turned up."""
    if dart is None or at.y <= mouth.y:
        return at
    return dart.point + (at - dart.point).turned(angle(dart))


def open_dart(frame: DartedFrame, mouth: Point, set_back: float | None) -> Dart | None:
    """Open the bust dart above its lower mouth: turned about the bust point until it takes in what it should."""
    if frame.dart < TOLERANCE.sewn_length:
        return None
    apex = frame.bust_point
    reach = mouth - apex
    turn = 2.0 * math.asin(frame.dart / 2.0 / reach.length)
    back = min(set_back_for(frame.dart, set_back), FARTHEST_BACK * reach.length)
    point = apex + reach.unit.turned(turn / 2.0) * back
    return draw_dart(dart_name("bust"), mouth, point, apex + reach.turned(turn))


def draw_front(frame: DartedFrame, length: float, level: float, bust: float, set_back: float | None) -> FrontHalf:
    """Draw the half front, its side seam ``length`` mm long without the bust dart, whose mouth lies at ``level``.

    The bust's level meets the side at the height ``bust``.
    """
    refuse_no_reach(frame, level)
    side = draw_side(frame, length, level, bust, set_back)
    dart, up = side.dart, Point(-side.flank.lean, 1.0).unit
    top = _turn_up(dart, side.mouth, side.flank.top)
    up = up.turned(angle(dart)) if dart is not None else up
    dip = dip_over(up, math.atan(side.flank.lean))
    arm = ArmholeFrame(
        top,
        frame.along_shoulder(Face.FRONT, frame.shoulder),
        min(frame.half_front, top.x - LEAST_SCYE),
        ACROSS_FRONT_HEIGHT,
        frame.slope_front,
        up.left.turned(dip),
        WOVEN_ARMHOLE_RADIUS,
    )
    return FrontHalf(frame, side, waist_darts(frame, set_back), arm, dip)


def dip_over(up: Point, lean: float) -> float:
    """Return by how much (rad) an armhole square to a side seam that ends in direction ``up`` dips beyond its share.

    That is ``MOST_DIP``, or ``FRONT_FALLS`` of what it falls together with a back whose side leans in by ``lean``
    (rad) there. So much less than square the front starts, and so much more the back, so that they run on smoothly once
    sewn.
    """
    falls = up.angle - math.pi / 2.0
    return -max(falls - max(MOST_DIP, FRONT_FALLS * (falls + lean)), 0.0)


def front_lines(front: FrontHalf, armhole: ArmholeCurve) -> DartedHalf:
    """Return the half front's outline with its armhole, levels and darts."""
    f, apex = front.frame, front.frame.bust_point
    neck = f.side_neck(Face.FRONT)
    edges = (
        *lower_edge(front.side.waist, front.darts, f, f.hip_front),
        *_side(front),
        OutlinePart("armhole", armhole.path, Role.ARMHOLE, Fate.HEMMED, "armhole", True),
        OutlinePart("shoulder", Path.straight(front.arm.shoulder, neck), Role.SHOULDER),
        OutlinePart("neckline", f.neckline(Face.FRONT), Role.NECKLINE, Fate.HEMMED, "neck"),
    )
    across = front.arm.level
    bust = Path.polyline([Point(0.0, apex.y), apex, front.side.bust])
    levels = (
        ("bust", True, bust),
        *waist_levels(front.side.waist, front.darts, f, front.side.flank, f.hip_front),
        (
            "across-front",
            False,
            Path.straight(Point(0.0, across), Point(armhole.x_at_level(across), across)),
        ),
    )
    return DartedHalf(edges, levels, body_adjusts(front.side.flank, f), apex, inner_darts(f, front.darts))


def _side(front: FrontHalf) -> tuple[OutlinePart | Dart, ...]:
    """The side seam from the lower end up, the bust dart standing open in it."""
    dart, flank, mouth = front.dart, front.side.flank, front.side.mouth
    if dart is None:
        return (OutlinePart("side", flank.path(flank.top.y), Role.SIDE),)
    upper = flank.path(flank.top.y, mouth.y).turned(angle(dart), dart.point)
    return (
        OutlinePart("side", flank.path(mouth.y), Role.SIDE),
        dart,
        OutlinePart("side", upper, Role.SIDE),
    )
