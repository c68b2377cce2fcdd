"""The measurements of a body: their terms, units, plausible ranges and how to take each."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from drafting.record import dataclass
from drafting.saying import Length, Unit, render, say, tape, tape_beside
from drafting.units import show_length_limit


class MeasureKind(StrEnum):
    """What sort of measurement it is."""

    GIRTH = "girth"
    LENGTH = "length"
    WIDTH = "width"
    HEIGHT = "height"
    ANGLE = "angle"
    MASS = "mass"


def speak_measurement(name: str) -> str:
    """Return the name of a measurement in plain words."""
    return name.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Measurement:
    """One measurement: its name, its ISO 8559-1 term and clause ("" where not known), and how to take it.

    ``low`` and ``high`` bound what is plausible for a body, in ``unit`` (mm, rad or kg). ``needed``: nothing
    can be drafted without it. ``caution`` says what is doubtful about estimates of it. ``both`` names the
    measurement that stands for either side, where this is one side measured apart ("" where it is not).
    """

    name: str
    iso_term: str
    iso_clause: str
    unit: Literal["mm", "rad", "kg"]
    kind: MeasureKind
    sentence: str
    low: float
    high: float
    needed: bool
    caution: str = ""
    both: str = ""

    @property
    def title(self) -> str:
        """The name in plain words."""
        return speak_measurement(self.name)

    def said(self, value: float, digits: int = 0, beside: float | None = None) -> Length | str:
        """Return a value of this measurement to be said: a length, "25 deg" (to ``digits``), "62.0 kg".

        A length that is held against another, ``beside`` it, is said as finely as it takes to tell them apart.
        """
        if self.unit == "rad":
            return f"{math.degrees(value):.{digits}f} deg"
        return f"{value:.1f} kg" if self.unit == "kg" else tape(value) if beside is None else tape_beside(value, beside)

    def show(self, value: float, unit: Unit = "cm") -> str:
        """Return a value of this measurement as people read it: "96.0 cm", "25 deg", "62.0 kg"."""
        return render(say("{value}", value=self.said(value)), unit)

    def show_range(self, unit: Unit = "cm") -> str:
        """Return in words what may be measured, rounded inwards, so that what is shown may be written."""
        low, high = self.show(self.low, unit), self.show(self.high, unit)
        if self.unit == "mm":
            low, high = show_length_limit(self.low, 1, unit), show_length_limit(self.high, -1, unit)
        return f"{low} to {high}"


@cache
def measurements() -> Mapping[str, Measurement]:
    """Return every measurement by its name, in the order a body is measured.

    Ranges are those of the bodies in two surveys of the US Army (1988 and 2012) widened by about a quarter
    below and a third above, so that they catch slips of the tape and the unit and refuse no one measured.
    """
    text = Path(__file__).with_name("measurements.json").read_text(encoding="utf-8")
    return MappingProxyType({name: _measurement(name, fields) for name, fields in json.loads(text).items()})


def _measurement(name: str, fields: Mapping[str, str | float | bool]) -> Measurement:
    unit = str(fields["unit"])
    inside = math.radians(1.0) if unit == "rad" else 1.0
    return Measurement(
        name,
        str(fields["term"]),
        str(fields["clause"]),
        "rad" if unit == "rad" else "kg" if unit == "kg" else "mm",
        MeasureKind(str(fields["kind"])),
        str(fields["sentence"]),
        float(fields["low"]) * inside,
        float(fields["high"]) * inside,
        bool(fields["needed"]),
        str(fields["caution"]),
        str(fields.get("both", "")),
    )


@cache
def measured_apart() -> Mapping[str, tuple[str, str]]:
    """Return the measurements that may be taken apart, each with the names of its left and its right side."""
    named = [each for each in measurements().values() if each.both]
    return MappingProxyType({each.both: (f"{each.both}_left", f"{each.both}_right") for each in named})
