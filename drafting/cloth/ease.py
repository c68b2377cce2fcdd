"""Ease: what a garment measures beyond the body, from the fit asked for and what the cloth gives."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import field, fields
from types import MappingProxyType
from typing import Final, Protocol

from drafting.cloth.cloth import Cloth, Fit, Kind
from drafting.cloth.stretch import greatest_reduction
from drafting.record import dataclass
from drafting.units import show_share

STEADY: Final = 0.20
"""The stretch from which a cloth is fitted as a knit; below it ease moves towards a woven's."""
ORDINARY_THICKNESS: Final = 1.0
"""mm; cloth up to this thickness is allowed for in the tables."""


class Girths(Protocol):
    """Whatever gives a body's measurement (mm) by its name."""

    def __getitem__(self, name: str, /) -> float: ...


@dataclass(frozen=True, slots=True)
class EaseTable:
    """Ease at each place, mm: girths whole and the back whole; ``scye_depth`` and ``neck`` as below.

    ``scye_depth`` is how far the armhole lies below the armpit, ``neck`` what the neck seam measures beyond
    the neck base. ``reasons`` says for each place where its figure comes from.
    """

    bust: float
    waist: float
    hip: float
    upper_arm: float
    wrist: float
    across_back: float
    scye_depth: float
    neck: float
    reasons: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "reasons", MappingProxyType(dict(self.reasons)))

    def __hash__(self) -> int:
        return hash(tuple(self.figures().items()))

    def __reduce__(self) -> tuple[type[EaseTable], tuple[object, ...]]:
        return EaseTable, (*self.figures().values(), dict(self.reasons))

    def figures(self) -> dict[str, float]:
        """Return the ease by place, in the order of the table."""
        return {each.name: getattr(self, each.name) for each in fields(self) if each.name != "reasons"}


_PLACES: Final = ("bust", "waist", "hip", "upper_arm", "wrist", "across_back", "scye_depth", "neck")
_GIRTHS: Final = ("bust", "waist", "hip", "upper_arm", "wrist", "neck")

# A row per fit, a column per place, mm. Knit, semi-fitted: 1 1/2 in at the bust, 3 in at the waist, none at
# the hip where a hem band draws in (common practice). Knit, scye depth: 1 to 4 cm below the armpit (from
# memory); neck seam 0 to 2 cm beyond the neck base (derived identity).
_KNIT: Final[Mapping[Fit, tuple[float, ...]]] = MappingProxyType(
    {
        Fit.CLOSE: (0.0, 0.0, 0.0, 0.0, 10.0, 0.0, 10.0, 0.0),
        Fit.SEMI: (38.1, 76.2, 0.0, 20.0, 25.0, 5.0, 20.0, 5.0),
        Fit.RELAXED: (90.0, 120.0, 50.0, 50.0, 50.0, 10.0, 35.0, 10.0),
    }
)
# Woven: bust 1.5 to 2 in, waist 0.75 to 1 in, hip 2 to 2.75 in: costume-construction text, ch. 16 "Ease in
# Clothing", Central Washington Univ.; bust 2.5 in: an encyclopedia extract on ease; upper arm 2 in:
# Armstrong, Patternmaking for Fashion Design, 2nd ed., p. 68, as quoted; across back 1 to 2.5 cm from memory.
_WOVEN: Final[Mapping[Fit, tuple[float, ...]]] = MappingProxyType(
    {
        Fit.CLOSE: (50.0, 25.0, 50.0, 50.0, 25.0, 10.0, 10.0, 5.0),
        Fit.SEMI: (64.0, 40.0, 64.0, 50.0, 35.0, 15.0, 20.0, 5.0),
        Fit.RELAXED: (100.0, 90.0, 100.0, 70.0, 60.0, 25.0, 35.0, 10.0),
    }
)
_MEAN_WOMAN: Final[Mapping[str, float]] = MappingProxyType(
    {"bust_girth": 909.0, "hip_girth": 968.0, "upper_arm_girth": 293.0}
)


def ease_for(fit: Fit, cloth: Cloth, body: Girths | None = None) -> EaseTable:
    """Return the ease (mm) for a fit in a cloth.

    A semi-fitted knit has 1 1/2 in at the bust, 3 in at the waist and none at the hip (common practice). A
    close knit is smaller than the body at the bust by a fifth of its working stretch, by at most 10 % (from
    memory: 0 to 5 % fitted, 5 to 10 % hugging) and never by more than half of s/(1+s), the most the cloth
    could give. A knit that stretches less than 20 % is eased towards a woven. The share is taken of
    ``body``'s girths, or, without a body, of the mean woman of ANSUR 1988. Cloth thicker than 1 mm adds pi x
    what is over, since the girth of the garment is that of the middle of the cloth.
    """
    fit = Fit(fit)
    table = _WOVEN if cloth.kind is Kind.WOVEN else _KNIT
    values = dict(zip(_PLACES, table[fit], strict=True))
    reasons = _reasons(fit, cloth.kind)
    if cloth.kind is Kind.KNIT:
        _steady_knit(values, reasons, fit, cloth)
    if cloth.kind is Kind.KNIT and fit is Fit.CLOSE:
        _close_knit(values, reasons, cloth, body)
    _thick_cloth(values, reasons, cloth)
    return EaseTable(**values, reasons=reasons)


_TRIO: Final = "semi-fitted knit: 1 1/2 in at the bust, 3 in at the waist, none at the hip (common practice)"
_MEMORY: Final = "drafting default, from memory"
_DEPTH: Final = "the armhole lies 1 to 4 cm below the armpit (from memory)"
_NECK: Final = "a high round neck measures 0 to 2 cm more than the neck base (derived)"
_WEARING: Final = 'minimum wearing ease of wovens (a costume-construction text, ch. 16 "Ease in Clothing")'


def _reasons(fit: Fit, kind: Kind) -> dict[str, str]:
    """Return where each figure of the tables comes from."""
    reasons = dict.fromkeys(_PLACES, _MEMORY) | {"scye_depth": _DEPTH, "neck": _NECK}
    if kind is Kind.WOVEN:
        arm = "2 in over the upper arm (Armstrong, 2nd ed., p. 68, as quoted)"
        across = "1 to 2.5 cm across the whole back (from memory)"
        return reasons | dict.fromkeys(("bust", "waist", "hip"), _WEARING) | {"upper_arm": arm, "across_back": across}
    if fit is Fit.SEMI:
        return reasons | dict.fromkeys(("bust", "waist", "hip"), _TRIO)
    return reasons | ({"waist": "close knit: as the body (common practice)"} if fit is Fit.CLOSE else {})


def close_reduction(cloth: Cloth) -> float:
    """Return the share by which a close knit is smaller than the body: a fifth of the working stretch."""
    stretch = cloth.working_stretch
    return min(0.2 * stretch, 0.5 * greatest_reduction(stretch), 0.10)


def _steady_knit(values: dict[str, float], reasons: dict[str, str], fit: Fit, cloth: Cloth) -> None:
    """Move the ease of a knit that hardly stretches towards a woven's, by the share of stretch it lacks."""
    lacks = max(0.0, 1.0 - cloth.stretch_across / STEADY)
    if lacks == 0.0:
        return
    for place, woven in zip(_PLACES, _WOVEN[fit], strict=True):
        if woven > values[place]:
            values[place] += lacks * (woven - values[place])
            reasons[place] += f"; raised towards a woven's, as it stretches only {show_share(cloth.stretch_across)}"


def _close_knit(values: dict[str, float], reasons: dict[str, str], cloth: Cloth, body: Girths | None) -> None:
    share = close_reduction(cloth)
    if cloth.stretch_across < STEADY:
        return
    allowed = show_share(greatest_reduction(cloth.working_stretch))
    limit = f"of the {allowed} that its stretch allows (from memory; at most half)"
    whose = _MEAN_WOMAN if body is None else body
    # The hip and the upper arm move and bend: half as much there (drafting default, from memory).
    for place, part in (("bust", 1.0), ("hip", 0.5), ("upper_arm", 0.5)):
        values[place] -= share * part * whose[f"{place}_girth"]
        reasons[place] = f"close knit: {show_share(share * part)} less than the body, {limit}"


def _thick_cloth(values: dict[str, float], reasons: dict[str, str], cloth: Cloth) -> None:
    over = cloth.thickness - ORDINARY_THICKNESS
    if over <= 0.0:
        return
    for place in _GIRTHS:
        values[place] += math.pi * over
        reasons[place] += f"; and {math.pi * over:.0f} mm for the thickness of the cloth"
