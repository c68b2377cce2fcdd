"""Lengths of the finished garment: from the neck edge to the hem, down the side, and of what hangs over it."""

from __future__ import annotations

import pytest

from drafting.garment import Role, Side
from drafting.proof.lengths import take_finished
from tests.lay.laying import made


@pytest.mark.parametrize(
    ("design", "bands", "low"),
    [("basic-tee", 20.0, 0.0), ("diagonal-overlay-top", 55.0, 55.0), ("knit-top", 75.0, 55.0)],
)
def test_lengths_are_those_of_the_drawn_pieces_and_their_bands(design: str, bands: float, low: float) -> None:
    """Held against the shape of the back: the height of its middle, the length of its outline down the side.

    Bands reach 20 mm above the neck and 55 mm below the hem; a binding lies round its edge.
    """
    garment = made(design, "alto").garment
    told = {row.title.split(", with its")[0]: row.garment for row in take_finished(garment)}
    back = garment.piece("back")
    reach = [point.y for line in back.ring for point in (line.path.start, line.path.end) if abs(point.x) < 1.0]
    assert told["centre back, neck edge to hem"] == pytest.approx(max(reach) - min(reach) + bands, abs=1e-6)
    ends = [p for line in back.lines(role=Role.SIDE, side=Side.RIGHT) for p in (line.path.start, line.path.end)]
    straight = max(ends, key=lambda p: p.y).distance(min(ends, key=lambda p: p.y))
    assert straight <= told["side seam, underarm to hem"] - low < 1.05 * straight


def test_a_sleeve_is_told_with_its_cuff() -> None:
    """A knit top's cuff is 70 mm high: with it the sleeve is as long as the arm."""
    told = {row.title: row.garment for row in take_finished(made("knit-top", "alto").garment)}
    sleeve = made("knit-top", "alto").garment.piece("sleeve-left").outline.bounds
    asked = told["sleeve with its cuff or band, top of its cap to its lower edge"]
    assert asked == pytest.approx(sleeve[3] - sleeve[1] + 70.0, abs=2.0)


def test_overlays_have_lengths_and_sleeveless_tops_no_sleeve() -> None:
    """An overlay is told from its highest point to its lowest."""
    overlay = {row.title: row.garment for row in take_finished(made("diagonal-overlay-top", "alto").garment)}
    low, high = (made("diagonal-overlay-top", "alto").garment.piece("overlay-front").outline.bounds[i] for i in (1, 3))
    assert overlay["front overlay"] == pytest.approx(high - low, abs=1.0)
    assert not any("sleeve" in row.title for row in take_finished(made("tank-top").garment))
