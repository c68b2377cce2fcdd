"""A woven without sleeves: its underarm raised and taken in, its armholes judged as bare ones, panels or not."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from blocks.band import draft_armhole_bands
from blocks.band_options import ArmholeBandOptions
from blocks.darted_bodice import DartedBodiceOptions, draft_darted_bodice
from drafting.body import Body, Rules, make_body
from drafting.cloth import Fit
from drafting.garment import Brief, Garment, Side
from drafting.garment.armholes import take_armhole
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.fit import fit_rows
from drafting.proof.fit.armholes import RAISED_FOR_LENGTH
from tests.blocks_woven.people import POPLIN, bodice, brief_for, faults, mean_person, person, told
from tests.laws.jobs import job_of, with_changes


def bare(brief: Brief) -> Garment:
    """The darted bodice without sleeves."""
    return draft_darted_bodice.apply(Garment(), brief, DartedBodiceOptions())


def test_a_sleeveless_underarm_is_raised_and_taken_in() -> None:
    """1 to 1.5 cm up, and each side in by as much, less where that is no wider than a close one's (from memory)."""
    brief = brief_for(person(200), Fit.RELAXED)
    one, two = bodice(brief), bare(brief)
    raised, narrower = (one.fact(name) - two.fact(name) for name in ("scye_depth", "underarm_girth"))
    assert 10.0 <= raised <= 15.0
    assert 5.0 <= narrower / 2.0 <= 15.0
    assert faults(two, brief) == []


@pytest.mark.parametrize(("slope", "noted"), [(0.0, False), (7.0, True)])
def test_an_underarm_rises_by_a_centimetre_at_least_or_it_is_told(slope: float, noted: bool) -> None:
    """An ordinary man's too, taken in by less for that; over sloping shoulders the armscye's length forbids it."""
    mean = mean_person("men")
    body = Body("man", {**mean.values, "shoulder_slope": mean["shoulder_slope"] + math.radians(slope)}, rules="men")
    brief = brief_for(body, Fit.CLOSE)
    one, two = bodice(brief), bare(brief)
    row = next(row for row in fit_rows(two, brief) if row.name == "underarm_raised")
    assert one.fact("scye_depth") - two.fact("scye_depth") == pytest.approx(row.garment, abs=0.1)
    assert (row.beyond != 0.0) is noted
    assert noted or 10.0 - 1e-3 <= row.garment <= 15.0


def test_each_underarm_of_uneven_shoulders_is_told_of() -> None:
    """A rule that gives way on one side alone gives a row there, as it does where both sides agree."""
    mean = mean_person("women").values
    given = {name: value for name, value in mean.items() if name != "shoulder_slope"}
    slopes = {"shoulder_slope_left": math.radians(18.0), "shoulder_slope_right": math.radians(30.0)}
    brief = brief_for(make_body("uneven", {**given, **slopes}), Fit.SEMI)
    rows = {row.place: row.garment for row in fit_rows(bare(brief), brief) if row.name == "underarm_raised"}
    assert list(rows) == ["armhole-left", "armhole-right"]
    assert rows["armhole-left"] != pytest.approx(rows["armhole-right"], abs=0.1)


@pytest.mark.parametrize(("number", "fit"), [(70, Fit.CLOSE), (330, Fit.CLOSE), (812, Fit.SEMI)])
def test_a_bare_armhole_still_goes_round_the_arm(number: int, fit: Fit) -> None:
    """However close the fit, it is as long as the body's and wider than the arm is thick, and lies below the armpit."""
    body = person(number)
    hole = take_armhole(bare(brief_for(body, fit)), Side.LEFT)
    assert hole is not None
    assert hole.bare
    assert hole.length >= body["armscye_girth"] - 1e-3
    assert hole.width >= body["upper_arm_girth"] / math.pi
    assert hole.depth >= body["scye_depth_length"]


@pytest.mark.parametrize(("number", "rules"), [(5, "women"), (600, "women"), (960, "women"), (360, "men")])
@pytest.mark.parametrize("has_sleeves", [True, False])
def test_a_looser_armhole_is_deeper_and_no_narrower(number: int, rules: Rules, has_sleeves: bool) -> None:
    """A relaxed one lies 1 to 2.5 cm below the close one (from memory), whatever lowered or raised that."""
    close, relaxed = (
        take_armhole((bodice if has_sleeves else bare)(brief_for(person(number, rules), fit)), Side.LEFT)
        for fit in (Fit.CLOSE, Fit.RELAXED)
    )
    assert close is not None
    assert relaxed is not None
    assert 10.0 - 0.1 <= relaxed.depth - close.depth <= 25.0
    assert relaxed.width >= close.width - 1e-3


def test_an_armhole_on_a_panel_is_as_wide_as_without_the_panel_seam() -> None:
    """The panel, turned on paper by what the bust dart took in, is laid back by the angle of its shoulder."""
    brief = Brief(person(5), POPLIN, Fit.SEMI)
    plain, panels = (draft_job(with_changes(job_of(name), [], brief)) for name in ("sheath-dress", "princess-top"))
    rows = [row for row in fit_rows(panels, brief) if row.name == "armhole_width"]
    assert len(rows) == 2
    assert all(row.least is not None for row in rows)
    for side, row in zip((Side.LEFT, Side.RIGHT), rows, strict=True):
        hole = take_armhole(plain, side)
        assert hole is not None
        assert row.garment == pytest.approx(hole.width, abs=0.5)


def test_a_close_fit_that_thick_arms_dont_let_be_reached_is_warned_of() -> None:
    """A bust with over 3 cm more ease than the fit asks is the next looser fit's (from memory); others hear nothing."""
    told = {}
    for number in (330, 5):
        brief = brief_for(person(number), Fit.CLOSE)
        told[number] = [row for row in fit_rows(bare(brief), brief) if row.name == "bust_width" and row.beyond > 0.0]
    assert [row.severity for row in told[330]] == ["warning"]
    assert not told[5]


def test_taking_the_sleeves_off_draws_the_sleeveless_armhole() -> None:
    """As if none had ever been set in; with the sleeve of one side alone left out both stay as they are set in."""
    brief = brief_for(person(200), Fit.RELAXED)
    with_sleeves, without, one = (
        draft_job(with_changes(job_of("fitted-bodice"), changes, brief))
        for changes in ([], [("sleeveless", {})], [("sleeveless", {"side": "left"})])
    )
    never = draft_darted_bodice.apply(Garment(), brief, DartedBodiceOptions(to="hip"))
    taken, bare_one, none, left = (take_armhole(each, Side.LEFT) for each in (with_sleeves, without, never, one))
    assert taken is not None
    assert bare_one is not None
    assert left is not None
    assert none is not None
    assert (bare_one.length, bare_one.width) == pytest.approx((none.length, none.width), abs=1e-6)
    assert 10.0 <= taken.depth - bare_one.depth <= 15.0
    assert left.depth == pytest.approx(taken.depth)
    assert "fit.armhole_length" not in {finding.code for finding in prove(without, brief).findings}


@pytest.mark.parametrize("by", [-6.0, 6.0])
def test_moving_an_underarm_keeps_the_back_of_the_armhole_the_longer(by: float) -> None:
    """A front that leaves its side seam less than square, above a bust dart, does so where it is drawn again."""
    brief = brief_for(person(960), Fit.CLOSE)
    before, after = (
        take_armhole(draft_job(with_changes(job_of("fitted-bodice"), changes, brief)), Side.LEFT)
        for changes in ([], [("underarm", {"by": by})])
    )
    assert before is not None
    assert after is not None
    assert after.back - after.front == pytest.approx(before.back - before.front, abs=3.0)


@pytest.mark.parametrize("by", [-5.0, -10.0, -15.0])
def test_an_underarm_is_raised_up_to_the_armpit_whatever_the_bust_dart_turns_up(by: float) -> None:
    """A front's, turned up on the paper by its dart, isn't taken for one above the armpit; no level is off for it."""
    brief = brief_for(person(200), Fit.SEMI)
    proof = prove(draft_job(with_changes(job_of("fitted-bodice"), [("underarm", {"by": by})], brief)), brief)
    rows = {row.name: row for row in proof.fit if row.name in ("bust_level", "armhole_depth")}
    assert all(row.beyond == 0.0 for row in rows.values())


@pytest.mark.parametrize("fit", tuple(Fit))
def test_a_low_underarm_is_told_but_where_a_change_lowers_it(fit: Fit) -> None:
    """A woven's lies 1 to 4 cm below the armpit (from memory), the looser the lower; lower by a change, it is meant."""
    brief = brief_for(person(200), fit)
    plain, lowered = (
        draft_job(with_changes(job_of("fitted-bodice"), c, brief)) for c in ([], [("underarm", {"by": 30.0})])
    )
    one, two = (next(row for row in fit_rows(each, brief) if row.name == "armhole_depth") for each in (plain, lowered))
    assert one.beyond == two.beyond == 0.0
    assert two.meant == pytest.approx(two.garment - one.garment)
    deep = replace(brief, body=Body("her", {**brief.body.values, "scye_depth_length": one.garment - one.most - 2.0}))
    assert next(row for row in fit_rows(plain, deep) if row.name == "armhole_depth").beyond > 0.0


def test_a_relaxed_bare_armhole_is_noted_where_it_lies_low() -> None:
    """From 4 cm below the armpit (from memory) without a sleeve, and warned of only where a sleeved one is."""
    brief = brief_for(person(200), Fit.RELAXED)
    garment = bare(brief)
    depth = next(row for row in fit_rows(garment, brief) if row.name == "armhole_depth").garment
    for below, severity in ((39.0, None), (42.0, Severity.NOTE), (47.0, Severity.WARNING)):
        her = Body("her", {**brief.body.values, "scye_depth_length": depth - below, "armscye_girth": 300.0})
        row = next(row for row in fit_rows(garment, replace(brief, body=her)) if row.name == "armhole_depth")
        assert (row.severity if row.beyond > 0.0 else None) is severity


def test_raising_a_long_armholes_underarm_as_advised_mends_it() -> None:
    """What the finding names is accepted, brings the armhole within its limit, and warns of nothing new."""
    brief, lower = brief_for(person(606), Fit.SEMI), 10.0
    proof = prove(draft_job(with_changes(job_of("fitted-bodice"), [("underarm", {"by": lower})], brief)), brief)
    row = next(row for row in proof.fit if row.name == "armhole_length")
    assert row.beyond > 0.0
    assert row.wanted is not None
    by = lower - math.ceil(row.beyond * RAISED_FOR_LENGTH)
    mended = prove(draft_job(with_changes(job_of("fitted-bodice"), [("underarm", {"by": by})], brief)), brief)
    assert next(row for row in mended.fit if row.name == "armhole_length").beyond <= 0.0
    told, still = ({found.code for found in each.findings if found.severity != "note"} for each in (proof, mended))
    assert still < told


def test_an_armhole_far_too_long_for_its_sleeve_is_no_armhole() -> None:
    """An arm can't be raised in it: an error, whatever asked for it."""
    brief = brief_for(person(606), Fit.SEMI)
    first, *others = with_changes(job_of("fitted-bodice"), [], brief).steps
    deep = replace(first, options=DartedBodiceOptions(to="hip", underarm_drop=120.0))
    far = replace(with_changes(job_of("fitted-bodice"), [], brief), steps=(deep, *others))
    row = next(row for row in prove(draft_job(far), brief).fit if row.name == "armhole_length")
    assert row.beyond > 60.0
    assert row.severity is Severity.ERROR


@pytest.mark.parametrize(("number", "rules"), [(400, "women"), (600, "men")])
def test_a_bare_armhole_is_cut_in_for_its_underarm_to_be_raised(number: int, rules: Rules) -> None:
    """In front by up to 1 cm, the shoulder's end and the back by half of that (from memory); all of it is meant."""
    brief = brief_for(person(number, rules), Fit.CLOSE)
    garment = bare(brief)
    front, back = (told(garment, name) for name in ("armhole_cut_in", "armhole_cut_in_back"))
    assert 0.0 < front <= 10.0
    assert back == pytest.approx(front / 2.0)
    shoulder = garment.piece("front").line("shoulder-left").path.length
    longer = told(garment, "shoulder_lengthened")
    assert shoulder == pytest.approx(brief.body["shoulder_length"] + longer - back, abs=0.01)
    assert not any(
        row.beyond for row in fit_rows(garment, brief) if row.name in ("shoulder_length", "across_back_width")
    )


@pytest.mark.parametrize(("width", "severity"), [(8.0, "warning"), (20.0, "error")])
def test_a_band_on_a_wovens_armhole_is_judged_by_its_edge(width: float, severity: str) -> None:
    """A woven isn't drafted smaller for it: what it leaves the arm is told, and fails where the arm has no room."""
    brief = brief_for(mean_person("women"))
    banded = draft_armhole_bands.apply(bare(brief), brief, ArmholeBandOptions(width=width))
    bared, row = (
        next(each for each in fit_rows(garment, brief) if each.name == "armhole_width")
        for garment in (bare(brief), banded)
    )
    assert row.garment == pytest.approx(bared.garment - 2.0 * width)
    assert row.beyond < 0.0
    assert row.severity.value == severity
