"""The shaped cuff: drafted onto a sleeve's lower edge, narrower at the wrist than above."""

from __future__ import annotations

from typing import Final

from blocks.band_options import ratio_option
from blocks.strips import BandSpec, band_facts, band_seams, find_opening
from drafting.cloth import band_length, hand_passage
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fact,
    Fate,
    Garment,
    Level,
    Line,
    Piece,
    Role,
    SeamKind,
    Side,
    Solve,
    Stage,
    block,
    height_option,
    option,
    side_option,
)
from drafting.geometry import Path, Point, hook, root
from drafting.record import dataclass
from drafting.redraw.onto import rename_opening, sew_edges
from drafting.redraw.sleeves import arm_girth, arm_length, shoulder_inset
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.banding import tell_band
from drafting.work.kinds import ENDS

OVER_THE_WRIST = TradeValue(20.0, "mm", "from memory")
"""By which a cuff is wider than the wrist: cuffs are wrist + 2 to 4 cm, whichever passes the hand."""


CUFF: Final = SeamKind("cuff", "seams of cuffs", tell_band, label="cuffs", turn=11)


@dataclass(frozen=True, slots=True)
class CuffOptions:
    """Options of the shaped cuff."""

    height: float = height_option("Finished height of the cuff.", 70.0, Role.WRIST, low=20.0, high=200.0)
    over_wrist: float = option(
        "How much wider than the arm the cuff is at its lower edge.",
        "length",
        OVER_THE_WRIST,
        low=-20.0,
        high=150.0,
    )
    ratio: float | None = ratio_option(
        "Upper edge of the cuff as a share of the sleeve's edge; by rule it follows the stretch.", high=1.05
    )
    arm: str = side_option("Which sleeves get a cuff.")


def corners(lower: float, upper: float, height: float) -> tuple[Path, Path, Path]:
    """Draw the right end, the upper edge (right to left) and the left end of a cuff whose fold is ``lower`` mm long.

    The ends leave the fold square and lean out to the upper edge, which is square to them, so that the fold and the
    upper edge both run on smoothly when the ends are joined.
    """
    a, b = Point(lower / 2.0, 0.0), Point(upper / 2.0, height)
    lean = Point(2.0 * (b.x - a.x), height).unit
    right = hook(a, Point(0.0, 1.0), b, lean)
    c = Point(-b.x, b.y)
    top = hook(b, lean.left, c, Point(lean.left.x, -lean.left.y))
    return right, top, right.mirrored().reversed()


def draw_cuff(lower: float, upper: float, height: float) -> tuple[tuple[Path, Path, Path], Solve]:
    """Draw the cuff whose upper edge measures ``upper`` mm along its curve."""
    if abs(upper - lower) < TOLERANCE.same_point:
        return corners(lower, lower, height), Solve("cuff", upper, lower, 0)
    chord, calls = root(
        lambda w: corners(lower, w, height)[1].length - upper,
        lower * 0.8,
        upper * 1.1,
        within=TOLERANCE.same_point / 10.0,
    )
    drawn = corners(lower, chord, height)
    return drawn, Solve("cuff", upper, drawn[1].length, calls)


@block(
    "shaped-cuff",
    "A folded cuff on the sleeve's lower edge, narrower at the wrist than above.",
    Stage.EDGE,
    needs=("wrist_girth", "hand_girth"),
    kinds=(CUFF, ENDS),
)
def draft_shaped_cuffs(garment: Garment, brief: Brief, o: CuffOptions) -> Garment:
    """Draft a cuff onto each sleeve asked for; "both" means those that are there.

    Where the garment's own change took a sleeve off, its cuff goes with it.
    """
    for side in _sides(garment, o.arm):
        garment = _add_cuff(garment, brief, o, side)
    return garment


def _sides(garment: Garment, arm: str) -> tuple[Side, ...]:
    """Return the sides whose sleeves get a cuff; a side asked for by name is sought later, and refused if missing."""
    if arm != "both":
        return () if arm in garment.bared else (Side(arm),)
    found = tuple(side for side in (Side.LEFT, Side.RIGHT) if f"wrist-{side}" in garment.openings)
    if not found and not garment.bared:
        raise CannotDraft("", "there is no sleeve to put a cuff on", help="leave the cuffs out, too", leave_out=True)
    return found


def _add_cuff(garment: Garment, brief: Brief, o: CuffOptions, side: Side) -> Garment:
    opening = find_opening(garment, f"wrist-{side}")
    around = garment.run_length(opening.run)
    stuff, body = brief.own_cloth, brief.body
    stretch = stuff.working_stretch
    arm = arm_girth(brief, _above_wrist(garment, brief, opening.run[0].piece, o.height))
    lower = max(arm + o.over_wrist, hand_passage(body["hand_girth"]) / (1.0 + stretch))
    rule = band_length(around, 0.0, o.height, stretch, recovery=stuff.recovery, kind="cuff", given=o.ratio)
    if lower > around:
        raise CannotDraft(
            ("wrist_girth", "hand_girth"),
            say("a cuff of {lower} is wider than the sleeve's edge of {around}", lower=mm(lower), around=mm(around)),
            short_by=lower - around, help="make the sleeve's lower edge wider, or use a stretchier cloth for the cuff",
        )  # fmt: skip
    upper = max(rule.length, lower)
    (right, top, left), solve = draw_cuff(lower, upper, o.height)
    spec = BandSpec(f"cuff-{side}", say("{side:capital} cuff", side=side), CUFF, "cuff", below=True)
    fold = Path.straight(left.end, right.start)
    ring = (
        Line("edge", fold, Role.EDGE, side, fate=Fate.FOLDED, opening=opening.name),
        Line("end-a", right, Role.END, side),
        Line("band", top, Role.BAND, side),
        Line("end-b", left, Role.END, side),
    )
    piece = Piece(
        spec.name,
        spec.title,
        ring,
        side=side,
        features=(Level(f"wrist-{side}", fold, side=side),),
    )
    return garment.with_(
        pieces=(*sew_edges(garment, opening.run), piece),
        seams=band_seams(spec, opening.run, around, top.length),
        facts=(
            *band_facts(spec.name, rule, o.height, 0.0),
            Fact(f"{spec.name}_lower", lower, "mm", "rule", "wrist and ease, or what passes the hand"),
        ),
        solves=(Solve(f"cuff, {side}", solve.target, solve.reached, solve.iterations),),
        openings=rename_opening(garment, opening.name, (opening.name,)),
    )  # fmt: skip


def _above_wrist(garment: Garment, brief: Brief, sleeve: str, height: float) -> float:
    """How far over the wrist the cuff's fold comes to lie: nothing on a long sleeve, half an arm on a short one."""
    piece = garment.piece(sleeve)
    _, low, _, crown = piece.outline.bounds
    return max(arm_length(brief) - (crown - shoulder_inset(garment, piece.side) - low) - height, 0.0)
