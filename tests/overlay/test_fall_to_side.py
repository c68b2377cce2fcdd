"""An overlay's hem falls from over the arm to its caught end in one sweep."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.cloth import Fit
from drafting.job import draft_job
from drafting.proof import Severity
from drafting.proof.fit.layers import layer_rows
from tests.garments import brief
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import surveyed


@pytest.mark.parametrize(("row", "fit"), [(411, Fit.CLOSE), (456, Fit.CLOSE), (511, Fit.RELAXED)])
def test_the_hem_dips_by_no_more_than_is_seen(row: int, fit: Fit) -> None:
    """On high armholes it hung up to 4.5 cm lower than its caught end, and rose to it in an S."""
    wearer = replace(brief(surveyed("bodies_1988_women", row + 1)), fit=fit)
    garment = draft_job(with_changes(job_of("diagonal-overlay-top"), [], wearer))
    for name in ("overlay-front", "overlay-back"):
        hem, caught = (garment.piece(name).line(line).path for line in ("hem", "caught"))
        assert min(caught.start.y, caught.end.y) - hem.bounds[1] < 7.0


def test_a_hem_that_dips_is_told() -> None:
    """Where the ticket has less of the side seam catch it than its hem asks: warned of from 2 cm."""
    wearer = replace(brief(surveyed("bodies_1988_women", 412)), fit=Fit.CLOSE)
    job = with_changes(job_of("diagonal-overlay-top"), [], wearer)
    steps = tuple(
        replace(each, options=replace(each.options, caught=139.0)) if hasattr(each.options, "caught") else each
        for each in job.steps
    )
    told = {
        row.place: row for row in layer_rows(draft_job(replace(job, steps=steps)), wearer) if row.name == "layer_hem"
    }
    assert told["overlay-front"].severity is Severity.WARNING
    assert told["overlay-front"].beyond
    usual = [row for row in layer_rows(draft_job(job), wearer) if row.name == "layer_hem"]
    assert not [row.place for row in usual if row.beyond]
