"""What the darted bodice was drawn to: its options, its facts with their sources, and the aims that are proved."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from blocks.arm import width_at
from blocks.back_shoulder import BLADE_INTAKES, SHOULDER_EASE, Shaping, shape_shoulder
from blocks.bodice_facts import sort_sides
from blocks.darted_back import BackHalf
from blocks.darted_frame import Neck, Widths
from blocks.darted_front import FrontHalf
from blocks.over_bust import added_over_bust, bust_dart
from blocks.waist_darts import USUAL_WAIST_DART
from drafting.body import Body
from drafting.cloth import EaseTable, ease_for
from drafting.garment import Aim, Brief, Face, Fact, Girth, LineLength, NeckBase, Side, Solve, Width, option
from drafting.garment.armholes import hollow_of
from drafting.garment.darts import angle
from drafting.record import dataclass
from drafting.redraw.dart_points import MOUTH_BELOW_UNDERARM, SET_BACKS
from drafting.redraw.shapes import ArmholeCurve
from drafting.saying import Span, mm, say, span
from drafting.tolerance import TOLERANCE


def _span(row: Sequence[float]) -> Span:
    least, most = row
    return span(mm(least), mm(most))


@dataclass(frozen=True, slots=True)
class DartedBodiceOptions:
    """Options of the darted bodice."""

    to: str = option("Where the bodice ends.", "choice", "waist", choices=("waist", "hip"))
    bust_ease: float | None = option(
        "How much more than the body the bust is; by rule it follows the fit.", "length", None, low=0.0, high=250.0
    )
    waist_ease: float | None = option(
        "How much more than the body the waist is; by rule it follows the fit.", "length", None, low=0.0, high=300.0
    )
    hip_ease: float | None = option(
        "How much more than the body the hip is; by rule it follows the fit.", "length", None, low=0.0, high=300.0
    )
    underarm_drop: float | None = option(
        "How far the underarm lies below the armpit, at least; by rule it follows the fit.",
        "length",
        None,
        low=0.0,
        high=120.0,
    )
    bust_dart_drop: float | None = option(
        say(
            "How far below the bust point the bust dart's lower leg meets the side seam (less than 0: above it); by "
            "rule level with it, but {mouth} below the underarm.",
            mouth=_span(MOUTH_BELOW_UNDERARM),
        ),
        "length",
        None,
        low=-60.0,
        high=100.0,
    )
    set_back: float | None = option(
        say(
            "How far short of the bust point the darts end; by rule {backs}, the farther the more a dart takes in.",
            backs=_span(SET_BACKS),
        ),
        "length",
        None,
        low=0.0,
        high=50.0,
    )
    back_shoulder: str = option(
        "How the back is shaped over the shoulder blade.", "choice", "dart", choices=("dart", "ease")
    )
    shoulder_dart: float | None = option(
        say(
            "What the back shoulder's dart takes in; by rule {usual}, by the shoulder and how far the back stoops: an "
            "erect one is eased.",
            usual=_span(BLADE_INTAKES),
        ),
        "length",
        None,
        low=5.0,
        high=20.0,
    )
    shoulder_ease: float | None = option(
        say(
            "How much longer the back's shoulder is than the front's, the dart closed; by rule {usual}, without a dart "
            "{without}.",
            usual=mm(SHOULDER_EASE["with a dart"]),
            without=mm(SHOULDER_EASE["without"]),
        ),
        "length",
        None,
        low=0.0,
        high=15.0,
    )

    centre_back: float = option(
        "How far each half is taken in at the waist by a seam at the centre back; 0 leaves it straight, without a seam "
        "of its own.",
        "length",
        0.0,
        low=0.0,
        high=20.0,
    )

    def shape_back(self, body: Body) -> Shaping:
        """Return the back shoulder's shaping for a body."""
        return shape_shoulder(body, self.back_shoulder == "dart", self.shoulder_dart, self.shoulder_ease)


@dataclass(frozen=True, slots=True)
class DartedSide:
    """One half of the body, front and back, its armhole, and the solve it was drawn by.

    ``raised`` is by how much (mm) a sleeveless underarm lies above a sleeved one's, and is taken in; ``cut_in`` and
    ``cut_in_back`` how much farther in its front and its back lie, with the shoulder's end. ``wanted`` is how long (mm)
    the armhole with a sleeve was solved for, 0 where it was long enough.
    """

    front: FrontHalf
    back: BackHalf
    front_hole: ArmholeCurve
    back_hole: ArmholeCurve
    widths: Widths
    neck: Neck
    solve: Solve | None
    raised: float = 0.0
    cut_in: float = 0.0
    cut_in_back: float = 0.0
    wanted: float = 0.0

    @property
    def across_back(self) -> float:
        """Half of the across back that the armhole reached (mm)."""
        return self.back_hole.x_at_level(self.back.arm.level)

    @property
    def underarm(self) -> float:
        """How wide front and back are at the underarm (mm): half of the girth there."""
        return self.front.arm.underarm.x + self.back.arm.underarm.x

    @property
    def lowest(self) -> float:
        """The height (mm, y) of the armhole's lowest place: the back's, which no bust dart turns on the paper."""
        return self.back_hole.path.bounds[1]

    @property
    def back_longer(self) -> float:
        """By how much the back of the armhole is longer than its front (mm)."""
        return self.back_hole.length - self.front_hole.length

    @property
    def hollower(self) -> float:
        """By how much the front of the armhole is more hollow than its back (mm)."""
        return hollow_of(self.front_hole.path) - hollow_of(self.back_hole.path)

    @property
    def width(self) -> float:
        """How wide the armhole is (mm), front and back."""
        return width_at(self.front_hole.path, self.back_hole.path)


def facts_of(
    brief: Brief, o: DartedBodiceOptions, ease: EaseTable, halves: Mapping[Side, DartedSide]
) -> tuple[Fact, ...]:
    """Return the numbers the bodice was drawn to, and where each comes from."""

    def of_half(half: DartedSide) -> tuple[Fact, ...]:
        return (*_shape_facts(half, o), *_dart_facts(brief, half), *_given_way(brief, half))

    return (
        Fact("needs_knit", 0.0, "", "rule", "drafted for wovens; a knit may be used"),
        Fact("needs_stretch_low", 0.0, "share", "rule", "shaped by darts, not by stretch"),
        *sort_sides(of_half(halves[Side.LEFT]), of_half(halves[Side.RIGHT])),
        *(Fact(f"ease_{k}", v, "mm", "ease", ease.reasons.get(k, "")) for k, v in ease.figures().items()),
    )


def neck_base_of(halves: Mapping[Side, DartedSide]) -> NeckBase:
    """Return where the neck base lies: that of both halves."""
    frame = halves[Side.LEFT].front.frame
    return NeckBase(frame.neck_width, frame.front_neck - frame.neck_depth)


def _shape_facts(half: DartedSide, o: DartedBodiceOptions) -> tuple[Fact, ...]:
    f, front, back = half.front.frame, half.front, half.back
    front_hole, back_hole = half.front_hole.length, half.back_hole.length
    relief = "measured slope less 4 degrees, on average within 12 to 32"
    return (
        Fact("shoulder_slope_front", f.slope_front, "rad", "rule", f"{relief}; the front 2 steeper than the mean"),
        Fact("shoulder_slope_back", f.slope_back, "rad", "rule", f"{relief}; the back 2 flatter than the mean"),
        Fact("shoulder_ease", f.shaping.ease, "mm", "choice", "eased onto the front, the dart closed"),
        Fact("shoulder_dart", f.shaping.dart, "mm", "body", "by the shoulder's length and how far the back stoops"),
        Fact("scye_depth", -back.arm.underarm.y, "mm", "body", "scye depth length plus ease, lowered if the arm needs"),
        Fact("neck_half_width", f.neck_width, "mm", "solve", "so that the neck seam is neck base girth plus ease"),
        Fact("neck_front_depth", f.neck_depth, "mm", "body", "leaves the front neck point to waist as measured"),
        Fact(
            "neck_front",
            f.front_neck - f.neck_depth,
            "mm",
            "body",
            "the front neck point, below the back's",
        ),
        Fact("neck_base_seam", half.neck.solve.reached, "mm", "solve", "front and back together"),
        Fact("armhole", front_hole + back_hole, "mm", "solve", "front and back"),
        Fact("armhole_front", front_hole, "mm", "solve", "from underarm to shoulder"),
        Fact("armhole_back", back_hole, "mm", "solve", "from underarm to shoulder"),
        Fact(
            "across_front_half",
            half.front_hole.x_at_level(front.arm.level),
            "mm",
            "rule",
            say("{figures} less than back; a broad chest's as it is", figures=span(mm(15), mm(60))),
        ),
        Fact(
            "underarm_girth",
            2.0 * half.underarm,
            "mm",
            "rule",
            "upper chest plus the bust's ease, as far as the side seam may lean",
        ),
        Fact("bust_point_out", f.bust_point.x, "mm", "body", "half of the bust point width"),
        Fact(
            "bust_point_down", f.side_neck(Face.FRONT).distance(f.bust_point), "mm", "body", "from the side neck point"
        ),
    )


def _dart_facts(brief: Brief, half: DartedSide) -> tuple[Fact, ...]:
    f, taken = half.front.frame, half.back.frame.suppression
    turned = angle(half.front.dart) if half.front.dart else 0.0
    return (
        Fact(
            "bust_dart", f.dart, "mm", "body", "front length over the bust less back length, from the side neck point"
        ),
        Fact("bust_dart_angle", turned, "rad", "solve", "between the legs"),
        Fact("waist_suppression", taken.whole, "mm", "body", "per half: (bust + ease - waist - ease) / 2"),
        Fact(
            "waist_at_side",
            taken.side,
            "mm",
            "rule",
            say("per half: the first {figure}, then a fifth, at most 50", figure=mm(20)),
        ),
        Fact("waist_at_centre_back", taken.centre, "mm", "choice", "as asked for, by a seam there"),
        Fact("waist_dart_front", taken.front, "mm", "rule", "by how full the bust is in front; over a belly less"),
        Fact("waist_dart_back", taken.back, "mm", "rule", "what side seam and front leave"),
        Fact(
            "waist_dart_side_back",
            taken.second,
            "mm",
            "rule",
            say("more than {most} in the back, or over a full seat: two, 11 to 9", most=mm(USUAL_WAIST_DART)),
        ),
    )


def _given_way(brief: Brief, half: DartedSide) -> tuple[Fact, ...]:
    """What a rule had to give, for this body."""
    body, f, w = brief.body, half.front.frame, half.widths
    wanted, bone = bust_dart(body), body["shoulder_length"]
    long_waist = f.front_neck - f.neck_depth - _centre_waist(half)
    given = (
        ("front_longer_for_cup", added_over_bust(body), "over the bust: the bust is full beside the under bust"),
        ("bust_raised", w.bust_raised, "more bust ease: the armhole needs the room"),
        ("across_given", w.across_given, "narrower across back and front, each: the arm needs the room"),
        ("across_wider", w.across_wider, "wider across the back: the armhole would be wide for arm and bust"),
        ("waist_raised", w.waist_raised, "more waist ease: darts and side seam take in no more"),
        ("shoulder_lengthened", f.shoulder + half.cut_in_back - bone, "the across back lies farther out"),
        (
            "bust_dart_in_armhole",
            wanted - f.dart,
            "left in the armhole: no room for more beside the bust, or below the underarm",
        ),
        ("armhole_cut_in", half.cut_in, "in front: no sleeve"),
        ("armhole_cut_in_back", half.cut_in_back, "at the back, and the shoulder as much shorter: no sleeve"),
        ("underarm_raised", half.raised, "and taken in at the side as much: no sleeve"),
        ("centre_front_off", long_waist - body["front_neck_point_to_waist"], "the front neck is held to a fair depth"),
    )
    return tuple(
        Fact(name, value, "mm", "rule", why) for name, value, why in given if abs(value) > TOLERANCE.sewn_length
    )


def _centre_waist(half: DartedSide) -> float:
    line = half.front.side.waist
    return half.front.frame.waist if line is None else line.curves[0].a.y


def aims_of(brief: Brief, ease: EaseTable, halves: Mapping[Side, DartedSide]) -> tuple[Aim, ...]:
    """Return the measures that the finished bodice is to have."""
    body, w, fit = brief.body, halves[Side.LEFT].widths, ease_for(brief.fit, brief.cloth, brief.body)
    bust, waist, hip = (body[f"{place}_girth"] for place in ("bust", "waist", "hip"))
    wide = body["across_back_width"]
    backs = [half.back for half in halves.values()]
    across = sum(half.across_back for half in halves.values())
    cut_in = math.fsum(half.cut_in_back for half in halves.values())
    wider = min(w.across_wider, max(across - wide - ease.across_back, 0.0))  # as far as its armhole reached
    round_bust = math.fsum(half.widths.bust for half in (halves[Side.LEFT], halves[Side.RIGHT]))
    aims = [
        Aim(
            Girth("bust"),
            body.called.get("bust", "bust"),
            bust,
            round_bust - bust,
            meant=ease.bust - fit.bust,
            ruled=round_bust - bust - ease.bust,
        ),
        Aim(
            Girth("waist"),
            "waist",
            waist,
            2.0 * w.waist - waist,
            meant=ease.waist - fit.waist,
            ruled=2.0 * w.waist - waist - ease.waist,
        ),
        Aim(Width("across-back"), "across back", wide, across - wide, meant=wider - w.across_given - cut_in),
    ]
    if backs[0].frame.hip is not None:
        aims.append(Aim(Girth("hip"), "hip", hip, 2.0 * w.hip - hip, meant=ease.hip - fit.hip))
    for side, half in halves.items():
        extra = half.front.frame.shoulder - body["shoulder_length"]
        aims.append(
            Aim(
                LineLength(f"shoulder-{side}"),
                say("shoulder seam, {side}", side=side),
                body["shoulder_length"],
                extra,
                side,
                -half.cut_in_back,
            )
        )
    return tuple(aims)
