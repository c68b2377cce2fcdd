"""The asymmetric overlay: a second layer that hangs from a diagonal across the body.

On front and back a V neckline; its edge at the covered shoulder runs on past the centre, as a diagonal style line, to
the opposite side seam under the arm. That parts a small shoulder piece from the main piece. The overlay follows the
diagonal, covers the shoulder it starts from, runs down over the arm on a convex edge, is caught in the far side seam on
a concave edge, and hangs free below. One seam in the round takes all three layers.
"""

from __future__ import annotations

import math
from dataclasses import replace

from blocks.neck import knit_slope
from blocks.overlay_adjusts import DrawnOverlay, agree_on_heights, overlay_adjusts
from blocks.overlay_hem import caught_to_hem
from blocks.overlay_lines import (
    Depth,
    Diagonal,
    Ground,
    Hang,
    as_long_as,
    caught_length,
    draw_diagonal,
    draw_neck,
    draw_overlay,
    fall_of,
    find_ground,
    over_arm,
    shoulder_reach,
)
from blocks.overlay_seams import CAUGHT_SIDE, COVERED_NECK, IN_THE_ROUND, ON_THE_DIAGONAL
from blocks.stays import AROUND, TAPE_WIDTH, bind_edges
from blocks.strips import BINDING, BandSpec, band_facts, draw_straight_strip
from drafting.cloth import band_length
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    NeckBase,
    Piece,
    Role,
    Run,
    Seam,
    Section,
    Side,
    Stage,
    Use,
    Zone,
    block,
    one_side_option,
    option,
)
from drafting.garment.carry import with_only
from drafting.garment.ruled import SHOULDER_SLOPE, list_ruled
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.redraw.onto import sew_edges
from drafting.redraw.parting import Cut, Place, part_piece, with_split
from drafting.saying import cm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.work.kinds import SHOULDER

FACES = (Face.FRONT, Face.BACK)

V_DEPTHS = trade_table({Face.FRONT: 75.0, Face.BACK: 110.0}, "mm", "from memory")
"""Below the neck base that the overlay's V lies by rule."""

SHORTEST_BINDING = TradeValue(40.0, "mm", "from memory")
"""Of neck edge at least that can be bound."""

OVER_ARM_FALL = TradeValue(math.radians(58.0), "rad", "from memory")
"""Off the level, by which the convex edge falls over a hanging arm when there is no extra fullness."""

FULLNESS_LIFT = TradeValue(math.radians(28.0), "rad", "from memory")
"""By which that edge falls less steeply at full fullness: the more it stands out, the more cloth hangs in folds."""


ARM_DROPPED, OVERLAY_LONG = trade_row((0.42, 0.7), "share", "from memory")
"""Of the arm, that an overlay runs down over it by rule; of the way from nape to waist, that it is long from its V."""


@dataclass(frozen=True, slots=True)
class OverlayOptions:
    """Options of the asymmetric overlay."""

    side: str = one_side_option("Which shoulder the overlay covers.", "right")
    front_depth: float | None = option(
        say(
            "How far the front V lies below the neck base;"
            " by rule {usual}, or the nearest at which the edge runs smoothly.",
            usual=cm(7.5),
        ),
        "length", None, low=10.0, high=250.0, shapes=Role.NECKLINE,
    )  # fmt: skip
    back_depth: float | None = option(
        say(
            "How far the back V lies below the neck base;"
            " by rule {usual}, or the nearest at which the edge runs smoothly.",
            usual=cm(11),
        ),
        "length", None, low=10.0, high=300.0, shapes=Role.NECKLINE,
    )  # fmt: skip
    side_drop: float = option(
        "How far below the underarm the diagonal meets the side seam.", "length", 45.0, low=15.0, high=200.0
    )
    arm_drop: float | None = option(
        "How far the overlay runs down over the arm; by rule two fifths of the arm.",
        "length", None, low=60.0, high=600.0,
    )  # fmt: skip
    caught: float | None = option(
        "How much of the far side seam the overlay is caught in;"
        " by rule about a third of the way from the back neck point to the waist, or nearly all there is; up to 6 cm"
        " more where its hem would dip and rise again to the side, if arm_drop is by rule, too.",
        "length", None, low=40.0, high=500.0,
    )  # fmt: skip
    front_length: float | None = option(
        "From the front V straight down to the overlay's hem; by rule seven tenths of the back neck point to waist.",
        "length", None, low=80.0, high=900.0,
    )  # fmt: skip
    back_length: float | None = option(
        "From the back V straight down to the overlay's hem; by rule seven tenths of the back neck point to waist.",
        "length", None, low=80.0, high=900.0,
    )  # fmt: skip
    fullness: float = option("How full it hangs over the arm, from none to all.", "ratio", 0.25, low=0.0, high=1.0)
    covered_neck: str = option(
        "How the neck under the overlay is finished: turned, the overlay sewn to it and turned out, or topstitched.",
        "choice", "turned", choices=("turned", "topstitched"),
    )  # fmt: skip
    hem: float | None = option(
        "How deep the overlay's own hem is turned, narrow for it is round; by default as the other hems.",
        "length", None, low=5.0, high=50.0,
    )  # fmt: skip
    binding: float = option(
        "Finished width of the neck binding on the shoulder pieces.", "length", 8.0, low=5.0, high=20.0
    )


@block(
    "asymmetric-overlay",
    "A second layer that hangs from a diagonal across the body, over one shoulder and down over the arm.",
    Stage.STYLE,
    needs=("back_neck_point_to_waist", "outer_arm_length", "shoulder_length"),
    kinds=(ON_THE_DIAGONAL, COVERED_NECK, IN_THE_ROUND, CAUGHT_SIDE, SHOULDER, BINDING),
    redraws=(Role.NECKLINE,),
)
def draft_asymmetric_overlay(garment: Garment, brief: Brief, o: OverlayOptions) -> Garment:
    """Draw the overlay onto front and back."""
    far = Side(o.side).other
    neck, slope = _find_neck(garment, Side(o.side))
    fall = OVER_ARM_FALL - FULLNESS_LIFT * o.fullness - slope
    found = {face: find_ground(garment, face, far) for face in FACES}
    back = brief.body["back_neck_point_to_waist"]
    caught = caught_length(found.values(), o.side_drop, back, o.caught)
    usual = OVERLAY_LONG * back
    arm_drop = ARM_DROPPED * brief.body["outer_arm_length"] if o.arm_drop is None else o.arm_drop
    hung: dict[Face, tuple[Ground, Diagonal, Hang]] = {}
    for face, depth, length in (
        (Face.FRONT, Depth(o.front_depth, V_DEPTHS[Face.FRONT]), usual if o.front_length is None else o.front_length),
        (Face.BACK, Depth(o.back_depth, V_DEPTHS[Face.BACK]), usual if o.back_length is None else o.back_length),
    ):
        ground, base = found[face], Point(0.0, neck.centre(face))
        diagonal = draw_diagonal(ground, base, depth, o.side_drop)
        reach = shoulder_reach(ground, neck.half_width, brief.body["shoulder_length"])
        moved = fall_of(ground, ground.shoulder_cover) - knit_slope(slope, face)  # the arm hangs where it hung
        hang = Hang(reach, arm_drop, fall - moved, caught, diagonal.style.start.y - length, o.hem)
        if hung:
            front, _, first = hung[Face.FRONT]
            hang = as_long_as(ground, hang, over_arm(front, first).length)
        hung[face] = ground, diagonal, hang
    if o.caught is None and o.arm_drop is None:
        caught = caught_to_hem(list(hung.values()), o.side_drop)
    drawn = {
        face: DrawnOverlay(ground, draw_overlay(ground, diagonal, replace(hang, caught=caught)))
        for face, (ground, diagonal, hang) in hung.items()
    }
    agreed = agree_on_heights(drawn)
    overlays = [_overlay_piece(each) for each in agreed.values()]
    for face, each in agreed.items():
        garment = _part_along_diagonal(garment, face, each.ground, hung[face][1])
    garment = _part_side(garment.with_(pieces=overlays), far, caught)
    around = _round_seam(garment, far)
    sewn = (around,) if o.covered_neck == "topstitched" else _part_round_seam(around)
    joined = garment.with_(pieces=sew_edges(garment, around.uses()), seams=(*_joins(garment, far), *sewn))
    return _bind_neck(joined, brief, o, far).with_(facts=_facts(overlays, o))


def _find_neck(garment: Garment, side: Side) -> tuple[NeckBase, float]:
    """The neck base, and how steep the covered shoulder was drafted (rad): of sides measured apart each has its own."""
    slopes = list_ruled(garment, SHOULDER_SLOPE, side)
    if not slopes or garment.neck_base is None:
        raise CannotDraft(
            "",
            "an overlay is drafted onto a bodice for knits, and there is none before it",
            help="let the design have a bodice for knits",
            leave_out=True,
        )
    return garment.neck_base, slopes[-1].value


def _overlay_piece(drawn: DrawnOverlay) -> Piece:
    ground, face = drawn.ground, drawn.ground.face
    return Piece(
        f"overlay-{face}",
        say("{face:capital} overlay", face=face),
        drawn.ring,
        side=ground.far.other,
        face=face,
        features=(Zone("neckline", TAPE_WIDTH, "stay tape at the overlay's neck edge"), *overlay_adjusts(drawn)),
    )


def _part_along_diagonal(garment: Garment, face: Face, ground: Ground, diagonal: Diagonal) -> Garment:
    """Give the piece its V neck and part the small shoulder piece from it along the diagonal."""
    garment = garment.with_(pieces=[draw_neck(ground, diagonal)])
    main, small = (
        (ground.piece.name, ground.piece.title),
        (f"shoulder-{face}", say("{face:capital} shoulder piece", face=face)),
    )
    neck = garment.piece(ground.piece.name).line(ground.neck_far.name)
    v = diagonal.style.start
    start = Place(neck.name, neck.path.length if neck.path.end.near(v, 0.001) else 0.0)
    end = Place(ground.side_far.name, diagonal.side_s)
    # The style line runs from the V to the far side: the shoulder piece lies to its left if the far side is on +x.
    left, right = (main, small) if ground.flipped else (small, main)
    cut = Cut(start, end, diagonal.style, "diagonal", left, right)
    parted = part_piece(garment, ground.piece.name, cut, "diagonal")
    piece = parted.piece(small[0])
    zones = [Zone(line.name, TAPE_WIDTH, AROUND) for line in piece.lines(role=Role.NECKLINE)]
    zones += [zone for zone in piece.zones if piece.line(zone.line).role is Role.SHOULDER]
    side = ground.far
    return parted.with_(pieces=[with_only(replace(piece, side=side), Zone, zones)]).without(
        seams=[f"diagonal-{main[0]}"]
    )


def _part_side(garment: Garment, far: Side, caught: float) -> Garment:
    """Part the far side seam at the diagonal: above, the shoulder pieces; below, the main pieces and the overlay."""
    name = f"side-{far}"
    for use in tuple(garment.seam(name).uses()):
        if use.piece in FACES:
            path = garment.line(use).path
            rising = path.end.y > path.start.y
            garment = with_split(garment, use.piece, use.line, path.length - caught if rising else caught)
    seam = garment.seam(name)
    front, back = seam.plies
    small = {f"shoulder-{face}" for face in FACES}
    upper = tuple(tuple(u for u in run if u.piece in small) for run in (front, back))
    lower = tuple(tuple(u for u in run if u.piece not in small) for run in (front, back))
    free = tuple(run[:1] for run in lower)
    held = tuple(run[1:] for run in lower)
    caught_edges = tuple(
        (_use(garment, f"overlay-{face}", "caught", garment.path(run[0]).start),)
        for face, run in zip(FACES, held, strict=True)
    )
    eased = _side_ease(garment, seam, (free, held, upper))
    below = Seam(
        f"{name}-below",
        CAUGHT_SIDE,
        say("{side} side seam below the diagonal, the overlay caught in it", side=far),
        (
            Section((*free, (), ()), (0.0, eased[0], 0.0, 0.0)),
            Section((*held, *caught_edges), (0.0, eased[1], 0.0, eased[1])),
        ),
        hangs=(2, 3),
    )
    above = replace(
        seam, title=say("{side} side seam above the diagonal", side=far), sections=(Section(upper, (0.0, eased[2])),)
    )
    return garment.with_(seams=(above, below))


def _side_ease(garment: Garment, seam: Seam, stretches: tuple[tuple[Run, ...], ...]) -> list[float]:
    """The ease of each stretch of a side seam (mm), which is eased where a full bust made its front longer.

    CannotDraft if together they aren't the ease that the whole seam states.
    """
    differ = [garment.run_length(back) - garment.run_length(front) for front, back in stretches]
    if abs(sum(differ) - seam.ease[1]) > TOLERANCE.sewn_length:
        raise CannotDraft(seam.name, "the side seam isn't as it states", help="let the overlay come first")
    return [ease if abs(ease) > TOLERANCE.arc_length else 0.0 for ease in differ]


def _use(garment: Garment, piece: str, line: str, start: Point) -> Use:
    """The use of a line that starts at the given point."""
    path = garment.piece(piece).line(line).path
    return Use(piece, line, path.start.distance(start) > path.end.distance(start))


def _joins(garment: Garment, far: Side) -> tuple[Seam, ...]:
    """The overlay's own seam over the shoulder and the arm."""
    neck = _neck_point(garment, Face.FRONT), _neck_point(garment, Face.BACK)
    plies = tuple((_use(garment, f"overlay-{face}", "over-arm", at),) for face, at in zip(FACES, neck, strict=True))
    title = say("front to back overlay over the {other} shoulder and arm", other=far.other)
    return (Seam("over-arm", SHOULDER, title, (Section(plies, (0.0, 0.0)),)),)


def _neck_point(garment: Garment, face: Face) -> Point:
    """Where the overlay's neck edge meets its edge over the arm."""
    piece = garment.piece(f"overlay-{face}")
    neck, over = piece.line("neckline").path, piece.line("over-arm").path
    return over.start if over.start.near(neck.end, 0.001) or over.start.near(neck.start, 0.001) else over.end


def _round_seam(garment: Garment, far: Side) -> Seam:
    """The seam in the round: from the covered shoulder down the front's neck and diagonal, and up the back's."""
    sections: list[Section] = []
    cover = f"neckline-{far.other}"
    for face in FACES:
        at = _neck_point(garment, face)
        main, over, small = str(face), f"overlay-{face}", f"shoulder-{face}"
        neck = _use(garment, main, cover, at), _use(garment, over, "neckline", at)
        v = garment.path(neck[0]).end
        style = tuple(_use(garment, name, "diagonal", v) for name in (main, small, over))
        runs: list[tuple[Run, ...]] = [((neck[0],), (), (neck[1],)), tuple((use,) for use in style)]
        if face is Face.BACK:
            runs = [tuple(tuple(use.reversed for use in run) for run in plies) for plies in reversed(runs)]
        sections.extend(Section(plies, (0.0, 0.0, 0.0)) for plies in runs)
    return Seam("diagonal", IN_THE_ROUND, "seam in the round, all three layers", tuple(sections), hangs=(2,))


def _part_round_seam(around: Seam) -> tuple[Seam, Seam]:
    """Part the seam in the round: the covered neck, sewn first and turned, and the diagonal from V to V."""
    front, *diagonal, back = around.sections
    neck = tuple(Section((plies[0], plies[2]), (0.0, 0.0)) for plies in (back.plies, front.plies))
    return (
        Seam("covered-neck", COVERED_NECK, "neck under the overlay", neck, hangs=(1,)),
        replace(around, kind=ON_THE_DIAGONAL, title="diagonal seam, all three layers", sections=tuple(diagonal)),
    )


def _bind_neck(garment: Garment, brief: Brief, o: OverlayOptions, far: Side) -> Garment:
    """Bind the neck of the shoulder pieces, which is finished before the seam in the round takes in its ends."""
    name = f"neckline-{far}"
    uses = [Use(f"shoulder-{face}", name) for face in FACES]
    # In ring direction the run passes from one face to the other at the shoulder, where the first of them ends.
    shoulder = garment.line(uses[0]).path
    if abs(shoulder.end.x) < abs(shoulder.start.x):
        uses.reverse()
    run = tuple(uses)
    around = garment.run_length(run)
    theta = max(0.0, -sum(garment.path(use).turning() for use in run))
    spec = BandSpec("neck-binding", "Neck binding", BINDING, "neck", binds=True)
    stuff = brief.cloth_for(spec.name)
    rule = band_length(around, theta, o.binding, stuff.working_stretch, recovery=stuff.recovery, kind="armhole")
    if rule.length < SHORTEST_BINDING:
        raise CannotDraft(
            ("front_depth", "back_depth"), "the shoulder pieces' neck is too short to bind", help="deepen a V"
        )
    whole = draw_straight_strip(spec, "neck", rule.length, o.binding)
    # The binding's ends aren't joined: they lie in the seam in the round.
    ends = tuple(replace(ln, opening="neck") if ln.role is Role.END else ln for ln in whole.ring)
    piece = replace(whole, ring=ends)
    on = Section((run, (Use(spec.name, "band", True),)), (0.0, rule.length - around))
    seam = Seam(spec.name, spec.kind, "neck binding of the shoulder pieces", (on,), binds=True)
    return garment.with_(
        pieces=(*bind_edges(garment, run, o.binding), piece),
        seams=(seam,),
        facts=band_facts(spec.name, rule, o.binding, theta),
    )


def _facts(overlays: list[Piece], o: OverlayOptions) -> tuple[Fact, ...]:
    front = overlays[0]
    return (
        Fact(
            "overlay_convex",
            front.line("over-arm").path.length,
            "mm",
            "choice",
            "the edge over shoulder and arm, the longer",
        ),
        Fact(
            "overlay_concave", front.line("caught").path.length, "mm", "choice", "the edge caught in the far side seam"
        ),
        Fact("overlay_fullness", o.fullness, "share", "choice"),
    )
