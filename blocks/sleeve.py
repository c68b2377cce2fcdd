"""The set-in sleeve for knits: drafted onto the armhole it meets, whatever pieces surround that.

Frame: the underarm line is y = 0, the crown lies above it; the sleeve is seen from the right side, so a left
sleeve has its front on -x and a right sleeve on +x. The width comes from the arm, and the cap height is solved for it
and the armhole (``blocks/caps``).
"""

from __future__ import annotations

from dataclasses import replace

from blocks.arm import Armhole, find_armhole, list_armholes
from blocks.caps import (
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
from drafting.cloth import Fit, ease_for
from drafting.errors import CannotDraft
from drafting.garment import (
    Adjust,
    Brief,
    Face,
    Fact,
    Fate,
    Garment,
    Level,
    Line,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Stage,
    Use,
    block,
    option,
    side_option,
)
from drafting.garment.carry import AffineMotion, carry_features, with_features
from drafting.garment.ruled import SLEEVE_LENGTH
from drafting.garment.told import Ruled
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.redraw.onto import without_underarm_gap
from drafting.redraw.sleeves import (
    LOWEST_CAP,
    SHORTEST_UNDERARM,
    adjust_heights,
    arm_girth,
    arm_length,
    elbow_depth,
    shoulder_inset,
)
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.work.kinds import ARMHOLE, SIDE

ROOM_FOR_CUFF = TradeValue(70.0, "mm", "from memory")
"""How much of the arm is left for a cuff."""

KNIT_CAP_EASES = trade_row((3.0, 6.0, 13.0), "mm", "from memory", "0 to 1/2 in")
"""By which a knit's cap is longer than its armhole: at least, by rule, and at most."""


TEE_WIDER = trade_table(
    {Fit.CLOSE: 30.0, Fit.SEMI: 37.0, Fit.RELAXED: 37.0},
    "mm",
    "from memory",
    "up to 6 cm over the arm, relaxed 9",
)
"""By which a knit's sleeve becomes wider than asked before its cap is drawn higher than its kind is."""


SHORT_WIDER = trade_table(
    {Fit.CLOSE: 5.0, Fit.SEMI: 20.0, Fit.RELAXED: 40.0}, "mm", "from memory", "1 to 2 cm, a close one as the arm"
)
"""By which the edge of a sleeve that ends above the elbow is wider than the arm at least, if the sleeve is so wide."""


@dataclass(frozen=True, slots=True)
class SleeveOptions:
    """Options of the set-in sleeve."""

    arm: str = side_option("Which armholes get a sleeve.")
    cap: str = cap_option("tee")
    cap_ease: float | None = option(
        say(
            "How much longer the cap is than the armhole; by rule {usual}, or less where the sleeve would be wide.",
            usual=mm(KNIT_CAP_EASES[1]),
        ),
        "length",
        None,
        low=0.0,
        high=13.0,
    )
    upper_arm_ease: float | None = option(
        "How much wider than the arm the sleeve is at the underarm; by rule it follows the fit.",
        "length",
        None,
        low=-60.0,
        high=200.0,
    )
    length: float | None = option(
        say(
            "Shoulder point to the sleeve's lower edge, without a cuff;"
            " by rule the arm less a cuff of {usual}.",
            usual=mm(70),
        ),
        "length", None, low=60.0, high=800.0,
    )  # fmt: skip
    of_arm: float | None = option(
        "How far down the arm the lower edge lies, as a share of the arm from shoulder point to wrist,"
        " where no length is stated; by rule all of it but for a cuff.",
        "ratio", None, low=0.1, high=1.1,
    )  # fmt: skip
    lower_edge_ease: float | None = option(
        "How much wider than the arm the sleeve's lower edge is; by rule it follows the fit.",
        "length",
        None,
        low=0.0,
        high=300.0,
    )


@block(
    "set-in-sleeve",
    "A set-in sleeve for each armhole, its cap solved for the armhole it meets.",
    Stage.SLEEVE,
    needs=("upper_arm_girth", "wrist_girth", "outer_arm_length", "straight_arm_length", "upper_arm_length"),
    kinds=(ARMHOLE, SIDE),
)
def draft_set_in_sleeve(garment: Garment, brief: Brief, o: SleeveOptions) -> Garment:
    """Draft a sleeve onto each armhole asked for; equal armholes get one cap, turned over."""
    caps: dict[tuple[float, float, float], SolvedCap] = {}
    for opening in list_armholes(garment, o.arm):
        hole = find_armhole(garment, opening)
        runs = (garment.run_length(hole.front), garment.run_length(hole.back), shoulder_inset(garment, hole.side))
        key = (round(runs[0], 9), round(runs[1], 9), round(runs[2], 9))
        if key not in caps:
            caps[key] = _cap(brief, o, *key)
        garment = _set_in(garment, brief, o, hole, caps[key])
    return garment


def _length(brief: Brief, o: SleeveOptions) -> float:
    """The tape round a slightly bent elbow lies between the bent and the straight arm; 70 mm is left for a cuff."""
    if o.length is not None:
        return o.length
    return arm_length(brief) - ROOM_FOR_CUFF if o.of_arm is None else o.of_arm * arm_length(brief)


def _tell_length(o: SleeveOptions, length: float, side: Side) -> Fact:
    source = "rule" if o.length is None and o.of_arm is None else "choice"
    told = "shoulder point to lower edge, without a cuff"
    return Fact(f"sleeve_length_{side}", length, "mm", source, told, Ruled(SLEEVE_LENGTH, side))


def _widths(brief: Brief, o: SleeveOptions) -> tuple[float, float]:
    """The widths wanted at the underarm and at the lower edge: the arm's girth there and its ease."""
    body = brief.body
    ease = ease_for(brief.fit, brief.own_cloth, body)
    upper = body["upper_arm_girth"] + (ease.upper_arm if o.upper_arm_ease is None else o.upper_arm_ease)
    above = max(body["outer_arm_length"] - _length(brief, o), 0.0)
    share = min(above / body["outer_arm_length"], 1.0)
    rule = ease.wrist + (ease.upper_arm - ease.wrist) * share
    if above > body["lower_arm_length"]:
        rule = max(rule, SHORT_WIDER[brief.fit])
    lower = arm_girth(brief, above) + (rule if o.lower_edge_ease is None else o.lower_edge_ease)
    return upper, min(lower, upper)


def _wish_cap(brief: Brief, o: SleeveOptions, front: float, back: float, inset: float) -> CapWanted:
    length, (width, wrist) = _length(brief, o) + inset, _widths(brief, o)
    heights = cap_heights(cap_kind(brief, o.cap), front + back, length - SHORTEST_UNDERARM, inset)
    eases = pick_eases(KNIT_CAP_EASES, o.cap_ease)
    return CapWanted(
        front, back, front / (front + back), eases, width, width, wrist, length, *heights, wider=TEE_WIDER[brief.fit]
    )


def _cap(brief: Brief, o: SleeveOptions, front: float, back: float, inset: float) -> SolvedCap:
    armhole, length = front + back, _length(brief, o) + inset
    cap = draw_cap(_wish_cap(brief, o, front, back, inset)) if length > SHORTEST_UNDERARM else None
    if cap is None or cap.height < LOWEST_CAP * armhole - TOLERANCE.arc_length:
        raise CannotDraft(
            "length", say("a sleeve of {is_length} ends too near the underarm", is_length=mm(length)),
            short_by=LOWEST_CAP * armhole + SHORTEST_UNDERARM - length,
            help="make the sleeve longer, or leave it out", leave_out=True,
        )  # fmt: skip
    got, arm = cap.width, brief.body["upper_arm_girth"]
    if got * (1.0 + brief.own_cloth.stretch_across / 2.0) < arm:
        raise CannotDraft(
            "upper_arm_girth",
            say(
                "an armhole of {front} takes a sleeve of {got}, the arm is {arm}",
                front=mm(armhole),
                got=mm(got),
                arm=mm(arm),
            ),
            short_by=arm - got,
            help="lower the underarm, or measure the upper arm and the armscye again",
        )
    return cap


def _set_in(garment: Garment, brief: Brief, o: SleeveOptions, hole: Armhole, cap: SolvedCap) -> Garment:
    side = hole.side
    _, wrist = _widths(brief, o)
    kind = cap_kind(brief, o.cap)
    front, back = garment.run_length(hole.front), garment.run_length(hole.back)
    inset, length = shoulder_inset(garment, side), _length(brief, o)
    facts = [
        *cap_facts(kind, front + back, cap, _wish_cap(brief, o, front, back, inset), side),
        _tell_length(o, length, side),
        Fact(f"cap_ease_{side}", cap.ease, "mm", "choice", "shared between front and back by their lengths"),
    ]
    drawn = _piece(cap, wrist, length + inset, elbow_depth(brief) + inset, side)
    sleeve = with_features(drawn, (mark_cap(kind),))
    joined = without_underarm_gap(garment, hole.front[0], hole.back[-1], sleeve, _seam(garment, hole, cap), side)
    return joined.with_(
        solves=(replace(cap.solve, name=f"cap, {side}"),),
        facts=facts,
        aims=(aim_arm(brief, cap.width, o.upper_arm_ease, side),),
    )


def _piece(cap: SolvedCap, wrist: float, length: float, elbow: float, side: Side) -> Piece:
    """Draw the sleeve with its front on -x, then turn it over for a right arm."""
    bottom = cap.height - length
    middle = (cap.back_width - cap.front_width) / 2.0
    left, right = Point(middle - wrist / 2.0, bottom), Point(middle + wrist / 2.0, bottom)
    front_arm, back_arm = Point(-cap.front_width, 0.0), Point(cap.back_width, 0.0)
    back = cap.back.path.mirrored()
    lines = (
        Line(
            "wrist",
            _wrist(left, right, front_arm, back_arm),
            Role.WRIST,
            side,
            Face.NONE,
            Fate.HEMMED,
            f"wrist-{side}",
        ),
        Line("underarm-back", Path.straight(right, back_arm), Role.UNDERARM, side, Face.BACK),
        Line("cap-back", back, Role.CAP, side, Face.BACK),
        Line("cap-front", cap.front.path.reversed(), Role.CAP, side, Face.FRONT),
        Line("underarm-front", Path.straight(front_arm, left), Role.UNDERARM, side, Face.FRONT),
    )
    adjusts = (
        Adjust(name, Path.straight(front_arm.to(left, y / bottom), back_arm.to(right, y / bottom)))
        for name, y in adjust_heights(cap.height - elbow, bottom)
    )
    piece = Piece(
        f"sleeve-{side}",
        say("{side:capital} sleeve", side=side),
        lines,
        side=side,
        features=(
            Level(f"upper-arm-{side}", Path.straight(front_arm, back_arm), side=side),
            *adjusts,
        ),
    )
    return piece if side is Side.LEFT else _turn_over(piece)


def _wrist(left: Point, right: Point, front_arm: Point, back_arm: Point) -> Path:
    """The lower edge: a shallow curve, square to both underarm seams, so that it runs on smoothly round the arm."""
    out = (left - front_arm).unit
    home = (right - back_arm).unit
    reach = left.distance(right) / 3.0
    return Path.cubic(left, left + out.left * reach, right - home.left * reach, right)


def _turn_over(piece: Piece) -> Piece:
    ring = tuple(replace(line, path=line.path.mirrored().reversed()) for line in reversed(piece.ring))
    return carry_features(replace(piece, ring=ring), AffineMotion(Affine.mirror()))


def _seam(garment: Garment, hole: Armhole, cap: SolvedCap) -> Seam:
    """The armhole seam, from the underarm up the front, over the shoulder, down the back."""
    name = f"sleeve-{hole.side}"
    along = hole.side is Side.RIGHT
    front, back = garment.run_length(hole.front), garment.run_length(hole.back)
    sections = (
        Section((hole.front, (Use(name, "cap-front", not along),)), (0.0, cap.front.length - front)),
        Section((hole.back, (Use(name, "cap-back", not along),)), (0.0, cap.back.length - back)),
    )
    return Seam(f"armhole-{hole.side}", ARMHOLE, say("{side} armhole", side=hole.side), sections)
