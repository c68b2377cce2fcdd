"""What a step does to the edges it works on, so that each can be followed to the state in which it ends.

A sentence of a step that settles an edge is a `Deed`: its words, and its effects. A sentence that settles none is a
plain text. What a seam's stitch does by itself, and how its plies lie, is a value of the seam and its kind.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from drafting.record import dataclass


class EdgeEnd(StrEnum):
    """How an edge ends."""

    NEATENED = "neatened"  # overcast, inside the garment
    ENCLOSED = "enclosed"  # between two layers
    BOUND = "bound"  # wrapped by a strip
    FOLDED = "folded"  # turned to the wrong side, or the fold of a strip
    CAUGHT = "caught"  # taken in by a seam that is sewn later


class WhichEdges(StrEnum):
    """Which edges of a step are meant."""

    SEAM = "seam"  # the edges that its seams join
    STRIP = "strip"  # the other long edge of what is sewn on last: of a band, a binding, a facing
    ENDS = "ends"  # the short ends of that
    TURNED = "turned"  # the edges that the step turns up


@dataclass(frozen=True, slots=True)
class Effect:
    """What becomes of some of a step's edges."""

    edges: WhichEdges
    end: EdgeEnd


NEATENED: Final = Effect(WhichEdges.SEAM, EdgeEnd.NEATENED)
"""The edges of the seam are neatened."""

ENCLOSED: Final = Effect(WhichEdges.SEAM, EdgeEnd.ENCLOSED)
"""What is sewn on is turned, and the edges of the seam lie between the layers."""

BOUND: Final = Effect(WhichEdges.SEAM, EdgeEnd.BOUND)
"""The strip is wrapped round the edges of the seam."""

STRIP_NEATENED: Final = Effect(WhichEdges.STRIP, EdgeEnd.NEATENED)
"""The outer edge of a facing is neatened."""

STRIP_FOLDED: Final = Effect(WhichEdges.STRIP, EdgeEnd.FOLDED)
"""The strip is folded along its middle, or its other long edge is turned under."""

ENDS_ENCLOSED: Final = Effect(WhichEdges.ENDS, EdgeEnd.ENCLOSED)
"""The ends of the strip are sewn across and turned out, or turned in and sewn down."""

ENDS_CAUGHT: Final = Effect(WhichEdges.ENDS, EdgeEnd.CAUGHT)
"""The ends are left to a seam that is sewn later."""

TURNED_NEATENED: Final = Effect(WhichEdges.TURNED, EdgeEnd.NEATENED)
"""The edges that are turned up are neatened."""

TURNED_UP: Final = Effect(WhichEdges.TURNED, EdgeEnd.FOLDED)
"""They are turned to the wrong side."""


class Handling(StrEnum):
    """What is done with cloth in a step beyond how the plies of a seam lie, and is shown in a picture of its own."""

    STAY_STITCHED = "stay-stitched"  # edges are stitched as they are, by themselves
    PULLED_THROUGH = "pulled through"  # a part of the garment passes between a facing and what it is sewn to
    PUT_IN = "put in"  # a sleeve is put into its armhole, the garment wrong side out
    ROLLED_UP = "rolled up"  # the rest of the garment is rolled up between a facing and what it is sewn to
    SLIPPED_ROUND = "slipped round"  # what is joined to a tube is put round another, upside down
    SLIPPED_OVER = "slipped over"  # a skirt, wrong side out and upside down, is slipped over its bodice
    PRESSED_OPEN = "pressed open"  # each edge of a seam onto its own side
    PRESSED_BACK = "pressed to the back"  # both edges of a seam onto the back
    RING_MADE = "ring made"  # the ends of a band are sewn to each other
    STAND_MADE = "stand made"  # the edge of a buttoned opening is folded to a stand
    STAND_OVER = "stand over"  # such a stand is folded over the end of a facing
    STRIP_BEHIND = "strip behind"  # a strip is sewn behind a zip
    HOOKED = "hooked"  # a hook and an eye are sewn on above a zip
    ELASTIC_CAUGHT = "elastic caught"  # an elastic is laid on the upper layer of a seam, and caught in it
    MITRED = "mitred"  # the corner of two turned edges is folded slantwise and sewn across
    BUTTONED = "buttoned"  # buttonholes are worked, buttons sewn on


@dataclass(frozen=True, slots=True)
class Deed:
    """A sentence of a step that settles edges, or is shown: its words, what becomes of which edges, what is shown."""

    words: str
    effects: tuple[Effect, ...]
    handled: tuple[Handling, ...] = ()


def does(words: str, *effects: Effect | Handling) -> Deed:
    """Return a sentence with what it does to the edges of its step, and how cloth is handled that a picture shows."""
    handled = tuple(each for each in effects if isinstance(each, Handling))
    return Deed(words, tuple(each for each in effects if isinstance(each, Effect)), handled)


@dataclass(frozen=True, slots=True)
class PlyLay:
    """How the plies of a seam are laid for sewing, and how what is sewn on last is brought to where it stays.

    ``under_wrong`` and ``over_wrong`` say of the lower ply and of the upper one whether its wrong side is up.
    ``turned``: the upper one is turned over the sewn edge, to beneath the lower; else it is opened out, to beside it.
    """

    under_wrong: bool = False
    over_wrong: bool = True
    turned: bool = False

    @property
    def inside(self) -> bool:
        """Whether the upper ply comes to lie inside the garment, beneath the lower as that is worn."""
        return self.turned and not self.under_wrong

    @property
    def shows_wrong(self) -> bool:
        """Whether the upper ply then shows its wrong side: to the outside, or to the inside if it lies there."""
        if self.turned:  # it lies beneath, and is seen from below
            return not self.over_wrong
        return self.over_wrong == self.under_wrong


OPENED: Final = PlyLay()
"""Right sides together, then opened out: a plain seam, a band."""

TURNED_IN: Final = PlyLay(turned=True)
"""Right sides together, then turned to the inside: a facing."""

TURNED_OUT: Final = PlyLay(under_wrong=True, turned=True)
"""Both wrong sides up, then turned over the edge to the outside."""
