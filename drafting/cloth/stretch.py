"""Measuring stretch and recovery at home, and what an opening passes at the stretch there is."""

from __future__ import annotations

from typing import Final

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


HAND_PASSING: Final = TradeValue(
    21.0 / 18.6, "times", "from memory", "21 cm for the mean woman's 18.6 cm of ANSUR 1988, 24 for the mean man's 21.4"
)
"""The girth over the knuckles, that a closed cuff must pass: the thumb has to pass too."""


def greatest_reduction(stretch: float) -> float:
    """Return the greatest share s/(1+s) by which a girth may be less than the body's and still go round it.

    By arithmetic: finished girth x (1 + s) >= body girth; 25 % stretch allows 20 %, 50 % allows 33 %.
    """
    return stretch / (1.0 + stretch)


def short_by(opening: float, stretch: float, body: float) -> float:
    """Return how much longer (mm, relaxed) the opening must be to pass over that girth; 0 if it passes."""
    return max(0.0, body / (1.0 + stretch) - opening)


def hand_passage(hand_girth: float) -> float:
    """Return the girth (mm) that a closed cuff must pass for a hand of that girth over the knuckles.

    The hand girth leaves out the thumb, which has to pass too: about 21 cm for the mean woman's 18.6 cm of
    ANSUR 1988 (24 for the mean man's 21.4 cm), an allowance from memory.
    """
    return hand_girth * HAND_PASSING
