"""What pictures of details show: darts and notches beside each other, each its own; a binding cut through."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from drafting.garment.darts import darts_of
from drafting.geometry import are_inside
from drafting.output.layers.laying import DRAWN_OPEN
from drafting.output.layers.ply import RAW
from drafting.output.layers.shut import shut_piece
from drafting.output.layers.view import Points
from drafting.output.pictures.lettering import sample_courses
from drafting.output.pictures.shapes import Course, Lettering
from drafting.output.pictures.step import frame_view, set_picture
from tests.booklet.test_booklet import made, steps_with_views
from tests.booklet.test_step_pictures import views_of


def test_darts_beside_each_other_are_drawn_shut() -> None:
    """Two in a shoulder, two in a waist: the legs of each lie on each other, and the stitching past them is whole."""
    moved = '[[changes]]\nchange = "full-bust"\nby = 2\n[[changes]]\nchange = "move-dart"\n'
    _, garment, _ = made("fitted-bodice", moved)
    for piece in (*garment.pieces, *made("waist-seam-dress")[1].pieces):
        shut = shut_piece(piece)
        for dart in (dart for dart in darts_of(piece) if not dart.inside):
            one, two = (shut.course(legs[0]) for legs in (dart.legs[0], dart.legs[-1]))
            assert max(np.hypot(*(one[0] - two[-1])), np.hypot(*(one[-1] - two[0]))) < 0.1, (piece.name, dart)
    steps = steps_with_views("fitted-bodice", moved)
    laid = next(views[0] for step, views in steps if step.said.title.startswith("Shoulder seam"))
    assert len(laid.stitched) == 1


def test_the_arrow_of_a_dart_ends_short_of_the_next() -> None:
    """Two darts side by side in a shoulder: each arrow says which way its own is pressed, and lies over no other."""
    moved = '[[changes]]\nchange = "full-bust"\nby = 2\n[[changes]]\nchange = "move-dart"\n'
    steps = steps_with_views("fitted-bodice", moved)
    view = next(views[0] for step, views in steps if step.said.title == "Darts")
    front = next(piece for piece in made("fitted-bodice", moved)[1].pieces if piece.name == "front")
    lines = [[line.path.flatten() * (-1.0, 1.0) for line in dart.lines] for dart in darts_of(front) if not dart.inside]
    assert len(lines) == 4
    shoulder = [arrow for arrow in view.arrows if arrow[0, 1] > min(leg[:, 1].min() for dart in lines for leg in dart)]
    assert len(shoulder) == 4
    middles = [np.concatenate(dart).mean(axis=0) for dart in lines]
    for start, end in shoulder:
        x, y = np.sign(end[0] - start[0]), start[1]
        others = [dart for dart, at in zip(lines, middles, strict=True) if at[0] * x > 0.0 or abs(at[1] - y) > 1.0]
        assert len(others) == 3
        assert not any(_crosses(start, end + np.array((x * 5.0, 0.0)), leg) for dart in others for leg in dart)


def _crosses(start: Points, end: Points, leg: Points) -> bool:
    """Whether a level stretch crosses a leg."""
    x = np.interp(start[1], *(leg[np.argsort(leg[:, 1])].T[::-1]), left=np.inf, right=np.inf)
    return bool(min(start[0], end[0]) < x < max(start[0], end[0]))


def test_the_strokes_of_two_notches_near_each_other_stay_pairs() -> None:
    """Of a whole piece drawn small: what is between the strokes of one notch is less than what is between the two."""
    *_, turned = views_of("diagonal-overlay-top", "Neck under")
    picture = set_picture(frame_view(turned), 47.0, 40.0)
    ticks = [shape.points for shape in picture.drawn if isinstance(shape, Course) and shape.width == 0.35]
    middles = np.array([points.mean(axis=0) for points in ticks])
    pairs = [number for notch in turned.notches for number in [notch.number] * notch.count]
    apart = [
        (float(np.hypot(*(middles[i] - middles[j]))), pairs[i] == pairs[j]) for i in range(len(pairs)) for j in range(i)
    ]
    near = min(off for off, same in apart if not same)
    assert max(off for off, same in apart if same and off < 2.0) < 0.6 * near


def test_a_side_seam_bears_its_number_at_either_end_of_a_hem_band() -> None:
    """Drawn open, the band ends at a side seam and crosses the other: a stroke without its number told nothing."""
    laid = next(view for view in views_of("diagonal-overlay-top", "Hem band") if view.title.startswith("As it is laid"))
    drawn = set_picture(frame_view(laid), 47.0, 40.0).drawn
    numbers = [each.words for each in drawn if isinstance(each, Lettering) and each.words.isdigit()]
    assert sorted(Counter(numbers).values()) == [1, 2]  # the centre front's, and the side seams'
    assert sum(layer.strip for layer in laid.layers) == 2 * 2  # folded double, and parted at its join


def test_a_binding_is_drawn_cut_through() -> None:
    """Level with the edge, wrapped, turned under past the stitching: none of that is seen from above."""
    *_, cut = views_of("diagonal-overlay-top", "Neck binding")
    cloth, binding = cut.layers
    assert cut.title.startswith("Cut through")
    assert binding.points[:, 1].max() > cloth.points[:, 1].max() > cloth.points[:, 1].min() > binding.points[:, 1].min()
    sewn, groove = cut.stitched
    assert (
        binding.points[:, 0].min() < groove[0, 0] < sewn[0, 0] < cloth.points[:, 0].max() < binding.points[:, 0].max()
    )
    above = binding.points[binding.points[:, 1] > cloth.points[:, 1].max()]
    assert 0.0 < above[:, 0].min() - groove[0, 0] < np.ptp(cloth.points[:, 1])  # in the groove at the binding's edge


def test_an_edge_that_is_turned_over_another_is_drawn_cut_through() -> None:
    """Which layers are understitched is seen from no side: the lower one and both allowances, not the upper one."""
    *_, cut, over = views_of("diagonal-overlay-top", "Neck under")
    under, upper = cut.layers
    joined, beside = cut.stitched
    folded = upper.points[upper.points[:, 0] > beside[0, 0] - 1.0]
    assert beside[:, 1].min() < under.points[:, 1].min() + 5.0
    assert folded[:, 1].min() < beside[:, 1].max() < folded[:, 1].max()
    assert beside[:, 1].min() < joined[:, 1].min()  # the seam itself joins the two folds alone
    assert not over.stitched  # it lies within the edge


def told_of(design: str, title: str) -> str:
    """The sentences of a design's step."""
    return " ".join(next(step.said.sentences for step, _ in steps_with_views(design) if step.said.title == title))


def test_an_elastic_lies_on_the_layer_that_is_turned_up_from_side_seam_to_side_seam() -> None:
    """It is laid on the bodice's wrong side: the plies are pinned with the skirt on top, so both are turned over."""
    said = told_of("half-circle-dress", "Front waist seam, bodice to skirt")
    assert said.index("Turn both over") < said.index("Cut clear elastic") < said.index("Sew with the bodice on top")
    assert "from the stitching line of the one side seam to that of the other" in said
    shown = next(each for each in views_of("half-circle-dress", "Front waist seam, bodice to skirt") if each.laid
                 and any(layer.hatched for layer in each.layers))  # fmt: skip
    under, upper, elastic = shown.layers
    assert (under.wrong, upper.wrong, elastic.shift) == (False, True, upper.shift)
    across = [np.ptp(points[:, 0]) for points in (elastic.points, shown.stitched[0])]
    assert across[0] == pytest.approx(across[1] - 2.0 * RAW, abs=1.0)


def test_what_is_sewn_at_a_closed_opening_is_told_as_a_tube_and_its_facing_juts_out() -> None:
    """The waist of a dress whose sides are sewn lies round; a facing's ends lie free beyond the opening's folds."""
    over, *waist = views_of("waist-seam-dress", "Waist seam, bodice to skirt")
    bodice, skirt = over.layers
    assert (skirt.wrong, len(over.arrows)) == (True, 1)  # it hides the bodice, of which the outline is dotted
    assert (np.concatenate(over.hidden).max(axis=0) < skirt.points.max(axis=0)).all()
    assert np.ptp(bodice.points[:, 1]) < np.ptp(skirt.points[:, 1])
    assert all(DRAWN_OPEN in view.title for view in waist)
    assert "Slip the skirt over the bodice" in told_of("waist-seam-dress", "Waist seam, bodice to skirt")
    laid = views_of("waist-seam-dress", "Neck facing, sewn on")[0]
    assert len(laid.stops) == 2
    pieces = [layer for layer in laid.layers if not layer.wrong]
    for stop in laid.stops:
        facing = next(layer for layer in laid.layers if layer.wrong and are_inside(stop, layer.points)[0])
        beyond = facing.points[[not any(are_inside(p[None], each.points)[0] for each in pieces) for p in facing.points]]
        assert np.hypot(*(beyond - stop).T).min() < 4.0 * RAW


def test_only_an_edge_that_drops_is_levelled_anew() -> None:
    """The sleeves' hem keeps the paper's fold line; a hook's step names the pieces at the neck alone."""
    hem = told_of("half-circle-dress", "Hem of the lower edge and sleeves")
    assert "level its lower edge." in hem
    assert "On the sleeves it does." in hem
    hook = next(step for step, _ in steps_with_views("waist-seam-dress") if step.said.title == "Hook and eye")
    assert not any("skirt" in each for each in hook.meets)


@pytest.mark.parametrize(
    ("design", "joined"), [("basic-tee", "BC"), ("half-circle-dress", "BE"), ("half-circle-dress", "BD")]
)
def test_what_is_sewn_on_already_goes_on_from_its_edge(design: str, joined: str) -> None:
    """A sleeve lies beyond its armhole and a skirt below its waist, all along that edge, no cloth wanting between."""
    laid = views_of(design, "Side and underarm")[0]
    one, two = (next(layer.points for layer in laid.layers if layer.wrong and layer.letter == each) for each in joined)
    assert not are_inside(two.mean(axis=0)[None], one)[0]
    edge = sample_courses([np.concatenate([one, one[:1]])])
    shared = two[np.hypot(*(edge[None] - two[:, None]).transpose(2, 0, 1)).min(axis=1) < 0.5]
    assert np.hypot(*np.ptp(shared, axis=0)) > 150.0


def test_no_gap_lies_between_pieces_whose_side_seam_is_sewn() -> None:
    """Beside a hem: their hips are round, and drawn flat they would part above it."""
    hem = views_of("princess-top", "Hem")[0]
    one, two = (layer.points for layer in hem.layers if layer.letter and not layer.strip)
    edge = sample_courses([np.concatenate([one, one[:1]])])
    shared = two[np.hypot(*(edge[None] - two[:, None]).transpose(2, 0, 1)).min(axis=1) < 0.5]
    assert np.ptp(shared[:, 1]) > 150.0


def test_a_piece_that_opens_out_is_shown_whole_and_said_to() -> None:
    """A front clipped for its panel is bent along that edge: cut off it would be known as no front."""
    laid = views_of("princess-top", "Front panel seam")[0]
    assert "B opened out along the edge" in laid.title
    framed = frame_view(laid)
    every = np.concatenate([layer.points for layer in laid.layers])
    assert (framed.low <= every.min(axis=0)).all()
    assert (framed.low + framed.across >= every.max(axis=0)).all()
