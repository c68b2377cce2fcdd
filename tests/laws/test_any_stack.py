"""Any stack of changes on any design, for anyone, in any knit or woven: it proves, or is refused in a sentence."""

from __future__ import annotations

import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.garment import Brief
from drafting.saying import render
from tests.laws.jobs import job_of, outcome, with_changes
from tests.laws.strategies import DARTED, DESIGNS, STEPS, WOVENS, Made, briefs, stacks, woven_briefs

LATE = 0.02
"""The share of stacks that may be named only once the garment is proved or finished."""

COUNT = int(os.environ.get("BLOCKWRIGHT_STACKS", "45"))
"""How many stacks are tried of each; set the variable for a longer search, each time among others."""


UNDARTED = (*(name for name in STEPS if name not in DARTED), "move-dart")
"""Changes for a knit: of those that need a dart, one, so that its refusal is met too."""


@pytest.mark.parametrize(
    ("designs", "among", "wearers", "least"),
    [(DESIGNS, UNDARTED, briefs(), 0.4), (WOVENS, tuple(STEPS), woven_briefs(), 0.3)],
    ids=["knits", "wovens"],
)
def test_every_stack_proves_or_is_refused(
    designs: tuple[str, ...], among: tuple[str, ...], wearers: st.SearchStrategy[Brief], least: float
) -> None:
    """Nothing else is raised, no outline is broken, the pieces can be cut, and a fair share of the stacks is proven.

    The shares guard against everything being refused, and against changes that are drawn though nothing sound comes of
    them: those are named too, once the garment is proved or finished, but they are to stay rare.
    """
    proven: list[bool] = []
    late: set[str] = set()  # stacks that differ in what does nothing to it have one fault

    @settings(max_examples=COUNT, derandomize="BLOCKWRIGHT_STACKS" not in os.environ, deadline=None)
    @given(design=st.sampled_from(designs), brief=wearers, stack=stacks(3, least=1, among=among))
    def law(design: str, brief: Brief, stack: list[Made]) -> None:
        what = outcome(with_changes(job_of(design), stack, brief))
        assert not what.broken, what.broken
        proven.append(not what.refused)
        if what.code.startswith(("faulty", "unfinished")):
            late.add(render(what.refused, "mm"))

    law()
    assert sum(proven) >= least * len(proven), f"{sum(proven)} of {len(proven)}"
    assert len(late) <= max(2, LATE * len(proven)), late
