"""The straight skirt: waist darts and a shaped side seam from waist to hip, straight from there to the hem.

Frame: the body's, the back neck point at y = 0; the waist lies at centre front. Per quarter the suppression is
hip - waist, both with their ease. A third of it is taken out at the side seam, the rest in darts: the back's take out
about 1.7 times what the front's do, and over a belly the front has few or none.

    dart    how many                          how long, of waist to hip    where, of the half waist
    front   one, two where deeper than 32 mm  0.5, the second 0.45         0.5, or 0.38 and 0.7
    back    one, two where deeper than 22 mm  0.7, the second 0.62         0.5, or 0.38 and 0.7

(common practice; the figures from memory). Where a bodice has darts at its waist, the skirt's meet them, and are as
many as long as none takes out more than 35 mm.

The waist is drawn as it is sewn: between the darts it meets each leg square, so that it runs smooth once they are
closed, and it meets the side seam square.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from blocks.skirt_pieces import NEEDS, HalfShape, add_skirt, length_of, length_option, waist_ease_option
from blocks.skirt_waist import USUAL_SKIRT_DART, Spaced, WaistEdge, draw_waist, space_darts
from blocks.waistline import HALVES, Half, HalfWaist, Waist, waist_of
from drafting.body.stride import PAST_KNEE, middle_of_thigh, stride_girth
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Brief, Face, Fact, Garment, Side, Solve, Stage, block, option
from drafting.geometry import Path, Point, hook, root
from drafting.record import dataclass
from drafting.redraw.dart_points import FRONT_OF_SKIRT_DARTS, LEAST_DART, SIDE_MOST
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import DART, SIDE

FACES = (Face.FRONT, Face.BACK)

SIDE_SHARE = TradeValue(1.0 / 3.0, "share", "common practice")
"""Of a quarter's suppression that the side seam takes out: about a third."""

FRONT_SHARE = TradeValue(0.37, "share", "common practice", "the back takes out 1.5 to 2 times what the front does")
"""Of what the darts of a half take out that the front's have: the seat is rounder than the belly."""

DRAWN_DEEPER = TradeValue(1.5, "mm", "derived", "the waist is an arc, and its ends lie nearer to the centre")
"""By which a dart is drawn deeper than the straight waist asks, at most."""

MOST_OF_BACK = TradeValue(97.0, "mm", "derived", "three darts, the deepest of which takes 3.5 cm at most")
"""That the darts of a half back take out at most, beyond which the front takes more."""

MOST_FORWARD = TradeValue(15.0, "mm", "common practice", "5 to 15 mm")
"""That the front half waist is more, and the back less, than a quarter of the waist, at most."""

SIDE_OFF = TradeValue(25.0, "mm", "from memory")
"""That the side seam lies off the middle of the hip at most, for front and back to take out what they should."""

MOST_FLARE = TradeValue(20.0, "mm", "from memory", "more shows as an A-line; a vent does it then")
"""By which each side runs out to the hem at most, by rule, for the wearer to step."""

HANGS_LOWER = TradeValue(10.0, "mm", "derived", "the centre of a hem that is flared hangs some mm lower than its sides")
"""By which a hem that is flared for a stride is made larger than it."""


@dataclass(frozen=True, slots=True)
class SkirtOptions:
    """Options of the straight skirt."""

    length: float | None = length_option()
    waist_ease: float | None = waist_ease_option()
    taper: float | None = option(
        say(
            "How much narrower each side is at the hem than at the hip (less than 0: wider); by rule straight, or up "
            "to {most} wider where that lets the wearer step.",
            most=mm(MOST_FLARE),
        ),
        "length",
        None,
        low=-200.0,
        high=60.0,
    )


@dataclass(frozen=True, slots=True)
class Plan:
    """One side of the skirt: what the side seam takes out of each face (mm), the hip's half width of each (mm).

    ``slope`` is how far the side runs out per mm down, below the hip; ``darts`` whether the waist has any.
    """

    at_side: float
    hips: Mapping[Face, float]
    slope: float
    darts: bool


def suppression(w: Waist) -> float:
    """Return what is to be taken out between waist and hip, right round (mm): hip and ease less waist and ease."""
    return w.hip_girth - w.girth


def plan_of(w: Waist, side: Side, slope: float) -> Plan:
    """Share out the suppression of one side: a third to the seam, up to a limit, the rest to darts; all if it's small.

    Beside a front that is far wider at the waist the back keeps the darts of both: its hip would be too narrow.

    The side seam lies at the hip where the front's darts take out their share. A front whose share isn't worth a dart
    has none, and lies as its waist does.
    """
    waists = {face: w.halves[face, side].length for face in FACES}
    half_hip = w.hip_girth / 2.0
    quarter = (half_hip - sum(waists.values())) / 2.0
    at_side = at_side_of(quarter)
    over_front = waists[Face.FRONT] - waists[Face.BACK] > SIDE_OFF
    if quarter - at_side < (LEAST_DART / 2.0 if over_front else LEAST_DART):
        return Plan(quarter, {face: waist + quarter for face, waist in waists.items()}, slope, False)
    whole = 2.0 * (quarter - at_side)
    met = len(w.halves[Face.FRONT, side].darts) if w.darted else None
    front = _hip_of_front(waists, half_hip, at_side, front_intake(w, whole, met))
    if front - at_side - waists[Face.FRONT] < LEAST_DART:
        bare = Plan(at_side, {}, slope, True)
        edge = draw_waist(w.halves[Face.FRONT, side], Spaced((), (), ()), 0.0, lean_of(bare, w.fall))
        front = edge.end.x + at_side
    return Plan(at_side, {Face.FRONT: front, Face.BACK: half_hip - front}, slope, True)


def at_side_of(quarter: float) -> float:
    """What a side seam takes out of a quarter's suppression, on each face (mm)."""
    return min(max(quarter * SIDE_SHARE, 0.0), SIDE_MOST)


def front_intake(w: Waist, whole: float, met: int | None = None) -> float:
    """What the front's darts take out of what those of a half do (mm): less over a belly.

    Where a bodice has ``met`` darts, no more than as many can where that is usual still; else its own share in one
    more, for the back to have fewer. Where it has none in front for the belly, none. Where there are none to be met, a
    belly below the waist counts, too.
    """
    flat = w.flat if met else w.flat_below
    share = FRONT_SHARE * whole
    if met == 0 and flat < 1.0:
        share = 0.0
    elif met and FRONT_OF_SKIRT_DARTS[0] * whole <= met * (USUAL_SKIRT_DART - DRAWN_DEEPER):
        share = min(share, met * (USUAL_SKIRT_DART - DRAWN_DEEPER))
    return max(share * flat, whole - MOST_OF_BACK)


def _hip_of_front(waists: Mapping[Face, float], half_hip: float, at_side: float, intake: float) -> float:
    """The front's half hip, near enough to the middle, and with something left for the back to take out."""
    wanted = waists[Face.FRONT] + at_side + intake
    near = min(max(wanted, half_hip / 2.0 - SIDE_OFF), half_hip / 2.0 + SIDE_OFF)
    return min(near, half_hip - waists[Face.BACK] - at_side - LEAST_DART)


def forward_of(w: Waist) -> float:
    """How much (mm) of a quarter of a waist without bodice the front takes from the back, for the hips to be alike."""
    quarter = suppression(w) / 4.0
    whole = 2.0 * (quarter - at_side_of(quarter))
    return min(max(whole / 2.0 - front_intake(w, whole), 0.0), MOST_FORWARD)


def lean_of(plan: Plan, fall: float) -> float:
    """How far the side seam runs in per mm up, at the waist.

    From the hip it follows the cubic that starts in the direction of the seam below and is straight at the waist.
    """
    return (3.0 * plan.at_side / fall - plan.slope) / 2.0


def side_path(half_hip: float, slope: float, w: Waist, top: Point, lean: float, hem: float) -> Path:
    """Draw the side seam from the hem up to the waist, on the +x half."""
    at_hip = Point(half_hip, w.hip)
    third = (top.y - w.hip) / 3.0
    upper = Path.cubic(at_hip, at_hip + Point(-slope * third, third), top - Point(-lean * third, third), top)
    return Path.join(Path.straight(Point(half_hip + slope * (w.hip - hem), hem), at_hip), upper)


def solve_waist(face: Face, half: HalfWaist, w: Waist, plan: Plan) -> tuple[WaistEdge, Solve | None]:
    """Draw the waist of a half; what its darts take out is solved so that it ends where the side seam does."""
    lean, target = lean_of(plan, w.fall), plan.hips[face] - plan.at_side
    want = target - half.length
    darts = space_darts(face, half, want, w.fall) if plan.darts else Spaced((), (), ())
    if not darts.at:
        return draw_waist(half, darts, 0.0, lean), None
    try:
        intake, calls = root(
            lambda x: draw_waist(half, darts, x, lean).end.x - target,
            0.0,
            1.9 * min(darts.lengths),
            within=TOLERANCE.same_point / 10.0,
        )
    except GeometryError:
        raise CannotDraft(
            "waist_to_hip",
            say("{want} can't be taken out of a half {face} between waist and hip", want=mm(want), face=face),
            help="measure waist, hip and the height between them again",
        ) from None
    edge = draw_waist(half, darts, intake, lean)
    return edge, Solve(f"waist darts, {face}", target, edge.end.x, calls)


def draw_half(edge: WaistEdge, up: float, w: Waist, plan: Plan, half_hip: float, hem: float) -> HalfShape:
    """Draw a half about its waist, whose centre lies at the height ``up``."""
    by = Point(0.0, up)
    side = side_path(half_hip, plan.slope, w, edge.end + by, lean_of(plan, w.fall), hem)
    low = side.start
    centre = Point(0.0, low.y - 0.5 * low.x * plan.slope)
    hook_or_straight = hook(centre, Point(1.0, 0.0), low, Point(1.0, plan.slope)) if plan.slope else None
    middle = (w.hip + hem) / 2.0
    return HalfShape(
        hook_or_straight or Path.straight(centre, low),
        side,
        tuple(part.moved(by) for part in edge.parts),
        tuple(dart.moved(by) for dart in edge.darts),
        (("hip", Path.straight(Point(0.0, w.hip), Point(half_hip, w.hip))),),
        (
            (
                "skirt",
                Path.straight(Point(0.0, middle), Point(half_hip + plan.slope * (w.hip - middle), middle)),
            ),
        ),
    )


def draw_halves(
    w: Waist, length: float, taper: float
) -> tuple[dict[Half, HalfShape], dict[Half, WaistEdge], list[Solve]]:
    """Draw the four halves; front and back end at one height at the side, so that the back's centre lies lower."""
    hem, slope = w.waist - length, -taper / (length - w.fall)
    plans = {side: plan_of(w, side, slope) for side in (Side.LEFT, Side.RIGHT)}
    solved = {(face, side): solve_waist(face, w.halves[face, side], w, plans[side]) for face, side in HALVES}
    edges = {half: edge for half, (edge, _) in solved.items()}
    drop = sum(edges[Face.BACK, side].end.y - edges[Face.FRONT, side].end.y for side in plans) / 2.0
    ups = {Face.FRONT: w.waist, Face.BACK: w.waist - drop}
    shapes = {}
    for face, side in HALVES:
        plan, edge = plans[side], edges[face, side]
        half_hip = plan.hips[face]
        if not plan.darts:  # the waist is an arc, so that its end lies a little nearer to the centre than it is long
            spare = (w.hip_girth / 2.0 - sum(edges[each, side].end.x for each in FACES)) / 2.0
            half_hip, plan = edge.end.x + spare, replace(plan, at_side=spare)
        shapes[face, side] = draw_half(edge, ups[face], w, plan, half_hip, hem)
    return shapes, edges, [solve for _, solve in solved.values() if solve]


def taper_of(brief: Brief, w: Waist, length: float, given: float | None) -> float:
    """Return by how much each side is drawn in at the hem (mm): as asked, else not, or let out for one to step in.

    Where that takes more than shows as a straight skirt, or past the knee, it stays straight: a vent is wanted, and
    the proof says so.
    """
    if given is not None:
        return given
    height, knee = brief.body["waist_height"] - length, brief.body["knee_height"]
    short = stride_girth(brief.body, height) - w.hip_girth * (1.0 + brief.cloth.stretch_round)
    if not knee - PAST_KNEE <= height <= middle_of_thigh(brief.body) or short <= 0.0:
        return 0.0
    flare = (short + HANGS_LOWER) / (4.0 * (1.0 + brief.cloth.stretch_round))
    return -flare if flare <= MOST_FLARE else 0.0


@block(
    "skirt",
    "A straight skirt with waist darts, from waist, hip and the height between them.",
    Stage.BODY,
    needs=(*NEEDS, "waist_girth_navel"),
    kinds=(DART, SIDE),
    makes="skirt",
)
def draft_straight_skirt(garment: Garment, brief: Brief, o: SkirtOptions) -> Garment:
    """Draft front and back, their darts and side seams."""
    w = waist_of(garment, brief, o, forward_of(waist_of(garment, brief, o)))
    length = length_of(brief, w, o.length)
    taper = taper_of(brief, w, length, o.taper)
    shapes, edges, solves = draw_halves(w, length, taper)
    intakes = tuple(
        Fact(f"dart_{face}_{side}_{i + 1}", intake, "mm", "solve", "intake of a waist dart, at its mouth")
        for (face, side), edge in edges.items()
        for i, intake in enumerate(edge.intakes)
    )
    facts = (
        Fact("skirt_length", length, "mm", "choice", "from waist to hem at centre front"),
        Fact(
            "suppression",
            suppression(w),
            "mm",
            "rule",
            "hip with its ease less waist with its ease, right round",
        ),
        *_tell_flare(taper, o.taper),
        *intakes,
    )
    told = (facts, tuple({(s.name, round(s.target, 6)): s for s in solves}.values()))
    return add_skirt(garment, brief, w, shapes, told)


def _tell_flare(taper: float, given: float | None) -> tuple[Fact, ...]:
    """What a skirt is let out by rule at each side of its hem."""
    says = "by which each side is wider at the hem than at the hip, for the wearer to step"
    return () if given is not None or taper == 0.0 else (Fact("hem_let_out", -taper, "mm", "rule", says),)
