"""An armhole as it lies on the pieces: how long, how deep, and how wide it is for the arm that goes through it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import TYPE_CHECKING

from drafting.cloth import Fit, share_drawn_in
from drafting.garment.features import Gathers
from drafting.garment.lines import Role
from drafting.garment.model import Garment, Piece
from drafting.garment.ruled import BAND_SHARE, BAND_WIDTH, list_ruled
from drafting.garment.surface import hanging_pieces
from drafting.geometry import Path, turn
from drafting.record import dataclass
from drafting.sides import Face, Side
from drafting.trade import TradeValue, trade_table

if TYPE_CHECKING:
    from drafting.body import Body
    from drafting.garment.step import Brief

ARM_QUARTER, ARM_REST = (
    TradeValue(0.25, "share", "published", "US patent 4,899,448, claim 1"),
    TradeValue(40.0, "mm", "published", "US patent 4,899,448, claim 1"),
)
"""Width of an armhole that is wanted: a quarter of the upper arm's girth, and so much beyond."""

WOVEN_ARM_ROOM = TradeValue(15.0, "mm", "from memory")
"""By which a woven's armhole is at least wider than the arm is thick: it doesn't give way."""

BELOW_ARMPIT = trade_table(
    {Fit.CLOSE: 35.0, Fit.SEMI: 40.0, Fit.RELAXED: 45.0}, "mm", "from memory", "1 to 4 cm, a close one less"
)
"""Below the body's armpit that a woven's armhole starts at most: a lower one lifts the side with the arm."""

KNIT_BELOW_ARMPIT = trade_table(
    {Fit.CLOSE: 35.0, Fit.SEMI: 37.5, Fit.RELAXED: 40.0}, "mm", "from memory", "1 to 4 cm, a close one less"
)
"""Below the body's armpit that a knit's armhole starts at most, where it is long enough there: a low one lifts the side
with the arm, though it gives."""

KNIT_LEAST_SHARES = trade_table(
    {Fit.CLOSE: 1.0, Fit.SEMI: 1.0, Fit.RELAXED: 1.05}, "share", "from memory", "blocks allow 1.05 to 1.25"
)
"""Of the armscye girth, how long a knit's armhole is at least: a close one is stretched
as its bust is, a relaxed one has room to move."""

KNIT_ARM_ROOM = TradeValue(5.0, "mm", "from memory")
"""By which a knit's armhole is drafted wider than the arm is thick at least, so that a change has something to take."""


WIDE_FOR_ARM, BUST_SHARE, WIDE_FOR_BUST = (
    TradeValue(20.0, "mm", "from memory", "as wide as the arm wants it, or a little wider"),
    TradeValue(0.125, "share", "from memory", "an armhole is as wide as an eighth of the bust, 1.5 cm more or less"),
    TradeValue(15.0, "mm", "from memory", "an eighth of the bust, 1.5 cm more or less"),
)
"""By which a woven's armhole is wider at most than the arm wants it; and of the bust, its width, and what it may have
beyond that: one that is wider than both stands off, or leaves too little back."""


def wanted_width(arm_girth: float) -> float:
    """Return how wide (mm) an armhole is wanted for an upper arm's girth."""
    return arm_girth * ARM_QUARTER + ARM_REST


def wide_armhole(body: Body) -> float:
    """Return how wide (mm) a woven's armhole is at most: wider than both its arm and its bust would have it."""
    return max(wanted_width(body["upper_arm_girth"]) + WIDE_FOR_ARM, body["bust_girth"] * BUST_SHARE + WIDE_FOR_BUST)


def deepest_knit(fit: Fit) -> float:
    """Return how far (mm) below the body's armpit a knit's armhole starts at most, where it is long enough there."""
    return float(KNIT_BELOW_ARMPIT[fit])


def least_knit_armhole(brief: Brief) -> float:
    """Return how long (mm) a knit's armhole is at least, whatever its depth."""
    return brief.body["armscye_girth"] * (
        KNIT_LEAST_SHARES[brief.fit] - share_drawn_in(brief.fit, brief.cloth, brief.body)
    )


def hollow_of(*parts: Path) -> float:
    """Return how far (mm) the parts of an armhole bow off the straight line between its ends, the farthest apart."""
    ends = [end for path in parts for end in (path.start, path.end)]
    low, high = max(combinations(ends, 2), key=lambda two: two[0].distance(two[1]))
    by = -(high - low).angle
    level, bounds = low.turned(by).y, [path.turned(by).bounds for path in parts]
    return max(max(each[3] for each in bounds) - level, level - min(each[1] for each in bounds))


@dataclass(frozen=True, slots=True)
class ArmholeTaken:
    """Figures of one armhole (mm): its edge, its underarm below the nape, its width, and front and back of its edge.

    The width is what lies, front and back together, between the narrowest place across the body and the side seam at
    the underarm: what is left for the thickness of the arm. A bust dart turns the front's underarm on paper: the back
    tells how deep it is. A dart turned to the shoulder, or a panel seam from there, turns the front's edge on paper and
    not on the body: the width is taken with the outer part of the shoulder turned in line with the part at the neck.
    Not ``lies_flat`` is a front turned by a dart at its neck, armhole or centre, gathered above, or parted at the
    armhole: its width isn't known. ``bare`` has no sleeve, and none is to come.
    ``hollower`` is by how much the front bows more than the back off the line from underarm to shoulder; None where
    either lies on several pieces. ``band`` is how wide the band on it is, 0 without one, and ``edge`` how long
    what goes round the arm is at rest: the band's free edge, or the armhole itself.
    """

    length: float
    depth: float
    width: float
    front: float
    back: float
    lies_flat: bool = True
    bare: bool = False
    hollower: float | None = None
    band: float = 0.0
    edge: float = 0.0


def take_armhole(garment: Garment, side: Side) -> ArmholeTaken | None:
    """Return the figures of one armhole; None where the garment has none on that side, front and back."""
    hanging = hanging_pieces(garment)
    found = {
        face: [
            (piece, line)
            for piece in garment.pieces
            if piece.face is face and piece.name not in hanging
            for line in piece.lines(role=Role.ARMHOLE)
            if line.side is side
        ]
        for face in (Face.FRONT, Face.BACK)
    }
    paths = {face: [line.path for _, line in lines] for face, lines in found.items()}
    if not all(paths.values()):
        return None
    front, back = (math.fsum(path.length for path in paths[face]) for face in (Face.FRONT, Face.BACK))
    depth = -min(path.bounds[1] for path in paths[Face.BACK])
    flat = all(_reaches_shoulder(piece) for piece, _ in found[Face.FRONT])
    by = turn_of_shoulder(garment, side) if flat else 0.0
    width = _width([path.turned(by) for path in paths[Face.FRONT]]) + _width(paths[Face.BACK])
    sleeved = any(piece.lines(role=Role.CAP, side=side) for piece in garment.pieces)
    bare = not sleeved and "armhole" not in garment.taken_up
    whole = flat and all(len({piece.name for piece, _ in each}) == 1 for each in found.values())
    hollower = hollow_of(*paths[Face.FRONT]) - hollow_of(*paths[Face.BACK]) if whole else None
    band, share = _find_band(garment, side)
    return ArmholeTaken(
        front + back, depth, width, front, back, flat, bare, hollower, band, share * (front + back)
    )  # fmt: skip


def _find_band(garment: Garment, side: Side) -> tuple[float, float]:
    """How wide (mm) the band on an armhole is, and what share of the armhole it is long; without one 0 and all."""
    for seam in garment.seams:
        roles = {line.role for line in map(garment.line, seam.uses()) if line.side in (side, Side.NONE)}
        if {Role.ARMHOLE, Role.BAND} <= roles and not seam.binds:
            wide, share = (list_ruled(garment, figure, seam.name) for figure in (BAND_WIDTH, BAND_SHARE))
            return wide[-1].value if wide else 0.0, share[-1].value if share else 1.0
    return 0.0, 1.0


def _reaches_shoulder(piece: Piece) -> bool:
    """Whether a piece goes from the armhole to the shoulder with no dart but there above the bust, nor gathers."""
    ring = piece.ring
    above = (Role.NECKLINE, Role.ARMHOLE, Role.CENTRE)
    opened = any(
        line.role is Role.DART and any(each.role in above for each in (piece.before(line.name), piece.after(line.name)))
        for line in ring
    )
    drawn_up = any(piece.line(each.line).role in (*above, Role.SHOULDER) for each in piece.of_kind(Gathers))
    return any(piece.lines(role=Role.SHOULDER)) and not (opened or drawn_up)


def turn_of_shoulder(garment: Garment, side: Side) -> float:
    """Return the angle (rad) that lays the outer part of the front's shoulder in line with the part at the neck."""
    hanging = hanging_pieces(garment)
    parts = [
        sorted((line.path.start, line.path.end), key=lambda end: abs(end.x))
        for piece in garment.pieces
        if piece.face is Face.FRONT and piece.name not in hanging
        for line in piece.lines(role=Role.SHOULDER, side=side)
    ]
    inner, outer = (pick(parts, key=lambda ends: abs(ends[0].x)) for pick in (min, max))
    return turn(outer[1] - outer[0], inner[1] - inner[0])


def _width(paths: Sequence[Path]) -> float:
    """From the narrowest place of an armhole's lines to their lower end, across."""
    lowest = min((end for path in paths for end in (path.start, path.end)), key=lambda end: end.y)
    low, high = min(path.bounds[0] for path in paths), max(path.bounds[2] for path in paths)
    return abs(lowest.x) - (low if lowest.x > 0.0 else -high)
