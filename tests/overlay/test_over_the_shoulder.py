"""The overlay over the shoulder: it covers the shoulder point, rounds just outside it, and the proof holds it there."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely

from drafting.body import make_body
from drafting.cloth import Fit
from drafting.garment import Garment, Piece, Role
from drafting.garment.adjusting import agree_adjusts
from drafting.geometry import Point
from drafting.job import draft_job
from drafting.proof import prove
from drafting.proof.fit import fit_rows
from drafting.ticket import Job
from tests.body.people import people
from tests.garments import SINGERS, brief
from tests.laws.jobs import catalogue, with_changes
from tests.overlay.tops import overlay_job

SLOPES = pytest.mark.parametrize("slope", [0.30, 0.42, 0.55])


def drafted(voice: str = "soprano", slope: float = 0.42, design: str = "diagonal-overlay-top") -> tuple[Garment, Job]:
    """An overlay design for a singer with shoulders of that slope, and its job."""
    rules, given = SINGERS[voice]
    body = make_body(voice, {**given, "shoulder_slope": slope}, rules=rules)
    job = with_changes(overlay_job(design=design), [], brief(body))
    return draft_job(job), job


def shoulder_point(main: Piece, overlay: Piece) -> Point:
    """The outer end of the main piece's shoulder beneath the overlay."""
    (edge,) = overlay.lines(role=Role.SHOULDER)
    paths = [line.path for line in main.lines(role=Role.SHOULDER, side=edge.side)]
    return max((p for path in paths for p in (path.start, path.end)), key=lambda p: abs(p.x))


@SLOPES
@pytest.mark.parametrize("voice", ["soprano", "bass"])
@pytest.mark.parametrize("face", ["front", "back"])
def test_it_rounds_outside_the_shoulder_point(face: str, voice: str, slope: float) -> None:
    """By 0.5 to 1 cm (from memory), the main piece's corner within it; judged by shapely."""
    garment, _ = drafted(voice, slope)
    overlay = garment.piece(f"overlay-{face}")
    at = shoulder_point(garment.piece(face), overlay)
    corner, outline = shapely.Point(at.x, at.y), shapely.Polygon(overlay.outline.flatten(0.01))
    assert outline.contains(corner)
    assert 5.0 < outline.exterior.distance(corner) < 10.0


def test_its_edge_lies_on_the_shoulder_and_runs_on_fair() -> None:
    """Its first stretch lies on the main piece's shoulder; beyond it the edge never bends sharply."""
    garment, _ = drafted()
    overlay, main = garment.piece("overlay-front"), garment.piece("front")
    (edge,) = overlay.lines(role=Role.SHOULDER)
    (shoulder,) = main.lines(role=Role.SHOULDER, side=edge.side)
    neck = min((shoulder.path.start, shoulder.path.end), key=lambda p: abs(p.x))
    path = edge.path if edge.path.start.near(neck, 0.01) else edge.path.reversed()
    assert all(shoulder.path.nearest(path.at(s))[1] < 0.01 for s in (0.0, 10.0, 20.0))
    assert max(abs(path.curvature(s)) for s in range(0, int(path.length), 5)) < 1.0 / 60.0


@pytest.mark.parametrize("by", [-15.0, 15.0])
def test_an_edge_inside_or_far_outside_the_point_is_found(by: float) -> None:
    """Moved along the shoulder by 1.5 cm either way it no longer fits; unmoved it is proven."""
    garment, job = drafted()
    overlay = garment.piece("overlay-front")
    (edge,) = overlay.lines(role=Role.SHOULDER)
    out = shoulder_point(garment.piece("front"), overlay).x
    moved = edge.path.moved(Point(by if out > 0.0 else -by, 0.0))
    ring = tuple(replace(line, path=moved) if line is edge else line for line in overlay.ring)
    broken = garment.with_(pieces=[replace(overlay, ring=ring)])
    rows = {row.name: row for row in fit_rows(broken, job.brief) if row.place == "overlay-front"}
    assert rows["layer_outside"].beyond * by > 0.0
    assert rows["layer_length"].beyond * by > 0.0
    sound = prove(garment, job.brief)
    assert not [f for f in sound.findings if f.code.startswith("fit.layer")]


def test_its_lengths_follow_the_body() -> None:
    """On a short body and on a tall one alike: down from the V, and what of the far side catches it."""
    shares = []
    for voice in ("soprano", "bass"):
        garment, job = drafted(voice)
        back = job.brief.body["back_neck_point_to_waist"]
        low = garment.piece("overlay-front").line("hem").path.bounds[1]
        v = min(line.path.bounds[1] for line in garment.piece("overlay-front").lines(role=Role.SHOULDER))
        shares.append((garment.fact("overlay_concave") / back, (v - low) / back))
    assert shares[0] == pytest.approx(shares[1], abs=0.04)


def test_a_shoulder_moved_forward_takes_the_layer_along() -> None:
    """Its edge follows the shoulder beneath on both faces, and hangs down over the arm as steeply as before."""
    usual = draft_job(with_changes(overlay_job(), [], brief("alto")))
    job = with_changes(overlay_job(), [("forward-shoulder", {"by": 15.0})], brief("alto"))
    garment = draft_job(job)
    rows = [row for row in fit_rows(garment, job.brief) if row.name.startswith("layer_")]
    assert len(rows) == 8
    assert not [row.title for row in rows if row.beyond]
    falls = [[_fall(each.piece(f"overlay-{face}")) for face in ("front", "back")] for each in (usual, garment)]
    assert falls[0] == pytest.approx(falls[1], abs=math.radians(3.0))


def _fall(overlay: Piece) -> float:
    """How steep (rad) the straight way is from the top of the arm to the lower end of the edge over it."""
    (edge,) = overlay.lines(role=Role.SHOULDER)
    path = edge.path if edge.path.start.y > edge.path.end.y else edge.path.reversed()
    top, low = path.at(path.length / 2.0), path.end
    return math.atan2(top.y - low.y, abs(low.x - top.x))


def test_the_line_to_lengthen_at_is_on_the_overlay_too() -> None:
    """Where it would run along the overlay's hem, it lies higher on all that is sewn together."""
    garment = draft_job(with_changes(overlay_job({"arm_drop": 380.0}), [], brief("alto")))
    drawn, lost = agree_adjusts(garment)
    assert not lost
    for face in ("front", "back"):
        heights = [
            a.path.start.y for name in (face, f"overlay-{face}") for a in drawn.piece(name).adjusts if a.name == "body"
        ]
        assert heights[0] == pytest.approx(heights[1])


def test_a_line_to_lengthen_at_runs_across_the_overlay() -> None:
    """On a full, low bust, where it left the overlay over the corner below its caught edge, or grazed its hem, it lies
    higher."""
    body = make_body("full", dict(people("bodies_2012_women")[397]), rules="women")
    drawn, lost = agree_adjusts(draft_job(with_changes(overlay_job(), [], brief(body, fit=Fit.SEMI))))
    assert not lost
    for face in ("front", "back"):
        piece = drawn.piece(f"overlay-{face}")
        (path,) = [a.path for a in piece.adjusts if a.name == "body"]
        assert path.length > 300.0
        (hem,) = piece.lines(role=Role.HEM)
        (low, high), y = sorted((path.start.x, path.end.x)), path.start.y
        turns = [a for a, b, c in zip(*(hem.path.flatten()[i:] for i in range(3)), strict=False) if a[1] < b[1] > c[1]]
        assert all(abs(top - y) > 9.0 for x, top in turns if low < x < high)


def test_no_dart_is_advised_beneath_it() -> None:
    """A front too short over the bust can have none there: the overlay lies along its side, and refuses one."""
    rules, given = SINGERS["soprano"]
    body = make_body("full", {**given, "side_neck_point_to_waist_over_bust": 520.0}, rules=rules)
    job = with_changes(overlay_job(), [], brief(body))
    found = prove(draft_job(job), job.brief, advisor=catalogue().find_mends).findings
    (first, *_) = [each for each in found if each.code == "fit.front_over_bust"]
    assert "bust_dart" not in str(first.remedy)
