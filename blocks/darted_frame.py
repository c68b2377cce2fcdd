"""The frame of the darted bodice: the heights, widths and shares that front and back are drawn on.

Frame: the back neck point is (0, 0), y up; the half on +x is drawn, each half of the body from its own shoulder slope.

    place            rule                                                                  source
    waist            back neck point to waist, on the back and under the bust point        ISO 8559-1, 5.4.5
    bust point       above the waist by what the way over the bust has below it; half the  ISO 8559-1 landmarks
                     bust point width from the centre
    front side neck  up from the bust point by the side neck point to bust point           as measured
    bust             level with the bust points, on the front, at the side and on the back    one level round
    bust dart        front length over the bust less back length, both from the height of  a sewing column of 2012:
                     the side neck point                                                   front length - back length
    bust             half of bust + ease; the front has more of it by a quarter of bust -  derived
                     upper chest
    underarm         scye depth + ease, lowered if the arm needs it; as wide as the upper  1 to 4 cm below the armpit
                     chest + the bust's ease, wider if the arm needs it: darted_underarm   (from memory); derived
    across back      measure + ease at half of the armhole's height, 2.5 cm beside a wide  1 to 2.5 cm (from memory)
                     armhole
    across front     measured or estimated + ease, 15 to 60 mm less than the back; a       common practice
                     broad chest's more, as far as the arm has its room
    shoulder         measured slope less 4 degrees, front 2 steeper and back 2 flatter     room for the arm to lift
"""

from __future__ import annotations

import math
from dataclasses import replace

from blocks.across_front import front_across, hold_to_shoulder
from blocks.arm import MOST_ACROSS_EASE, narrow_across
from blocks.back_shoulder import Shaping
from blocks.neck import SLOPES, draft_slopes
from blocks.over_bust import bust_dart, bust_point, way_to_bust_point
from blocks.waist_darts import (
    GREATEST_SUPPRESSION,
    Suppression,
    WaistDart,
    centre_above,
    even_swings,
    keep_back_dart,
    share,
    spare_side,
    waist_forward,
)
from drafting.cloth import EaseTable
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Brief, Face, Side, Solve
from drafting.geometry import Path, Point, root
from drafting.record import dataclass
from drafting.redraw.dart_points import BELLY, LEAST_DART, flat_at_waist, set_back_for
from drafting.redraw.neckline_lines import NECK_DEPTHS
from drafting.redraw.shapes import BACK_RISE, LEAST_SCYE, Neckline, draw_round_necks
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

FRONT_STEEPER = TradeValue(math.radians(2.0), "rad", "from memory", "a college block has 22 and 18 degrees")
"""By which the front's shoulder is steeper than the mean of both, and the back's flatter."""

FLATTEST_BACK = TradeValue(math.radians(15.0), "rad", "from memory", "15 to 27 degrees in the books")
"""Down to which the back's is flatter than the mean: a square shoulder's front and back are alike."""

FRONT_EASE = TradeValue(
    0.75, "share", "from memory", "across the front 0 to 2.5 cm, a little less than across the back"
)
"""Of the ease across the back that there is across the front too."""

FLATTENED, STILL_SLOPED = (
    TradeValue(math.radians(3.0), "rad", "from memory", "its end 5 to 8 mm higher"),
    TradeValue(math.radians(17.0), "rad", "from memory", "15 to 27 degrees in the books"),
)
"""By which a shoulder is drafted flatter at most, where the armhole is short for its depth; and what keeps its mean."""

BACK_FOR_LENGTH = TradeValue(0.25, "times", "from memory", "the front is cut out more")
"""Of what half of the across front gives for the armhole's length, that the back gives."""

MOST_FRONT = TradeValue(12.0, "mm", "common practice", "1 cm")
"""Of a full bust that the front has at most beyond half of the girth."""

FRONT_HIP_MORE = trade_row((8.0, 16.0), "mm", "from memory", "a seat asks for as much behind; over a belly less")
"""By which half of a front is wider at the hip than half of its back at most: flat, and over a belly."""

WIDEST_BUST_DART = TradeValue(math.radians(32.0), "rad", "common practice", "split it")
"""Between the legs of a bust dart at most: a wider one stands off in a point, and what is over stays in the armhole."""

NECK_SHARE = TradeValue(0.66, "share", "derived", "tried on the surveys' bodies")
"""At most of the depth at which a neck square to a steep shoulder, and so running inwards, would reach the centre:
drawn deeper, the line had to bend back."""

DEEPEST_FITTED = TradeValue(1.4, "times", "derived", "tried on the surveys' bodies")
"""Of the usual scoop at most, where the back's armhole comes in to the across back: deeper than a knit's, less than one
that a design cuts in."""

WOVEN_ARMHOLE_RADIUS = TradeValue(17.0, "mm", "derived", "from the allowance")
"""Of radius at least at the ends of a woven armhole: its allowance, up to 1.5 cm, lies inside the turn."""


@dataclass(frozen=True, slots=True)
class DartedFrame:
    """What one half of front and back is drawn on: heights (y), widths from the centre (mm), slopes (rad)."""

    side: Side
    neck_width: float
    neck_depth: float
    slope_front: float
    slope_back: float
    front_neck: float
    bust_point: Point
    waist: float
    hip: float | None
    bust_front: float
    bust_back: float
    waist_front: float
    waist_back: float
    hip_front: float
    hip_back: float
    half_front: float
    half_back: float
    upper_chest: float
    underarm: float
    dart: float
    suppression: Suppression
    shoulder: float
    shaping: Shaping
    lean: float = 0.0

    def side_neck(self, face: Face) -> Point:
        """The side neck point of a face."""
        return Point(self.neck_width, self.front_neck if face is Face.FRONT else self.neck_width * BACK_RISE)

    def along_shoulder(self, face: Face, distance: float) -> Point:
        """The point at a distance (mm) from the side neck point along the sewn shoulder."""
        slope = self.slope_front if face is Face.FRONT else self.slope_back
        return self.side_neck(face) + Point(1.0, 0.0).turned(-slope) * distance

    def neckline(self, face: Face) -> Path:
        """Half of a face's round neckline, from the side neck point to the centre."""
        centres = {Face.FRONT: Point(0.0, self.front_neck - self.neck_depth), Face.BACK: Point(0.0, 0.0)}
        lines = {each: Neckline("round", self.side_neck(each), centre) for each, centre in centres.items()}
        return draw_round_necks(lines, {Face.FRONT: self.slope_front, Face.BACK: self.slope_back})[face].path


@dataclass(frozen=True, slots=True)
class Widths:
    """Half girths (mm): ``bust`` with what it was raised by, ``waist``, ``hip``, and the across widths' halves.

    ``upper_chest`` is half of the girth at the underarm for the body alone, ``underarm`` with what the arm wants more,
    ``across_given`` what each across width gave for the arm, ``longer`` what half of the front gave for the armhole's
    length, ``centre`` what the centre back of a half takes in at the waist, ``across_wider`` by how much the back is
    wider across for the armhole not to be wide.
    """

    bust: float
    bust_back: float
    upper_chest: float
    underarm: float
    waist: float
    hip: float
    half_back: float
    half_front: float
    bust_raised: float
    waist_raised: float
    across_given: float
    longer: float
    centre: float = 0.0
    across_wider: float = 0.0


@dataclass(frozen=True, slots=True)
class ArmRoom:
    """What the arm is given beyond the rules for the trunk (mm).

    ``underarm`` is how wide half of the girth is there, and ``across`` how wide the across back and front find it where
    they are to give for the arm, both 0 by the body alone; ``raised`` is how much more ease the bust has.
    ``moved_back`` is by how much the side seam lies farther back, for the balance of the armhole; ``flatter`` by how
    much flatter (rad) the shoulders are drafted, and ``longer`` how much of its ease half of the across front gives
    (mm), and the back less, both for its length. ``wider`` is by how much half of the back is wider across, as far as
    one may, for the armhole not to be wide.
    """

    underarm: float = 0.0
    across: float = 0.0
    raised: float = 0.0
    moved_back: float = 0.0
    flatter: float = 0.0
    longer: float = 0.0
    wider: float = 0.0


def widths(brief: Brief, ease: EaseTable, arm: ArmRoom) -> Widths:
    """Share the girths between front and back, the across widths narrower where the arm needs the room.

    The bust gets so much more ease than by the table as the arm, and the across back for its armhole, need.
    """
    body = brief.body
    half_back = (body["across_back_width"] + ease.across_back) / 2.0
    half, chest = ((body[girth] + ease.bust) / 2.0 for girth in ("bust_girth", "upper_chest_girth"))
    half_front = front_across(brief, half_back, (arm.across or chest) - half_back, FRONT_EASE * ease.across_back / 2.0)
    room = narrow_across(brief, arm.across or chest, half_back, half_front, beyond=arm.across > 0.0)
    across = (half_back - ease.across_back / 2.0, body["across_front_width"] / 2.0)
    eased = [max(each - own, 0.0) for each, own in zip((room.back, room.front), across, strict=True)]
    most = (body["across_back_width"] + MOST_ACROSS_EASE) / 2.0
    wider = min(arm.wider, max(most - room.back, 0.0))
    half_back = room.back + wider - min(eased[0], BACK_FOR_LENGTH * arm.longer)
    half_front = room.front - min(eased[1], arm.longer)
    wide = half + arm.raised / 2.0
    fuller = min(max((body["bust_girth"] - body["upper_chest_girth"]) / 4.0, 0.0), MOST_FRONT)
    back = max(wide / 2.0 - fuller - arm.moved_back, room.back + wider + LEAST_SCYE)
    # The front gives to a broad back down to what its own armhole needs; then the bust gets more ease.
    bust = max(wide, back + room.front + LEAST_SCYE)
    waist = (body["waist_girth"] + ease.waist) / 2.0
    raised = max(bust - waist - GREATEST_SUPPRESSION, 0.0)
    return Widths(
        bust=bust,
        bust_back=back,
        upper_chest=chest,
        underarm=arm.underarm or chest,
        waist=waist + raised,
        hip=(body["hip_girth"] + ease.hip) / 2.0,
        half_back=half_back,
        half_front=half_front,
        bust_raised=2.0 * (bust - half),
        waist_raised=2.0 * raised,
        across_given=2.0 * (room.given + min(eased[0], BACK_FOR_LENGTH * arm.longer)),
        across_wider=2.0 * wider,
        longer=arm.longer,
    )


def most_flattened(brief: Brief) -> float:
    """Return by how much (rad) both shoulders may be drafted flatter, so that the armhole is long enough."""
    flattest = min(draft_slopes(brief.body, FLATTEST_BACK).values())
    return min(max(flattest - STILL_SLOPED, 0.0), FLATTENED)


def slopes(brief: Brief, side: Side, flatter: float = 0.0) -> tuple[float, float]:
    """Return the drafted slopes of front and back shoulder (rad), ``flatter`` than by rule; each side has its own."""
    mean = draft_slopes(brief.body, FLATTEST_BACK)[side] - flatter
    ahead = max(min(FRONT_STEEPER, SLOPES[1] - mean, mean - FLATTEST_BACK), 0.0)  # so the mean stays as it is
    return mean + ahead, mean - ahead


@dataclass(frozen=True, slots=True)
class Neck:
    """The close round neck: half width, depth of the front, height of the front's side neck point (mm); its solve.

    It is square to shoulders that are ``flatter`` (rad) than by rule.
    """

    width: float
    depth: float
    height: float
    solve: Solve
    flatter: float = 0.0


def solve_neck(
    brief: Brief, ease: EaseTable, w: Widths, hip: bool, set_back: float | None, flatter: float = 0.0
) -> Neck:
    """Find the round neck whose seam, front and back together, measures neck base girth plus ease.

    Source: a high round neck's seam is 0 to 2 cm longer than the neck base (derived identity). The front's depth leaves
    the front neck point to waist as measured, within ``NECK_DEPTHS`` of half the width.
    """
    body, apex = brief.body, bust_point(brief.body)
    target = body["neck_base_girth"] + ease.neck
    reach = way_to_bust_point(body)
    low = centre_waist(brief, w, hip, set_back) + body["front_neck_point_to_waist"]
    apart = tuple(dict.fromkeys(slopes(brief, side, flatter) for side in _SIDES))

    def draw(width: float) -> tuple[float, float, float]:
        aside = apex.x - width
        high = apex.y + math.sqrt(max(reach * reach - aside * aside, 0.0))
        deepest = min(width + NECK_DEPTHS[1], NECK_SHARE * width / math.tan(max(front for front, _ in apart)))
        depth = min(max(high - low, width + NECK_DEPTHS[0]), deepest)
        necks = {
            Face.FRONT: Neckline("round", Point(width, 0.0), Point(0.0, -depth)),
            Face.BACK: Neckline("round", Point(width, width * BACK_RISE), Point(0.0, 0.0)),
        }
        drawn = [draw_round_necks(necks, {Face.FRONT: front, Face.BACK: back}) for front, back in apart]
        seam = math.fsum(half.length for halves in drawn for half in halves.values())
        return 2.0 / len(apart) * seam, depth, high

    try:
        width, calls = root(
            lambda w: draw(w)[0] - target, target / 14.0, target / 3.0, within=TOLERANCE.same_point / 10.0
        )
    except GeometryError:
        raise CannotDraft(
            "neck_base_girth",
            say("no round neck measures {target}", target=mm(target)),
            help="measure the neck base again",
        ) from None
    seam, depth, high = draw(width)
    return Neck(width, depth, high, Solve("neck base", target, seam, calls), flatter)


_SIDES = (Side.LEFT, Side.RIGHT)


def centre_waist(brief: Brief, w: Widths, hip: bool, set_back: float | None) -> float:
    """Return the height of the waist at the centre front: at the waist dart's mouth, or a little above it."""
    waist, apex = -brief.body["back_neck_point_to_waist"], bust_point(brief.body)
    taken = share_waist(brief, w, hip).front
    if hip or taken < LEAST_DART:
        return waist
    return centre_above(WaistDart("waist-front", apex.x, taken, apex.y - set_back_for(taken, set_back), waist), waist)


def share_waist(brief: Brief, w: Widths, hip: bool) -> Suppression:
    """Share out the waist's suppression by the body: where its front is full at the bust, and where it has a belly."""
    flat = flat_at_waist(brief.body)
    taken = share(w.bust - w.waist - w.centre, w.bust - 2.0 * w.bust_back, flat)
    belly = max(brief.body["waist_girth"] - BELLY[1] * brief.body["hip_girth"], 0.0)
    # What a great belly has more is all in front: the back over the seat is as hollow as without it.
    taken = keep_back_dart(taken, hollow_of_back(brief, w) + belly / 4.0 - w.centre)
    taken = spare_side(taken, w.hip - w.waist - w.centre, flat) if hip else taken
    return replace(taken, centre=w.centre)


def hollow_of_back(brief: Brief, w: Widths) -> float:
    """Return by how much (mm) a half back's hip is more than its waist."""
    return (w.hip - w.waist) / 2.0 + waist_forward(flat_at_waist(brief.body))


def make_frame(brief: Brief, w: Widths, hip: bool, side: Side, neck: Neck, shaping: Shaping) -> DartedFrame:
    """Place the heights and widths of one half from the body and its widths."""
    body, apex = brief.body, bust_point(brief.body)
    waist = -body["back_neck_point_to_waist"]
    slope = slopes(brief, side, neck.flatter)
    taken = share_waist(brief, w, hip)
    bust_front = w.bust - w.bust_back
    most = 2.0 * max(bust_front - apex.x, 0.0) * math.sin(WIDEST_BUST_DART / 2.0)
    flat = flat_at_waist(body)
    fuller = min((bust_front - w.bust_back) / 2.0, flat * FRONT_HIP_MORE[0] + (1.0 - flat) * FRONT_HIP_MORE[1])
    hips = w.hip / 2.0 + fuller / 2.0, w.hip / 2.0 - fuller / 2.0
    sides = bust_front - taken.side / 2.0 - taken.ahead, w.bust_back - taken.side / 2.0 + taken.ahead - taken.centre
    moved = even_swings(hips[0] - sides[0], hips[1] - sides[1]) if hip else 0.0
    end = neck.width + body["shoulder_length"] * math.cos(slope[0])
    return DartedFrame(
        side=side,
        neck_width=neck.width,
        neck_depth=neck.depth,
        slope_front=slope[0],
        slope_back=slope[1],
        front_neck=neck.height,
        bust_point=apex,
        waist=waist,
        hip=waist - body["waist_to_hip"] if hip else None,
        bust_front=bust_front,
        bust_back=w.bust_back,
        waist_front=bust_front - taken.side / 2.0 - taken.ahead - taken.front + moved,
        waist_back=w.bust_back - taken.side / 2.0 + taken.ahead - taken.back - taken.second - taken.centre - moved,
        hip_front=hips[0] - moved,
        hip_back=hips[1] + moved,
        half_front=hold_to_shoulder(w.half_front, w.half_back, end),
        half_back=w.half_back,
        upper_chest=w.upper_chest,
        underarm=w.underarm,
        dart=min(bust_dart(brief.body), most),
        suppression=taken,
        shoulder=body["shoulder_length"],
        shaping=shaping,
    )


def raise_shoulder(frame: DartedFrame, extra: float) -> DartedFrame:
    """Return the frame with a longer shoulder."""
    return replace(frame, shoulder=frame.shoulder + extra)
