"""How wide cloth is: in which widths it is sold, and what of a width can be used."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from drafting.cloth import Cloth
from drafting.proof.checks.cutting import SELVEDGES
from drafting.trade import TradeValue, trade_row
from drafting.units import Unit

SHOP_WIDTHS: Final[Mapping[str, tuple[TradeValue, ...]]] = {
    "cm": trade_row((1150.0, 1400.0, 1500.0, 1600.0), "mm", "common practice", "115, 140, 150 and 160 cm"),
    "in": trade_row((1143.0, 1397.0, 1524.0, 1574.8), "mm", "common practice", "45, 55, 60 and 62 in"),
}
"""In which cloth is sold."""

SAME_WIDTH: Final = TradeValue(1.0, "mm", "derived", "a width is measured to the mm")
"""Widths that differ by less are one."""


NEAR_WIDTH: Final = TradeValue(0.9, "share", "derived", "of 48 lays none in a cloth so narrow was the shorter one")
"""Of a cloth's width: in less than that a lay isn't looked for, for it would have to be a ninth denser."""


def list_shop_widths(unit: Unit) -> tuple[float, ...]:
    """Return in which widths cloth is sold where the maker's unit is used (mm), the narrowest first."""
    return SHOP_WIDTHS["in" if unit == "in" else "cm"]


def usable_width(cloth: Cloth) -> float:
    """Return what can be used of a cloth's width after the wash, between its selvedges (mm)."""
    return cloth.width * cloth.washed[0] - SELVEDGES


def list_narrower(cloth: Cloth, unit: Unit) -> Iterator[float]:
    """Yield the widths not far below a cloth's own that cloth is sold in, the widest first (mm)."""
    for width in reversed(list_shop_widths(unit)):
        if cloth.width * NEAR_WIDTH < width < cloth.width - SAME_WIDTH:
            yield width
