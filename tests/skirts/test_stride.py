"""Stride: a narrow hem is warned of, and a vent at a side or at the centre back answers it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely

from blocks.darted_bodice import draft_darted_bodice
from blocks.skirt import draft_straight_skirt
from drafting.body import make_body
from drafting.body.stride import STRIDE, stride_girth
from drafting.changes.design.closure import open_closure
from drafting.changes.design.lengthen import lengthen_body
from drafting.changes.design.vents import open_vents
from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish
from drafting.garment import Fate, Garment, Role, glue
from drafting.job import draft_job
from drafting.proof import prove
from drafting.proof.checks.stride import check_stride
from drafting.proof.document import proof_document
from drafting.proof.fit.skirts import skirt_rows
from drafting.saying import Saying, render
from drafting.ticket import find_catalogue
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from tests.body.people import people
from tests.garments import brief, build, singer
from tests.laws.jobs import job_of, with_changes
from tests.skirts.dressed import WOVEN, errors, skirt

INSTALLED = find_catalogue().find_mends
"""What the installed changes mend."""


def vented(**options: object) -> Garment:
    """A long straight skirt with a vent and a zip."""
    return build(
        brief(cloth=WOVEN), [(draft_straight_skirt, {"length": 800.0}), (open_vents, options), (open_closure, {})]
    )


def test_what_goes_round_both_legs_is_what_a_string_would() -> None:
    """Round two round posts as far apart as the legs are: the hull's edge, by shapely."""
    body = singer("soprano")
    height = body["knee_height"]
    apart = STRIDE * body["stature"] * (body["hip_height"] - height) / body["hip_height"]
    post = shapely.Point(0.0, 0.0).buffer(body["knee_girth"] / (2.0 * math.pi), quad_segs=200)
    both = shapely.union(post, shapely.affinity.translate(post, apart))
    assert stride_girth(body, height) == pytest.approx(both.convex_hull.length, rel=1e-3)


def test_a_hem_to_the_knee_is_told_beside_the_stride_that_it_goes_round() -> None:
    """Without a vent, too, though nothing has to pass it; at the top of its vents where it has some."""
    plain, b = skirt(["skirt", ("closure", {"place": "back"})])
    (told,) = (row for row in skirt_rows(plain, b) if row.name == "stride")
    assert told.body == pytest.approx(stride_girth(b.body, b.body["knee_height"]), abs=5.0)
    assert told.garment >= told.body
    rows = proof_document(prove(plain, b), title="Skirt", mark="A1B2", unit="cm")["openings"]
    assert {row["must_pass"] for row in rows if row["opening"] == "hem"} == {None}
    (freed,) = (row for row in skirt_rows(vented(), b) if row.name == "stride")
    assert "vents" in render(freed.title, "cm")


def test_long_hems_want_about_a_metre_and_a_half() -> None:
    """Common practice, from memory: about 1 m round at the knee, 1.4 to 1.6 m at the ankle, for a woman of 166 cm."""
    body = singer("soprano")
    assert stride_girth(body, body["knee_height"]) == pytest.approx(1000.0, abs=60.0)
    assert 1400.0 < stride_girth(body, 90.0) < 1600.0


@pytest.mark.parametrize(
    ("options", "warned"),
    [({}, False), ({"taper": 40.0}, True), ({"length": 800.0}, True), ({"length": 400.0, "taper": 20.0}, False)],
)
def test_a_narrow_hem_below_the_middle_of_the_thigh_is_warned_of(options: dict[str, float], warned: bool) -> None:
    """To the knee it goes; drawn in, or longer, it doesn't; above the middle of the thigh it may be as it likes."""
    garment, b = skirt([("skirt", options)])
    found = [f for f in prove(garment, b, advisor=INSTALLED).findings if f.code == "stride.hem"]
    assert bool(found) is warned
    assert all(f.severity == "warning" and '"vents"' in render(f.remedy, "cm") for f in found)


@pytest.mark.parametrize("side", ["back", "both"])
def test_the_vent_that_the_remedy_asks_for_answers_it(side: str) -> None:
    """As high as told; and 5 cm lower doesn't."""
    garment, b = skirt([("skirt", {"length": 800.0})])
    (finding,) = check_stride(garment, b)
    assert finding.wanted is not None
    high = float(str(Saying("{height}", finding.wanted.values)).removesuffix(" mm"))
    assert not check_stride(vented(height=high, side=side), b)
    assert check_stride(vented(height=high - 50.0, side=side), b)


def test_a_vent_at_the_centre_back_parts_the_back() -> None:
    """Two backs, sewn from the vent up to the zip, their vents turned as the hem is; and it proves."""
    garment = vented(height=250.0, side="back")
    b = brief(cloth=WOVEN)
    assert not errors(garment, b, finish(garment, FinishPlan()))
    backs = [piece for piece in garment.pieces if piece.name.startswith("skirt-back")]
    assert len(backs) == 2
    for piece in backs:
        (vent,) = [line for line in piece.lines(role=Role.CENTRE) if line.fate is Fate.HEMMED]
        assert vent.path.length == pytest.approx(250.0)
        assert vent.opening == "hem"
    assert glue(garment).components == 1
    assert len([task for task in make_up(garment) if task.seam.startswith("centre")]) == 1


def test_a_dress_is_judged_like_a_skirt() -> None:
    """A darted bodice lengthened to below the knee, with and without vents."""
    b = brief(cloth=WOVEN)
    steps = [(draft_darted_bodice, {"to": "hip"}), (lengthen_body, {"to": 1100.0, "at": "hem"})]
    assert check_stride(build(b, steps), b)
    assert not check_stride(build(b, steps, [(open_vents, {"height": 300.0, "side": "back"})]), b)


def test_two_vents_on_one_seam_are_refused() -> None:
    """At the centre back as at a side."""
    with pytest.raises(CannotDraft, match="centre back has a vent already"):
        build(
            brief(cloth=WOVEN),
            [(draft_straight_skirt, {}), (open_vents, {"side": "back"}), (open_vents, {"side": "back"})],
        )


def test_a_slit_at_the_back_has_a_step_of_its_own() -> None:
    """It has no underlap, so it isn't called a vent: the seam is secured at its notch, its edges are turned in."""
    b = brief(cloth=WOVEN)
    plans = [(draft_straight_skirt, {"length": 800.0}), (open_vents, {"side": "back"}), (open_closure, {})]
    garment = build(b, plans[:1], plans[1:])
    steps = [str(step) for step in steps_of_work(prove(garment, b).order, garment, "cm")]
    (slit,) = [step for step in steps if step.startswith("Slit at the centre back")]
    assert "Press the hem up along its fold line too" in slit
    seam = next(step for step in steps if step.startswith("Centre back"))
    assert "Sew from the vent's notch up to the notch where the opening ends" in seam  # the slit stays open
    assert not any("Hem of the centre" in step for step in steps)


def test_a_hem_band_is_judged_where_it_ends() -> None:
    """The hem of a long knit top would do, the tighter band on it doesn't: it is the band, lower down, that is told."""
    job = with_changes(job_of("knit-top"), [("lengthen", {"by": 800.0})])
    rib = replace(job.brief.cloths["rib"], stretch_across=0.5)
    garment = draft_job(job)
    (found,) = check_stride(garment, replace(job.brief, cloths={"rib": rib}))
    edge = garment.piece("hem-band").line("edge").path
    assert found.value == pytest.approx(edge.length * 1.5)
    above = [line for piece in garment.pieces if piece.face for line in piece.lines(role=Role.HEM)]
    low = min(line.path.bounds[1] for line in above) - 55.0
    height = job.brief.body["waist_height"] + job.brief.body["back_neck_point_to_waist"] + low
    assert found.limit == pytest.approx(stride_girth(job.brief.body, height), abs=1.0)
    assert "hem band" in render(found.sentence, "cm")


def test_a_straight_skirt_past_the_knee_wants_a_vent_though_a_step_fits() -> None:
    """In a cloth that gives enough for a step; with a vent, or to the knee, nothing is told."""
    asked = brief(cloth=replace(WOVEN, stretch_across=0.06))
    found = []
    for below_knee, vents in ((80.0, ()), (80.0, ((open_vents, {}),)), (0.0, ())):
        length = asked.body["waist_height"] - asked.body["knee_height"] + below_knee
        garment = build(asked, [(draft_straight_skirt, {"length": length}), *vents, (open_closure, {})])
        found.append([finding.code for finding in check_stride(garment, asked)])
    assert found == [["stride.straight"], [], []]


def test_a_straight_skirt_to_the_knee_is_let_out_for_a_step() -> None:
    """A man of narrow hips: by rule its sides run out by less than 2 cm each; asked for straight, it is warned of."""
    body = make_body("narrow hips", people("bodies_2012_men")[300], rules="men")
    for options, codes in (({}, []), ({"taper": 0.0}, ["stride.hem"])):
        garment, b = skirt([("skirt", options)], body)
        assert [finding.code for finding in check_stride(garment, b)] == codes
        assert [0.0 < fact.value < 20.0 for fact in garment.facts if fact.name == "hem_let_out"] == [True][len(codes) :]


def test_a_vent_is_by_rule_as_high_as_a_step_wants() -> None:
    """Half of what hangs below the hip is too little where the hem is drawn in."""
    garment, b = skirt([("skirt", {"length": 800.0, "taper": 60.0})], then=[(open_vents, {"side": "back"})])
    assert not check_stride(garment, b)
