"""Where a side seam lies, how broad a front is, and what a scooped or deep neck comes to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.job import draft_job
from drafting.proof.fit.scooped import scooped_rows
from drafting.proof.fit.side_place import side_place_rows
from tests.garments import brief
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import surveyed
from tests.skirts.dressed import WOVEN


@pytest.mark.parametrize(
    ("row", "design", "told"),
    [
        (685, "waist-seam-dress", set()),
        (676, "princess-top", {"side_behind"}),
        (131, "sheath-dress", {"side_leans", "side_behind", "across_front_broader"}),
    ],
)
def test_a_side_seam_far_behind_the_middle_is_told(row: int, design: str, told: set[str]) -> None:
    """Of a broad chest; an ordinary body hears nothing, though it is measured, dart sewn, with a waist seam too."""
    wearer = replace(brief(surveyed("bodies_1988_women", row)), cloth=WOVEN)
    found = list(side_place_rows(draft_job(with_changes(job_of(design), [], wearer)), wearer))
    assert {"side_leans", "side_behind", "across_front_broader"} == {each.name for each in found}
    assert {each.name for each in found if each.beyond} == told


def test_a_side_seam_goes_back_no_farther_than_its_armhole_asks() -> None:
    """Half of a broad front is less than 4 cm wider than half of its back: it was 5.1, the armhole's back too short."""
    wearer = replace(brief(surveyed("bodies_2012_women", 421)), cloth=WOVEN)
    garment = draft_job(with_changes(job_of("fitted-bodice"), [], wearer))
    row = next(each for each in side_place_rows(garment, wearer) if each.name == "side_behind")
    assert 0.0 < row.off < 43.0


def test_a_scooped_neck_is_told_how_near_it_comes_to_the_shoulder_dart_and_the_mend_mends_it() -> None:
    """Opened by 4.5 cm it lies within 3 cm of the dart; turned into the neck, as is advised, there is none."""
    wearer = replace(brief(surveyed("bodies_1988_women", 685)), cloth=WOVEN)
    scooped = ("neckline", {"front": "scoop", "widen": 45.0, "front_depth": 60.0})
    turned = ("move-dart", {"dart": "shoulder", "to": "neckline 0.5"})
    found = [
        {row.name for row in scooped_rows(draft_job(with_changes(job_of("fitted-bodice"), changes, wearer)), wearer)
         if row.beyond}
        for changes in ((), (scooped,), (scooped, turned))
    ]  # fmt: skip
    assert found == [set(), {"neck_to_dart", "neck_gapes"}, {"neck_gapes"}]


def test_a_knits_neck_that_is_deep_in_front_and_behind_is_told() -> None:
    """A V of 10 cm and one of 13 behind slip off a shoulder; by rule one of both is kept higher."""
    deep = ("neckline", {"front": "v", "front_depth": 100.0, "back": "v", "back_depth": 130.0})
    for changes, told in (((), []), ((deep,), ["neck_slips"])):
        garment = draft_job(with_changes(job_of("knit-top"), changes, brief()))
        assert [row.name for row in scooped_rows(garment, brief()) if row.beyond] == told
