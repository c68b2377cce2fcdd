"""What a finish may be asked."""

from __future__ import annotations

import math

import pytest

from drafting.errors import InputError
from drafting.finishing import FinishPlan
from tests.kinds import kind as kind_of


def test_the_usual_allowance_is_a_centimetre() -> None:
    """1 cm, or 3/8 in: an overlock seam on knits (common practice)."""
    assert FinishPlan().allowance_of(kind_of("side")) == pytest.approx(10.0)


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf, 201.0])
def test_impossible_lengths_are_refused_by_name(value: float) -> None:
    """A negative, endless or absurd length names its key."""
    with pytest.raises(InputError, match=r"seams\.side"):
        FinishPlan({"side": value})
    with pytest.raises(InputError, match="hem_depth"):
        FinishPlan(hem_depth=value)
