"""The set-in sleeve for wovens: its cap eased into the armhole it meets, straight or fitted with an elbow dart.

Frame: the underarm line is y = 0, the crown above it; a left sleeve has its front on -x, a right one is turned over.

    place        rule                                                                        source
    width        upper arm girth + ease                                                      2 in (Armstrong, as quoted)
    cap          as long as the armhole + cap ease; its height by its kind (blocks/caps)     4 to 7 % (from memory)
    notches      0.45 of the way up the armhole; below them the cap has no ease              common practice
    cap ease     between the notches, 9 to 11 in front and at the back                       common practice
    length       fitted that of the bent arm, straight between it and the straight arm       as measured
    elbow        upper arm length, as its share of the whole arm                             as measured
    wrist        wrist girth + ease, or the hand and 1 cm to spare, seams upright            as measured
                 and by a looser fit's ease wider: 1 cm semi-fitted, 3.5 relaxed             from memory
    elbow dart   the forearm turned forward about the front seam; the back opens             6 to 8 cm x 1.5 to 2.5
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from blocks.arm import find_armhole, list_armholes
from blocks.caps import (
    BY_RULE,
    CAP_KINDS,
    CapWanted,
    SolvedCap,
    aim_arm,
    cap_facts,
    cap_heights,
    cap_kind,
    cap_option,
    draw_cap,
    mark_cap,
    pick_eases,
)
from blocks.woven_outline import Arm, Outline, draw_sleeve, make_piece
from drafting.cloth import Fit, ease_for, hand_passage
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fact,
    Garment,
    Piece,
    Run,
    Seam,
    Section,
    Side,
    Stage,
    Use,
    block,
    option,
    side_option,
)
from drafting.garment.carry import with_features
from drafting.garment.darts import Dart, darts_of, intake
from drafting.garment.lines import part_name
from drafting.garment.ruled import SLEEVE_LENGTH
from drafting.garment.told import Ruled
from drafting.record import dataclass
from drafting.redraw.mouths import clear_of_darts
from drafting.redraw.onto import rename_opening, sew_edges
from drafting.redraw.parting import with_split
from drafting.redraw.sleeves import (
    ELBOW_DART_WIDE,
    FOREARM,
    LOWEST_CAP,
    UPRIGHT_OVER,
    arm_girth,
    arm_length,
    elbow_depth,
    shoulder_inset,
)
from drafting.saying import mm, say, show_share
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.work.kinds import ARMHOLE, DART, SIDE, sew_dart

CAP_NOTCH = TradeValue(0.45, "share", "common practice")
"""Of the front's or back's armhole, from the underarm, at which its notch stands: a good third of the height."""

FRONT_CAP_EASE = TradeValue(0.45, "share", "common practice")
"""Of the cap ease that the front has: the back of the arm needs more."""

CAP_EASES: Final = {
    "fitted": trade_row((0.045, 0.0625, 0.069), "share", "from memory", "4 to 7 %; 1 in for an armhole of 16 in"),
    "shirt": trade_row((0.03, 0.035, 0.04), "share", "from memory", "1/2 to 3/4 in"),
    "tee": trade_row((0.03, 0.03, 0.04), "share", "from memory"),
}
"""Of the armhole, by which a cap of each kind is longer: at least, by rule, and at most; more puckers."""

EASE_LENGTHS: Final = {
    "fitted": trade_row((13.0, 38.0), "mm", "from memory", "1 1/2 in at most"),
    "shirt": trade_row((13.0, 19.0), "mm", "from memory", "1/2 to 3/4 in of shirts and blouses"),
    "tee": trade_row((13.0, 19.0), "mm", "from memory"),
}
"""What that comes to at least and at most."""

NARROWER_ARM = TradeValue(12.0, "mm", "from memory", "over the upper arm 1 1/2 to 2 in")
"""By which a woven sleeve has less ease over the upper arm than its fit asks, for its cap to be as high as its kind."""

TIGHTER_ARM = TradeValue(20.0, "mm", "from memory", "1 in over the upper arm at least")
"""The same before a fitted cap is lower than 0.30 of its armhole: one that is low for its arm drags from the crown."""

BELOW_ELBOW = TradeValue(120.0, "mm", "from memory")
"""Of a fitted sleeve's length below the elbow at least: a shorter one has no forearm to bend, and no elbow dart."""

LEAST_ARM_EASE = TradeValue(10.0, "mm", "from memory")
"""Of ease round the upper arm at least: a woven sleeve with less can't be bent."""

HAND_SPARE = TradeValue(10.0, "mm", "from memory")
"""By which a lower edge without an opening is wider than what the hand with its thumb needs."""

LOOSER_EDGE = TradeValue(0.5, "share", "from memory", "the hand and 2 to 4 cm")
"""Of what a looser fit has more at a straight sleeve's edge, that a fitted one's is wider for it."""

FOREARM_ROOM = trade_table({"straight": 25.0, "fitted": 12.0}, "mm", "from memory", "21 to 23 cm at the edge")
"""By which a sleeve, before its seams are curved, is wider than the forearm where that is thickest: a fitted one's come
in below it."""

SHORTEST_WOVEN_UNDERARM = TradeValue(60.0, "mm", "from memory")
"""Of underarm seam that the shortest woven sleeve has."""


@dataclass(frozen=True, slots=True)
class WovenSleeveOptions:
    """Options of the set-in sleeve for wovens."""

    arm: str = side_option("Which armholes get a sleeve.")
    shape: str = option(
        "Straight from underarm to wrist, or fitted to the bent arm with an elbow dart; by rule fitted, and straight "
        "below a shirt's cap, as in a relaxed fit.",
        "choice",
        BY_RULE,
        choices=(BY_RULE, "straight", "fitted"),
    )
    cap: str = cap_option("fitted, and shirt in a relaxed fit")
    cap_ease: float | None = option(
        say(
            "How much longer the cap is than the armhole; by rule about {fitted} of it, of a shirt's cap {shirt}.",
            fitted=show_share(CAP_EASES["fitted"][1]),
            shirt=show_share(CAP_EASES["shirt"][1]),
        ),
        "length",
        None,
        low=0.0,
        high=45.0,
    )
    upper_arm_ease: float | None = option(
        "How much wider than the arm the sleeve is at the underarm; by rule it follows the fit.",
        "length",
        None,
        low=LEAST_ARM_EASE,
        high=250.0,
    )
    length: float | None = option(
        "Shoulder point to the sleeve's lower edge; by rule the arm's length.", "length", None, low=300.0, high=850.0
    )
    lower_edge_ease: float | None = option(
        "How much wider than the arm the lower edge is; by rule it follows the fit, and the hand passes.",
        "length",
        None,
        low=0.0,
        high=300.0,
    )
    elbow_dart: float = option(
        "How much the elbow dart of a fitted sleeve takes in: by so much the forearm is turned forward.",
        "length",
        20.0,
        low=ELBOW_DART_WIDE[0],
        high=ELBOW_DART_WIDE[1],
    )


@dataclass(frozen=True, slots=True)
class Hole:
    """An armhole parted at its notches: each run in the seam's order, from the underarm up the front and back down."""

    side: Side
    front_low: Run
    front_high: Run
    back_high: Run
    back_low: Run

    @property
    def runs(self) -> tuple[Run, Run, Run, Run]:
        """The four runs in the seam's order."""
        return self.front_low, self.front_high, self.back_high, self.back_low


def split_run(garment: Garment, run: Run, at: float) -> tuple[Garment, Run, Run]:
    """Part a run at ``at`` mm from its start, splitting the line there; returns the garment and both parts."""
    so_far = 0.0
    for i, use in enumerate(run):
        length = garment.line(use).path.length
        if at > so_far + length - TOLERANCE.joint:
            so_far += length
            continue
        s = length - (at - so_far) if use.against else at - so_far
        if s <= TOLERANCE.joint or s >= length - TOLERANCE.joint:
            return garment, run[:i], run[i:]
        parted = with_split(garment, use.piece, use.line, s)
        parts = [Use(use.piece, part_name(use.line, which), use.against) for which in (0, 1)]
        first, second = reversed(parts) if use.against else parts
        return parted, (*run[:i], first), (second, *run[i + 1 :])
    return garment, run, ()


def notch_armhole(garment: Garment, side: Side, front: Run, back: Run) -> tuple[Garment, Hole]:
    """Part the armhole's front and back lines at their notches; beside a dart's mouth, at the dart."""
    at_front = clear_of_darts(garment, front, CAP_NOTCH * garment.run_length(front))
    at_back = clear_of_darts(garment, back, (1.0 - CAP_NOTCH) * garment.run_length(back))
    garment, front_low, front_high = split_run(garment, front, at_front)
    garment, back_high, back_low = split_run(garment, back, at_back)
    return garment, Hole(side, front_low, front_high, back_high, back_low)


def settle_shape(brief: Brief, o: WovenSleeveOptions) -> WovenSleeveOptions:
    """Return the options with shape and cap as by rule: an elbow dart goes with a fitted cap (common practice)."""
    cap = "fitted" if (o.cap, o.shape) == (BY_RULE, "fitted") else cap_kind(brief, o.cap)
    ruled = "fitted" if cap == "fitted" else "straight"
    return replace(o, cap=cap, shape=ruled if o.shape == BY_RULE else o.shape)


def arm_of(brief: Brief, options: WovenSleeveOptions) -> Arm:
    """Return the sleeve's widths, length and elbow from the body, the ease and the options."""
    body, o = brief.body, settle_shape(brief, options)
    table = ease_for(brief.fit, brief.cloth, body)
    bent = o.shape == "fitted"
    whole = arm_length(brief, bent)
    width = body["upper_arm_girth"] + (table.upper_arm if o.upper_arm_ease is None else o.upper_arm_ease)
    elbow, kind = elbow_depth(brief, bent), o.cap
    length = whole if o.length is None else o.length
    above = max(whole - length, 0.0)
    rule = table.wrist + (table.upper_arm - table.wrist) * above / whole
    wrist = arm_girth(brief, above) + (rule if o.lower_edge_ease is None else o.lower_edge_ease)
    if o.lower_edge_ease is None:
        close = ease_for(Fit.CLOSE, brief.cloth, body)
        passes = hand_passage(body["hand_girth"]) + HAND_SPARE
        upper = body["upper_arm_girth"] + (close.upper_arm if o.upper_arm_ease is None else o.upper_arm_ease)
        clear = _clear_forearm(brief, upper, length, kind, bent)
        # A looser fit's sleeve, whose wider top would need less to clear the forearm, is the wider at its edge too.
        looser = (table.wrist - close.wrist) * (LOOSER_EDGE if bent else 1.0)
        wrist = max(wrist, max(passes, clear) + looser)
    dart = o.elbow_dart if bent and length >= elbow + BELOW_ELBOW else 0.0
    narrowest = width - NARROWER_ARM if o.upper_arm_ease is None else width
    tightest = width - TIGHTER_ARM if o.upper_arm_ease is None else narrowest
    return Arm(width, narrowest, tightest, min(wrist, tightest), length, elbow, dart, kind, o.cap_ease)


def _clear_forearm(brief: Brief, width: float, length: float, kind: str, bent: bool) -> float:
    """How wide the lower edge has to be for a sleeve that tapers straight to clear the forearm where it is thickest."""
    whole, elbow = arm_length(brief, bent), elbow_depth(brief, bent)
    depth, cap = elbow + (1.0 - FOREARM[0]) * (whole - elbow), CAP_KINDS[kind][0] * brief.body["armscye_girth"]
    bottom = length - UPRIGHT_OVER / 2.0
    if bottom <= depth:
        return 0.0
    narrower = width - arm_girth(brief, whole - depth) - FOREARM_ROOM["fitted" if bent else "straight"]
    return width - narrower * (bottom - cap) / (depth - cap)


def wish_cap(arm: Arm, front: float, back: float) -> CapWanted:
    """Return what the cap is solved for: an armhole whose front and back are that long (mm)."""
    heights = cap_heights(arm.cap, front + back, arm.length - SHORTEST_WOVEN_UNDERARM, arm.inset)
    length = arm.length - UPRIGHT_OVER / 2.0
    low, high = EASE_LENGTHS[arm.cap]
    by_rule = [min(max(share * (front + back), low), high) for share in CAP_EASES[arm.cap]]
    eases = pick_eases(by_rule, arm.cap_ease)
    widths = (arm.width, arm.narrowest, arm.wrist)
    return CapWanted(front, back, FRONT_CAP_EASE, eases, *widths, length, *heights, True, arm.tightest)


def solve_cap(brief: Brief, arm: Arm, front: float, back: float) -> SolvedCap:
    """Draw the cap for an armhole whose front and back are that long (mm); CannotDraft where the arm has no room."""
    armhole, cap = front + back, draw_cap(wish_cap(arm, front, back))
    girth = brief.body["upper_arm_girth"]
    got = cap.width
    if cap.height < LOWEST_CAP * armhole - TOLERANCE.arc_length or got < girth + LEAST_ARM_EASE:
        raise CannotDraft(
            "upper_arm_girth",
            say(
                "an armhole of {armhole} takes a sleeve of {got}, the arm is {girth}",
                armhole=mm(armhole),
                got=mm(got),
                girth=mm(girth),
            ),
            short_by=girth + LEAST_ARM_EASE - got,
            help="lower the underarm, or measure the upper arm and the armscye again",
        )
    return cap


@block(
    "woven-sleeve",
    "A set-in sleeve for wovens: its cap eased into the armhole it meets, straight or with an elbow dart.",
    Stage.SLEEVE,
    needs=(
        "upper_arm_girth",
        "wrist_girth",
        "hand_girth",
        "elbow_girth",
        "upper_arm_length",
        "lower_arm_length",
        "outer_arm_length",
        "armscye_girth",
        "straight_arm_length",
    ),
    kinds=(ARMHOLE, SIDE, DART),
)
def draft_woven_sleeve(garment: Garment, brief: Brief, o: WovenSleeveOptions) -> Garment:
    """Draft a sleeve onto each armhole asked for; equal armholes get one cap, turned over."""
    o = settle_shape(brief, o)
    caps: dict[tuple[float, float, float], SolvedCap] = {}
    drawn = arm_of(brief, o)
    for opening in list_armholes(garment, o.arm):
        found = find_armhole(garment, opening)
        garment, hole = notch_armhole(garment, found.side, found.front, found.back)
        front = garment.run_length((*hole.front_low, *hole.front_high))
        back = garment.run_length((*hole.back_high, *hole.back_low))
        inset = shoulder_inset(garment, found.side)
        arm = replace(drawn, length=drawn.length + inset, elbow=drawn.elbow + inset, inset=inset)
        key = (round(front, 9), round(back, 9), round(inset, 9))
        if key not in caps:
            caps[key] = solve_cap(brief, arm, front, back)
        garment = _set_in(garment, brief, o, arm, hole, caps[key])
    return garment


def _set_in(garment: Garment, brief: Brief, o: WovenSleeveOptions, arm: Arm, hole: Hole, cap: SolvedCap) -> Garment:
    side = hole.side
    outline = draw_sleeve(cap, arm, [garment.run_length(run) for run in hole.runs])
    sleeve = with_features(make_piece(outline, cap, arm.elbow, side), (mark_cap(arm.cap),))
    runs = [use for run in hole.runs for use in run]
    return garment.with_(
        pieces=(*sew_edges(garment, runs), sleeve),
        seams=(*map(sew_dart, darts_of(sleeve)), _underarm(sleeve), _seam(garment, sleeve, hole)),
        openings=rename_opening(garment, f"armhole-{side}", (f"wrist-{side}",)),
        solves=(replace(cap.solve, name=f"cap, {side}"),),
        facts=(
            *_facts(o, arm, cap, outline, [garment.run_length(run) for run in hole.runs], side),
            _tell_length(o, arm.length - arm.inset, side),
        ),
        aims=(aim_arm(brief, cap.width, o.upper_arm_ease, side),),
    )


def _facts(
    o: WovenSleeveOptions, arm: Arm, cap: SolvedCap, outline: Outline, holes: Sequence[float], side: Side
) -> tuple[Fact, ...]:
    wanted = wish_cap(arm, holes[0] + holes[1], holes[2] + holes[3])
    found = [
        *cap_facts(arm.cap, math.fsum(holes), cap, wanted, side),
        Fact(f"cap_ease_{side}", cap.ease, "mm", "choice", "between the notches, 9 to 11 in front and at the back"),
        Fact(
            f"wrist_width_{side}",
            arm.wrist,
            "mm",
            "rule",
            "the arm there and its ease, or the hand and what it has to spare, wider in a looser fit",
        ),
    ]
    found += (
        Fact(f"elbow_dart_{side}", intake(part), "mm", "solve", "as the forearm turns forward")
        for part in outline
        if isinstance(part, Dart)
    )
    return tuple(found)


def _tell_length(o: WovenSleeveOptions, length: float, side: Side) -> Fact:
    """Tell how long (mm) a sleeve is from the body's shoulder point."""
    told = "that of the bent arm" if o.shape == "fitted" else "between the straight and the bent arm"
    source = "body" if o.length is None else "choice"
    return Fact(f"sleeve_length_{side}", length, "mm", source, told, Ruled(SLEEVE_LENGTH, side))


def _run_along(sleeve: Piece, stem: str, against: bool) -> Run:
    uses = tuple(Use(sleeve.name, line.name, against) for line in sleeve.lines(stem))
    return tuple(reversed(uses)) if against else uses


def _underarm(sleeve: Piece) -> Seam:
    """The underarm seam, from the armhole to the wrist; the sleeve is then set in in the round."""
    along = sleeve.side is Side.RIGHT
    runs = (_run_along(sleeve, "underarm-front", along), _run_along(sleeve, "underarm-back", not along))
    side = sleeve.side
    return Seam(f"underarm-{side}", SIDE, say("{side} underarm", side=side), (Section(runs, (0.0, 0.0)),), stitch="301")


def _seam(garment: Garment, sleeve: Piece, hole: Hole) -> Seam:
    """The armhole seam, from the underarm up the front, over the shoulder, down the back, matched at the notches."""
    against = hole.side is Side.LEFT
    front, back = _run_along(sleeve, "cap-front", against), _run_along(sleeve, "cap-back", against)
    sections = []
    for run, use in zip(hole.runs, (*front, *back), strict=True):
        ease = sleeve.line(use.line).path.length - garment.run_length(run)
        sections.append(Section((run, (use,)), (0.0, ease)))
    return Seam(f"armhole-{hole.side}", ARMHOLE, say("{side} armhole", side=hole.side), tuple(sections), stitch="301")
