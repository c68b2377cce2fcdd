"""Trade values: the numbers that a cutter would argue with, each with its unit and its source.

Each is declared beside the recipe that uses it, by one name, with its meaning in a docstring beneath::

    NEAREST_BUTTONS = TradeValue(20.0, "mm", "common practice")
    \"\"\"Of edge between two buttons at least.\"\"\"

Nothing registers them: ``blockwright list values`` looks through the modules of what is installed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import FrozenInstanceError
from types import MappingProxyType
from typing import Literal, Self, TypeVar

Measure = Literal["mm", "rad", "kg", "kPa", "share", "times", "count"]
"""What a value counts: a length, an angle, a mass, a share (of 1), how many times, or how many."""
SourceKind = Literal["published", "derived", "common practice", "from memory"]
"""Where it comes from: read in a publication; reckoned or tried out; what everybody does; what nobody looked up."""

Key = TypeVar("Key")


class TradeValue(float):
    """A number of the trade: a float in every sum, so that a recipe reads as a handbook does.

    ``citation`` names what was published, or how the value was found. What is reckoned with it, and what is copied or
    pickled of it, is a plain float.

    >>> least = TradeValue(20.0, "mm", "common practice")
    >>> least + 5.0, least.unit
    (25.0, 'mm')
    """

    __slots__ = ("citation", "kind", "unit")

    unit: Measure
    kind: SourceKind
    citation: str

    def __new__(cls, value: float, unit: Measure, kind: SourceKind, citation: str = "") -> Self:
        """Make the value; it can't be altered afterwards."""
        made = super().__new__(cls, value)
        object.__setattr__(made, "unit", unit)
        object.__setattr__(made, "kind", kind)
        object.__setattr__(made, "citation", citation)
        return made

    def __setattr__(self, name: str, value: object) -> None:
        raise FrozenInstanceError(f"cannot assign to {name!r} of a trade value")

    def __reduce__(self) -> tuple[type[float], tuple[float]]:
        return float, (float(self),)


def trade_row(values: Iterable[float], unit: Measure, kind: SourceKind, citation: str = "") -> tuple[TradeValue, ...]:
    """Return values of one meaning in their order: from least to most, first dart and second."""
    return tuple(TradeValue(value, unit, kind, citation) for value in values)


def trade_table(
    values: Mapping[Key, float], unit: Measure, kind: SourceKind, citation: str = ""
) -> Mapping[Key, TradeValue]:
    """Return values of one meaning by what they are for: a face, a fit, a kind of cloth."""
    return MappingProxyType({key: TradeValue(value, unit, kind, citation) for key, value in values.items()})
