"""Whether a cloth can serve a design; what fails is named with its figure, its limit and a remedy."""

from __future__ import annotations

from drafting.cloth.band import GOOD_RECOVERY
from drafting.cloth.cloth import Cloth, Kind
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.units import show_share

LEAST_KNIT_STRETCH = TradeValue(0.20, "share", "common practice", "20 to 30 %")
"""Of stretch at least that a knit top wants of its cloth."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a cloth can't serve: the figure that fails, its value, the limit, and what would help."""

    figure: str
    value: float
    limit: float
    sentence: str
    remedy: str


def find_refusals(
    cloth: Cloth,
    *,
    needs_kind: Kind | None = Kind.KNIT,
    needs_stretch: tuple[float, float | None] = (LEAST_KNIT_STRETCH, None),
    needs_stretch_along: float = 0.0,
    needs_recovery: float = GOOD_RECOVERY,
    needs_elastane: bool = False,
) -> tuple[Refusal, ...]:
    """Return why the cloth can't serve a design that needs this; empty when it can.

    ``needs_stretch`` is the least and the greatest stretch round the body (None: no greatest); the direction
    that stretches more counts, since pieces are turned to put it round the body. A knit top wants 20 to 30 %
    stretch (more is allowed) and elastane for recovery; a woven can't serve (common practice).
    """
    least, most = needs_stretch
    stretch = max(cloth.stretch_across, cloth.stretch_along)
    found: list[Refusal] = []
    if needs_kind is not None and cloth.kind is not needs_kind:
        found.append(_wrong_kind(cloth, needs_kind, stretch, least))
    if stretch < least:
        says = f"the cloth stretches {show_share(stretch)}; this design needs at least {show_share(least)}"
        remedy = "choose a cloth that stretches more, or a design with more ease"
        found.append(Refusal("stretch_across", stretch, least, says, remedy))
    if most is not None and stretch > most:
        says = f"the cloth stretches {show_share(stretch)}; this design takes at most {show_share(most)}"
        found.append(Refusal("stretch_across", stretch, most, says, "choose a steadier cloth"))
    other = min(cloth.stretch_across, cloth.stretch_along)
    if other < needs_stretch_along:
        says = f"the other way it stretches {show_share(other)}; {show_share(needs_stretch_along)} is needed"
        found.append(
            Refusal("stretch_along", other, needs_stretch_along, says, "choose a cloth that stretches both ways")
        )
    if cloth.recovery < needs_recovery:
        says = f"its recovery is {show_share(cloth.recovery)}; this design needs {show_share(needs_recovery)}"
        found.append(Refusal("recovery", cloth.recovery, needs_recovery, says, "choose a knit with elastane"))
    if needs_elastane and cloth.elastane is False:
        says = "the cloth has no elastane; this design relies on it to keep its shape"
        found.append(Refusal("elastane", 0.0, 1.0, says, "choose a knit with elastane"))
    return tuple(found)


def _wrong_kind(cloth: Cloth, needs: Kind, stretch: float, least: float) -> Refusal:
    if needs is Kind.KNIT:
        says = f"a woven can't serve: it stretches {show_share(stretch)}, {show_share(least)} is needed"
        return Refusal("kind", stretch, least, says, "choose a knit, or a design drafted for wovens")
    return Refusal(
        "kind", stretch, 0.0, f"the design is for {needs}s; the cloth is a {cloth.kind}", f"choose a {needs}"
    )
