"""The sleeves in the table of fit: caps, elbow darts and the room round the arm, each caught where it is wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.woven_sleeve import draft_woven_sleeve
from drafting.body import Body
from drafting.changes.sleeve.fullness import fill_sleeve
from drafting.cloth import Fit
from drafting.garment import Brief, Garment
from drafting.garment.model import Departure
from drafting.geometry import Path
from drafting.proof import prove
from drafting.proof.fit import FitRow, fit_rows
from tests.blocks_woven.people import bodice, brief_for, mean_person, sleeved
from tests.garments import SLEEVED, brief, build

WOVEN = brief_for(mean_person())


def rows(garment: Garment, asked: Brief = WOVEN) -> dict[str, FitRow]:
    """The rows of the left sleeve by name."""
    return {row.name: row for row in fit_rows(garment, asked) if row.about == "Sleeves" and "left" in row.place}


def test_a_sleeve_drafted_by_rule_is_within_every_limit() -> None:
    """Of the mean woman; each figure is taken on the pieces and agrees with what the draft tells."""
    garment = sleeved(WOVEN)
    found = rows(garment)
    assert {"cap_height", "cap_ease", "elbow_level", "elbow_dart_width", "elbow_dart_length"} <= set(found)
    assert {"sleeve_elbow", "sleeve_forearm", "sleeve_edge"} <= set(found)
    assert not [row.name for row in found.values() if row.beyond and row.name not in ("cap_height", "sleeve_edge_hand")]
    edge = garment.piece("sleeve-left").line("wrist").path.length
    over = found["sleeve_edge_hand"].beyond  # 5 cm wider than the hand at most (from memory)
    assert over == pytest.approx(max(edge - WOVEN.body["hand_girth"] - 50.0, 0.0), abs=0.01)
    assert found["cap_ease"].garment == pytest.approx(garment.fact("cap_ease_left"), abs=0.01)
    assert found["elbow_dart_width"].garment == pytest.approx(20.0, abs=1e-6)
    assert found["elbow_dart_length"].garment == pytest.approx(70.0, abs=0.5)
    armhole = garment.run_length(garment.seam("armhole-left").plies[0])
    assert found["cap_height"].garment == pytest.approx(garment.fact("cap_height_left") / armhole, abs=1e-6)
    assert found["sleeve_elbow"].body == pytest.approx(WOVEN.body["elbow_girth"], rel=0.01)


@pytest.mark.parametrize("shape", ["fitted", "straight"])
def test_a_sleeve_is_as_long_as_the_arm(shape: str) -> None:
    """One with an elbow dart as the bent arm, a straight one between that and the straight arm; within 1.5 cm."""
    outer, straight = WOVEN.body["outer_arm_length"], WOVEN.body["straight_arm_length"]
    row = rows(sleeved(WOVEN, shape=shape))["sleeve_length"]
    assert row.body == pytest.approx(outer if shape == "fitted" else (outer + straight) / 2.0)
    assert row.garment == pytest.approx(row.body, abs=3.0)
    assert (row.least, row.most) == (-15.0, 15.0)


def test_a_sleeve_made_shorter_unasked_is_told_and_one_asked_to_be_isn_t() -> None:
    """The arm is 3 cm longer than the sleeve was drafted for; one of a stated length is held to that."""
    longer = replace(
        WOVEN, body=Body("longer", {**WOVEN.body.values, "outer_arm_length": WOVEN.body["outer_arm_length"] + 30.0})
    )
    assert rows(sleeved(WOVEN), longer)["sleeve_length"].beyond < 0.0
    stated = rows(sleeved(WOVEN, length=500.0))["sleeve_length"]
    assert (stated.body + stated.meant, stated.beyond) == (pytest.approx(500.0), 0.0)


def test_a_sleeve_that_doesn_t_follow_its_shoulder_in_is_told() -> None:
    """A seam 4 cm in from the shoulder point, and a sleeve drafted as if it lay there: the wrist ends 4 cm too high."""
    asked = brief("soprano")
    moved = Departure("shoulder_length", "left", -40.0)
    row = rows(replace(build(asked, SLEEVED), departures=(moved,)), asked)["sleeve_length"]
    assert row.beyond == pytest.approx(-25.0, abs=1e-6)


@pytest.mark.parametrize(("in_by", "told"), [(35.0, False), (76.0, True), (-20.0, False)])
def test_a_sleeve_set_in_far_from_the_shoulder_point_is_warned_of(in_by: float, told: bool) -> None:
    """Up to 4 cm in is a cut (from memory); with more its seam lies on the chest."""
    asked = brief("soprano")
    moved = Departure("shoulder_length", "left", -in_by)
    row = rows(replace(build(asked, SLEEVED), departures=(moved,)), asked)["sleeve_set_in"]
    assert bool(row.beyond) == told
    assert row.severity.name == "WARNING"


def test_a_knits_cap_has_a_knits_ease() -> None:
    """0 to 1.3 cm; its kind by rule is a tee's."""
    asked = brief("soprano")
    found = rows(build(asked, SLEEVED), asked)
    assert 3.0 < found["cap_ease"].garment < 6.0  # her arm is thin for her armhole
    assert found["cap_ease"].bounds == (0.0, 13.0)
    assert not any(row.beyond for row in found.values())


def test_a_cap_eased_by_more_than_is_usual_is_told() -> None:
    """4 to 7 % of the armhole is usual (from memory); beyond 8 % it is warned of, for it puckers."""
    made = sleeved(WOVEN)
    hole = made.run_length(made.seam("armhole-left").plies[0])
    for share, told in ((0.0625, ""), (0.075, "NOTE"), (0.09, "WARNING")):
        row = rows(sleeved(WOVEN, cap_ease=share * hole))["cap_ease"]
        assert (row.severity.name if row.beyond else "") == told


def test_a_cap_shorter_than_its_armhole_is_an_error() -> None:
    """As where the seam's armhole was drawn longer after the sleeve was set in."""
    garment = sleeved(WOVEN)
    sleeve = garment.piece("sleeve-left")
    flat = replace(
        sleeve, ring=tuple(replace(ln, path=_shrunk(ln.path)) if "cap" in ln.name else ln for ln in sleeve.ring)
    )
    found = rows(garment.with_(pieces=(flat,)))
    assert found["cap_ease"].beyond < 0.0
    assert found["cap_ease"].severity.name == "ERROR"


def _shrunk(path: Path) -> Path:
    return path.between(0.1 * path.length, 0.9 * path.length)


def test_a_thick_arm_is_told_of_by_its_low_cap() -> None:
    """The armhole is small for it; the sleeve keeps its width, and no lower underarm would mend the cap."""
    thick = brief_for(Body("thick", {**mean_person().values, "upper_arm_girth": 380.0}))
    row = rows(sleeved(thick), thick)["cap_height"]
    assert row.beyond < 0.0
    assert "lower cap" in str(row.remedy)


def test_a_dart_bent_out_of_shape_is_told() -> None:
    """One of 40 mm is beyond the trade's 2.5 cm or 1 in, however it came about."""
    wide = draft_woven_sleeve.options(elbow_dart=40.0)
    garment = draft_woven_sleeve.apply(bodice(WOVEN), WOVEN, wide)
    found = rows(garment)
    assert found["elbow_dart_width"].beyond == pytest.approx(14.6, abs=0.01)
    assert "fit.elbow_dart_width" in {f.code for f in prove(garment, WOVEN).findings}


def test_a_puffed_cap_means_its_ease() -> None:
    """Fullness let into the cap is no fault of its ease."""
    asked = brief("soprano", Fit.SEMI)
    garment = build(asked, SLEEVED, ((fill_sleeve, {"cap": 60.0}),))
    row = rows(garment, asked)["cap_ease"]
    assert row.garment == pytest.approx(rows(build(asked, SLEEVED), asked)["cap_ease"].garment + 60.0, abs=0.5)
    assert row.meant == pytest.approx(60.0, abs=0.5)
    assert not row.beyond


def test_a_puff_leaves_the_elbow_and_the_wrist_where_they_are() -> None:
    """What the crown rises by is drawn up over the shoulder: the arm's lengths are taken from below it."""
    plain = sleeved(WOVEN)
    puffed = fill_sleeve.apply(plain, WOVEN, fill_sleeve.options(cap=120.0))
    before, after = rows(plain), rows(puffed)
    for name in ("elbow_level", "sleeve_length"):
        assert after[name].garment == pytest.approx(before[name].garment, abs=15.0)
        assert not after[name].beyond
