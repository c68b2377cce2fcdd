"""Ease by fit and cloth."""

from __future__ import annotations

import itertools
import math
import pickle

import pytest

from drafting.body import make_body
from drafting.cloth import Cloth, EaseTable, Fit, Kind, ease_for, greatest_reduction

KNIT = Cloth(stretch_across=0.25, recovery=1.0)
WOVEN = Cloth(kind=Kind.WOVEN, stretch_across=0.02)


def test_a_semi_fitted_knit_has_the_usual_ease():
    """1 1/2 in at the bust, 3 in at the waist, none at the hip where a hem band draws in (common
    practice).
    """
    ease = ease_for(Fit.SEMI, KNIT)
    assert (ease.bust, ease.waist, ease.hip) == (pytest.approx(1.5 * 25.4), pytest.approx(3 * 25.4), 0.0)
    assert "common practice" in ease.reasons["bust"]


def test_a_woven_has_its_published_minimum_ease():
    """Bust 1.5-2 in, waist 0.75-1 in, hip 2-2.75 in (costume-construction text, ch. 16, Central Washington
    Univ.).
    """
    ease = ease_for(Fit.CLOSE, WOVEN)
    assert 38 <= ease.bust <= 51
    assert 19 <= ease.waist <= 25.4
    assert 50 <= ease.hip <= 70
    assert ease.upper_arm == pytest.approx(50, abs=1)  # 2 in, Armstrong, 2nd ed., p. 68, as quoted
    assert ease_for(Fit.SEMI, WOVEN).bust == pytest.approx(2.5 * 25.4, abs=1)  # an encyclopedia extract on ease


@pytest.mark.parametrize("stretch", [0.20, 0.25, 0.5, 1.0, 2.0])
def test_a_close_knit_takes_no_more_than_half_of_what_its_stretch_allows(stretch):
    """Derived bound s/(1+s); at most half of it, and of the measured stretch (from memory)."""
    body = make_body(
        "alto", {"bust_girth": 1200, "waist_girth": 1000, "hip_girth": 1250, "back_neck_point_to_waist": 430}
    )
    ease = ease_for(Fit.CLOSE, Cloth(stretch_across=stretch), body)
    share = -ease.bust / 1200
    assert 0 < share <= 0.5 * greatest_reduction(stretch)
    assert share <= 0.5 * stretch
    assert share <= 0.10
    assert ease.hip == pytest.approx(-share / 2 * 1250)


def test_a_close_knit_of_a_quarter_stretch_is_up_to_five_per_cent_smaller():
    """A fitted knit top: 0 to -5 % at the bust (from memory), of the body that is measured."""
    body = {"bust_girth": 1000.0, "waist_girth": 850.0, "hip_girth": 1000.0, "upper_arm_girth": 300.0}
    assert ease_for(Fit.CLOSE, KNIT, body).bust == pytest.approx(-50.0)


@pytest.mark.parametrize("cloth", [KNIT, WOVEN, Cloth(stretch_across=0.1), Cloth(stretch_across=0.8, thickness=3.0)])
def test_a_looser_fit_is_nowhere_smaller(cloth):
    """Close, semi-fitted, relaxed, in that order, at every place; the hip of a semi-fitted knit drawn in
    by its band.
    """
    tables = [ease_for(fit, cloth).figures() for fit in (Fit.CLOSE, Fit.SEMI, Fit.RELAXED)]
    for less, more in itertools.pairwise(tables):
        assert all(less[place] <= more[place] for place in less)


@pytest.mark.parametrize(("fit", "cloth"), list(itertools.product(Fit, [KNIT, WOVEN, Cloth(stretch_across=0.0)])))
def test_ease_stays_within_the_bands_of_the_trade(fit, cloth):
    """Scye depth 1 to 4 cm below the armpit, across back 0 to 2.5 cm (from memory), neck seam 0 to 2 cm
    (derived).
    """
    ease = ease_for(fit, cloth)
    assert 10 <= ease.scye_depth <= 40
    assert 0 <= ease.across_back <= 25
    assert 0 <= ease.neck <= 20
    assert set(ease.reasons) == set(ease.figures())


def test_ease_follows_the_stretch():
    """The less a knit stretches the more it is eased, up to a woven's ease where that is more."""
    by_stretch = [ease_for(Fit.SEMI, Cloth(stretch_across=s)) for s in (0.3, 0.2, 0.1, 0.0)]
    assert by_stretch[0] == by_stretch[1]
    assert by_stretch[1].bust < by_stretch[2].bust < by_stretch[3].bust == pytest.approx(64.0)
    assert by_stretch[3].waist == pytest.approx(76.2)
    assert "10 %" in str(by_stretch[2].reasons["bust"])
    close = [ease_for(Fit.CLOSE, Cloth(stretch_across=s)).bust for s in (0.0, 0.1, 0.2, 0.3, 0.6)]
    assert close == sorted(close, reverse=True)


def test_poor_recovery_is_not_counted_on():
    """A cloth that stays longer is fitted as if it stretched less."""
    assert ease_for(Fit.CLOSE, Cloth(recovery=0.7)).bust > ease_for(Fit.CLOSE, Cloth(recovery=1.0)).bust


def test_thick_cloth_needs_its_own_thickness():
    """The girth of the middle of the cloth is pi x its thickness more than the girth inside it."""
    thick, thin = ease_for(Fit.SEMI, Cloth(thickness=3.0)), ease_for(Fit.SEMI, Cloth(thickness=0.8))
    assert thick.bust - thin.bust == pytest.approx(2 * math.pi)
    assert thick.scye_depth == thin.scye_depth


def test_a_table_is_a_value():
    """Equal, hashable, read only, and it survives being sent to another process."""
    table = ease_for(Fit.SEMI, KNIT)
    assert table == ease_for(Fit("semi-fitted"), KNIT)
    assert hash(table) == hash(ease_for(Fit.SEMI, KNIT))
    assert pickle.loads(pickle.dumps(table)) == table
    with pytest.raises(TypeError):
        table.reasons["bust"] = ""
    assert EaseTable(1, 2, 3, 4, 5, 6, 7, 8).figures()["neck"] == 8


@pytest.mark.parametrize("stretch", [0.2, 0.3, 0.6])
def test_a_close_waist_passes_over_the_bust(stretch: float) -> None:
    """A knit is drawn on over the bust: stretched, its waist reaches round it with 1 cm to spare; no more is given."""
    cloth = Cloth("jersey", Kind.KNIT, stretch_across=stretch, recovery=0.95)
    full = {"bust_girth": 1000.0, "waist_girth": 720.0, "hip_girth": 1000.0, "upper_arm_girth": 300.0}
    waist = full["waist_girth"] + ease_for(Fit.CLOSE, cloth, full).waist
    assert waist == pytest.approx(max(1010.0 / (1.0 + stretch), 720.0))
    straight = full | {"waist_girth": 950.0}
    assert ease_for(Fit.CLOSE, cloth, straight).waist == ease_for(Fit.CLOSE, cloth).waist
