"""A style line over a dart: near the dart's point it ends there, farther in the line is refused with what helps."""

from __future__ import annotations

import pytest

from drafting.errors import CannotDraft
from drafting.garment import Garment
from drafting.garment.darts import darts_of, intake, leg_lengths
from drafting.job import draft_job
from drafting.proof import Severity, prove
from tests.laws.jobs import job_of, with_changes

DESIGN = "fitted-bodice"


def parted(at: float) -> Garment:
    """The fitted bodice with its front parted across at a share of its sides."""
    line = {"start": f"side {at}", "end": f"side {at}", "on": "front"}
    return draft_job(with_changes(job_of(DESIGN), [("style-line", line)]))


def test_a_dart_whose_end_a_line_crosses_ends_short_of_it() -> None:
    """It takes in what it did, its legs are alike, its point lies off the seam, and the garment is proven."""
    before, after = draft_job(job_of(DESIGN)), parted(0.3)
    was, now = (
        {dart.name: dart for piece in g.pieces for dart in darts_of(piece) if dart.stem == "waist-front"}
        for g in (before, after)
    )
    assert was.keys() == now.keys()
    for name, dart in now.items():
        assert intake(dart) == pytest.approx(intake(was[name]), abs=1e-6)
        assert dart.point.distance(was[name].point) > 5.0
        assert all(one == pytest.approx(two, abs=1e-6) for one, two in leg_lengths(dart))
    found = prove(after, job_of(DESIGN).brief).findings
    assert not [each for each in found if each.severity is Severity.ERROR and each.code.startswith("darts")]


def test_a_line_across_the_middle_of_a_dart_is_refused_with_how_far_off_it_runs_clear() -> None:
    """It would part the dart in two; which dart it is, and two ways out, are told."""
    with pytest.raises(CannotDraft, match="crosses the left front waist dart") as refused:
        parted(0.5)
    assert "higher or" in str(refused.value)
