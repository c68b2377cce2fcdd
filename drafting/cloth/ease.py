"""Ease: what a garment measures beyond the body, from the fit asked for and what the cloth gives."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import field, fields
from types import MappingProxyType
from typing import Final, Protocol

from drafting.cloth.cloth import Cloth, Fit, Kind, greatest_reduction
from drafting.record import dataclass
from drafting.saying import Words, cm, mm, say, show_share, span
from drafting.trade import TradeValue, trade_table

STEADY: Final = TradeValue(0.20, "share", "from memory", "a knit top wants 20 to 30 %")
"""Of stretch from which a cloth is fitted as a knit: below it ease moves towards a woven's."""
ORDINARY_THICKNESS: Final = TradeValue(1.0, "mm", "from memory")
"""Of thickness up to which a cloth is allowed for in the tables of ease."""


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
    reasons: Mapping[str, Words] = field(default_factory=dict)

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

EASE_IN_CLOTHING: Final = (
    '"Ease in Clothing", ch. 16 of a costume-construction text, Central Washington University (costxt_16.htm)'
)
"""Where eases of wovens were read; it names no author."""
_PATTERNMAKING: Final = "H. J. Armstrong, Patternmaking for Fashion Design, 2nd ed., p. 68, as quoted"
_NECK_BASE: Final = "a high round neck measures 0 to 2 cm more than the neck base"

KNIT_EASE: Final[Mapping[Fit, Mapping[str, float]]] = {
    Fit.CLOSE: {
        **trade_table({"bust": 0.0, "hip": 0.0, "upper_arm": 0.0}, "mm", "from memory", "less what its stretch gives"),
        **trade_table({"waist": 0.0}, "mm", "common practice", "as the body"),
        **trade_table({"wrist": 10.0, "across_back": 0.0, "scye_depth": 10.0}, "mm", "from memory"),
        **trade_table({"neck": 5.0}, "mm", "derived", _NECK_BASE),
    },
    Fit.SEMI: {
        **trade_table({"bust": 38.1, "waist": 76.2, "hip": 0.0}, "mm", "common practice", "1 1/2 in, 3 in and none"),
        **trade_table({"upper_arm": 20.0, "wrist": 25.0, "across_back": 5.0, "scye_depth": 20.0}, "mm", "from memory"),
        **trade_table({"neck": 10.0}, "mm", "derived", _NECK_BASE),
    },
    Fit.RELAXED: {
        **trade_table({"bust": 90.0, "waist": 120.0, "hip": 50.0, "upper_arm": 50.0}, "mm", "from memory"),
        **trade_table({"wrist": 50.0, "across_back": 10.0, "scye_depth": 35.0}, "mm", "from memory"),
        **trade_table({"neck": 15.0}, "mm", "derived", _NECK_BASE),
    },
}
"""Of ease in a knit. The hip has none where a hem band draws it in; the armhole lies 1 to 4 cm below the armpit."""

WOVEN_EASE: Final[Mapping[Fit, Mapping[str, float]]] = {
    Fit.CLOSE: {
        **trade_table({"bust": 50.0, "waist": 25.0, "hip": 50.0}, "mm", "published", EASE_IN_CLOTHING),
        **trade_table({"upper_arm": 50.0}, "mm", "published", _PATTERNMAKING),
        **trade_table({"wrist": 25.0, "across_back": 10.0, "scye_depth": 15.0}, "mm", "from memory"),
        **trade_table({"neck": 10.0}, "mm", "derived", _NECK_BASE),
    },
    Fit.SEMI: {
        **trade_table({"bust": 64.0}, "mm", "from memory", "2 1/2 in"),
        **trade_table({"hip": 64.0}, "mm", "published", EASE_IN_CLOTHING),
        **trade_table({"upper_arm": 50.0}, "mm", "published", _PATTERNMAKING),
        **trade_table({"waist": 40.0, "wrist": 35.0, "across_back": 15.0, "scye_depth": 19.0}, "mm", "from memory"),
        **trade_table({"neck": 10.0}, "mm", "derived", _NECK_BASE),
    },
    Fit.RELAXED: {
        **trade_table({"bust": 100.0, "waist": 90.0, "hip": 100.0, "upper_arm": 70.0}, "mm", "from memory"),
        **trade_table({"wrist": 60.0, "across_back": 25.0, "scye_depth": 25.0}, "mm", "from memory"),
        **trade_table({"neck": 15.0}, "mm", "derived", _NECK_BASE),
    },
}
"""Of ease in a woven: at the bust 1 1/2 to 2 in at least, at the waist 3/4 to 1 in, at the hip 2 to 2 3/4 in."""

CLOSE_SHARE: Final = TradeValue(0.2, "share", "from memory")
"""Of its working stretch by which a close knit is smaller than the body at the bust."""

SENSIBLE_SHARE: Final = TradeValue(0.5, "share", "from memory")
"""Of the reduction that the stretch allows at all, which a garment may use before it pulls."""

MOST_REDUCTION: Final = TradeValue(0.10, "share", "from memory", "0 to 5 % fitted, 5 to 10 % hugging")
"""Of the body by which a close knit is smaller at most."""

CLOSE_PARTS: Final = trade_table({"bust": 1.0, "hip": 0.5, "upper_arm": 0.5}, "share", "from memory")
"""Of that reduction at each place: the hip and the upper arm move and bend, half as much there."""

DRAWN_ON_SPARE: Final = TradeValue(10.0, "mm", "from memory")
"""Girth to spare where a stretched waist passes over the bust."""

MEAN_WOMAN: Final[Mapping[str, float]] = trade_table(
    {"bust_girth": 909.0, "hip_girth": 968.0, "upper_arm_girth": 293.0}, "mm", "published", "ANSUR 1988, means of women"
)
"""Round the body that a close knit's reduction is taken of where no body is given."""


def ease_for(fit: Fit, cloth: Cloth, body: Girths | None = None) -> EaseTable:
    """Return the ease (mm) for a fit in a cloth.

    A semi-fitted knit has 1 1/2 in at the bust, 3 in at the waist and none at the hip (common practice). A
    close knit is smaller than the body at the bust by a fifth of its working stretch, by at most 10 % (from
    memory: 0 to 5 % fitted, 5 to 10 % hugging) and never by more than half of s/(1+s), the most the cloth
    could give. A knit that stretches less than 20 % is eased towards a woven. The share is taken of
    ``body``'s girths, or, without a body, of the mean woman of ANSUR 1988. The waist of a knit, stretched, passes
    over ``body``'s bust. Cloth thicker than 1 mm adds pi x
    what is over, since the girth of the garment is that of the middle of the cloth.
    """
    fit = Fit(fit)
    table = WOVEN_EASE if cloth.kind is Kind.WOVEN else KNIT_EASE
    values = {place: float(table[fit][place]) for place in _PLACES}
    reasons = _reasons(fit, cloth.kind)
    if cloth.kind is Kind.KNIT:
        _steady_knit(values, reasons, fit, cloth)
    if cloth.kind is Kind.KNIT and fit is Fit.CLOSE:
        _close_knit(values, reasons, cloth, body)
    if cloth.kind is Kind.KNIT and body is not None:
        _drawn_on(values, reasons, cloth, body)
    _thick_cloth(values, reasons, cloth)
    return EaseTable(**values, reasons=reasons)


def share_drawn_in(fit: Fit, cloth: Cloth, body: Girths) -> float:
    """Return the share of the body by which a close knit is smaller at the bust; 0 for what isn't smaller."""
    return max(-ease_for(fit, cloth, body).bust / body["bust_girth"], 0.0)


_TRIO: Final = "semi-fitted knit: 1 1/2 in at the bust, 3 in at the waist, none at the hip (common practice)"
_MEMORY: Final = "drafting default, from memory"
_DEPTH: Final = say("the armhole lies {figures} below the armpit (from memory)", figures=span(cm(1), cm(4)))
_NECK: Final = say(
    "a high round neck measures {figures} more than the neck base (derived)",
    figures=span(cm(0), cm(2)),
)
_WEARING: Final = 'minimum wearing ease of wovens (a costume-construction text, ch. 16 "Ease in Clothing")'


def _reasons(fit: Fit, kind: Kind) -> dict[str, Words]:
    """Return where each figure of the tables comes from."""
    reasons = dict.fromkeys(_PLACES, _MEMORY) | {"scye_depth": _DEPTH, "neck": _NECK}
    if kind is Kind.WOVEN:
        arm = "2 in over the upper arm (Armstrong, 2nd ed., p. 68, as quoted)"
        across = say("{figures} across the whole back (from memory)", figures=span(cm(1), cm(2.5)))
        return reasons | dict.fromkeys(("bust", "waist", "hip"), _WEARING) | {"upper_arm": arm, "across_back": across}
    if fit is Fit.SEMI:
        return reasons | dict.fromkeys(("bust", "waist", "hip"), _TRIO)
    return reasons | ({"waist": "close knit: as the body (common practice)"} if fit is Fit.CLOSE else {})


def close_reduction(cloth: Cloth) -> float:
    """Return the share by which a close knit is smaller than the body: a fifth of the working stretch."""
    stretch = cloth.working_stretch
    return min(CLOSE_SHARE * stretch, SENSIBLE_SHARE * greatest_reduction(stretch), MOST_REDUCTION)


def _steady_knit(values: dict[str, float], reasons: dict[str, Words], fit: Fit, cloth: Cloth) -> None:
    """Move the ease of a knit that hardly stretches towards a woven's, by the share of stretch it lacks."""
    lacks = max(0.0, 1.0 - cloth.stretch_across / STEADY)
    if lacks == 0.0:
        return
    for place, woven in WOVEN_EASE[fit].items():
        if woven > values[place]:
            values[place] += lacks * (woven - values[place])
            raised = "{why}; raised towards a woven's, as it stretches only {stretch}"
            reasons[place] = say(raised, why=reasons[place], stretch=show_share(cloth.stretch_across))


def _close_knit(values: dict[str, float], reasons: dict[str, Words], cloth: Cloth, body: Girths | None) -> None:
    share = close_reduction(cloth)
    if cloth.stretch_across < STEADY:
        return
    allowed = show_share(greatest_reduction(cloth.working_stretch))
    limit = f"of the {allowed} that its stretch allows (from memory; at most half)"
    whose = MEAN_WOMAN if body is None else body
    for place, part in CLOSE_PARTS.items():
        values[place] -= share * part * whose[f"{place}_girth"]
        reasons[place] = f"close knit: {show_share(share * part)} less than the body, {limit}"


def least_waist_ease(cloth: Cloth, body: Girths) -> float:
    """Return the ease (mm) that the waist of a knit has at least: stretched, it passes over the bust."""
    return (body["bust_girth"] + DRAWN_ON_SPARE) / (1.0 + cloth.stretch_round) - body["waist_girth"]


def _drawn_on(values: dict[str, float], reasons: dict[str, Words], cloth: Cloth, body: Girths) -> None:
    """Give the waist of a knit that is drawn on over the bust what its stretch doesn't give."""
    lacks = least_waist_ease(cloth, body)
    if lacks > values["waist"]:
        values["waist"] = lacks
        reasons["waist"] = say(
            "stretched, the waist must pass over the bust as it is drawn on, with {spare} to spare (derived)",
            spare=mm(DRAWN_ON_SPARE),
        )


def _thick_cloth(values: dict[str, float], reasons: dict[str, Words], cloth: Cloth) -> None:
    over = cloth.thickness - ORDINARY_THICKNESS
    if over <= 0.0:
        return
    for place in _GIRTHS:
        values[place] += math.pi * over
        thick = "{why}; and {more} for the thickness of the cloth"
        reasons[place] = say(thick, why=reasons[place], more=mm(math.pi * over))
