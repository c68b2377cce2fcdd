"""Where a fit change at its usual amount runs into the bust line, the armpit or the side seam, it goes that far."""

from __future__ import annotations

import math
from typing import Any

import pytest

from drafting.changes.design.neckline import shape_neckline
from drafting.changes.fit.back import fit_broad_back
from drafting.changes.fit.shoulder import fit_forward_shoulder
from drafting.changes.fit.shoulder_height import (
    ABOVE_BUST,
    fit_low_shoulder,
    fit_sloping_shoulder,
    fit_square_shoulder,
)
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Garment, Level, Role, Side, Step
from drafting.geometry import turn
from drafting.proof import prove
from drafting.redraw.shoulders import armhole_length
from drafting.saying import render
from tests.garments import BODY, SINGERS, TOP, brief, build
from tests.laws.strategies import surveyed


def underarm(garment: Garment, face: str) -> float:
    """The height (y, mm) of the left underarm on a face."""
    return garment.piece(face).lines(role=Role.ARMHOLE, side=Side.LEFT)[0].path.bounds[1]


def level(garment: Garment, name: str) -> Level:
    """The front's level of that name."""
    return next(each for each in garment.piece("front").levels if each.name == name)


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("fit", list(Fit))
@pytest.mark.parametrize("step", [fit_low_shoulder, fit_sloping_shoulder, fit_square_shoulder, fit_broad_back])
def test_the_usual_amount_is_drawn_for_everyone(step: Step[Any], fit: Fit, voice: str) -> None:
    """Whatever the fit, and sleeve and bands go with it; where the bust line stops the underarm, that is kept.

    A close armhole of a thick arm is as narrow as the arm already: a broader back is refused there, with the mend.
    """
    b = brief(voice, fit)
    if step is fit_broad_back and fit is Fit.CLOSE and voice in ("soprano", "bass"):
        with pytest.raises(CannotDraft, match="no wider than the arm is thick"):
            build(b, TOP, [(step, {})])
        return
    sinks = step in (fit_low_shoulder, fit_sloping_shoulder)
    low = sinks and (voice, fit) == ("bass", Fit.CLOSE)
    assert prove(build(b, TOP, [(step, {"keep_underarm": True} if low else {})]), b).passed


def test_a_low_underarm_sinks_to_the_bust_line_and_the_armhole_takes_the_rest() -> None:
    """Of a relaxed body: front and back alike, so that the sides agree; the facts say how far and why."""
    b = brief("tenor", Fit.RELAXED)
    before, after = build(b, BODY), build(b, BODY, [(fit_sloping_shoulder, {"side": "left", "by": 12.0})])
    room = underarm(after, "front") - level(after, "bust").path.start.y
    assert room == pytest.approx(ABOVE_BUST, abs=0.01)
    sunk = {face: underarm(after, face) - underarm(before, face) for face in ("front", "back")}
    assert sunk["front"] == pytest.approx(sunk["back"], abs=0.1)
    assert -15.0 < sunk["front"] < 0.0
    fact = next(each for each in after.facts if each.name == "underarm_raised_left")
    assert fact.value == pytest.approx(sunk["front"], abs=0.1)
    assert "bust line" in render(fact.sentence, "cm")
    assert -25.0 < armhole_length(after, Side.LEFT) - armhole_length(before, Side.LEFT) < -1.0


def test_an_underarm_that_lies_near_the_bust_line_stays() -> None:
    """The bass's, once it lies as low as it may: a shoulder lowered by more makes the armhole as much shorter."""
    b = brief("bass", Fit.RELAXED)
    usual, more = (build(b, BODY, [(fit_low_shoulder, {"side": "left", **by})]) for by in ({"by": 12.0}, {"by": 20.0}))
    assert underarm(more, "front") == pytest.approx(underarm(usual, "front"), abs=0.01)
    assert armhole_length(more, Side.LEFT) < armhole_length(usual, Side.LEFT) - 10.0


def test_an_underarm_rises_to_the_armpit_and_no_higher() -> None:
    """Of a close body; the armhole is longer by the rest."""
    b = brief("soprano", Fit.CLOSE)
    before, after = build(b, BODY), build(b, BODY, [(fit_square_shoulder, {"by": 15.0})])
    assert underarm(after, "back") == pytest.approx(-b.body["scye_depth_length"], abs=0.01)
    assert armhole_length(after, Side.LEFT) > armhole_length(before, Side.LEFT)
    assert any("armpit" in render(fact.sentence, "cm") for fact in after.facts if fact.name == "underarm_raised_left")


@pytest.mark.parametrize(("step", "words"), [(fit_sloping_shoulder, "bust line"), (fit_square_shoulder, "armpit")])
def test_more_than_two_sizes_of_armhole_are_refused(step: Step[Any], words: str) -> None:
    """The change and what stands in the way are named, and keeping the underarm is the way out."""
    fit = Fit.RELAXED if step is fit_sloping_shoulder else Fit.CLOSE
    b = brief("tenor" if step is fit_sloping_shoulder else "alto", fit)
    with pytest.raises(CannotDraft, match=words) as error:
        build(b, BODY, [(step, {"by": 30.0})])
    assert error.value.step == step.name
    assert error.value.short_by > 0.0
    assert prove(build(b, BODY, [(step, {"by": 30.0, "keep_underarm": True})]), b).passed


def test_a_broad_back_leaves_an_armhole_below_a_wide_shoulder() -> None:
    """The tenor's shoulder reaches nearly over his side seam: it stays within, and the width across has it all."""
    b = brief("tenor", Fit.CLOSE)
    before, after = build(b, BODY), build(b, BODY, [(fit_broad_back, {"by": 6.0})])
    old, new = (next(v for v in g.piece("back").levels if v.name == "across-back").path.length for g in (before, after))
    assert new - old == pytest.approx(12.0, abs=0.01)
    shoulder = after.piece("back").lines(role=Role.SHOULDER, side=Side.LEFT)[0].path.bounds[0]
    assert shoulder - after.piece("back").lines(role=Role.ARMHOLE, side=Side.LEFT)[0].path.bounds[0] >= 8.0 - 0.01
    assert 0.0 <= after.fact("shoulder_ease_left") <= 6.0 + 1e-9


def test_a_broad_back_by_rule_is_as_broad_as_a_fair_armhole_lets_it() -> None:
    """Below a wide shoulder an armhole is nearly straight: it goes out by less than the usual, which the fact tells."""
    b = brief(surveyed("bodies_1988_women", 46), Fit.SEMI)
    after = build(b, BODY, [(fit_broad_back, {})])
    told = after.fact("back_spread_left")
    assert 1.0 <= told < 6.0
    assert next(each for each in after.facts if each.name == "back_spread_left").source == "rule"
    with pytest.raises(CannotDraft, match="no fair armhole passes"):
        build(b, BODY, [(fit_broad_back, {"by": 8.0})])
    wide = build(brief("alto", Fit.RELAXED), BODY, [(fit_broad_back, {})])
    assert wide.fact("back_spread_left") == pytest.approx(6.0, abs=0.01)


def test_a_front_neckline_runs_on_in_a_back_one_whose_shoulder_was_turned() -> None:
    """The shoulder seam goes forward, and then the front neckline lower: across the seam the edge runs smooth."""
    b = brief("bass")
    after = build(b, BODY, [(fit_forward_shoulder, {"by": 15.0}), (shape_neckline, {"front_depth": 60.0})])
    angles = []
    for face in ("front", "back"):
        piece = after.piece(face)
        neck = piece.lines(role=Role.NECKLINE, side=Side.LEFT)[0].path
        shoulder = piece.lines(role=Role.SHOULDER, side=Side.LEFT)[0].path
        corner = min((neck.start, neck.end), key=lambda p: min(p.distance(shoulder.start), p.distance(shoulder.end)))
        ways = [
            path.tangent(0.0) if path.start.near(corner, 1e-3) else -path.tangent(path.length)
            for path in (neck, shoulder)
        ]
        angles.append(abs(turn(*ways)))
    assert sum(angles) == pytest.approx(math.pi, abs=math.radians(1.0))
