"""Full bust and small bust: the front slashed through the bust point and spread there, or closed.

With a bust dart in the side seam (the classic slash, common practice in pattern alteration):

    slash                               what it does, ``by`` = w
    waist to bust point                 all below the bust line, outside the slash, moves out by w; the waist dart takes
                                        it in again, and the bust point moves to the slash's middle, out by w/2
    hip to waist                        closed from the waist to nothing at the hip, so that hip and hem keep their
                                        widths; the hem's end gives what the side's new course would cost its length
    bust point to the armhole           what lies between armhole, underarm and bust dart turns about the armhole at the
                                        across front, until the bust dart's legs are equal again
    across the bust                     all below moves down by what the turn lets in over the bust, d

On a woven's front that was drafted without a bust dart the slash makes one, from the side (``nil_darts``).

While the bust point B moves out by ds/2 it moves down by ds * (A.x - B.x) / (A.y - B.y), as the part about the pivot A
turns; from that (A.y - B.y)^2 + 2 (A.x - B.x)^2 stays, which gives d in closed form, and makes one spread after another
the two in one. On one side alone the length runs out to nothing at the centre front.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from drafting.cloth import Kind
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    PathFeature,
    Piece,
    Role,
    Side,
    Stage,
    change,
    option,
    side_option,
    sides_of,
)
from drafting.garment.darts import Dart, intake
from drafting.geometry import Path, Point, root, turn
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.dart_points import regrade_set_back
from drafting.redraw.fit_bust_hip import Spread, closing, keep_side
from drafting.redraw.fit_bust_knit import spread_knit
from drafting.redraw.fit_half import (
    arm_frame,
    dart_on,
    darts_in,
    keep_waist,
    leg_paths,
    move_joints,
    opens_in,
    refuse_unless_body,
    true_half_mouth,
)
from drafting.redraw.fit_inner import follow_waist, move_inner, move_level, move_slits
from drafting.redraw.fullness import ease_waists
from drafting.redraw.halves import Half, find_half, with_armhole
from drafting.redraw.heights import keep_aims
from drafting.redraw.nil_darts import can_take_dart, with_marked_bust, with_nil_dart
from drafting.redraw.split_darts import work_on_whole_darts
from drafting.redraw.swing import point_for
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_FITTED_DART = TradeValue(5.0, "mm", "common practice")
"""That a bust or waist dart still takes in once the bust is made smaller: less isn't sewn."""

FARTHEST_TURN = TradeValue(0.6, "rad", "from memory")
"""By which the upper side is turned about the armhole at most: a bust that much fuller wants its darts shared out."""


@dataclass(frozen=True, slots=True)
class FullBustOptions:
    """Options of the full bust."""

    by: float = option(
        "How much wider the front becomes at the bust, on each side.", "length", 10.0, low=0.0, high=50.0
    )
    side: str = side_option("Which side of the front.")


MOST_EASED = TradeValue(20.0, "mm", "derived", "1 to 1.2 cm of length are eased in for it along the side")
"""By which a knit's front without darts becomes wider at the bust and is eased; for more it has a dart."""


@dataclass(frozen=True, slots=True)
class SmallBustOptions:
    """Options of the small bust."""

    by: float = option(
        "How much narrower the front becomes at the bust, on each side.", "length", 6.0, low=0.0, high=40.0
    )
    side: str = side_option("Which side of the front.")


@change(
    "full-bust",
    "More room for a fuller bust: the front slashed through the bust point and spread. Half of a dart that would be "
    "too deep then opens in the shoulder. A knit's front without darts is eased at its sides where it becomes up to "
    "2 cm wider; for more it has darts there.",
    Stage.FIT,
    needs=("bust_point_width",),
    mends=(
        Mend("toile-bust-fuller", "slit upright through the bust point: by = the gap on each side"),
        *mend_wavering(Role.SIDE),
    ),
    moves=("bust", "waist", "hip"),
)
def fit_full_bust(garment: Garment, brief: Brief, o: FullBustOptions) -> Garment:
    """Give the bust more room."""
    return work_on_whole_darts(garment, lambda g: _spread_front(g, brief, o.by, o.side), o.side) if o.by else garment


@change(
    "small-bust",
    "Less room for a smaller bust: the front slashed through the bust point and closed.",
    Stage.FIT,
    needs=("bust_point_width",),
    mends=(Mend("toile-bust-smaller", "pinch upright through the bust point: by = twice the depth, on each side"),),
    moves=("bust", "waist", "hip"),
)
def fit_small_bust(garment: Garment, brief: Brief, o: SmallBustOptions) -> Garment:
    """Take room away that a smaller bust doesn't fill."""
    return work_on_whole_darts(garment, lambda g: _spread_front(g, brief, -o.by, o.side), o.side) if o.by else garment


def _spread_front(garment: Garment, brief: Brief, by: float, which: str) -> Garment:
    refuse_unless_body(garment)
    halves = [find_half(garment, side, Face.FRONT) for side in sides_of(which)]
    plain = not any(darts_in(half) for half in halves) and brief.cloth.kind is Kind.KNIT
    if plain and by <= MOST_EASED:
        return spread_knit(garment, brief, by, halves)
    if plain:
        garment = with_marked_bust(garment, brief.body)
        halves = [find_half(garment, half.side, Face.FRONT) for half in halves]
    for half in halves:
        if by > 0.0 and not _edge_darts(half) and can_take_dart(half):
            garment = with_nil_dart(garment, replace(half, piece=garment.piece(half.piece.name)))
    halves = [find_half(garment, half.side, Face.FRONT) for half in halves]
    plans = plan_halves(halves, by)
    centre = math.fsum(plan.at_centre for plan in plans.values()) / len(plans)  # halves that differ share it
    plans = {side: replace(plan, at_centre=centre) for side, plan in plans.items()}
    piece = halves[0].piece
    for half in halves:
        piece = _draw_front(replace(half, piece=piece), plans[half.side])
    piece = _move_inside(piece, halves, plans)
    facts = [fact for half in halves for fact in _facts(half, plans[half.side])]
    made = ease_waists(garment, garment.with_(pieces=(piece,)))
    return keep_aims(garment, made).with_(facts=facts)


def plan_halves(halves: Sequence[Half], by: float) -> dict[Side, Spread]:
    """Work out the spread of each half; where one can't be spread so far, CannotDraft says how far all can."""
    try:
        return {half.side: plan_spread(half, by, runs_out=len(halves) == 1) for half in halves}
    except CannotDraft as error:
        if "by" not in error.because:
            raise
        most = _find_most(halves, by)
        if most == 0.0:
            raise
        help = say("make it {most} at most", most=mm(most))
        raise CannotDraft("by", error.reason, short_by=abs(by) - most, help=help) from None


def _find_most(halves: Sequence[Half], by: float) -> float:
    """By how much (mm, whole, and a little less than could be drawn) halves can be spread that can't be by so much."""
    low, high = 0.0, abs(by)
    while high - low > TOLERANCE.joint:
        middle = (low + high) / 2.0
        try:
            for half in halves:
                plan_spread(half, math.copysign(middle, by), runs_out=len(halves) == 1)
            low = middle
        except CannotDraft:
            high = middle
    return max(math.floor(low) - 1.0, 0.0)


def _edge_darts(half: Half) -> list[Dart]:
    """The darts of a half that open in an edge other than the waist's: one of them is the bust dart."""
    return [dart for dart in darts_in(half) if not dart.inside and opens_in(half.piece, dart) is not Role.WAIST]


def plan_spread(half: Half, by: float, runs_out: bool) -> Spread:
    """Work out the slash and spread of a half; CannotDraft where it has no bust dart in its side, or none is left."""
    if by < 0.0 and not _edge_darts(half):
        raise CannotDraft(
            "by",
            say("the {side} front is drafted flat, without a bust dart: nothing is left to take out", side=half.side),
            help="leave this change out, and take the side seams in on the toile if the front is wide",
        )
    dart = _bust_dart(half)
    pivot, old = half.half_across, dart.apex
    u, v = pivot.x - old.x, pivot.y - old.y
    square = v * v + 2.0 * (u * u - (u - by / 2.0) ** 2)
    if v <= 0.0 or u - by / 2.0 <= 0.0 or square <= 0.0:
        raise CannotDraft("by", "the bust point would lie outside the across front", help="change it by less")
    long = math.sqrt(square) - v
    new, lower = old + Point(by / 2.0, -long), dart.mouth_a + Point(by, -long)
    reach = lower.distance(new)

    def over(angle: float) -> float:
        return (pivot + (dart.mouth_b - pivot).turned(angle)).distance(new) - reach

    try:
        angle = root(over, -FARTHEST_TURN, FARTHEST_TURN, within=TOLERANCE.same_point * TOLERANCE.same_point)[0]
    except GeometryError:
        raise CannotDraft(
            "by",
            say("the {side} front can't be slashed and spread by {by} at the bust", side=half.side, by=mm(abs(by))),
            help="change it by less",
        ) from None
    upper = pivot + (dart.mouth_b - pivot).turned(angle)
    _refuse_used_up(half, "bust", upper.distance(lower) * math.copysign(1.0, turn(lower - new, upper - new)))
    waist = _waist_dart(half)
    if waist is not None:
        _refuse_used_up(half, "waist", intake(waist) + by)
    slash = old.x if waist is None else waist.middle.x
    plan = Spread(
        dart, by, long, 0.0 if runs_out else long, angle, pivot, new, lower, upper, slash, closing(half, waist)
    )  # fmt: skip
    return keep_side(half, plan)


def _refuse_used_up(half: Half, which: str, left: float) -> None:
    if left < LEAST_FITTED_DART:
        raise CannotDraft(
            "by",
            say(
                "the {side} front's {which} dart would take in less than {least_dart}",
                side=half.side,
                which=which,
                least_dart=mm(LEAST_FITTED_DART),
            ),
            help="leave this change out, and take the side seams in on the toile if the front is wide",
        )


def _bust_dart(half: Half) -> Dart:
    dart = dart_on(half, Role.SIDE)
    marks = [drill.at for drill in half.piece.drills]
    place = None if dart is None else Point(-dart.apex.x if half.flipped else dart.apex.x, dart.apex.y)
    if dart is None or place is None or not any(mark.near(place, TOLERANCE.joint) for mark in marks):
        raise CannotDraft(
            f"side-{half.side}",
            say("the {side} front has no one dart from its side seam to a bust point", side=half.side),
            help="make this change before bust darts are moved or split, on a block with a bust dart",
        )
    return dart


def _waist_dart(half: Half) -> Dart | None:
    found = [dart for dart in darts_in(half) if dart.inside or dart_on(half, Role.WAIST) == dart]
    others = [dart for dart in darts_in(half) if not dart.inside and dart not in found]
    if len(found) > 1 or len(others) > 1:  # the bust dart is the one other
        raise CannotDraft(
            f"waist-{half.side}", say("the {side} front has more darts than one at bust and waist", side=half.side),
            help="make this change before darts are moved or split",
        )  # fmt: skip
    return found[0] if found else None


def _draw_front(half: Half, plan: Spread) -> Piece:
    """The front with one half spread."""
    dart = plan.dart
    upper = half.below_armhole()
    if not half.on_plus_x(upper.path).start.near(dart.mouth_b, TOLERANCE.joint):
        raise CannotDraft(upper.name, say("the {side} side seam is broken up above the bust dart", side=half.side))
    paths = {upper.name: half.on_plus_x(upper.path).turned(plan.turn, plan.pivot)}
    for line in half.piece.lines(side=half.side, face=Face.FRONT):
        if line.role in (Role.WAIST, Role.HEM) or (line.role is Role.SIDE and line is not upper):
            paths[line.name] = move_joints(half.on_plus_x(line.path), plan.shift)
    back = regrade_set_back(dart.set_back, intake(dart), plan.lower.distance(plan.upper))
    point = point_for(plan.bust_point, plan.lower, plan.upper, back)
    paths |= leg_paths(dart, plan.lower, point, plan.upper)
    waist = _waist_dart(half)
    if waist is not None and not waist.inside:
        paths |= _waist_legs(half, waist, plan)
    armhole = half.line(Role.ARMHOLE)
    paths[armhole.name] = half.on_plus_x(armhole.path).turned(plan.turn, plan.pivot)
    moved = half.with_paths(paths)
    return with_armhole(moved, arm_frame(moved)).piece


def _waist_legs(half: Half, dart: Dart, plan: Spread) -> dict[str, Path]:
    first, last = (p + plan.shift(p) for p in (dart.mouth_a, dart.mouth_b))
    if dart.apex.near(plan.dart.apex, TOLERANCE.joint):
        back = regrade_set_back(dart.set_back, intake(dart), first.distance(last))
        point = point_for(plan.bust_point, first, last, back)
    else:
        point = dart.point + Point(plan.wide / 2.0, -plan.long)
    return leg_paths(dart, first, point, last)


def _move_inside(piece: Piece, halves: Sequence[Half], plans: Mapping[Side, Spread]) -> Piece:
    """The front with what lies within it moved along, and the mouths of its darts trued."""
    shifts = {half.flipped: plans[half.side].shift for half in halves}
    below = max(_slash_height(plans[half.side].dart) for half in halves)
    piece = move_inner(
        piece,
        shifts,
        below,
        lambda v: v.name != "bust" and any(_ends_below(half, v, plans[half.side].dart) for half in halves),
    )
    piece = move_level(piece, "bust", {half.flipped: plans[half.side].shift_bust for half in halves})
    for half in halves:
        plan = plans[half.side]
        piece = move_slits(piece, half.side, plan.shift, half.flipped)
        piece = true_half_mouth(piece, plan.dart.name, half.piece)
        piece = keep_waist(piece, half.side, half.piece)
    return follow_waist(piece)


def _slash_height(dart: Dart) -> float:
    return max(dart.mouth_a.y, dart.apex.y) + TOLERANCE.joint


def _ends_below(half: Half, level: PathFeature, dart: Dart) -> bool:
    """Whether a level reaches this half's side at the bust dart's lower leg or below it.

    Nearer to the centre it may lie higher or lower than the bust point, as once a half was spread by itself.
    """
    end = half.outer_end(level)
    return end.x > TOLERANCE.joint and end.y <= _slash_height(dart)


def _facts(half: Half, plan: Spread) -> tuple[Fact, ...]:
    side = half.side
    return (
        Fact(
            f"bust_spread_{side}",
            plan.wide,
            "mm",
            "choice",
            say("the {side} front wider at the bust (less than 0: narrower)", side=side),
        ),
        Fact(f"bust_spread_length_{side}", plan.long, "mm", "solve", "longer over the bust, as the upper side turns"),
        Fact(f"bust_dart_{side}", plan.lower.distance(plan.upper), "mm", "solve", "what the bust dart takes in now"),
    )
