"""Any stack of changes on any design, for anyone, in any knit: it proves, or is refused in a sentence."""

from __future__ import annotations

import os

from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.garment import Brief
from tests.laws.jobs import job_of, outcome, with_changes
from tests.laws.strategies import DESIGNS, Made, briefs, stacks

COUNT = int(os.environ.get("BLOCKWRIGHT_STACKS", "70"))
"""How many stacks are tried; set the variable for a longer search, each time among others."""


@settings(max_examples=COUNT, derandomize="BLOCKWRIGHT_STACKS" not in os.environ, deadline=None)
@given(design=st.sampled_from(DESIGNS), brief=briefs(), stack=stacks())
def test_every_stack_proves_or_is_refused(design: str, brief: Brief, stack: list[Made]) -> None:
    """Nothing else is raised, no outline is broken, and the pieces can be cut, also where the fit fails."""
    what = outcome(with_changes(job_of(design), stack, brief))
    assert not what.broken, what.broken
