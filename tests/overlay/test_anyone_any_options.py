"""The overlay on both sides over bodies and options: proven, or refused in a sentence that names the option."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.asymmetric_overlay import draft_asymmetric_overlay
from drafting.errors import CannotDraft
from drafting.garment import Brief
from drafting.job import draft_job
from tests.laws.jobs import outcome
from tests.laws.strategies import briefs
from tests.overlay.tops import overlay_job

TOLD = draft_asymmetric_overlay.told()
ASKED = {
    "side": st.sampled_from(["left", "right"]),
    "front_depth": st.floats(20.0, 160.0),
    "back_depth": st.floats(60.0, 200.0),
    "side_drop": st.floats(15.0, 150.0),
    "arm_drop": st.floats(60.0, 500.0),
    "caught": st.floats(40.0, 300.0),
    "front_length": st.floats(150.0, 600.0),
    "back_length": st.floats(150.0, 600.0),
    "fullness": st.floats(0.0, 1.0),
    "binding": st.floats(5.0, 20.0),
}
"""What makers ask for; each within what the option says that it takes."""


@settings(max_examples=40, derandomize=True, deadline=None)
@given(options=st.fixed_dictionaries({}, optional=ASKED), brief=briefs())
def test_proven_or_refused_by_name(options: Mapping[str, Any], brief: Brief) -> None:
    """Never a broken outline, a seam that doesn't fit or another error."""
    job = replace(overlay_job(options), brief=brief)
    what = outcome(job)
    assert not what.broken, what.broken
    if what.code.startswith("refused"):
        with pytest.raises(CannotDraft) as refusal:
            draft_job(job)
        if refusal.value.step == "asymmetric-overlay":
            assert any(name in TOLD for name in refusal.value.because), refusal.value.because


@settings(max_examples=25, derandomize=True, deadline=None)
@given(side=st.sampled_from(["left", "right"]), fullness=st.floats(0.0, 1.0), brief=briefs())
def test_depths_by_rule_suit_everyone(side: str, fullness: float, brief: Brief) -> None:
    """Left to the rule, the V lies where a fair line takes it; nobody is refused by the overlay."""
    what = outcome(replace(overlay_job({"side": side, "fullness": fullness}), brief=brief))
    assert not what.broken, what.broken
    assert "asymmetric-overlay" not in what.code, what.refused


@pytest.mark.parametrize(
    ("options", "named", "by"),
    [
        ({"front_depth": 240.0}, "front_depth", 50.0),
        ({"back_depth": 20.0}, "back_depth", 30.0),
        ({"caught": 480.0}, "caught", 50.0),
    ],
)
def test_a_refusal_says_by_how_much(options: Mapping[str, Any], named: str, by: float) -> None:
    """And the figure it gives is enough, to a millimetre."""
    with pytest.raises(CannotDraft, match="asymmetric-overlay") as refusal:
        draft_job(overlay_job(options))
    assert named in refusal.value.because
    short = refusal.value.short_by
    assert short > by
    wanted = options[named] + (short + 1.0 if named == "back_depth" else -short - 1.0)
    assert outcome(overlay_job({named: wanted})).refused == ""
    again = options[named] + (short - 2.0 if named == "back_depth" else -short + 2.0)
    with pytest.raises(CannotDraft):
        draft_job(overlay_job({named: again}))


def test_more_of_an_option_is_more_of_it() -> None:
    """Depth, drop over the arm, length and fullness, each measured on the pieces."""

    def made(**options: Any) -> Any:
        found = outcome(overlay_job(options))
        assert found.refused == "", found.refused
        assert found.garment is not None
        return found.garment

    plain = made()
    over = made(arm_drop=240.0).piece("overlay-front").line("over-arm").path
    longer = made(arm_drop=340.0).piece("overlay-front").line("over-arm").path
    assert 80.0 < longer.length - over.length < 120.0
    deeper = made(front_depth=95.0).piece("front").line("diagonal").path
    at = plain.piece("front").line("diagonal").path
    assert min(deeper.start, deeper.end, key=lambda p: abs(p.x)).y == pytest.approx(
        min(at.start, at.end, key=lambda p: abs(p.x)).y - 20.0, abs=1e-6
    )
    full, none = (made(fullness=f).piece("overlay-front") for f in (1.0, 0.0))
    assert full.line("hem").path.length > none.line("hem").path.length + 30.0
    low = [made(front_length=length).piece("overlay-front").line("hem").path.bounds[1] for length in (290.0, 350.0)]
    assert low[0] - low[1] > 40.0
