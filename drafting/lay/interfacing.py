"""Interfacing as a cloth of its own: what is stiffened is cut from it once more."""

from __future__ import annotations

from typing import Final

from drafting.cloth import Cloth, Kind
from drafting.garment import Brief
from drafting.garment.model import INTERFACING
from drafting.trade import trade_table
from drafting.units import Unit

INTERFACING_WIDTHS: Final = trade_table(
    {"cm": 900.0, "mm": 900.0, "in": 914.4}, "mm", "common practice", "90 cm, 36 in"
)
"""In which interfacing is sold most."""


def find_interfacing(brief: Brief, unit: Unit) -> Cloth:
    """Return the ticket's ``[cloths.interfacing]``, or else interfacing as it is sold; its give runs one way."""
    usual = Cloth(kind=Kind.WOVEN, stretch_across=0.0, width=INTERFACING_WIDTHS[unit], nap=True)
    return brief.cloths.get(INTERFACING, usual)
