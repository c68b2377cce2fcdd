"""Bands: the length that lies flat, the least the stretch allows, and what is said of a given share."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.cloth import band_length
from drafting.cloth.band import FLAT_SHARE
from drafting.errors import InputError
from drafting.saying import list_sayings

ROUND = 2 * math.pi


@pytest.mark.parametrize(
    ("opening", "width", "ratio"), [(450, 15, 0.79), (450, 20, 0.72), (480, 20, 0.74), (550, 20, 0.77)]
)
def test_the_free_edge_of_a_round_band_is_the_parallel_curve(opening, width, ratio):
    """Derived: L - theta w; four worked ratios."""
    assert band_length(opening, ROUND, width, 0.5).lying_flat / opening == pytest.approx(ratio, abs=0.005)


def test_a_ring_confirms_the_parallel():
    """A circle of radius r has, w inside it, a circle of radius r - w: compared by construction."""
    radius, width = 80.0, 18.0
    assert band_length(ROUND * radius, ROUND, width, 1.0).lying_flat == pytest.approx(ROUND * (radius - width))


@pytest.mark.parametrize(
    ("stretch", "low", "high"),
    [(0.25, 0.90, 0.95), (0.50, 0.85, 0.85), (1.0, 0.75, 0.80)],
)
def test_a_neck_band_is_in_the_usual_share_for_its_stretch(stretch, low, high):
    """25 %: 0.90-0.95, 50 %: 0.85, rib of 100 %: 0.75-0.80 (from memory), where the curve allows it."""
    rule = band_length(480.0, ROUND, 20.0, stretch)
    assert low - 1e-9 <= rule.ratio <= high + 1e-9
    assert rule.length == pytest.approx(rule.ratio * 480.0)


def test_a_rib_cuff_is_two_thirds_to_four_fifths_of_its_edge():
    """Rib 2/3 to 3/4 (sewing.org, "Using ribbing for a cuff or neckline opening"); cuff 0.75-0.85 (from
    memory).
    """
    assert 0.66 <= band_length(406.0, 0.0, 60.0, 1.0, kind="cuff").ratio <= 0.80
    assert 0.75 <= band_length(240.0, 0.0, 60.0, 0.5, kind="cuff").ratio <= 0.85


def test_a_hem_band_draws_in_and_a_straight_edge_hardly():
    """Hem 0.80-0.90 (from memory); a straight edge only slightly shorter (a sewing guide)."""
    for stretch in (0.25, 0.5, 1.0):
        assert 0.80 <= band_length(900.0, 0.0, 60.0, stretch, kind="hem").ratio <= 0.90
        assert 0.95 <= band_length(900.0, 0.0, 60.0, stretch, kind="straight").ratio <= 1.0


def test_an_armhole_band_is_as_short_as_its_curve_asks() -> None:
    """0.85 of its edge on a round armhole (common practice), and flat on a small one's curve in a jersey of 45 %."""
    assert band_length(450, ROUND, 20, 0.5, kind="armhole").ratio == pytest.approx(0.85)
    tight = band_length(380, 4.1, 20, 0.43, kind="armhole")
    assert not tight.findings


def test_a_given_share_is_respected_and_judged():
    """Too short to stretch, too short for its curve, too long: each is said; a sound one passes without a
    word.
    """
    assert band_length(480, ROUND, 20, 0.5, given=0.80).length == pytest.approx(384)
    assert band_length(480, ROUND, 20, 0.5, given=0.80).findings == ()
    tight = band_length(480, ROUND, 20, 0.25, given=0.70)
    assert not tight.can_be_sewn
    assert tight.ratio == pytest.approx(0.70)
    assert any("48 mm too short" in str(list_sayings(each)) for each in tight.findings)
    assert any("pucker" in str(list_sayings(each)) for each in band_length(480, ROUND, 10, 1.0, given=0.70).findings)
    assert any("waves" in str(list_sayings(each)) for each in band_length(480, 0.0, 20, 0.3, given=1.1).findings)
    assert any(
        "stretches out" in str(list_sayings(each)) for each in band_length(480, ROUND, 15, 0.5, recovery=0.7).findings
    )


def test_a_band_too_wide_for_its_stretch_says_how_narrow_it_must_be():
    """Less stretch, narrower band (growyourownclothes.com, 2017): at the width named it lies flat."""
    wide = band_length(480, ROUND, 30, 0.3)
    assert any(f"at most {wide.widest_flat:.0f} mm" in str(list_sayings(each)) for each in wide.findings)
    flat = band_length(480, ROUND, wide.widest_flat, 0.3, given=wide.ratio)
    assert flat.lying_flat == pytest.approx(flat.length)
    assert flat.findings == ()


def test_no_width_is_named_that_no_band_can_have():
    """Where it would have to be narrower than a band can be sewn, only a stretchier cloth mends it."""
    told = [str(list_sayings(each)) for each in band_length(480, ROUND, 30, 0.03).findings]
    assert any("take a stretchier cloth" in each for each in told)
    assert not any("wide, or" in each for each in told)


@settings(deadline=None, derandomize=True)
@given(
    opening=st.floats(100, 1500),
    turning=st.floats(0, 7),
    width=st.floats(5, 80),
    stretch=st.floats(0, 2),
    kind=st.sampled_from(["neck", "armhole", "hem", "cuff", "straight"]),
)
def test_a_band_left_to_the_rule_can_always_be_sewn_flat(opening, turning, width, stretch, kind):
    """Never below 0.95 of what lies flat nor below what stretches to the edge, never longer than the edge."""
    rule = band_length(opening, turning, width, stretch, kind=kind)
    assert rule.length * (1 + stretch) >= opening - 1e-6
    assert kind in ("hem", "cuff") or rule.length >= FLAT_SHARE * rule.lying_flat - 1e-6
    assert rule.length <= opening + 1e-9
    assert rule.length >= rule.least - 1e-6
    assert rule.can_be_sewn
    assert rule.reasons
    assert not any(
        "pucker" in str(list_sayings(each))
        or "too short" in str(list_sayings(each))
        or "waves" in str(list_sayings(each))
        for each in rule.findings
    )


def test_the_stretchier_the_cloth_the_shorter_the_band():
    """The stretchier, the bigger the difference (creativechicksatplay, 2012)."""
    for kind in ("neck", "armhole", "hem", "cuff", "straight"):
        lengths = [band_length(480, ROUND, 20, s / 20, kind=kind).length for s in range(31)]
        assert all(more >= less - 1e-9 for more, less in itertools.pairwise(lengths))


@pytest.mark.parametrize(
    "figures",
    [
        (0, ROUND, 20, 0.5),
        (480, math.nan, 20, 0.5),
        (480, ROUND, -1, 0.5),
        (480, ROUND, 20, math.inf),
        (math.nan, 0, 20, 0.5),
    ],
)
def test_figures_that_cannot_be_are_refused(figures):
    """By name."""
    with pytest.raises(InputError, match=r"band\."):
        band_length(*figures)
    with pytest.raises(InputError, match=r"band\.ratio"):
        band_length(480, ROUND, 20, 0.5, given=math.nan)
