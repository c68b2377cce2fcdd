"""What readers of the pictures stopped at: corners, many pieces, edges that bend unlike, ends where nothing ends."""

from __future__ import annotations

import numpy as np
import pytest

from drafting.garment import balance_marks
from drafting.output.pictures.lettering import sample_courses
from drafting.output.pictures.step import frame_view, set_picture
from tests.booklet.test_booklet import made, steps_with_views
from tests.booklet.test_step_pictures import views_of


def test_a_mitre_is_drawn_over_the_fold_then_folded_then_on_its_corner() -> None:
    """The ends of the whole band, sewn and snipped where the stitching turns at the fold; then as it shows at the V."""
    ends, folded, _, laid, close, ring = views_of("knit-top", "Neck band")
    (sewn,), (snip,), (fold,) = ends.stitched, ends.clips, ends.folds
    turn = sewn[len(sewn) // 2]
    assert np.abs((sewn[[0, -1]] - turn) @ (fold[1] - fold[0])).min() > 15.0  # no straight line
    assert np.hypot(*(sewn[0] - sewn[-1])) > 35.0  # both halves of a band of 20 mm
    assert np.hypot(*(snip[0] - turn)) == pytest.approx(1.0, abs=0.1)
    for layer in ends.layers:  # in the allowance: from the raw edges' notch, where both layers end on the fold
        notch = layer.points[np.abs(((layer.points - fold[0]) @ [[0.0], [1.0]])[:, 0]) < 0.1][:, 0].max()
        assert turn[0] < snip[0, 0] < snip[1, 0] == pytest.approx(notch, abs=0.6)
    assert folded.stitched[0][:, 0] == pytest.approx(folded.stitched[0][0, 0], abs=0.1)  # it points down
    assert close.close
    assert sum(layer.strip for layer in laid.layers) == 2  # round the V in one, for each of its raw edges
    for view in (laid, ring):
        (mitre,) = view.seams
        corner = view.stitched[0][int(np.argmin(view.stitched[0][:, 1]))]
        assert np.hypot(*(mitre - corner).T).max() < 60.0
    first = np.concatenate([layer.points for layer in close.layers if layer.strip])
    (way,) = close.stitched  # up to the point, on the first side alone: the closed mitre can't lie flat round it
    assert close.focus is not None
    assert np.hypot(*(way[-1] - close.focus[0])) < 0.1
    assert (np.sign(first[:, 0] - way[-1, 0]) == np.sign(way[0, 0] - way[-1, 0])).mean() > 0.7


def test_many_pieces_of_a_hem_are_shown_by_two_and_a_long_one_near_a_seam() -> None:
    """Of nine panels those beside a side seam, the others named; a circle's narrow hem so large that it is a strip."""
    (hem,) = views_of("princess-top", "Hem of")
    assert {layer.letter for layer in hem.layers if not layer.strip} == {"A", "C"}
    assert hem.title.endswith("; B and D alike")
    circle, _ = views_of("half-circle-dress", "Hem of")
    picture = set_picture(frame_view(circle), 47.0, 40.0)
    assert frame_view(circle).find_scale(47.0, 40.0) * 12.0 > 1.2
    assert picture.width > 30.0


def test_edges_shown_side_by_side_are_laid_at_one_notch() -> None:
    """A waist on a half circle: right sides together, both raw edges level there, though elsewhere they part."""
    beside, laid, *_ = views_of("half-circle-dress", "Front waist")
    assert beside.joins
    assert [(layer.letter, layer.wrong) for layer in laid.layers] == [("A", False), ("C", True)]
    assert laid.close
    (notch,) = laid.notches
    for layer in laid.layers:
        assert np.hypot(*(sample_courses([layer.points]) - (notch.x, notch.y)).T).min() == pytest.approx(10.0, abs=0.5)
    assert not any("at notch" in view.title for view in views_of("fitted-bodice", "Sleeve, left"))  # seen in its round


def test_a_ring_of_a_band_is_no_end_of_its_stitching() -> None:
    """Drawn open, a band whose join lies within the back begins and ends there, where nothing stops."""
    laid = next(view for view in views_of("basic-tee", "Neck band") if view.title.startswith("As it is laid"))
    assert not laid.stops


def test_a_front_that_is_longer_for_the_bust_is_eased_in_there() -> None:
    """A notch below it on either edge as far from the hem, as the waist's are; above it none but the underarm."""
    fuller = 'fit = "close"\n[[changes]]\nchange = "full-bust"\nby = "2 cm"\n'
    _, garment, _ = made("knit-top", fuller)
    seam = garment.seam("side-left")
    front, back = (garment.line(run[0]).path for run in seam.sections[0].plies)
    assert front.length - back.length == pytest.approx(20.0, abs=0.1)
    heights = {
        mark.number: [front.length - s if use.piece == "front" else s for use, s in mark.at]
        for mark in balance_marks(garment)
        if mark.seam == seam.name and mark.section == 0
    }
    bust, _ = front.nearest(next(each.path for each in garment.piece("front").levels if each.name == "bust").end)
    (waist, below) = (max(heights), min(heights))
    for number in (waist, below):  # all the ease lies above, between them and the underarm
        front_above, back_above = heights[number]
        assert front_above - back_above == pytest.approx(20.0, abs=0.1)
    assert front.length - heights[below][0] < bust - 50.0
    assert 190.0 < heights[below][0] < 210.0  # no more than a tenth of it is eased in
    told = next(str(step.said) for step, _ in steps_with_views("knit-top", fuller) if "underarm" in step.said.title)
    assert f"easing 2.0 cm of the front in between notch {below} and the underarm, at the bust." in told
    plain = next(str(step.said) for step, _ in steps_with_views("knit-top") if "underarm" in step.said.title)
    assert "easing" not in plain
