"""Where a block could not give a body its own length, or a dart that is asked for: told, to be measured again."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.cloth import Kind
from drafting.garment import Brief, Garment, Side
from drafting.garment.darts import darts_of
from drafting.garment.ruled import BUST_DART, CENTRE_FRONT_OFF, list_ruled, sum_ruled
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit.retake import Retake
from drafting.saying import say, tape
from drafting.trade import TradeValue

FRONT_OFF = TradeValue(10.0, "mm", "common practice")
"""By which a centre front may be longer or shorter than the body's own, unsaid: what two tapings differ by."""

NECK_BELOW_PIT = TradeValue(5.0, "mm", "from memory", "0.5 to 1 cm")
"""By which a close neck may lie below the pit of the neck besides, as it is cut to be worn: only noted."""


def wants_toile(garment: Garment, brief: Brief) -> bool:
    """Whether a garment is tried on as a toile first: one of woven cloth, or with darts (common practice)."""
    return brief.cloth.kind is Kind.WOVEN or any(darts_of(piece) for piece in garment.pieces)


_LENGTHS = Retake(
    ("side_neck_point_to_waist_over_bust", "back_neck_point_to_waist", "front_neck_point_to_waist"),
    "{again}; if they are right, look at the front neck and the front waist on the toile",
)
"""What the front's length is drafted from, the back's with it: its side is as long as the back's."""


def check_given(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Warn where the block's centre front, before any neckline was drawn on it, misses the body's.

    The side neck point lies where the way over the bust puts it, and the neck is held to a fair depth below; on a body
    whose belly adds to the centre front alone, or where one of the two lengths is off, they don't go together.
    """
    return (*_find_front_off(garment, brief), *_find_no_dart(garment, brief))


def _find_no_dart(garment: Garment, brief: Brief) -> Iterator[Finding]:
    """Warn that a knit's bust dart that was asked for came to nothing, for its front is long enough."""
    asked = list_ruled(garment, BUST_DART)
    if asked and garment.needs.stretch > 0.0 and not any(fact.value for fact in asked):
        yield Finding(
            "given.dart",
            Severity.WARNING,
            "front",
            None,
            None,
            "the bust dart that is asked for is left out: by these lengths the front is hardly shorter over the bust "
            "than the body",
            Retake(
                ("side_neck_point_to_waist_over_bust", "side_neck_point_to_bust_point"),
                "{again}: the longer way over the bust is what a dart takes in",
            ).words(brief.body),
        )


def _find_front_off(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    off = max((sum_ruled(garment, CENTRE_FRONT_OFF, side) for side in (Side.LEFT, Side.RIGHT)), key=abs)
    if abs(off) <= FRONT_OFF:
        return ()
    low_neck = -FRONT_OFF - NECK_BELOW_PIT <= off < 0.0
    way, own = "longer" if off > 0.0 else "shorter", tape(brief.body["front_neck_point_to_waist"])
    return (
        Finding(
            "given.front",
            Severity.NOTE if low_neck else Severity.WARNING,
            "front",
            off,
            FRONT_OFF,
            say(
                "the block's centre front is {off} {way} than the body's front neck point to waist, "
                "{own}: with the way from the side neck point over the bust to the waist it leaves no "
                "neck of a fair depth",
                off=tape(abs(off)),
                way=way,
                own=own,
            ),
            _LENGTHS.words(brief.body),
        ),
    )
