"""Every change on a body whose shoulders differ: what an even body of like figures gets, an uneven one gets too."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish
from drafting.garment import Face, Side
from drafting.job import draft_job
from drafting.proof import prove
from drafting.redraw.halves import find_half
from tests.blocks.test_uneven_shoulders import singer
from tests.garments import BODY, brief, build
from tests.laws.jobs import catalogue, job_of, with_changes

FIT = (
    "square-shoulder", "sloping-shoulder", "low-shoulder", "forward-shoulder", "broad-back", "narrow-back", "full-bust",
    "small-bust", "cut-in-armhole", "sway-back", "long-waist", "short-waist",
)  # fmt: skip


def errors(design: str, change: str, left: float, right: float) -> list[str]:
    """What the proof calls wrong with the change on that design for an alto, or why it was refused."""
    job = job_of(design)
    wearer = replace(job.brief, body=singer("alto", left, right))
    job = with_changes(job, [(change, {})], wearer)
    try:
        garment = draft_job(job)
    except CannotDraft as error:
        return [f"refused: {error.step}"]
    found = prove(garment, wearer, finish(garment, FinishPlan())).findings
    return sorted({f"{f.code} {f.place}" for f in found if f.severity == "error"})


@pytest.mark.parametrize("change", FIT)
@pytest.mark.parametrize("design", ["knit-top", "fitted-bodice"])
def test_a_change_does_on_uneven_shoulders_what_it_does_on_even_ones(design: str, change: str) -> None:
    """Whichever shoulder is the lower one; what is refused to an even body of either slope may be refused here."""
    assert change in catalogue().changes
    even = sorted({*errors(design, change, 23.0, 23.0), *errors(design, change, 31.0, 31.0)})
    assert errors(design, change, 23.0, 31.0) == even
    assert errors(design, change, 31.0, 23.0) == even


@pytest.mark.parametrize("face", [Face.FRONT, Face.BACK])
def test_each_half_has_its_own_across_level(face: Face) -> None:
    """It ends on that half's armhole."""
    garment = build(brief(singer("soprano", 20.0, 29.0)), BODY)
    heights = set()
    for side in (Side.LEFT, Side.RIGHT):
        half = find_half(garment, side, face)
        end = half.half_across
        armhole = half.on_plus_x(garment.piece(str(face)).line(f"armhole-{side}").path)
        assert armhole.nearest(end)[1] < 1e-3
        heights.add(round(end.y, 3))
    assert len(heights) == 2
