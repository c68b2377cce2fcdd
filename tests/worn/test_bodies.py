"""The mesh fitted to invented bodies, without a garment."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from blocks.cuff import draft_shaped_cuffs
from blocks.sleeve import draft_set_in_sleeve
from drafting.body import Body, make_body
from drafting.garment import Role
from drafting.worn.armholes import lead_armholes
from drafting.worn.fitting import FittedBody, Taken, fit_body
from drafting.worn.landmarks import (
    BUST_POINT,
    NAPE,
    NECK_BASE,
    PIT,
    SEAT,
    SIDE_NECK,
    SIDE_NECK_RIGHT,
    TRUNK_PARTS,
    cut_neck,
    find_waist,
    make_tape,
)
from drafting.worn.mesh import mesh_garment
from drafting.worn.piercing import crosses_arm
from drafting.worn.placing import place_pieces, sort_pieces
from drafting.worn.pose import PosedBody, pose_body
from drafting.worn.shape import load_shape
from drafting.worn.soundness import edges_of
from drafting.worn.spine import bend_back
from drafting.worn.stump import stand_neck
from drafting.worn.taped import tape_front, tape_neck_base, tape_shoulder
from tests.garments import BODY, brief, build

MEZZO = {
    "stature": 1660.0,
    "bust_girth": 1040.0,
    "under_bust_girth": 800.0,
    "waist_girth": 780.0,
    "hip_girth": 1020.0,
    "back_neck_point_to_waist": 405.0,
    "shoulder_slope_left": math.radians(23.0),
    "shoulder_slope_right": math.radians(28.0),
}
TENOR = {
    "stature": 1760.0,
    "bust_girth": 960.0,
    "waist_girth": 820.0,
    "hip_girth": 970.0,
    "back_neck_point_to_waist": 460.0,
    "upper_arm_girth": 310.0,
}


@cache
def fitted_mezzo() -> tuple[Body, FittedBody]:
    """The mezzo, whose right shoulder is the lower one."""
    body = make_body("mezzo", MEZZO, rules="women")
    return body, fit_body(body)


@cache
def posed_mezzo() -> PosedBody:
    """The mezzo as she stands to be dressed."""
    body, fitted = fitted_mezzo()
    return pose_body(fitted, body)


def test_neck_base_and_shoulders_are_the_wearers() -> None:
    """Within 5 mm and 1.5 degrees, each side by itself: girth, heights, front, shoulders; and no doubt is told."""
    body, fitted = fitted_mezzo()
    points, tape = fitted.points, make_tape(fitted.shape.faces, fitted.shape.part)
    off = [
        tape_neck_base(points) - body["neck_base_girth"],
        tape_front(points, tape.trunk, fitted.waist) - body["side_neck_point_to_waist_over_bust"],
        points[NAPE, 1] - body["back_neck_point_height"],
        points[PIT, 1] - body["front_neck_point_height"],
        *(points[[SIDE_NECK, SIDE_NECK_RIGHT], 1] - body["side_neck_point_height"]),
        points[BUST_POINT, 1] - body["bust_point_height"],
        points[SEAT, 1] - body["hip_height"],
    ]
    assert max(map(abs, off)) < 5.0
    for side in ("left", "right"):
        length, slope = tape_shoulder(points, side)
        assert abs(length - body["shoulder_length"]) < 5.0
        assert abs(slope - body[f"shoulder_slope_{side}"]) < math.radians(1.5)
    assert not fitted.neck_missed


def test_the_back_is_as_round_as_its_length_asks() -> None:
    """The waist, a taped back length down the back from the nape, lies at the wearer's height, and is told if it can't.

    A back that is taped no longer than the straight way down from the nape is flat; one much longer is round.
    """
    body, fitted = fitted_mezzo()
    assert fitted.waist == pytest.approx(body["waist_height"], abs=2.0)
    down = body["back_neck_point_height"] - body["waist_height"]
    for length in (down + 2.0, down + 12.0):
        other = make_body("other", {**body.values, "back_neck_point_to_waist": length}, rules=body.rules)
        bent = bend_back(fitted.points, other)
        assert find_waist(bent, length) == pytest.approx(body["waist_height"], abs=6.0)
    off = replace(fitted, taken=(Taken("waist_height", 1000.0, 1008.0),))
    assert [each.name for each in off.missed] == ["waist_height"]
    assert not off.neck_missed


def test_a_mans_body_has_his_girths() -> None:
    """He has a mesh of his own: chest, waist, hip and upper arm within 5 mm, and a woman's isn't his."""
    man = make_body("tenor", TENOR, rules="men")
    fitted = fit_body(man)
    girths = {each.name: each.off for each in fitted.taken if each.name.endswith("girth")}
    assert max(abs(off) for name, off in girths.items() if name != "neck_girth") < 5.0
    assert fitted.shape.products.tolist() != load_shape("women").products.tolist()


def test_a_belly_that_nobody_measured_is_none() -> None:
    """Of a full bust above a slim waist and hip: her front below the waist doesn't stand out as far as the bust."""
    _, fitted = fitted_mezzo()
    points = fitted.points
    bust, below = points[BUST_POINT, 1], (points[:, 1] > points[SEAT, 1]) & (points[:, 1] < fitted.waist)
    front = points[below & np.isin(fitted.shape.part, TRUNK_PARTS), 2].max()
    assert front < points[np.abs(points[:, 1] - bust) < 20.0, 2].max() - 15.0


def test_a_cuff_is_rolled_round_its_arm() -> None:
    """On from its sleeve: put onto an edge that is sewn already, it lay across the arm's middle."""
    garment = build(brief(), BODY, ((draft_set_in_sleeve, {}),), ((draft_shaped_cuffs, {}),))
    laid, posed = sort_pieces(garment), posed_mezzo()
    mesh = mesh_garment(garment, laid.pieces, 40.0)
    at = place_pieces(mesh, laid, posed)
    for name, arm in (("cuff-left", posed.left), ("cuff-right", posed.right)):
        k = next(k for k, each in enumerate(mesh.pieces) if each.piece.name == name)
        ahead = (arm.core[-1] - arm.core[-2]) / math.dist(arm.core[-1], arm.core[-2])
        off = at[mesh.starts[k] : mesh.starts[k] + len(mesh.pieces[k].flat)] - arm.core[-1]
        off -= (off @ ahead)[:, None] * ahead
        around = np.sort(np.arctan2(off @ np.cross(ahead, [0.0, 0.0, 1.0]), off[:, 2]))
        assert np.diff(around, append=around[0] + 2.0 * math.pi).max() < 1.0
        assert np.sqrt((off**2).sum(axis=1)).min() > 15.0


def test_an_armhole_is_led_round_the_middle_of_its_arm() -> None:
    """Where no sleeve holds it there; and that middle is within the arm, not at its back."""
    posed, garment = posed_mezzo(), build(brief(), BODY)
    mesh, laid = mesh_garment(garment, garment.pieces, 40.0), sort_pieces(garment)
    at = place_pieces(mesh, laid, posed) + np.array([0.0, 0.0, 30.0])
    found = lead_armholes(mesh, laid, posed, at)
    for arm, sign in ((posed.left, 1.0), (posed.right, -1.0)):
        ring = np.concatenate([
            start + each.places[line.name][1]
            for each, start in zip(mesh.pieces, mesh.starts, strict=True)
            for line in each.piece.lines(role=Role.ARMHOLE)
        ])  # fmt: skip
        ring = found[ring[sign * at[ring, 0] > 0.0]]
        aside = np.cross(np.cross(arm.along, [0.0, 0.0, 1.0]), arm.along)
        seen = (ring - arm.joint) @ aside
        assert seen.min() + seen.max() == pytest.approx(0.0, abs=0.01)
        root = arm.points[np.unique(arm.faces)]
        root = root[np.abs((root - arm.joint) @ arm.along) < 20.0]
        assert root[:, 2].min() + root[:, 2].max() == pytest.approx(2.0 * arm.joint[2], abs=30.0)
    sleeved = build(brief(), BODY, ((draft_set_in_sleeve, {}),))
    mesh, laid = mesh_garment(sleeved, sleeved.pieces, 40.0), sort_pieces(sleeved)
    at = place_pieces(mesh, laid, posed)
    assert (lead_armholes(mesh, laid, posed, at) == at).all()
    level = np.stack([mesh.flat[:, 0], np.full(len(at), posed.left.joint[1] - 150.0), mesh.flat[:, 1] + 350.0], axis=1)
    assert crosses_arm(mesh, level, posed)
    assert not crosses_arm(mesh, level + np.array([0.0, 2000.0, 0.0]), posed)


def test_the_forms_neck_is_cut_square_below_the_chin() -> None:
    """Nothing stands out in front of the neck base, its lid is a plane, and it is shut but for the lid's rim."""
    posed = posed_mezzo()
    points, faces = stand_neck(posed.points, posed.faces, posed.part)
    kept, (at, square) = points[np.unique(faces)], cut_neck(posed.points)
    high = ((kept - at) * square).sum(axis=1)
    assert 5.0 < high.max() < 30.0
    above = kept[((kept - posed.points[PIT]) * square).sum(axis=1) > 15.0]
    assert above[:, 2].max() < posed.points[PIT, 2] + 15.0
    open_edges = np.unique(edges_of(faces))
    assert np.ptp(((points[open_edges] - at) * square).sum(axis=1)) == pytest.approx(0.0, abs=0.01)
    assert len(open_edges) == pytest.approx(2 * len(NECK_BASE) * 2, abs=6)
