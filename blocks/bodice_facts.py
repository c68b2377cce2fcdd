"""What the knit bodice was drawn to: its frame, its facts with their sources, and the aims that are proved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Final

from blocks.bodice_pieces import BodiceHalf
from blocks.neck import SolvedNeck, knit_slope
from drafting.body import Body
from drafting.cloth import EaseTable, ease_for
from drafting.cloth.band import GOOD_RECOVERY
from drafting.cloth.serve import LEAST_KNIT_STRETCH
from drafting.garment import Aim, Brief, Face, Fact, Girth, LineLength, NeckBase, Side, Solve, Width
from drafting.garment.ruled import (
    ACROSS_GIVEN,
    BUST_DART,
    CENTRE_FRONT_OFF,
    FRONT_DROPPED,
    SCYE_DEPTH,
    SHOULDER_SLOPE,
    UNDERARM_BARE,
)
from drafting.garment.told import Ruled
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.redraw.shapes import ROUNDS, Neckline
from drafting.saying import say
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class BodiceFrame:
    """The heights, widths and neck that both faces of one half share (mm, rad); ``widest`` is an armhole at most.

    The front's neck and shoulder lie ``front_lower`` (mm) lower than the back's, its waist and what is below it
    ``front_dropped`` lower at the centre than at the sides.
    """

    base: SolvedNeck
    slope: float
    bust: float
    waist: float
    hip: float
    hem: float
    quarter_bust: float
    quarter_waist: float
    quarter_hip: float
    shift: float
    half_back: float
    half_front: float
    widest: float
    across_given: float = 0.0
    front_lower: float = 0.0
    front_dropped: float = 0.0
    front_kept: float = 0.0
    """What (mm) the whole front is wider than by rule, for its armhole to be no longer than the back's."""
    widest_front: float = 0.0
    """Half of the across front at most, for that."""
    neck_opened: float = 0.0
    """How far (mm) the neckline is opened along each shoulder."""
    full: float = ROUNDS[1]
    """How hollow the front's armhole is drawn (``redraw.shapes.hollow``)."""

    def side_neck(self, face: Face) -> Point:
        """The side neck point on the +x half of a face."""
        return Point(self.base.half_width, self.base.rise - (self.front_lower if face is Face.FRONT else 0.0))

    @property
    def front_neck(self) -> float:
        """How high (y) the close round neck lies at the centre of the front."""
        return self.side_neck(Face.FRONT).y - self.base.depth

    def along_shoulder(self, face: Face, distance: float) -> Point:
        """The point at a distance (mm) from the side neck point along a face's shoulder."""
        return self.side_neck(face) + Point(1.0, 0.0).turned(-self.slopes[face]) * distance

    @property
    def slopes(self) -> Mapping[Face, float]:
        """The slopes of the shoulder on both faces (rad)."""
        return {face: knit_slope(self.slope, face, self.base.ahead) for face in (Face.FRONT, Face.BACK)}

    def necklines(self, front: tuple[str, float], back: tuple[str, float]) -> Mapping[Face, Neckline]:
        """The necklines of both faces, each of a shape and so far below the neck base, opened along the shoulder."""
        asked = ((Face.FRONT, front, self.front_neck), (Face.BACK, back, 0.0))
        return {
            face: Neckline(shape, self.along_shoulder(face, self.neck_opened), Point(0.0, base - drop))
            for face, (shape, drop), base in asked
        }


@dataclass(frozen=True, slots=True)
class BodiceSide:
    """One half of the body, front and back: its underarm's height, its shoulder's length (mm), the armhole's solve.

    ``short`` is what the armhole's back is too short by beside its front (mm); less than 0: too long.
    """

    frame: BodiceFrame
    front: BodiceHalf
    back: BodiceHalf
    underarm: float
    shoulder: float
    solve: Solve | None
    short: float = 0.0


def facts_of(brief: Brief, ease: EaseTable, halves: Mapping[Side, BodiceSide]) -> tuple[Fact, ...]:
    """Return the numbers the bodice was drawn to, and where each comes from."""
    left, body = halves[Side.LEFT], brief.body
    both = (_half_facts(half, body) for half in halves.values())
    return (*sort_sides(*both), *_shared_facts(left.frame, ease, body))


def neck_base_of(halves: Mapping[Side, BodiceSide]) -> NeckBase:
    """Return where the neck base lies: that of both halves."""
    f = halves[Side.LEFT].frame
    return NeckBase(f.base.half_width, f.front_neck)


def _half_facts(half: BodiceSide, body: Body) -> Iterator[Fact]:
    told = "scye depth length plus ease, lowered if the arm needs it"
    armhole = half.front.armhole.length + half.back.armhole.length
    relief = "measured slope less 4 degrees, on average within 12 to 32; the front up to 4.5 steeper, the back flatter"
    yield Fact("shoulder_slope", half.frame.slope, "rad", "rule", relief)
    yield Fact("scye_depth", -half.underarm, "mm", "body", told)
    yield Fact("armhole", armhole, "mm", "solve", "front and back")
    extra = half.shoulder - body["shoulder_length"]
    if extra > TOLERANCE.same_point:
        told = "longer shoulder: the across back lies farther out"
        yield Fact("shoulder_lengthened", extra, "mm", "rule", told)


def _shared_facts(f: BodiceFrame, ease: EaseTable, body: Body) -> Iterator[Fact]:
    told = "so that the close neck seam is neck base girth plus ease"
    yield Fact("neck_half_width", f.base.half_width, "mm", "solve", told)
    yield Fact("neck_front", f.front_neck, "mm", "solve", "height of the close round neck at centre front")
    yield Fact("neck_base_seam", f.base.solve.reached, "mm", "solve", "the close round neck before it is opened")
    told = "a knit top wants 20 to 30 % stretch (common practice)"
    yield Fact("needs_stretch_low", LEAST_KNIT_STRETCH, "share", "rule", told)
    yield Fact("needs_recovery", GOOD_RECOVERY, "share", "rule", "and elastane for recovery (common practice)")
    if f.front_lower > TOLERANCE.same_point:
        told = "front neck and shoulder lower than the back's: the body's front is that much shorter over the bust"
        yield Fact("front_lower", f.front_lower, "mm", "rule", told)
    if f.front_dropped > TOLERANCE.same_point:
        told = "front waist and hem lower at the centre than at the sides: the body's front is longer over the bust"
        yield Fact("front_dropped", f.front_dropped, "mm", "rule", told, Ruled(FRONT_DROPPED))
    if f.across_given > TOLERANCE.same_point:
        told = "narrower across back and front, each: the arm needs the room"
        yield Fact("across_given", 2.0 * f.across_given, "mm", "rule", told, Ruled(ACROSS_GIVEN))
    if f.across_given < -TOLERANCE.same_point:
        told = "wider across back and front, each: a full bust would leave the armhole too wide for the arm"
        yield Fact("across_gained", -2.0 * f.across_given, "mm", "rule", told)
    if f.front_kept > TOLERANCE.same_point:
        told = "wider across the front, within its ease: its armhole would be longer than the back's"
        yield Fact("front_kept", f.front_kept, "mm", "rule", told)
    if abs(f.shift) > TOLERANCE.same_point:
        told = "side seam moved forward (less than 0: back) for a broad back, or for the armhole's front and back"
        yield Fact("side_shift", f.shift, "mm", "rule", told)
    raised = 4.0 * (f.quarter_bust - (body["bust_girth"] + ease.bust) / 4.0)
    if raised > 4.0 * TOLERANCE.same_point:
        yield Fact("bust_raised", raised, "mm", "rule", "more bust ease: across back and arm need it")
    for name, value in ease.figures().items():
        yield Fact(f"ease_{name}", value, "mm", "ease", ease.reasons.get(name, ""))


def aims_of(brief: Brief, ease: EaseTable, halves: Mapping[Side, BodiceSide]) -> tuple[Aim, ...]:
    """Return the measures that the finished top is to have, but for those whose level a cropped one doesn't reach."""
    body, f, fit = brief.body, halves[Side.LEFT].frame, ease_for(brief.fit, brief.cloth, brief.body)
    wide = body["across_back_width"]
    backs = [half.back for half in halves.values()]
    across = sum(back.armhole_curve.x_at_level(back.frame.level) for back in backs)
    aims = [
        Aim(
            Girth("bust"),
            body.called.get("bust", "bust"),
            body["bust_girth"],
            4.0 * f.quarter_bust - body["bust_girth"],
            ruled=4.0 * f.quarter_bust - body["bust_girth"] - ease.bust,
        ),
        Aim(Girth("waist"), "waist", body["waist_girth"], ease.waist, meant=ease.waist - fit.waist),
        Aim(Girth("hip"), "hip", body["hip_girth"], ease.hip),
        Aim(Width("across-back"), "across back", wide, across - wide, ruled=across - wide - ease.across_back),
    ]
    for side, half in halves.items():
        extra = half.shoulder - body["shoulder_length"] - f.neck_opened
        aims.append(
            Aim(
                LineLength(f"shoulder-{side}"),
                say("shoulder seam, {side}", side=side),
                body["shoulder_length"],
                extra,
                side,
            )
        )
    beyond = [measure for measure, y in ((Girth("waist"), f.waist), (Girth("hip"), f.hip)) if y < f.hem]
    return tuple(aim for aim in aims if aim.measure not in beyond)


def sort_sides(left: Iterable[Fact], right: Iterable[Fact]) -> Iterator[Fact]:
    """Yield the facts of both halves; where they differ, or one half alone has one, named ``..._left``, ``..._right``.

    Each half tells its facts by the names they have on a garment whose halves agree. What later steps reckon with is
    said to be so, of both halves or of one.
    """
    halves = {side: {fact.name: fact for fact in told} for side, told in ((Side.LEFT, left), (Side.RIGHT, right))}
    one, two = halves.values()
    for name in dict.fromkeys((*one, *two)):
        if name in one and name in two and abs(one[name].value - two[name].value) <= TOLERANCE.same_point:
            yield replace(one[name], ruled=_rule(name))
        else:
            yield from (
                replace(half[name], name=f"{name}_{side}", ruled=_rule(name, side))
                for side, half in halves.items()
                if name in half
            )


RULED: Final = {
    "scye_depth": SCYE_DEPTH,
    "shoulder_slope": SHOULDER_SLOPE,
    "underarm_raised": UNDERARM_BARE,
    "across_given": ACROSS_GIVEN,
    "bust_dart": BUST_DART,
    "centre_front_off": CENTRE_FRONT_OFF,
}
"""What of a half's facts later steps reckon with, each as the figure that it is of."""


def _rule(name: str, side: str = "") -> Ruled | None:
    return Ruled(RULED[name], side) if name in RULED else None
