"""How the maker lays a piece on the cloth: the angle of its grain, and to which side that leans."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

from drafting.cloth import Cloth, Stripe, turn_cloth
from drafting.garment.lines import Role
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.saying import Words
from drafting.sides import Face, Side
from drafting.trade import TradeValue

if TYPE_CHECKING:
    from drafting.garment.model import Piece


STRIPES_ALIKE = TradeValue(math.radians(3.0), "rad", "from memory")
"""By which stripes may run differently in two pieces at most, where they are to meet along a seam."""

ASLANT = TradeValue(math.radians(22.5), "rad", "derived", "half-way to the bias")
"""From round a sleeve, or from down it, beyond which its stripes are said to slant."""


Striped = Mapping[str, Sequence[tuple[Stripe, float]]]
"""Of each piece whose stripes are placed, by its name, each stripe and its shift: what lies at a height (across the
cloth; along it, at a place from left to right) of a whole number of repeats less the shift lies on a stripe."""


class Lean(StrEnum):
    """To which side the upper end of a piece's grain leans, as it is worn."""

    OUT = "out"
    IN = "in"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Laying:
    """How a piece is laid: ``angle`` (rad) from its height to the cloth's length, and to which side that leans.

    Out and in, a left and a right piece mirror each other, so that stripes meet in chevrons; a piece across the middle
    leans to the wearer's left then. Left and right, all lean alike. ``over``: the design was mirrored since, and each
    lean with it.
    """

    angle: float
    lean: Lean = Lean.OUT
    over: bool = False

    @property
    def mirrored(self) -> Laying:
        """It in a design that is turned over: a piece that was on one side of the wearer is on the other."""
        return replace(self, over=not self.over)

    def grain_of(self, piece: Piece) -> Point:
        """Return the direction of the cloth's length on a piece, drawn as it is seen from its right side."""
        leans = {Lean.LEFT: Side.LEFT, Lean.RIGHT: Side.RIGHT, Lean.OUT: piece.side, Lean.IN: piece.side.other}
        by_side = self.lean in (Lean.OUT, Lean.IN) and piece.side is not Side.NONE
        leftwards = (leans[self.lean] is not Side.RIGHT) is (by_side or not self.over)
        sign = 1.0 if leftwards is not (piece.face is Face.BACK) else -1.0
        return Point(sign * math.sin(self.angle), math.cos(self.angle))


def cloth_as_laid(cloth: Cloth, pieces: Iterable[Piece]) -> Cloth:
    """Return a cloth as a wearer meets it round the body in these pieces, which go round together."""
    return turn_cloth(cloth, *(piece.laid.angle if piece.laid else 0.0 for piece in pieces))


def way_of_stripes(grain: Point, stripe: Stripe) -> Point:
    """Return the way (a unit vector) in which stripes follow each other on a piece of that grain."""
    return grain.unit.right if stripe.direction == "along" else grain.unit


def tell_sleeve_stripes(pieces: Iterable[Piece], stripe: Stripe) -> Words:
    """Return how stripes run on sleeves that lie otherwise on the cloth than the body does; "" where none do."""
    pieces = tuple(pieces)
    bodies = [_angle_of(piece) for piece in pieces if piece.lines(role=Role.ARMHOLE) and not piece.lines(role=Role.CAP)]
    for piece in pieces:
        angle = _angle_of(piece)
        if piece.lines(role=Role.CAP) and all(abs(angle - body) > STRIPES_ALIKE for body in bodies) and bodies:
            down = angle if stripe.direction == "across" else math.pi / 2.0 - angle
            slant = "slant over the arm" if down < math.pi / 2.0 - ASLANT else "run down the arm"
            how = "run round the arm" if down <= ASLANT else slant
            return f"the sleeves' stripes {how}, so they don't meet the bodice's"
    return ""


def _angle_of(piece: Piece) -> float:
    """The angle from a piece's height to the cloth's length."""
    return piece.laid.angle if piece.laid else 0.0
