"""Body: what was estimated and not measured, each with its rule, so that the maker knows what to measure next."""

from __future__ import annotations

from drafting.body import Measurement, measurements
from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding, Severity
from drafting.units import Unit


def check_body(garment: Garment, brief: Brief, unit: Unit = "cm") -> tuple[Finding, ...]:
    """Note every measurement that was estimated; none of them is an error."""
    known = measurements()
    return tuple(
        _note(known[name], brief.body[name], rule, unit) for name, rule in brief.body.estimated.items() if name in known
    )


def _note(measurement: Measurement, value: float, rule: str, unit: Unit) -> Finding:
    return Finding(
        "body.estimated",
        Severity.NOTE,
        measurement.name,
        value,
        None,
        f"{measurement.title} wasn't measured; {measurement.show(value, unit)} is estimated: {rule}",
        measurement.sentence,
        measurement.unit,
    )
