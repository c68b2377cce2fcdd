"""The woven sleeve: cap ease between the notches, biceps ease, elbow dart, set in in the round."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drafting.body import Body, Rules
from drafting.cloth import Fit, hand_passage
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, glue
from drafting.garment.darts import darts_of, intake
from drafting.garment.features import SleeveCap
from drafting.geometry import Path
from drafting.job import draft_job
from drafting.proof import prove
from drafting.proof.fit import fit_rows
from drafting.saying import render, say
from drafting.work import make_up
from tests.blocks_woven.people import bodice, brief_for, faults, mean_person, person, sleeved
from tests.laws.jobs import job_of, with_changes

SOME = (0, 5, 168, 330, 768, 1000)


def cap_and_armhole(garment: Garment, side: str = "left") -> tuple[float, float]:
    """The lengths of the two plies of the armhole seam."""
    plies = garment.seam(f"armhole-{side}").plies
    return garment.run_length(plies[1]), garment.run_length(plies[0])


@pytest.mark.parametrize("ease", [13.0, 30.0, 38.1, 45.0])
def test_cap_is_longer_than_the_armhole_by_its_ease(ease: float) -> None:
    """1.3 cm (shirts) to 4.5 cm (textbooks); never less than nothing."""
    garment = sleeved(brief_for(mean_person()), cap_ease=ease)
    for side in ("left", "right"):
        cap, armhole = cap_and_armhole(garment, side)
        assert cap - armhole == pytest.approx(ease, abs=0.01)


def test_ease_lies_between_the_notches() -> None:
    """Below the notches cap and armhole are of one length; above, the back has a little more ease than the front."""
    garment = sleeved(brief_for(mean_person()), cap_ease=30.0)
    low_front, front, back, low_back = (s.ease[1] for s in garment.seam("armhole-left").sections)
    assert low_front == pytest.approx(0.0, abs=0.01)
    assert low_back == pytest.approx(0.0, abs=0.01)
    assert front + back == pytest.approx(30.0, abs=0.01)
    assert front < back < 1.5 * front


@pytest.mark.parametrize("fit", tuple(Fit))
@pytest.mark.parametrize("number", SOME)
def test_upper_arm_has_its_ease(number: int, fit: Fit) -> None:
    """2 in over the upper arm (Armstrong, as quoted), more in a relaxed fit, unless the armhole stands in the way."""
    body = person(number)
    garment = sleeved(brief_for(body, fit))
    level = next(each.path for each in garment.piece("sleeve-left").levels if each.name == "upper-arm-left")
    wanted = 70.0 if fit is Fit.RELAXED else 50.0
    gave = [fact.value for fact in garment.facts if fact.name == "upper_arm_given_way_left"]
    assert level.length - body["upper_arm_girth"] == pytest.approx(wanted + sum(gave), abs=0.01)
    assert level.length >= body["upper_arm_girth"] + 10.0


def test_cap_height_is_a_quarter_to_a_third_of_the_armhole() -> None:
    """Shirts a quarter (Baldt 1916), fitted sleeves a third (from memory)."""
    for number in SOME:
        garment = sleeved(brief_for(person(number)))
        assert 0.25 <= garment.fact("cap_height_left") / garment.fact("armhole") <= 0.36 + 1e-9


@pytest.mark.parametrize("number", SOME[:3])
def test_a_shirts_cap_has_half_an_inch_to_three_quarters(number: int) -> None:
    """1/2 to 3/4 in of shirts and blouses (as quoted); it is a relaxed woven's by rule."""
    cap, armhole = cap_and_armhole(sleeved(brief_for(person(number), Fit.RELAXED)))
    assert 13.0 - 1e-6 < cap - armhole < 19.0 + 1e-6


@pytest.mark.parametrize(("thicker", "least"), [(20.0, 0.295), (30.0, 0.27)])
def test_a_thick_arms_cap_takes_of_the_sleeves_width_first(thicker: float, least: float) -> None:
    """A fitted cap 0.30 of its armhole high or more, while the arm has an inch to spare (from memory)."""
    arm = mean_person()["upper_arm_girth"] + thicker
    garment = sleeved(brief_for(Body("thick", {**mean_person().values, "upper_arm_girth": arm}), Fit.CLOSE))
    assert garment.fact("cap_height_left") / garment.fact("armhole") > least
    assert next(aim.ease for aim in garment.aims if aim.measure.name == "upper-arm-left") > 25.0


@pytest.mark.parametrize("shape", ["straight", "fitted"])
@pytest.mark.parametrize("rules", ["women", "men"])
@pytest.mark.parametrize("number", SOME[:4])
def test_proves_with_its_bodice(number: int, rules: Rules, shape: str) -> None:
    """Nothing is found but that the garment can't be pulled on without a closure; the hand passes the wrist."""
    brief = brief_for(person(number, rules))
    garment = sleeved(brief, shape=shape)
    assert faults(garment, brief) == []
    assert not [f for f in prove(garment, brief).findings if f.place.startswith("wrist")]
    wrist = garment.piece("sleeve-left").line("wrist").path
    assert wrist.start.distance(wrist.end) >= hand_passage(brief.body["hand_girth"]) - 3.0


def test_is_set_in_in_the_round() -> None:
    """Side and underarm are seams of their own, sewn before the armhole; the garment has four openings."""
    garment = sleeved(brief_for(mean_person()))
    surface = glue(garment)
    assert surface.euler == 2 - 4
    assert surface.oriented
    assert sorted(o.name for o in surface.openings) == ["hem", "neck", "wrist-left", "wrist-right"]
    order = [task.seam for task in make_up(garment)]
    for before in ("side-left", "underarm-left", "shoulder-left", "dart-elbow-left"):
        assert order.index(before) < order.index("armhole-left")
    assert len(garment.seam("side-left").sections) == 1


def test_fitted_sleeve_has_an_elbow_dart() -> None:
    """Two equal legs in the back seam, at the elbow of the measured arm; front and back seam are of one length."""
    body = mean_person()
    garment = sleeved(brief_for(body))
    (dart,) = darts_of(garment.piece("sleeve-left"))
    assert dart.name == "elbow-left"
    assert dart.mouth_a.distance(dart.point) == pytest.approx(dart.mouth_b.distance(dart.point), abs=1e-6)
    front, back = garment.seam("underarm-left").plies
    assert garment.run_length(front) == pytest.approx(garment.run_length(back), abs=1e-4)
    down = garment.fact("cap_height_left") - max(dart.mouth_a.y, dart.mouth_b.y)
    share = body["upper_arm_length"] / body["outer_arm_length"]
    assert down / garment.fact("sleeve_length_left") == pytest.approx(share, abs=0.01)
    assert 0.53 <= share <= 0.59  # the elbow lies at 0.55 to 0.57 of the arm (ANSUR II, derived)


@pytest.mark.parametrize("rules", ["women", "men"])
@pytest.mark.parametrize("number", SOME[:4])
def test_elbow_dart_is_a_small_one(number: int, rules: Rules) -> None:
    """6 to 8 cm long, 1.5 to 2.5 cm wide (common practice), at most a quarter of the sleeve's width there."""
    sleeve = sleeved(brief_for(person(number, rules))).piece("sleeve-left")
    (dart,) = darts_of(sleeve)
    middle = dart.mouth_a.to(dart.mouth_b, 0.5)
    (front,) = sleeve.lines("underarm-front")
    reach = middle.distance(dart.point)
    assert 60.0 <= reach <= 80.0
    assert 15.0 <= intake(dart) <= 25.0
    assert reach <= front.path.nearest(middle)[1] / 4.0 + 1.0


def test_a_wider_elbow_dart_turns_the_forearm_farther_forward() -> None:
    """The forearm turned farther forward opens the back more; none at all is the straight sleeve."""
    brief = brief_for(mean_person())
    sleeves = [sleeved(brief, elbow_dart=width).piece("sleeve-left") for width in (15.0, 20.0, 25.0)]
    wrists = [sleeve.line("wrist").path.start.x for sleeve in sleeves]
    assert wrists == sorted(wrists, reverse=True)
    assert not darts_of(sleeved(brief, shape="straight").piece("sleeve-left"))


@pytest.mark.parametrize("shape", ["straight", "fitted"])
def test_a_hem_of_full_depth_turns_up_flat(shape: str) -> None:
    """The lower edge is straight, and 35 mm above it the sleeve is hardly wider: 3 to 4 cm are usual (from memory)."""
    for number in SOME:
        sleeve = sleeved(brief_for(person(number)), shape=shape).piece("sleeve-left")
        edge = sleeve.line("wrist").path
        assert edge.is_straight
        above = edge.offset(-35.0) if edge.offset(-35.0).bounds[3] > edge.bounds[3] else edge.offset(35.0)
        reached = above.extended(50.0, 50.0)
        at = [
            reached.crossings(line.path)[0].point
            for line in sleeve.lines(role=Role.UNDERARM)
            if reached.crossings(line.path)
        ]
        assert len(at) == 2
        assert at[0].distance(at[1]) == pytest.approx(edge.length, rel=0.03)


@pytest.mark.parametrize("number", SOME)
def test_the_hand_passes_with_a_centimetre_to_spare(number: int) -> None:
    """In a cloth that doesn't stretch, without an opening, and at a fitted sleeve's edge with 5 cm more at most.

    A semi-fitted one's has half of its fit's more ease; a relaxed sleeve is straight, and has all of that.
    """
    body = person(number)
    close, semi, relaxed = (
        sleeved(brief_for(body, fit)).piece("sleeve-left").line("wrist").path.length
        for fit in (Fit.CLOSE, Fit.SEMI, Fit.RELAXED)
    )
    assert close >= hand_passage(body["hand_girth"]) + 9.0
    assert close + 4.0 <= semi <= min(close + 6.0, body["hand_girth"] + 50.0)
    assert close + 30.0 <= relaxed <= close + 52.0


@pytest.mark.parametrize(
    ("asked", "cap", "bent"),
    [({}, "shirt", False), ({"shape": "fitted"}, "fitted", True), ({"cap": "fitted"}, "fitted", True)],
)
def test_an_elbow_dart_goes_with_a_fitted_cap(asked: dict[str, str], cap: str, bent: bool) -> None:
    """A relaxed sleeve is straight below its shirt's cap by rule; it had the elbow dart of a fitted one."""
    sleeve = sleeved(brief_for(person(SOME[0]), Fit.RELAXED), **asked).piece("sleeve-left")
    assert [mark.kind for mark in sleeve.of_kind(SleeveCap)] == [cap]
    assert bool(darts_of(sleeve)) is bent


def test_right_sleeve_is_the_left_one_turned_over() -> None:
    """Equal armholes take equal sleeves."""
    garment = sleeved(brief_for(mean_person()))
    left, right = garment.piece("sleeve-left"), garment.piece("sleeve-right")
    mirrored = Path.join(*(line.path.mirrored() for line in left.ring)).reversed()
    assert right.outline.area == pytest.approx(mirrored.area, abs=0.01)
    assert right.outline.bounds == pytest.approx(mirrored.bounds, abs=1e-6)
    assert {line.name for line in right.ring if line.role is Role.CAP} == {
        "cap-front/a", "cap-front/b", "cap-back/a", "cap-back/b",
    }  # fmt: skip


def test_uneven_armholes_take_sleeves_of_their_own() -> None:
    """One shoulder lower than the other: each cap is solved for its armhole, longer by 1/2 to 1 1/2 in (published)."""
    mean = mean_person()
    apart = {"shoulder_slope_left": math.radians(18.0), "shoulder_slope_right": math.radians(30.0)}
    brief = brief_for(Body("uneven", {**mean.values, **apart}))
    garment = sleeved(brief)
    assert faults(garment, brief) == []
    for side in ("left", "right"):
        cap, armhole = cap_and_armhole(garment, side)
        assert cap - armhole == pytest.approx(garment.fact(f"cap_ease_{side}"), abs=0.01)
        assert 13.0 <= cap - armhole <= 38.0


def test_one_sleeve_leaves_the_other_armhole_open() -> None:
    """A sleeve on the left alone."""
    garment = sleeved(brief_for(mean_person()), arm="left")
    assert not garment.has_piece("sleeve-right")
    assert "armhole-right" in garment.openings
    assert "wrist-left" in garment.openings


def test_an_arm_too_thick_for_the_armhole_is_refused() -> None:
    """The upper arm girth is named, and by how much it is too much."""
    mean = mean_person()
    brief = brief_for(Body("thick", {**mean.values, "upper_arm_girth": 520.0}))
    with pytest.raises(CannotDraft) as refused:
        sleeved(brief)
    assert refused.value.because == ("upper_arm_girth",)
    assert refused.value.short_by > 0.0


def test_bodice_keeps_its_armholes_lineage() -> None:
    """The parted armhole still answers to its name, its parts as long as before."""
    brief = brief_for(mean_person())
    before, after = bodice(brief), sleeved(brief)
    for piece in ("front", "back"):
        whole = before.piece(piece).line("armhole-left").path.length
        parts = after.piece(piece).lines("armhole-left")
        assert len(parts) == 2
        assert math.fsum(line.path.length for line in parts) == pytest.approx(whole, abs=0.001)


@pytest.mark.parametrize("number", [600])
def test_the_underarm_lowered_as_advised_gives_the_cap_its_height(number: int) -> None:
    """A cap that is low for its armhole: the mend told, taken as it stands, brings it to what is wanted."""
    job = replace(job_of("fitted-bodice"), brief=brief_for(person(number), Fit.CLOSE))
    (low,) = {row.wanted for row in fit_rows(draft_job(job), job.brief) if row.name == "cap_height" and row.wanted}
    by = float(render(say("{by}", by=dict(low.values)["by"]), "cm").removesuffix(" cm"))
    after = draft_job(with_changes(job, [("underarm", {"by": 10.0 * by})]))
    assert not any(row.beyond for row in fit_rows(after, job.brief) if row.name == "cap_height")


def test_a_thick_arm_gets_an_armhole_long_enough_for_a_fitted_cap() -> None:
    """A cap 0.30 of it high, eased by 4 to 7 % (from memory); 2.5 to 4 cm beyond the body's at most for that."""
    thick = Body("thick", {**mean_person().values, "upper_arm_girth": mean_person()["upper_arm_girth"] + 15.0})
    cap, armhole = cap_and_armhole(garment := sleeved(brief_for(thick, Fit.CLOSE)))
    by_the_body = cap_and_armhole(sleeved(brief_for(mean_person(), Fit.CLOSE)))[1]
    assert by_the_body + 3.0 < armhole < thick["armscye_girth"] + 40.0
    assert garment.fact("cap_height_left") / armhole > 0.295
    assert 0.04 < cap / armhole - 1.0 < 0.07
