"""Facings are shaped like the edge they are sewn to; waistbands are as long as the waist."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from blocks.bodice import draft_knit_bodice
from blocks.darted_bodice import draft_darted_bodice
from drafting.changes.darts.ease import gather_dart
from drafting.errors import CannotDraft
from drafting.finishing import finish
from drafting.finishing.plan import FinishPlan
from drafting.garment import Role, Step
from drafting.geometry import Path, Point
from drafting.proof import prove
from drafting.work import make_up
from drafting.work.hemming import stay_stitch_words
from tests.skirts.dressed import JERSEY, WOVEN, errors, skirt

Onto = list[tuple[Step[Any], Mapping[str, Any]]]

V_NECK: Onto = [(draft_knit_bodice, {"front_neck": "v", "front_depth": 120.0, "neck_widen": 30.0})]
ROUND: Onto = [(draft_knit_bodice, {"neck_widen": 42.0, "front_depth": 60.0})]


def _apart(**options: Any) -> list[tuple[str, Mapping[str, Any]]]:
    """A facing for the neck, and others for the armholes."""
    return [("facing", {"opening": opening, **options}) for opening in ("neck", "armholes")]


@pytest.mark.parametrize("onto", [ROUND, V_NECK], ids=["round", "v"])
def test_each_facing_is_the_mirror_image_of_its_edge_and_parallel_to_it(onto: Onto) -> None:
    """The inner edge lies everywhere the width away from the sewn one, measured to the whole edge."""
    garment, b = skirt(_apart(width=45.0), cloth=JERSEY, onto=onto)
    assert not errors(garment, b)
    facings = [p for p in garment.pieces if "-facing-" in p.name]
    assert len(facings) == 6
    for piece in facings:
        sewn = [ln for ln in piece.ring if ln.name.startswith("facing-")]
        edge = Path.join(*(ln.path for ln in sewn))
        for line in sewn:
            host = garment.piece(piece.name.rpartition("-facing-")[2]).line(line.name.removeprefix("facing-"))
            assert line.path.same_as(host.path.mirrored().reversed(), 1e-6)
        for outer in piece.lines(role=Role.EDGE):
            points = outer.path.points(np.linspace(0.0, outer.path.length, 25))
            gaps = [edge.nearest(Point(x, y))[1] for x, y in points.tolist()]
            # Past the point of a V the parallels run on until they meet: width / cos(half the turn) off (geometry).
            turned = max((abs(turn) for _, turn in edge.corners()), default=0.0)
            assert max(gaps) <= 45.0 / math.cos(turned / 2.0) + 0.05
            assert min(gaps) == pytest.approx(45.0, abs=0.05)


def test_facings_are_joined_before_they_are_sewn_on() -> None:
    """Their ends first."""
    garment, _ = skirt(_apart(), cloth=JERSEY, onto=ROUND)
    order = [task.seam for task in make_up(garment)]
    assert order.index("neck-facing") > order.index("neck-facing-end-2") > order.index("shoulder-left")


def test_by_itself_a_facing_is_5_cm_wide() -> None:
    """By rule; of both, one piece each for front and back takes the place of two."""
    neck, _ = skirt([("facing", {"opening": "neck"})], cloth=JERSEY, onto=ROUND)
    assert neck.fact("neck_facing_width") == 50.0
    both, b = skirt(["facing"], cloth=JERSEY, onto=ROUND)
    assert not errors(both, b)
    assert sorted(piece.name for piece in both.pieces if piece.interfaced) == ["facing-back", "facing-front"]


def test_at_a_closure_the_neck_facing_ends() -> None:
    """Three pieces, joined at the shoulders alone, two ends left to turn in."""
    garment, b = skirt(["skirt", "waist-seam", "closure", *_apart()], onto=[(draft_darted_bodice, {})], cloth=WOVEN)
    assert not errors(garment, b)
    names = [p.name for p in garment.pieces if p.name.startswith("neck-facing")]
    assert sorted(names) == ["neck-facing-back-left", "neck-facing-back-right", "neck-facing-front"]
    assert [s.name for s in garment.seams if s.name.startswith("neck-facing-end")] == [
        "neck-facing-end-1",
        "neck-facing-end-2",
    ]
    ends = [ln for name in names for ln in garment.piece(name).lines(role=Role.END) if ln.opening == "neck"]
    assert len(ends) == 2
    assert all(abs(ln.path.start.x) < 1e-6 and abs(ln.path.end.x) < 1e-3 for ln in ends)
    assert prove(garment, b, finish(garment, FinishPlan())).passed


def test_no_sleeveless_armhole_no_facing() -> None:
    """Refused by the opening's name where there is none."""
    with pytest.raises(CannotDraft, match="neck"):
        skirt(["skirt", "facing"])


@pytest.mark.parametrize("place", ["back", "left"])
def test_a_waistband_is_as_long_as_the_waist_and_laps_under(place: str) -> None:
    """Less what is eased onto it; the underlap stands beyond the closure."""
    garment, b = skirt(["skirt", ("closure", {"place": place}), ("waistband", {"eased": 8.0, "underlap": 25.0})])
    assert not errors(garment, b)
    band = garment.piece("waistband")
    waist = b.body["waist_girth"] + 16.0
    assert band.line("band").path.length == pytest.approx(waist - 8.0, abs=1e-3)
    assert band.line("edge").path.length == pytest.approx(waist - 8.0 + 25.0, abs=1e-3)
    assert abs(band.grain.x) == 1.0  # the grain runs along it (common practice for wovens)
    assert prove(garment, b, finish(garment, FinishPlan())).passed


def test_a_pull_on_waistband_is_a_ring() -> None:
    """No closure: its ends are sewn to each other, and the waist must pass the hips by stretch alone."""
    garment, b = skirt(["circle-skirt", "waistband"], "alto", JERSEY)
    assert not errors(garment, b)
    assert "waistband-end" in [task.seam for task in make_up(garment)]


def test_a_band_on_a_gathered_waist_is_as_long_as_what_it_is_drawn_up_to() -> None:
    """Gathered in, the waist is the body's and its ease, however much cloth lies there."""
    plain, gathered = (
        skirt(["skirt", "waistband", ("closure", {"place": "back"})], onto=onto)
        for onto in ([], [(gather_dart, {"dart": "skirt-front"})])
    )
    assert not errors(*gathered)
    lengths = [garment.fact("waistband_length") for garment, _ in (plain, gathered)]
    assert lengths[1] == pytest.approx(lengths[0], abs=1e-6)


def test_a_waistband_is_cut_in_interfacing_in_a_woven() -> None:
    """Its label and the cloth to buy say so; one of a knit stretches."""
    for cloth in (WOVEN, JERSEY):
        garment, _b = skirt(["skirt", "waistband"], cloth=cloth)
        band = garment.piece("waistband")
        assert band.interfaced is bool(band.notes) is (cloth is WOVEN)


@pytest.mark.parametrize(("kind", "held"), [("skirt", False), ("circle-skirt", True), ("flared-skirt", True)])
def test_a_round_waist_is_stay_stitched(kind: str, held: bool) -> None:
    """Cut on a curve, much of it on the bias, it grows before the band is on."""
    garment, _b = skirt([kind, "waistband"])
    assert any("Stay-stitch the skirt's waist" in str(words) for words in stay_stitch_words(garment)) is held
