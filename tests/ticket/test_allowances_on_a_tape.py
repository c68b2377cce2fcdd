"""Allowances in a ticket measured in inches: those that a design gives lie where an inch tape has a mark."""

from __future__ import annotations

import pytest

from drafting.redraw.closing import ZIPPED
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


@pytest.mark.parametrize(("unit", "seam", "zipped"), [("cm", 10.0, 20.0), ("mm", 10.0, 20.0), ("in", 9.525, 19.05)])
def test_a_plain_allowance_is_a_round_figure_on_the_tickets_tape(unit: str, seam: float, zipped: float) -> None:
    """1 cm or 3/8 in where nothing is asked, 2 cm or 3/4 in beside a zip (common practice)."""
    finish = job_from(f'builds_on = "basic-tee"\nunit = "{unit}"\n{WEARER.replace("woven", "knit")}').finish
    assert finish.allowance == pytest.approx(seam)
    assert finish.allowance_of(ZIPPED) == pytest.approx(zipped)
