"""Balance marks: once on the seam, at the same measure in every ply."""

from __future__ import annotations

import pytest

from blocks.darted_bodice import draft_darted_bodice
from blocks.skirt import draft_straight_skirt
from blocks.waistband import draft_waistband
from drafting.changes.design.closure import open_closure
from drafting.changes.design.vents import open_vents
from drafting.cloth import Cloth, Kind
from drafting.garment import Balance, Garment, Role, Use, balance_marks
from tests.garment.small import seam, sheet, tube
from tests.garments import TOP, Planned, brief, build


def marks(garment: Garment, name: str) -> list[Balance]:
    """The marks of one seam."""
    return [mark for mark in balance_marks(garment) if mark.seam == name]


def along(garment: Garment, mark: Balance, ply: int) -> float:
    """How far along its seam's run (mm) a mark stands on a ply."""
    section = next(s for s in garment.seams if s.name == mark.seam).sections[mark.section]
    run, (use, s) = section.plies[ply], next((u, s) for u, s in mark.at if u in section.plies[ply])
    before = sum(garment.line(u).path.length for u in run[: run.index(use)])
    return before + (garment.line(use).path.length - s if use.against else s)


def test_a_long_plain_seam_is_marked_off_the_middle() -> None:
    """So that a ply can't be sewn on end for end; at the same measure on both."""
    garment = tube()
    (mark,) = marks(garment, "left")
    places = {use.piece: s for use, s in mark.at}
    assert places["front"] + places["back"] == pytest.approx(200.0)
    assert places["front"] != pytest.approx(100.0, abs=5.0)


def test_a_short_plain_seam_needs_no_mark() -> None:
    """Its ends are marks enough."""
    garment = Garment((sheet("a", 300.0, 100.0), sheet("b", 300.0, 100.0)), (seam("s", ("a.right", "-b.left")),))
    assert not balance_marks(garment)


def test_a_seam_of_one_ply_is_a_mark_on_the_other() -> None:
    """Where two panels meet, the yoke has a notch; the panels don't, their seam shows the place."""
    garment = Garment(
        (sheet("yoke", 200.0), sheet("one", 100.0), sheet("two", 100.0)),
        (
            seam("panels", ("one.right", "-two.left")),
            seam("yoke", ("yoke.low", "-one.top -two.top"), kind="style"),
        ),
    )
    (mark,) = marks(garment, "yoke")
    assert mark.at == ((Use("yoke", "low"), pytest.approx(100.0)),)


def test_ends_of_bands_have_none() -> None:
    """They are as short as an allowance."""
    garment = build(brief(), TOP)
    assert not marks(garment, "neck-band-end")


def test_one_mark_for_front_edges_and_two_for_back_edges() -> None:
    """Single notch front, double notch back: Intro to Apparel Production Workbook, Univ. of Arkansas, chapter 8."""
    garment = build(brief(), TOP)
    for mark in marks(garment, "armhole-left"):
        faces = {garment.line(use).face for use, _ in mark.at}
        if len(mark.at) == 2:
            assert mark.count == (2 if faces == {"back"} else 1)
    assert {mark.count for mark in marks(garment, "armhole-left")} == {1, 2}


def test_a_mark_stands_at_the_same_share_of_every_ply() -> None:
    """On the armhole as far from the underarm as on the cap, but for the ease."""
    garment = build(brief(), TOP)
    for mark in marks(garment, "armhole-left") + marks(garment, "armhole-right"):
        if len(mark.at) == 2:
            section = garment.seam(mark.seam).sections[mark.section]
            body, cap = (along(garment, mark, i) / garment.run_length(section.plies[i]) for i in (0, 1))
            assert body == pytest.approx(cap, abs=1e-6)


def test_the_sleeve_has_a_mark_for_the_shoulder() -> None:
    """Sleeve: central notch to the shoulder (a sewing article of 2024); at the cap's top, between its two halves."""
    garment = build(brief(), TOP)
    sleeve = garment.piece("sleeve-left")
    top = max(p.y for line in sleeve.ring for p in (line.path.start, line.path.end))
    at = [
        sleeve.line(use.line).path.at(s)
        for mark in marks(garment, "armhole-left")
        for use, s in mark.at
        if use.piece == "sleeve-left"
    ]
    assert any(abs(p.y - top) < 1e-6 for p in at)


def test_marks_lie_on_their_lines() -> None:
    """Never beyond an end."""
    garment = build(brief("bass"), TOP)
    for mark in balance_marks(garment):
        for use, s in mark.at:
            assert -1e-6 <= s <= garment.line(use).path.length + 1e-6


@pytest.mark.parametrize("plan", [[(draft_straight_skirt, {})], [(draft_darted_bodice, {"to": "hip"})]])
def test_a_side_seam_is_marked_at_waist_and_hip_level(plan: list[Planned]) -> None:
    """Not off its middle: where the levels of the body end on it, at the same height on front and back."""
    garment = build(brief("soprano", cloth=Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0)), plan)
    sides = [s for s in garment.seams if all(garment.line(use).role is Role.SIDE for use in s.uses())]
    assert len(sides) == 2
    for side in sides:
        found = [mark for mark in marks(garment, side.name) if len(mark.at) == 2]  # one ply: where a dart meets it
        assert found
        for mark in found:
            heights = [garment.line(use).path.at(s).y for use, s in mark.at]
            levels = [
                lv.path.end.y for use, _ in mark.at for lv in garment.piece(use.piece).levels if lv.name != "bust"
            ]
            assert all(min(abs(y - level) for level in levels) < 2.0 for y in heights)


def test_a_seam_that_ends_on_an_edge_that_runs_on_is_marked_there() -> None:
    """The start of a waistband beside its underlap, and the upper end of a vent: nothing else shows the place."""
    cotton = brief("soprano", cloth=Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0))
    skirt = [(draft_straight_skirt, {}), (draft_waistband, {})]
    garment = build(cotton, skirt, [(open_closure, {}), (open_vents, {"side": "right", "height": 150.0})])
    assert any(use.line == "band" and s == 0.0 for mark in marks(garment, "waistband") for use, s in mark.at)
    (vent,) = [mark for mark in marks(garment, "skirt-side-right") if along(garment, mark, 0) < 1e-6]
    assert len(vent.at) == 2
