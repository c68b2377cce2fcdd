"""The cloth a garment is cut from: what it is, how far it stretches, how well it comes back.

And what follows: how both are measured at home, and what an opening passes at the stretch there is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import Final, Literal

from drafting.cloth.colour import NO_COLOUR, TINTS, Tint
from drafting.errors import InputError, Problem
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_row
from drafting.units import Unit, show_share


class Kind(StrEnum):
    """How the cloth is made."""

    KNIT = "knit"
    WOVEN = "woven"


class Fit(StrEnum):
    """How near the garment lies to the body."""

    CLOSE = "close"
    SEMI = "semi-fitted"
    RELAXED = "relaxed"


@dataclass(frozen=True, slots=True)
class Stripe:
    """A stripe: its repeat in mm; "across" runs from selvedge to selvedge, "along" with the length.

    A "check" is both at once: ``repeat`` is that of its lines across, ``repeat_along`` of those along. ``uneven`` says
    that the order of colours differs from one way to the other, so pieces all point one way.
    """

    repeat: float
    direction: Literal["across", "along", "check"] = "across"
    uneven: bool = False
    repeat_along: float | None = None

    def __post_init__(self) -> None:
        problems = (
            [] if 1.0 <= self.repeat <= 2000.0 else [_out_of_range("stripe.repeat", self.repeat, "1 to 2000 mm", "mm")]
        )
        along = self.repeat_along
        if along is not None and not 1.0 <= along <= 2000.0:
            problems.append(_out_of_range("stripe.repeat_along", along, "1 to 2000 mm", "mm"))
        if self.direction not in ("across", "along", "check"):
            problems.append(Problem("cloth.stripe.direction", str(self.direction)[:40], "across, along or check"))
        if problems:
            raise InputError(problems)

    @property
    def plain(self) -> tuple[Stripe, ...]:
        """The stripes that it is made of, each across or along the cloth: two of a check, which is square by rule."""
        if self.direction != "check":
            return (self,)
        along = self.repeat if self.repeat_along is None else self.repeat_along
        return Stripe(self.repeat, "across", self.uneven), Stripe(along, "along", self.uneven)


@dataclass(frozen=True, slots=True)
class Flaw:
    """A place of the washed cloth that no piece may lie on: a hole, a stain, what is cut away already.

    mm: ``left`` from the left selvedge and ``end`` from the cut end to the rectangle that holds it, ``width`` across
    and ``length`` along it.
    """

    name: str
    left: float
    end: float
    width: float
    length: float


UNNAMED = "cloth"
"""What a cloth is called that was given no name."""


@dataclass(frozen=True, slots=True)
class Cloth:
    """A cloth, with its figures.

    ``stretch_across`` and ``stretch_along`` are shares (0.25: 10 cm gives to 12.5 cm); ``recovery`` is 1 less
    the share by which it stays longer after it is let go (0.95: it returns to within 5 %). ``elastane`` None:
    not known. ``width`` mm between the selvedges. ``sides_alike``: either may be the right side.
    ``cut_unwashed``: it is cut as it is bought, and the pattern drawn larger by what the wash takes.
    ``nap``: all pieces must point the same way; ``shades``: it looks otherwise upside down, None where it isn't said,
    as knits do then. ``length`` is how much there is of it (mm, None: it is bought by the lay), ``flaws`` what of that
    can't be used; ``colour`` what it is drawn in. ``shrink_across``, ``shrink_along``: shares lost in the wash
    (below 0: it grows). ``thickness`` mm. ``stretch_bias`` is the stretch on the true bias, None where it wasn't
    measured. InputError where a figure can't be.
    """

    name: str = UNNAMED
    kind: Kind = Kind.KNIT
    stretch_across: float = 0.25
    stretch_along: float = 0.0
    recovery: float = 0.95
    elastane: bool | None = None
    width: float = 1500.0
    sides_alike: bool = False
    stripe: Stripe | None = None
    nap: bool = False
    cut_unwashed: bool = False
    shades: bool | None = None
    length: float | None = None
    flaws: tuple[Flaw, ...] = ()
    colour: str = NO_COLOUR
    shrink_across: float = 0.0
    shrink_along: float = 0.0
    thickness: float = 0.8
    stretch_bias: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in tuple(Kind):
            raise InputError([Problem("cloth.kind", str(self.kind)[:40], "knit or woven")])
        object.__setattr__(self, "kind", Kind(self.kind))
        problems = [
            _out_of_range(figure, getattr(self, figure), words, low.unit)
            for figure, ((low, high), words) in CLOTH_LIMITS.items()
            if (value := getattr(self, figure)) is not None and not low <= value <= high
        ]
        if problems:
            raise InputError(problems)

    def tell(self, more: str) -> str:
        """Return words of this cloth after its name, if it has one."""
        return more if self.name == UNNAMED else f"{self.name}, {more}"

    def tell_give(self) -> str:
        """Return words of this cloth and how far it gives across, or along first where it gives more that way.

        Of a woven whose give is nothing felt, its kind.
        """
        across, along = self.stretch_across, self.stretch_along
        if self.kind is Kind.WOVEN and max(across, along) <= UNFELT_STRETCH:
            return self.tell("woven")
        gives = f"{show_share(along)} along, {show_share(across)} across" if along > across else show_share(across)
        return self.tell(f"stretch {gives}")

    @property
    def tint(self) -> Tint | None:
        """What it is drawn in, None where nothing is said of its colour."""
        return TINTS.get(self.colour)

    @property
    def washed(self) -> tuple[float, float]:
        """What is left of it after the wash (shares): across and along; over 1 where it grows."""
        return 1.0 - self.shrink_across, 1.0 - self.shrink_along

    @property
    def growth(self) -> tuple[float, float]:
        """How many times as large as it is worn what is cut from it is drawn: across the cloth, and along it."""
        across, along = self.washed
        return (1.0 / across, 1.0 / along) if self.cut_unwashed else (1.0, 1.0)

    def shrink_flaw(self, flaw: Flaw) -> Flaw:
        """Return a flaw as it lies after the wash, where it was found before."""
        across, along = self.growth
        return Flaw(flaw.name, flaw.left / across, flaw.end / along, flaw.width / across, flaw.length / along)

    @property
    def one_way(self) -> bool:
        """Whether all pieces lie the same way up: naps and stripes do, and knits that aren't said not to shade."""
        shades = self.kind is Kind.KNIT if self.shades is None else self.shades
        return self.nap or shades or self.stripe is not None

    @property
    def stretch_round(self) -> float:
        """How far it stretches round the body (a share), where pieces lie upright on it, or as ``turn_cloth`` says."""
        return self.stretch_across

    @property
    def stretch_other(self) -> float:
        """How far it stretches along the body (a share), where ``stretch_round`` lies round it."""
        return self.stretch_along

    @property
    def working_stretch(self) -> float:
        """The share of the crosswise stretch that a fit may count on: what comes back when let go."""
        return self.stretch_across * self.recovery


UNFELT_STRETCH = TradeValue(0.05, "share", "common practice", "a woven without elastane gives 0 to 5 %")
"""Of stretch across up to which a woven is called one that doesn't stretch."""

CLOTH_LIMITS: Mapping[str, tuple[tuple[TradeValue, ...], str]] = {
    "stretch_across": (trade_row((0.0, 3.0), "share", "from memory"), "0 to 300 %"),
    "stretch_along": (trade_row((0.0, 3.0), "share", "from memory"), "0 to 300 %"),
    "stretch_bias": (trade_row((0.0, 3.0), "share", "from memory"), "0 to 300 %"),
    "recovery": (trade_row((0.0, 1.0), "share", "derived", "none, and all of it"), "0 to 100 %"),
    "width": (trade_row((200.0, 3300.0), "mm", "common practice", "sheeting to 320 cm"), "200 to 3300 mm"),
    "length": (trade_row((100.0, 100_000.0), "mm", "from memory"), "100 mm to 100 m"),
    "shrink_across": (trade_row((-0.2, 0.4), "share", "from memory"), "-20 to 40 %"),
    "shrink_along": (trade_row((-0.2, 0.4), "share", "from memory"), "-20 to 40 %"),
    "thickness": (trade_row((0.05, 20.0), "mm", "from memory"), "0.05 to 20 mm"),
}
"""Between which a figure of a cloth lies; beyond, it is a slip of the tape or the unit."""


def _out_of_range(figure: str, value: float, words: str, unit: str) -> Problem:
    read = show_share(value) if unit == "share" and math.isfinite(value) else f"{value:g} {unit}"
    return Problem(f"cloth.{figure}", read, words, "measure the cloth again, and check the unit")


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
