"""Bodice and skirt joined at the waist: knit and woven dresses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from blocks.bodice import draft_knit_bodice
from blocks.darted_bodice import draft_darted_bodice
from blocks.skirt import draft_straight_skirt
from blocks.waist_seam import WAIST, draft_waist_seam
from drafting.body import make_body
from drafting.changes.darts.move import move_dart
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Brief, Face, Role, Side, Step
from drafting.garment.darts import darts_of
from drafting.garment.places import lines_along
from drafting.geometry import Path, Point
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.fit.darts import dart_rows
from drafting.proof.fit.meeting import meeting_rows
from drafting.proof.fit.skirts import skirt_rows
from drafting.units import show_length
from drafting.work import make_up
from drafting.work.hemming import list_needs
from drafting.work.sewing import steps_of_work
from tests.garments import SLEEVED, brief
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import surveyed
from tests.skirts.dressed import JERSEY, WOVEN, Plan, errors, skirt

Onto = list[tuple[Step[Any], Mapping[str, Any]]]

KNIT: Onto = [(draft_knit_bodice, {})]
DARTED: Onto = [(draft_darted_bodice, {})]
WAISTED = {
    "stature": 1660.0,
    "bust_girth": 920.0,
    "hip_girth": 980.0,
    "back_neck_point_to_waist": 405.0,
}

SKIRTS = ["circle-skirt", "flared-skirt", "skirt"]


@pytest.mark.parametrize("kind", SKIRTS)
@pytest.mark.parametrize("sewn", ["flat", "round"])
@pytest.mark.parametrize("onto", [KNIT, list(SLEEVED)], ids=["sleeveless", "sleeved"])
def test_a_knit_dress_goes_together(kind: str, sewn: str, onto: Onto) -> None:
    """Pulled on over the head; the bodice that runs on below the waist is cut off there."""
    garment, b = skirt([kind, ("waist-seam", {"sewn": sewn})], cloth=JERSEY, onto=onto)
    assert not errors(garment, b)
    assert abs(garment.fact("waist_seam_ease")) < 0.5


@pytest.mark.parametrize("kind", SKIRTS)
def test_halves_are_as_long_as_the_bodices(kind: str) -> None:
    """Matched at centre and side: each section's plies agree to 0.5 mm, sewn with no more ease than stated."""
    garment, b = skirt([kind, "waist-seam"], onto=DARTED, cloth=WOVEN)
    rows = [row for row in prove(garment, b).seams if row.seam == "waist"]
    assert len(rows) == 5
    assert all(abs(row.off) < 1e-6 and abs(row.ease[1]) < 0.5 for row in rows)


def test_sewn_flat_the_side_seams_run_through_in_one_go() -> None:
    """From the skirt's hem to the underarm, after the waist seams; sewn round, the waist comes last."""
    flat, _ = skirt(["skirt", ("waist-seam", {"sewn": "flat"})], cloth=JERSEY, onto=KNIT)
    order = [task.seam for task in make_up(flat)]
    assert order.index("side-left") > max(order.index("waist-front"), order.index("waist-back"))
    assert "skirt-side-left" not in order
    first = flat.seam("side-left").plies[0]
    assert [use.piece for use in first] == ["skirt-front", "front"]
    round_, _ = skirt(["skirt", ("waist-seam", {"sewn": "round"})], cloth=JERSEY, onto=KNIT)
    order = [task.seam for task in make_up(round_)]
    assert order.index("waist") > max(order.index(name) for name in ("side-left", "skirt-side-left", "side-right"))


def test_darts_of_skirt_and_bodice_meet() -> None:
    """Along the sewn waist the skirt's darts end where the bodice's do; moved aside by 2 cm, that is warned of."""
    garment, b = skirt(["skirt", "waist-seam"], onto=DARTED)
    rows = [row for row in meeting_rows(garment, b) if row.name == "waist_seam_darts_apart"]
    assert len(rows) == 4
    assert all(row.garment < 1e-4 for row in rows)
    aside, _ = skirt(
        ["skirt", "waist-seam"], onto=DARTED, then=[(move_dart, {"dart": "skirt-front", "to": "waist 0.7"})]
    )
    told = [(row.name, row.severity) for row in meeting_rows(aside, b) if row.beyond]
    assert told == [("waist_seam_darts_apart", Severity.WARNING)] * 2


def test_over_a_full_seat_the_bodices_back_has_two_darts_and_nothing_else_moves() -> None:
    """As many as the skirt's, which run on from them; without a waist seam it has one, and a dress made so is told."""
    body = make_body("one", {**WAISTED, "waist_girth": 760.0, "hip_girth": 1010.0}, rules="women")
    garment, b = skirt(["skirt", "waist-seam"], body, onto=DARTED)
    alone, _ = skirt([], body, onto=DARTED)
    for face, count in (("back", 4), ("skirt-back", 4)):
        darts = [dart for dart in darts_of(garment.piece(face)) if dart.stem != "shoulder"]
        assert len(darts) == count
    assert not [row.name for row in meeting_rows(garment, b) if row.beyond]
    for role in (Role.ARMHOLE, Role.SHOULDER, Role.SIDE):
        for one, two in zip(garment.piece("back").lines(role=role), alone.piece("back").lines(role=role), strict=True):
            assert one.path.same_as(two.path)
    made = draft_straight_skirt.apply(alone, b, draft_straight_skirt.options())
    joined = draft_waist_seam.apply(made, b, draft_waist_seam.options())
    told = [(row.name, row.severity) for row in meeting_rows(joined, b) if row.beyond]
    assert told == [("waist_seam_darts_over", Severity.WARNING)] * 2


def test_a_dresss_side_is_measured_from_the_underarm_down() -> None:
    """Over bodice and skirt, front and back, left and right alike: a place on it lies at one height on both sides."""
    garment, _ = skirt(["skirt", "waist-seam"], onto=DARTED)
    for face in (Face.FRONT, Face.BACK):
        for side in (Side.LEFT, Side.RIGHT):
            run = lines_along(garment, Role.SIDE, side, face)
            tops = [garment.path(use).start.y for use in run]
            assert tops == sorted(tops, reverse=True)


@pytest.mark.parametrize(("waist", "hip", "count"), [(720.0, 1000.0, 1), (760.0, 930.0, 1), (850.0, 960.0, 0)])
def test_a_skirts_front_has_as_many_darts_as_its_bodice(waist: float, hip: float, count: int) -> None:
    """A full hip's front has one dart of up to 3.5 cm; over a belly that leaves the bodice's front none it has none."""
    body = make_body("one", {**WAISTED, "waist_girth": waist, "hip_girth": hip}, rules="women")
    garment, b = skirt(["skirt", "waist-seam"], body, onto=DARTED)
    for name in ("front", "skirt-front"):
        darts = [dart for dart in darts_of(garment.piece(name)) if dart.stem in ("waist-front", "skirt-front")]
        assert len(darts) == 2 * count
    told = [row for row in (*dart_rows(garment, b), *skirt_rows(garment, b)) if row.beyond]
    assert {row.severity for row in told} <= {Severity.NOTE}


def test_a_woven_dress_cant_be_pulled_on_without_a_closure() -> None:
    """The waist seam doesn't pass the bust, and says what would help."""
    garment, b = skirt(["skirt", "waist-seam"], onto=DARTED)
    found = [f for f in prove(garment, b).findings if f.place == "waist seam"]
    assert [f.code for f in found] == ["openings.pass"]
    assert [finding.wanted.name for finding in found if finding.wanted] == ["opening-tight"]


@pytest.mark.parametrize("kind", SKIRTS)
@pytest.mark.parametrize("voice", ["soprano", "alto"])
def test_a_woven_dress_with_a_zip_proves(kind: str, voice: str) -> None:
    """Centre back, from the neck to below the waist, sewn flat or round."""
    for sewn in ("flat", "round"):
        plans: list[Plan | str] = [kind, ("waist-seam", {"sewn": sewn}), "closure", "facing"]
        garment, b = skirt(plans, voice, onto=DARTED)
        assert not errors(garment, b)


def test_a_bodice_alone_or_a_skirt_alone_has_nothing_to_join() -> None:
    """Refused by what is missing."""
    with pytest.raises(CannotDraft, match="no bodice"):
        skirt(["skirt", "waist-seam"])
    with pytest.raises(CannotDraft, match="no skirt"):
        skirt(["waist-seam"], onto=KNIT, cloth=JERSEY)


def test_a_bodice_that_ends_above_the_waist_is_refused() -> None:
    """By how much it is short."""
    cropped: Onto = [(draft_knit_bodice, {"below_hip": -250.0})]
    with pytest.raises(CannotDraft, match="above the waist"):
        skirt(["circle-skirt", "waist-seam"], onto=cropped, cloth=JERSEY)


@pytest.mark.parametrize("cut_in", [-40.0, 0.0, 40.0])
def test_a_knit_waist_seam_lies_at_the_waist(cut_in: float) -> None:
    """Level at the centres, at the body's waist, and within 1 cm of it at the sides, however those slant."""
    body = make_body("one of many", {**WAISTED, "waist_girth": 760.0 + cut_in * 4.0})
    garment, b = skirt(["circle-skirt", "waist-seam"], body, JERSEY, onto=KNIT)
    waist = -b.body["back_neck_point_to_waist"]
    for piece in (garment.piece("front"), garment.piece("back")):
        for line in piece.lines(role=Role.WAIST):
            ends = sorted((line.path.start, line.path.end), key=lambda p: abs(p.x))
            assert ends[0].y == pytest.approx(waist, abs=1e-6)
            assert abs(ends[1].y - waist) <= 10.0 + 1e-6


def test_a_bent_waist_is_judged_where_it_lies_farthest_off() -> None:
    """A waist level at its height at the sides, and 4 cm above it at the centre, isn't the body's waist."""
    garment, b = skirt(["circle-skirt", "waist-seam"], cloth=JERSEY, onto=KNIT)
    front = garment.piece("front")
    level = next(each for each in front.levels if each.name == "waist")
    a, z = level.path.start, level.path.end
    bent = Path.join(Path.straight(a, Point(0.0, a.y + 40.0)), Path.straight(Point(0.0, a.y + 40.0), z))
    others = tuple(each for each in front.features if each is not level)
    wrong = garment.with_(pieces=[replace(front, features=(*others, replace(level, path=bent)))])
    told = [finding.place for finding in prove(wrong, b).findings if finding.code == "fit.level"]
    assert told == ["waist of the front"]


def test_a_waist_is_stayed_by_elastic_in_a_knit_and_by_tape_in_a_woven() -> None:
    """As long as the bodice's edges, told with its length where it is sewn, and bought once for front and back."""
    for design, what in (("half-circle-dress", "clear elastic"), ("waist-seam-dress", "tape")):
        dress = draft_job(job_of(design))
        words = "\n".join((*list_needs(dress, "cm"), *map(str, steps_of_work(make_up(dress), dress, "cm"))))
        assert words.count(f"of narrow {what} for the waist seam") == 1
        waists = [seam for seam in dress.seams if seam.kind == WAIST]
        for seam in waists:
            halves = [show_length(dress.run_length(section.plies[0]), "cm") for section in seam.sections]
            parted = what == "tape" and seam.name == "waist-back"  # by its zip, sewn flat
            whole = f"{what} {show_length(dress.run_length(seam.plies[0]), 'cm')}"
            assert f"Cut {f'two pieces of {what}, each {halves[0]}' if parted else whole} long" in words


@pytest.mark.parametrize("fit", [Fit.SEMI, Fit.RELAXED])
def test_a_skirts_back_keeps_its_darts_below_a_belly_whatever_the_fit(fit: Fit) -> None:
    """Without them its hip would follow a waist that lies far in, and be 5 cm narrower than the front's a half."""
    wearer = replace(brief(surveyed("bodies_2012_men", 98), fit), cloth=WOVEN)
    garment = draft_job(with_changes(job_of("waist-seam-dress"), [], wearer))
    hips = {
        face: sum(v.path.length for p in garment.pieces if p.face is face for v in p.levels if v.name == "hip") / 2.0
        for face in (Face.FRONT, Face.BACK)
    }
    assert abs(hips[Face.FRONT] - hips[Face.BACK]) <= 34.0
    assert any(dart.name.startswith("skirt-back") for p in garment.pieces for dart in darts_of(p))


def test_a_front_that_needs_two_darts_lets_the_back_have_two() -> None:
    """Over a full seat: no third dart of a half back, 22 mm from the second, while each takes up to 3.5 cm in."""
    worn = Brief(surveyed("bodies_1988_women", 953), WOVEN, Fit.SEMI, {})
    garment = draft_job(with_changes(job_of("waist-seam-dress"), [], worn))
    for piece, count in (("skirt-front", 4), ("skirt-back-left", 2), ("skirt-back-right", 2)):
        assert len(darts_of(garment.piece(piece))) == count
    assert not [row for row in prove(garment, worn).fit if row.name == "dart_mouths" and row.beyond]
