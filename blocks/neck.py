"""The neck: the round that the neck base asks for, the necklines within it, and the slope of the shoulder from it."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping

from drafting.body import Body
from drafting.errors import CannotDraft
from drafting.garment import Face, Side, Solve
from drafting.garment.shoulders import SHOULDER_RELIEF
from drafting.geometry import root
from drafting.record import dataclass
from drafting.redraw.shapes import (
    BACK_RISE,
    FRONT_DEPTH,
    Curve,
    Neckline,
    draw_round_necks,
    neck_points,
)
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

SLOPES = trade_row(
    (math.radians(12.0), math.radians(32.0)),
    "rad",
    "derived",
    "ANSUR 1988 and 2012, 16 to 36 in all but a few",
)
"""Off the level, between which drafted shoulders lie, the two of a body on average: measured, less the relief."""

KNIT_SEAM_AHEAD = TradeValue(math.radians(3.0), "rad", "from memory", "its end lies 1/4 to 3/8 in ahead of the bone's")
"""By which a knit's front shoulder is steeper, and its back one flatter, than their mean: the seam lies ahead, and the
back of the armhole is the longer."""

MOST_SEAM_AHEAD = TradeValue(math.radians(4.5), "rad", "from memory", "front and back 4 to 9 degrees apart")
"""By which it lies ahead at most, where a broad back beside a narrow chest would else have the shorter armhole: the
side seam gives the rest."""

STEEPEST_FRONT = TradeValue(
    math.radians(30.0), "rad", "derived", "a round neck square to a steeper shoulder bends back"
)
"""Of a knit's front shoulder, up to which its seam lies ahead."""

MOST_LENGTHENED = TradeValue(120.0, "mm", "from memory")
"""By which a shoulder is made longer at most, where the across back lies far outside it."""


@dataclass(frozen=True, slots=True)
class SolvedNeck:
    """The close, round neck at the neck base: half width, rise at the back, depth at the front (mm), and its solve."""

    half_width: float
    rise: float
    depth: float
    solve: Solve
    ahead: float = KNIT_SEAM_AHEAD
    """By which the front shoulder is steeper, and the back one flatter, than their mean (rad)."""


def seam_ahead(body: Body, lower: float) -> float:
    """Return by how much a knit's shoulder seam lies ahead (rad), whose front neck and shoulder lie ``lower`` (mm).

    It is less by that: the front shoulder's end lies as far below the back's as it does on any body.
    """
    return max(KNIT_SEAM_AHEAD - lower / (2.0 * body["shoulder_length"]), 0.0)


LEAST_RELIEF = TradeValue(math.radians(1.0), "rad", "from memory", "room for the arm to lift")
"""By which a square shoulder is drafted flatter than it is at least."""


def draft_slopes(body: Body, flattest: float = SLOPES[0]) -> Mapping[Side, float]:
    """Return the slopes of both drafted shoulders (rad); front and back lie on either side of them.

    Of a square shoulder's relief so much is given as its mean is flatter than ``flattest``, down to the least.
    The mean of both is limited, and each keeps what it differs from that: a shoulder that lies lower is drafted lower
    by as much, however steep the two are.
    """
    measured = {side: body[f"shoulder_slope_{side}"] for side in (Side.LEFT, Side.RIGHT)}
    mean = math.fsum(measured.values()) / 2.0
    square = max(min(flattest, mean - LEAST_RELIEF), SLOPES[0])
    drafted = min(max(mean - SHOULDER_RELIEF, square), SLOPES[1])
    return {side: drafted + (slope - mean) for side, slope in measured.items()}


def knit_slope(slope: float, face: Face, most: float = KNIT_SEAM_AHEAD) -> float:
    """Return the slope of a knit's shoulder on a face (rad), ``most`` off the mean; none is steeper than may be."""
    ahead = max(min(most, STEEPEST_FRONT - slope), 0.0)
    return slope + (ahead if face is Face.FRONT else -ahead)


def base_halves(half_width: float, slope: float, ahead: float = KNIT_SEAM_AHEAD) -> tuple[Curve, Curve]:
    """Draw half of a knit's round neck at the neck base, front and back, from the side neck point to the centre."""
    faces = (Face.FRONT, Face.BACK)
    lines = {face: Neckline("round", *neck_points(half_width, face)) for face in faces}
    drawn = draw_round_necks(lines, {face: knit_slope(slope, face, ahead) for face in faces})
    return drawn[Face.FRONT], drawn[Face.BACK]


def solve_base(neck_base: float, ease: float, slopes: Collection[float], ahead: float = KNIT_SEAM_AHEAD) -> SolvedNeck:
    """Find the round neck whose seam, front and back together, measures neck base girth plus ease.

    Source of the rule: a high round neck's seam is 0 to 2 cm longer than the neck base girth (derived identity,
    front and back, both halves). ``slopes`` are those of both shoulders (rad), or the one that they share: halves
    whose shoulders differ share the neck's width and depth, and their seams together have its length.
    """
    target = neck_base + ease
    share = 2.0 / len(slopes)

    def seam(half_width: float) -> float:
        return share * sum(half.length for slope in slopes for half in base_halves(half_width, slope, ahead))

    low, high = target / 12.0, target / 3.0
    if not seam(low) < target < seam(high):
        raise CannotDraft("neck_base_girth", say("no round neck measures {target}", target=mm(target)))
    half, calls = root(lambda w: seam(w) - target, low, high, within=TOLERANCE.same_point / 10.0)
    return SolvedNeck(half, half * BACK_RISE, half + FRONT_DEPTH, Solve("neck base", target, seam(half), calls), ahead)
