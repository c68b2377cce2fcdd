"""Bands and bindings on necklines with corners: mitred from corner to corner, drawn in along curves alone.

Mitred corners and clipped, stay-stitched necklines: common practice. A straight edge needs no reduction, curvature
does (a sewing guide, "straight seams need no reduction; curvature does").
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
import shapely.affinity

from blocks.band import draft_neck_band, draft_neck_binding
from blocks.mitred_band import BandStretch, BandStrip, draw_strip
from drafting.changes.design.centre import seam_centre
from drafting.changes.design.closure import open_closure
from drafting.changes.design.neckline import shape_neckline
from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish
from drafting.garment import Fate, Garment, Piece, Role, Step, openings
from drafting.garment.named_marks import V_POINT, name_marks
from drafting.garment.places import stay_reach
from drafting.geometry import Path, Point
from drafting.proof import Severity, prove
from drafting.saying import render
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from tests.garments import BODY, SINGERS, SLEEVED, Planned, brief, build

WIDTH = 10.0
SHAPES: Mapping[str, tuple[Mapping[str, Any], tuple[str, ...]]] = {
    "V": ({"front": "v"}, ("neck-band",)),
    "square": ({"front": "square"}, ("neck-band-back", "neck-band-front")),
    "two squares": (
        {"front": "square", "back": "square"},
        ("neck-band-back", "neck-band-front", "neck-band-left", "neck-band-right"),
    ),
    "two Vs": ({"front": "v", "back": "v"}, ("neck-band-left", "neck-band-right")),
    "square and V": (
        {"front": "square", "back": "v"},
        ("neck-band-front", "neck-band-left", "neck-band-right"),
    ),
}
"""Each neckline, and the strips its band is cut in."""


def banded(
    shape: str, voice: str = "soprano", step: Step[Any] = draft_neck_band, *more: Planned, **options: Any
) -> Garment:
    """A body with a neckline of a shape, and its band or binding."""
    return build(brief(voice), BODY, [(shape_neckline, SHAPES[shape][0]), (step, options)], more)


def strips(garment: Garment) -> list[Piece]:
    """The pieces of the neck band or binding."""
    return [piece for piece in garment.pieces if piece.lines(role=Role.BAND)]


def errors(garment: Garment, voice: str = "soprano") -> list[str]:
    """What the proof finds wrong, or worth a warning, of the neck."""
    found = prove(garment, brief(voice)).findings
    return [render(f.sentence, "cm") for f in found if f.severity is not Severity.NOTE and "neck" in f.place]


def inner_parallel(garment: Garment, width: float) -> float:
    """The length of the parallel of the whole neckline, ``width`` inside the opening, mitred: by shapely."""
    total = 0.0
    for name in ("front", "back"):
        lines = garment.piece(name).lines(role=Role.NECKLINE)
        points = np.concatenate([line.path.flatten(0.001) for line in lines])
        moves = np.hypot(*np.diff(points, axis=0).T)
        line = shapely.LineString(points[np.concatenate(([True], moves > 1e-9))])
        total += line.offset_curve(-width, quad_segs=64, join_style="mitre", mitre_limit=20.0).length
    return total


@pytest.mark.parametrize("shape", SHAPES)
def test_a_strip_from_corner_to_corner(shape: str) -> None:
    """One with a single corner, else one for each stretch between corners; each says what it lies along."""
    garment = banded(shape)
    assert tuple(sorted(piece.name for piece in strips(garment))) == SHAPES[shape][1]
    assert not [seam for seam in garment.seams if seam.kind.name == "end"]
    assert len([seam for seam in garment.seams if seam.kind.name == "mitre"]) == len(strips(garment))


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("width", [10.0, 28.0])
def test_every_singers_band_is_proven(shape: str, voice: str, width: float) -> None:
    """Sections agree with the neck's, the surface closes, and the outer edge passes the head."""
    assert not errors(banded(shape, voice, width=width), voice)


@pytest.mark.parametrize("shape", SHAPES)
def test_the_fold_is_the_parallel_of_the_neckline(shape: str) -> None:
    """Mitred and cut to lie flat, the folds together are the parallel that shapely draws inside the opening.

    But where a side of a square bends away from its band, the band is sewn on as long as the side, and its fold
    gives by what the parallel is longer.
    """
    garment = banded(shape, width=WIDTH)
    folds = math.fsum(line.path.length for piece in strips(garment) for line in piece.lines(role=Role.EDGE))
    lines = [line for piece in garment.pieces for line in piece.lines(role=Role.NECKLINE)]
    gives = WIDTH * math.fsum(max(line.path.turning(), 0.0) for line in lines)
    assert folds == pytest.approx(inner_parallel(garment, WIDTH) - gives, abs=0.6)
    assert gives < 0.1 * folds


@pytest.mark.parametrize("shape", SHAPES)
def test_straight_runs_are_not_stretched(shape: str) -> None:
    """A section without a curve is sewn on as long as it is; a curved one is drawn in by what its fold would gape."""
    garment = banded(shape, width=WIDTH)
    for section in garment.seam("neck-band").sections:
        lines = [garment.line(use) for use in section.plies[0]]
        curve = -math.fsum(line.path.turning() for line in lines)
        if all(line.name.endswith("/across") for line in lines):
            assert section.ease[1] == pytest.approx(0.0, abs=1e-9)
        elif not all(line.face == "back" for line in lines):
            assert section.ease[1] == pytest.approx(-max(curve, 0.0) * WIDTH, abs=1e-3)


@pytest.mark.parametrize("shape", SHAPES)
def test_mitres_halve_their_corners(shape: str) -> None:
    """Both ends at a corner are alike, and lean by half of what the neckline turns there."""
    garment = banded(shape, width=WIDTH)
    run = garment.seam("neck-band").plies[0]
    turns = []
    for before, after in zip((run[-1], *run), run, strict=False):
        a, b = garment.path(before), garment.path(after)
        if before.piece == after.piece and a.end.near(b.start):
            turns.append(math.acos(min(1.0, a.tangent(a.length).dot(b.tangent(0.0)))))
    wanted = sorted(turn / 2.0 for turn in turns if turn > 0.1)
    found = []
    for seam in garment.seams:
        if seam.kind.name == "mitre":
            one, two = (garment.path(run[0]) for run in seam.plies)
            assert one.length == pytest.approx(two.length, abs=1e-9)
            across = [abs(path.end.x - path.start.x) for path in (one, two)]
            assert across[0] == pytest.approx(across[1], abs=1e-9)
            found.append(math.atan2(across[0], WIDTH))
    assert sorted(found) == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("step", [draft_neck_band, draft_neck_binding], ids=["band", "binding"])
@pytest.mark.parametrize("shape", SHAPES)
def test_corners_are_marked_on_the_neck(shape: str, step: Step[Any]) -> None:
    """A notch in each corner of the neckline; a strip ends there, or a binding has its own notch as far along."""
    garment = banded(shape, "soprano", step)
    cuts = {name: cut for cut in finish(garment, FinishPlan(on_fold=False)) for name in cut.stands_for}
    for name in ("front", "back"):
        lines = garment.piece(name).lines(role=Role.NECKLINE)
        for one, two in pairwise(lines):
            if one.path.tangent(one.path.length).dot(two.path.tangent(0.0)) < 0.9:
                assert any(notch.on_stitch.near(two.path.start, 0.01) for notch in cuts[name].notches)
    seam = garment.seam(step.name)
    if step is draft_neck_binding:
        x, places = 0.0, []
        for section in seam.sections[:-1]:
            x += garment.run_length(section.plies[1])
            places.append(x)
        whole = math.fsum(garment.run_length(section.plies[1]) for section in seam.sections)
        marks = {round(whole - notch.on_stitch.x, 3) for notch in cuts[step.name].notches}
        assert all(round(place, 3) in marks for place in places)


def test_a_v_neck_is_still_cut_on_the_fold() -> None:
    """Marks lie alike on both sides, so that both mirror onto themselves; the strip says what it comes to."""
    garment = banded("V")
    cuts = {cut.name: cut for cut in finish(garment, FinishPlan())}
    point = next(number for number, name in name_marks(garment).items() if name == V_POINT)
    assert f"mitre to notch {point} V point" in cuts["neck-band"].labels
    assert not any(words.startswith("mitre") for words in cuts["front"].labels)
    assert cuts["front"].on_fold
    assert cuts["neck-band"].on_fold


@pytest.mark.parametrize("shape", SHAPES)
def test_a_half_on_the_fold_is_half_of_the_whole(shape: str) -> None:
    """No allowance of a point runs past the fold: unfolded, each half is the piece that is cut whole (shapely)."""
    garment = banded(shape)
    wholes = {name: cut for cut in finish(garment, FinishPlan(on_fold=False)) for name in cut.stands_for}
    halves = [cut for cut in finish(garment, FinishPlan()) if cut.on_fold]
    assert {"front", "back"} <= {cut.name for cut in halves}
    for half in halves:
        one = shapely.Polygon(half.cut_path.flatten(0.01))
        fold = next(edge.path for edge in half.outline if edge.name == "on-fold")
        matrix = mirror_in(fold.start, fold.end)
        opened = shapely.union(one.buffer(1e-4), shapely.affinity.affine_transform(one, matrix).buffer(1e-4))
        whole = shapely.Polygon(wholes[half.stands_for[0]].cut_path.flatten(0.01))
        assert opened.area == pytest.approx(whole.area, rel=2e-5)
        assert one.area == pytest.approx(whole.area / 2.0, rel=2e-5)


def mirror_in(a: Point, b: Point) -> list[float]:
    """The matrix, as shapely takes it, of a reflection in a line."""
    angle = 2.0 * (b - a).angle
    c, s = math.cos(angle), math.sin(angle)
    return [c, s, s, -c, a.x - c * a.x - s * a.y, a.y - s * a.x + c * a.y]


def test_both_layers_of_the_folded_band_are_mitred() -> None:
    """Opened out, an end points inwards at the fold, alike on either side of it."""
    cut = next(
        c for c in finish(banded("square", width=WIDTH), FinishPlan(on_fold=False)) if c.name == "neck-band-front"
    )
    stitches = [mark.path for mark in cut.marks if mark.kind == "stitch" and mark.name.startswith("end-a")]
    assert len(stitches) == 2
    xs = sorted(point.x for path in stitches for point in (path.start, path.end))
    assert xs[1] == pytest.approx(xs[0], abs=1e-6)
    assert xs[2] - xs[1] == pytest.approx(WIDTH, abs=0.05)  # half of a right angle
    assert xs[3] == pytest.approx(xs[2], abs=1e-6)


@pytest.mark.parametrize("degrees", [60.0, 84.0, 96.0, 120.0])
def test_mitres_for_another_corner_are_found(degrees: float) -> None:
    """Strips that would fit together, and be as long as the edge, but at another corner than the neckline's."""
    garment = banded("square")
    inset = 20.0 * math.tan(math.radians(degrees) / 2.0)
    wrong = []
    for piece in strips(garment):
        low, high = piece.outline.bounds[0], piece.outline.bounds[2]
        a, b, c, d = Point(low, 0.0), Point(high, 0.0), Point(high - inset, 20.0), Point(low + inset, 20.0)
        new = {"end-a": Path.straight(b, c), "edge": Path.straight(c, d), "end-b": Path.straight(d, a)}
        ring = tuple(replace(line, path=new.get(line.name, line.path)) for line in piece.ring)
        wrong.append(replace(piece, ring=ring))
    found = [f for f in prove(garment.with_(pieces=wrong), brief()).findings if f.severity is Severity.ERROR]
    assert {f.code for f in found} == {"bands.corner"}
    assert len(found) == 2
    assert all(("too much" if degrees > 90.0 else "too little") in render(f.sentence, "cm") for f in found)


def test_a_share_asked_for_is_taken_in_along_the_curves() -> None:
    """The whole is as asked, the straight run across the front as long as it is; too little is shared by all."""
    for share, straight in ((0.93, True), (0.60, False)):
        garment = banded("square", ratio=share)
        sections = garment.seam("neck-band").sections
        edge = math.fsum(garment.run_length(section.plies[0]) for section in sections)
        band = math.fsum(garment.run_length(section.plies[1]) for section in sections)
        assert band / edge == pytest.approx(share, abs=1e-9)
        across = next(s for s in sections if s.plies[1][0].piece == "neck-band-front")
        assert (abs(across.ease[1]) < 1e-9) is straight
    assert any("too short to stretch" in sentence for sentence in errors(banded("square", ratio=0.5)))


def test_a_strip_too_short_for_its_mitres_is_refused() -> None:
    """Two mitres would run into each other; the refusal says by how much."""
    strip = BandStrip(
        "neck-band-front", "Neck band, front", (BandStretch((), 80.0, 80.0, 0.0),), math.pi / 2.0, math.pi / 2.0
    )
    assert draw_strip(strip, "neck", 30.0, ring=False).line("edge").path.length == pytest.approx(20.0)
    with pytest.raises(CannotDraft, match="between two mitres") as caught:
        draw_strip(strip, "neck", 40.0, ring=False)
    assert caught.value.because == ("width",)
    assert caught.value.short_by == pytest.approx(12.0)


def test_corners_are_stayed_where_nothing_stays_the_neckline() -> None:
    """25 mm to either side of each corner, before it is clipped into; the back's is taped, where the head passes so."""
    tight = build(brief(), BODY, [(shape_neckline, {**SHAPES["square"][0], "widen": 0.0, "front_depth": 20.0})])
    untaped = draft_neck_band.apply(tight, brief(), draft_neck_band.options()).piece("front")
    corners = [zone for zone in untaped.zones if "clip" in str(zone.reason)]
    assert len(corners) == 4
    for zone in corners:
        path = untaped.line(zone.line).path
        assert (zone.end - zone.start) * path.length == pytest.approx(25.0)
        assert stay_reach(zone, 10.0) == (0.0, zone.width)  # hatched in the allowance, where it is stitched
    back = banded("square").piece("back")
    necks = [zone for zone in back.zones if "neckline" in zone.line]
    assert necks
    assert not [zone for zone in necks if "clip" in str(zone.reason)]


@pytest.mark.parametrize("face", ["front", "back"])
def test_a_point_over_a_centre_seam_is_a_corner_too(face: str) -> None:
    """The halves' corners at the seam add up to the V's, and the band is mitred there as without the seam."""
    whole, parted = (
        banded("two Vs"),
        banded("two Vs", "soprano", draft_neck_band, (seam_centre, {"kind": "seam", "on": face})),
    )
    assert not errors(parted)
    for one, two in zip(strips(whole), strips(parted), strict=True):
        assert two.outline.bounds == pytest.approx(one.outline.bounds, abs=0.05)


def test_beside_a_closure_the_ends_are_plain() -> None:
    """A zip at the back parts the band: square ends bound the opening, and the front's point is still a mitre."""
    garment = banded("V", "soprano", draft_neck_band, (open_closure, {"place": "back", "length": 120.0}), width=WIDTH)
    assert sorted(piece.name for piece in strips(garment)) == ["neck-band-left", "neck-band-right"]
    ends = [line for piece in strips(garment) for line in piece.lines(role=Role.END)]
    plain = [line for line in ends if line.opening == "neck"]
    assert len(plain) == 2
    assert all(line.path.length == pytest.approx(WIDTH) for line in plain)
    assert all(line.path.length > 1.2 * WIDTH for line in ends if line not in plain)
    assert not [f for f in prove(garment, brief()).findings if f.code.startswith(("puzzle", "seams", "joins"))]


@pytest.mark.parametrize("shape", SHAPES)
def test_a_binding_is_one_strip_folded_at_the_corners(shape: str) -> None:
    """Joined to a ring, the neckline bound without an allowance."""
    garment = banded(shape, "soprano", draft_neck_binding)
    assert [piece.name for piece in strips(garment)] == ["neck-binding"]
    assert "neck-binding-end" in {seam.name for seam in garment.seams}
    bound = [line for piece in garment.pieces for line in piece.lines(role=Role.NECKLINE)]
    assert all(line.fate is Fate.BOUND for line in bound)
    assert not errors(garment)


def test_the_order_of_work_tells_mitres_clips_and_where_to_stretch() -> None:
    """Mitres before the band is set on, and one step for it all."""
    wearer = brief()
    for step, words in (
        (
            draft_neck_band,
            (
                "Sew each mitre",
                "Stay-stitch",
                "straight into each corner",
                "With the needle down there",
                "its curves only",
            ),
        ),
        (draft_neck_binding, ("Sew the binding's ends", "Stay-stitch", "straight into each corner", "Fold a mitre")),
    ):
        garment = build(wearer, SLEEVED, [(shape_neckline, SHAPES["square"][0]), (step, {})])
        order = [str(step) for step in steps_of_work(prove(garment, wearer).order, garment, "cm")]
        told = [line for line in order if "eck b" in line]
        assert len(told) == 1
        assert all(word in told[0] for word in words)
    tasks = [task.seam for task in make_up(banded("two squares"))]
    assert max(i for i, name in enumerate(tasks) if "mitre" in name) < tasks.index("neck-band")


@pytest.mark.parametrize("shape", ["round", "scoop", "boat"])
def test_without_corners_the_band_is_one_strip_as_ever(shape: str) -> None:
    """Joined at the centre back."""
    neckline = {"front": shape, "front_depth": 40.0, "back": shape, "back_depth": 30.0}
    garment = build(brief(), BODY, [(shape_neckline, neckline), (draft_neck_band, {})])
    assert "neck-band-end" in {seam.name for seam in garment.seams}
    assert len(garment.seam("neck-band").sections) == 1
    assert [opening.name for opening in openings(garment)].count("neck") == 1
