"""Measuring stretch and recovery at home, and what an opening passes at the stretch there is."""

from __future__ import annotations

from typing import Final

from drafting.errors import InputError, Problem
from drafting.trade import TradeValue
from drafting.units import Unit

_HOME_METHOD: Final = (
    "Fold the cloth along its crosswise grain, well away from the cut edge. Mark {} on the fold, hold one "
    "mark at the start of a ruler and pull the other gently, stopping before the fold rolls; read the ruler. "
    "Let go, wait a minute and read again: that is how well it comes back. Do the same along the length."
)


def home_method(unit: Unit = "cm") -> str:
    """Return how to measure stretch at home, with a round length to mark in the unit of the maker's ruler."""
    return _HOME_METHOD.format("4 in" if unit == "in" else "10 cm")


HOME_METHOD: Final = home_method()
"""How to measure stretch at home: on a fold, since a raw edge stretches more (common practice)."""

HAND_PASSING: Final = TradeValue(
    21.0 / 18.6, "times", "from memory", "21 cm for the mean woman's 18.6 cm of ANSUR 1988, 24 for the mean man's 21.4"
)
"""The girth over the knuckles, that a closed cuff must pass: the thumb has to pass too."""


def measured_stretch(relaxed: float, stretched: float) -> float:
    """Return the stretch as a share: (stretched - relaxed) / relaxed, both in the same unit.

    Source: the usual home-sewing formula (10 in to 14 in is 40 %, measured on a crosswise fold). InputError
    where the lengths aren't positive or the cloth shrank.

    >>> measured_stretch(10, 15)
    0.5
    """
    _check_lengths(relaxed, stretched, "stretched")
    return (stretched - relaxed) / relaxed


def measured_recovery(relaxed: float, returned: float) -> float:
    """Return the recovery: 1 less the share by which the cloth stayed longer after it was let go.

    The growth is a share of the first length, as in ASTM D2594 ("fabric growth"). InputError as for stretch.

    >>> measured_recovery(100, 105)
    0.95
    """
    _check_lengths(relaxed, returned, "returned")
    return max(0.0, 1.0 - (returned - relaxed) / relaxed)


def greatest_reduction(stretch: float) -> float:
    """Return the greatest share s/(1+s) by which a girth may be less than the body's and still go round it.

    By arithmetic: finished girth x (1 + s) >= body girth; 25 % stretch allows 20 %, 50 % allows 33 %.
    """
    return stretch / (1.0 + stretch)


def passes(opening: float, stretch: float, body: float) -> bool:
    """Tell whether an opening of that length (mm), stretched by that share, passes over that girth (mm)."""
    return short_by(opening, stretch, body) == 0.0


def short_by(opening: float, stretch: float, body: float) -> float:
    """Return how much longer (mm, relaxed) the opening must be to pass over that girth; 0 if it passes."""
    return max(0.0, body / (1.0 + stretch) - opening)


def hand_passage(hand_girth: float) -> float:
    """Return the girth (mm) that a closed cuff must pass for a hand of that girth over the knuckles.

    The hand girth leaves out the thumb, which has to pass too: about 21 cm for the mean woman's 18.6 cm of
    ANSUR 1988 (24 for the mean man's 21.4 cm), an allowance from memory.
    """
    return hand_girth * HAND_PASSING


def _check_lengths(relaxed: float, after: float, word: str) -> None:
    if not 0.0 < relaxed < 1e5:
        raise InputError(
            [Problem("cloth.relaxed", f"{relaxed:g}", "a length above 0", "measure the relaxed cloth again")]
        )
    if not relaxed <= after < 1e6:
        mend = f"the {word} length can't be less than the relaxed length; measure again"
        raise InputError([Problem(f"cloth.{word}", f"{after:g}", f"{relaxed:g} or more", mend)])
