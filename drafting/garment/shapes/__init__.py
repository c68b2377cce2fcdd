"""Lines that blocks draw and changes draw again: necklines, armholes, and the single curves they are made of."""

from drafting.garment.shapes.armhole import (
    DEEPEST,
    STRAIGHTEST,
    ArmholeFrame,
    armhole_curve,
    armhole_spare,
    draw_armhole,
)
from drafting.garment.shapes.curve import Curve
from drafting.garment.shapes.neckline import Neckline, draw_neckline, round_half, v_half

__all__ = [
    "DEEPEST",
    "STRAIGHTEST",
    "ArmholeFrame",
    "Curve",
    "Neckline",
    "armhole_curve",
    "armhole_spare",
    "draw_armhole",
    "draw_neckline",
    "round_half",
    "v_half",
]
