"""Body: what was estimated and not measured, each with its rule, so that the maker knows what to measure next."""

from __future__ import annotations

from drafting.body import Estimate, Measurement, measurements
from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding, Severity
from drafting.saying import Saying, say

ESTIMATED = "body.estimated"
"""The code of a note that a measurement was estimated."""

ESTIMATED_HEADING = "Not measured, so estimated (± what it is usually out by); each one taken betters the fit"


def check_body(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Note every measurement that was estimated; none of them is an error."""
    known = measurements()
    return tuple(
        _note(known[name], brief.body[name], rule) for name, rule in brief.body.estimated.items() if name in known
    )


def _note(measurement: Measurement, value: float, rule: Estimate) -> Finding:
    return Finding(
        ESTIMATED,
        Severity.NOTE,
        measurement.name,
        value,
        None,
        say(
            "{title} wasn't measured; {value} is estimated: {rule}",
            title=measurement.title,
            value=measurement.said(value),
            rule=str(rule),
        ),
        measurement.sentence,
        measurement.unit,
    )


def estimate_words(name: str, value: float, estimate: Estimate) -> tuple[str, Saying, str]:
    """Return an estimate in few words: what, how much and by how much it is usually out, and what else is to be known.

    The formula itself, and what is doubtful about any estimate of it, is left to the proof; a sum is told whole.
    """
    each = measurements()[name]
    if estimate.error is None:
        return each.title, say("{value}", value=each.said(value)), str(estimate)
    figure = say("{value} ± {error}", value=each.said(value), error=each.said(estimate.error, 1))
    return each.title, figure, f"drawn in to {estimate.drawn_in}" if estimate.drawn_in else ""
