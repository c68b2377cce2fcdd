"""Body: what to measure again, and what was estimated, each with its rule, so that the maker knows what to measure."""

from __future__ import annotations

from drafting.body import Body, Doubt, Estimate, Measurement, extremes, find_doubts, measurements
from drafting.cautions import FOR_A_CHILD
from drafting.garment import Brief, Garment
from drafting.proof.finding import OF_TAPE, Finding, Severity
from drafting.saying import Saying, Words, say

DOUBTFUL, ASKED = OF_TAPE
"""The code of a warning that a measurement is one such as no one surveyed has, and of a question whether it is right.

What is asked about few have beside the others, and it may be right all the same.
"""

ESTIMATED = "body.estimated"
"""The code of a note that a measurement was estimated."""

ESTIMATED_HEADING = "Not measured, so estimated (± what it is usually out by); each one taken betters the fit"


def check_body(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Warn of each measurement that no one surveyed has, ask about what few have; note every one that was estimated."""
    known, body = measurements(), brief.body
    doubts = (_tell_doubt(doubt, body) for doubt in find_doubts(body.given, body.rules))
    return (
        *doubts,
        *(_note(known[name], body[name], rule) for name, rule in body.estimated.items() if name in known),
    )


def _tell_doubt(doubt: Doubt, body: Body) -> Finding:
    each = measurements()[doubt.name]
    limit = doubt.low if doubt.value < doubt.low else doubt.high
    return Finding(
        ASKED if doubt.why == "seldom" else DOUBTFUL,
        Severity.WARNING,
        each.name,
        doubt.value,
        limit,
        _doubt_words(doubt, each, body, limit),
        _CHILD if doubt.why == "small" else say(_AGAIN[doubt.why == "seldom"], how=each.sentence),
        "" if each.unit == "kg" else each.unit,
    )


_AGAIN = (
    "measure it again, and leave it if it is right: {how}",
    "measure it once more, and leave it if it is the same: {how}",
)
"""What helps where a measurement is doubted, and where it is asked about."""

_CHILD = f"measure all that is estimated, and try the garment on as a toile; {FOR_A_CHILD}"


def _doubt_words(doubt: Doubt, each: Measurement, body: Body, limit: float) -> Words:
    way = "less" if doubt.value < doubt.low else "more"
    value, bound = each.said(doubt.value, beside=limit), each.said(limit, beside=doubt.value)
    people = f"the {extremes(body.rules).count:,} {body.rules} surveyed"
    if doubt.why == "small":
        template = (
            "{title}, {value}, is {way} than any of {people} has ({bound}){others}: what isn't measured is estimated "
            "for an adult, and holds for no child"
        )
        others = "" if each.name == "stature" else ", and so are waist and hip"
        return say(template, title=each.title, value=value, way=way, people=people, bound=bound, others=others)
    if doubt.why == "alone":
        template = "{title}, {value}, is {way} than any of {people} has: {bound}"
        return say(template, title=each.title, value=value, way=way, people=people, bound=bound)
    span = {"low": each.said(doubt.low, beside=doubt.value), "high": each.said(doubt.high, beside=doubt.value)}
    other = measurements()[doubt.beside]
    beside = say("{other}, {size}", other=other.title, size=other.said(body[other.name]))
    if doubt.why == "ratio":
        template = "{title}, {value}, is {way} than any of {people} has beside {beside}: {low} to {high}"
        return say(template, title=each.title, value=value, way=way, people=people, beside=beside, **span)
    if doubt.why == "seldom":
        template = (
            "{title}, {value}, is {much} beside the other measurements, above all {beside}: most have {low} to {high}"
        )
        much = ("little", "much")[way == "more"]
        return say(template, title=each.title, value=value, beside=beside, much=much, **span)
    template = (
        "{title}, {value}, doesn't go with the other measurements, above all with {beside}: {low} to {high} is likely"
    )
    return say(template, title=each.title, value=value, beside=beside, **span)


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
    known = say("{value}", value=each.said(value))
    figure = say("{value} ± {error}", value=each.said(value), error=each.said(estimate.error, 1))
    return each.title, known if estimate.beyond else figure, estimate.doubt
