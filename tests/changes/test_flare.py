"""Flare: wider below by what was asked, and nothing else longer."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.bodice import draft_knit_bodice
from drafting.changes.design.flare import flare_hem
from drafting.changes.design.style_line import draw_style_line
from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Girth, Role, Side, Use, Width
from drafting.geometry import turn
from drafting.job import draft_job
from drafting.proof.finding import Severity
from drafting.proof.proof import prove
from drafting.saying import render
from tests.garments import BODY, SINGERS, TOP, brief, build
from tests.laws.jobs import job_of, outcome, with_changes
from tests.laws.strategies import surveyed
from tests.skirts.dressed import WOVEN

LAW = settings(max_examples=10, derandomize=True, deadline=None)
PIVOTS = ("armhole", "waist")


def hem(garment: Garment, face: Face | None = None, side: Side | None = None) -> float:
    """The length of the hem (mm), or of a part of it."""
    return sum(ln.path.length for p in garment.pieces for ln in p.lines(role=Role.HEM, face=face, side=side))


def flared(options: dict[str, Any], voice: str = "soprano") -> Garment:
    """A knit body, flared."""
    return build(brief(voice), BODY, [(flare_hem, options)])


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("pivot", PIVOTS)
def test_a_flared_top_is_proved(pivot: str, voice: str) -> None:
    """With sleeves and bands drafted onto it; its aims say what the flare added, and the armhole has no warning."""
    garment = build(brief(voice), TOP, [(flare_hem, {"by": 160.0, "pivot": pivot})])
    proof = prove(garment, brief(voice))
    assert proof.passed
    assert not [f for f in proof.of(Severity.WARNING) if "armhole" in f.place]


@LAW
@given(st.floats(-60.0, 240.0), st.sampled_from(PIVOTS), st.sampled_from(["both", "left", "right"]))
def test_the_hem_grows_by_what_was_asked_and_nothing_else_does(by: float, pivot: str, side: str) -> None:
    """Side seams, armholes, shoulders and necklines keep their lengths to 1e-9 mm."""
    plain, made = build(brief(), BODY), flared({"by": by, "pivot": pivot, "side": side})
    assert hem(made) - hem(plain) == pytest.approx(by, abs=5e-3)
    for face in ("front", "back"):
        for old, new in zip(plain.piece(face).ring, made.piece(face).ring, strict=True):
            if old.role is not Role.HEM:
                assert new.path.length == pytest.approx(old.path.length, abs=1e-9)


@LAW
@given(st.floats(20.0, 240.0), st.sampled_from(PIVOTS))
def test_side_seams_agree_and_the_hem_meets_them_square(by: float, pivot: str) -> None:
    """Front and back side seams stay equal; each hem meets its side as it did: square."""
    made = flared({"by": by, "pivot": pivot})
    for side in (Side.LEFT, Side.RIGHT):
        front, back = (made.run_length(run) for run in made.seam(f"side-{side}").plies)
        assert front == pytest.approx(back, abs=1e-6)
    for face in ("front", "back"):
        ring = made.piece(face).ring
        for line, following in zip(ring, ring[1:] + ring[:1], strict=True):
            if {line.role, following.role} == {Role.HEM, Role.SIDE}:
                angle = turn(line.path.tangent(line.path.length), following.path.tangent(0.0))
                assert angle == pytest.approx(math.pi / 2.0, abs=1e-6)


def test_one_side_leaves_the_other_as_it_was() -> None:
    """Flared on the left: the right half's lines are the very same."""
    plain = build(brief(), BODY)
    made = flare_hem.apply(plain, brief(), flare_hem.options(side="left", by=100.0))
    for face in ("front", "back"):
        for line in plain.piece(face).lines(side=Side.RIGHT):
            assert made.piece(face).line(line.name) is line
    assert hem(made, side=Side.LEFT) == pytest.approx(hem(plain, side=Side.LEFT) + 100.0, abs=5e-3)


def test_both_halves_are_mirror_images() -> None:
    """A flare on both sides leaves the top symmetric, so that it can be cut on the fold."""
    piece = flared({"by": 240.0}).piece("front")
    images = [line.path.mirrored().reversed() for line in piece.ring]
    assert all(any(line.path.same_as(image, 1e-6) for image in images) for line in piece.ring)


@LAW
@given(st.floats(20.0, 120.0), st.floats(20.0, 120.0))
def test_flared_twice_is_flared_by_the_sum(a: float, b: float) -> None:
    """By a and then by b, the hem is wider by a + b."""
    plain = build(brief(), BODY)
    twice = build(brief(), BODY, [(flare_hem, {"by": a}), (flare_hem, {"by": b})])
    assert hem(twice) - hem(plain) == pytest.approx(a + b, abs=1e-2)


def test_a_flare_from_the_waist_leaves_all_above_it() -> None:
    """Bust and waist stay as they were; the hip gains."""
    plain = build(brief(), BODY)
    made = flare_hem.apply(plain, brief(), flare_hem.options(pivot="waist", by=120.0))
    aims = {aim.measure: aim.ease for aim in made.aims}
    before = {aim.measure: aim.ease for aim in plain.aims}
    for name in (Girth("bust"), Girth("waist"), Width("across-back")):
        assert aims[name] == pytest.approx(before[name], abs=1e-6)
    assert aims[Girth("hip")] > before[Girth("hip")] + 60.0
    for line in plain.piece("front").ring:
        if line.role not in (Role.HEM, Role.SIDE):
            assert made.piece("front").line(line.name) is line


def test_a_dress_may_be_flared_widely() -> None:
    """A skirt 40 cm below the hip takes 80 cm at its hem."""
    dress = [(draft_knit_bodice, {"below_hip": 400.0}), *TOP[1:]]
    for pivot in PIVOTS:
        made = build(brief(), dress, [(flare_hem, {"by": 800.0, "pivot": pivot})])
        assert prove(made, brief()).passed


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({"by": 1600.0}, "can't be spread so far|too hollow"),
        ({"by": 600.0, "slashes": 1, "on": "front", "side": "left"}, "can't be spread so far"),
    ],
)
def test_too_much_is_refused_in_words(options: dict[str, Any], says: str) -> None:
    """Never a broken outline."""
    with pytest.raises(CannotDraft, match=says):
        flared(options)


def test_a_cropped_top_has_no_waist_to_flare_from() -> None:
    """Its hem lies above the waist."""
    with pytest.raises(CannotDraft, match="no waist"):
        build(brief(), [(draft_knit_bodice, {"below_hip": -240.0})], [(flare_hem, {"pivot": "waist", "by": 60.0})])


def test_style_lines_follow_a_flare() -> None:
    """A flared top can be parted by a yoke and panels, whatever order a ticket gives."""
    panel = {"start": "side 0.4", "end": "hem 0.5", "start_side": "both", "end_side": "same", "name": "panel"}
    made = build(brief(), TOP, [(draw_style_line, {}), (draw_style_line, panel), (flare_hem, {"by": 200.0})])
    assert prove(made, brief()).passed


def test_a_slash_that_grazes_a_hollow_side_parts_no_sliver_off() -> None:
    """It runs within the piece with some cloth beside it, so that the waist line goes out with its side seam."""
    wearer = brief(surveyed("bodies_2012_women", 380), Fit.CLOSE)
    stack = [("neckline", {"back": "square"}), ("flare", {"on": "front", "slashes": 3})]
    front = draft_job(with_changes(job_of("tank-top"), stack, wearer)).piece("front")
    waist = next(level.path for level in front.levels if level.name == "waist")
    for end in (waist.start, waist.end):
        assert min(line.path.nearest(end)[1] for line in front.lines(role=Role.SIDE)) < 0.1


def test_a_hollow_waist_is_passed_nearer_to_the_centre() -> None:
    """A close dress is flared from the armhole without saying more."""
    what = outcome(with_changes(job_of("diagonal-overlay-dress"), [("flare", {})], brief("soprano", Fit.CLOSE)))
    assert not what.refused
    assert what.garment is not None
    assert what.garment.fact("flare") == 200.0


@pytest.mark.parametrize("design", ["fitted-bodice", "princess-top", "sheath-dress"])
def test_a_body_with_darts_over_the_way_to_its_armhole_falls_from_its_waist(design: str) -> None:
    """Front and back alike, as the fact tells; the sides run out with slopes that are no more than 8 degrees apart."""
    wearer = replace(brief(surveyed("bodies_1988_women", 321)), cloth=WOVEN)
    changes: list[tuple[str, dict[str, Any]]] = [("flare", {"by": 60.0})]
    garment = draft_job(with_changes(job_of(design), changes, wearer))
    assert "waist" in render(next(fact.sentence for fact in garment.facts if fact.name == "flare"), "cm")
    proof = prove(garment, wearer)
    assert proof.passed
    slopes = [flank_slope(garment, face) for face in (Face.FRONT, Face.BACK)]
    assert abs(slopes[0] - slopes[1]) <= 8.0
    assert garment.fact("flare_at_sides") == pytest.approx(1.0 / 3.0 if design == "princess-top" else 1.0)
    told = [f for f in proof.findings if f.code.startswith("fit.flare")]
    assert [f.code for f in told] == ["fit.flare_at_sides"] * (design != "princess-top")
    assert not [f for f in told if "at most are usual" in render(f.sentence, "cm")], "they swing out by less than that"


def test_a_flare_is_shared_by_panel_seams_and_the_hem_stays_fair() -> None:
    """Of 20 cm each edge of six seams gets 1/12; sewn, the hem runs on square over each, its edges as alike as before.

    The sides rise by less than 1 cm (by 2 when all of it lay in them).
    """
    wearer = replace(brief(surveyed("bodies_1988_women", 321)), cloth=WOVEN)
    plain = draft_job(with_changes(job_of("princess-top"), [], wearer))
    made = draft_job(with_changes(job_of("princess-top"), [("flare", {})], wearer))
    grown = {p.name: sum(ln.path.length for ln in made.piece(p.name).lines(role=Role.HEM)) - sum(
        ln.path.length for ln in p.lines(role=Role.HEM)) for p in plain.pieces if p.lines(role=Role.HEM)}  # fmt: skip
    edges = {name: 1 if name.startswith("back") else 2 for name in grown}
    assert grown == pytest.approx({name: count * 200.0 / 12.0 for name, count in edges.items()}, abs=0.5)
    assert sum(grown.values()) == pytest.approx(200.0, abs=0.05)
    for seam in (seam for seam in made.seams if seam.name.startswith("panel-")):
        assert max(map(abs, seam.ease)) == pytest.approx(max(map(abs, plain.seam(seam.name).ease)), abs=0.3)
        corners = [square_off(made, run[-1]) for run in seam.sections[-1].plies]
        assert corners == pytest.approx([0.0, 0.0], abs=1e-6)
    side = made.piece("side-panel-front-left")
    ends = [end for line in side.lines(role=Role.HEM) for end in (line.path.start, line.path.end)]
    assert (
        max(end.y for end in ends) - min(y for line in side.lines(role=Role.HEM) for y in line.path.flatten()[:, 1])
        < 10.0
    )
    assert prove(made, wearer).passed


def square_off(garment: Garment, use: Use) -> float:
    """By how much (rad) the corner between a seam's edge and the hem below it is off square."""
    ring = garment.piece(use.piece).ring
    at = next(i for i, line in enumerate(ring) if line.name == use.line)
    first, second = (ring[at - 1], ring[at]) if use.against else (ring[at], ring[(at + 1) % len(ring)])
    assert Role.HEM in (first.role, second.role)
    return turn(first.path.tangent(first.path.length), second.path.tangent(0.0)) - math.pi / 2.0


def flank_slope(garment: Garment, face: Face) -> float:
    """How steeply (degrees) a face's left side runs out over the last 10 cm above its hem."""
    points = [p for piece in garment.pieces for line in piece.lines(role=Role.SIDE, side=Side.LEFT, face=face)
              for p in line.path.flatten()]  # fmt: skip
    low = min(points, key=lambda p: p[1])
    high = min(points, key=lambda p: abs(p[1] - low[1] - 100.0))
    return math.degrees(math.atan2(abs(low[0]) - abs(high[0]), high[1] - low[1]))
