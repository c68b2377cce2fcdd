"""Stays cut from a cloth of their own: strips along it, or on its bias where they lie along a curve."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from drafting.job import draft_job, finish_job
from drafting.lay import plan_lays
from drafting.lay.cutting import THOROUGH
from drafting.lay.words import describe_spreads
from drafting.output.booklet.sections import tell_stays
from drafting.work.taping import list_tapes, tape_words
from tests.garments import JERSEY
from tests.laws.jobs import job_of


def test_stays_are_cut_from_the_stay_cloth_where_there_is_one() -> None:
    """Each as long as its edge as wide as a tape: straight on a shoulder, on the bias on a neck (common practice)."""
    job = job_of("basic-tee")
    taped = draft_job(job)
    job = replace(job, brief=replace(job.brief, cloths={**job.brief.cloths, "stay": replace(JERSEY, width=900.0)}))
    garment = draft_job(job)
    cut = finish_job(job, garment)[0]
    (lay,) = (lay for lay in plan_lays(garment, cut, job.brief, how=THOROUGH) if lay.kind == "stay")
    tapes = sorted(length for *_, length in list_tapes(taped))
    assert sorted(float(np.hypot(*np.diff(each.ring, axis=0).T).sum()) / 2.0 - 13.0 for each in lay.laid) == [
        pytest.approx(each) for each in tapes
    ]
    ways = {each.part.title: each.ring for each in lay.laid}
    assert {title for title in ways if "shoulder" in title} == {
        "Stay, front left shoulder",
        "Stay, front right shoulder",
    }
    assert float(np.ptp(ways["Stay, front left shoulder"][:, 0])) == pytest.approx(13.0)
    neck = ways["Stay, back neckline, on the bias"]
    along = max(np.diff(neck, axis=0), key=lambda by: math.hypot(*by))
    assert abs(along[0]) == pytest.approx(abs(along[1]))
    assert 0.0 < lay.buy <= 200.0
    words = " ".join(describe_spreads(lay, "cm")[0].lines)
    assert "draw them by ruler, 1.3 cm wide" in words
    assert f"Stay, front left shoulder {tapes[0] / 10.0:.1f} cm" in words
    (section,) = tell_stays(garment, "cm")
    assert section.heading == "Stay strips"
    assert "Use the strips of stay cloth" in " ".join(str(each) for each in tape_words(garment, "cm"))
    assert all(lay.kind != "stay" for lay in plan_lays(taped, cut, job_of("basic-tee").brief))
