"""Whether a cloth can serve a design; what fails is named with its figure, its limit and a remedy."""

from __future__ import annotations

import math
from typing import Final

from drafting.cloth.band import GOOD_RECOVERY
from drafting.cloth.cloth import Cloth, Kind
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.units import show_share

LEAST_KNIT_STRETCH = TradeValue(0.20, "share", "common practice", "20 to 30 %")
"""Least stretch that a knit top wants of its cloth."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a cloth can't serve: the figure that fails, its value, the limit, and what would help."""

    figure: str
    value: float
    limit: float
    sentence: str
    remedy: str


@dataclass(frozen=True, slots=True)
class ClothNeeds:
    """What a design needs of its main cloth; by default it is served by any.

    ``stretch`` is the least share round the body, ``most_stretch`` the greatest, ``stretch_along`` the least the other
    way.
    """

    kind: Kind | None = None
    stretch: float = 0.0
    most_stretch: float = math.inf
    stretch_along: float = 0.0
    recovery: float = 0.0
    elastane: bool = False

    def joined(self, other: ClothNeeds) -> ClothNeeds:
        """What a design needs whose parts need this and ``other``; the kind is the later one's."""
        return ClothNeeds(
            other.kind or self.kind,
            max(self.stretch, other.stretch),
            min(self.most_stretch, other.most_stretch),
            max(self.stretch_along, other.stretch_along),
            max(self.recovery, other.recovery),
            self.elastane or other.elastane,
        )


KNIT_NEEDS: Final = ClothNeeds(Kind.KNIT, LEAST_KNIT_STRETCH, recovery=GOOD_RECOVERY)
"""What a knit top needs: 20 to 30 % stretch (more is allowed), elastane for recovery (common practice)."""


def find_refusals(cloth: Cloth, needs: ClothNeeds) -> tuple[Refusal, ...]:
    """Return why the cloth can't serve a design that needs this; empty when it can.

    ``cloth`` is as it lies round the body.
    """
    stretch = cloth.stretch_round
    found: list[Refusal] = []
    if needs.kind is not None and cloth.kind is not needs.kind:
        found.append(_wrong_kind(cloth, needs.kind, stretch, needs.stretch))
    if stretch < needs.stretch:
        needed, along = show_share(needs.stretch), show_share(cloth.stretch_other)
        says = f"round the body the cloth stretches {show_share(stretch)}; this design needs at least {needed}"
        turned = f"turn its pieces under [grain]: the other way it stretches {along}"
        usual = "choose a cloth that stretches more, or a design with more ease"
        remedy = turned if cloth.stretch_other >= needs.stretch else usual
        found.append(Refusal("stretch_across", stretch, needs.stretch, says, remedy))
    if stretch > needs.most_stretch:
        most = show_share(needs.most_stretch)
        says = f"round the body the cloth stretches {show_share(stretch)}; this design takes at most {most}"
        found.append(Refusal("stretch_across", stretch, needs.most_stretch, says, "choose a steadier cloth"))
    other = cloth.stretch_other
    if other < needs.stretch_along:
        says = f"the other way it stretches {show_share(other)}; {show_share(needs.stretch_along)} is needed"
        found.append(
            Refusal("stretch_along", other, needs.stretch_along, says, "choose a cloth that stretches both ways")
        )
    if cloth.recovery < needs.recovery:
        says = f"its recovery is {show_share(cloth.recovery)}; this design needs {show_share(needs.recovery)}"
        left = show_share(1.0 - cloth.recovery)  # of one that stays 5 % longer, one may write 5 %
        mend = (
            f'write "{left}" if {show_share(cloth.recovery)} is what it stays longer by; or choose a knit with elastane'
        )
        kept = 1.0 - cloth.recovery >= needs.recovery
        remedy = mend if kept else "choose a knit with elastane"
        found.append(Refusal("recovery", cloth.recovery, needs.recovery, says, remedy))
    if needs.elastane and cloth.elastane is False:
        says = "the cloth has no elastane; this design relies on it to keep its shape"
        found.append(Refusal("elastane", 0.0, 1.0, says, "choose a knit with elastane"))
    return tuple(found)


def _wrong_kind(cloth: Cloth, needs: Kind, stretch: float, least: float) -> Refusal:
    if needs is Kind.KNIT:
        says = "this design needs a knit; the ticket says woven"
        return Refusal("kind", stretch, least, says, "choose a knit, or a design drafted for wovens")
    return Refusal(
        "kind", stretch, 0.0, f"the design is for {needs}s; the cloth is a {cloth.kind}", f"choose a {needs}"
    )
