"""The centre: a seam from neck to hem, or a fold."""

from __future__ import annotations

import pytest

from drafting.changes.design.centre import seam_centre
from drafting.changes.design.style_line import draw_style_line
from drafting.errors import CannotDraft
from drafting.garment import Role, Side
from drafting.proof.proof import prove
from tests.garments import BODY, SINGERS, TOP, brief, build


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("face", ["front", "back", "both"])
def test_a_centre_seam_is_proved(face: str, voice: str) -> None:
    """The whole top, with sleeves and bands, whichever faces are parted."""
    garment = build(brief(voice), TOP, [(seam_centre, {"on": face})])
    assert prove(garment, brief(voice)).passed


def test_no_line_is_split_where_lines_meet_at_the_centre() -> None:
    """Neckline and hem meet there already: every old line goes over as it is."""
    whole = build(brief(), BODY)
    plain, made = whole.piece("back"), seam_centre.apply(whole, brief(), seam_centre.options(on="back"))
    left, right = made.piece("back-left"), made.piece("back-right")
    lines = [line for piece in (left, right) for line in piece.ring if line.role is not Role.CENTRE]
    assert {line.name for line in lines} == {line.name for line in plain.ring}
    assert all(line is plain.line(line.name) for line in lines)
    assert (left.side, right.side) == (Side.LEFT, Side.RIGHT)
    assert left.outline.bounds[2] == pytest.approx(0.0, abs=1e-9)  # seen from outside, the back's left lies at -x
    assert left.outline.area == pytest.approx(plain.outline.area / 2.0)
    seam = made.seam("centre-back")
    assert [made.line(run[0]).role for run in seam.plies] == [Role.CENTRE, Role.CENTRE]


def test_each_piece_that_lies_across_the_centre_is_parted() -> None:
    """A yoke and what hangs from it get each their seam, which meet at the yoke's seam."""
    made = build(brief(), TOP, [(draw_style_line, {"curve": -0.1}), (seam_centre, {"on": "front"})])
    names = {"front-left", "front-right", "front-yoke-left", "front-yoke-right"}
    assert names <= {piece.name for piece in made.pieces}
    assert prove(made, brief()).passed


def test_lines_may_end_on_a_centre_seam() -> None:
    """A pointed yoke: from both armholes to one point of the centre seam."""
    point = {"start": "armhole 0.3", "end": "centre 0.25", "start_side": "both", "end_side": "same", "on": "front"}
    made = build(brief(), TOP, [(seam_centre, {"on": "front"}), (draw_style_line, point)])
    assert made.has_piece("front-left-yoke")
    assert made.has_piece("front-right-yoke")
    assert prove(made, brief()).passed


def test_a_second_seam_is_refused() -> None:
    """Nothing lies across the centre any more."""
    with pytest.raises(CannotDraft, match="no piece of the back"):
        build(brief(), BODY, [(seam_centre, {"on": "back"}), (seam_centre, {"on": "back"})])


def test_a_fold_is_told_and_changes_no_line() -> None:
    """A note on the piece, and a fact."""
    plain = build(brief(), TOP)
    made = build(brief(), TOP, [(seam_centre, {"kind": "fold", "on": "back"})])
    assert tuple(map(str, made.piece("back").notes)) == ("Centre back: on the fold",)
    assert [line.path for line in made.piece("back").ring] == [line.path for line in plain.piece("back").ring]
    assert made.fact("centre_back_fold") == 1.0
    assert prove(made, brief()).passed


def test_a_fold_on_a_piece_with_two_different_halves_is_refused() -> None:
    """With a panel on one side only, there is no fold."""
    panel = {"start": "shoulder 0.5", "end": "hem 0.5", "start_side": "left", "end_side": "same", "name": "panel"}
    with pytest.raises(CannotDraft, match="halves of the front differ"):
        build(brief(), BODY, [(draw_style_line, panel), (seam_centre, {"kind": "fold", "on": "front"})])
