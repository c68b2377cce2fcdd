"""The back's darts and the neck of a darted bodice, by the body they are for (limits from memory)."""

from __future__ import annotations

import pytest

from drafting.body import Body, Rules
from drafting.changes.darts.move import move_dart
from drafting.cloth import Fit
from drafting.garment import Garment
from drafting.garment.darts import Dart, darts_of, intake
from drafting.proof.fit import fit_rows
from tests.blocks_woven.people import bodice, brief_for, mean_person, people, person


def back_dart(garment: Garment, name: str) -> Dart | None:
    """A left dart of the back, if it is there."""
    return next((dart for dart in darts_of(garment.piece("back")) if dart.name == f"{name}-left"), None)


def shoulder_intake(**other: float) -> float:
    """What the back shoulder's dart takes in on the mean woman, with some measurements of her other."""
    dart = back_dart(bodice(brief_for(Body("other", {**mean_person().values, **other}))), "shoulder")
    assert dart is not None
    return intake(dart)


def test_the_shoulders_dart_is_the_bodys() -> None:
    """A longer shoulder and a back that stoops have more in it, one that is erect less: 10 to 18 mm, or it is eased."""
    mean = mean_person()
    usual, back = shoulder_intake(), mean["back_neck_point_to_waist"]
    assert shoulder_intake(shoulder_length=mean["shoulder_length"] + 15.0) == pytest.approx(usual + 1.2, abs=0.01)
    assert shoulder_intake(back_neck_point_to_waist=back + 20.0) == pytest.approx(usual + 2.0, abs=0.01)
    assert shoulder_intake(back_neck_point_to_waist=back - 5.0) == pytest.approx(usual - 0.5, abs=0.01)
    erect = Body("erect", {**mean.values, "back_neck_point_to_waist": back - 50.0})
    assert back_dart(bodice(brief_for(erect)), "shoulder") is None
    found = [back_dart(bodice(brief_for(person(n))), "shoulder") for n in range(0, len(people("women")), 150)]
    taken = {round(intake(dart), 1) for dart in found if dart is not None}
    assert len(taken) > 4
    assert all(10.0 <= each <= 18.0 for each in taken)


def test_a_body_with_a_belly_keeps_its_back_darts_to_the_hip() -> None:
    """A waist as wide as the bust has no dart in front; over the seat the back is hollow still. The girths hold."""
    mean = mean_person()
    body = Body("belly", {**mean.values, "waist_girth": mean["bust_girth"], "hip_girth": mean["bust_girth"] + 90.0})
    garment = bodice(brief_for(body), to="hip")
    dart = back_dart(garment, "waist-back")
    assert dart is not None
    assert 10.0 <= intake(dart) <= 14.0
    assert not [each for each in darts_of(garment.piece("front")) if each.stem == "waist-front"]
    waist = sum(level.path.length for piece in garment.pieces for level in piece.levels if level.name == "waist")
    assert waist == pytest.approx(body["waist_girth"] + 40.0, abs=0.1)


@pytest.mark.parametrize("rules", ["women", "men"])
@pytest.mark.parametrize("number", range(9, 600, 120))
def test_the_neck_is_a_little_deeper_than_half_its_width(rules: Rules, number: int) -> None:
    """By 0.5 to 1 cm on everybody, its seam 0 to 2 cm longer than the neck base; the proof tells both."""
    brief = brief_for(person(number, rules), Fit.SEMI)
    rows = {row.name: row for row in fit_rows(bodice(brief), brief)}
    assert 5.0 - 0.01 <= rows["neck_depth"].off <= 10.0 + 0.01
    assert 0.0 <= rows["neck_seam"].off <= 20.0
    assert not rows["neck_depth"].beyond


@pytest.mark.parametrize("to", ["neckline 0.5", "neckline 0.2", "shoulder 0.5", "armhole 0.4"])
def test_the_neck_is_taken_with_its_darts_folded_shut(to: str) -> None:
    """Wherever the bust dart is turned to, the front's neck is as wide and as deep as it was drafted."""
    brief = brief_for(mean_person("women"), Fit.SEMI)
    before = bodice(brief)
    after = move_dart.apply(before, brief, move_dart.options(dart="bust", to=to))
    one, two = (next(row for row in fit_rows(each, brief) if row.name == "neck_depth") for each in (before, after))
    assert (two.body, two.garment) == pytest.approx((one.body, one.garment), abs=0.01)
