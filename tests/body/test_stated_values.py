"""What is listed of bodies is what bodies are measured against and estimated from."""

from __future__ import annotations

import pytest

from drafting.body import make_body, measurements
from drafting.body.contradiction import pairs
from drafting.body.stated import ESTIMATES_OF_WOMEN, PLAUSIBLE, RATIOS

NEEDED = {
    "bust_girth": 920.0,
    "waist_girth": 760.0,
    "hip_girth": 980.0,
    "stature": 1680.0,
    "back_neck_point_to_waist": 410.0,
}


def test_an_estimate_is_the_sum_that_is_listed() -> None:
    """A woman's head and wrist, by the constant and the shares of stature and bust that the list shows."""
    body = make_body("someone", NEEDED)
    for name in ("head_girth", "wrist_girth"):
        told = {key: value for key, value in ESTIMATES_OF_WOMEN.items() if key.startswith(f"{name}: ")}
        parts = (NEEDED.get(key.partition(": ")[2], 1.0) * value for key, value in told.items())
        assert sum(parts) == pytest.approx(body[name], abs=1e-6)


def test_every_limit_is_listed_with_its_source() -> None:
    """The range of each measurement and of each ratio, in the engine's units."""
    assert {name: tuple(limits) for name, limits in PLAUSIBLE.items()} == {
        name: (each.low, each.high) for name, each in measurements().items()
    }
    assert len(RATIOS) == len(pairs())
    assert all(limit.citation for limits in (*PLAUSIBLE.values(), *RATIOS.values()) for limit in limits)
