"""Plane geometry for drafting: points, paths of cubics, and what can be measured and made of them."""

from drafting.geometry.affine import Affine
from drafting.geometry.crossing import Crossing, first_along, last_along, nearest_to
from drafting.geometry.fair import STRAIGHT, bends_back, bumps, curvature_profile, kinks, peaks, sides_changed
from drafting.geometry.fitting import curve_through, fit_cubics, hook
from drafting.geometry.path import Path
from drafting.geometry.point import Point, turn
from drafting.geometry.solve import root

__all__ = [
    "STRAIGHT",
    "Affine",
    "Crossing",
    "Path",
    "Point",
    "bends_back",
    "bumps",
    "curvature_profile",
    "curve_through",
    "first_along",
    "fit_cubics",
    "hook",
    "kinks",
    "last_along",
    "nearest_to",
    "peaks",
    "root",
    "sides_changed",
    "turn",
]
