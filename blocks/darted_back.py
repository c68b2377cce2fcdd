"""The back of the darted bodice: one half, from the centre back at its lower edge to the centre back of its neck.

point              rule                                                                 source
back neck point    (0, 0)                                                               frame
side neck point    half the neck's width out, a third of it up                          Baldt 1916, Rosenfeld 1918
shoulder dart      0.45 along the shoulder, down to the shoulder blade                  back_shoulder
shoulder point     shoulder length + ease from the side neck point, the dart closed     as measured
underarm           on the side seam, at the scye depth                                  frame
bust level         level with the bust points                                           the side seam is one line
centre             straight; or taken in at the waist, from the bust's level to the     1 to 2 cm (common practice)
                   hip's, where a seam there is asked for
waist dart         upright over half of the half back width, up to where the front's    common practice
                   bust dart opens, at most up to the bust level
second waist dart  midway between the first and the side, 35 mm shorter; the side stays common practice
"""

from __future__ import annotations

import math
from dataclasses import replace

from blocks.darted_frame import DEEPEST_FITTED, WOVEN_ARMHOLE_RADIUS, DartedFrame
from blocks.darted_pieces import DartedHalf, OutlinePart
from blocks.flank import Flank, draw_flank
from blocks.waist_darts import WaistDart, WaistLine, draw_waist, split_over_seat
from drafting.errors import CannotDraft
from drafting.garment import Face, Fate, Role
from drafting.garment.darts import Dart, angle, dart_name, draw_dart
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_points import LEAST_DART, SHOULDER_DART_PLACE
from drafting.redraw.hemline import ADJUST_ROOM
from drafting.redraw.shapes import (
    ACROSS_BACK_HEIGHT,
    LEAST_SCYE,
    ArmholeCurve,
    ArmholeFrame,
    deepest_fair,
    draw_armhole,
    lay_floor,
)
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SECOND_SHORTER = TradeValue(35.0, "mm", "from memory")
"""By which the second waist dart ends lower than the first."""

LOWER_DART_SHARE = TradeValue(0.75, "share", "common practice")
"""Of waist to hip at which the darts of a longer bodice end."""
LOWEST_DART = TradeValue(140.0, "mm", "common practice")
"""Below the waist at most, at which the darts of a longer bodice end."""

ADJUST_HEIGHT = TradeValue(0.3, "share", "from memory")
"""Of the way up from the waist to the bust point at which the body is lengthened."""

ADJUST_BELOW = TradeValue(0.8, "share", "from memory", "below the darts' lower points")
"""Of waist to hip at which a bodice to the hip is lengthened below the waist."""

_SETTLES = 40  # far more than the six or eight that it takes


@dataclass(frozen=True, slots=True)
class BackHalf:
    """What is drawn of the back's half before it becomes lines."""

    frame: DartedFrame
    flank: Flank
    waist: WaistLine | None
    darts: tuple[WaistDart, ...]
    bust_level: float
    arm: ArmholeFrame
    dart: Dart | None

    def armhole(self) -> ArmholeCurve:
        """Draw the armhole, from the underarm up to the shoulder."""
        return lay_floor(draw_armhole(self.arm, deepest_fair(self.arm, DEEPEST_FITTED)), self.arm.level)


def waist_darts(frame: DartedFrame, upper: float) -> tuple[WaistDart, ...]:
    """Place the waist darts of the half back."""
    taken = frame.suppression
    if taken.back < LEAST_DART:
        return ()
    first = frame.half_back / 2.0
    drop = 0.0 if frame.hip is None else min(LOWER_DART_SHARE * (frame.waist - frame.hip), LOWEST_DART)
    darts = [WaistDart("waist-back", first, taken.back, upper, frame.waist - drop)]
    if taken.second > 0.0:
        inner = first + taken.back / 2.0
        side = frame.waist_back + taken.back + taken.second
        lower = frame.waist - max(drop - SECOND_SHORTER, 0.0)
        x = max((inner + side) / 2.0, inner + taken.second / 2.0 + LEAST_DART)
        darts.append(WaistDart("waist-side-back", x, taken.second, upper - SECOND_SHORTER, lower))
    return tuple(darts)


def unsettled_refusal() -> CannotDraft:
    """The refusal where side seam and waist can't be drawn to meet."""
    return CannotDraft(
        "scye_depth_length",
        "no side seam runs from this underarm through bust and waist",
        help="measure the scye depth, the back length and the waist girth again",
    )


def draw_side(frame: DartedFrame, underarm: float, upper: float, bust_level: float) -> tuple[Flank, WaistLine | None]:
    """Draw the side seam and the waist together: each bends to meet the other square.

    A dart that is kept where the front has none leaves the waist's end as low as the front's, and so the underarms.
    """
    darts = waist_darts(frame, upper)
    centre = frame.suppression.centre
    taken = sum(dart.intake for dart in darts) + centre
    through = Point(frame.bust_back, bust_level)
    if frame.hip is not None:
        side = Point(frame.waist_back + taken, frame.waist)
        return draw_flank(underarm, frame.lean, through, side, Point(frame.hip_back, frame.hip)), None
    x, y, rise = frame.waist_back + taken, frame.waist, 0.0
    for _ in range(_SETTLES):
        flank = draw_flank(underarm, frame.lean, through, Point(x, y), None)
        line = draw_waist(frame.waist, frame.waist, darts, x, flank.waist_slope, rise)
        over, higher = line.length - centre - frame.waist_back, 0.0
        if frame.suppression.back_alone:
            higher = draw_waist(frame.waist, frame.waist, (), x, flank.waist_slope).end.y - line.end.y
        if abs(over) + abs(higher) + abs(line.end.y - y) < TOLERANCE.same_point:
            break
        rise += higher / x
        x, y = x - over, line.end.y
        if not 2.0 * frame.waist < y < upper:
            raise unsettled_refusal()
    else:
        raise unsettled_refusal()
    return flank, line


def split_back_dart(back: BackHalf, hollow: float) -> BackHalf:
    """Return the half back with two waist darts where its seat is full, in the same side seam: nothing above moves.

    ``hollow`` is by how much (mm) a half back's hip is more than its waist. The darts take in so much together, and
    the waist between them rises so much, that it ends where it did.
    """
    f, one = back.frame, back.waist
    taken = split_over_seat(f.suppression, hollow)
    if one is None or taken == f.suppression:
        return back
    rise = 0.0
    for _ in range(_SETTLES):
        darts = waist_darts(replace(f, suppression=taken), back.darts[0].upper)
        line = draw_waist(f.waist, f.waist, darts, one.end.x, back.flank.waist_slope, rise)
        over, higher = line.length - taken.centre - f.waist_back, one.end.y - line.end.y
        if abs(over) + abs(higher) < TOLERANCE.same_point:
            return replace(back, frame=replace(f, suppression=taken), waist=line, darts=darts)
        taken = replace(taken, back=taken.back + over)
        rise += higher / one.end.x
    return back


def open_shoulder(frame: DartedFrame) -> tuple[Point, Dart | None]:
    """Return the shoulder's end as drawn, and the dart that opens it."""
    shaping = frame.shaping
    closed = frame.along_shoulder(Face.BACK, frame.shoulder + shaping.ease)
    if shaping.dart < TOLERANCE.same_point:
        return closed, None
    mouth = frame.along_shoulder(Face.BACK, SHOULDER_DART_PLACE * frame.shoulder)
    point = mouth - Point(0.0, shaping.length)
    angle = 2.0 * math.asin(shaping.dart / 2.0 / shaping.length)
    out = point + (mouth - point).turned(-angle)
    return point + (closed - point).turned(-angle), draw_dart(dart_name("shoulder"), out, point, mouth)


def draw_back(frame: DartedFrame, underarm: float, upper: float, bust_level: float) -> BackHalf:
    """Draw the half back with its underarm at the height ``underarm`` (mm, y), its darts up to ``upper``."""
    flank, waist = draw_side(frame, underarm, upper, bust_level)
    tip, dart = open_shoulder(frame)
    arm = ArmholeFrame(
        flank.top,
        tip,
        min(frame.half_back, flank.top.x - LEAST_SCYE),
        ACROSS_BACK_HEIGHT,
        frame.slope_back + (angle(dart) if dart else 0.0),
        Point(-flank.lean, 1.0).unit.left,
        WOVEN_ARMHOLE_RADIUS,
    )
    return BackHalf(frame, flank, waist, waist_darts(frame, upper), bust_level, arm, dart)


def back_lines(back: BackHalf, armhole: ArmholeCurve) -> DartedHalf:
    """Return the half back's outline with its armhole, levels and darts."""
    f = back.frame
    neck = f.side_neck(Face.BACK)
    edges = (
        *lower_edge(back.waist, back.darts, f, f.hip_back),
        OutlinePart("side", back.flank.path(back.flank.top.y), Role.SIDE),
        OutlinePart("armhole", armhole.path, Role.ARMHOLE, Fate.HEMMED, "armhole", True),
        *_shoulder(back, neck),
        OutlinePart("neckline", f.neckline(Face.BACK), Role.NECKLINE, Fate.HEMMED, "neck"),
    )
    across = back.arm.level
    levels = (
        ("bust", True, Path.straight(Point(0.0, back.bust_level), Point(f.bust_back, back.bust_level))),
        *waist_levels(back.waist, back.darts, f, back.flank, f.hip_back),
        (
            "across-back",
            False,
            Path.straight(Point(0.0, across), Point(armhole.x_at_level(across), across)),
        ),
    )
    return DartedHalf(edges, levels, body_adjusts(back.flank, f), None, inner_darts(f, back.darts))


def _shoulder(back: BackHalf, neck: Point) -> tuple[OutlinePart | Dart, ...]:
    tip, dart = back.arm.shoulder, back.dart
    if dart is None:
        return (OutlinePart("shoulder", Path.straight(tip, neck), Role.SHOULDER),)
    return (
        OutlinePart("shoulder", Path.straight(tip, dart.mouth_a), Role.SHOULDER),
        dart,
        OutlinePart("shoulder", Path.straight(dart.mouth_b, neck), Role.SHOULDER),
    )


# what front and back share


def lower_edge(
    line: WaistLine | None, darts: tuple[WaistDart, ...], frame: DartedFrame, hip: float
) -> tuple[OutlinePart | Dart, ...]:
    """The lower edge from the centre to the side: the waist with its darts, or the hem at the hip."""
    if line is None:
        low = frame.hip or 0.0
        return (OutlinePart("hem", Path.straight(Point(0.0, low), Point(hip, low)), Role.HEM, Fate.HEMMED, "hem"),)
    out: list[OutlinePart | Dart] = []
    for i, curve in enumerate(line.curves):
        out.append(OutlinePart("waist", curve.path, Role.WAIST, Fate.HEMMED, "hem"))
        if i < len(darts):
            out.append(darts[i].at_edge(curve.d, line.curves[i + 1].a))
    return tuple(out)


def waist_levels(
    line: WaistLine | None, darts: tuple[WaistDart, ...], frame: DartedFrame, flank: Flank, hip: float
) -> tuple[tuple[str, bool, Path], ...]:
    """The waist as the stretches outside the darts, and the hip where the bodice reaches it."""
    if line is not None:
        return tuple(("waist", True, curve.path) for curve in line.curves)
    xs = [0.0, *(x for d in darts for x in (d.x - d.intake / 2.0, d.x + d.intake / 2.0)), flank.waist.x]
    y, low = frame.waist, frame.hip or 0.0
    stretches = [
        ("waist", True, Path.straight(Point(a, y), Point(b, y))) for a, b in zip(xs[::2], xs[1::2], strict=True)
    ]
    return (*stretches, ("hip", True, Path.straight(Point(0.0, low), Point(hip, low))))


def inner_darts(frame: DartedFrame, darts: tuple[WaistDart, ...]) -> tuple[Dart, ...]:
    """The darts within a bodice that reaches below the waist."""
    if frame.hip is None:
        return ()
    return tuple(dart.within(frame.waist) for dart in darts)


def body_adjusts(flank: Flank, frame: DartedFrame) -> tuple[tuple[str, Path], ...]:
    """Where the body is lengthened or shortened: between bust and waist, below any bust dart, and above the hip."""
    heights = [("body", frame.waist + ADJUST_HEIGHT * (frame.bust_point.y - frame.waist))]
    if frame.hip is not None:
        below = frame.waist - ADJUST_BELOW * (frame.waist - frame.hip)
        heights.append(("below-waist", max(below, frame.hip + ADJUST_ROOM + TOLERANCE.joint)))
    return tuple((name, Path.straight(Point(0.0, y), Point(flank.x(y), y))) for name, y in heights)
