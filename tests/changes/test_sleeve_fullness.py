"""Sleeve fullness: puffed caps, bells, tapers and wider sleeves, each where it was asked for and nowhere else."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.darted_bodice import draft_darted_bodice
from blocks.sleeve import draft_set_in_sleeve
from blocks.woven_sleeve import draft_woven_sleeve
from drafting.changes.sleeve.fullness import fill_sleeve
from drafting.cloth import Cloth, Kind
from drafting.errors import CannotDraft
from drafting.garment import Garment, Girth, Piece, Role, Side
from drafting.garment.darts import darts_of, intake, leg_lengths
from drafting.geometry import turn
from drafting.proof.proof import prove
from drafting.redraw.mouths import bend_in_edge
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from tests.garments import BODY, SINGERS, SLEEVED, TOP, brief, build

LAW = settings(max_examples=8, derandomize=True, deadline=None)
WAYS: tuple[dict[str, Any], ...] = (
    {"cap": 80.0},
    {"hem": 120.0},
    {"hem": -30.0},
    {"width": 30.0},
    {"width": 20.0, "hem": 80.0, "cap": 50.0},
)


def full(options: dict[str, Any], voice: str = "soprano") -> Garment:
    """A sleeved knit body with full sleeves."""
    return build(brief(voice), SLEEVED, [(fill_sleeve, options)])


def length(piece: Piece, role: Role) -> float:
    """The length of a sleeve's lines of a role."""
    return sum(line.path.length for line in piece.lines(role=role))


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("options", WAYS, ids=lambda o: "-".join(o))
def test_a_top_with_full_sleeves_is_proved(options: dict[str, Any], voice: str) -> None:
    """Seams, joins, girths and openings; with a neck band and a hem band."""
    plans = [planned for planned in TOP if planned[0].name != "shaped-cuff"]
    garment = build(brief(voice), plans, [(fill_sleeve, options)])
    assert prove(garment, brief(voice)).passed


def test_a_puff_is_told_to_be_gathered_and_a_plain_cap_to_be_eased() -> None:
    """Two rows of long stitches and even fullness for the one; "without tucks" is for the other alone."""
    for options, gathered in (({"cap": 80.0}, True), ({"width": 30.0}, False)):
        garment = full(options)
        (words,) = (str(s) for s in steps_of_work(make_up(garment), garment, "cm") if "set in" in s.said.title)
        assert ("spread the fullness evenly" in words) == gathered
        assert not (gathered and "without tucks" in words)


@LAW
@given(st.floats(10.0, 200.0))
def test_a_puffed_cap_grows_by_what_was_asked(by: float) -> None:
    """The lower edge and the underarm seams keep their lengths; the seam states the ease, and so does a fact."""
    plain, made = build(brief(), SLEEVED), full({"cap": by})
    for side in (Side.LEFT, Side.RIGHT):
        old, new = plain.piece(f"sleeve-{side}"), made.piece(f"sleeve-{side}")
        assert length(new, Role.CAP) - length(old, Role.CAP) == pytest.approx(by, abs=5e-3)
        assert length(new, Role.WRIST) == pytest.approx(length(old, Role.WRIST), abs=1e-9)
        assert length(new, Role.UNDERARM) == pytest.approx(length(old, Role.UNDERARM), abs=1e-9)
        eased = plain.seam(f"armhole-{side}").ease[1] + by
        assert made.seam(f"armhole-{side}").ease[1] == pytest.approx(eased, abs=5e-3)
        assert made.fact(f"cap_ease_{side}") == pytest.approx(eased, abs=5e-3)


@LAW
@given(st.floats(-40.0, 250.0).filter(bool))
def test_a_bell_or_a_taper_changes_the_lower_edge_alone(by: float) -> None:
    """The cap still fits its armhole to 1e-9 mm."""
    plain, made = build(brief(), SLEEVED), full({"hem": by})
    for side in (Side.LEFT, Side.RIGHT):
        old, new = plain.piece(f"sleeve-{side}"), made.piece(f"sleeve-{side}")
        assert length(new, Role.WRIST) - length(old, Role.WRIST) == pytest.approx(by, abs=5e-3)
        for line in old.lines(role=Role.CAP):
            assert new.line(line.name).path.length == pytest.approx(line.path.length, abs=1e-9)
        assert length(new, Role.UNDERARM) == pytest.approx(length(old, Role.UNDERARM), abs=1e-9)
        assert made.seam(f"armhole-{side}") == plain.seam(f"armhole-{side}")


@LAW
@given(st.floats(-20.0, 60.0).filter(bool))
def test_a_wider_sleeve_is_wider_all_along_and_pays_with_its_cap(by: float) -> None:
    """Any two of armhole, width and cap height fix the third (derived): as long a cap, wider and so lower."""
    plain, made = build(brief(), SLEEVED), full({"width": by})
    old, new = plain.piece("sleeve-left"), made.piece("sleeve-left")
    assert new.levels[0].path.length - old.levels[0].path.length == pytest.approx(by, abs=1e-6)
    wrists = [piece.lines(role=Role.WRIST)[0].path for piece in (old, new)]
    assert wrists[1].start.distance(wrists[1].end) - wrists[0].start.distance(wrists[0].end) == pytest.approx(by)
    for line in old.lines(role=Role.CAP):
        assert new.line(line.name).path.length == pytest.approx(line.path.length, abs=1e-9)
    heights = [piece.outline.bounds[3] - piece.levels[0].path.start.y for piece in (old, new)]
    assert (heights[0] - heights[1]) * math.copysign(1.0, by) >= -1e-6
    aims = [next(a.ease for a in g.aims if a.measure == Girth("upper-arm-left")) for g in (plain, made)]
    assert aims[1] - aims[0] == pytest.approx(by, abs=1e-6)
    one, two = (new.line(f"underarm-{face}").path.length for face in ("front", "back"))
    assert one == pytest.approx(two, abs=1e-6)


@pytest.mark.parametrize("options", WAYS, ids=lambda o: "-".join(o))
def test_corners_at_the_underarm_stay(options: dict[str, Any]) -> None:
    """The cap runs on over the underarm seam, and the lower edge too: front and back corners add up as they did."""
    plain, made = build(brief(), SLEEVED), full(options)
    for role in (Role.CAP, Role.WRIST):
        sums = []
        for garment in (plain, made):
            ring = garment.piece("sleeve-left").ring
            sums.append(
                sum(
                    turn(line.path.tangent(line.path.length), following.path.tangent(0.0))
                    for line, following in zip(ring, ring[1:] + ring[:1], strict=True)
                    if {line.role, following.role} == {role, Role.UNDERARM}
                )
            )
        assert sums[1] == pytest.approx(sums[0], abs=math.radians(4.0))


def test_one_side_leaves_the_other_as_it_was() -> None:
    """The right sleeve and its seams are the same objects."""
    plain, made = build(brief(), SLEEVED), full({"cap": 60.0, "side": "left"})
    assert made.piece("sleeve-right") == plain.piece("sleeve-right")
    assert made.seam("armhole-right") == plain.seam("armhole-right")
    assert made.piece("sleeve-left") != plain.piece("sleeve-left")


def test_left_and_right_are_mirror_images() -> None:
    """Fullness on both sides keeps them a pair."""
    made = full({"cap": 70.0, "hem": 60.0, "width": 20.0})
    left, right = made.piece("sleeve-left"), made.piece("sleeve-right")
    for line in left.ring:
        assert line.path.mirrored().reversed().same_as(right.line(line.name).path, 1e-4)


def test_short_sleeves_take_fullness_too() -> None:
    """A puffed short sleeve."""
    garment = build(
        brief(), BODY, [(draft_set_in_sleeve, {"length": 220.0}), (fill_sleeve, {"cap": 90.0, "hem": 30.0})]
    )
    assert prove(garment, brief()).passed


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({}, "no fullness is asked for"),
        ({"width": 150.0, "hem": -200.0}, "can't"),
        ({"hem": -200.0}, "can't be spread"),
    ],
)
def test_refusals(options: dict[str, Any], says: str) -> None:
    """In a sentence, never a broken outline."""
    with pytest.raises(CannotDraft, match=says):
        full(options)


def test_a_top_without_sleeves_is_refused() -> None:
    """There is nothing to make fuller."""
    with pytest.raises(CannotDraft, match="no sleeve on the left"):
        build(brief(), BODY, [(fill_sleeve, {"cap": 50.0})])


def test_a_fitted_sleeve_is_wider_beside_its_elbow_dart() -> None:
    """The dart moves out with the back seam as it is; the sleeve is as much wider at the elbow as at the underarm."""
    cotton = Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0)
    plans = [(draft_darted_bodice, {}), (draft_woven_sleeve, {})]
    wearer = brief("soprano", cloth=cotton)
    old, new = (build(wearer, plans, more).piece("sleeve-left") for more in ((), [(fill_sleeve, {"width": 20.0})]))
    (was,), (dart,) = darts_of(old), darts_of(new)
    assert intake(dart) == pytest.approx(intake(was), abs=1e-9)
    assert leg_lengths(dart)[0] == pytest.approx(leg_lengths(was)[0], abs=1e-9)
    assert bend_in_edge(new, dart) == pytest.approx(0.0, abs=1e-6)

    def width(piece: Piece, y: float) -> float:
        across = [line.path.at(s).x for line in piece.ring for s in line.path.cross_level(y)]
        return max(across) - min(across)

    assert width(new, dart.mouth_b.y - 20.0) - width(old, was.mouth_b.y - 20.0) == pytest.approx(20.0, abs=1.0)
