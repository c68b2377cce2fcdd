"""One half of the knit bodice as it is drawn: its side, armhole and neckline, and what is solved for them.

The underarm is lowered until the armhole goes round the arm's root, a shoulder made longer for a broad back, and the
side seam moved a little where the armhole's back is too long or too short beside its front.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from blocks import neck
from blocks.arm import BUST_BELOW_UNDERARM
from blocks.bodice_facts import BodiceFrame
from blocks.bodice_pieces import BodiceHalf
from blocks.side import SideSeam, draw_side
from drafting.body import Body
from drafting.cloth import EaseTable, Fit
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import (
    Brief,
    Face,
    Role,
    Solve,
    option,
)
from drafting.garment.armholes import deepest_knit, least_knit_armhole
from drafting.geometry import Point, root
from drafting.record import dataclass
from drafting.redraw.shapes import (
    ACROSS_BACK_HEIGHT,
    LEAST_SCYE,
    ROUND_UNDERARM,
    ROUNDS,
    STRAIGHTEST,
    UNDERARM_ABOVE_WAIST,
    ArmholeFrame,
    armhole_spare,
    deepest_fair,
    draw_armhole,
    draw_as_framed,
    draw_neckline,
    least_scoop,
    place_across,
    round_underarm,
    slopes_to_run_on,
)
from drafting.saying import cm, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table

ACROSS_GIVES = TradeValue(4.0, "mm", "from memory", "an across back is 0 to 2.5 cm wider than the body's")
"""By which half the across back may stay under its width before the shoulder is made longer instead: the most of its
ease, in a looser fit."""

SEAM_BEYOND, GIVES_FARTHER = trade_row((10.0, 6.0), "mm", "from memory", "a shoulder seam beyond the bone shows")
"""By which a shoulder is longer at most for that, and what half the across back gives before it is longer still: a knit
that serves stretches far more than that."""

BACK_COMES_IN = TradeValue(2.0, "mm", "from memory", "up to 1.5 cm behind, less where the back is broad")
"""By which a back's armhole comes in from the shoulder's end at least, however broad the back is."""

BROAD_CHEST = TradeValue(15.0, "mm", "derived", "by drawing: a front that leans in so far is hardly hollow")
"""By which half a front reaches beyond its shoulder's end where its back's armhole comes in by no more than is fair."""

LONGEST_FOR_HOLLOW = TradeValue(6.0, "mm", "from memory", "a shoulder seam beyond the bone shows")
"""By which a shoulder is longer at most for its back's armhole to come in so far: then the across back gives."""

DEEPEST_KNIT = TradeValue(1.45, "times", "derived", "by drawing the armholes of the 1988 survey")
"""Of the usual scoop at most, where a knit's armhole comes in to leave the arm its room: with more, narrow backs have
armholes of over 1.25 times the armscye girth."""

KNIT_ARMHOLE_SHARES = trade_table(
    {Fit.CLOSE: 0.98, Fit.SEMI: 1.03, Fit.RELAXED: 1.08}, "share", "from memory", "blocks allow 1.05 to 1.25"
)
"""Length of a knit's armhole seam, as a share of the armscye girth, for which its underarm is lowered, as far as an
underarm may lie below the armpit; farther only where the seam wouldn't go round the arm's root else. A close one
stretches round it, as its bust does: a longer one would make its sleeve roomy, or its cap high."""

MOST_LEAN = TradeValue(0.18, "times", "from memory", "10 degrees: with more the armhole hooks upwards at the side")
"""Of its depth by which the side seam leans in from the bust to the underarm at most."""

LEAN_OVER = trade_row((15.0, 55.0), "mm", "from memory")
"""From underarm to bust, over which the side leans not at all, and over which all of it."""

BARELY_LONGER = TradeValue(3.0, "mm", "from memory", "equal or longer")
"""By which it is longer at least where the side seam can go no farther."""

LEAST_BACK_LONGER, MOST_BACK_LONGER = trade_row((7.0, 13.0), "mm", "from memory", "0.5 to 1.5 cm is usual")
"""By which the back of a knit's armhole is drafted longer than its front, with 2 mm at either end for a change."""

LONGER_ENOUGH = TradeValue(5.0, "mm", "from memory", "0.5 to 1.5 cm is usual")
"""By which it is longer at least before the side seam moves ahead for it."""

FRONT_DROPS = {
    "round": TradeValue(25.0, "mm", "common practice", "8 to 10 cm deep in front, from the side neck point"),
    "v": TradeValue(90.0, "mm", "from memory", "9 to 12 cm"),
}
"""By which a front neckline of each shape lies below the neck base, where no one says."""

NECK_WIDENS = trade_table(
    {"women": 25.0, "men": 10.0}, "mm", "common practice", "a tee's neck 18 to 20 cm wide, a man's 16 to 18"
)
"""By which a neckline is opened along each shoulder, where no one says."""

NECK_OPENS = trade_row(
    (math.radians(25.0), math.radians(29.0)), "rad", "derived", "by drawing the necks of 1988: a closer one bends back"
)
"""Drafted slope of the steeper shoulder from which a man's neckline is opened more, and where as far as a woman's."""

SIDE_BACK, SIDE_AHEAD = (
    TradeValue(5.0, "mm", "from memory", "a front as broad as its back, or broader by 1 to 2 cm"),
    TradeValue(2.5, "mm", "from memory", "in a knit they are often alike"),
)
"""By which the side seam lies behind half-way at most, for the armhole's back and front, and ahead of it."""

FARTHEST_AHEAD = TradeValue(7.5, "mm", "from memory", "a front longer at the armhole than its back is worse, and told")
"""By which it lies ahead at most where the armhole's back were shorter than its front else: on steep shoulders, whose
seam can lie no farther ahead."""


@dataclass(frozen=True, slots=True)
class BodiceOptions:
    """Options of the knit bodice."""

    front_neck: str = option(
        "Shape of the front neckline.", "choice", "round", choices=("round", "v"), shapes=Role.NECKLINE
    )
    back_neck: str = option(
        "Shape of the back neckline.", "choice", "round", choices=("round", "v"), shapes=Role.NECKLINE
    )
    front_depth: float | None = option(
        say(
            "How far the front neckline lies below the neck base;"
            " by rule {v} for a V, {round} for a round one, or what the head needs to pass.",
            v=cm(9),
            round=cm(2.5),
        ),
        "length",
        None,
        low=0.0,
        high=250.0,
        shapes=Role.NECKLINE,
    )
    back_depth: float = option(
        "How far the back neckline lies below the neck base.", "length", 10.0, low=0.0, high=250.0, shapes=Role.NECKLINE
    )
    neck_widen: float | None = option(
        say(
            "How far along each shoulder the neckline is opened; by rule {women} by women's averages, {men} by men's, "
            "and more over steep shoulders.",
            women=cm(2.5),
            men=cm(1),
        ),
        "length", None, low=0.0, high=90.0,
    )  # fmt: skip
    below_hip: float = option(
        "How far the bodice's lower edge lies below the hip line (less than 0: above it).",
        "length",
        10.0,
        low=-250.0,
        high=900.0,
        shapes=Role.HEM,
    )
    flare: float = option(
        "How much wider each side is at the hem, per length below the hip.", "ratio", 0.0, low=0.0, high=0.5
    )
    underarm_drop: float | None = option(
        "How far the underarm lies below the armpit; by rule it follows the fit.",
        "length",
        None,
        low=0.0,
        high=120.0,
    )
    bust_dart: bool = option(
        "Whether darts in its sides take in what the front is longer over the bust.", "flag", False
    )

    @property
    def front_drop(self) -> float:
        """How far the front neckline lies below the neck base (mm), where it isn't said what is usual for its shape."""
        return FRONT_DROPS[self.front_neck] if self.front_depth is None else self.front_depth


def open_neck(body: Body) -> float:
    """Return how far (mm) a neckline is opened along each shoulder by rule."""
    least, most = NECK_WIDENS[body.rules], NECK_WIDENS["women"]
    steep = max(neck.draft_slopes(body).values())
    low, high = NECK_OPENS
    return least + (most - least) * min(max((steep - low) / (high - low), 0.0), 1.0)


def _draw_side(f: BodiceFrame, o: BodiceOptions, underarm: float, bust_level: float, move: float) -> SideSeam:
    """Draw the side seam, leaned in from the bust up where its width would make the armhole wide beyond reason."""

    def lean(by: float) -> SideSeam:
        waist, hip = (f.quarter_waist + move, f.waist), (f.quarter_hip + move, f.hip)
        return draw_side(underarm, (f.quarter_bust + move, bust_level), waist, hip, f.hem, o.flare, by)

    most = MOST_LEAN * min(max((underarm - bust_level - LEAN_OVER[0]) / (LEAN_OVER[1] - LEAN_OVER[0]), 0.0), 1.0)
    upright, leaned = lean(0.0), lean(most)
    over = (2.0 * (upright.x_top - move) - f.half_back - f.half_front - f.widest) / 2.0
    gain = upright.x_top - leaned.x_top
    return lean(most * min(over / gain, 1.0)) if over > 0.0 < gain else upright


def draw_half(f: BodiceFrame, face: Face, o: BodiceOptions, underarm: float, shoulder_length: float) -> BodiceHalf:
    """Draw the +x half of a face with its underarm at the height ``underarm`` (mm, y)."""
    move, slope = f.shift if face is Face.BACK else -f.shift, f.slopes[face]
    bust_level = min(f.bust, underarm - BUST_BELOW_UNDERARM)
    side = _draw_side(f, o, underarm, bust_level, move)
    back = face is Face.BACK
    ends, leave = (Point(side.x_top, underarm), f.along_shoulder(face, shoulder_length)), Point(-1.0, -side.lean).unit
    if back:
        arm = ArmholeFrame(*ends, f.half_back, ACROSS_BACK_HEIGHT, slope, leave)
    else:
        across = place_across(*ends, slope, min(f.half_front, side.x_top - LEAST_SCYE))
        arm = ArmholeFrame(*ends, across.x, 0.0, slope, leave, full=f.full, rounder=ROUND_UNDERARM).at_level(across.y)
    deepest = deepest_fair(arm, DEEPEST_KNIT)
    least = least_scoop(arm, _back_comes_in(f, shoulder_length), deepest) if back else STRAIGHTEST
    armhole = draw_armhole(round_underarm(arm, least), deepest, least) if back else draw_as_framed(arm, deepest)
    lines = f.necklines((o.front_neck, o.front_drop), (o.back_neck, o.back_depth))
    neckline = draw_neckline(lines[face], slopes_to_run_on(lines, f.slopes)[face])
    dropped = 0.0 if back else f.front_dropped
    return BodiceHalf(face, side, arm, armhole, neckline, lines[face], bust_level, dropped)


def _back_comes_in(f: BodiceFrame, shoulder_length: float) -> float:
    """How far (mm) a back's armhole comes in at least: not where the chest is so broad that its front's doesn't."""
    front = f.along_shoulder(Face.FRONT, shoulder_length).x - f.half_front
    return min(max(front + BROAD_CHEST, 0.0), BACK_COMES_IN)


def armhole_length(f: BodiceFrame, o: BodiceOptions, underarm: float, shoulder: float) -> float:
    """Return the length of one armhole, front and back, with the underarm at that height."""
    return sum(draw_half(f, face, o, underarm, shoulder).armhole.length for face in (Face.FRONT, Face.BACK))


def solve_underarm(
    f: BodiceFrame, o: BodiceOptions, brief: Brief, ease: EaseTable, shoulder: float
) -> tuple[float, Solve | None]:
    """Return the height of the underarm: the body's scye depth plus ease, lowered if the arm needs a longer armhole."""
    body = brief.body
    most = max(ease.scye_depth, deepest_knit(brief.fit))
    underarm, deepest = (-(body["scye_depth_length"] + below) for below in (ease.scye_depth, most))
    wanted = max(body["armscye_girth"] * KNIT_ARMHOLE_SHARES[brief.fit], least_knit_armhole(brief))
    if armhole_length(f, o, underarm, shoulder) >= wanted:
        return underarm, None
    least = min(max(least_knit_armhole(brief), armhole_length(f, o, deepest, shoulder)), wanted)
    lowest = f.waist + UNDERARM_ABOVE_WAIST
    try:
        underarm, calls = root(
            lambda y: armhole_length(f, o, y, shoulder) - least,
            lowest,
            underarm,
            within=TOLERANCE.same_point / 10.0,
        )
    except GeometryError:
        raise CannotDraft(
            "armscye_girth",
            say(
                "an armhole of {least} doesn't fit between shoulder and waist; the longest is {armhole_length}",
                least=mm(least),
                armhole_length=mm(armhole_length(f, o, lowest, shoulder)),
            ),
            help="measure the armscye girth and the back length again",
        ) from None
    return underarm, Solve("armhole", least, armhole_length(f, o, underarm, shoulder), calls)


def solve_shoulder(f: BodiceFrame, o: BodiceOptions, underarm: float, length: float) -> float:
    """Return the shoulder length: the body's, longer only where the across back lies too far out for a fair armhole.

    A little longer, too, where its armhole would hardly come in from the shoulder's end.
    """

    def find(comes_in: float, gives: float = ACROSS_GIVES) -> float:
        def spare(extra: float) -> float:
            arm = draw_half(f, Face.BACK, o, underarm, length + extra).frame
            straightest = least_scoop(arm, comes_in, deepest_fair(arm, DEEPEST_KNIT)) if comes_in else STRAIGHTEST
            return armhole_spare(arm, straightest) + gives

        if spare(0.0) >= 0.0:
            return 0.0
        return root(spare, 0.0, neck.MOST_LENGTHENED, within=TOLERANCE.same_point)[0]

    hollow = find(_back_comes_in(f, length)) if _back_comes_in(f, length) else 0.0
    longer = find(0.0)
    if longer > SEAM_BEYOND:
        longer = max(find(0.0, GIVES_FARTHER), float(SEAM_BEYOND))
    return length + max(longer, min(hollow, LONGEST_FOR_HOLLOW))


@dataclass(frozen=True, slots=True)
class ArmholeBalance:
    """How far forward the side seam lies, half the across front (mm), and how hollow the front is.

    ``short`` is what the back's armhole is still too short by (mm) beside the front's; less than 0: too long.
    """

    shift: float
    half_front: float
    full: float
    short: float = 0.0


def balance_halves(left: BodiceFrame, right: BodiceFrame) -> ArmholeBalance:
    """Return what halves share that were balanced apart."""
    return ArmholeBalance(*((one + two) / 2.0 for one, two in zip(_balance_of(left), _balance_of(right), strict=True)))


def _balance_of(f: BodiceFrame) -> tuple[float, float, float]:
    return f.shift, f.half_front, f.full


def balance_armhole(
    f: BodiceFrame, o: BodiceOptions, underarm: float, shoulder: float, *, seam_gives: bool
) -> ArmholeBalance:
    """Find where the side seam lies for the armhole's back to be longer than its front by what is usual.

    A back that is too long gives to the front as the seam moves back. One that is too short is told as it is where
    the shoulder's seam ``seam_gives``: that one moves ahead first. Else a front is drawn less hollow below, then the
    side seam a little ahead; where that isn't enough, it keeps what it gave for the arm's room, and has the most ease
    that a front has; none is drawn wider than that.
    """

    def longer(found: ArmholeBalance) -> float:
        moved = replace(f, shift=found.shift, half_front=found.half_front, full=found.full)
        front, back = (draw_half(moved, face, o, underarm, shoulder) for face in (Face.FRONT, Face.BACK))
        return back.armhole.length - front.armhole.length

    def moved(share: float) -> ArmholeBalance:
        """Less hollow, then forward, by a share of what may be; back by one below 0."""
        if share <= 0.0:
            return ArmholeBalance(_between(f.shift, back_to, -share), f.half_front, ROUNDS[1])
        full, ahead = min(2.0 * share, 1.0), max(2.0 * share - 1.0, 0.0)
        return ArmholeBalance(_between(f.shift, farthest, ahead), f.half_front, _between(ROUNDS[1], ROUNDS[0], full))

    def kept(share: float) -> ArmholeBalance:
        return replace(moved(1.0), half_front=_between(f.half_front, widest, share))

    farthest = max(SIDE_AHEAD, f.shift)
    back_to = min(max(f.half_back + LEAST_SCYE - f.quarter_bust, -SIDE_BACK), f.shift)
    widest = max(min(f.half_back, f.widest_front), f.half_front)
    if longer(moved(0.0)) > MOST_BACK_LONGER:
        found = moved(_find_between(lambda share: longer(moved(share)) - MOST_BACK_LONGER, -1.0, 0.0))
        return replace(found, short=min(MOST_BACK_LONGER - longer(found), 0.0))
    if seam_gives and longer(moved(0.0)) < LEAST_BACK_LONGER:
        return replace(moved(0.0), short=LEAST_BACK_LONGER - longer(moved(0.0)))
    if longer(moved(0.0)) >= LONGER_ENOUGH:
        return moved(0.0)
    if longer(moved(1.0)) > LONGER_ENOUGH:
        return moved(_find_between(lambda share: longer(moved(share)) - LONGER_ENOUGH, 0.0, 1.0))
    if longer(moved(1.0)) >= BARELY_LONGER:
        return moved(1.0)
    found = kept(_find_between(lambda share: longer(kept(share)) - BARELY_LONGER, 0.0, 1.0))
    if longer(found) < 0.0:
        end, no_shorter = max(FARTHEST_AHEAD, f.shift), TOLERANCE.sewn_length
        shift = _find_between(lambda x: longer(replace(found, shift=x)) - no_shorter, found.shift, end)
        found = replace(found, shift=shift)
    return replace(found, short=max(BARELY_LONGER - longer(found), 0.0))


def _between(start: float, end: float, share: float) -> float:
    return start + (end - start) * share


def _find_between(off: Callable[[float], float], start: float, end: float) -> float:
    """Find where from ``start`` to ``end`` nothing is off any more; where something stays off, the better end."""
    one, two = off(start), off(end)
    if one * two >= 0.0:
        return end if abs(two) < abs(one) else start
    return root(off, min(start, end), max(start, end), within=TOLERANCE.same_point)[0]
