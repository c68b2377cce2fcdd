"""A hem band longer than its cloth is wide is cut in two, so that every singer of a choir finds room on one rib."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.finishing import FinishPlan, finish
from drafting.proof import prove
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from tests.garments import RIB, TOP, brief, build


@pytest.mark.parametrize(("width", "strips"), [(1000.0, 1), (700.0, 2)])
def test_a_hem_band_is_cut_as_it_finds_room(width: float, strips: int) -> None:
    """In one, or in two that meet at the sides: either drawn in alike, proven, and told as it is sewn."""
    asked = brief("soprano", rib=replace(RIB, width=width))
    garment = build(asked, TOP)
    bands = [piece for piece in garment.pieces if piece.name.startswith("hem-band")]
    assert len(bands) == strips
    ratios = [
        garment.run_length(section.plies[1]) / garment.run_length(section.plies[0])
        for section in garment.seam("hem-band").sections
    ]
    assert max(ratios) - min(ratios) < 1e-9
    proof = prove(garment, asked)
    assert proof.passed
    assert not any(finding.code == "cutting.width" for finding in proof.findings)
    (told,) = (step for step in steps_of_work(make_up(garment), garment, "cm") if step.said.title == "Hem band")
    assert any(("its joins at the side seams" in each) == (strips > 1) for each in told.said.sentences)


def test_a_band_on_the_fold_is_a_strip_by_its_whole_length() -> None:
    """Halved on a fold it looks stouter than it is cut."""
    cut = {piece.name: piece for piece in finish(build(brief("soprano"), TOP), FinishPlan())}
    assert cut["hem-band"].on_fold
    assert cut["hem-band"].is_strip
    assert not cut["front"].is_strip
