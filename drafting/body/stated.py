"""What is stated of bodies in the files beside this one, as trade values: to be listed, each with its source.

Nothing drafts from this page: it shows what ``measurements``, ``pairs`` and ``regression`` read.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from drafting.body.contradiction import pairs
from drafting.body.estimate import BASES
from drafting.body.measurement import measurements
from drafting.body.survey import SURVEY_NAME, Rules, regression, survey
from drafting.trade import TradeValue, trade_row

_SURVEYS = "the surveys of the US Army of 1988 and 2012"

PLAUSIBLE = {
    name: trade_row((each.low, each.high), each.unit, "derived", f"bodies in {_SURVEYS}, widened by a quarter or more")
    for name, each in measurements().items()
}
"""Between which a measurement is plausible: beyond, it is a slip of the tape or the unit."""

RATIOS = {
    f"{pair.first} / {pair.second}": trade_row(
        (pair.low, pair.high), "share", "derived", f"extremes of 2,994 people in {_SURVEYS}, widened by a tenth or more"
    )
    for pair in pairs()
}
"""Between which two measurements of one body stand to each other."""


def _estimates(rules: Rules) -> Mapping[str, TradeValue]:
    """Return, for each measurement that is estimated, the constant and the share of each measurement it follows."""
    source = f"{SURVEY_NAME}, NATICK/TR-89/027, least squares on a sample of {survey(rules).count:,} {rules}"

    def parts() -> Iterator[tuple[str, TradeValue]]:
        for name, basis in BASES.items():
            fit, unit = regression(rules, name, basis.always), measurements()[name].unit
            constant = {"mm": fit.constant * 10.0, "rad": math.radians(fit.constant), "kg": fit.constant}[unit]
            yield f"{name}: constant", TradeValue(constant, unit, "derived", source)
            for other, share in fit.shares.items():
                yield f"{name}: {other}", TradeValue(share, "times", "derived", source)

    return dict(parts())


ESTIMATES_OF_WOMEN = _estimates("women")
"""From which a woman's measurement is estimated: a constant, and so many times each measurement it follows (cm from cm;
degrees and kg from cm)."""

ESTIMATES_OF_MEN = _estimates("men")
"""From which a man's measurement is estimated: a constant, and so many times each measurement it follows (cm from cm;
degrees and kg from cm)."""
