"""A flare that darts leave no way for but the side seams: how much of it they hold, and how far they swing out for it.

figure                                          usual             source
share of a flare that the side seams hold       up to a half      from memory
swing of a side for it, from the waist down     up to 8 degrees   from memory, a skirt in an A-line has 5 to 8
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.garment import Brief, Garment
from drafting.garment.ruled import list_ruled
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.fullness import AT_SIDES, SWUNG_OUT
from drafting.saying import Words, say
from drafting.trade import TradeValue

MOST_AT_SIDES = TradeValue(0.5, "share", "from memory")
"""Of a flare that a body's side seams hold, the rest being shared by its other seams."""

MOST_SWING = TradeValue(math.radians(8.0), "rad", "from memory", "a skirt in an A-line has 5 to 8 degrees")
"""By which a side seam swings out for a flare before it stands off as a wing."""


def flare_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How much of a flare the side seams hold, where darts bar its way."""
    held, swung = (list_ruled(garment, figure) for figure in (AT_SIDES, SWUNG_OUT))
    if not held:
        return
    swing = swung[-1].value
    yield FitRow(
        "flare_at_sides",
        "side",
        "side seams, what they hold of the flare",
        0.0,
        held[-1].value,
        most=MOST_AT_SIDES,
        measure="share",
        severity=Severity.WARNING if swing > MOST_SWING else Severity.NOTE,
        offence=_tell_swing(swing),
        remedy="let panel seams take up the darts, for they share it, flare it by less, or have a waist seam",
        of_body=False,
    )


def _tell_swing(swing: float) -> Words:
    """Say that the sides alone swing out, and how far; beyond what is usual also that it is."""
    says = "darts leave the flare no way but the side seams: front and back hang straight, and each side swings out by "
    if swing <= MOST_SWING:
        return say(says + "{swing:.0f} degrees", swing=math.degrees(swing))
    return say(
        says + "{swing:.1f} degrees, where {most:.0f} at most are usual",
        swing=math.degrees(swing),
        most=math.degrees(MOST_SWING),
    )
