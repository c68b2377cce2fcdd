"""Each piece and each seam has its place on the flat, and can be pointed out there."""

from __future__ import annotations

import pytest

from drafting.flat import FlatKind, find_piece, find_seam, mark_flat
from drafting.garment import Role
from tests.flat.drawn import flats_of
from tests.laws.jobs import catalogue


@pytest.mark.parametrize("design", sorted(catalogue().designs))
def test_every_piece_and_every_seam_can_be_pointed_out(design: str) -> None:
    """Each seam between pieces lies somewhere on a view, each piece's area is toned or, unseen, its seams are bold."""
    garment, views = flats_of(design)
    ends = {Role.END, Role.EDGE, Role.BAND}
    for seam in garment.seams:
        if not {garment.line(use).role for use in seam.uses()} <= ends and "facing" not in seam.kind.name:
            assert any(find_seam(view, seam) for view in views), seam.name
    for piece in garment.pieces:
        marked = [shape.kind for view in mark_flat(views, garment, [piece.name]) for shape in view.shapes]
        assert (FlatKind.MARKED_AREA in marked) is any(find_piece(view, piece.name) for view in views)
        assert FlatKind.MARKED_AREA in marked or FlatKind.MARKED in marked, piece.name


def test_a_piece_is_pointed_out_on_the_side_where_it_lies() -> None:
    """The left sleeve at the viewer's right in front, at the left behind; the front in front only."""
    _, (front, back) = flats_of("knit-top")
    (left,), (behind,) = (find_piece(view, "sleeve-left") for view in (front, back))
    assert left.points[:, 0].min() > 0.0 > behind.points[:, 0].max()
    assert find_piece(front, "front")
    assert not find_piece(back, "front")


def test_a_seam_is_drawn_over_all_that_hides_it() -> None:
    """The shoulder that an overlay covers is bold on top of it, and dotted; one that is seen is drawn in one."""
    garment, views = flats_of("diagonal-overlay-top")
    shoulder = next(seam for seam in garment.seams if seam.name == "shoulder-right")
    front, _ = mark_flat(views, garment, seams=[shoulder])
    assert front.shapes[-1].kind is FlatKind.MARKED
    assert sum(shape.kind is FlatKind.MARKED for shape in views[0].shapes) == 0
    assert sum(shape.kind is FlatKind.MARKED for shape in front.shapes) > len(find_seam(views[0], shoulder))
    garment, views = flats_of("knit-top")
    shoulder = next(seam for seam in garment.seams if seam.name == "shoulder-right")
    front, _ = mark_flat(views, garment, seams=[shoulder])
    assert sum(shape.kind is FlatKind.MARKED for shape in front.shapes) == len(find_seam(views[0], shoulder))


def test_an_armhole_that_only_its_band_touches_is_drawn_in_one() -> None:
    """A band lies beside its seam, however hollow that is, and not over it."""
    garment, views = flats_of("tank-top")
    bands = [seam for seam in garment.seams if seam.name in ("armhole-band-left", "armhole-band-right")]
    for view, marked in zip(views, mark_flat(views, garment, seams=bands), strict=True):
        bold = sum(shape.kind is FlatKind.MARKED for shape in marked.shapes)
        assert bold == sum(len(find_seam(view, seam)) for seam in bands) > 0
