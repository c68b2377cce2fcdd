"""Lengths of the finished garment: from the neck edge to the hem, down the side, and of what hangs over it."""

from __future__ import annotations

import pytest

from drafting.garment import Role, Side
from drafting.proof.lengths import take_finished
from tests.lay.laying import made


@pytest.mark.parametrize("design", ["basic-tee", "diagonal-overlay-top"])
def test_lengths_are_those_of_the_drawn_pieces(design: str) -> None:
    """Held against the shape of the back: the height of its middle, the length of its outline down the side."""
    garment = made(design, "alto").garment
    told = {row.title: row.garment for row in take_finished(garment)}
    back = garment.piece("back")
    reach = [point.y for line in back.ring for point in (line.path.start, line.path.end) if abs(point.x) < 1.0]
    assert told["centre back, neck edge to hem"] == pytest.approx(max(reach) - min(reach), abs=1e-6)
    ends = [p for line in back.lines(role=Role.SIDE, side=Side.RIGHT) for p in (line.path.start, line.path.end)]
    straight = max(ends, key=lambda p: p.y).distance(min(ends, key=lambda p: p.y))
    assert straight <= told["side seam, underarm to hem"] < 1.05 * straight


def test_overlays_have_lengths_and_sleeveless_tops_no_sleeve() -> None:
    """An overlay is told from its highest point to its lowest."""
    overlay = {row.title: row.garment for row in take_finished(made("diagonal-overlay-top", "alto").garment)}
    low, high = (made("diagonal-overlay-top", "alto").garment.piece("overlay-front").outline.bounds[i] for i in (1, 3))
    assert overlay["front overlay"] == pytest.approx(high - low, abs=1.0)
    assert not any("sleeve" in row.title for row in take_finished(made("tank-top").garment))
