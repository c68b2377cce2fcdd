"""A knit front without darts against the body over the bust: told, found where it is short, and mended."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.body import make_body
from drafting.changes.fit.bust import fit_full_bust
from drafting.cloth import Fit
from drafting.garment import Brief
from drafting.proof import Proof, Severity, prove
from drafting.proof.fit.lengths import length_rows
from drafting.ticket import find_catalogue
from tests.blocks_woven.people import POPLIN
from tests.garments import BODY, SINGERS, brief, build


def full(more: float) -> Brief:
    """The soprano, longer over the bust than she is estimated to be by so many mm."""
    rules, given = SINGERS["soprano"]
    length = make_body("soprano", given, rules=rules)["side_neck_point_to_waist_over_bust"]
    return brief(make_body("soprano", {**given, "side_neck_point_to_waist_over_bust": length + more}, rules=rules))


def short(proof: Proof) -> list[str]:
    """Where a front was found short."""
    return [found.place for found in proof.findings if found.code == "fit.front_over_bust"]


@pytest.mark.parametrize(("more", "told"), [(40.0, Severity.NOTE), (45.0, Severity.WARNING)])
def test_a_front_that_misses_by_a_hair_is_noted(more: float, told: Severity) -> None:
    """By 3 mm or less no one is warned: two tapings of the body's length differ by more (from memory)."""
    b = full(more)
    row = next(row for row in prove(build(b, BODY), b).fit if row.name == "front_over_bust")
    assert row.beyond < 0.0
    assert row.severity is told


@pytest.mark.parametrize(("more", "found"), [(0.0, 0), (15.0, 0), (60.0, 1)])
def test_a_front_more_than_2_cm_short_over_the_bust_is_found(more: float, found: int) -> None:
    """1 to 2 cm are eased, or the knit stretches (common practice); the finding tells both sides."""
    b = full(more)
    proof = prove(build(b, BODY), b)
    assert len(short(proof)) == found
    rows = [row for row in proof.fit if row.name == "front_over_bust"]
    assert len(rows) == 2
    assert all(row.body == b.body["side_neck_point_to_waist_over_bust"] for row in rows)


def test_a_full_bust_makes_it_longer_but_never_by_what_is_missing() -> None:
    """It comes nearer by what the change adds; no change is advised, for a side takes less than what is found."""
    b = full(45.0)
    before, after = (build(b, BODY, plans) for plans in ((), ((fit_full_bust, {"by": 20.0}),)))
    own = [next(row for row in prove(g, b).fit if row.name == "front_over_bust").garment for g in (before, after)]
    assert own[1] - own[0] == pytest.approx(after.fact("bust_spread_length_left"), abs=0.5)
    (first, *_) = [f for f in prove(before, b, advisor=find_catalogue().find_mends).findings if "over_bust" in f.code]
    assert first.severity is Severity.WARNING
    assert "bust_dart" in str(first.remedy)
    assert "full-bust" not in str(first.remedy)


def test_a_woven_may_miss_by_half_as_much() -> None:
    """It has bust darts to have its length by: what two tapings differ by is all it may miss by."""
    b = full(0.0)
    rows = {cloth.kind: prove(build(b, BODY), brief(b.body, cloth=cloth)).fit for cloth in (POPLIN, b.cloth)}
    least = [{row.least for row in each if row.name == "front_over_bust"} for each in rows.values()]
    assert least == [{-10.0}, {-20.0}]


def test_a_front_is_drafted_lower_alike_in_all_fits_where_the_body_is_shorter() -> None:
    """What the body lacks over the chest is the same however close the top is."""
    bodies = [replace(full(-30.0), fit=fit) for fit in Fit]
    lower = [build(b, BODY).fact("front_lower") for b in bodies]
    assert max(lower) - min(lower) < 1.0 < min(lower)


def test_what_a_side_cant_take_is_added_at_the_centre_of_hem_and_waist() -> None:
    """Up to 1.5 cm (common practice), running out to nothing at the sides, whose seams stay as long."""
    b = full(38.0)
    garment = build(b, BODY)
    hem = garment.piece("front").line("hem-left").path
    assert hem.end.y - hem.start.y == pytest.approx(garment.fact("front_dropped")) == pytest.approx(15.0)
    row = next(row for row in prove(garment, b).fit if row.name == "front_over_bust")
    assert -20.0 < row.off < 0.0


@pytest.mark.parametrize(("off", "found"), [(10.0, 0), (30.0, 1), (-30.0, 1)])
def test_a_centre_front_over_2_cm_off_is_found_where_it_was_measured(off: float, found: int) -> None:
    """Two tapings differ by 1 cm (from memory); an estimate is held against nobody."""
    b = full(0.0)
    row = next(row for row in length_rows(build(b, BODY), b) if row.name == "centre_front")
    over_bust = b.body["side_neck_point_to_waist_over_bust"]
    given = {"side_neck_point_to_waist_over_bust": over_bust, "front_neck_point_to_waist": row.garment - off}
    measured = brief(make_body("soprano", {**SINGERS["soprano"][1], **given}, rules="women"))
    codes = [each.code for each in prove(build(measured, BODY), measured).findings]
    assert (row.least, codes.count("fit.centre_front")) == (None, found)
