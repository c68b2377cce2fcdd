"""What the pictures of a step show: corners as they are, clips where they are made, words that nothing runs through."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import combinations
from typing import TypeGuard

import numpy as np
import pytest

from drafting.garment import balance_marks
from drafting.geometry import are_inside
from drafting.output.layers import StepView
from drafting.output.layers.view import Points
from drafting.output.pictures.lettering import sample_courses
from drafting.output.pictures.shapes import ClothArea, Course, Inked, Lettering
from drafting.output.pictures.step import CLIP, frame_view, set_picture
from drafting.work.meeting import mark_numbers
from tests.booklet.test_booklet import made, steps_with_views

SIDE_BUTTONED = 'leave_out = ["closure"]\n[[changes]]\nchange = "closure"\nplace = "left"\nkind = "buttons"\n'
"""A dress whose back is whole, so that its facing is turned with the garment rolled up."""


SQUARE = '[[changes]]\nchange = "neckline"\nfront = "square"\n'


def views_of(design: str, title: str, more: str = "") -> tuple[StepView, ...]:
    """The pictures of the step whose title begins so."""
    return next(views for step, views in steps_with_views(design, more) if step.said.title.startswith(title))


def way_from(point: Points, course: Points) -> float:
    """The angle (deg) in which a course leaves the point where one of its ends lies."""
    if np.hypot(*(course[0] - point)) > np.hypot(*(course[-1] - point)):
        course = course[::-1]
    assert np.hypot(*(course[0] - point)) < 1.0
    far = course[int(np.argmax(np.hypot(*(course - course[0]).T) > 12.0))]
    return math.degrees(math.atan2(*(far - course[0])[::-1].tolist()))


def test_the_v_is_drawn_as_it_is_sewn() -> None:
    """The bound edge ends where the stitching starts, at the angle that the piece has there, and is drawn with it."""
    _, garment, _ = made("diagonal-overlay-top")
    close = [view for view in views_of("diagonal-overlay-top", "Diagonal") if view.close]
    for view, name in zip(close, ("shoulder-front", "shoulder-back"), strict=True):
        assert view.focus is not None
        (at,) = view.focus
        piece = garment.piece(name)
        neck = next(line for line in piece.ring if line.name.startswith("neckline")).path.flatten()
        seam = piece.line("diagonal").path.flatten()
        corner = min((neck[0], neck[-1]), key=lambda p: min(np.hypot(*(p - seam[0])), np.hypot(*(p - seam[-1]))))
        meant = abs(way_from(corner, neck) - way_from(corner, seam))
        strip = next(layer for layer in view.layers if layer.strip)
        beyond = ((strip.points - at) * view.notches[0].out).sum(axis=1)
        assert beyond.max() > 9.0  # the binding runs on to the raw edge, so that the seam catches it
        first = int(np.argmin(np.hypot(*(strip.points - at).T)))
        edge, inside = np.roll(strip.points, -first, axis=0), np.roll(beyond, -first)[1] < 0.0
        edge = edge if inside else np.roll(edge[::-1], 1, axis=0)
        drawn = abs(way_from(at, edge[: len(edge) // 2]) - way_from(at, view.stitched[0]))
        assert math.cos(math.radians(drawn)) == pytest.approx(math.cos(math.radians(meant)), abs=0.1)


def test_a_clip_is_drawn_in_the_step_that_makes_it() -> None:
    """At the neck under the overlay, not again in the diagonal, where the edge beyond the V is finished."""
    for title, clips in (("Neck under", 1), ("Diagonal", 0)):
        close = [view for view in views_of("diagonal-overlay-top", title) if view.close]
        assert [len(view.clips) for view in close] == [clips, clips]


def test_sides_that_differ_are_both_drawn_as_they_are_laid() -> None:
    """The left shoulder of an overlay top joins other pieces than the right one; mirror images are drawn once."""
    left, right, _ = views_of("diagonal-overlay-tank", "Shoulder seam")
    drawn = [{layer.letter for layer in view.layers} for view in (left, right)]
    assert (left.title, right.title) == ("As it is laid, left", "As it is laid, right")
    assert not drawn[0] & drawn[1]
    assert len(views_of("tank-top", "Shoulder seam")) == 2


def test_a_v_is_clipped_before_its_band_is_laid_on() -> None:
    """The neckline alone, not the band that isn't clipped, from its raw edge to a thread from the stitching."""
    _, _, clipped, laid, _, _ = views_of("knit-top", "Neck band")
    assert not any(layer.strip for layer in clipped.layers)
    (clip,) = clipped.clips
    assert clipped.focus is not None
    (stayed,) = clipped.stitched  # beside the stitching line, in the allowance: not through the point itself
    assert np.hypot(*(sample_courses([stayed]) - clipped.focus[0]).T).min() > 1.5
    assert np.hypot(*(stayed - clip[0]).T).min() == pytest.approx(1.0, abs=0.1)
    raw = clipped.layers[0].points
    assert np.hypot(*(raw - clip[1]).T).min() < 1.0
    assert not laid.clips
    close = next(v for v in views_of("knit-top", "Neck band", SQUARE) if v.title.startswith("Corner"))
    assert np.hypot(*(close.clips[0][1] - close.clips[0][0])) < 16.0  # out through the allowance, not into the front


def test_layers_that_meet_have_one_stroke_and_a_clip_through_all_of_them() -> None:
    """At the overlay's neck both layers are clipped, so the clip is drawn from the lower one's raw edge."""
    laid = views_of("diagonal-overlay-top", "Neck under")[0]
    numbers = [notch.number for notch in laid.notches]
    assert len(set(numbers)) == len(numbers)
    assert all(notch.upto is not None and notch.upto[2] == 1 for notch in laid.notches)
    for close in (view for view in views_of("diagonal-overlay-top", "Neck under") if view.close):
        scale = frame_view(close).find_scale(47.0, 40.0)
        clip = next(each for each in set_picture(frame_view(close), 47.0, 40.0).drawn if _is_clip(each))
        assert np.hypot(*np.ptp(clip.points, axis=0)) > scale * 8.5 + 1.0


def _is_clip(drawn: Inked) -> TypeGuard[Course]:
    return isinstance(drawn, Course) and drawn.width == CLIP


def test_the_raw_edges_of_a_band_are_stepped_along_its_curve() -> None:
    """Each as far from the stitching wherever it is measured; fanned one way they would lie on it at one side."""
    laid = next(view for view in views_of("tank-top", "Armhole band") if "As it is laid" in view.title)
    sewn = np.concatenate(laid.stitched)
    for strip, off in zip((layer for layer in laid.layers if layer.strip), (12.0, 6.0), strict=True):
        edge = strip.points[: len(strip.points) // 2]
        away = np.hypot(*(edge[:, None, :] - sewn[None, :, :]).transpose(2, 0, 1)).min(axis=1)
        assert away == pytest.approx(off, abs=1.5)


def _overlap(words: list[Lettering]) -> Iterator[tuple[str, str]]:
    """Words that lie on each other: of letters nearly as high and wide as they are set."""
    for one, two in combinations(words, 2):
        wide = sum(0.085 * each.size * len(each.words) for each in (one, two))
        if abs(one.x - two.x) < wide and abs(one.y - two.y) < 0.13 * (one.size + two.size):
            yield one.words, two.words


@pytest.mark.parametrize("design", ["basic-tee", "diagonal-overlay-top", "sheath-dress"])
def test_no_stroke_runs_through_a_word(design: str) -> None:
    """Neither through a notch's name nor through a piece's letter, nor do words lie on each other."""
    for step, views in steps_with_views(design):
        for view in views:
            picture = set_picture(frame_view(view), 47.0, 40.0)
            words = [each for each in picture.drawn if isinstance(each, Lettering)]
            bold = [each.points for each in picture.drawn if isinstance(each, Course) and each.width > 0.3]
            strokes = sample_courses(bold)
            for each in words:
                half = (0.6 * len(each.words), 0.7)
                off = np.abs(strokes - (each.x, each.y)) < half
                assert not off.all(axis=1).any(), (step.said.title, view.title, each.words)
            assert not list(_overlap(words)), (step.said.title, view.title)


def test_a_hem_is_drawn_over_the_seams_it_crosses_and_its_depth_told() -> None:
    """The overlay's two pieces are joined by then; in the dress front and backs are."""
    for design, title, letters in (("diagonal-overlay-top", "Hem of the", 2), ("waist-seam-dress", "Hem of the", 2)):
        step, (view, *_) = next(each for each in steps_with_views(design) if each[0].said.title.startswith(title))
        assert len({layer.letter for layer in view.layers if layer.letter}) == letters
        assert any(re.fullmatch(r"Turn \d+\.\d+ cm to the wrong side .*", words) for words in step.said.sentences)


def test_an_overlay_is_unpinned_for_each_step_that_sews_it() -> None:
    """For its hem and the side seam, whose notch at the hem is named; the last pins are taken out at the end."""
    said = {step.number: step for step, _ in steps_with_views("diagonal-overlay-top")}
    title = {number: step.said.title for number, step in said.items()}
    hem, side, diagonal = (
        next(n for n, words in title.items() if words.startswith(start))
        for start in ("Hem of the overlay", "Left side seam below", "Diagonal")
    )
    assert hem == side - 1
    assert any(f"Unpin them for their hem and for step {side}." in str(step) for step in said.values())
    notch = re.search(r"past the overlay's hem \(notch (\d+)\)", str(said[side]))
    assert notch is not None
    mark = next(mark for mark in balance_marks(made("diagonal-overlay-top")[1]) if mark.number == int(notch[1]))
    assert {use.piece for use, _ in mark.at} == {"front", "back"}
    assert "Take these pins out at the end." in str(said[diagonal])


def test_a_side_seam_runs_straight_on_over_a_facing_that_is_opened_out() -> None:
    """The facing lies beyond the armhole's seam, so that the line goes on up over it; there it is enlarged."""
    laid, close, _ = views_of("sheath-dress", "Side seam")
    assert close.close
    assert close.focus is not None
    (course,) = close.stitched
    at = int(np.argmin(np.hypot(*(course - close.focus[0]).T)))
    below, above = course[at] - course[max(at - 3, 0)], course[-1] - course[at]
    turned = (below * above).sum() / (np.hypot(*below) * np.hypot(*above))
    assert turned > math.cos(math.radians(40.0))
    facings = [layer.points for layer in laid.layers if layer.letter in ("C", "D")]
    assert all(points[:, 1].min() > close.focus[0, 1] - 50.0 for points in facings)


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "knit-top", "sheath-dress"])
def test_each_notch_of_a_seam_is_drawn_in_its_step(design: str) -> None:
    """On a strip too, where it meets a seam of the other edge; once sewn, no place bears its stroke twice."""
    garment = made(design)[1]
    for step, views in steps_with_views(design):
        named = set(mark_numbers(garment, step.seams[0])) if step.seams and views else set()
        assert named <= {notch.number for view in views for notch in view.notches}, step.said.title
        for view in views:
            if view.title.startswith("When it is sewn"):
                places = [(notch.number, round(notch.x), round(notch.y)) for notch in view.notches]
                assert len(set(places)) == len(places)


def test_what_goes_right_round_is_drawn_open_as_it_is_laid_and_as_a_ring_once_it_is_sewn() -> None:
    """A neck band on sewn shoulders, the back behind the front; a binding whose ends wait for a later seam isn't."""
    _, _, _, laid, _, sewn = views_of("knit-top", "Neck band")
    assert laid.title.endswith(", drawn open")
    assert [(layer.letter, layer.wrong) for layer in sewn.layers if not layer.strip] == [("B", True), ("A", False)]
    behind, before = (layer.points for layer in sewn.layers if layer.strip)
    corner = before[int(np.argmax(before[:, 0]))]
    assert np.hypot(*(behind - corner).T).min() < 15.0
    assert not any("drawn open" in view.title for view in views_of("diagonal-overlay-top", "Neck binding"))


def test_a_band_is_folded_across_for_its_ends() -> None:
    """Right sides together, both halves seen; a cuff on its sleeve is then seen folded flat, as half a ring."""
    ends, _, sewn = views_of("knit-top", "Cuff")
    assert [layer.wrong for layer in ends.layers] == [False, True]
    assert {layer.letter for layer in ends.layers} == {"D"}
    sleeve, cuff = (np.ptp(layer.points[:, 0]) for layer in sewn.layers)
    whole = made("knit-top")[1].piece("sleeve-left").outline.bounds
    assert cuff < sleeve < 0.6 * (whole[2] - whole[0])


def test_a_vent_is_drawn_with_its_hem_turned_up_and_the_corner_mitred() -> None:
    """Two strips that share the line from the corner to where both end; the stitching runs from hem to seam."""
    for view in views_of("sheath-dress", "Vents")[2:]:
        vent, hem = (layer.points for layer in view.layers if layer.strip)
        apart = np.hypot(*(vent[:, None, :] - hem[None, :, :]).transpose(2, 0, 1))
        shared = vent[apart.min(axis=1) < 0.1]
        assert np.ptp(shared, axis=0) == pytest.approx((35.0, 35.0), abs=3.0)
        (stitched,) = view.stitched
        assert stitched[:, 1].min() == pytest.approx(vent[:, 1].min(), abs=2.0)
        assert np.ptp(stitched[:, 0]) == pytest.approx(33.0, abs=3.0)
    (front, *_) = views_of("sheath-dress", "Hem of")
    assert sum(layer.strip for layer in front.layers) == 3  # the front's hem is one, though its line has two halves


def test_a_binding_is_laid_with_its_edge_on_the_neck_s() -> None:
    """Not fanned inwards, where it would seem to be sewn on well inside; its wrong side is toned as any other."""
    laid, *_ = views_of("diagonal-overlay-top", "Neck binding")
    strip = next(layer for layer in laid.layers if layer.strip)
    assert strip.wrong
    assert strip.shift == 0
    edge = strip.points[: len(strip.points) // 2]
    (sewn,) = laid.stitched
    off = np.hypot(*(edge[:, None, :] - sewn[None, :, :]).transpose(2, 0, 1)).min(axis=1)
    assert off.min() == pytest.approx(8.0, abs=1.0)
    greys = {each.grey for each in set_picture(frame_view(laid), 47.0, 40.0).drawn if isinstance(each, ClothArea)}
    assert greys - {0.0} == {1.0, 0.8}


def test_edges_are_stay_stitched_from_the_shoulder_down() -> None:
    """Beside the neck and each armhole an arrow that runs down, the stitching in the allowance."""
    front, back = views_of("sheath-dress", "Stay-stitching")
    assert len(front.arrows) == 4
    assert len(back.arrows) == 2
    assert all(arrow[-1, 1] < arrow[0, 1] for view in (front, back) for arrow in view.arrows)


def test_a_back_is_pulled_through_between_the_front_and_its_facing() -> None:
    """One way a shoulder, from the back's facing beneath the front's and out beyond that onto the front."""
    flat, *_ = views_of("sheath-dress", "Facing turned in")
    assert len(flat.arrows) == 2 * len(flat.hidden) == 4
    (facing,) = (layer.points for layer in flat.layers if layer.letter == "C")
    for before, after, way in zip(flat.arrows[::2], flat.arrows[1::2], flat.hidden, strict=True):
        middle = way.mean(axis=0, keepdims=True)
        assert are_inside(middle, facing).all()
        assert not are_inside(np.stack([before[0], after[-1]]), facing).any()
        assert before[0, 1] > way[0, 1] > way[-1, 1] > after[-1, 1]


def test_the_garment_is_rolled_up_beside_the_armhole_that_is_faced() -> None:
    """The roll beyond the armhole, beneath the facing that is brought round it, wrong side up."""
    steps = steps_with_views("sheath-dress", SIDE_BUTTONED)
    rolled, brought, _ = next(views for step, views in steps if step.said.title.startswith("Armhole facing"))
    assert rolled.layers[-1].strip
    (roll,) = (i for i, layer in enumerate(brought.layers) if layer.strip)
    assert all(layer.wrong for layer in brought.layers[roll:])
    assert {layer.letter for layer in brought.layers[roll + 1 :]} == {"C", "D"}
    away = brought.layers[roll].points
    assert all(not are_inside(course, away).any() for course in brought.stitched)


def test_joined_shoulder_pieces_are_slipped_round_the_body_upside_down() -> None:
    """From the front: the body right side up, the shoulder piece on it wrong side up; behind, the back's layers."""
    (round_it, *_) = views_of("diagonal-overlay-top", "Diagonal seam")
    letters = [layer.letter for layer in round_it.layers if not layer.strip]
    assert letters == ["D", "F", "C", "B", "E", "A"]
    assert [layer.wrong for layer in round_it.layers if not layer.strip] == [False, True, True, False, False, True]
    assert len(round_it.arrows) == 1


def test_a_facing_is_seen_joined_before_it_is_sewn_on() -> None:
    """Its pieces wrong side up, laid flat, stitched to each other at the shoulders."""
    (joined,) = views_of("sheath-dress", "Facing, made ready")
    assert [layer.letter for layer in joined.layers] == ["D", "C", "D"]
    assert all(layer.wrong for layer in joined.layers)
    assert len(joined.stitched) == 2


def test_a_dart_is_drawn_with_the_way_it_is_pressed() -> None:
    """Bust darts down; waist and shoulder darts of a back towards its centre, seen from the wrong side."""
    front, back = views_of("sheath-dress", "Darts")
    down = [arrow for arrow in front.arrows if arrow[0, 0] == arrow[1, 0]]
    assert len(down) == 2
    assert all(arrow[1, 1] < arrow[0, 1] for arrow in down)
    (piece,) = back.layers
    centre = 0.0 if abs(piece.points[:, 0].max()) < abs(piece.points[:, 0].min()) else float(piece.points[:, 0].min())
    assert all(abs(arrow[1, 0] - centre) < abs(arrow[0, 0] - centre) for arrow in back.arrows)


def test_a_sleeve_is_put_into_its_armhole_right_sides_together() -> None:
    """The garment wrong side out, the sleeve in it: half of it, right side up, dotted where the front covers it."""
    within, *_ = views_of("fitted-bodice", "Sleeve, left and right, set in round")
    behind, sleeve, before = within.layers
    assert [layer.wrong for layer in within.layers] == [False, False, True]
    assert [layer.letter for layer in within.layers] == ["B", "C", "A"]
    assert are_inside(sleeve.points.mean(axis=0, keepdims=True), before.points).all()
    assert np.hypot(*(within.arrows[0][-1] - sleeve.points.mean(axis=0))) < np.hypot(
        *(within.arrows[0][0] - sleeve.points.mean(axis=0))
    )
    assert within.hidden[0] is sleeve.points
    assert not behind.wrong


def test_understitching_lies_on_the_facing_and_stops_short_of_the_shoulders() -> None:
    """A facing for neck and armholes was turned through the shoulders: the machine doesn't reach in there."""
    inside = [view for view in views_of("sheath-dress", "Facing turned in") if view.title == "Turned to the inside"]
    assert [len(view.stitched) for view in inside] == [3, 2]  # of the neck, of an armhole
    for view in inside:
        assert view.focus is not None
        for course in view.stitched:
            away = [np.hypot(*(view.focus - point).T).min() for point in course]
            assert min(away) > 3.0  # beside the edge, not on it


def test_a_pocket_is_drawn_on_its_marks_on_the_front() -> None:
    """Both lie right side up, the pocket within the front; the step names both."""
    steps = steps_with_views("knit-top", "[blocks.patch-pocket]\n")
    step, (view,) = next(pair for pair in steps if pair[0].said.title.endswith("pocket, sewn on"))
    under, pocket = view.layers
    assert not under.wrong
    assert not pocket.wrong
    assert np.all(pocket.points.max(axis=0) < under.points.max(axis=0))
    assert np.all(pocket.points.min(axis=0) > under.points.min(axis=0))
    assert len(step.meets[0].split(" and ")) == 2


def test_a_vents_edges_jut_out_as_they_do_on_paper() -> None:
    """Below the notch they are turned in deeper than a seam's: so they are drawn, as laid and pressed open."""
    vent = '[[changes]]\nchange = "vents"\nside = "back"\n'
    steps = steps_with_views("waist-seam-dress", vent)
    laid, pressed = next(views for step, views in steps if "below the zip" in step.said.title)
    (sewn,) = laid.stitched
    middle, low = float(sewn[:, 0].mean()), float(sewn[:, 1].min())
    for layer in laid.layers:
        beyond = np.abs(layer.points[:, 0] - middle)
        near = (beyond < 40.0) & (beyond > 1.0)
        below = layer.points[:, 1] < low + 1.0
        assert beyond[near & below].max() > 1.8 * beyond[near & ~below & (layer.points[:, 1] < low + 60.0)].max()
    wide = {round(float(np.ptp(layer.points[:, 0]))) for layer in pressed.layers if layer.strip}
    assert max(wide) > 1.8 * min(wide)


def test_a_bent_seam_says_which_piece_is_clipped_and_where() -> None:
    """By letter, and from which notch to which; the front opens round the side panel, which is notched after."""
    step, (laid, _) = next(each for each in steps_with_views("princess-top") if "panel seam" in each[0].said.title)
    said = step.said.sentences
    (first,) = [words for words in said if words.startswith("Stay-stitch")]
    assert re.search(r"Stay-stitch B front near the stitching line from notch 3 to notch 5, and clip", first)
    assert "Notch the allowance of A front side panel from notch 3 to notch 5, where it is round." in said
    assert re.search(r" Clip the allowance of A front side panel and B front from notch 4 to its lower end", str(step))
    assert len(laid.notches) == len({notch.number for notch in laid.notches})  # one stroke over both, none in two
