"""What the pictures of corners show: a vent's as it is mitred, a pocket's as they are folded in and pressed under."""

from __future__ import annotations

import numpy as np
import pytest

from drafting.geometry import are_inside
from tests.booklet.test_booklet import steps_with_views
from tests.booklet.test_step_pictures import views_of


def test_a_mitre_is_drawn_opened_out_then_folded_and_sewn_across() -> None:
    """From where the creases cross, square to the slanting fold, to the raw edge; the layers right sides together."""
    opened, folded, *turned = views_of("sheath-dress", "Vents")
    assert len(turned) == 2
    one, two, slant = (course[-1] - course[0] for course in opened.folds)
    for crease in (one, two):
        cosine = (crease * slant).sum() / np.hypot(*crease) / np.hypot(*slant)
        assert cosine == pytest.approx(np.sqrt(0.5), abs=0.05)
    assert [layer.wrong for layer in folded.layers] == [False, True]
    (sewn,) = folded.stitched
    across = sewn[1] - sewn[0]
    assert (across * slant).sum() == pytest.approx(0.0, abs=0.05 * np.hypot(*across) * np.hypot(*slant))
    assert np.hypot(*across) == pytest.approx(35.0 * np.sqrt(2.0), abs=3.0)


@pytest.mark.parametrize(("corner", "count"), [("square", 2), ("rounded", 1), ("bevelled", 1)])
def test_a_pocket_is_drawn_as_it_is_pressed(corner: str, count: int) -> None:
    """Its edges lie on its wrong side, the right side of them seen; square corners are folded in first."""
    views = next(
        views
        for step, views in steps_with_views("fitted-bodice", f'[blocks.patch-pocket]\ncorner = "{corner}"\n')
        if step.said.title.endswith("made ready")
    )
    assert len(views) == count
    pocket, _, *strips = views[-1].layers
    assert pocket.wrong
    assert not any(strip.wrong for strip in strips)
    assert len(strips) == (3 if corner == "square" else 1)
    for strip in strips:
        inwards = strip.points + (pocket.points.mean(axis=0) - strip.points) * 0.01
        assert are_inside(inwards, pocket.points).all()
    assert len(views[0].arrows) == (2 if corner == "square" else 0)
