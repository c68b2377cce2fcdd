"""Any stack of changes on any design, for anyone, in any knit or woven: it proves, or is refused in a sentence."""

from __future__ import annotations

import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.garment import Brief
from tests.laws.jobs import job_of, outcome, with_changes
from tests.laws.strategies import DESIGNS, WOVENS, Made, briefs, stacks, woven_briefs

COUNT = int(os.environ.get("BLOCKWRIGHT_STACKS", "60"))
"""How many stacks are tried of each; set the variable for a longer search, each time among others."""


@pytest.mark.parametrize(
    ("designs", "wearers", "least"),
    [(DESIGNS, briefs(), 0.12), (WOVENS, woven_briefs(), 0.2)],
    ids=["knits", "wovens"],
)
def test_every_stack_proves_or_is_refused(
    designs: tuple[str, ...], wearers: st.SearchStrategy[Brief], least: float
) -> None:
    """Nothing else is raised, no outline is broken, the pieces can be cut, and a fair share of the stacks is proven.

    The share guards against everything being refused: stacks are drawn blindly, a third of them with a dart that a
    knit doesn't have.
    """
    proven: list[bool] = []

    @settings(max_examples=COUNT, derandomize="BLOCKWRIGHT_STACKS" not in os.environ, deadline=None)
    @given(design=st.sampled_from(designs), brief=wearers, stack=stacks(3, least=1))
    def law(design: str, brief: Brief, stack: list[Made]) -> None:
        what = outcome(with_changes(job_of(design), stack, brief))
        assert not what.broken, what.broken
        proven.append(not what.refused)

    law()
    assert sum(proven) >= least * len(proven), f"{sum(proven)} of {len(proven)}"
