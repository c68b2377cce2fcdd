"""Square, sloping and low shoulders: the shoulder's end higher or lower, on both sides or on one.

The underarm rises or sinks by as much (common practice), or as far as armpit or bust line let it; on both faces alike
along the side seam, so that the side seams still agree, and the armhole keeps its length but for little. The across
width stays (common practice), as does a bust dart, and so does an armhole's width where it has no more than the arm
needs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Role,
    Stage,
    change,
    one_side_option,
    option,
    side_option,
    sides_of,
)
from drafting.geometry import Array, Path, Point, root, turn
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.fit_half import (
    FRONT_AND_BACK,
    arm_frame,
    outer_shoulder,
    refuse_unless_body,
    turn_start,
)
from drafting.redraw.halves import Half, find_half, refuse_narrow_strap, with_armhole
from drafting.redraw.heights import keep_aims
from drafting.redraw.shapes import (
    DEEPEST_CUT,
    SHAPES,
    STRAIGHTEST,
    ArmholeCurve,
    ArmholeFrame,
    armhole_curve,
    draw_armhole,
    draw_as_framed,
    lay_if_floored,
)
from drafting.redraw.shoulders import armhole_facts, refuse_short, turn_angle, turn_up
from drafting.redraw.split_darts import work_on_whole_darts
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SIDE_ABOVE_DART = TradeValue(10.0, "mm", "derived", "by drawing")
"""Of side seam that are left below the underarm, above a bust dart."""

ABOVE_BUST = TradeValue(2.0, "mm", "derived", "so that the girth is taken under the arms still")
"""Above the bust line that the underarm stays."""

WIDE_ENOUGH = TradeValue(60.0, "mm", "from memory", "more than half of a stout arm's thickness")
"""Of a front's or a back's armhole, from its narrowest place to the side: a wider one may become a little narrower."""

MOST_REST = TradeValue(25.0, "mm", "from memory", "12 mm a size")
"""By which an armhole, front and back, may become shorter or longer where its underarm can't go as far as it should:
two sizes' worth."""


@dataclass(frozen=True, slots=True)
class SquareOptions:
    """Options of the square shoulder."""

    by: float = option("How much higher the shoulder's end lies.", "length", 8.0, low=0.0, high=35.0)
    keep_underarm: bool = option(
        "Whether the underarm stays; by rule it rises by as much, or to the armpit.",
        "flag", False,
    )  # fmt: skip
    side: str = side_option("Which shoulder.")


@dataclass(frozen=True, slots=True)
class SlopingOptions:
    """Options of the sloping shoulder."""

    by: float = option("How much lower the shoulder's end lies.", "length", 8.0, low=0.0, high=35.0)
    keep_underarm: bool = option(
        "Whether the underarm stays; by rule it sinks by as much, or to the bust line.",
        "flag", False,
    )  # fmt: skip
    side: str = side_option("Which shoulder.")


@dataclass(frozen=True, slots=True)
class LowOptions:
    """Options of the low shoulder."""

    by: float = option("How much lower the shoulder's end lies on that side.", "length", 8.0, low=0.0, high=35.0)
    keep_underarm: bool = option(
        "Whether the underarm stays; by rule it sinks by as much, or to the bust line.",
        "flag", False,
    )  # fmt: skip
    side: str = one_side_option("Which shoulder is the lower one.", "right")


@change(
    "square-shoulder",
    "Shoulders raised at their outer ends for a wearer whose shoulders are squarer.",
    Stage.FIT,
    needs=("scye_depth_length",),
    mends=(
        Mend("shoulder-steep", 'if it is as measured, add the change "{change}", side = "{side}", by = "{by}"'),
        Mend("toile-shoulders-square", "unpick the seam's outer end: by = half of the gap that opens"),
        *mend_wavering(Role.ARMHOLE),
    ),
    moves=("shoulder_slope", "armhole_depth"),
)
def fit_square_shoulder(garment: Garment, brief: Brief, o: SquareOptions) -> Garment:
    """Raise the shoulders asked for at their outer ends, and the underarms with them."""
    return _raise_shoulders(garment, brief, o.side, o.by, o.keep_underarm)


@change(
    "sloping-shoulder",
    "Shoulders lowered at their outer ends for a wearer whose shoulders slope more.",
    Stage.FIT,
    needs=("scye_depth_length",),
    mends=(
        Mend("shoulder-flat", 'if it is as measured, add the change "{change}", side = "{side}", by = "{by}"'),
        Mend("toile-shoulders-slope", "by = how deep the seam is pinched at its outer end"),
        *mend_wavering(Role.ARMHOLE),
    ),
    moves=("shoulder_slope", "armhole_depth"),
)
def fit_sloping_shoulder(garment: Garment, brief: Brief, o: SlopingOptions) -> Garment:
    """Lower the shoulders asked for at their outer ends, and the underarms with them."""
    return _raise_shoulders(garment, brief, o.side, -o.by, o.keep_underarm)


@change(
    "low-shoulder",
    "One shoulder lowered at its outer end: left and right then differ.",
    Stage.FIT,
    needs=("scye_depth_length",),
    mends=(
        Mend("toile-shoulder-lower", "by = how deep the seam is pinched at its outer end, side = that shoulder's"),
        *mend_wavering(Role.ARMHOLE),
    ),
    moves=("shoulder_slope", "armhole_depth"),
)
def fit_low_shoulder(garment: Garment, brief: Brief, o: LowOptions) -> Garment:
    """Lower one shoulder alone at its outer end, and its underarm with it."""
    return _raise_shoulders(garment, brief, o.side, -o.by, o.keep_underarm)


def _raise_shoulders(garment: Garment, brief: Brief, which: str, by: float, keep_underarm: bool) -> Garment:
    refuse_unless_body(garment)
    if by == 0.0:
        return garment
    return work_on_whole_darts(garment, lambda g: _raise_whole(g, brief, which, by, keep_underarm), which)


def _raise_whole(garment: Garment, brief: Brief, which: str, by: float, keep_underarm: bool) -> Garment:
    for side in sides_of(which):
        before = garment
        halves = [find_half(garment, side, face) for face in FRONT_AND_BACK]
        for half in halves:
            refuse_short(half, by)
        moved, under, told = [raise_half(half, by) for half in halves], 0.0, _KEPT
        if not keep_underarm:
            length = _armholes_length([_redraw(half, arm_frame(half)) for half in halves])
            under, told = _as_far_as_may_be(moved, brief, by, length)
            if under == by:
                moved = [_carry_armhole(*each, by) for each in zip(halves, moved, strict=True)]
            else:
                moved = [_raise_underarm(half, under) for half in moved] if under else moved
        garment = keep_aims(before, garment.with_(pieces=[half.piece for half in moved]))
        end = say("the {side} shoulder's end higher (less than 0: lower)", side=side)
        garment = garment.with_(
            facts=(
                Fact(f"shoulder_raised_{side}", by, "mm", "choice", end),
                Fact(f"underarm_raised_{side}", under, "mm", "solve", told),
                *armhole_facts(before, garment, side),
            )
        )
    return garment


_KEPT = "kept where it was, as asked"


def _as_far_as_may_be(halves: Sequence[Half], brief: Brief, wanted: float, length: float) -> tuple[float, str]:
    """How far the underarm rises of what is wanted (mm), and why that far; ``length`` is the armhole's before.

    A low underarm is lowered only to a little above the bust line, and one near the armpit rises only to that; the
    armhole takes the rest, shorter or longer, and the sleeve is drafted to it (common practice: the underarm of a loose
    garment is low enough already). CannotDraft where that rest is too much.
    """
    lower = wanted < 0.0
    if lower:
        most = min(max(wanted, *(_down_to_bust(half) for half in halves)), 0.0)
    else:
        most = max(min(wanted, *(_up_to_armpit(half, brief) for half in halves)), 0.0)
    if most == wanted:
        return wanted, "by as much as the shoulder's end"
    rest = abs(_armholes_length([_redraw_raised(half, most) for half in halves]) - length)
    if rest <= MOST_REST:
        stop = "as low as the bust line" if lower else "as high as the armpit"
        return most, f"{stop} lets it lie; the armhole is {'shorter' if lower else 'longer'} by the rest"
    side = halves[0].side
    raise CannotDraft(
        ("by", "keep_underarm"),
        f"the {side} underarm would come too near the bust line"
        if lower
        else f"the {side} underarm would lie above the armpit",
        short_by=rest - MOST_REST,
        help=say("{which} it by less, or write keep_underarm = true", which="lower" if lower else "raise"),
    )


def _down_to_bust(half: Half) -> float:
    """By how much (mm, less than 0) a half's underarm may be lowered along its side seam: to a dart, or the bust."""
    path, bust = half.on_plus_x(half.below_armhole().path), half.level("bust")
    least: float = SIDE_ABOVE_DART
    if bust is not None:
        above = half.outer_end(bust).y + ABOVE_BUST
        found = path.cross_level(above)
        if found:
            least = max(least, found[-1])
        elif path.end.y < above:
            least = path.length
    return least - path.length


def _up_to_armpit(half: Half, brief: Brief) -> float:
    """By how much (mm) a half's underarm may rise along its side seam: the back's as high as the armpit."""
    if half.face is not Face.BACK:
        return math.inf
    path = half.on_plus_x(half.below_armhole().path)
    room = -brief.body["scye_depth_length"] - path.end.y
    steep = path.tangent(path.length).y
    return room / steep if room > 0.0 and steep > 0.0 else 0.0


def _armholes_length(curves: Iterable[ArmholeCurve]) -> float:
    """How long the armholes are (mm) that changes draw.

    A block's own armhole may stray from that by some tenths, where it couldn't be drawn through the width wanted.
    """
    return math.fsum(curve.length for curve in curves)


def _raised_frame(half: Half, by: float) -> ArmholeFrame:
    """The frame of a half's armhole, its underarm ``by`` mm higher along the side seam."""
    path = half.on_plus_x(half.below_armhole().path)
    seam, old = _grow_seam(path, by), arm_frame(half)
    bend = turn(path.tangent(path.length), seam.tangent(seam.length))
    return replace(old, underarm=seam.end, leave=old.leave.turned(bend)).at_level(old.level)


def _redraw(half: Half, frame: ArmholeFrame) -> ArmholeCurve:
    """Draw a half's armhole in a new frame as far in as the half's own where that is narrow: the arm's room."""
    if frame.full is not None:
        return draw_as_framed(frame, DEEPEST_CUT)
    own = half.path(Role.ARMHOLE)
    narrowest = own.bounds[0]
    at_shoulder = not own.tangent(own.length).x > 0.0 > own.tangent(0.0).x
    if at_shoulder or own.start.x - narrowest > WIDE_ENOUGH:
        return lay_if_floored(draw_armhole(frame, DEEPEST_CUT), frame)
    frame = replace(frame, across=narrowest)

    def over(scoop: float) -> float:
        return armhole_curve(frame, scoop).path.bounds[0] - narrowest

    if over(DEEPEST_CUT) >= 0.0 or over(STRAIGHTEST) <= 0.0:
        scoop = float(DEEPEST_CUT if over(DEEPEST_CUT) >= 0.0 else STRAIGHTEST)
    else:
        scoop = root(over, STRAIGHTEST, DEEPEST_CUT, within=TOLERANCE.same_point / 1000.0)[0]
    return lay_if_floored(armhole_curve(frame, scoop), frame)


def _redraw_raised(half: Half, by: float) -> ArmholeCurve:
    """The same with the underarm ``by`` mm higher."""
    return _redraw(half, _raised_frame(half, by))


def _grow_seam(path: Path, by: float) -> Path:
    """A side seam longer (or shorter) by an amount at the underarm; it runs straight on."""
    return path.extended(0.0, by) if by > 0.0 else path.between(0.0, max(path.length + by, TOLERANCE.sewn_length))


def raise_half(half: Half, by: float) -> Half:
    """Return the half with its shoulder turned up and its armhole drawn on to it, the neckline still square to it."""
    moved = turn_up(half, by)
    lines = half.lines(Role.NECKLINE)
    if lines:
        path, slope = half.on_plus_x(lines[0].path), arm_frame(half).slope
        moved = moved.with_paths({lines[0].name: _square_to(path, slope, turn_angle(half, by))})
    frame = arm_frame(moved)
    return with_armhole(moved, frame, _redraw(half, frame))


def _square_to(neckline: Path, slope: float, angle: float) -> Path:
    """A half neckline square to a shoulder that was turned up by an angle, in the shape that it has."""
    start, end = neckline.start, neckline.end
    for draw in SHAPES.values():
        if draw(start, end, slope).path.same_as(neckline, TOLERANCE.joint):
            return draw(start, end, slope - angle).path
    return turn_start(neckline, angle)


def _carry_armhole(before: Half, moved: Half, by: float) -> Half:
    """The half ``moved`` as turned up, its underarm ``by`` mm higher too, with its armhole as it was ``before``.

    Both ends move by nearly as much and what lies between goes with them: the armhole keeps its shape and its floor.
    Sideways it stays where the width across is taken, but for what the underarm comes in by: the arm keeps its room. At
    either end it turns with the seam there.
    """
    old, side = before.path(Role.ARMHOLE), before.on_plus_x(before.below_armhole().path)
    new = _grow_seam(side, by)
    ends = new.end - old.start, arm_frame(moved).shoulder - old.end
    segments = _shift_between(old, ends, before.half_across.y, min(ends[0].x, 0.0))
    outer = [before.on_plus_x(outer_shoulder(half).path) for half in (before, moved)]
    path = _leave_towards(Path.of(segments), turn(side.tangent(side.length), new.tangent(new.length)), old)
    path = _leave_towards(path.reversed(), turn(*(way.end - way.start for way in outer)), old.reversed()).reversed()
    carried = moved.with_paths({before.below_armhole().name: new, before.line(Role.ARMHOLE).name: path})
    refuse_narrow_strap(carried)
    met = path.cross_level(before.half_across.y)
    return carried.with_across(path.at(met[0]).x, before.across.full) if met else carried


def _shift_between(path: Path, ends: tuple[Point, Point], still: float, inwards: float) -> Array:
    """The segments of a path whose ends are moved so: in between by as much of either as lies near.

    Sideways it moves only ``inwards`` (mm) at the height ``still``; each handle turns with its joint.
    """
    low, up = path.start.y, path.end.y - path.start.y
    at = (still - low) / up
    one, two = (ends[0].x - inwards) / at, (ends[1].x - inwards) / (at - 1.0)
    old = Path.join(*path.cut_at(path.cross_level(still))).segments  # a joint where it is to stay
    new = old.copy()
    for joint, others in ((0, (0, 1)), (3, (2, 3))):
        share = (old[:, joint, 1] - low) / up
        aside = inwards + (at - share) * (one + (two - one) * share)
        steep = ((at - share) * (two - one) - one - (two - one) * share) / up
        risen = (1.0 - share) * ends[0].y + share * ends[1].y
        for each in others:
            over = old[:, each, 1] - old[:, joint, 1]
            new[:, each, 0] += aside + steep * over
            new[:, each, 1] += risen + (ends[1].y - ends[0].y) / up * over
    return new


def _leave_towards(path: Path, by: float, like: Path) -> Path:
    """A path that starts in the direction of one ``like`` it, turned by an angle (rad)."""
    return turn_start(path, by + turn(path.tangent(0.0), like.tangent(0.0)))


def _raise_underarm(half: Half, by: float) -> Half:
    """The half with its underarm ``by`` mm higher and the armhole drawn from there."""
    new = _grow_seam(half.on_plus_x(half.below_armhole().path), by)
    grown = half.with_paths({half.below_armhole().name: new})
    return with_armhole(grown, _raised_frame(half, by), _redraw_raised(half, by))
