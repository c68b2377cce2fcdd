"""A row of the table of fit: one figure of the garment against the body's, and how far it may differ.

The limits are the trade's, not what the drafts happen to give. Each figure is taken on the pieces.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final, Literal

from drafting.mending import Situation
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.record import dataclass
from drafting.saying import Words, say, show_share, tape, tape_beside
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

FigureKind = Literal["mm", "share", "rad", ""]
"""What a figure is: a length, a share of something, an angle, or a count."""


@dataclass(frozen=True, slots=True)
class FitRow:
    """One figure: what the body asks for, what the garment has, and what changes mean it to differ by.

    ``least`` and ``most`` bound what it may differ by beyond that; None where there is no bound. ``place`` is a piece,
    a side, a seam or a face; ``title`` says what is measured ("left armhole, width"). ``measure`` is what the figures
    are in. Where a bound is passed, it is as grave as ``severity``; ``remedy`` says what would mend it, and ``wanted``
    names the situation for a change that mends it. ``offence`` tells a passed bound where the figures alone don't.

    ``name`` is the figure's own ("armhole_width"): its finding has the code "fit.armhole_width". ``chief`` figures
    stand on the start page too. Where not ``of_body``, what the figure is held against is a rule's or the
    garment's own, and isn't told as the body's. ``about`` is the heading under which it is told: the table gives it.
    """

    name: str
    place: str
    title: Words
    body: float
    garment: float
    meant: float = 0.0
    least: float | None = None
    most: float | None = None
    measure: FigureKind = "mm"
    severity: Severity = Severity.ERROR
    remedy: Words | Retake = ""
    wanted: Situation | None = None
    chief: bool = False
    about: str = ""
    offence: Words = ""
    of_body: bool = True

    @property
    def off(self) -> float:
        """What the garment has beyond what the body asks and changes mean."""
        return self.garment - self.body - self.meant

    @property
    def bounds(self) -> tuple[float | None, float | None]:
        """The least and the most that the garment's figure may be; None where there is no bound."""
        asked = self.body + self.meant
        low, high = self.least, self.most
        return None if low is None else asked + low, None if high is None else asked + high

    @property
    def beyond(self) -> float:
        """By how much a bound is passed: less than 0 below the least, more than 0 above the most, 0 within."""
        met = BOUND_MET[self.measure]
        if self.least is not None and self.off < self.least - met:
            return self.off - self.least
        return self.off - self.most if self.most is not None and self.off > self.most + met else 0.0


BOUND_MET: Final[Mapping[FigureKind, TradeValue]] = MappingProxyType(
    {
        "mm": TradeValue(TOLERANCE.sewn_length, "mm", "from memory"),
        "share": TradeValue(0.001, "share", "from memory"),
        "rad": TradeValue(math.radians(0.5), "rad", "from memory", "1 mm at the end of a shoulder"),
        "": TradeValue(0.0, "count", "from memory"),
    }
)
"""By which a bound may be passed and is met still: what no tape shows."""


BY_A_HAIR = TradeValue(3.0, "mm", "from memory", "two tapings of a length over the body differ by 1 cm")
"""By which a bound that hangs on such a length may be passed in a note: the taping's own error is greater."""


def note_hair(row: FitRow) -> FitRow:
    """Return the row, its warning a note where its bound is passed by less than the body's taping is sure of."""
    near = row.severity is Severity.WARNING and 0.0 < abs(row.beyond) <= BY_A_HAIR
    return replace(row, severity=Severity.NOTE) if near else row


def figure_words(figure: float, measure: FigureKind, beside: float | None = None) -> Words:
    """Return a figure of the table as it is said: a length by the tape, a share in per cent, an angle in degrees.

    One that is held against another is said as finely as it takes to tell them apart.
    """
    if measure == "mm":
        return say("{length}", length=tape(figure) if beside is None else tape_beside(figure, beside))
    if measure == "share":
        return show_share(figure)
    if measure == "rad":
        alike = beside is not None and f"{math.degrees(figure):.0f}" == f"{math.degrees(beside):.0f}"
        return f"{math.degrees(figure):.{int(alike)}f} deg"
    return f"{figure:.0f}"
