"""How wide cloth is: in which widths it is sold, and what of a width can be used."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final

from drafting.cloth import Cloth
from drafting.cloth.cloth import CLOTH_LIMITS
from drafting.proof.checks.cutting import LAID_OFF, SELVEDGES
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.units import Unit

SHOP_WIDTHS: Final[Mapping[str, tuple[TradeValue, ...]]] = {
    "cm": trade_row((1150.0, 1400.0, 1500.0, 1600.0), "mm", "common practice", "115, 140, 150 and 160 cm"),
    "in": trade_row((1143.0, 1397.0, 1524.0, 1574.8), "mm", "common practice", "45, 55, 60 and 62 in"),
}
"""In which cloth is sold."""

SAME_WIDTH: Final = TradeValue(1.0, "mm", "derived", "a width is measured to the mm")
"""Widths that differ by less are one."""


RUNGS: Final = trade_table({"cm": 50.0, "mm": 50.0, "in": 50.8}, "mm", "derived", "most cloth is so wide: 5 cm, 2 in")
"""From one width to the next in which a lay is sought for any wider cloth, besides those of a shop."""

FINER: Final = (1, 10, 50)
"""How many times closer they lie, one after the other, where one part is nearly as wide as the cloth: to a mm."""


def list_shop_widths(unit: Unit) -> tuple[float, ...]:
    """Return in which widths cloth is sold where the maker's unit is used (mm), the narrowest first."""
    return SHOP_WIDTHS["in" if unit == "in" else "cm"]


def usable_width(cloth: Cloth) -> float:
    """Return what can be used of a cloth's width after the wash, between its selvedges (mm)."""
    return cloth.width * cloth.washed[0] - SELVEDGES


WIDTH_TOLD_IN = trade_table({"mm": 10.0, "cm": 10.0, "in": 25.4}, "mm", "common practice")
"""In steps of what a width is told to whoever buys cloth, by the maker's unit."""


def least_width(wide: float, cloth: Cloth, unit: Unit) -> float:
    """Return how wide a cloth is to be bought on which a part so wide has room (mm), never too little."""
    sold = (wide + LAID_OFF + SELVEDGES) / cloth.washed[0]
    return math.ceil(sold / WIDTH_TOLD_IN[unit]) * WIDTH_TOLD_IN[unit]


def list_rungs(width: float, unit: Unit, finer: int = 1) -> Iterator[float]:
    """Yield the widths up to a cloth's own in which a lay is sought for it, the widest first (mm).

    They are whole steps, so many times ``finer``, and those of a shop: the same ones for every cloth, so that a wider
    one has all of a narrower one's.

    >>> list(list_rungs(1161.0, "cm"))[:3], list(list_rungs(1161.0, "cm", 5))[:3]
    ([1150.0, 1100.0, 1050.0], [1160.0, 1150.0, 1140.0])
    """
    most, step = width + TOLERANCE.same_point, RUNGS[unit] / finer
    (least, _), _ = CLOTH_LIMITS["width"]
    steps = {step * k for k in range(1, int(most / step) + 1)}
    yield from sorted(
        (each for each in steps | {*map(float, list_shop_widths(unit))} if least <= each <= most), reverse=True
    )
