"""Plane geometry for drafting: points, paths of cubics, and what can be measured and made of them."""

from drafting.geometry.affine import Affine, lengths_along
from drafting.geometry.crossing import nearest_to
from drafting.geometry.fair import (
    STRAIGHT,
    bends_back,
    bumps,
    count_seen_turns,
    count_side_changes,
    curvature_profile,
    kinks,
    peaks,
)
from drafting.geometry.fitting import curve_through, fit_cubic, hook
from drafting.geometry.measure import Array
from drafting.geometry.path import Path
from drafting.geometry.point import Point, turn
from drafting.geometry.polygon import (
    are_inside,
    crosses_itself,
    deepest_inside,
    distances_between,
    distances_to,
    following,
    is_crossed,
    is_inside,
    meets_itself_at,
    signed_area,
)
from drafting.geometry.solve import halve, newton, root

__all__ = [
    "STRAIGHT",
    "Affine",
    "Array",
    "Path",
    "Point",
    "are_inside",
    "bends_back",
    "bumps",
    "count_seen_turns",
    "count_side_changes",
    "crosses_itself",
    "curvature_profile",
    "curve_through",
    "deepest_inside",
    "distances_between",
    "distances_to",
    "fit_cubic",
    "following",
    "halve",
    "hook",
    "is_crossed",
    "is_inside",
    "kinks",
    "lengths_along",
    "meets_itself_at",
    "nearest_to",
    "newton",
    "peaks",
    "root",
    "signed_area",
    "turn",
]
