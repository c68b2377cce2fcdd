"""What holds of every picture of a step: whole stitching, words by what they name, all of it in the key."""

from __future__ import annotations

import numpy as np
import pytest

from drafting.geometry import are_inside
from drafting.output.layers.ply import RAW
from drafting.output.layers.pressing import PRESSED
from drafting.output.pictures.key import list_key
from drafting.output.pictures.lettering import LEADER, LETTER_HIGH, LETTER_WIDE, sample_courses
from drafting.output.pictures.shapes import ClothArea, Course, Lettering
from drafting.output.pictures.step import STROKE, frame_view, set_picture
from tests.booklet.test_booklet import WOVENS, steps_with_views


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


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "half-circle-dress", "sheath-dress"])
def test_each_word_beside_a_notch_stands_by_it_or_has_a_line_to_it(design: str) -> None:
    """Within 2 mm of the stroke: "V point" farther off could be that of another."""
    for step, views in steps_with_views(design):
        for view in views:
            drawn = set_picture(frame_view(view), 47.0, 40.0).drawn
            strokes, leaders = (
                sample_courses([each.points for each in drawn if isinstance(each, Course) and each.width == wide])
                for wide in (STROKE, LEADER)
            )
            words = [each for each in drawn if isinstance(each, Lettering) and each.words[0].isdigit()]
            for each in drawn:
                if isinstance(each, Lettering) and each.words[0].isdigit():
                    half = LETTER_WIDE * len(each.words) / 2.0, LETTER_HIGH / 2.0
                    strokes_off, leaders_off = (
                        np.hypot(*np.maximum(np.abs(points - (each.x, each.y)) - half, 0.0).T).min(initial=99.0)
                        for points in (strokes, leaders)
                    )
                    alike = (w for w in words if w is not each and abs(w.y - each.y) < LETTER_HIGH / 2.0)
                    gaps = (abs(w.x - each.x) - half[0] - LETTER_WIDE * len(w.words) / 2.0 for w in alike)
                    assert min(gaps, default=9.0) > 0.8, (step.said.title, view.title, "read as one", each.words)
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
    told = {entry.words for entry in list_key(views)}
    assert told.isdisjoint({"button", "buttonhole", "interfacing"})  # no more than is drawn
    assert ("hook and eye" in told, "stay tape" in told) == (design == "sheath-dress", design != "sheath-dress")


def test_stitching_lies_an_allowance_inside_both_layers_that_it_joins() -> None:
    """Where the upper edge is hollower than the lower it is bent along it: stitching beside the cloth joins nothing."""
    seen = 0
    for step, views in steps_with_views("waist-seam-dress"):
        if not step.seams or len(views) != 2 or not views[0].laid or len(views[0].layers) != 2:
            continue
        seen += 1
        for layer in views[0].layers:
            edge = np.concatenate([layer.points, layer.points[:1]])
            for course in views[0].stitched:
                off = np.hypot(*(sample_courses([edge])[None] - course[1:-1, None]).transpose(2, 0, 1)).min(axis=1)
                assert (are_inside(course[1:-1], layer.points) | (off < STROKE)).all(), step.said.title
                assert off.max() < RAW + 1.0, (step.said.title, off.max())
    assert seen > 3


@pytest.mark.parametrize("design", ["waist-seam-dress", "basic-tee"])
def test_pressed_edges_end_at_the_raw_edges_that_they_cross(design: str) -> None:
    """An allowance that ended short of them would be one that was cut away there."""
    seen = 0
    for _, views in steps_with_views(design):
        for view in views:
            if view.title in PRESSED.values() and not view.stops:
                corners = np.concatenate([layer.points for layer in view.layers if not layer.strip])
                strips = np.concatenate([layer.points for layer in view.layers if layer.strip])
                ends = np.array([course[i] for course in view.stitched for i in (0, -1)])
                for found in (corners, strips):
                    off = np.hypot(*(found[None] - ends[:, None]).transpose(2, 0, 1)).min(axis=1)
                    seen += 1
                    assert off.max() < 1.0, (view.title, view.layers[0].letter, off)
    assert seen > 1


def test_the_ends_of_a_binding_lie_level_with_the_raw_edges_that_cross_its_edge() -> None:
    """As its step tells; drawn to the stitching line it would be too short to be caught there."""
    steps = steps_with_views("diagonal-overlay-top")
    binding = next(views for step, views in steps if step.seams and step.seams[0].binds)
    *pieces, strip = binding[0].layers
    rings = sample_courses([np.concatenate([each.points, each.points[:1]]) for each in pieces])
    half = len(strip.points) // 2
    for end in (strip.points[[0, -1]].mean(axis=0), strip.points[[half - 1, half]].mean(axis=0)):
        assert np.hypot(*(rings - end).T).min() < 2.0


@pytest.mark.parametrize(
    ("design", "kind", "more"),
    [
        ("waist-seam-dress", "buttons", 'over = "left"\nlength = 30\nbuttonholes = "along"\n'),
        ("half-circle-dress", "buttons", ""),
        ("tank-top", "zip", 'place = "left"\n'),
    ],
)
def test_whatever_opens_a_garment_is_drawn_to_its_last_step(design: str, kind: str, more: str) -> None:
    """A stand that goes on below the waist, a band beside it, a side that opens: each step has words or a picture."""
    left_out = 'leave_out = ["closure"]\n' if design in WOVENS else ""
    steps = steps_with_views(design, f'{left_out}[[changes]]\nchange = "closure"\nkind = "{kind}"\n{more}')
    assert any(seam.kind.closes for step, _ in steps for seam in step.seams)
    for view in (view for _, views in steps for view in views):
        assert set_picture(frame_view(view), 47.0, 40.0).drawn
