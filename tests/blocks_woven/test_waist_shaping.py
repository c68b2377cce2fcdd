"""Waist shaping: the suppression is shared out whole, within its limits, and the waist runs on over the darts."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.flank import draw_flank
from blocks.waist_darts import (
    GREATEST_SUPPRESSION,
    MOST_AT_SIDE,
    MOST_IN_DART,
    Suppression,
    WaistDart,
    draw_waist,
    keep_back_dart,
    share,
    spare_side,
    split_over_seat,
)
from drafting.body import Rules, make_body
from drafting.cloth import Fit
from drafting.garment import Face, Garment, Girth, Role, Slit
from drafting.garment.carry import drop_features
from drafting.garment.darts import darts_of, intake
from drafting.geometry import Point
from drafting.proof import Severity
from drafting.proof.checks.ease import measure_garment
from drafting.proof.fit.sides import side_rows
from drafting.proof.fit.waist_darts import waist_dart_rows
from drafting.redraw.dart_points import LEAST_DART
from drafting.redraw.shapes import Curve
from tests.blocks_woven.people import bodice, brief_for, faults, people, person, told
from tests.body.people import GROUPS
from tests.body.people import people as survey

DERANDOM = settings(derandomize=True, deadline=None, max_examples=150)


@DERANDOM
@given(st.floats(-250.0, GREATEST_SUPPRESSION), st.floats(-40.0, 40.0), st.floats(0.0, 1.0))
def test_shares_add_up_to_the_whole(whole: float, fuller: float, flat: float) -> None:
    """Whatever the suppression and the body, its shares add up to it, and each keeps its limit."""
    taken = share(whole, fuller, flat)
    assert taken.whole == pytest.approx(whole, abs=1e-9)
    assert taken.side <= MOST_AT_SIDE + (LEAST_DART if taken.front == 0.0 else 0.0)
    for dart in (taken.front, taken.back, taken.second):
        assert dart == 0.0 or LEAST_DART - 1e-9 <= dart <= MOST_IN_DART + 1e-9


def test_a_waist_wider_than_the_bust_has_no_darts() -> None:
    """The side seams run outwards."""
    taken = share(-30.0)
    assert (taken.side, taken.front, taken.back, taken.second) == (-30.0, 0.0, 0.0, 0.0)


def drawn(garment: Garment) -> float:
    """What the left half's waist darts take in, as drawn."""
    darts = [d for p in garment.pieces for d in darts_of(p)]
    return math.fsum(intake(d) for d in darts if d.name.startswith("waist") and d.name.endswith("-left"))


@pytest.mark.parametrize("rules", ["women", "men"])
@pytest.mark.parametrize("number", [0, 5, 70, 168, 330, 500, 676, 768])
def test_suppression_is_half_of_bust_less_waist_with_their_ease(number: int, rules: Rules) -> None:
    """Per half: (bust + ease - waist - ease) / 2 (derived), drawn as darts and at the side; the bust's for the arm too.

    A waist that lies in farther than darts can take has more ease.
    """
    row = people(rules)[number]
    garment = bodice(brief_for(person(number, rules)), to="hip")
    raised, slack = (told(garment, f"{place}_raised") for place in ("bust", "waist"))
    wanted = (row["bust_girth"] + 64.0 + raised - row["waist_girth"] - 40.0 - slack) / 2.0
    assert garment.fact("waist_suppression") == pytest.approx(wanted, abs=1e-6)
    assert drawn(garment) + garment.fact("waist_at_side") == pytest.approx(wanted, abs=1e-6)


def test_mean_suppression_of_the_survey() -> None:
    """Women of 1988: bust less waist is 15.0 cm in the median, so 7.5 cm per half without ease (derived)."""
    rows = people("women")
    halves = sorted((row["bust_girth"] - row["waist_girth"]) / 2.0 for row in rows)
    assert halves[len(halves) // 2] == pytest.approx(75.0, abs=1.0)
    middle = share(halves[len(halves) // 2], 10.0)
    assert 15.0 < middle.front < middle.back < MOST_IN_DART


def test_the_back_takes_more_than_the_front_but_under_a_full_bust() -> None:
    """1.5 to 2 times as much on an even figure; a front 24 mm wider at the bust takes as much; a belly has none (from
    memory)."""
    even, full, belly = share(75.0, 8.0), share(75.0, 24.0), share(60.0, 0.0, 0.0)
    assert 1.5 * even.front <= even.back <= 2.0 * even.front
    assert full.front >= full.back
    assert belly.front == 0.0
    assert even.side == full.side


def test_a_flat_front_takes_in_its_dart_before_the_back_gets_a_second() -> None:
    """1.5 cm at least once there is enough for two darts, 2.5 cm before a second back dart (from memory)."""
    for fuller in (-30.0, 0.0, 20.0):
        for whole in range(70, 170, 5):
            taken = share(float(whole), fuller)
            assert taken.front >= (25.0 if taken.second else 15.0)
    assert share(110.0, -30.0, 0.0).second > 0.0 == share(110.0, -30.0, 0.0).front


def test_a_back_that_is_hollow_over_the_seat_keeps_a_dart_worth_sewing() -> None:
    """Of 1.4 cm to the hip, which the side seam gives, beside a front's; none where only 1 cm would be left."""
    kept = keep_back_dart(Suppression(25.0, 10.0, 10.0), 80.0)
    assert (kept.front, kept.back, kept.whole) == pytest.approx((10.0, 14.0, 45.0))
    assert keep_back_dart(Suppression(30.0), 50.0).back == pytest.approx(14.0)
    assert keep_back_dart(Suppression(30.0), 20.0) == Suppression(30.0)


def test_two_back_darts_beside_a_small_one_in_front_are_told() -> None:
    """Most of the front's dart left out: a warning on each side."""
    brief = brief_for(person(5, "women"))
    garment = bodice(brief, to="hip")
    bare = drop_features(garment.piece("front"), lambda each: isinstance(each, Slit))
    told = [row for row in waist_dart_rows(garment.with_(pieces=[bare]), brief) if row.beyond]
    assert "waist_dart_before_second" in {row.name for row in told}


def test_no_bodice_is_warned_of_its_own_waist_darts() -> None:
    """A full bust, a belly, a broad back: the front's share is within its limits, and no dart takes in over 3.7 cm."""
    for number, rules in ((5, "women"), (480, "women"), (960, "women"), (360, "men")):
        brief = brief_for(person(number, rules))
        for to in ("waist", "hip"):
            rows = list(waist_dart_rows(bodice(brief, to=to), brief))
            assert rows
            assert not [row for row in rows if row.beyond and row.severity is not Severity.NOTE]


def test_a_front_that_takes_in_as_much_as_the_back_twice_over_is_told() -> None:
    """The back's darts left out, the front has all: a warning on each side."""
    brief = brief_for(person(5, "women"))
    garment = bodice(brief, to="hip")
    bare = drop_features(garment.piece("back"), lambda each: isinstance(each, Slit))
    told = [row for row in waist_dart_rows(garment.with_(pieces=[bare]), brief) if row.beyond]
    assert [(row.name, row.severity) for row in told if row.severity is not Severity.NOTE] == [
        ("waist_darts_front", Severity.WARNING)
    ] * 2


@DERANDOM
@given(
    st.lists(st.floats(8.0, 42.0), min_size=0, max_size=2),
    st.floats(-0.25, 0.2),
    st.floats(90.0, 220.0),
)
def test_waist_meets_legs_and_side_square(intakes: list[float], slope: float, depth: float) -> None:
    """Folded shut, the waist runs on without a turn: on both sides of a dart the edge is square to its leg."""
    darts = [WaistDart(f"d{i}", 90.0 + 85.0 * i, width, depth, 0.0) for i, width in enumerate(intakes)]
    line = draw_waist(0.0, 0.0, darts, 310.0, slope)
    assert len(line.curves) == len(darts) + 1
    for dart, before, after, y in zip(darts, line.curves, line.curves[1:], line.mouths, strict=False):
        point = Point(dart.x, dart.upper)
        assert before.d.distance(point) == pytest.approx(after.a.distance(point), abs=1e-9)
        assert (before.d.y, after.a.y) == (y, y)
        assert abs((before.d - before.c).unit.dot((point - before.d).unit)) < 1e-9
        assert abs((after.b - after.a).unit.dot((point - after.a).unit)) < 1e-9
    last = line.curves[-1]
    assert (last.d - last.c).unit.cross(Point(1.0, slope).unit) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("slope", [0.05, 0.1, 0.15, 0.2])
def test_waist_held_level_turns_to_the_side_gently(slope: float) -> None:
    """A waist that falls to the dart and ends as low as it may still bends to the side wider than its allowance."""
    low = -14.0
    for centre in (low + step for step in range(-10, 11)):
        last = draw_waist(0.0, centre, [WaistDart("d", 90.0, 30.0, 120.0, 0.0)], 260.0, -slope).curves[-1]
        assert end_radius(last) > 15.0, (slope, centre)


def end_radius(curve: Curve) -> float:
    """The radius (mm) with which a curve arrives; endless where it runs straight."""
    own = curve.d - curve.c
    bend = abs((curve.c - curve.b).cross(own.unit)) / 1.5
    return math.inf if bend < 1e-9 else own.length**2 / bend


@DERANDOM
@given(st.floats(-0.35, 0.15), st.floats(-15.0, 45.0), st.floats(0.15, 0.7), st.booleans())
def test_side_seam_passes_through_its_points(lean: float, taken: float, at: float, long: bool) -> None:
    """Underarm lean, bust, waist and hip are met; below the waist it is smooth."""
    top, waist = -200.0, -400.0
    bust = Point(240.0, top + at * (waist - top))
    hip = Point(255.0, -580.0) if long else None
    flank = draw_flank(top, lean, bust, Point(240.0 - taken, waist), hip)
    assert flank.x(bust.y) == pytest.approx(bust.x, abs=1e-9)
    assert flank.x(waist) == pytest.approx(240.0 - taken, abs=1e-9)
    assert flank.slope(top) == pytest.approx(lean, abs=1e-9)
    path = flank.path(top)
    assert path.length == pytest.approx(flank.length, abs=0.001)
    assert path.corners() == ()
    if hip is not None:
        assert path.start.near(hip)
        assert flank.slope(hip.y) == pytest.approx(0.0, abs=1e-9)


def test_a_back_over_a_full_seat_has_two_darts_for_the_skirts_two_to_meet() -> None:
    """From 2.1 cm of intake on, none of less than 1 cm; one over a flat seat, or where less is taken in."""
    for back, darts in ((30.0, (16.5, 13.5)), (21.5, (11.5, 10.0))):
        split = split_over_seat(Suppression(30.0, 15.0, back), 80.0)
        assert (split.side, split.front, split.back, split.second) == pytest.approx((30.0, 15.0, *darts))
    for taken, hollow in ((Suppression(30.0, 15.0, 30.0), 50.0), (Suppression(30.0, 15.0, 20.5), 80.0)):
        assert split_over_seat(taken, hollow) == taken


def test_over_a_full_hip_darts_take_what_the_side_would_stand_out_by() -> None:
    """Until it stands out 4.5 cm on each face, front and back 1 to 1.7; two in the back where one is too deep; a side
    keeps 5 mm, and a belly's front none."""
    taken = spare_side(Suppression(21.0, 10.0, 14.0), 130.0, 1.0)
    assert (taken.side, taken.front, taken.back) == pytest.approx((5.0, 14.8, 25.2))
    deeper = spare_side(Suppression(50.0, 10.0, 34.0), 150.0, 0.0)
    assert (deeper.whole, deeper.front, deeper.whole - deeper.side) == pytest.approx((94.0, 10.0, 60.0))
    assert deeper.second > LEAST_DART
    for usual in (Suppression(30.0, 10.0, 14.0), Suppression(4.0, 10.0, 14.0)):
        assert spare_side(usual, 110.0 if usual.side > 5.0 else 160.0, 1.0) == usual


def test_front_and_back_of_a_side_stand_out_alike_over_a_full_hip() -> None:
    """4.5 cm on each face at most where both together may, and one no more than 1.5 cm beyond the other."""
    for number, fit in ((771, Fit.CLOSE), (750, Fit.CLOSE), (5, Fit.SEMI)):
        garment = bodice(brief_for(person(number), fit), to="hip")
        swings = [side_swing(garment, face) for face in ("front", "back")]
        assert max(swings) <= 45.5
        assert abs(swings[0] - swings[1]) <= 15.5


def side_swing(garment: Garment, face: str) -> float:
    """By how much (mm) the left side of a face lies farther out at the hip than at the waist."""
    piece = garment.piece(face)
    out = [max(abs(x) for v in piece.levels if v.name == name for x in v.path.bounds[::2]) for name in ("hip", "waist")]
    return out[0] - out[1]


@pytest.mark.parametrize("fuller", [-20.0, 0.0, 20.0])
def test_a_dart_that_is_too_small_leaves_the_waist_of_front_and_back_where_it_was(fuller: float) -> None:
    """As the suppression grows, each face's waist comes in steadily: no dart that comes or goes lets it leap."""
    shares = [share(whole / 4.0, fuller) for whole in range(130, 360)]
    for face in (1.0, -1.0):
        darts = [(s.front if face > 0.0 else s.back + s.second) for s in shares]
        taken = [s.side / 2.0 + face * s.ahead + dart for s, dart in zip(shares, darts, strict=True)]
        steps = [after - before for before, after in pairwise(taken)]
        assert max(map(abs, steps)) <= 0.6
    assert max(abs(b.front - a.front) for a, b in pairwise(shares)) <= 10.01


def test_a_side_that_stands_out_far_over_a_full_hip_is_told() -> None:
    """A hip 26 cm more than the bust is a warning on each side; an even figure's isn't."""
    girths = {"stature": 1660.0, "bust_girth": 900.0, "waist_girth": 800.0, "back_neck_point_to_waist": 405.0}
    for hip, count in ((1160.0, 2), (980.0, 0)):
        body = make_body("one", {**girths, "hip_girth": hip})
        brief = brief_for(body)
        rows = list(side_rows(bodice(brief, to="hip"), brief))
        assert len(rows) == 2
        assert sum(bool(row.beyond) for row in rows) == count


@pytest.mark.parametrize("to", ["waist", "hip"])
def test_a_man_with_a_belly_keeps_a_dart_in_the_back(to: str) -> None:
    """What his waist has more than nine tenths of his hip is all in front; the waist ends as low as the front's, for
    the underarm to lie as without it."""
    girths = {"bust_girth": 1170.0, "waist_girth": 1142.0, "hip_girth": 1098.0, "back_neck_point_to_waist": 454.0}
    brief = brief_for(make_body("bass", {"stature": 1780.0, **girths}, rules="men"), Fit.CLOSE)
    made = bodice(brief, to=to)
    assert made.fact("waist_dart_back") >= 12.0
    assert made.fact("waist_dart_front") == 0.0
    if to == "waist":
        ends = [
            min(line.path.bounds[1] for line in made.piece(face).lines(role=Role.SIDE)) for face in ("front", "back")
        ]
        assert ends[0] == pytest.approx(ends[1], abs=1.0)


@pytest.mark.parametrize("to", ["waist", "hip"])
def test_a_centre_back_is_shaped_by_a_seam(to: str) -> None:
    """In by 1.2 cm at the waist, straight above the bust's level and at the hip; darts and sides take in as much less,
    and the girths are the body's and the ease as before."""
    brief = brief_for(person(168))
    plain, made = bodice(brief, to=to), bodice(brief, to=to, centre_back=12.0)
    assert not [f for f in faults(made, brief) if f.code not in {g.code for g in faults(plain, brief)}]
    waist = -brief.body["back_neck_point_to_waist"]
    for name, out in (("back-left", -1.0), ("back-right", 1.0)):
        (seam,) = made.piece(name).lines(role=Role.CENTRE)
        low, high = sorted((seam.path.start, seam.path.end), key=lambda end: end.y)
        assert (high.x, low.x) == pytest.approx((0.0, 12.0 * out if to == "waist" else 0.0), abs=1e-6)
        assert seam.path.nearest(Point(12.0 * out, waist))[1] < 0.5
    taken = (drawn(each) + each.fact("waist_at_side") for each in (plain, made))
    assert next(taken) - next(taken) == pytest.approx(12.0, abs=1e-6)
    for girth in ("bust", "waist"):
        assert measure_garment(made, Girth(girth)) == pytest.approx(measure_garment(plain, Girth(girth)), abs=0.01)


@pytest.mark.parametrize(("group", "place"), [("bodies_1988_men", 660), ("bodies_1988_women", 168)])
def test_a_front_is_hardly_wider_than_its_back_at_the_hip(group: str, place: int) -> None:
    """By 1 cm each half, over a belly 2 (from memory), though its bust is wider by 4: the seat is behind."""
    body = make_body("one", survey(group)[place], rules=GROUPS[group])
    garment = bodice(brief_for(body, Fit.CLOSE), to="hip")
    front, back = (
        sum(level.path.length for piece in garment.pieces if piece.face is face for level in piece.levels
            if level.name == "hip") for face in (Face.FRONT, Face.BACK)
    )  # fmt: skip
    assert front - back < 36.0
