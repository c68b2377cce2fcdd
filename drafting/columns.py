"""Lengths as they stand in a column, below and beside others: all as fine, so that they compare and add up."""

from __future__ import annotations

import math
from collections.abc import Sequence

from drafting.saying import Unit, show_length

_EIGHTH = 25.4 / 8.0
"""Of an inch (mm), in which lengths are shown."""

_WHOLE_FROM = 9.95
"""From here on (mm) lengths that are sewn together are shown in whole mm."""


def show_in_column(millimetres: float, unit: Unit) -> str:
    """Return a length as it stands in a column of such: all as fine, tenths of cm, whole mm, or 1/8 inch.

    >>> show_in_column(6.0, "cm"), show_in_column(38.0, "cm"), show_in_column(9.5, "mm")
    ('0.6 cm', '3.8 cm', '10 mm')
    """
    if unit == "in":
        return show_length(millimetres, unit)
    fine = unit == "cm"
    return f"{round(millimetres / (10.0 if fine else 1.0), int(fine)) + 0.0:.{int(fine)}f} {unit}"


def show_ease(body: float, garment: float, unit: Unit) -> str:
    """Return by how much a garment's length is more than the body's, as the two are shown beside it; "-" without one.

    >>> show_length(359.4, "in"), show_length(360.9, "in"), show_ease(359.4, 360.9, "in")
    ('14 1/8 in', '14 1/4 in', '1/8 in')
    """
    if math.isnan(body) or math.isnan(garment):
        return "-"
    step = _EIGHTH if unit == "in" else 1.0
    return show_in_column((round(garment / step) - round(body / step)) * step, unit)


def show_alike(lengths: Sequence[float], unit: Unit) -> list[str]:
    """Return lengths that are sewn together, so that what differs by less than is shown reads alike.

    >>> show_alike((141.2, 141.3), "in"), show_length(141.2, "in"), show_length(141.3, "in")
    (['5 1/2 in', '5 1/2 in'], '5 1/2 in', '5 5/8 in')
    """
    step = _EIGHTH if unit == "in" else 1.0 if min(lengths, default=0.0) >= _WHOLE_FROM else 0.1
    first = round(lengths[0] / step) * step if lengths else 0.0
    return [show_length(first + round((each - lengths[0]) / step) * step, unit) for each in lengths]
