"""Stacks of changes that once went wrong, each kept as it was found."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from drafting.cloth import Fit
from drafting.garment import Brief, Girth, Role
from drafting.job import draft_job
from tests.garments import singer
from tests.laws.jobs import WEARER, catalogue, job_from, job_of, outcome, with_changes
from tests.laws.strategies import CLOTHS, TRIMS, Made, surveyed

TABLE, WOMEN = "size_table_women_derived", "bodies_1988_women"


def brief_for(body: Any, fit: Fit) -> Brief:
    """A singer by voice, or a survey's row, in jersey and rib."""
    return Brief(singer(body) if isinstance(body, str) else surveyed(*body), CLOTHS[0], fit, {"rib": TRIMS[0]})


BACK_V = {"front": "v", "front_depth": 16.2, "back_depth": 223.9, "widen": 10.4}
LOW_BACK = {"back": "round", "back_depth": 229.9, "widen": 5.5, "side": "left"}

DRAWN: tuple[tuple[str, str, Any, Fit, list[Made]], ...] = (
    ("shallow boat", "knit-top", (WOMEN, 190), Fit.RELAXED, [("neckline", {"front": "boat", "front_depth": 12.3})]),
    ("low narrow back", "tank-top", (TABLE, 13), Fit.RELAXED, [("neckline", LOW_BACK)]),
    ("low back with a V", "basic-tee", "alto", Fit.SEMI, [("neckline", BACK_V), ("hem", {})]),
    ("half a back flared", "basic-tee", (TABLE, 24), Fit.SEMI,
     [("flare", {"by": 79.3, "side": "left", "on": "back"}), ("lengthen", {"by": 859.6, "at": "line"})]),
    ("flared back, slanted hem", "diagonal-overlay-top", "alto", Fit.SEMI,
     [("flare", {"by": 502.9, "on": "back"}), ("hem", {"rise": 57.0, "higher": "left"})]),
    ("flared front, shorter", "diagonal-overlay-top", (TABLE, 8), Fit.CLOSE,
     [("flare", {"by": 222.0, "on": "front"}), ("shoulder", {"narrow": 22.9}),
      ("lengthen", {"by": -71.0, "at": "line"})]),
    ("V over a centre seam", "knit-top", "soprano", Fit.SEMI, [("centre", {"on": "front"})]),
    ("armhole folding at its end", "diagonal-overlay-dress", (TABLE, 1), Fit.CLOSE,
     [("sloping-shoulder", {"by": 6.53, "keep_underarm": True, "side": "left"})]),
    ("half a back flared, shorter", "knit-top", "soprano", Fit.CLOSE,
     [("flare", {"by": 54.6, "on": "back", "side": "right", "slashes": 3}), ("short-waist", {"by": 54.6})]),
    ("wrist of a fuller arm", "basic-tee", "alto", Fit.CLOSE, [("full-upper-arm", {})]),
    ("slash beside a hollow side", "tank-top", ("bodies_2012_women", 380), Fit.CLOSE,
     [("flare", {"by": 253.6, "slashes": 3}), ("neckline", {"back": "square"}), ("high-hip", {"by": 7.6}),
      ("low-shoulder", {"by": 9.3})]),
    ("bust line bent by a flare", "knit-top", (TABLE, 3), Fit.RELAXED,
     [("flare", {"by": 541.8}), ("low-shoulder", {})]),
    ("hip in a stretched curve", "half-circle-dress", (TABLE, 13), Fit.CLOSE,
     [("long-waist", {"by": 10.0}), ("high-hip", {"by": 13.4})]),
    ("full bust over vents", "basic-tee", ("bodies_2012_women", 428), Fit.RELAXED,
     [("sleeveless", {}), ("vents", {}), ("full-bust", {})]),
    ("full bust in a side of two curves", "half-circle-dress", ("bodies_2012_men", 392), Fit.RELAXED,
     [("short-waist", {}), ("full-bust", {})]),
    ("ease at an opened side", "half-circle-dress", ("bodies_1988_men", 685), Fit.SEMI,
     [("closure", {"place": "right", "length": 89.6}), ("full-bust", {"by": 5.5, "side": "right"})]),
    ("neckline below the bust, parted", "half-circle-dress", ("bodies_2012_women", 258), Fit.CLOSE,
     [("neckline", {"front_depth": 180.0}), ("centre", {"on": "both"})]),
    ("neckline opened at one shoulder", "knit-top", "tenor", Fit.RELAXED,
     [("neckline", {"back": "scoop", "back_depth": 29.7, "widen": 74.2, "side": "right"})]),
    ("upper arm over the hollow of an edge", "basic-tee", "tenor", Fit.RELAXED,
     [("underarm", {"side": "left", "by": 147.1}), ("sleeve-fullness", {"hem": 52.9, "side": "left"})]),
    ("neckline over a centre back vent", "basic-tee", ("bodies_2012_men", 21), Fit.CLOSE,
     [("sleeveless", {}), ("vents", {"height": 153.5, "side": "back"}),
      ("neckline", {"front": "boat", "front_depth": 11.3, "back_depth": 37.0})]),
    ("front neckline at a forward shoulder", "tank-top", ("bodies_1988_men", 64), Fit.RELAXED,
     [("shoulder", {"side": "right", "narrow": -4.3}), ("forward-shoulder", {}), ("neckline", {"front_depth": 3.2})]),
    ("shortened over an eased side", "half-circle-dress", "soprano", Fit.SEMI,
     [("full-bust", {}), ("lengthen", {"by": -73.4, "at": "line"})]),
    ("shoulder of a wide man squared", "basic-tee", ("bodies_1988_men", 161), Fit.CLOSE, [("square-shoulder", {})]),
    ("shoulder of a wide man moved forward", "basic-tee", ("bodies_1988_men", 161), Fit.CLOSE,
     [("forward-shoulder", {})]),
    ("underarm of a wide woman lowered", "basic-tee", ("bodies_2012_women", 297), Fit.CLOSE,
     [("underarm", {"by": 10.0})]),
    ("broad back of a close body", "basic-tee", (WOMEN, 4), Fit.CLOSE, [("broad-back", {})]),
    ("high hip over vents", "tank-top", ("bodies_2012_men", 116), Fit.SEMI,
     [("flare", {"on": "front", "pivot": "waist"}), ("vents", {"height": 112.3}), ("high-hip", {"by": 15.3})]),
    ("lengthened over a vent", "basic-tee", ("bodies_1988_men", 741), Fit.CLOSE,
     [("flare", {"by": 20.7, "side": "right", "on": "front"}), ("vents", {"side": "right"}),
      ("lengthen", {"by": -97.2, "at": "line"})]),
    ("boat neckline over a low shoulder", "basic-tee", "alto", Fit.CLOSE,
     [("low-shoulder", {"by": 9.5, "side": "left"}), ("neckline", {"front": "boat"})]),
)  # fmt: skip


@pytest.mark.parametrize("case", DRAWN, ids=[case[0] for case in DRAWN])
def test_these_are_drawn_and_prove(case: tuple[str, str, Any, Fit, list[Made]]) -> None:
    """Nothing forbids them: seams match, edges run smooth, and every line leaves room for its allowance."""
    _, design, body, fit, stack = case
    what = outcome(with_changes(job_of(design), stack, brief_for(body, fit)))
    assert not what.broken, what.broken
    assert what.garment is not None, what.refused


def test_a_step_that_takes_the_room_for_an_allowance_is_named() -> None:
    """The armhole bends within 4 cm of the side seam: the change that bent it is refused, and what is too tight."""
    stack = [("shoulder", {"narrow": 5.0}), ("sloping-shoulder", {"by": 30.0, "keep_underarm": True, "side": "left"})]
    job = with_changes(job_of("diagonal-overlay-dress"), stack, brief_for((TABLE, 1), Fit.RELAXED))
    what = outcome(replace(job, finish=replace(job.finish, allowance=42.0)))
    assert not what.broken, what.broken
    assert what.code == "unfinished: sloping-shoulder"
    assert "left armhole" in what.refused


def test_gathers_leave_no_edge_too_tight() -> None:
    """A neckline slashed at its very end is refused before it bends more than its allowance lets it."""
    at_end = {"at": "neckline", "way": "away", "start": 0.0, "end": 0.34, "on": "back"}
    stack: list[Made] = [("gathers", at_end), ("full-bust", {"side": "left", "by": 6.3})]
    for third in (("style-line", {"name": "panel"}), ("gathers", at_end)):
        what = outcome(with_changes(job_of("knit-top"), [*stack, third], brief_for("alto", Fit.RELAXED)))
        assert not what.broken, what.broken


def test_a_neckline_too_shallow_to_turn_is_refused() -> None:
    """Almost level, a neckline square to the shoulder turns more tightly than its allowance is wide."""
    shallow = [("neckline", {"front": "boat", "back": "scoop", "back_depth": 8.6})]
    what = outcome(with_changes(job_of("knit-top"), shallow, brief_for("alto", Fit.CLOSE)))
    assert what.code == "refused: neckline"
    assert "radius" in what.refused


@pytest.mark.parametrize("design", sorted(catalogue().designs))
@pytest.mark.parametrize("place", ["back", "left", "right"])
def test_a_closure_proves_or_is_refused(design: str, place: str) -> None:
    """Wherever a design is opened; a second closure at the same place too."""
    what = outcome(with_changes(job_of(design), [("closure", {"place": place})]))
    assert not what.broken, what.broken


def test_bands_end_at_a_closure() -> None:
    """The neck band runs from one edge of the zip to the other: one strip, its ends not joined to each other."""
    garment = draft_job(with_changes(job_of("knit-top"), [("closure", {})]))
    names = {seam.name for seam in garment.seams}
    assert "neck-band" in names
    assert "neck-band-end" not in names
    assert "hem-band-end" in names
    run = garment.seam("neck-band").plies[0]
    ends = garment.path(run[0]).start, garment.path(run[-1]).end
    assert [abs(end.x) for end in ends] == pytest.approx([0.0, 0.0], abs=1e-6)


def test_a_closed_side_parts_the_hem_band() -> None:
    """A side that opens down to the hem: the hem band ends there, the neck band is joined as ever, a V's in a mitre."""
    garment = draft_job(with_changes(job_of("knit-top"), [("closure", {"place": "left"})]))
    names = {seam.name for seam in garment.seams}
    assert "neck-band-mitre-1" in names
    assert "hem-band-end" not in names


def test_a_neck_band_is_joined_at_a_centre_back_seam() -> None:
    """Where a seam parts the back, the joint of a band without corners lies on it."""
    for design, name in (("basic-tee", "neck-band"), ("knit-top", "hem-band")):
        garment = draft_job(with_changes(job_of(design), [("centre", {"on": "back"})]))
        run = garment.seam(name).plies[0]
        assert abs(garment.path(run[0]).start.x) < 1e-6
        assert {garment.line(use).face.value for use in (run[0], run[-1])} == {"back"}


def test_a_dress_is_lengthened_above_its_waist_seam() -> None:
    """Between bust and waist the bodice grows; the skirt keeps each line's length, and hangs lower."""
    job = job_of("waist-seam-dress")
    for by in (-60.0, 45.0):
        what = outcome(with_changes(job, [("lengthen", {"by": by, "at": "line"})]))
        assert not what.broken, what.broken
        assert what.garment is not None, what.refused
        before = draft_job(job)
        for piece in before.pieces:
            if piece.name.startswith("skirt"):
                after = what.garment.piece(piece.name)
                seamed = [ln.name for ln in piece.ring if ln.role is not Role.CENTRE]  # a zip is whole centimetres
                assert [after.line(name).path.length for name in seamed] == pytest.approx(
                    [piece.line(name).path.length for name in seamed]
                )
                assert after.outline.bounds[1] == pytest.approx(piece.outline.bounds[1] - by, abs=1e-6)


def test_a_sleeve_length_by_name_leaves_the_least_underarm() -> None:
    """Short, with room left for a deep cuff: as short as can be, and that is told; by a figure it is refused."""
    made = outcome(with_changes(job_of("basic-tee"), [("sleeve-length", {"to": "short", "cuff": 120.0})]))
    assert not made.broken, made.broken
    assert made.garment is not None, made.refused
    assert made.garment.fact("sleeve_underarm_kept_left") > 0.0
    refused = outcome(with_changes(job_of("basic-tee"), [("sleeve-length", {"length": 100.0})]))
    assert refused.code == "refused: sleeve-length"


def test_a_level_over_a_deep_back_neckline_goes_with_its_panel() -> None:
    """The line across the back runs through the hollow of the neckline; it isn't taken for cloth that a dart held."""
    job = job_of("princess-top")
    for drop in (60.0, 132.0, 180.0):
        what = outcome(with_changes(job, [("neckline", {"back_depth": drop})]))
        assert not what.broken, what.broken
        assert what.garment is not None, what.refused


def test_halves_of_a_neckline_meet_where_one_follows_its_shoulder_down() -> None:
    """A neckline opened widely at one shoulder goes down there, and the other half with it; the facts tell of both."""
    job = job_from(f'builds_on = "knit-top"\nunit = "cm"\n{WEARER}[blocks.body]\nfront_depth = 5\n')
    stack = [("neckline", {"back": "scoop", "back_depth": 29.7, "widen": 74.2, "side": "right"})]
    what = outcome(with_changes(job, stack, brief_for("tenor", Fit.RELAXED)))
    assert what.garment is not None, what.refused
    lowered = [what.garment.fact(f"neckline_lowered_front_{side}") for side in ("left", "right")]
    assert lowered[0] == pytest.approx(lowered[1], abs=1e-6)
    assert lowered[0] > 5.0


def test_a_bust_line_that_a_seam_parts_in_a_neckline_is_no_girth() -> None:
    """Below the bust line the front is open: what is left of the line ends at the neckline, and has no aim."""
    wearer = brief_for(("bodies_2012_women", 258), Fit.CLOSE)
    stack = [("neckline", {"front_depth": 180.0}), ("centre", {"on": "both"})]
    garment = draft_job(with_changes(job_of("half-circle-dress"), stack, wearer))
    assert not any(aim.measure == Girth("bust") for aim in garment.aims)
    for name in ("front-left", "front-right"):
        piece = garment.piece(name)
        ends = [(v, p) for v in piece.levels if v.name == "bust" for p in (v.path.start, v.path.end)]
        assert len(ends) == 2
        assert all(min(line.path.nearest(end)[1] for line in piece.ring) < 0.1 for _, end in ends)
        assert not any(level.girth for level, _ in ends)


def test_an_overlay_over_the_centre_back_refuses_a_closure() -> None:
    """It would hold the garment closed: the closure is refused, and says so."""
    for design in ("diagonal-overlay-dress", "diagonal-overlay-top", "diagonal-overlay-tank"):
        what = outcome(with_changes(job_of(design), [("closure", {})], brief_for("alto", Fit.RELAXED)))
        assert not what.broken, what.broken
        assert what.code == "refused: closure"
        assert "hangs over the back" in what.refused


def test_a_sleeve_tapered_to_a_waving_edge_is_refused() -> None:
    """So much taken out would leave an edge that no allowance runs along: the change says so, before it is cut out."""
    stack = [("sleeve-fullness", {"cap": 12.0, "hem": -160.0})]
    wearer = Brief(surveyed("bodies_1988_men", 509), CLOTHS[2], Fit.CLOSE, {"rib": TRIMS[2]})
    what = outcome(with_changes(job_of("half-circle-dress"), stack, wearer))
    assert what.code == "refused: sleeve-fullness"
    assert "too tightly for its allowance" in what.refused
