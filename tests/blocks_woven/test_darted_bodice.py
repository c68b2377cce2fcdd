"""The darted bodice on real bodies: its girths, its points, its seams and its fairness."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely import LineString, Polygon

from blocks.darted_frame import slopes
from blocks.darted_underarm import WOVEN_ARMHOLE_SHARE
from drafting.body import Body, Rules, make_body
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Garment, Piece, Role, Side, glue
from drafting.garment.armholes import BELOW_ARMPIT, take_armhole
from drafting.garment.darts import darts_of, intake
from drafting.proof import Severity, prove
from drafting.proof.checks.ease import ease_rows
from drafting.work import make_up
from tests.blocks_woven.people import (
    PULLED_ON,
    bodice,
    brief_for,
    faults,
    mean_person,
    people,
    person,
    told,
)

SOME = (0, 5, 70, 168, 330, 500, 676, 768, 812, 1000)
EASE = {Fit.CLOSE: (50.0, 25.0, 50.0), Fit.SEMI: (64.0, 40.0, 64.0), Fit.RELAXED: (100.0, 90.0, 100.0)}
"""Bust, waist and hip ease of a woven (facts of the trade: costume text ch. 16; an encyclopedia extract)."""


def girth(garment: Garment, name: str) -> float:
    """The sum of the levels of that name."""
    return math.fsum(level.path.length for p in garment.pieces for level in p.levels if level.name == name)


def polygon(piece: Piece) -> Polygon:
    """The piece's outline, less its slits."""
    holes = [[q for line in slit for q in line.path.flatten(0.01).tolist()] for slit in piece.slits]
    return Polygon([q for line in piece.ring for q in line.path.flatten(0.01).tolist()], holes)


def chord(piece: Piece, y: float) -> float:
    """How wide the piece's cloth is at a height, without what is cut out of it."""
    return float(polygon(piece).intersection(LineString([(-2000.0, y), (2000.0, y)])).length)


@pytest.mark.parametrize("fit", tuple(Fit))
@pytest.mark.parametrize("to", ["waist", "hip"])
@pytest.mark.parametrize("number", SOME[:5])
def test_girths_are_body_and_ease(number: int, to: str, fit: Fit) -> None:
    """Bust, waist and hip of the closed block are the body's and the ease, to 0.1 mm; the bust's more for the arm.

    The proof tells as asked what the fit asks, not what came of it.
    """
    body = person(number)
    garment = bodice(brief_for(body, fit), to=to)
    bust, waist, hip = EASE[fit]
    assert girth(garment, "bust") == pytest.approx(body["bust_girth"] + bust + told(garment, "bust_raised"), abs=0.1)
    raised = told(garment, "waist_raised")
    assert girth(garment, "waist") == pytest.approx(body["waist_girth"] + waist + raised, abs=0.1)
    asked = {row.measure: row.asked for row in ease_rows(garment)}
    assert [asked["girth:bust"], asked["girth:waist"]] == pytest.approx([bust, waist])
    if to == "hip":
        assert girth(garment, "hip") == pytest.approx(body["hip_girth"] + hip, abs=0.1)


@pytest.mark.parametrize("fit", tuple(Fit))
@pytest.mark.parametrize("number", SOME)
def test_an_armhole_has_room_for_the_arm(number: int, fit: Fit) -> None:
    """It is 15 mm wider than the arm is thick at least (from memory), and the bust gets more ease only for that."""
    body = person(number)
    garment = bodice(brief_for(body, fit))
    holes = [hole for side in (Side.LEFT, Side.RIGHT) if (hole := take_armhole(garment, side))]
    assert len(holes) == 2
    room = min(hole.width for hole in holes) - body["upper_arm_girth"] / math.pi
    assert room >= 15.0 - 1e-3
    assert room <= 16.0 or told(garment, "bust_raised") == 0.0


@pytest.mark.parametrize("number", SOME)
def test_girths_measured_across_the_cloth(number: int) -> None:
    """Cut across with shapely, the cloth outside the darts is as wide as the body and its ease at waist and hip."""
    body = person(number)
    garment = bodice(brief_for(body), to="hip")
    waist, hip = -body["back_neck_point_to_waist"], -body["back_neck_point_to_waist"] - body["waist_to_hip"]
    pieces = garment.pieces
    assert sum(chord(p, waist) for p in pieces) == pytest.approx(body["waist_girth"] + 40.0, abs=0.1)
    assert sum(chord(p, hip + 0.01) for p in pieces) == pytest.approx(body["hip_girth"] + 64.0, abs=0.1)


def test_bust_measured_across_the_cloth() -> None:
    """The back across at the bust points' height, and the front over its bust points to the side, are the bust.

    Where that meets the front's side tells the back's, as far below the underarm: the two are sewn to each other, and
    the bust dart turns the front's. Their curves differ, by less than 1 mm of girth.
    """
    body = mean_person()
    garment = bodice(brief_for(body))
    front, back = garment.piece("front"), garment.piece("back")
    apex = next(drill.at for drill in front.drills if drill.name == "bust-point-left")
    own, upper = back.line("side-left").path, front.lines("side-left")[-1].path
    below = own.cross_level(apex.y)[0]  # on the back the wearer's left lies at -x, and its side runs down
    side = upper.at(upper.length - below)
    bust = body["bust_girth"] + 64.0 + told(garment, "bust_raised")
    assert chord(back, apex.y) + 2.0 * (apex.x + apex.distance(side)) == pytest.approx(bust, abs=1.0)


@pytest.mark.parametrize("rules", ["women", "men"])
@pytest.mark.parametrize("number", SOME[:6])
def test_bust_point_lies_where_the_survey_measured_it(number: int, rules: Rules) -> None:
    """Side neck point to bust point and bust point width are the columns of ANSUR 1988; a full cup's 4 mm longer."""
    row = people(rules)[number]
    garment = bodice(brief_for(person(number, rules)))
    front = garment.piece("front")
    at = {drill.name: drill.at for drill in front.drills}
    left, right = at["bust-point-left"], at["bust-point-right"]
    neck = front.line("neckline-left").path.start
    assert left.distance(right) == pytest.approx(row["bust_point_width"], abs=1e-6)
    assert neck.distance(left) == pytest.approx(
        row["side_neck_point_to_bust_point"] + added_for_cup(garment) / 2.0, abs=1e-6
    )


def added_for_cup(garment: Garment) -> float:
    """By how much (mm) the front is longer over the bust, for a dart that a full cup asks for: 8 at most."""
    added = sum(fact.value for fact in garment.facts if fact.name == "front_longer_for_cup")
    assert 0.0 <= added <= 8.0
    return added


@pytest.mark.parametrize("number", SOME[:6])
def test_lengths_over_bust_and_down_the_back_are_as_measured(number: int) -> None:
    """Side neck point over the bust to the waist, and back neck point to waist, are the survey's columns.

    Where the dart would be small for a full cup, the front is up to 8 mm longer.
    """
    row = people("women")[number]
    garment = bodice(brief_for(person(number)), to="hip")
    front, back = garment.pieces
    waist = next(level.path for level in front.levels if level.name == "waist").start.y
    apex = next(drill.at for drill in front.drills if drill.name == "bust-point-left")
    over = front.line("neckline-left").path.start.distance(apex) + apex.y - waist
    assert over == pytest.approx(row["side_neck_point_to_waist_over_bust"] + added_for_cup(garment), abs=1e-6)
    nape = back.line("neckline-right").path.end
    down = nape.y - next(level.path for level in back.levels if level.name == "waist").start.y
    assert down == pytest.approx(row["back_neck_point_to_waist"], abs=1e-6)


def test_bust_dart_is_front_length_less_back_length() -> None:
    """Its intake is the body's own difference (a sewing column of 2012), the back's taken from the same height.

    A dart that is small for a full cup has 8 mm more, with which the front is longer, too.
    """
    seen = 0
    for number in SOME:
        row = people("women")[number]
        fall = row["back_neck_point_height"] - row["side_neck_point_height"]
        wanted = row["side_neck_point_to_waist_over_bust"] - row["back_neck_point_to_waist"] + fall
        garment = bodice(brief_for(person(number)))
        added = added_for_cup(garment)
        assert added <= max(min(0.5 * (row["bust_girth"] - row["under_bust_girth"] - 85.0) - wanted, 8.0), 0.0) + 1e-6
        wanted += added
        left = [fact.value for fact in garment.facts if fact.name == "bust_dart_in_armhole"]
        drawn = [intake(d) for d in darts_of(garment.piece("front")) if d.name == "bust-left"]
        if wanted >= 6.0 and not left:
            assert drawn == [pytest.approx(wanted, abs=1e-6)]
            seen += 1
        elif wanted < 6.0:
            assert drawn == []
    assert seen >= 5


@pytest.mark.parametrize("to", ["waist", "hip"])
def test_legs_are_equal_and_points_stop_short(to: str) -> None:
    """Both legs of every dart are equal to 1e-6 mm; the front's darts end short of the bust point by what they take in.

    2 to 3 cm for an ordinary dart, 4 to 5 for a fuller one (from memory): half of its intake and 15 mm.
    """
    garment = bodice(brief_for(person(5)), to=to)
    names = set()
    for piece in garment.pieces:
        for dart in darts_of(piece):
            names.add(dart.name.rsplit("-", 1)[0])
            assert dart.mouth_a.distance(dart.point) == pytest.approx(dart.mouth_b.distance(dart.point), abs=1e-6)
            if piece.name == "front":
                apex = next(d.at for d in piece.drills if d.name.endswith(dart.name.rsplit("-", 1)[1]))
                assert dart.point.distance(apex) == pytest.approx(15.0 + intake(dart) / 2.0, abs=1e-6)
                assert 20.0 <= dart.point.distance(apex) <= 50.0
                assert dart.mouth_a.distance(apex) == pytest.approx(dart.mouth_b.distance(apex), abs=1e-6)
    assert names == {"bust", "waist-front", "waist-back", "waist-side-back", "shoulder"}


@pytest.mark.parametrize("to", ["waist", "hip"])
@pytest.mark.parametrize("number", SOME)
def test_proves(number: int, to: str) -> None:
    """Nothing is found but that it can't be pulled on without a closure."""
    brief = brief_for(person(number))
    garment = bodice(brief, to=to)
    assert faults(garment, brief) == []
    errors = {f.code for f in prove(garment, brief).findings if f.severity is Severity.ERROR}
    assert errors <= PULLED_ON
    assert errors


@pytest.mark.parametrize("to", ["waist", "hip"])
def test_goes_together_as_a_bodice(to: str) -> None:
    """Glued: one part, right side to right side, with a neck, two armholes and a hem; darts are sewn first."""
    garment = bodice(brief_for(mean_person()), to=to)
    surface = glue(garment)
    assert surface.oriented
    assert surface.components == 1
    assert surface.euler == 2 - 4
    assert sorted(o.name for o in surface.openings) == ["armhole-left", "armhole-right", "hem", "neck"]
    order = [task.seam for task in make_up(garment)]
    assert order.index("dart-bust-left") < order.index("side-left")
    assert order.index("dart-shoulder-left") < order.index("shoulder-left")


def test_edges_run_on_smoothly_over_darts_and_seams() -> None:
    """Sewn, no edge turns by more than a hundredth of a degree where it crosses a dart or a seam."""
    for number in SOME:
        brief = brief_for(person(number))
        joins = prove(bodice(brief), brief).joins
        assert len(joins) >= 8
        assert max(abs(row.angle) for row in joins) < math.radians(0.01)


def test_armhole_is_at_least_the_arms_and_within_the_blocks() -> None:
    """Armhole over armscye girth 1.05 to 1.30, and 0.36 to 0.54 of the bust (blocks 1.05 to 1.25, 0.43 to 0.51).

    Where it lies as low as it may (1 to 4 cm below the armpit), it is longer than the body's by 1 cm at least.
    """
    for rules in ("women", "men"):
        for number in range(0, 880, 110):
            body = person(number, rules)
            garment, around = bodice(brief_for(body)), body["armscye_girth"]
            armhole, deep = garment.fact("armhole"), garment.fact("scye_depth") - body["scye_depth_length"]
            lowest = deep >= BELOW_ARMPIT[Fit.SEMI] - 1.5
            assert armhole >= (around + 10.0 if lowest else WOVEN_ARMHOLE_SHARE * around) - 1e-6
            assert armhole <= 1.30 * around
            assert 0.36 <= armhole / body["bust_girth"] <= 0.54


def test_armholes_of_the_survey_lie_as_blocks_do() -> None:
    """The mean woman's armhole is 39 to 46 cm (1.05 to 1.25 of the armscye of ANSUR 1988), its depth 18 to 25 cm."""
    garment = bodice(brief_for(mean_person()))
    assert 380.0 <= garment.fact("armhole") <= 460.0
    assert 180.0 <= garment.fact("scye_depth") <= 250.0


def test_shoulders_are_as_drafts_have_them() -> None:
    """As measured less 4 to 7 degrees, the front steeper; 22 and 18 for a slope of 24 (college block, from memory)."""
    for number in SOME:
        garment = bodice(brief_for(person(number)))
        front, back = (math.degrees(garment.fact(f"shoulder_slope_{face}")) for face in ("front", "back"))
        measured = math.degrees(person(number)["shoulder_slope"])
        assert back <= front
        ruled = max(measured - 4.0, min(15.0, measured - 1.0))
        assert min(ruled, max(ruled - 3.0, 17.0)) - 1e-6 <= (back + front) / 2.0 <= ruled + 1e-6
    usual = make_body("her", people("women")[0] | {"shoulder_slope": math.radians(24.0)})
    college = slopes(brief_for(usual), Side.LEFT)
    assert [math.degrees(slope) for slope in college] == [pytest.approx(22.0), pytest.approx(18.0)]


@pytest.mark.parametrize(("measured", "front", "back"), [(20.0, 17.0, 15.0), (18.0, 15.0, 15.0), (35.5, 32.0, 31.0)])
def test_a_limit_takes_of_what_front_and_back_differ_by_not_of_their_mean(
    measured: float, front: float, back: float
) -> None:
    """As measured less 4 degrees, 32 on either face at most; a square one less 1 to 4, for 15 of them."""
    body = Body("her", {**mean_person().values, "shoulder_slope": math.radians(measured)})
    drafted = [math.degrees(slope) for slope in slopes(brief_for(body), Side.LEFT)]
    assert drafted == [pytest.approx(front), pytest.approx(back)]


def test_back_shoulder_is_shaped() -> None:
    """By a dart and 4 mm of ease; or by ease alone, when no dart is asked for."""
    brief = brief_for(mean_person())
    darted, eased = bodice(brief), bodice(brief, back_shoulder="ease")
    assert darted.seam("shoulder-left").ease == (0.0, 4.0)
    assert eased.seam("shoulder-left").ease == (0.0, 8.0)
    shoulder = [d for d in darts_of(darted.piece("back")) if d.name == "shoulder-left"]
    assert [intake(d) for d in shoulder] == [pytest.approx(11.0, abs=1.0)]
    assert [d.middle.distance(d.point) for d in shoulder] == [pytest.approx(80.0, abs=2.0)]
    assert not [d for d in darts_of(eased.piece("back")) if d.name.startswith("shoulder")]
    assert faults(eased, brief) == []


def test_neck_is_neck_base_and_ease() -> None:
    """A high round neck measures 0 to 2 cm more than the neck base (derived identity)."""
    for number in SOME:
        body = person(number)
        garment = bodice(brief_for(body))
        seam = math.fsum(ln.path.length for p in garment.pieces for ln in p.lines(role=Role.NECKLINE))
        assert seam == pytest.approx(body["neck_base_girth"] + 10.0, abs=0.001)


def test_shoulders_measured_apart_give_halves_of_their_own() -> None:
    """A body with one shoulder lower is drafted half by half: its girths hold, and the lower side has its own slope."""
    mean = mean_person()
    apart = {"shoulder_slope_left": math.radians(20.0), "shoulder_slope_right": math.radians(30.0)}
    body = Body("uneven", {**mean.values, **apart})
    brief = brief_for(body)
    for to in ("waist", "hip"):
        garment = bodice(brief, to=to)
        assert faults(garment, brief) == []
        bust = body["bust_girth"] + 64.0 + told(garment, "bust_raised")
        assert girth(garment, "bust") == pytest.approx(bust, abs=0.1)
        ends = {side: garment.piece("front").line(f"shoulder-{side}").path for side in (Side.LEFT, Side.RIGHT)}
        low = {side: min(path.start.y, path.end.y) for side, path in ends.items()}
        assert low[Side.RIGHT] < low[Side.LEFT] - 10.0


def test_equal_halves_mirror_each_other() -> None:
    """A body measured on one side only is drafted alike on both."""
    for piece in bodice(brief_for(person(5)), to="hip").pieces:
        x0, _, x1, _ = piece.outline.bounds
        assert x0 == pytest.approx(-x1, abs=1e-9)
        assert len(piece.lines(side=Side.LEFT)) == len(piece.lines(side=Side.RIGHT))


def test_a_longer_front_raises_the_front_alone() -> None:
    """A fuller bust (longer over the front, the rest alike) makes the dart wider by as much, and leaves the back."""
    mean = mean_person()
    longer = {name: mean[name] + 12.0 for name in ("side_neck_point_to_waist_over_bust",)}
    one = bodice(brief_for(mean))
    two = bodice(brief_for(Body("fuller", {**mean.values, **longer})))
    assert two.fact("bust_dart") - one.fact("bust_dart") == pytest.approx(12.0, abs=1e-6)


def test_refuses_by_the_measurement_that_stands_in_the_way() -> None:
    """No room for an underarm, or no neck: the measurement is named."""
    mean = mean_person()
    shallow = Body("shallow", {**mean.values, "scye_depth_length": mean["back_neck_point_to_waist"] - 60.0})
    with pytest.raises(CannotDraft) as refused:
        bodice(brief_for(shallow))
    assert refused.value.because == ("scye_depth_length",)
    assert refused.value.short_by > 0.0
    thick = Body("thick", {**mean.values, "armscye_girth": 900.0})
    with pytest.raises(CannotDraft) as refused:
        bodice(brief_for(thick))
    assert refused.value.because == ("armscye_girth",)
    wide = Body("wide", {**mean.values, "bust_point_width": 640.0})
    with pytest.raises(CannotDraft) as refused:
        bodice(brief_for(wide))
    assert refused.value.because == ("bust_point_width",)


@pytest.mark.parametrize(("wider", "warned"), [(0.0, False), (10.0, False), (45.0, True)])
def test_a_front_over_two_centimetres_narrower_than_its_chest_is_warned_of(wider: float, warned: bool) -> None:
    """A front is drawn hardly wider than its back; what it lacks pulls, whatever rule took it (common practice)."""
    mean = mean_person("men")
    body = Body("chest", {**mean.values, "across_front_width": mean["across_back_width"] + 15.0 + wider}, rules="men")
    found = [f for f in prove(bodice(brief_for(body)), brief_for(body)).findings if f.code == "fit.across_front_width"]
    assert [f.severity for f in found] == [Severity.WARNING] * warned


def test_options_are_followed() -> None:
    """Ease asked for is the ease drawn; the darts end as short of the bust point as asked."""
    body = mean_person()
    garment = bodice(brief_for(body), bust_ease=90.0, waist_ease=60.0, set_back=40.0, bust_dart_drop=30.0)
    assert girth(garment, "bust") == pytest.approx(body["bust_girth"] + 90.0, abs=0.1)
    assert girth(garment, "waist") == pytest.approx(body["waist_girth"] + 60.0, abs=0.1)
    dart = next(d for d in darts_of(garment.piece("front")) if d.name == "bust-left")
    assert dart.set_back == pytest.approx(40.0)
    apex = dart.apex
    lower = min((dart.mouth_a, dart.mouth_b), key=lambda p: p.y)
    assert apex.y - lower.y >= 30.0 - 1e-6


def test_uneven_names_are_not_needed() -> None:
    """The block names every measurement it needs, and all of them are measurements."""
    from blocks.darted_bodice import draft_darted_bodice

    body = mean_person()
    assert all(name in body for name in draft_darted_bodice.needs)
    few = Body("few", {name: body[name] for name in {*draft_darted_bodice.needs, "upper_arm_girth"}})
    assert bodice(replace(brief_for(body), body=few), to="hip").pieces
