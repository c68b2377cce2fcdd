"""A front without a dart on a full bust is told, unless something of the front itself shapes it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafting.body import make_body
from drafting.garment import Brief
from drafting.job import draft_job
from drafting.proof import prove
from tests.garments import SINGERS, brief
from tests.laws.jobs import catalogue, job_of, with_changes
from tests.overlay.tops import block_options
from tests.skirts.dressed import WOVEN

BODY, UNDARTED = "knit-bodice", "fit.bust_undarted"


def full() -> Brief:
    """The soprano with a bust of 112 over an under bust of 88 cm."""
    rules, given = SINGERS["soprano"]
    return brief(make_body("full", {**given, "bust_girth": 1120.0, "under_bust_girth": 880.0}, rules=rules))


@pytest.mark.parametrize(("face", "told"), [(None, True), ("back", True), ("front", False)])
def test_only_gathers_on_the_front_shape_a_bust(face: str | None, told: bool) -> None:
    """Gathers at the back's neckline give the bust nothing."""
    b = full()
    gathers: list[tuple[str, dict[str, Any]]] = [("gathers", {"at": "neckline", "on": face, "by": 60.0})]
    garment = draft_job(with_changes(job_of("basic-tee"), gathers if face else [], b))
    assert ("fit.bust_undarted" in {found.code for found in prove(garment, b).findings}) is told


ONE_DART = ("join-darts", {})


@pytest.mark.parametrize("changes", [[ONE_DART], [ONE_DART, ("dart-to-gathers", {"dart": "waist-front"})]])
def test_a_dart_from_the_waist_to_the_bust_point_shapes_a_bust(changes: list[tuple[str, dict[str, Any]]]) -> None:
    """The plain bodice with one dart has all its shaping there, be it sewn or gathered."""
    b = replace(full(), cloth=WOVEN)
    garment = draft_job(with_changes(job_of("waist-seam-dress"), changes, b))
    assert "fit.bust_undarted" not in {found.code for found in prove(garment, b).findings}


@pytest.mark.parametrize("way", [1.0, 1.1])
def test_a_knit_is_advised_darts_that_it_can_have(way: float) -> None:
    """Where the body is longer over the bust than the front; followed, the advice is heard no more."""
    rules, _ = SINGERS["soprano"]
    usual = full().body["side_neck_point_to_waist_over_bust"]
    length = usual * way if way > 1.0 else usual - 30.0
    b = brief(make_body("full", {**full().body.given, "side_neck_point_to_waist_over_bust": length}, rules=rules))
    plain, darted = with_changes(job_of("basic-tee"), [], b), block_options(job_of("basic-tee"), BODY, bust_dart=True)
    found = [
        [each for each in prove(draft_job(job), b, advisor=catalogue().find_mends).findings if each.code == UNDARTED]
        for job in (plain, with_changes(darted, [], b))
    ]
    assert ["bust_dart" in str(each.remedy) for each in found[0]] == [way > 1.0]
    assert bool(found[1]) is not (way > 1.0)


@pytest.mark.parametrize("design", ["diagonal-overlay-tank", "diagonal-overlay-dress"])
def test_a_seam_that_takes_nothing_in_shapes_no_bust(design: str) -> None:
    """The edges of the diagonal lie on each other; no dart goes into a front that it parts, and none is advised."""
    b = full()
    garment = draft_job(with_changes(job_of(design), [], b))
    (told,) = [each for each in prove(garment, b, advisor=catalogue().find_mends).findings if each.code == UNDARTED]
    assert "a design with bust darts" in str(told.remedy)
    assert "bust_dart" not in str(told.remedy)
