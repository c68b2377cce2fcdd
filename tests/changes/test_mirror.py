"""The whole garment mirrored."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.asymmetric_overlay import draft_asymmetric_overlay
from blocks.band import draft_armhole_bands, draft_hem_band, draft_neck_band
from blocks.cuff import draft_shaped_cuffs
from drafting.changes.design.hem import shape_hem
from drafting.changes.design.mirror import mirror_garment, mirror_whole
from drafting.changes.design.vents import open_vents
from drafting.changes.sleeve.length import change_sleeve_length
from drafting.changes.sleeve.sleeveless import take_off_sleeves
from drafting.garment import Garment, Line
from drafting.proof import prove
from drafting.saying import render
from drafting.sides import swap_sides
from drafting.work import make_up
from tests.garments import BODY, SLEEVED, TOP, brief, build

FEW = settings(max_examples=8, derandomize=True, deadline=None)

EDGES: list[Any] = [
    (draft_neck_band, {}),
    (draft_hem_band, {}),
    (draft_shaped_cuffs, {}),
    (draft_armhole_bands, {"arm": "left"}),
]
ONE_SIDED: tuple[Any, ...] = (
    (),
    ((take_off_sleeves, {"side": "left"}), *EDGES),
    ((change_sleeve_length, {"to": "short", "side": "right"}), (shape_hem, {"higher": "left"})),
    ((open_vents, {"side": "left"}),),
)


@FEW
@given(changes=st.sampled_from(ONE_SIDED), voice=st.sampled_from(["soprano", "bass"]))
def test_mirrored_twice_is_itself(changes: Any, voice: str) -> None:
    """Exactly: names, order, ring starts, numbers."""
    garment = build(brief(voice), SLEEVED, changes)
    assert mirror_whole(mirror_whole(garment)) == garment


@pytest.mark.parametrize("base", [BODY, SLEEVED], ids=["body", "sleeved"])
def test_a_symmetric_garment_is_its_own_image(base: Any) -> None:
    """Pieces, their lines in ring order, seams in order: all as they were."""
    garment = build(brief(), base)
    image = mirror_whole(garment)
    assert [p.name for p in image.pieces] == [p.name for p in garment.pieces]
    for piece in garment.pieces:
        assert [ln.name for ln in image.piece(piece.name).ring] == [ln.name for ln in piece.ring]
        for line in piece.ring:
            assert image.piece(piece.name).line(line.name).path.same_as(line.path, 1e-9)
    for seam, other in zip(garment.seams, image.seams, strict=True):
        assert (other.name, other.title, other.plies) == (seam.name, seam.title, seam.plies)
        assert other.ease == pytest.approx(seam.ease, abs=1e-9)
    assert image.openings == garment.openings
    assert {f.name: f.value for f in image.facts} == pytest.approx({f.name: f.value for f in garment.facts})


def test_one_sided_changes_mirrored_are_the_other_sides_changes() -> None:
    """Shape for shape and name for name."""
    b = brief()

    def one(side: str) -> Garment:
        return build(b, SLEEVED, [(change_sleeve_length, {"to": "elbow", "side": side}), (open_vents, {"side": side})])

    image, drafted = mirror_whole(one("left")), one("right")
    assert {p.name for p in image.pieces} == {p.name for p in drafted.pieces}
    for piece in drafted.pieces:
        assert [ln.name for ln in image.piece(piece.name).ring] == [ln.name for ln in piece.ring]
        for line in piece.ring:
            other = image.piece(piece.name).line(line.name)
            assert other.path.same_as(line.path, 1e-6)
            assert (other.side, other.opening, other.fate, other.ancestry) == (
                line.side, line.opening, line.fate, line.ancestry,
            )  # fmt: skip
    assert {a.measure: a.ease for a in image.aims} == pytest.approx({a.measure: a.ease for a in drafted.aims})


@pytest.mark.parametrize("changes", ONE_SIDED[1:3], ids=["sleeveless", "short and slanted"])
def test_an_image_proves_as_well(changes: Any) -> None:
    """Handedness, seams, joins, openings; and the work is done in the mirrored order."""
    b = brief()
    plain, image = build(b, SLEEVED, changes), build(b, SLEEVED, changes, [(mirror_garment, {})])
    proof = prove(image, b)
    assert proof.passed, [render(f.sentence, "cm") for f in proof.findings]
    assert {swap_sides(task.seam) for task in make_up(plain)} == {task.seam for task in make_up(image)}
    before = {swap_sides(t.seam): {swap_sides(n) for n in t.before} for t in make_up(plain)}
    assert before == {t.seam: set(t.before) for t in make_up(image)}


def test_the_whole_top_proves_mirror_whole() -> None:
    """With its bands and cuffs; areas and lengths stay."""
    b = brief()
    plain, image = build(b, TOP), build(b, TOP, [(mirror_garment, {})])
    assert prove(image, b).passed
    for piece in plain.pieces:
        twin = image.piece(swap_sides(piece.name))
        assert twin.outline.area == pytest.approx(piece.outline.area)
        assert twin.outline.length == pytest.approx(piece.outline.length)


def test_the_overlay_of_one_side_mirrored_is_the_overlay_of_the_other() -> None:
    """Piece for piece, outlines and sides of lines, against the block drafting the other side itself."""
    b = brief()
    one, two = (build(b, BODY, [(draft_asymmetric_overlay, {"side": side})]) for side in ("left", "right"))
    image = mirror_whole(one)
    assert mirror_whole(image) == one
    assert {p.name for p in image.pieces} == {p.name for p in two.pieces}
    assert {seam.name for seam in image.seams} == {seam.name for seam in two.seams}
    for piece in two.pieces:
        twin = image.piece(piece.name)
        assert (twin.title, twin.side, twin.face) == (piece.title, piece.side, piece.face)
        if piece.face:
            assert sorted(_told(line) for line in twin.ring) == sorted(_told(line) for line in piece.ring)


def _told(line: Line) -> tuple[Any, ...]:
    """Where a line runs, to a thousandth, and what it is; its parts are numbered in ring order, so not its name."""
    ends = (*line.path.start, *line.path.end, line.path.length)
    return (*(round(x, 3) + 0.0 for x in ends), line.role, line.side, line.fate, line.opening)


def test_only_the_word_for_a_side_changes_in_names() -> None:
    """Wherever it stands by itself."""
    assert swap_sides("sleeve-left/upper") == "sleeve-right/upper"
    assert swap_sides("cap_ease_right") == "cap_ease_left"
    assert swap_sides("bright-leftover") == "bright-leftover"
