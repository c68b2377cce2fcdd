"""Style lines: yokes, panels and diagonals, told by meaning, with everything that follows from a seam."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.bodice import draft_knit_bodice
from drafting.changes.design.style_line import draw_bow, draw_style_line, read_place
from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Role, Side, Use, balance_marks
from drafting.garment.places import lines_along, spot
from drafting.geometry import Point
from drafting.proof.proof import prove
from tests.garments import BODY, SINGERS, TOP, Planned, brief, build
from tests.kinds import kind as kind_of

LAW = settings(max_examples=15, derandomize=True, deadline=None)

YOKE = {"start": "armhole 0.4", "end": "armhole 0.4", "start_side": "left", "end_side": "right"}
PANEL = {"start": "shoulder 0.5", "end": "hem 0.5", "start_side": "both", "end_side": "same", "name": "panel"}
DIAGONAL = {"start": "shoulder 0.3", "end": "side 0.3", "start_side": "left", "end_side": "same", "name": "inset"}
DESIGNS = (YOKE, PANEL, DIAGONAL, YOKE | {"curve": -0.1}, PANEL | {"curve": 0.06, "on": "front"})


def styled(options: dict[str, Any], voice: str = "soprano", plan: tuple[Planned, ...] = BODY) -> Garment:
    """A knit top with one style line."""
    return build(brief(voice), plan, [(draw_style_line, options)])


def area(garment: Garment, face: Face) -> float:
    """The area of all pieces of a face."""
    return sum(piece.outline.area for piece in garment.pieces if piece.face is face)


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("options", DESIGNS, ids=lambda o: o.get("name", "yoke"))
def test_the_whole_top_is_proved(options: dict[str, Any], voice: str) -> None:
    """With sleeves, cuffs and bands drafted after the line: no error."""
    garment = styled(options, voice, TOP)
    assert prove(garment, brief(voice)).passed


@pytest.mark.parametrize("options", DESIGNS, ids=lambda o: o.get("name", "yoke"))
def test_area_and_levels_are_kept(options: dict[str, Any]) -> None:
    """What the parts cover together, and the girths that their levels add up to."""
    plain, made = build(brief(), BODY), styled(options)
    for face in (Face.FRONT, Face.BACK):
        assert area(made, face) == pytest.approx(area(plain, face), abs=1e-6)
    for name in ("bust", "waist", "hip", "across-front", "across-back"):
        one, two = (sum(lv.path.length for p in g.pieces for lv in p.levels if lv.name == name) for g in (plain, made))
        assert two == pytest.approx(one, abs=1e-6)


def test_a_yoke_is_named_and_shared_by_meaning() -> None:
    """The part without the hem is the yoke; its line leaves each armhole at 40 % from the shoulder."""
    made = styled(YOKE)
    assert sorted(p.name for p in made.pieces) == sorted(["front-yoke", "front", "back", "back-yoke"])
    assert str(made.piece("front-yoke").title) == "Front yoke"
    assert made.piece("front").lines(role=Role.HEM)
    assert not made.piece("front-yoke").lines(role=Role.HEM)
    whole = build(brief(), BODY)
    for face in ("front", "back"):
        for side in ("left", "right"):
            upper = made.piece(f"{face}-yoke").lines(f"armhole-{side}")[0]
            assert upper.path.length == pytest.approx(0.4 * whole.piece(face).line(f"armhole-{side}").path.length)
    assert made.seam("yoke-front").kind == kind_of("style")


def test_a_yoke_is_as_symmetric_as_the_top() -> None:
    """Each line of the yoke is the mirror image of another."""
    yoke = styled(YOKE | {"curve": -0.1}).piece("front-yoke")
    images = [line.path.mirrored().reversed() for line in yoke.ring]
    assert all(any(line.path.same_as(image, 1e-6) for image in images) for line in yoke.ring)


def test_panels_on_both_sides_have_sides() -> None:
    """A left and a right panel, each on the wearer's own side: on a front the left lies at +x."""
    made = styled(PANEL)
    for face, sign in (("front", 1.0), ("back", -1.0)):
        for side, way in ((Side.LEFT, sign), (Side.RIGHT, -sign)):
            panel = made.piece(f"{face}-panel-{side}")
            assert panel.side is side
            assert str(panel.title) == f"{side.capitalize()} {face} panel"
            assert way * sum(panel.outline.bounds[::2]) > 0.0
    left, right = (made.piece(f"front-panel-{side}").outline.area for side in ("left", "right"))
    assert left == pytest.approx(right, abs=1e-6)


def test_lines_on_both_faces_meet_at_the_side_seam() -> None:
    """Both are 30 % down from the underarm, so the two style seams end at one point of the side seam."""
    made = styled(DIAGONAL)
    front, back = made.seam("side-left").plies
    for run in (front, back):
        assert len({use.piece for use in run}) == 2
    ends = [made.run_length(run[:1]) for run in (front, back)]
    assert ends[0] == pytest.approx(ends[1], abs=1e-6)


def test_the_new_seam_is_marked_on_both_edges() -> None:
    """A long panel seam gets a balance mark at the same share of both plies, without being told."""
    made = styled(PANEL)
    marks = [mark for mark in balance_marks(made) if mark.seam == "panel-left-front"]
    assert marks
    for mark in marks:
        places = [made.path(Use(use.piece, use.line)).at(s) for use, s in mark.at]
        assert places[0].near(places[1], 1e-6)


def test_one_side_leaves_the_other_as_it_was() -> None:
    """A panel on the left: the right half's lines are the same objects."""
    plain = build(brief(), BODY)
    made = draw_style_line.apply(plain, brief(), draw_style_line.options(**PANEL | {"start_side": "left"}))
    for face in ("front", "back"):
        for line in plain.piece(face).lines(side=Side.RIGHT):
            assert any(found is line for piece in made.pieces for found in piece.ring)


@LAW
@given(st.floats(0.1, 0.9), st.floats(0.1, 0.9), st.floats(-0.1, 0.1), st.sampled_from(["left", "right"]))
def test_both_edges_of_the_seam_agree_and_nothing_is_lost(a: float, b: float, curve: float, side: str) -> None:
    """A panel from anywhere on a shoulder to anywhere on the hem is proved, or refused."""
    options = PANEL | {"start": f"shoulder {a:.4f}", "end": f"hem {b:.4f}", "curve": curve, "start_side": side}
    try:
        made = styled(options)
    except CannotDraft:  # a steep line may cut across the armhole
        return
    for face in ("front", "back"):
        (section,) = made.seam(f"panel-{side}-{face}").sections
        one, two = (made.run_length(run) for run in section.plies)
        assert one == pytest.approx(two, abs=1e-9)
        assert area(made, Face(face)) == pytest.approx(area(build(brief(), BODY), Face(face)), abs=1e-6)
    assert prove(made, brief()).passed


@LAW
@given(st.floats(0.35, 0.6), st.floats(0.3, 0.7))
def test_lines_in_different_places_commute(yoke: float, hem: float) -> None:
    """A yoke, and a seam across below the waist: the same pieces in either order."""
    one = (draw_style_line, YOKE | {"start": f"armhole {yoke:.4f}", "end": f"armhole {yoke:.4f}"})
    two = (draw_style_line, YOKE | {"start": f"side {hem:.4f}", "end": f"side {hem:.4f}", "name": "upper"})
    ab, ba = (build(brief(), BODY, order) for order in ((one, two), (two, one)))
    areas = [sorted(p.outline.area for p in garment.pieces) for garment in (ab, ba)]
    assert areas[0] == pytest.approx(areas[1], abs=1e-6)


def test_a_line_may_start_on_an_earlier_one() -> None:
    """A panel from the yoke's seam down to the hem."""
    first = (draw_style_line, YOKE | {"on": "front"})
    below = (draw_style_line, PANEL | {"start": "yoke 0.3", "on": "front", "start_side": "left"})
    made = build(brief(), TOP, [first, below])
    assert made.has_piece("front-panel-left")
    assert prove(made, brief()).passed


def test_shares_are_measured_in_their_stated_senses() -> None:
    """The shoulder from the neck, neckline and armhole from the shoulder, the side from the underarm, the hem from the
    centre: the first spot of each lies on what it is measured from, on both halves and both faces."""
    garment = build(brief(), BODY)
    for face in (Face.FRONT, Face.BACK):
        for side in (Side.LEFT, Side.RIGHT):
            piece = garment.piece(str(face))

            def ends(role: Role, face: Face = face, side: Side = side) -> tuple[Point, Point]:
                run = lines_along(garment, role, side, face)
                return spot(garment, run, 0.0).point(garment), spot(garment, run, 1.0).point(garment)

            assert ends(Role.SHOULDER)[0].near(ends(Role.NECKLINE)[0])
            assert ends(Role.SHOULDER)[1].near(ends(Role.ARMHOLE)[0])
            assert ends(Role.ARMHOLE)[1].near(ends(Role.SIDE)[0])
            assert ends(Role.SIDE)[1].near(ends(Role.HEM)[1])
            assert abs(ends(Role.HEM)[0].x) < 1e-9
            assert abs(ends(Role.NECKLINE)[1].x) < 1e-9
            assert piece.lines(role=Role.HEM, side=side)


@pytest.mark.parametrize(
    ("told", "place"),
    [
        ("shoulder 0.5", ("shoulder", 0.5)),
        ("Side 25 %", ("side", 0.25)),
        ("hem 1/3", ("hem", 1.0 / 3.0)),
        ("centre", ("centre", 0.0)),
        ("armhole .4", ("armhole", 0.4)),
    ],
)
def test_places_are_read(told: str, place: tuple[str, float]) -> None:
    """A share as a decimal, in per cent or as a fraction."""
    assert read_place(told, "start") == (place[0], pytest.approx(place[1]))


@pytest.mark.parametrize("told", ["", "shoulder", "shoulder half", "hem 3/0", "side 140 %", "hem 0.5.5", "hem 1.2"])
def test_places_that_cannot_be_read_are_refused(told: str) -> None:
    """With what may be written instead."""
    with pytest.raises(CannotDraft) as refusal:
        read_place(told, "start")
    assert refusal.value.help


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (YOKE | {"start": "neckline 0.1", "end": "neckline 0.1"}, "leaves it"),
        (YOKE | {"start": "sleeve 0.5"}, "has no left sleeve"),
        (YOKE | {"start": "shoulder 0", "end": "shoulder 1", "end_side": "same"}, "degrees"),
        (YOKE | {"start": "hem 0", "end": "hem 0", "end_side": "same"}, "starts where it ends"),
        (YOKE | {"name": "Top/1"}, "can't be called"),
        (YOKE | {"name": "hem"}, "can't be called"),
        (PANEL | {"end_side": "left"}, "both sides"),
        (PANEL | {"end_side": "other"}, "cross each other"),
        (YOKE | {"start": "centre 0.5"}, "no seam to measure along"),
        (YOKE | {"start": "hem 0.5", "end": "hem 0.9", "end_side": "same"}, "degrees"),
    ],
)
def test_refusals_say_what_stands_in_the_way(options: dict[str, Any], says: str) -> None:
    """In a sentence, never a broken outline."""
    with pytest.raises(CannotDraft, match=says):
        styled(options)


def test_a_place_beside_a_joint_is_the_joint() -> None:
    """A line that starts a hair from where another ends starts just there: no sliver of an edge is left."""
    first = {"start": "armhole 0.676", "end": "neckline 0.257", "end_side": "same", "on": "back", "name": "one"}
    second = {"start": "neckline 0.256", "end": "armhole 0.346", "end_side": "same", "on": "back", "name": "two"}
    made = build(brief("bass"), TOP, [(draw_style_line, first), (draw_style_line, second)])
    assert min(line.path.length for piece in made.pieces for line in piece.ring) > 1.0
    assert prove(made, brief("bass")).passed


def test_a_second_line_of_the_same_name_is_refused() -> None:
    """Two yokes can't share a name."""
    with pytest.raises(CannotDraft, match="already"):
        build(
            brief(), BODY, [(draw_style_line, YOKE), (draw_style_line, YOKE | {"start": "side 0.5", "end": "side 0.5"})]
        )


def test_a_line_runs_on_over_a_seam() -> None:
    """Panels from the shoulder to the hem across a yoke: each piece is parted where the line crosses."""
    made = styled(YOKE, "soprano")
    across = draw_style_line.apply(made, brief(), draw_style_line.options(**PANEL))
    plain = styled(PANEL)
    for side in ("left", "right"):
        names = (f"front-yoke-panel-{side}", f"front-panel-{side}")
        parts = [across.piece(name).outline.area for name in names]
        assert sum(parts) == pytest.approx(plain.piece(names[1]).outline.area, abs=1e-6)
    assert {seam.name for seam in across.seams} >= {"panel-left-front", "panel-left-front-yoke"}
    assert prove(across, brief()).passed


def test_a_yoke_over_a_low_neck_is_in_two_parts() -> None:
    """Where the neckline reaches lower than the line, each half ends at the neckline; one mirrors the other."""
    plan = ((draft_knit_bodice, {"front_neck": "v", "front_depth": 120.0}), *TOP[1:])
    made = styled(YOKE, "soprano", plan)
    left, right = (made.piece(f"front-yoke-{side}") for side in ("left", "right"))
    images = [line.path.mirrored().reversed() for line in left.ring]
    assert all(any(line.path.same_as(image, 1e-6) for image in images) for line in right.ring)
    assert len(made.piece("front").lines(role=Role.NECKLINE)) == 2
    assert prove(made, brief()).passed


def test_a_line_laid_by_rule_bows_as_little_as_lets_it_be_sewn() -> None:
    """From the middle of the armhole to the hem a straight line grazes the armhole; told 0 it is refused."""
    line = PANEL | {"start": "armhole 0.5", "end": "hem 0.6"}
    with pytest.raises(CannotDraft, match="degrees"):
        styled(line | {"curve": 0.0})
    assert styled(line).piece("front-panel-left")


@LAW
@given(st.floats(-0.4, 0.4), st.floats(50.0, 400.0), st.floats(-30.0, 30.0))
def test_the_curve_is_a_share_of_the_chord(curve: float, run: float, rise: float) -> None:
    """The middle of the line lies that share of the chord off it, up for a line across, outwards for one down."""
    a, b = Point(-run / 2.0, 0.0), Point(run / 2.0, rise)
    middle = draw_bow(a, b, curve).at(draw_bow(a, b, curve).length / 2.0)
    chord = (b - a).unit
    assert chord.cross(middle - a) == pytest.approx(curve * (b - a).length, abs=1e-3)
    for sign in (1.0, -1.0):
        down = draw_bow(Point(sign * 100.0, 0.0), Point(sign * (100.0 + rise), -run), abs(curve) + 0.01)
        bulge = sign * (down.at(down.length / 2.0).x - sign * (100.0 + rise / 2.0))
        assert bulge > 0.0 or run < abs(rise)
