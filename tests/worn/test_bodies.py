"""The mesh fitted to invented bodies, without a garment."""

from __future__ import annotations

import numpy as np

from drafting.body import make_body
from drafting.worn.fitting import fit_body
from drafting.worn.landmarks import BUST_POINT, SEAT, TRUNK_PARTS
from drafting.worn.shape import load_shape

MEZZO = {
    "stature": 1660.0,
    "bust_girth": 1040.0,
    "under_bust_girth": 800.0,
    "waist_girth": 780.0,
    "hip_girth": 1020.0,
    "back_neck_point_to_waist": 405.0,
}
TENOR = {
    "stature": 1760.0,
    "bust_girth": 960.0,
    "waist_girth": 820.0,
    "hip_girth": 970.0,
    "back_neck_point_to_waist": 460.0,
    "upper_arm_girth": 310.0,
}


def test_a_mans_body_has_his_girths() -> None:
    """He has a mesh of his own: chest, waist, hip and upper arm within 5 mm, and a woman's isn't his."""
    man = make_body("tenor", TENOR, rules="men")
    fitted = fit_body(man)
    girths = {each.name: each.off for each in fitted.taken if each.name.endswith("girth")}
    assert max(abs(off) for name, off in girths.items() if name != "neck_girth") < 5.0
    assert fitted.shape.products.tolist() != load_shape("women").products.tolist()


def test_a_belly_that_nobody_measured_is_none() -> None:
    """Of a full bust above a slim waist and hip: her front below the waist doesn't stand out as far as the bust."""
    fitted = fit_body(make_body("mezzo", MEZZO, rules="women"))
    points = fitted.points
    bust, below = points[BUST_POINT, 1], (points[:, 1] > points[SEAT, 1]) & (points[:, 1] < fitted.waist)
    front = points[below & np.isin(fitted.shape.part, TRUNK_PARTS), 2].max()
    assert front < points[np.abs(points[:, 1] - bust) < 20.0, 2].max() - 15.0
