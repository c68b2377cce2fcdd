"""What is said to be measured again was measured; what was estimated is said to be."""

from __future__ import annotations

import pytest

from drafting.body import make_body
from drafting.proof.checks.given import _LENGTHS
from drafting.saying import render

NEEDED = {"bust_girth": 940.0, "waist_girth": 760.0, "hip_girth": 1010.0, "back_neck_point_to_waist": 360.0}


@pytest.mark.parametrize(
    ("taken", "said"),
    [
        ({}, "measure back_neck_point_to_waist again"),
        ({"side_neck_point_to_waist_over_bust": 445.0},
         "measure side_neck_point_to_waist_over_bust and back_neck_point_to_waist again"),
    ],
)  # fmt: skip
def test_a_centre_front_hangs_on_the_back_length_too(taken: dict[str, float], said: str) -> None:
    """Named first is what was taken, the back length with it, and the front's length never "again"."""
    told = render(_LENGTHS.words(make_body("", {**NEEDED, **taken})), "cm")
    assert said in told
    assert told.index("so far estimated") > told.index("front_neck_point_to_waist, ") > told.index("again")
