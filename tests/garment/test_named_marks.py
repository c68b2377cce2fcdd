"""Marks by name: the places that a maker looks for are called something, on the paper, in steps and in pictures."""

from __future__ import annotations

import pytest

from drafting.garment import balance_marks
from drafting.garment.named_marks import name_marks
from drafting.job import draft_job
from drafting.output.layers import picture_step
from drafting.work import make_up
from drafting.work.meeting import meeting_words
from drafting.work.sewing import steps_of_work
from tests.booklet.test_booklet import made
from tests.laws.jobs import job_of, with_changes


@pytest.mark.parametrize(
    ("design", "seam", "names"),
    [
        ("diagonal-overlay-top", "covered-neck", {"V point"}),
        ("diagonal-overlay-top", "diagonal", {"V point"}),
        ("knit-top", "neck-band", {"V point", "centre back"}),
        ("knit-top", "armhole-left", {"front", "back"}),
        ("sheath-dress", "centre-back", {"zip end"}),
        ("sheath-dress", "side-left", {"waist", "hip", "vent"}),
        ("waist-seam-dress", "armhole-left", {"front", "back"}),
    ],
)
def test_places_that_one_looks_for_have_names(design: str, seam: str, names: set[str]) -> None:
    """The V that is clipped into, the zip's end, the vent's, a sleeve's back, levels and centres."""
    garment = made(design)[1]
    found = name_marks(garment)
    numbers = {mark.number for mark in balance_marks(garment) if mark.seam == seam}
    assert {found[number] for number in numbers if number in found} == names


def test_a_name_stands_on_the_paper_and_in_the_step() -> None:
    """On every piece that bears the notch, and behind its number where the step says what meets."""
    _, garment, cut = made("diagonal-overlay-top")
    named = {piece.name for piece in cut for notch in piece.notches if notch.name == "V point"}
    assert named == {"front", "back", "overlay-front", "overlay-back"}
    (words,) = meeting_words(garment, [garment.seam("covered-neck")], dict.fromkeys(named, "A"))
    assert words.endswith("7 (V point) and 8 (V point)")


def test_the_v_is_enlarged_with_its_clip() -> None:
    """A picture of its own, the clip ending a thread from its stay-stitching, in the middle of its angle."""
    garment = made("knit-top")[1]
    band = next(s for s in steps_of_work(make_up(garment), garment, "cm") if s.said.title == "Neck band")
    (view,) = (each for each in picture_step(garment, band, {}, {}) if each.close and each.clips)
    (clip,) = view.clips
    assert view.focus is not None
    inner, outer = (abs(end - view.focus[0]) for end in clip)
    assert inner.max() < 3.0 < 9.0 < outer.max()
    assert clip[1][0] == pytest.approx(view.focus[0][0], abs=0.5)


def test_a_tube_is_seen_right_side_out_once_it_is_sewn() -> None:
    """Side and underarm sewn in one: the upper layer shows its right side, the lower its wrong side."""
    garment = made("knit-top")[1]
    step = next(s for s in steps_of_work(make_up(garment), garment, "cm") if s.said.title.startswith("Side and"))
    laid, turned = picture_step(garment, step, {}, {})
    assert {layer.wrong for layer in laid.layers[:2]} == {False}
    assert [layer.wrong for layer in turned.layers] == [not layer.wrong for layer in laid.layers]


def test_where_the_sides_differ_the_one_with_more_to_match_is_drawn() -> None:
    """A panel that runs to the right side alone: its piece is in the picture of the side seams."""
    ends = {"start": "shoulder 0.5", "start_side": "left", "end": "side 0.6", "end_side": "right"}
    garment = draft_job(with_changes(job_of("knit-top"), [("style-line", {"on": "front", "name": "panel", **ends})]))
    letters = {piece.name: piece.name for piece in garment.pieces}
    step = next(s for s in steps_of_work(make_up(garment), garment, "cm") if s.said.title.startswith("Side and"))
    drawn = {layer.letter for view in picture_step(garment, step, letters, {}) for layer in view.layers}
    assert "sleeve-right" in drawn
