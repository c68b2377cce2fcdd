"""Body: what was estimated and not measured, each with its rule, so that the maker knows what to measure next."""

from __future__ import annotations

import re

from drafting.body import Measurement, measurements
from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding, Severity
from drafting.units import Unit, parse_length, show_length

ESTIMATED = "body.estimated"
"""The code of a note that a measurement was estimated."""

ESTIMATED_HEADING = "Not measured, so estimated (± what it is usually out by); each one taken betters the fit"


def check_body(garment: Garment, brief: Brief, unit: Unit = "cm") -> tuple[Finding, ...]:
    """Note every measurement that was estimated; none of them is an error."""
    known = measurements()
    return tuple(
        _note(known[name], brief.body[name], rule, unit) for name, rule in brief.body.estimated.items() if name in known
    )


def _note(measurement: Measurement, value: float, rule: str, unit: Unit) -> Finding:
    return Finding(
        ESTIMATED,
        Severity.NOTE,
        measurement.name,
        value,
        None,
        f"{measurement.title} wasn't measured; {measurement.show(value, unit)} is estimated: {rule}",
        measurement.sentence,
        measurement.unit,
    )


_ERROR = re.compile(r"give or take (?P<figure>[0-9.]+) (?P<unit>cm|deg|kg)\)(?:; )?(?P<rest>.*)")


def estimate_words(name: str, value: float, rule: str, unit: Unit = "cm") -> tuple[str, str, str]:
    """Return an estimate in few words: what, how much and by how much it is usually out, and what else is to be known.

    The formula itself is left to the proof; a sum of other measurements is told whole.
    """
    each = measurements()[name]
    found = _ERROR.search(rule)
    if found is None:
        return each.title, each.show(value, unit), rule
    error = f"{found['figure']} {found['unit']}"
    if found["unit"] == "cm":
        error = show_length(parse_length(error), unit)
    rest = found["rest"].removeprefix(each.caution) if each.caution else found["rest"]
    return each.title, f"{each.show(value, unit)} ± {error}", rest.removeprefix("; ")
