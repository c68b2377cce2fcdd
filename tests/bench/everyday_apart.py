"""What a cutter would measure on a draft with a tape, apart from the proof: ``tests.bench.everyday`` tells the shares.

Nothing here asks the proof or the facts of a garment: lines and levels are measured as they lie on the pieces.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafting.body import Body
from drafting.garment import Face, Garment, Line, Piece, Role, Side
from drafting.garment.darts import darts_of
from drafting.tolerance import TOLERANCE

MOST_OFF = 15.0
"""From the body's waist (mm) that a waist which nothing asked to move may lie."""

Armhole = Sequence[tuple[Piece, Line]]
"""The lines of the armhole of a side and a face, with their pieces."""

NOT_MEANT = {
    "armhole narrower than the arm": ("full upper arm",),
    "waist off the body's": (
        "long waist",
        "short waist",
        "longer above",
        "sway back",
        "high hip",
        "full bust",
        "small bust",
    ),
    "front armhole longer than the back's": ("forward shoulder", "broad back", "narrow back", "full bust"),
    "armhole less than the armscye": ("higher underarm",),
}
"""What is counted, and the wishes that mean it or may do it."""


def find_faults(garment: Garment, body: Body, knit: bool) -> Iterator[str]:
    """What of ``NOT_MEANT`` a garment has, each once."""
    trunk = [piece for piece in garment.pieces if piece.face and not piece.lines(role=Role.CAP)]
    for side in (Side.LEFT, Side.RIGHT):
        front, back = (_armhole(trunk, side, face) for face in (Face.FRONT, Face.BACK))
        if not front or not back:
            continue
        if _is_whole(front) and _is_whole(back) and _width(front) + _width(back) < body["upper_arm_girth"] / math.pi:
            yield "armhole narrower than the arm"
        if knit and _length(front) > _length(back) + TOLERANCE.sewn_length:
            yield "front armhole longer than the back's"
        if _length(front) + _length(back) < body["armscye_girth"] - TOLERANCE.sewn_length:
            yield "armhole less than the armscye"
    waist = -body["back_neck_point_to_waist"]
    heights = [level.path.at(level.path.length / 2.0).y for p in trunk for level in p.levels if level.name == "waist"]
    if any(abs(y - waist) > MOST_OFF for y in heights):
        yield "waist off the body's"


def _armhole(trunk: list[Piece], side: Side, face: Face) -> Armhole:
    """The armhole's lines of a side and face; none where a dart stands open in it, which spreads them."""
    pieces = [piece for piece in trunk if piece.face is face]
    if any(_opens_in_armhole(piece) for piece in pieces):
        return []
    return [(piece, line) for piece in pieces for line in piece.lines(role=Role.ARMHOLE) if line.side is side]


def _is_whole(armhole: Armhole) -> bool:
    """Whether it lies on one piece that reaches the centre: a panel is laid apart, its dart taken up in its seam."""
    piece = armhole[0][0]
    return all(each is piece for each, _ in armhole) and piece.outline.bounds[0] <= 0.0 <= piece.outline.bounds[2]


def _opens_in_armhole(piece: Piece) -> bool:
    ends = [p for line in piece.lines(role=Role.ARMHOLE) for p in (line.path.start, line.path.end)]
    return any(end.near(at) for dart in darts_of(piece) for at in (dart.mouth_a, dart.mouth_b) for end in ends)


def _width(armhole: Armhole) -> float:
    """From the narrowest place across to the underarm, level."""
    xs = [abs(x) for _, line in armhole for x in line.path.flatten(0.1)[:, 0].tolist()]
    return max(xs) - min(xs)


def _length(armhole: Armhole) -> float:
    return sum(line.path.length for _, line in armhole)
