"""What a finish is asked to do: the allowance of each kind of seam, the hem, and how pieces are printed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType

from drafting.cloth import Kind
from drafting.errors import InputError, Problem
from drafting.garment import SeamKind
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.trade import TradeValue, trade_table
from drafting.units import Unit

KNIT_ALLOWANCE = TradeValue(10.0, "mm", "common practice", "1 cm; 3/8 in to who sews in inches")
"""Of allowance, the usual one of a three- or four-thread overlocked seam."""

HEM_DEPTH = TradeValue(25.0, "mm", "common practice", "2 to 2.5 cm on knit tops")
"""Of depth to which a knit's hem is turned where nothing else is asked."""

WOVEN_HEM_DEPTH = TradeValue(35.0, "mm", "from memory", "straight hems 3 to 5 cm, of sleeves 3 to 4")
"""Of depth to which a woven's hem is turned where nothing else is asked; a bent one is turned less."""

WOVEN_SHORTAGE = TradeValue(0.02, "share", "from memory")
"""By which the raw edge of a hollow hem may be shorter than its place in a cloth that doesn't stretch: what pressing
draws out."""

KNIT_SHORTAGE = TradeValue(0.12, "share", "from memory")
"""By which the raw edge of a hollow hem may be shorter in a knit of common stretch, where it is at most half of the
stretch."""

DEEPEST_HEM = TradeValue(200.0, "mm", "from memory")
"""Of allowance or hem at most: a larger figure is a slip of the unit."""


ON_A_TAPE: Mapping[Unit, TradeValue] = trade_table({"in": 3.175}, "mm", "common practice", "1/8 in")
"""To which an allowance or a hem that isn't the maker's own figure is rounded, by the unit of the tape it is measured
with: 1.5 cm is 5/8 in, 1 cm 3/8 in and 2 cm 3/4 in to who sews in inches, whose machine has a line there."""


def set_to_tape(length: float, unit: Unit) -> float:
    """Return an allowance or a hem (mm) as who measures in a unit would have it.

    >>> set_to_tape(20.0, "cm"), round(set_to_tape(20.0, "in"), 3)
    (20.0, 19.05)
    """
    step = ON_A_TAPE.get(unit)
    return float(length) if step is None else round(length / step) * float(step)


@dataclass(frozen=True, slots=True)
class FinishPlan:
    """How a net garment is made ready to cut. Lengths are mm.

    ``allowances`` gives the allowance of each seam kind that differs from ``allowance``; ``hem_depth`` is how deep
    hems are turned; ``on_fold`` prints a piece that mirrors onto itself as a half, laid on a fold of the cloth;
    ``mark`` is the draft's mark, printed on every piece; ``unit`` is the unit that labels are written in;
    ``hem_shortage`` is how much shorter than its place (a share) the raw edge of a hem may be;
    ``still`` names the cloths that stretch too little for the way of their greatest stretch to be shown, or more along.
    InputError if a length is negative, not finite or deeper than 200 mm.
    """

    allowances: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    hem_depth: float = HEM_DEPTH
    on_fold: bool = True
    mark: str = ""
    unit: Unit = "cm"
    allowance: float = KNIT_ALLOWANCE
    hem_shortage: float = KNIT_SHORTAGE
    still: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        lengths = {"allowance": self.allowance, "hem_depth": self.hem_depth, **self.allowances}
        wrong = [
            Problem(
                f"seams.{name}",
                say("{value}", value=mm(value, None)),
                say("0 to {most}", most=mm(DEEPEST_HEM)),
                "check the number and its unit",
            )
            for name, value in lengths.items()
            if not (math.isfinite(value) and 0.0 <= value <= DEEPEST_HEM)
        ]
        if wrong:
            raise InputError(wrong)

    def allowance_of(self, kind: SeamKind | None, own: float | None = None) -> float:
        """Return the allowance (mm) of a seam of this kind, of its ``own`` if it has one, or of an edge in no seam."""
        if kind is None:
            return self.allowance
        usual = own
        if own is None and kind.allowance is not None:
            usual = set_to_tape(kind.allowance, self.unit)
        return self.allowances.get(kind.name, self.allowance if usual is None else usual)


def hem_shortage(stretch: float) -> float:
    """Return how much shorter than its place (a share) the raw edge of a hem may be in a cloth of this stretch.

    >>> hem_shortage(0.02), hem_shortage(0.5)
    (0.02, 0.12)
    """
    return min(KNIT_SHORTAGE, max(WOVEN_SHORTAGE, stretch / 2.0))


def usual_hem(kind: Kind) -> float:
    """Return how deep (mm) a hem of such a cloth is turned where nothing else is asked."""
    return WOVEN_HEM_DEPTH if kind is Kind.WOVEN else HEM_DEPTH
