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
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from blocks import neck
from blocks.arm import (
    draw_with_room,
    knit_across,
    widest_armhole,
    width_at,
)
from blocks.armhole_room import UNDERARM_ASKED, allow_for_bands
from blocks.bodice_ease import bodice_ease, drop_front, ease_front, lower_front
from blocks.bodice_facts import BodiceFrame, BodiceSide, aims_of, facts_of, neck_base_of
from blocks.bodice_half import (
    ArmholeBalance,
    BodiceOptions,
    balance_armhole,
    balance_halves,
    draw_half,
    open_neck,
    solve_shoulder,
    solve_underarm,
)
from blocks.bodice_pieces import body_seams, shoulder_zones, whole_piece
from blocks.shoulder_end import extend_shoulder, follow_back
from drafting.body import Body
from drafting.cloth import KNIT_NEEDS, EaseTable, Fit, band_length
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Girth,
    Piece,
    Side,
    Stage,
    block,
    shift_aim,
)
from drafting.garment.carry import with_features
from drafting.garment.over_bust import bust_by_length
from drafting.geometry import Point, root
from drafting.mending import Mend
from drafting.redraw.shapes import (
    LEAST_SCYE,
    LOWEST_NECKLINE,
    SHORTEST_SHOULDER,
    draw_neckline,
    slopes_to_run_on,
)
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.work.kinds import SHOULDER, SIDE

GREATEST_SHIFT = TradeValue(2.5, "mm", "from memory", "as far ahead as a side seam lies at most")
"""By which the side seam may move forward for a broad back, before the bust gets more ease."""

LOWERED_FOR_HEAD = TradeValue(60.0, "mm", "from memory")
"""Below the neck base at most, that a round neckline is drawn by rule for the head to pass."""

BAND_WIDE, HEAD_SPARE = trade_row((20.0, 12.0), "mm", "common practice", "2 % of the head to spare")
"""Of the band that is to pass the head, and what it has to spare."""

LEAST_DRAWN_IN = TradeValue(116.0, "mm", "from memory", "a short shoulder is needed for neckline and armhole")
"""Length of shoulder down to which a top that is drawn in has its shoulders shorter too, by its share: they stretch."""

ENDS_BEYOND = trade_table(
    {Fit.CLOSE: 25.0, Fit.SEMI: 25.0, Fit.RELAXED: 25.0}, "mm", "from memory", "1 to 2.5 cm, from 3.5 a tongue rides up"
)
"""A shoulder ends at most so far outside half the across front, and the across back, in every fit."""

ENDS_FARTHER, FARTHEST_IN = trade_row((8.0, 24.0), "mm", "from memory", "0 to 2 cm inside the bone")
"""How much farther out it ends where it would else lie so far inside the ``shoulder``'s own end."""

MOST_FRONT_EASE = TradeValue(15.0, "mm", "from memory", "0 to 2.5 cm across the back, less across the front")
"""By which the across front is wider than the body's at most, for its armhole's sake."""

ENDS_GIVE = TradeValue(0.55, "times", "derived", "by drawing: half were both curves straight, for each end moves")
"""Of what an armhole's back is too short by, that its shoulder seam's end moves ahead for it."""

BUST_ABOVE_WAIST = TradeValue(30.0, "mm", "from memory", "as two heights that were measured must lie apart")
"""Above the waist at least, that the bust line lies: nearer, the side seam has no way from one to the other."""


def drafted_slope(brief: Brief, side: Side) -> float:
    """Return the mean slope of a drafted shoulder (rad), front and back; a side measured apart has its own."""
    return neck.draft_slopes(brief.body)[side]


def frame(
    brief: Brief, o: BodiceOptions, ease: EaseTable, side: Side, base: neck.SolvedNeck, more: float = 0.0
) -> BodiceFrame:
    """Place the heights and widths of one half from the body and the ease, the bust with ``more`` for the arm (mm)."""
    body = brief.body
    waist = -body["back_neck_point_to_waist"]
    hip = waist - body["waist_to_hip"]
    half = (body["bust_girth"] + ease.bust) / 2.0
    room = knit_across(brief, half, ease.across_back)
    quarter = (half + more / 2.0) / 2.0
    want = room.back + LEAST_SCYE - quarter
    raised = max(0.0, want - GREATEST_SHIFT)
    lower = lower_front(body, Point(base.half_width, base.rise))
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
        widest_front=max(room.front + room.given, (body["across_front_width"] + MOST_FRONT_EASE) / 2.0),
        front_lower=lower,
        neck_opened=open_neck(body) if o.neck_widen is None else o.neck_widen,
        front_dropped=drop_front(body, neck) if hip - o.below_hip <= waist and not o.bust_dart else 0.0,
    )


def solve_knit_neck(body: Body, ease: EaseTable, slopes: Collection[float], farther: float = 0.0) -> neck.SolvedNeck:
    """Find the neck for both shoulders' slopes (rad), their seams less far ahead where the front is drafted lower.

    They lie ``farther`` (rad) ahead than by that, as far as a seam may.
    """
    base = neck.solve_base(body["neck_base_girth"], ease.neck, slopes)
    ahead = neck.seam_ahead(body, lower_front(body, Point(base.half_width, base.rise)))
    if farther < 0.0:
        ahead = min(ahead, max(neck.STEEPEST_FRONT - max(slopes), 0.0))
    ahead = min(max(ahead + farther, 0.0), neck.MOST_SEAM_AHEAD)
    return base if ahead == base.ahead else neck.solve_base(body["neck_base_girth"], ease.neck, slopes, ahead)


def let_head_pass(brief: Brief, o: BodiceOptions, frames: Collection[BodiceFrame]) -> float:
    """Return how far the front neckline lies below the neck base (mm): lower where the head asks for it.

    A band of the body's own cloth is to pass it. ``frames`` are those of both halves.
    """
    cloth, need = brief.cloth, brief.body["head_girth"] + HEAD_SPARE

    def spare(drop: float) -> float:
        lines = [f.necklines((o.front_neck, drop), (o.back_neck, o.back_depth)) for f in frames]
        by = [slopes_to_run_on(line, f.slopes) for f, line in zip(frames, lines, strict=True)]
        around = math.fsum(
            draw_neckline(half, slope[face]).length
            for line, slope in zip(lines, by, strict=True)
            for face, half in line.items()
        )
        band = band_length(around, math.tau, BAND_WIDE, cloth.working_stretch)
        return band.length * (1.0 + cloth.stretch_across) - need

    usual, lowest = o.front_drop, float(LOWERED_FOR_HEAD)
    if o.front_depth is not None or o.front_neck != "round" or spare(usual) >= 0.0:
        return usual
    if spare(lowest) <= 0.0:
        return lowest
    return root(spare, usual, lowest, within=TOLERANCE.same_point)[0]


def draw_in_shoulder(body: Body, ease: EaseTable) -> float:
    """Return how long (mm) a shoulder is drafted for the body's: a close one shorter by the share that its bust is."""
    length = body["shoulder_length"]
    drawn_in = length * (1.0 + min(ease.bust, 0.0) / body["bust_girth"])
    return max(drawn_in, min(length, float(LEAST_DRAWN_IN)))


def _keep_end_near(f: BodiceFrame, fit: Fit, length: float, shoulder: float) -> float:
    """Return how long (mm) a shoulder is drafted whose ends lie no farther beyond half of the across than they may.

    It comes in with an across that a close fit, or the arm's room, makes narrower.
    """
    halves = {Face.FRONT: f.half_front, Face.BACK: f.half_back}
    near = min(
        (half + ENDS_BEYOND[fit] - f.base.half_width) / math.cos(f.slopes[face]) for face, half in halves.items()
    )
    near = max(near, min(near + ENDS_FARTHER, shoulder - FARTHEST_IN))
    return min(length, max(near, float(LEAST_DRAWN_IN)))


def draw_bodice_side(
    brief: Brief,
    o: BodiceOptions,
    ease: EaseTable,
    side: Side,
    base: neck.SolvedNeck,
    more: float = 0.0,
    balanced: ArmholeBalance | None = None,
    *,
    seam_gives: bool = False,
) -> BodiceSide:
    """Draw one half of the body, front and back, its underarm lowered until the armhole is as long as the arm needs.

    The bust gets ``more`` ease (mm) than by the table, for the thickness of the arm. Where its side seam lies is found
    for it, if it isn't ``balanced`` with the other half already.
    """
    body = brief.body
    f = frame(brief, o, ease, side, base, more)
    own = _keep_end_near(f, brief.fit, draw_in_shoulder(body, ease), body["shoulder_length"])
    shoulder = solve_shoulder(f, o, -(body["scye_depth_length"] + ease.scye_depth), own)
    if f.neck_opened > shoulder - SHORTEST_SHOULDER:
        raise CannotDraft(
            "shoulder_length",
            say(
                "a neckline opened by {neck_widen} leaves too little of a {shoulder} shoulder",
                neck_widen=mm(f.neck_opened),
                shoulder=mm(shoulder),
            ),
            short_by=f.neck_opened - shoulder + SHORTEST_SHOULDER,
            help="open the neckline less",
        )
    underarm, solve = solve_underarm(f, o, brief, ease, shoulder)
    if solve is not None:  # a lowered underarm moves the level at which the across back is taken
        shoulder = max(shoulder, solve_shoulder(f, o, underarm, own))
        underarm, solve = solve_underarm(f, o, brief, ease, shoulder)
    shoulder = extend_shoulder(f, o, brief.fit, underarm, shoulder, own)
    f, shoulder = follow_back(f, brief.fit, body, shoulder)
    room = base.ahead < neck.MOST_SEAM_AHEAD and f.slopes[Face.FRONT] < neck.STEEPEST_FRONT - TOLERANCE.tangent
    found = balance_armhole(f, o, underarm, shoulder, seam_gives=seam_gives and room) if balanced is None else balanced
    kept = 2.0 * (found.half_front - f.half_front)
    f = replace(f, shift=found.shift, half_front=found.half_front, front_kept=kept, full=found.full)
    underarm, solve = solve_underarm(f, o, brief, ease, shoulder)
    front, back = (draw_half(f, face, o, underarm, shoulder) for face in (Face.FRONT, Face.BACK))
    if front.neckline.end.y < underarm - LOWEST_NECKLINE or back.neckline.end.y < underarm - LOWEST_NECKLINE:
        raise CannotDraft(
            ("front_depth", "back_depth"),
            "a neckline reaches far below the underarm",
            help="raise the neckline",
        )
    return BodiceSide(f, front, back, underarm, shoulder, solve, found.short if room else min(found.short, 0.0))


def draw_halves(
    brief: Brief, o: BodiceOptions, ease: EaseTable, farther: float = 0.0
) -> tuple[neck.SolvedNeck, Mapping[Side, BodiceSide]]:
    """Draw both halves on the neck they share, its shoulder seams ``farther`` (rad) ahead than usual.

    Where the armhole's back is too short beside its front, or too long with the side seam as far back as may be, they
    are drawn again with the seams as much farther ahead, as far as may be, or less: what a shoulder's end lies lower
    in front the back's is higher.
    """
    slopes = {side: drafted_slope(brief, side) for side in (Side.LEFT, Side.RIGHT)}
    base = solve_knit_neck(brief.body, ease, tuple(dict.fromkeys(slopes.values())), farther)
    lowered = let_head_pass(brief, o, [frame(brief, o, ease, side, base) for side in slopes])
    asked = replace(o, front_depth=lowered)

    def draw(more: float) -> Mapping[Side, BodiceSide]:
        left = draw_bodice_side(brief, asked, ease, Side.LEFT, base, more, seam_gives=not farther)
        if slopes[Side.LEFT] == slopes[Side.RIGHT]:
            return {Side.LEFT: left, Side.RIGHT: left}
        right = draw_bodice_side(brief, asked, ease, Side.RIGHT, base, more, seam_gives=not farther)
        both = balance_halves(left.frame, right.frame)  # what doesn't hang on the shoulder the halves share
        drawn = {side: draw_bodice_side(brief, asked, ease, side, base, more, both) for side in slopes}
        return {side: replace(half, short=(left.short + right.short) / 2.0) for side, half in drawn.items()}

    halves = draw_with_room(brief, draw, lambda half: width_at(half.front.armhole.path, half.back.armhole.path))
    short = halves[Side.LEFT].short
    if farther or abs(short) <= TOLERANCE.sewn_length:
        return base, halves
    return draw_halves(brief, o, ease, ENDS_GIVE * short / halves[Side.LEFT].shoulder)


@block(
    "knit-bodice",
    "Front and back of a knit top, whole, without darts, from the body's own measurements.",
    Stage.BODY,
    needs=(
        "head_girth",
        "bust_girth",
        "waist_girth",
        "hip_girth",
        "neck_base_girth",
        "shoulder_length",
        "shoulder_slope",
        "across_back_width",
        "across_front_width",
        "armscye_girth",
        "scye_depth_length",
        "back_neck_point_to_waist",
        "waist_to_hip",
        "bust_point_width",
        "side_neck_point_to_bust_point",
        "side_neck_point_to_waist_over_bust",
    ),
    kinds=(SHOULDER, SIDE),
    mends=(
        Mend(
            "front-short",
            "let darts in its sides take it in: bust_dart = true under the bodice ([blocks.body] in our designs)",
        ),
    ),
    makes="bodice",
)
def draft_knit_bodice(garment: Garment, brief: Brief, o: BodiceOptions) -> Garment:
    """Draft front and back, with shoulder and side seams; shoulders measured apart give halves of their own."""
    ease = bodice_ease(garment, brief)
    if o.underarm_drop is not None:
        ease = replace(ease, scye_depth=o.underarm_drop)
    base, halves = draw_halves(brief, o, ease)
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
        facts=(*facts_of(brief, ease, halves), *_note_asked(o)),
        solves=solves,
        aims=aims_of(brief, ease, halves),
        openings=(*garment.openings, "neck", "armhole-left", "armhole-right", "hem"),
    )
    garment = replace(garment, needs=garment.needs.joined(KNIT_NEEDS), neck_base=neck_base_of(halves))
    garment = ease_front(_aim_along(garment, front), brief, f.side_neck(Face.FRONT), o.bust_dart)
    return allow_for_bands(garment, brief)


def _aim_along(garment: Garment, front: Piece) -> Garment:
    """Let the girths be taken along the levels of a front that is dropped at the centre, which are longer for it."""
    for level in front.levels:
        bent = level.path.length - level.path.start.distance(level.path.end)
        garment = shift_aim(garment, Girth(level.name), bent) if level.girth else garment
    return garment


def _note_asked(o: BodiceOptions) -> Iterator[Fact]:
    """How far below the armpit the underarm is asked for, which a band on the armhole keeps to."""
    if o.underarm_drop is not None:
        yield Fact(UNDERARM_ASKED, o.underarm_drop, "mm", "choice", "below the armpit")
