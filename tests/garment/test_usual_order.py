"""Among seams that are free to be sewn, the order and the stitches of the trade (handbooks; common practice)."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drafting.cloth import Kind
from drafting.garment import Garment, stitch_for, usual_stitch
from drafting.job import draft_job
from drafting.work import caught_hems, crossings, make_up, rank, turned_edges
from tests.garment.small import seam, sheet, tube
from tests.garments import BODY, JERSEY, TOP, brief, build
from tests.laws.jobs import WEARER, job_from, job_of
from tests.skirts.dressed import WOVEN, skirt

WORN = WEARER.split("[cloth]")[0]
"""The wearer alone: the cloth is the design's."""

PANELS = (
    '[[changes]]\nchange = "move-dart"\ndart = "bust"\nto = "shoulder 0.5"\n'
    '[[changes]]\nchange = "dart-to-seam"\ndart = "bust"\nto = "waist-front"\n'
)


def woven(design: str, more: str = "") -> Garment:
    """A woven design, with further changes."""
    return draft_job(job_from(f'builds_on = "{design}"\nunit = "cm"\n{more}{WORN}'))


def in_turn(garment: Garment, *names: str) -> bool:
    """Whether seams are sewn in this order."""
    at = rank(garment)
    return all(at[one] < at[two] for one, two in pairwise(names))


def test_a_woven_bodice_is_made_up_in_the_trades_order() -> None:
    """Darts, panels, centre back, zip while it is flat, shoulders, neck facing, sides, sleeves (common practice)."""
    garment = woven("fitted-bodice", PANELS)
    assert in_turn(
        garment, "dart-shoulder-left", "panel-front-left", "centre-back", "closure-back-a", "shoulder-left",
        "neck-facing-end-1", "neck-facing", "side-left", "underarm-left", "armhole-left",
    )  # fmt: skip


def test_a_zip_that_crosses_the_waist_waits_for_it_and_the_neck_facing_for_the_zip() -> None:
    """Bodice and skirt, each in its order; then the waist, the zip, and the facing that is turned in beside it."""
    garment = woven("waist-seam-dress")
    assert "waist" in crossings(garment)["closure-back-a"]
    assert in_turn(garment, "side-left", "armhole-left", "waist", "closure-back-a", "neck-facing")
    assert in_turn(garment, "dart-skirt-front-left", "centre-skirt-back", "skirt-side-left", "waist")


def test_a_zip_in_a_side_seam_comes_after_the_rest_of_the_seam() -> None:
    """And a waistband, whose ends lie beside it, after the zip."""
    garment, _ = skirt(["skirt", "waistband", ("closure", {"place": "left"})])
    assert in_turn(garment, "skirt-side-left", "closure-left-a", "closure-left-b", "waistband")
    assert "skirt-side-left" not in crossings(garment)["closure-left-a"]


def test_what_readies_a_band_is_sewn_just_before_it() -> None:
    """Ends, mitres, the short ends of facings."""
    for design in ("knit-top", "tank-top"):
        tasks = [task.seam for task in make_up(draft_job(job_of(design)))]
        for name in (name for name in tasks if name.endswith("-end") or "-mitre-" in name):
            band = name.removesuffix("-end").split("-mitre-")[0]
            assert tasks.index(band) == tasks.index(name) + 1


def test_what_runs_cross_stays_the_law() -> None:
    """A seam of low rank waits for one of high rank that its runs cross."""
    garment = tube().with_(
        pieces=[sheet("band", 600.0, 40.0)],
        seams=[seam("round", ("front.top back.top", "-band.low"), kind="style")],
    )
    assert [task.seam for task in make_up(garment)] == ["left", "right", "round"]


def test_a_hem_whose_ends_are_caught_comes_before_the_seam_that_takes_them_in() -> None:
    """The overlay's hem: after the seam over its arm, which it crosses, before the far side seam."""
    for mirrored, far in ((False, "left"), (True, "right")):
        more = '[[changes]]\nchange = "mirror"\n' if mirrored else ""
        garment = draft_job(job_from(f'builds_on = "diagonal-overlay-top"\nunit = "cm"\n{more}{WEARER}'))
        caught = caught_hems(garment)
        assert list(caught) == [f"side-{far}-below"]
        assert {use.piece for use in caught[f"side-{far}-below"]} == {"overlay-front", "overlay-back"}
        assert in_turn(garment, "over-arm", f"side-{far}-below", "diagonal")


@pytest.mark.parametrize("plan", [BODY, TOP])
def test_plain_hems_come_last(plan: tuple[object, ...]) -> None:
    """They run on across the seams they meet."""
    garment = build(brief(), plan)
    assert caught_hems(garment) == {}
    assert bool(turned_edges(garment)) is (plan is BODY)


def test_seams_of_one_cloth_have_one_stitch() -> None:
    """Lockstitch in wovens, overlock in knits (ISO 4915: 301, 514); darts, facings and zips by lockstitch in both."""
    assert {seam.stitch for seam in woven("waist-seam-dress", PANELS).seams} == {"301"}
    steps = ["skirt", "waistband", ("closure", {"place": "back"})]
    for cloth, stitch in ((WOVEN, "301"), (JERSEY, "514")):
        assert stitch_for(cloth) == stitch == ("301" if cloth.kind is Kind.WOVEN else "514")
        garment, _ = skirt(steps, cloth=cloth)
        assert {seam.stitch for seam in garment.seams if not seam.kind.stitch} == {stitch}
        assert usual_stitch(garment) == stitch
