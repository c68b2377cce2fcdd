"""Caps: height, width and armhole are solved together for each kind, and what gives way is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.caps import CAP_KINDS, CapWanted, SolvedCap, cap_heights, cap_kind, draw_cap
from blocks.sleeve import draft_set_in_sleeve
from drafting.cloth import Fit
from drafting.garment import Garment, Role
from drafting.redraw.sleeves import arm_length
from tests.blocks_woven.people import POPLIN
from tests.blocks_woven.people import mean_person as mean_woman
from tests.blocks_woven.people import sleeved as woven_sleeved
from tests.garments import SLEEVED, brief, build

FRONT = 0.49
"""Of the armhole that is the front's."""


LEAST, USUAL, MOST = 13.0, 20.0, 30.0
"""Ease of a cap."""


def wanted(kind: str, armhole: float, width: float, eases: tuple[float, float, float]) -> CapWanted:
    """A long sleeve's cap for an armhole, the sleeve to be so wide (mm), or 1 cm less for its cap's sake."""
    heights = cap_heights(kind, armhole, 500.0)
    front = FRONT * armhole
    return CapWanted(front, armhole - front, FRONT, eases, width, width - 10.0, 210.0, 560.0, *heights)


def drawn(kind: str, armhole: float, width: float, *eases: float) -> SolvedCap:
    """That cap, with one ease, or the three by rule."""
    least, usual, most = eases * 3 if len(eases) == 1 else (LEAST, USUAL, MOST)
    return draw_cap(wanted(kind, armhole, width, (least, usual, most)))


@pytest.mark.parametrize("kind", CAP_KINDS)
@pytest.mark.parametrize("armhole", [400.0, 440.0, 500.0])
@pytest.mark.parametrize("width", [260.0, 300.0, 340.0, 380.0])
def test_a_cap_always_fits_its_armhole_and_the_arm(kind: str, armhole: float, width: float) -> None:
    """The edge is as long as armhole and ease to 0.001 mm; what gives way does so in its order, within its limits."""
    cap = drawn(kind, armhole, width)
    low, high = (share * armhole for share in CAP_KINDS[kind])
    assert cap.front.length == pytest.approx(FRONT * (armhole + cap.ease), abs=1e-3)
    assert cap.back.length == pytest.approx((1.0 - FRONT) * (armhole + cap.ease), abs=1e-3)
    assert LEAST - 1e-6 <= cap.ease <= MOST + 1e-6
    assert cap.height <= 0.36 * armhole + 1e-6
    assert kind != "tee" or cap.height <= 0.30 * armhole + 1e-6 or cap.width > width + 57.9
    if cap.height < low - 0.02 * armhole - 1e-6:
        assert cap.width == pytest.approx(width - 10.0, abs=1e-3)
        assert USUAL < cap.ease < MOST  # in proportion to what is left of the height
    elif cap.height < low - 1e-6:  # as much of its share as the width gives of its 10 mm
        assert cap.ease == pytest.approx(USUAL)
        assert (low - cap.height) / (0.02 * armhole) == pytest.approx((width - cap.width) / 10.0, abs=1e-3)
    elif cap.height > high + 1e-6:
        assert cap.ease == pytest.approx(LEAST, abs=1e-6)
        tops = [share * armhole for share in ((0.30, 0.36) if kind == "tee" else (0.36,))]
        assert (
            any(cap.width == pytest.approx(width + more, abs=1e-3) for more in (30.0, 58.0))
            or any(cap.height == pytest.approx(top) for top in tops)
        )  # fmt: skip
    elif cap.width > width + 1e-3:  # ease and width together
        assert cap.height == pytest.approx(high)
        assert (USUAL - cap.ease) / (USUAL - LEAST) == pytest.approx(min((cap.width - width) / 30.0, 1.0), abs=1e-3)
    else:
        assert cap.ease == pytest.approx(USUAL)
    if width <= 0.7 * armhole:
        assert cap.height >= low - 1e-6


def test_what_is_asked_for_does_not_give_way() -> None:
    """An ease that was asked for holds, whether the arm is thick or thin."""
    for width in (260.0, 400.0):
        assert drawn("fitted", 420.0, width, 22.0).ease == pytest.approx(22.0)


def test_a_thick_arm_leaves_a_fitted_cap_its_height() -> None:
    """An arm of 30 cm and 5 cm of ease, an armhole of 41 cm: some of the width gives way, not the ease."""
    cap = draw_cap(wanted("fitted", 412.0, 353.0, (20.0, 26.0, 29.0)))
    assert cap.height / 412.0 >= 0.30
    assert 343.0 < cap.width < 353.0
    assert cap.ease == pytest.approx(26.0)


def test_a_cap_that_is_eased_in_takes_its_most_ease_before_it_is_low() -> None:
    """A woven's, for an arm of 30 cm in an armhole of 40.5: 0.31 of that, eased by 7 % at most (from memory)."""
    plain = wanted("fitted", 405.0, 347.0, (18.0, 25.0, 28.0))
    cap, low = draw_cap(replace(plain, eased_first=True)), draw_cap(plain)
    assert 0.31 <= cap.height / 405.0 < 0.32
    assert low.ease == pytest.approx(25.0)
    assert 25.0 < cap.ease <= 28.0
    assert cap.height > low.height + 1.0


def test_all_three_hold_where_the_trades_figures_meet() -> None:
    """An armhole of half as much again as the arm, 5 cm of ease: a fitted cap of a third, the width as asked."""
    cap = drawn("fitted", 440.0, 293.0 + 50.0, 30.0)
    assert cap.width == pytest.approx(343.0, abs=1e-3)
    assert 0.32 <= cap.height / 440.0 <= 0.36


def test_a_wider_sleeve_never_has_a_higher_cap() -> None:
    """Any two of armhole, width and height fix the third (derived)."""
    heights = [drawn("fitted", 420.0, width).height for width in (280.0, 300.0, 320.0, 340.0, 360.0)]
    assert heights == sorted(heights, reverse=True)


@pytest.mark.parametrize("width", [300.0, 330.0, 350.0])
def test_the_front_is_hollowed_more_than_the_back(width: float) -> None:
    """Of two halves of one length, whatever had to be flattened."""
    heights = cap_heights("fitted", 420.0, 500.0)
    cap = draw_cap(CapWanted(210.0, 210.0, 0.5, (20.0, 20.0, 20.0), width, width, 210.0, 560.0, *heights))

    def hollow(half: SolvedCap, face: str) -> float:
        curve = half.front.path if face == "front" else half.back.path
        a, b = curve.start, curve.end
        across = (b - a).unit.left
        return max(-(p[0] - a.x) * across.x - (p[1] - a.y) * across.y for p in curve.flatten().tolist())

    assert hollow(cap, "front") > 1.1 * hollow(cap, "back") > 0.0


@pytest.mark.parametrize(("fit", "woven"), [(Fit.CLOSE, "fitted"), (Fit.SEMI, "fitted"), (Fit.RELAXED, "shirt")])
def test_the_kind_follows_cloth_and_fit(fit: Fit, woven: str) -> None:
    """By rule, a tee's in any knit; what is asked for stands over it."""
    asked = brief("soprano", fit)
    assert cap_kind(asked, "rule") == "tee"
    assert cap_kind(replace(asked, cloth=POPLIN), "rule") == woven
    assert cap_kind(asked, "shirt") == "shirt"


@pytest.mark.parametrize("kind", CAP_KINDS)
def test_a_kind_asked_for_is_drafted(kind: str) -> None:
    """In a knit and in a woven; what it is measures its share of the armhole, or is told to have given way."""
    asked = brief("soprano")
    knit = build(asked, SLEEVED[:1], ((draft_set_in_sleeve, {"cap": kind}),))
    woven = woven_sleeved(replace(asked, cloth=POPLIN, cloths={"rib": POPLIN}, body=mean_woman()), cap=kind)
    low, high = CAP_KINDS[kind]
    for garment in (knit, woven):
        share = garment.fact("cap_height_left") / _armhole(garment)
        told = [fact for fact in garment.facts if fact.name == "cap_given_way_left"]
        assert low - 1e-3 <= share <= high + 1e-6 or told


@pytest.mark.parametrize("voice", ["soprano", "bass"])
def test_a_tees_sleeve_is_a_share_of_the_arm(voice: str) -> None:
    """Short on a short arm and on a long one alike; a length that is stated stands over the share."""
    asked = brief(voice)
    for options, long in (({"of_arm": 0.4}, 0.4 * arm_length(asked)), ({"of_arm": 0.4, "length": 250.0}, 250.0)):
        sleeve = build(asked, SLEEVED[:1], ((draft_set_in_sleeve, options),)).piece("sleeve-left")
        bottom = sleeve.lines(role=Role.WRIST)[0].path
        crown = max(line.path.bounds[3] for line in sleeve.lines(role=Role.CAP))
        assert crown - (bottom.start.y + bottom.end.y) / 2.0 == pytest.approx(long, abs=1e-6)


def _armhole(garment: Garment) -> float:
    return garment.run_length(garment.seam("armhole-left").plies[0])


def test_a_shirts_cap_has_a_shirts_ease() -> None:
    """1/2 to 3/4 in, a wide one's 7/8 (as quoted); a fitted one's within 4 to 7 % of its armhole (from memory)."""
    asked = replace(brief("soprano"), cloth=POPLIN, cloths={"rib": POPLIN})
    for kind, (least, most) in (("shirt", (0.03, 0.05)), ("fitted", (0.04, 0.07))):
        plies = (garment := woven_sleeved(asked, cap=kind)).seam("armhole-left").plies
        hole, cap = (garment.run_length(ply) for ply in plies)
        assert least * hole < cap - hole < most * hole
        assert cap - hole <= {"shirt": 22.0, "fitted": 38.0}[kind]
