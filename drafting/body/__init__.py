"""Bodies: measurements by their ISO 8559-1 terms, what is plausible, what contradicts, estimates."""

from drafting.body.body import Body, UnknownMeasurement, make_body
from drafting.body.doubt import Doubt, extremes, find_doubts
from drafting.body.estimate import Estimate
from drafting.body.measurement import MeasureKind, Measurement, measured_apart, measurements
from drafting.body.survey import Rules

__all__ = [
    "Body",
    "Doubt",
    "Estimate",
    "MeasureKind",
    "Measurement",
    "Rules",
    "UnknownMeasurement",
    "extremes",
    "find_doubts",
    "make_body",
    "measured_apart",
    "measurements",
]
