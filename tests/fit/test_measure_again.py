"""A remedy asks to measure again only what was measured."""

from __future__ import annotations

import pytest

from drafting.body import make_body
from drafting.proof.fit.retake import Retake

TAKEN = {"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 1000.0, "back_neck_point_to_waist": 410.0}


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("bust_girth", "waist_girth"), "measure bust_girth and waist_girth again"),
        (("bust_girth", "hand_girth"), "measure bust_girth again, and also hand_girth, so far estimated"),
        (("head_girth", "hand_girth"), "measure head_girth and hand_girth, so far estimated"),
        (("shoulder_slope",), "measure shoulder_slope again"),
    ],
)
def test_only_what_was_measured_is_measured_again(names: tuple[str, ...], said: str) -> None:
    """What is estimated is to be measured; one side of it counts as measured."""
    body = make_body("Alto", {**TAKEN, "shoulder_slope_left": 0.4, "shoulder_slope_right": 0.42})
    assert str(Retake(names, "{again}; or wait").words(body)) == f"{said}; or wait"
