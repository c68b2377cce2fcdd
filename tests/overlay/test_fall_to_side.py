"""An overlay's hem falls from over the arm to its caught end in one sweep."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.cloth import Fit
from drafting.job import draft_job
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
