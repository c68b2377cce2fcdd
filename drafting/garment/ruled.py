"""What a fact says of the garment to later steps: a figure and a place, so that nobody has to know a fact by its name.

A fact's name is for people: it is printed, and takes ``_left`` and ``_right`` where the halves differ. What the proof
or a change reckons with, a block says in so many words by ``Fact.ruled``.
"""

from __future__ import annotations

import math
from typing import Final

from drafting.garment.model import Fact, Garment

CUT_OFF: Final = "level_cut_off"
"""Of which a fact tells that a slanting hem has cut off a girth's level: by how much (mm), at the level's name."""

SCYE_DEPTH: Final = "scye_depth"
"""How far (mm) a bodice's own rules have the underarm below the nape, on a side."""

SHOULDER_SLOPE: Final = "shoulder_slope"
"""How steep (rad) a bodice for knits has its shoulder, both faces' mean, on a side."""

UNDERARM_BARE: Final = "underarm_bare"
"""By how much (mm) a sleeveless bodice's underarm was drawn above that of one with sleeves, on a side."""

ACROSS_GIVEN: Final = "across_given"
"""What (mm) a rule took of the whole width across for the room of the arm, on a side."""

BUST_DART: Final = "bust_dart"
"""What (mm) a bust dart takes in, on a side; 0 where a bodice that has one otherwise has none for this body."""

CENTRE_FRONT_OFF: Final = "centre_front_off"
"""By how much (mm) a bodice's centre front is longer than the body's own, on a side."""

FRONT_EASED: Final = "front_eased"
"""By how much (mm) a front was drawn out over the bust, eased onto the back."""

FRONT_DROPPED: Final = "front_dropped"
"""By how much (mm) a front lies lower at the centre than at the sides from the waist on."""

NECKLINE_DROP: Final = "neckline_drop"
"""How far (mm) below the neck base a neckline was asked to lie, on a face."""

SLEEVE_LENGTH: Final = "sleeve_length"
"""How long (mm) a sleeve is from the shoulder point without a cuff, on a side: by rule of the body, or as asked."""

BAND_WIDTH: Final = "band_width"
"""How wide (mm) a band is, at its seam's name."""

BAND_SHARE: Final = "band_share"
"""What share of its edge a band is long, at its seam's name."""


def list_ruled(garment: Garment, figure: str, place: str = "") -> tuple[Fact, ...]:
    """Return what is said of a figure, in the order it was said: of a place what is said of the whole too.

    No place means all of them.
    """
    return tuple(
        fact
        for fact in garment.facts
        if fact.ruled is not None and fact.ruled.figure == figure and (not place or fact.ruled.place in ("", place))
    )


def sum_ruled(garment: Garment, figure: str, place: str = "") -> float:
    """Return what is said of a figure at a place, all together (in the figure's unit); 0 where nothing is."""
    return math.fsum(fact.value for fact in list_ruled(garment, figure, place))
