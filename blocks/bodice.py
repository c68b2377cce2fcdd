"""The knit bodice: front and back, whole, drafted from the body without darts.

Frame: the back neck point is (0, 0), y up; heights are the same on front and back (a front drawn
out over the bust, ``blocks/bodice_ease``, lies lower below it). On both faces the half
on +x is drawn first; on the front that is the wearer's left, on the back the wearer's right.

    level        height below the back neck point                    source
    underarm     scye depth length + ease, lowered if the arm needs  1 to 4 cm below the armpit (from memory)
    bust         side neck point to bust point, down the front;      as measured
    waist        back neck point to waist                            ISO 8559-1, 5.4.5
    hip          waist + waist to hip                                ISO 8559-1 landmarks
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from blocks import neck
from blocks.arm import (
    BUST_BELOW_UNDERARM,
    MOST_FOR_ARM,
    draw_with_room,
    knit_across,
    widest_armhole,
    width_at,
)
from blocks.bodice_ease import bodice_ease, ease_front, lower_front
from blocks.bodice_facts import BodiceFrame, BodiceSide, aims_of, facts_of, neck_base_of
from blocks.bodice_pieces import BodiceHalf, body_seams, shoulder_zones, whole_piece
from blocks.neck import knit_slope
from blocks.side import SideSeam, draw_side
from drafting.cloth import KNIT_NEEDS, EaseTable, Fit
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Brief, Face, Garment, Role, Side, Solve, Stage, block, option
from drafting.garment.carry import with_features
from drafting.garment.over_bust import bust_by_length
from drafting.geometry import Point, root
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.shapes import (
    ACROSS_BACK_HEIGHT,
    ACROSS_FRONT_HEIGHT,
    LEAST_SCYE,
    LOWEST_NECKLINE,
    SHORTEST_SHOULDER,
    STRAIGHTEST,
    UNDERARM_ABOVE_WAIST,
    ArmholeFrame,
    armhole_spare,
    deepest_fair,
    draw_armhole,
    draw_neckline,
    slopes_to_run_on,
)
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.work.kinds import SHOULDER, SIDE

GREATEST_SHIFT = TradeValue(10.0, "mm", "from memory")
"""By which the side seam may move forward for a broad back, before the bust gets more ease."""

ACROSS_GIVES = TradeValue(6.0, "mm", "from memory")
"""By which half the across back may stay under its width before the shoulder is made longer instead: a knit that serves
stretches far more than that, and a shoulder seam beyond the bone shows."""

BUST_ABOVE_WAIST = TradeValue(30.0, "mm", "from memory", "as two heights that were measured must lie apart")
"""Above the waist at least, that the bust line lies: nearer, the side seam has no way from one to the other."""

DEEPEST_KNIT = TradeValue(1.45, "times", "derived", "by drawing the armholes of the 1988 survey")
"""Of the usual scoop at most, where a knit's armhole comes in to leave the arm its room: with more, narrow backs have
armholes of over 1.25 times the armscye girth."""

KNIT_ARMHOLE_SHARES = trade_table(
    {Fit.CLOSE: 1.01, Fit.SEMI: 1.03, Fit.RELAXED: 1.08}, "share", "from memory", "blocks allow 1.05 to 1.25"
)
"""Least length of a knit's armhole seam, as a share of the armscye girth: it goes round the arm's root unstretched."""

MOST_LEAN = TradeValue(0.18, "times", "from memory", "10 degrees: with more the armhole hooks upwards at the side")
"""Of its depth by which the side seam leans in from the bust to the underarm at most."""

LEAN_OVER = trade_row((15.0, 55.0), "mm", "from memory")
"""From underarm to bust, over which the side leans not at all, and over which all of it."""

BACK_LONGER, FARTHER_FORWARD = trade_row((3.0, 20.0), "mm", "from memory", "equal or longer")
"""By which the back of a knit's armhole is longer than its front at least, for a change may take some of it; and by
which the side seam moves forward for that at most: for a front measured narrow, 1 to 2 cm."""


@dataclass(frozen=True, slots=True)
class BodiceOptions:
    """Options of the knit bodice."""

    front_neck: str = option(
        "Shape of the front neckline.", "choice", "round", choices=("round", "v"), shapes=Role.NECKLINE
    )
    back_neck: str = option(
        "Shape of the back neckline.", "choice", "round", choices=("round", "v"), shapes=Role.NECKLINE
    )
    front_depth: float = option(
        "How far the front neckline lies below the neck base.",
        "length",
        38.0,
        low=0.0,
        high=250.0,
        shapes=Role.NECKLINE,
    )
    back_depth: float = option(
        "How far the back neckline lies below the neck base.", "length", 10.0, low=0.0, high=250.0, shapes=Role.NECKLINE
    )
    neck_widen: float = option(
        "How far along each shoulder the neckline is opened.", "length", 25.0, low=0.0, high=90.0
    )
    below_hip: float = option(
        "How far the body's lower edge lies below the hip line (less than 0: above it).",
        "length",
        10.0,
        low=-250.0,
        high=900.0,
        shapes=Role.HEM,
    )
    flare: float = option(
        "How much wider each side is at the hem, per length below the hip.", "ratio", 0.0, low=0.0, high=0.5
    )
    scye_ease: float | None = option(
        "How far the underarm lies below the armpit; by rule it follows the fit.",
        "length",
        None,
        low=0.0,
        high=120.0,
    )
    bust_dart: bool = option(
        "Whether darts in its sides take in what the front is longer over the bust.", "flag", False
    )


def drafted_slope(brief: Brief, side: Side) -> float:
    """Return the mean slope of a drafted shoulder (rad), front and back; a side measured apart has its own."""
    return neck.draft_slopes(brief.body)[side]


def frame(
    brief: Brief, o: BodiceOptions, ease: EaseTable, side: Side, base: neck.SolvedNeck, more: float = 0.0
) -> BodiceFrame:
    """Place the heights and widths of one half from the body and the ease, the bust with ``more`` for the arm (mm).

    A front whose armhole hardly holds the arm isn't drafted lower besides.
    """
    body = brief.body
    waist = -body["back_neck_point_to_waist"]
    hip = waist - body["waist_to_hip"]
    half = (body["bust_girth"] + ease.bust) / 2.0
    room = knit_across(brief, half, ease.across_back)
    quarter = (half + more / 2.0) / 2.0
    want = room.back + LEAST_SCYE - quarter
    raised = max(0.0, want - GREATEST_SHIFT)
    lower = lower_front(body, Point(base.half_width, base.rise)) * max(1.0 - more / MOST_FOR_ARM, 0.0)
    bust = (bust_by_length(body, neck := Point(base.half_width, base.rise - lower)) or neck).y
    if bust < waist + BUST_ABOVE_WAIST:
        raise CannotDraft(
            ("side_neck_point_to_bust_point", "back_neck_point_to_waist"),
            "the bust points lie below the waist, or hardly above it",
            short_by=waist + BUST_ABOVE_WAIST - bust,
            help="measure from the side neck point to the bust point and the back length again",
        )
    shift = min(max(want, 0.0), GREATEST_SHIFT)
    return BodiceFrame(
        base=base,
        slope=drafted_slope(brief, side),
        bust=bust,
        waist=waist,
        hip=hip,
        hem=hip - o.below_hip,
        quarter_bust=quarter + raised,
        quarter_waist=(body["waist_girth"] + ease.waist) / 4.0,
        quarter_hip=(body["hip_girth"] + ease.hip) / 4.0,
        shift=shift,
        half_back=room.back,
        half_front=room.front,
        widest=widest_armhole(brief) if room.given <= 0.0 else math.inf,  # what gives for the arm isn't too wide for it
        across_given=room.given,
        front_lower=lower,
    )


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
    move, slope = f.shift if face is Face.BACK else -f.shift, knit_slope(f.slope, face)
    bust_level = min(f.bust, underarm - BUST_BELOW_UNDERARM)
    side = _draw_side(f, o, underarm, bust_level, move)
    back = face is Face.BACK
    arm = ArmholeFrame(
        Point(side.x_top, underarm),
        f.along_shoulder(face, shoulder_length),
        f.half_back if back else min(f.half_front, side.x_top - LEAST_SCYE),
        ACROSS_BACK_HEIGHT if back else ACROSS_FRONT_HEIGHT,
        slope,
        Point(-1.0, -side.lean).unit,
    )
    armhole = draw_armhole(arm, deepest_fair(arm, DEEPEST_KNIT))
    lines = f.necklines((o.front_neck, o.front_depth), (o.back_neck, o.back_depth), o.neck_widen)
    neckline = draw_neckline(lines[face], slopes_to_run_on(lines, f.slopes)[face])
    return BodiceHalf(face, side, arm, armhole, neckline, lines[face], bust_level)


def armhole_length(f: BodiceFrame, o: BodiceOptions, underarm: float, shoulder: float) -> float:
    """Return the length of one armhole, front and back, with the underarm at that height."""
    return sum(draw_half(f, face, o, underarm, shoulder).armhole.length for face in (Face.FRONT, Face.BACK))


def solve_underarm(
    f: BodiceFrame, o: BodiceOptions, brief: Brief, ease: EaseTable, shoulder: float
) -> tuple[float, Solve | None]:
    """Return the height of the underarm: the body's scye depth plus ease, lowered if the arm needs a longer armhole."""
    body = brief.body
    depth = ease.scye_depth if o.scye_ease is None else o.scye_ease
    underarm = -(body["scye_depth_length"] + depth)
    least = body["armscye_girth"] * KNIT_ARMHOLE_SHARES[brief.fit]
    reached = armhole_length(f, o, underarm, shoulder)
    if reached >= least:
        return underarm, None
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
    """Return the shoulder length: the body's, longer only where the across back lies too far out for a fair armhole."""

    def spare(extra: float) -> float:
        arm = draw_half(f, Face.BACK, o, underarm, length + extra).frame
        return armhole_spare(arm, STRAIGHTEST) + ACROSS_GIVES

    if spare(0.0) >= 0.0:
        return length
    extra, _ = root(spare, 0.0, neck.MOST_LENGTHENED, within=TOLERANCE.same_point)
    return length + extra


def balance_armhole(f: BodiceFrame, o: BodiceOptions, underarm: float, shoulder: float) -> BodiceFrame:
    """Move the side seam forward until the armhole's back is longer than its front: what one gains, the other loses.

    Where that isn't enough, a front that was measured narrow is drawn wider: its armhole is less hollow.
    """

    def longer(moved: BodiceFrame) -> float:
        front, back = (draw_half(moved, face, o, underarm, shoulder) for face in (Face.FRONT, Face.BACK))
        return back.armhole.length - front.armhole.length

    def forward(by: float) -> BodiceFrame:
        return replace(f, shift=f.shift + by)

    def wider(by: float) -> BodiceFrame:
        return replace(forward(FARTHER_FORWARD), half_front=f.half_front + by)

    if longer(f) >= BACK_LONGER:
        return f
    if longer(forward(FARTHER_FORWARD)) > BACK_LONGER:
        return forward(_find(lambda by: longer(forward(by)) - BACK_LONGER, FARTHER_FORWARD))
    most = f.half_back - f.half_front
    if most <= 0.0 or longer(wider(most)) <= BACK_LONGER:
        return wider(max(most, 0.0))
    return wider(_find(lambda by: longer(wider(by)) - BACK_LONGER, most))


def _find(lacks: Callable[[float], float], most: float) -> float:
    """Find by how much (mm), up to ``most``, nothing lacks any more."""
    return root(lacks, 0.0, most, within=TOLERANCE.same_point)[0]


def draw_bodice_side(
    brief: Brief, o: BodiceOptions, ease: EaseTable, side: Side, base: neck.SolvedNeck, more: float = 0.0
) -> BodiceSide:
    """Draw one half of the body, front and back, its underarm lowered until the armhole is as long as the arm needs.

    The bust gets ``more`` ease (mm) than by the table, for the thickness of the arm.
    """
    body = brief.body
    f = frame(brief, o, ease, side, base, more)
    shoulder = solve_shoulder(f, o, -(body["scye_depth_length"] + ease.scye_depth), body["shoulder_length"])
    if o.neck_widen > shoulder - SHORTEST_SHOULDER:
        raise CannotDraft(
            "shoulder_length",
            say(
                "a neckline opened by {neck_widen} leaves too little of a {shoulder} shoulder",
                neck_widen=mm(o.neck_widen),
                shoulder=mm(shoulder),
            ),
            short_by=o.neck_widen - shoulder + SHORTEST_SHOULDER,
            help="open the neckline less",
        )
    underarm, solve = solve_underarm(f, o, brief, ease, shoulder)
    if solve is not None:  # a lowered underarm moves the level at which the across back is taken
        shoulder = max(shoulder, solve_shoulder(f, o, underarm, body["shoulder_length"]))
        underarm, solve = solve_underarm(f, o, brief, ease, shoulder)
    f = balance_armhole(f, o, underarm, shoulder)
    underarm, solve = solve_underarm(f, o, brief, ease, shoulder)
    front, back = (draw_half(f, face, o, underarm, shoulder) for face in (Face.FRONT, Face.BACK))
    if front.neckline.end.y < underarm - LOWEST_NECKLINE or back.neckline.end.y < underarm - LOWEST_NECKLINE:
        raise CannotDraft(
            ("front_depth", "back_depth"),
            "a neckline reaches far below the underarm",
            help="raise the neckline",
        )
    return BodiceSide(f, front, back, underarm, shoulder, solve)


@block(
    "knit-bodice",
    "Front and back of a knit top, whole, without darts, from the body's own measurements.",
    Stage.BODY,
    needs=(
        "bust_girth",
        "waist_girth",
        "hip_girth",
        "neck_base_girth",
        "shoulder_length",
        "shoulder_slope",
        "across_back_width",
        "armscye_girth",
        "scye_depth_length",
        "back_neck_point_to_waist",
        "waist_to_hip",
        "bust_point_width",
        "side_neck_point_to_bust_point",
        "side_neck_point_to_waist_over_bust",
    ),
    kinds=(SHOULDER, SIDE),
    mends=(Mend("front-short", "let darts in its sides take it in: bust_dart = true under the block “{change}”"),),
    makes="bodice",
)
def draft_knit_bodice(garment: Garment, brief: Brief, o: BodiceOptions) -> Garment:
    """Draft front and back, with shoulder and side seams; shoulders measured apart give halves of their own."""
    ease = bodice_ease(garment, brief)
    slopes = {side: drafted_slope(brief, side) for side in (Side.LEFT, Side.RIGHT)}
    base = neck.solve_base(brief.body["neck_base_girth"], ease.neck, tuple(dict.fromkeys(slopes.values())))

    def draw(more: float) -> Mapping[Side, BodiceSide]:
        left = draw_bodice_side(brief, o, ease, Side.LEFT, base, more)
        if slopes[Side.LEFT] == slopes[Side.RIGHT]:
            return {Side.LEFT: left, Side.RIGHT: left}
        return {Side.LEFT: left, Side.RIGHT: draw_bodice_side(brief, o, ease, Side.RIGHT, base, more)}

    halves = draw_with_room(brief, draw, lambda half: width_at(half.front.armhole.path, half.back.armhole.path))
    left, right = halves.values()
    f = left.frame
    front = whole_piece(left.front, right.front, f.waist, f.hip)
    back = whole_piece(left.back, right.back, f.waist, f.hip)
    solves = [base.solve, *([left.solve] if left.solve else [])]
    if right is not left:
        found = ((side, half.solve) for side, half in halves.items())
        solves = [
            base.solve,
            *(replace(solve, name=f"{solve.name}, {side}") for side, solve in found if solve),
        ]
    garment = garment.with_(
        pieces=(with_features(front, shoulder_zones()), back),
        seams=body_seams(),
        facts=facts_of(brief, ease, halves),
        solves=solves,
        aims=aims_of(brief, ease, halves, o.neck_widen),
        openings=(*garment.openings, "neck", "armhole-left", "armhole-right", "hem"),
    )
    garment = replace(garment, needs=garment.needs.joined(KNIT_NEEDS), neck_base=neck_base_of(halves))
    return ease_front(garment, brief, f.side_neck(Face.FRONT), o.bust_dart)
