"""What holds of every picture of a step: whole stitching, words by what they name, all of it in the key."""

from __future__ import annotations

import numpy as np
import pytest

from drafting.output.pictures.key import list_key
from drafting.output.pictures.lettering import LEADER, LETTER_HIGH, LETTER_WIDE, sample_courses
from drafting.output.pictures.shapes import ClothArea, Course, Lettering
from drafting.output.pictures.step import STROKE, frame_view, set_picture
from tests.booklet.test_booklet import steps_with_views


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "princess-top", "sheath-dress"])
def test_stitching_runs_from_raw_edge_to_raw_edge_or_stops_at_a_ring(design: str) -> None:
    """As it is laid: a line that ended an allowance short of the edges would leave a hole at either end of the seam."""
    seen = 0
    for step, views in steps_with_views(design):
        for view in views:
            if not view.title.startswith("As it is laid") or (step.seams and step.seams[0].binds):
                continue
            rings = sample_courses([np.concatenate([layer.points, layer.points[:1]]) for layer in view.layers])
            for end in (course[i] for course in view.stitched for i in (0, -1)):
                stopped = any(np.hypot(*(stop[0] - end)) < 0.1 for stop in view.stops)
                assert stopped or np.hypot(*(rings - end).T).min() < 1.0, (step.said.title, view.title, end)
                seen += stopped
    assert seen > 0


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "knit-top", "sheath-dress"])
def test_each_word_beside_a_notch_stands_by_it_or_has_a_line_to_it(design: str) -> None:
    """Within 2 mm of the stroke: "V point" farther off could be that of another."""
    for step, views in steps_with_views(design):
        for view in views:
            drawn = set_picture(frame_view(view), 47.0, 40.0).drawn
            strokes, leaders = (
                sample_courses([each.points for each in drawn if isinstance(each, Course) and each.width == wide])
                for wide in (STROKE, LEADER)
            )
            for each in drawn:
                if isinstance(each, Lettering) and each.words[0].isdigit():
                    half = LETTER_WIDE * len(each.words) / 2.0, LETTER_HIGH / 2.0
                    strokes_off, leaders_off = (
                        np.hypot(*np.maximum(np.abs(points - (each.x, each.y)) - half, 0.0).T).min(initial=99.0)
                        for points in (strokes, leaders)
                    )
                    assert strokes_off < 2.0 or leaders_off < 0.5, (step.said.title, view.title, each.words)


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "sheath-dress"])
def test_every_tone_and_line_of_the_pictures_stands_in_the_key(design: str) -> None:
    """In the key's own greys: a third grey that nobody explained was taken for a wrong side."""
    views = [view for _, views in steps_with_views(design) for view in views]
    samples = [each for entry in list_key(views) for each in entry.sample.drawn]
    drawn = [each for view in views for each in set_picture(frame_view(view), 47.0, 40.0).drawn]
    for each in drawn:
        if isinstance(each, ClothArea):
            assert each.grey in {own.grey for own in samples if isinstance(own, ClothArea)} | {0.0}
        elif isinstance(each, Course) and each.width != LEADER:
            lines = {(own.width, own.grey, own.dashes) for own in samples if isinstance(own, Course)}
            assert (each.width, each.grey, each.dashes) in lines
