"""Lines that blocks draw and changes draw again: necklines, armholes, and the single curves they are made of."""

from drafting.garment.shapes.armhole import (
    DEEPEST,
    DEEPEST_CUT,
    STRAIGHTEST,
    ArmholeFrame,
    armhole_curve,
    armhole_spare,
    draw_armhole,
)
from drafting.garment.shapes.curve import Curve
from drafting.garment.shapes.neckline import (
    BACK_RISE,
    FRONT_DEPTH,
    SHAPES,
    Neckline,
    boat_half,
    draw_neckline,
    like_half,
    neck_points,
    neckline_parts,
    round_half,
    scoop_half,
    square_half,
    v_half,
)

__all__ = [
    "BACK_RISE",
    "DEEPEST",
    "DEEPEST_CUT",
    "FRONT_DEPTH",
    "SHAPES",
    "STRAIGHTEST",
    "ArmholeFrame",
    "Curve",
    "Neckline",
    "armhole_curve",
    "armhole_spare",
    "boat_half",
    "draw_armhole",
    "draw_neckline",
    "like_half",
    "neck_points",
    "neckline_parts",
    "round_half",
    "scoop_half",
    "square_half",
    "v_half",
]
