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
from tests.laws.jobs import job_of, with_changes
from tests.skirts.dressed import WOVEN


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
