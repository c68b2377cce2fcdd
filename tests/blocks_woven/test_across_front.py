"""The front of a woven between its armholes: as broad as its chest, and what doesn't go with an armhole is told."""

from __future__ import annotations

import pytest

from drafting.body import Body, Rules, make_body
from drafting.cloth import Fit
from drafting.garment import Side
from drafting.garment.armholes import take_armhole, wanted_width
from drafting.proof import Severity
from drafting.proof.fit import FitRow, fit_rows
from tests.blocks_woven.people import brief_for, mean_person, person, sleeved, told

FEW = ("stature", "bust_girth", "waist_girth", "hip_girth", "back_neck_point_to_waist")

BELLY = {"waist_girth": 200.0, "bust_girth": 60.0, "hip_girth": 40.0}
DEEP = 846
"""Of the women of 1988, one whose chest is deep: much of it lies beside the arms."""
LARGE = {"waist_girth": 300.0, "bust_girth": 280.0, "hip_girth": 260.0}


def few(rules: Rules, **more: float) -> Body:
    """A mean body of which hardly anything was measured, and by how much (mm) a girth is more."""
    mean = mean_person(rules)
    return make_body("few", {name: mean[name] + more.get(name, 0.0) for name in FEW}, rules=rules)


def row_of(body: Body, name: str, fit: Fit = Fit.CLOSE) -> FitRow:
    """The first row of that name of the bodice with sleeves."""
    brief = brief_for(body, fit)
    return next(row for row in fit_rows(sleeved(brief), brief) if row.name == name)


def test_an_estimated_chest_is_drawn_near_it_or_it_is_noted() -> None:
    """A man's is as broad as his back, over a belly too; one far beyond his shoulders' ends is told."""
    ordinary, belly, large = (row_of(few("men", **more), "across_front_width") for more in ({}, BELLY, LARGE))
    for row in (ordinary, belly):
        assert abs(row.garment - row.body) <= 10.0
        assert row.beyond == 0.0
    assert large.garment - large.body < -10.0
    assert large.beyond < 0.0
    assert large.severity is Severity.NOTE


@pytest.mark.parametrize(
    ("more", "severity"), [({}, None), ({"bust_girth": 170.0}, Severity.WARNING), (LARGE, Severity.WARNING)]
)
def test_a_wide_armhole_is_warned_of(more: dict[str, float], severity: Severity | None) -> None:
    """Over a quarter of the arm and 6 cm, and an eighth of the bust and 1.5 cm; ordinary ones hear nothing."""
    row = row_of(few("men", **more), "armhole_width")
    assert (row.severity if row.beyond else None) is severity


def test_a_deep_chests_armhole_is_narrowed_by_what_the_back_has_to_give() -> None:
    """To 2 cm more than the arm wants, or 1.5 more than an eighth of the bust; a looser one that can't be is told."""
    body = person(DEEP)
    row, looser = (row_of(body, "armhole_width", fit) for fit in (Fit.CLOSE, Fit.RELAXED))
    assert row.most == pytest.approx(max(20.0, body["bust_girth"] / 8.0 + 15.0 - row.body))
    assert row.beyond == 0.0 < looser.beyond
    assert looser.severity is Severity.WARNING
    assert 0.0 < told(sleeved(brief_for(body, Fit.CLOSE)), "across_wider") <= 20.0


def test_a_broad_chest_leaves_the_front_the_hollower_and_its_dart_no_more_than_the_back_s() -> None:
    """With sleeves too, whose armholes are in parts; the arm keeps its room (US patent 4,899,448)."""
    mean = mean_person()
    body = Body("chest", {**mean.values, "across_front_width": mean["across_back_width"] + 25.0})
    garment = sleeved(brief_for(body, Fit.CLOSE))
    assert row_of(body, "armhole_hollow").garment > 0.0
    assert garment.fact("waist_dart_front") <= garment.fact("waist_dart_back") + 1e-6
    taken = take_armhole(garment, Side.LEFT)
    assert taken is not None
    assert 0.95 <= taken.width / wanted_width(body["upper_arm_girth"]) <= 1.25
