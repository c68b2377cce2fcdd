"""The bust dart as a cutter judges it: where it opens, where it ends, what it takes in (limits from memory)."""

from __future__ import annotations

import math
from functools import cache

import pytest

from blocks.darted_bodice import draft_darted_bodice
from drafting.body import Body, make_body
from drafting.changes.darts.move import MoveDartOptions, move_dart
from drafting.changes.darts.panel import PanelSeamOptions, draw_panel_seam
from drafting.changes.darts.split import JoinDartsOptions, join_darts
from drafting.changes.fit.bust import FullBustOptions, SmallBustOptions, fit_full_bust, fit_small_bust
from drafting.changes.fit.shoulder_height import LowOptions, fit_low_shoulder
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Garment, Side, sum_departures
from drafting.garment.darts import Dart, angle, dart_of, darts_of, intake
from drafting.garment.over_bust import find_marked_bust
from drafting.proof import prove
from drafting.proof.fit import FitRow, fit_rows
from drafting.proof.fit.retake import Retake
from drafting.redraw import split_darts
from drafting.saying import render
from tests.blocks_woven.people import POPLIN, bodice, brief_for, mean_person, people, person
from tests.garments import brief, build

WOMEN = range(4, len(people("women")), 75)
LENGTHS = ("side_neck_point_to_waist_over_bust", "side_neck_point_to_bust_point", "front_neck_point_to_waist")
FULLEST = 108
"""Whose bust dart takes in the most of every twelfth woman: 64 mm."""


@cache
def made(number: int, fit: Fit = Fit.SEMI) -> Garment:
    """A woman's bodice to the waist."""
    return bodice(brief_for(person(number), fit))


def bust_dart(garment: Garment) -> Dart | None:
    """The left bust dart, if there is one."""
    return next((dart for dart in darts_of(garment.piece("front")) if dart.name == "bust-left"), None)


def row(garment: Garment, number: int, name: str) -> FitRow | None:
    """A row of the table of fit about the left bust dart."""
    rows = fit_rows(garment, brief_for(person(number)))
    return next((each for each in rows if each.name == name and each.place == "front.dart-bust-left"), None)


def test_it_opens_five_to_eight_centimetres_below_the_underarm() -> None:
    """For nine women in ten; at 4 cm where the bust points lie high, at 9 where they lie low."""
    mouths = [found.garment for n in WOMEN if (found := row(made(n), n, "dart_mouth")) is not None]
    assert len(mouths) > len(WOMEN) * 0.8
    assert all(39.5 <= mouth <= 90.0 for mouth in mouths)
    assert sum(50.0 <= mouth <= 80.0 for mouth in mouths) >= 0.85 * len(mouths)


@pytest.mark.parametrize("number", [165, 360, FULLEST])
def test_it_is_level_or_rises_to_its_point_and_one_that_falls_is_told(number: int) -> None:
    """On low busts it fell by 5 to 8 degrees, without a word; 3 are unseen (from memory). No row minds its mouth."""
    pitch, mouth = (row(made(number, Fit.CLOSE), number, name) for name in ("bust_dart_pitch", "dart_mouth"))
    assert pitch is not None
    assert mouth is not None
    assert math.degrees(pitch.garment) >= -3.0
    assert pitch.beyond == mouth.beyond == 0.0


def test_one_that_opens_high_in_the_side_is_told_to_fall() -> None:
    """As asked for: its mouth lies well above its point."""
    garment = bodice(brief_for(person(165), Fit.CLOSE), bust_dart_drop=-20.0)
    told = row(garment, 165, "bust_dart_pitch")
    assert told is not None
    assert told.beyond < 0.0
    assert told.severity == "warning"


def test_none_is_drawn_that_is_too_small_to_sew() -> None:
    """Less than 1 cm (common practice) is left in the armhole, also where a dart was made smaller for being steep."""
    men = [bodice(brief_for(person(number, "men"), Fit.CLOSE)) for number in range(0, 884, 104)]
    taken = [intake(dart) for garment in men if (dart := bust_dart(garment)) is not None]
    assert len(taken) > len(men) / 2
    assert min(taken) >= 10.0 - 1e-6


def test_a_full_cup_has_its_dart_or_is_told() -> None:
    """A bust 12 cm more than the under bust has 15 to 20 mm of dart (from memory), as far as two tapings differ.

    Beyond that what was measured is asked for again; where the length over the bust is estimated, the dart follows.
    """
    small = bust_dart(made(750))
    assert small is not None
    assert 15.0 <= intake(small) <= 20.0
    rows = {number: list(fit_rows(made(number), brief_for(person(number)))) for number in (136, 4)}
    told = {number: next(r for r in each if r.name == "bust_dart_for_cup") for number, each in rows.items()}
    assert told[136].beyond < 0.0 == told[4].beyond
    assert isinstance(told[136].remedy, Retake)
    assert "over" in render(told[136].remedy.words(person(136)), "cm")
    given = {name: value for name, value in people("women")[136].items() if name not in LENGTHS}
    followed = bust_dart(bodice(brief_for(make_body("estimated", given, rules="women"))))
    assert followed is not None
    assert 45.0 <= intake(followed) <= 60.0


@pytest.mark.parametrize("number", WOMEN)
def test_what_it_takes_in_is_the_bodys_whatever_the_fit(number: int) -> None:
    """Close, semi-fitted and relaxed take in the same to 5 mm; ease is no shape."""
    darts = [bust_dart(made(number, fit)) for fit in Fit]
    taken = [intake(dart) if dart is not None else 0.0 for dart in darts]
    assert max(taken) - min(taken) <= 5.0


def test_a_full_dart_is_split_by_rule_and_in_one_is_told() -> None:
    """Over 6 cm is shared with a second dart, from the shoulder, and nothing is found; joined, it is warned of."""
    garment, brief = made(FULLEST), brief_for(person(FULLEST))
    first, second = (dart_of(garment.piece("front"), name) for name in ("bust-left", "bust-2-left"))
    assert not {f.code for f in prove(garment, brief).findings} & {"fit.dart_intake", "fit.dart_point"}
    assert angle(first) == pytest.approx(angle(second))
    joined = join_darts.apply(garment, brief, JoinDartsOptions(dart="bust", take="bust-2"))
    dart = bust_dart(joined)
    assert dart is not None
    assert intake(dart) > 60.0 > intake(first)
    assert 40.0 <= dart.set_back <= 50.0
    assert first.set_back < dart.set_back - 5.0
    assert "fit.dart_intake" in {finding.code for finding in prove(joined, brief).findings}
    panelled = draw_panel_seam.apply(garment, brief, PanelSeamOptions(on="front"))
    assert not [d for piece in panelled.pieces for d in darts_of(piece) if d.stem.startswith("bust")]


def test_a_low_shoulder_leaves_the_other_sides_two_darts_and_says_where_it_keeps_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Both sides keep two, the other's line by line; where a second can't be drawn again, a note says why."""
    garment, brief = made(FULLEST), brief_for(person(FULLEST))

    def lower() -> tuple[list[str], Garment]:
        low = fit_low_shoulder.apply(garment, brief, LowOptions(by=10.0))
        was, now = ({line.name: line.path for line in each.piece("front").ring} for each in (garment, low))
        assert all(now[name].same_as(was[name]) for name in was if "left" in name)
        return sorted(d.seam for d in darts_of(low.piece("front")) if d.stem.startswith("bust")), low

    darts, low = lower()
    assert darts == [f"dart-{stem}-{side}" for stem in ("bust-2", "bust") for side in ("left", "right")]
    assert not [note for note in low.notes if "stays one" in render(note, "cm")]

    def refuse(*_: object) -> Garment:
        raise CannotDraft("to", "the shoulder is too short")

    monkeypatch.setattr(split_darts, "split_in_two", refuse)
    darts, low = lower()
    assert darts == ["dart-bust-2-left", "dart-bust-left", "dart-bust-right"]
    (told,) = (render(note, "cm") for note in low.notes if "stays one" in render(note, "cm"))
    assert "right" in told
    assert "too short" in told


def test_a_fuller_bust_that_brings_more_than_one_dart_takes_gets_two() -> None:
    """A full bust of 3 cm a side on a bust that had a dart of less than 6 cm; a smaller one is one dart again."""
    number = WOMEN[3]
    garment, brief = made(number), brief_for(person(number))
    before = bust_dart(garment)
    assert before is not None
    fuller = fit_full_bust.apply(garment, brief, FullBustOptions(by=35.0))
    after, second = (dart_of(fuller.piece("front"), name) for name in ("bust-left", "bust-2-left"))
    assert angle(after) + angle(second) > angle(before)
    assert max(intake(before), intake(after)) < 60.0
    for each in (garment, fuller):
        assert "fit.dart_intake" not in {finding.code for finding in prove(each, brief).findings}
    smaller = fit_small_bust.apply(fuller, brief, SmallBustOptions(by=30.0))
    assert [d.stem for d in darts_of(smaller.piece("front")) if d.stem.startswith("bust")] == ["bust", "bust"]


def test_a_full_bust_without_a_dart_is_told() -> None:
    """12 cm over the under bust (from memory), but no longer over the bust than the back; its darts are the waist's."""
    mean = mean_person()
    flat = {"side_neck_point_to_waist_over_bust": mean["back_neck_point_to_waist"] - 10.0}
    for under, told in ((130.0, True), (110.0, False)):
        body = Body("flat", {**mean.values, **flat, "under_bust_girth": mean["bust_girth"] - under})
        found = {finding.code for finding in prove(bodice(brief_for(body), to="hip"), brief_for(body)).findings}
        assert ("fit.bust_undarted" in found) is told
    assert "fit.bust_undarted" not in {
        f.code for f in prove(bodice(brief_for(mean), to="hip"), brief_for(mean)).findings
    }


def test_a_smaller_bust_on_a_front_without_a_dart_is_refused_as_flat() -> None:
    """There is nothing to take out: not that a dart was moved or split."""
    with pytest.raises(CannotDraft, match="drafted flat, without a bust dart"):
        fit_small_bust.apply(made(29), brief_for(person(29)), SmallBustOptions(by=10.0))


def test_a_bust_made_smaller_than_its_darts_allow_is_told_by_how_much_it_can_be() -> None:
    """The figure told can be drafted and proves, its bust's level as far up as the bust points; 2 mm more can't."""
    b = brief("soprano", cloth=POPLIN, rib=POPLIN)
    plans = [(draft_darted_bodice, {"to": "hip"})]
    with pytest.raises(CannotDraft, match="dart would take in less") as refused:
        build(b, plans, [(fit_small_bust, {"by": 30.0})])
    most = 30.0 - refused.value.short_by
    assert render(refused.value.help, "mm") == f"make it {most:.0f} mm at most"
    with pytest.raises(CannotDraft):
        build(b, plans, [(fit_small_bust, {"by": most + 2.0})])
    small = build(b, plans, [(fit_small_bust, {"by": most})])
    before, after = (find_marked_bust(garment, Side.LEFT) for garment in (build(b, plans), small))
    assert before is not None
    assert after is not None
    assert sum_departures(small, "bust", "front-left") == pytest.approx(before.y - after.y, abs=1e-6)
    assert before.y - after.y < 0.0
    assert not [f for f in prove(small, b).findings if f.code == "fit.bust_level"]


def test_a_full_bust_makes_the_dart_that_the_block_drew_none_of() -> None:
    """Slashed and spread, the front gets a dart from the side towards the bust point, and is not undarted any more."""
    mean = mean_person()
    flat = {"side_neck_point_to_waist_over_bust": mean["back_neck_point_to_waist"] - 10.0}
    asked = brief_for(Body("flat", {**mean.values, **flat, "under_bust_girth": mean["bust_girth"] - 130.0}))
    plain = bodice(asked, to="hip")
    assert bust_dart(plain) is None
    spread = fit_full_bust.apply(plain, asked, FullBustOptions(by=15.0))
    dart = bust_dart(spread)
    assert dart is not None
    assert 5.0 < intake(dart) < 40.0
    assert 20.0 <= dart.set_back <= 50.0
    before, after = ({f.code for f in prove(each, asked).findings if f.severity != "note"} for each in (plain, spread))
    assert "fit.bust_undarted" in before
    assert after < before


@pytest.mark.parametrize("to", ["neckline 0.6", "centre 0.5", "centre 0.2"])
def test_a_dart_beside_the_neck_is_folded_before_the_shoulder_is_judged(to: str) -> None:
    """It turns the shoulder on the paper by its angle; sewn, the shoulder is as long and as steep as it was."""
    number = WOMEN[4]
    garment, brief = made(number), brief_for(person(number))
    turned = move_dart.apply(garment, brief, MoveDartOptions(to=to))
    for name in ("shoulder_slope", "shoulder_length"):
        was, now = ([row.garment for row in fit_rows(g, brief) if row.name == name] for g in (garment, turned))
        assert now == pytest.approx(was, abs=1e-6)


def test_a_dart_is_told_by_its_mouth_and_held_by_its_angle() -> None:
    """Turned to the shoulder it takes in more at its longer mouth, and may by as much more."""
    number = WOMEN[3]
    garment, brief = made(number), brief_for(person(number))
    turned = move_dart.apply(garment, brief, MoveDartOptions())
    before, after = (
        next(row for row in fit_rows(each, brief) if row.name == "dart_intake" and "dart-bust-left" in row.place)
        for each in (garment, turned)
    )
    now = bust_dart(turned)
    assert now is not None
    assert after.garment == pytest.approx(intake(now))
    most, was = after.bounds[1], before.bounds[1]
    assert most is not None
    assert was is not None
    assert most / was == pytest.approx(after.garment / before.garment, rel=0.1)


def test_a_dart_that_a_fuller_bust_splits_is_told_and_none_beside_it_passes() -> None:
    """The second opens in the shoulder at 0.45 by rule; the first turned to 0.5 has its mouth under 2.5 cm from it."""
    number = WOMEN[3]
    brief = brief_for(person(number))
    split = fit_full_bust.apply(made(number), brief, FullBustOptions(by=30.0))
    near = move_dart.apply(split, brief, MoveDartOptions())
    told, warned = ({f.code: f for f in prove(each, brief).findings} for each in (split, near))
    assert told["fit.dart_split"].severity == "note"
    assert '"bust-2"' in str(told["fit.dart_split"].sentence)
    assert "fit.dart_mouths" not in told
    assert warned["fit.dart_mouths"].severity == "warning"


@pytest.mark.parametrize("to", ["side 0.6", "side 0.85"])
def test_a_dart_turned_low_in_the_side_is_a_french_dart(to: str) -> None:
    """A long dart that slants up: its legs are equal, and it ends 2 to 5 cm short of the bust point, by its intake."""
    drawn = 0
    for number in WOMEN[:10]:
        before = bust_dart(made(number))
        if before is None:
            continue
        dart = bust_dart(move_dart.apply(made(number), brief_for(person(number)), MoveDartOptions(to=to)))
        assert dart is not None
        way = dart.point - dart.middle
        legs = [dart.point.distance(mouth) for mouth in (dart.mouth_a, dart.mouth_b)]
        assert legs[0] == pytest.approx(legs[1], abs=0.01)
        assert angle(dart) == pytest.approx(angle(before))
        assert dart.set_back == pytest.approx(min(max(15.0 + intake(dart) / 2.0, 20.0), 50.0), abs=0.01)
        assert way.y > (0.3 if to == "side 0.85" else 0.0) * abs(way.x)
        assert dart.mouth_a.y < before.mouth_a.y - 20.0
        drawn += 1
    assert drawn >= 8


def test_a_dart_turned_to_a_longer_place_ends_farther_off_and_comes_back_as_it_was() -> None:
    """At the shoulder a dart opens wider and ends farther from the bust point; turned back, it is as it was."""
    number = WOMEN[3]
    garment, brief = made(number), brief_for(person(number))
    before = bust_dart(garment)
    assert before is not None
    turned = move_dart.apply(garment, brief, MoveDartOptions(to="shoulder 0.5"))
    there = bust_dart(turned)
    assert there is not None
    assert there.set_back == pytest.approx(min(15.0 + intake(there) / 2.0, 50.0), abs=0.01)
    assert intake(there) > intake(before)


def test_a_wovens_armhole_is_held_to_where_it_is_narrowest() -> None:
    """As it lies once the shoulder's dart is folded: a dart turned there from the side changes nothing."""
    number = WOMEN[3]
    garment, brief = made(number), brief_for(person(number))
    turned = move_dart.apply(garment, brief, MoveDartOptions())
    one, two = (
        [row.garment for row in fit_rows(each, brief) if row.name == "armhole_narrowest"] for each in (garment, turned)
    )
    assert len(one) == 2
    assert two == pytest.approx(one, abs=0.03)
    assert "armhole_narrowest" not in {
        row.name for row in fit_rows(move_dart.apply(garment, brief, MoveDartOptions(to="armhole 0.4")), brief)
    }
