"""Allowances in a ticket measured in inches: those that a design gives lie where an inch tape has a mark."""

from __future__ import annotations

import pytest

from tests.laws.jobs import job_from

WEARER = """
[wearer.body]
stature = "168 cm"
bust_girth = "92 cm"
waist_girth = "74 cm"
hip_girth = "98 cm"
back_neck_point_to_waist = "40.5 cm"
[cloth]
kind = "woven"
stretch_across = "2 %"
"""


@pytest.mark.parametrize(
    ("unit", "seams", "allowance", "facing"),
    [
        ("in", "", 15.875, 9.525),
        ("in", '[seams]\nall = "12 mm"', 12.0, 9.525),
        ("cm", "", 15.0, 10.0),
    ],
)
def test_a_designs_allowances_are_set_to_the_tape(unit: str, seams: str, allowance: float, facing: float) -> None:
    """1.5 cm is 5/8 in and 1 cm 3/8 in to who sews in inches; what the ticket itself says stays as it is."""
    finish = job_from(f'builds_on = "sheath-dress"\nunit = "{unit}"\n{WEARER}{seams}\n').finish
    assert finish.allowance == pytest.approx(allowance)
    assert finish.allowances["facing"] == pytest.approx(facing)
