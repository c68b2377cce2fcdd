"""Buttons of a closure: where they lie, which edge has the holes, and how they reach paper and the order of work."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.bodice import draft_knit_bodice
from blocks.darted_bodice import draft_darted_bodice
from drafting.errors import CannotDraft
from drafting.finishing import CutPiece, finish
from drafting.finishing.plan import FinishPlan
from drafting.garment import Garment
from drafting.garment.closure import buttonholes, buttons
from drafting.geometry import Path, Point
from drafting.output import PrintInfo, draw_sheet
from drafting.output.pictures import symbols
from drafting.paper import PaperPlan, paper_named, plan_sheet
from drafting.proof import Finding, prove
from drafting.redraw.buttons import BELOW_EDGE, BUTTON_THICKNESS, LAST_BUTTON, Buttons, space_buttons
from drafting.redraw.closing import NARROWEST_STAND, PAST_HOLES
from drafting.saying import render
from drafting.tolerance import TOLERANCE
from drafting.work.sewing import steps_of_work
from tests.booklet.test_booklet import steps_with_views
from tests.booklet.test_step_pictures import SIDE_BUTTONED
from tests.skirts.dressed import JERSEY, Plan, errors, skirt

BACK = {"kind": "buttons", "length": 390.0}


def bodice(body: str = "soprano", **options: object) -> Garment:
    """A fitted bodice buttoned down the back."""
    return skirt([("closure", {**BACK, **options})], body, onto=[(draft_darted_bodice, {})])[0]


def marked(garment: Garment) -> tuple[dict[str, dict[str, Point]], dict[str, dict[str, Path]]]:
    """The buttons and the buttonholes of each piece that has some."""
    sewn = {p.name: dict(buttons(p.drills)) for p in garment.pieces if buttons(p.drills)}
    holed = {p.name: dict(buttonholes(p.drills)) for p in garment.pieces if buttonholes(p.drills)}
    return sewn, holed


@pytest.mark.parametrize(
    ("body", "over", "top"),
    [("soprano", "usual", "right"), ("bass", "usual", "left"), ("soprano", "left", "left"), ("bass", "right", "right")],
)
def test_women_button_right_over_left_and_men_left_over_right(body: str, over: str, top: str) -> None:
    """Common practice, and as asked where it is asked otherwise."""
    sewn, holed = marked(bodice(body, over=over))
    assert list(holed) == [f"back-{top}"]
    assert list(sewn) == [f"back-{'left' if top == 'right' else 'right'}"]


@pytest.mark.parametrize("body", ["soprano", "alto", "bass"])
def test_buttons_lie_opposite_their_holes_on_the_centre_line(body: str) -> None:
    """The first 6 mm and half a button below the neck, one at the bust, the rest as far apart (common practice)."""
    garment = bodice(body, button=15.0, apart=70.0)
    sewn, holed = marked(garment)
    (places,), (holes,) = sewn.values(), holed.values()
    points = list(places.values())
    neck = max(max(ln.path.bounds[3] for ln in p.ring if abs(ln.path.bounds[0]) < 1.0) for p in garment.pieces
               if p.name in sewn)  # fmt: skip
    assert points[0].y < neck
    assert garment.fact("button_first") == pytest.approx(7.5 + BELOW_EDGE)
    line = garment.path(garment.seam("closure-back-a").plies[0][0])
    assert line.at(garment.fact("button_first")).y == pytest.approx(points[0].y)
    steps = [a.distance(b) for a, b in pairwise(points)]
    assert steps == pytest.approx([garment.fact("button_spacing")] * len(steps), abs=1e-6)
    bust = next(v.path.start.y for p in garment.pieces if p.name in sewn for v in p.levels if v.name == "bust")
    assert min(abs(p.y - bust) for p in points) < 1e-6
    for (name, at), hole in zip(places.items(), holes.values(), strict=True):
        assert hole.length == pytest.approx(15.0 + BUTTON_THICKNESS)
        centre = Point(-at.x, at.y)
        assert centre.distance(hole.start) == pytest.approx(BUTTON_THICKNESS)
        assert hole.nearest(centre)[1] < 1e-9
        assert name.startswith("button-")


def test_holes_along_the_edge_lie_on_the_centre_line() -> None:
    """From 3 mm above the button down."""
    _, holed = marked(bodice(buttonholes="along"))
    for hole in holed["back-right"].values():
        assert abs(hole.start.x) < 1e-9
        assert abs(hole.end.x) < 1e-9
        assert hole.start.y - hole.end.y == pytest.approx(15.0)


@pytest.mark.parametrize("place", ["left", "right"])
def test_at_a_side_the_front_lies_over_the_back(place: str) -> None:
    """Through the waist seam of a dress, numbered from the top (common practice)."""
    steps: list[Plan | str] = ["skirt", "waist-seam", ("closure", {"kind": "buttons", "place": place})]
    garment, b = skirt(steps, cloth=JERSEY, onto=[(draft_knit_bodice, {})])
    sewn, holed = marked(garment)
    assert set(holed) == {"front", "skirt-front"}
    assert set(sewn) == {"back", "skirt-back"}
    numbers = [name for names in (sewn["back"], sewn["skirt-back"]) for name in names]
    assert numbers == [f"button-{n}" for n in range(1, int(garment.fact("buttons")) + 1)]
    assert not errors(garment, b)


@settings(deadline=None, derandomize=True, max_examples=200)
@given(
    st.floats(60.0, 700.0), st.floats(6.0, 40.0), st.floats(25.0, 150.0), st.one_of(st.none(), st.floats(0.0, 700.0))
)
def test_any_row_is_even_and_keeps_to_its_ends(length: float, wide: float, apart: float, bust: float | None) -> None:
    """And one lies at the bust wherever there is room to set one there without crowding."""
    row = Buttons(wide, apart, across=True)
    places = space_buttons(row, length, bust)
    last = length - max(wide, LAST_BUTTON)
    if not places:
        assert last < row.first
        return
    assert places[0] == pytest.approx(row.first)
    assert places[-1] <= last + 1e-6
    steps = [b - a for a, b in pairwise(places)]
    assert all(step == pytest.approx(steps[0]) for step in steps)
    assert all(0.49 * apart <= step <= 1.51 * apart for step in steps)
    if bust is not None and row.first + 0.6 * apart <= bust <= last:
        assert min(abs(s - bust) for s in places) < 1e-6


def test_what_cannot_be_is_refused_with_the_mend() -> None:
    """No room for one button; an edge that isn't there."""
    with pytest.raises(CannotDraft) as refused:
        skirt([("skirt", {}), ("closure", {"kind": "buttons", "place": "left", "length": 60.0, "button": 40.0})])
    assert refused.value.short_by == pytest.approx(20.0 + BELOW_EDGE + 40.0 - 60.0)
    with pytest.raises(CannotDraft, match="no front one"):
        bodice(over="front")
    with pytest.raises(CannotDraft, match="no left one"):
        skirt([("skirt", {}), ("closure", {"kind": "buttons", "place": "left", "over": "left"})])


def test_a_zip_has_no_buttons() -> None:
    """Nothing is marked, whatever is asked of buttons."""
    garment = bodice(kind="zip", button=20.0)
    assert marked(garment) == ({}, {})
    assert not any("button" in fact.name for fact in garment.facts)


def cut(garment: Garment) -> dict[str, CutPiece]:
    """The pieces ready to cut."""
    return {piece.name: piece for piece in finish(garment, FinishPlan())}


def closing(garment: Garment) -> dict[str, str]:
    """The line of each piece that a stand is folded beside."""
    return {use.piece: use.line for seam in garment.seams if seam.kind.lapped for use in seam.plies[0]}


def test_the_cut_pieces_show_buttons_as_points_and_holes_as_lines() -> None:
    """The two backs differ, so each is printed; holes end within the stand and within what is turned back of it."""
    garment = bodice(button=20.0)
    pieces = cut(garment)
    holes = [mark for mark in pieces["back-right"].marks if mark.kind == "buttonhole"]
    assert len(holes) == int(garment.fact("buttons"))
    assert not any("buttonhole" in name for piece in pieces.values() for name, _ in piece.drills)
    assert [name for name, _ in pieces["back-left"].drills if name.startswith("button-")] == [
        f"button-{n}" for n in range(1, len(holes) + 1)
    ]
    (fold,) = {mark.path.start.x for mark in pieces["back-right"].marks if mark.name in closing(garment).values()
               and mark.kind == "fold"}  # fmt: skip
    assert fold < -20.0 / 2.0 - BELOW_EDGE
    neatened = min(edge.path.bounds[0] for edge in pieces["back-right"].outline)
    assert 2.0 * fold - neatened == pytest.approx(20.0 + PAST_HOLES)  # folded back, it reaches past the holes
    assert all(fold < mark.path.start.x < mark.path.end.x <= 20.0 + TOLERANCE.joint for mark in holes)


def test_a_print_says_how_many_buttons_there_are_and_how_far_apart() -> None:
    """In its label, and at the first; where the opening ends the notch says so, not its number alone."""
    pieces = cut(bodice())
    spots = [at for name, at in pieces["back-left"].drills if name.startswith("button-")]
    told = f"{len(spots)} buttons, {spots[0].distance(spots[1]) / 10.0:.1f} cm apart"
    assert told in pieces["back-left"].labels
    assert told.replace("buttons", "buttonholes") in pieces["back-right"].labels
    ink = draw_sheet(plan_sheet(tuple(pieces.values()), PaperPlan(paper_named("A4"))), PrintInfo("", "", "")).pieces
    (drawn,) = (each for each in ink if each.name == "back-left")
    said = [text.text for text in drawn.texts if text.kind in ("drill", "notch")]
    assert f"{len(spots)} buttons" in said
    assert "button 1" not in said
    assert any(words[0].isdigit() and "opening end" in words for words in said), said
    for piece in pieces.values():  # the stand goes on there, on all sides: a snip would cut into what shows
        for notch in piece.notches:
            assert (notch.count == 0) == (notch.name == "opening end")
            assert notch.count or notch.at == notch.on_stitch


def test_a_buttonhole_is_drawn_with_a_bar_across_each_end() -> None:
    """Common practice; its bars stand 2 mm out on either side."""
    mark = next(m for m in cut(bodice())["back-right"].marks if m.kind == "buttonhole")
    (stroke,) = symbols.buttonhole(mark)
    assert stroke.style.kind == "buttonhole"
    assert len(stroke.segments) == 3
    tips = stroke.segments[1:, (0, 3)].reshape(-1, 2)
    ends = (mark.path.start, mark.path.end)
    assert all(min(math.dist(tip, (p.x, p.y)) for p in ends) == pytest.approx(2.0) for tip in tips.tolist())


def test_the_order_of_work_ends_with_buttonholes_and_buttons() -> None:
    """After all seams and hems, with how many, how long, where, and the caution for the blade."""
    garment, b = skirt([("closure", BACK)], onto=[(draft_darted_bodice, {})])
    order = [str(step) for step in steps_of_work(prove(garment, b).order, garment, "cm")]
    for words in ("5 buttonholes, 1.5 cm long", "right back", "lies on top", "5 buttons, 1.2 cm", "left back", "blade"):
        assert words in order[-1]
    assert any("Stitch its upper end. Stitch across its lower end, level with the point" in line for line in order)
    assert "Stitch across the lapped lower ends, through all layers" in order[-1]
    assert any("each stand, and the short edge across its lower end." in line for line in order)
    assert any("through both layers, from the lower corner at the fold to the last stitch" in line for line in order)
    zipped, b = skirt([("closure", {"length": 390.0})], onto=[(draft_darted_bodice, {})])
    assert not any("utton" in str(step) for step in steps_of_work(prove(zipped, b).order, zipped, "cm"))


def test_a_faced_neck_is_sewn_in_one_go_with_the_stands_folded_over_the_facing() -> None:
    """So no end of a stand is turned before the facing goes on, and nothing has to be clipped at the centre."""
    faced = [("facing", {"opening": "neck"})]
    garment, b = skirt([("closure", BACK), *faced], onto=[(draft_darted_bodice, {})])
    order = [str(step) for step in steps_of_work(prove(garment, b).order, garment, "cm")]
    stands, sewn = (next(line for line in order if words in line) for words in ("Opening at", "facing, sewn on"))
    assert "Leave its upper end open" in stands
    assert "upper end." not in stands
    assert 0 < sewn.index("Fold each stand") < sewn.index("Sew it on") < sewn.index("through the stands too")


def test_a_placket_in_a_side_seam_has_both_its_ends_stitched_across() -> None:
    """Also where a bust dart parts its edge from the seam above."""
    order = [str(step) for step, _ in steps_with_views("waist-seam-dress", SIDE_BUTTONED)]
    (stands,) = [line for line in order if line.startswith("Opening in")]
    assert "Stitch across both its ends" in stands
    assert "upper end" not in stands


def test_a_stand_too_narrow_for_the_buttons_is_warned_of() -> None:
    """It holds half a button and 6 mm, and is turned back past the holes; the mend says what to ask for."""
    garment, b = skirt([("closure", {**BACK, "button": 30.0})], onto=[(draft_darted_bodice, {})])

    def told(code: str, **asked: float) -> list[Finding]:
        pieces = finish(garment, FinishPlan(allowances={f"button-{name}": each for name, each in asked.items()}))
        return [f for f in prove(garment, b, pieces).findings if f.code == code]

    assert told("closures.stand_back") == told("closures.stand") == told("closures.stand", closure=42.0) == []
    found = (*told("closures.stand", closure=39.0), *told("closures.stand_back", closure=95.0))
    assert [f.place for f in found] == ["back-left", "back-right", "back-right"]
    assert all(f.severity == "warning" and "9.6 cm" in render(f.remedy, "cm") for f in found if "right" in f.place)


def test_the_stand_has_its_fold_line() -> None:
    """A button's width, 1.5 cm at least, beyond the line the buttons lie on; on both edges, as long as the opening."""
    garment = bodice()
    lines = closing(garment)
    for cut in finish(garment, FinishPlan()):
        for piece in set(cut.stands_for) & set(lines):
            edge = garment.piece(piece).line(lines[piece]).path
            (fold,) = [mark for mark in cut.marks if mark.kind == "fold" and mark.name == lines[piece]]
            assert fold.path.length == pytest.approx(edge.length, abs=0.1)
            assert abs(fold.path.start.x - edge.start.x) == pytest.approx(NARROWEST_STAND, abs=0.1)
