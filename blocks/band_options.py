"""The options of bands, bindings, cuffs and waistbands: what may be asked of any strip sewn to an edge."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drafting.cloth import NARROWEST_BAND
from drafting.garment import Side, option, side_option, sides_of
from drafting.record import dataclass
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue

WIDEST_ARM_BAND = TradeValue(20.0, "mm", "common practice", "1 to 2 cm")
"""Of width of an armhole band, where its edge's curve lets one as wide lie flat."""


def width_option(what: str, default: float | None, low: float, high: float, rule: Words = "") -> Any:
    """Return the field of a band's finished width (mm); ``rule`` says how it is found where it isn't given."""
    return option(
        say("Finished width of the {what}{rule}.", what=what, rule=rule), "length", default, low=low, high=high
    )


def ratio_option(told: str, low: float = 0.5, high: float = 1.1) -> Any:
    """Return the field of a band's length as a share of its edge; by default a rule decides, which is told."""
    return option(told, "ratio", None, low=low, high=high)


@dataclass(frozen=True, slots=True)
class NeckBandOptions:
    """Options of the neck band."""

    width: float = width_option("band", 20.0, NARROWEST_BAND, 80.0)
    ratio: float | None = ratio_option("Length of the band as a share of the neckline; by rule solved to lie flat.")


@dataclass(frozen=True, slots=True)
class HemBandOptions:
    """Options of the hem band."""

    width: float = width_option("band", 55.0, 15.0, 200.0)
    ratio: float | None = ratio_option(
        "Length of the band as a share of the hem; by rule it draws in by the stretch there is."
    )


@dataclass(frozen=True, slots=True)
class ArmholeBandOptions:
    """Options of the armhole band."""

    width: float | None = width_option(
        "band",
        None,
        NARROWEST_BAND,
        90.0,
        say("; by rule the widest that lies flat on the armhole's curve, at most {most}", most=mm(WIDEST_ARM_BAND)),
    )
    ratio: float | None = ratio_option(
        "Length of the band as a share of the armhole (0.85 is common practice); by rule solved."
    )
    arm: str = side_option("Which armholes get a band.")

    @property
    def banded(self) -> Mapping[Side, float]:
        """The sides whose armholes get a band, and its width (mm): what comes before is drafted as much smaller."""
        return dict.fromkeys(sides_of(self.arm), float(WIDEST_ARM_BAND) if self.width is None else self.width)


@dataclass(frozen=True, slots=True)
class BindingOptions:
    """Options of the neck binding."""

    width: float = width_option("binding", 10.0, 5.0, 20.0)
    ratio: float | None = ratio_option("Length of the binding as a share of the edge; by rule solved to lie flat.", 0.6)
