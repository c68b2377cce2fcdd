"""A real top to prove: the soprano's, from the blocks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from blocks.band import draft_armhole_bands, draft_hem_band, draft_neck_band, draft_neck_binding
from blocks.bodice import draft_knit_bodice
from blocks.cuff import draft_shaped_cuffs
from blocks.sleeve import draft_set_in_sleeve
from drafting.body import make_body
from drafting.cloth import Cloth, Fit
from drafting.garment import Brief, Garment, Step, begin_garment
from drafting.ticket.cutting import cut_new_pieces
from tests.garments import BANDS

WHOLE = (draft_knit_bodice, draft_set_in_sleeve, draft_shaped_cuffs, draft_neck_band, draft_hem_band)
BOUND = (draft_knit_bodice, draft_set_in_sleeve, draft_neck_binding)
SLEEVELESS = (draft_knit_bodice, draft_armhole_bands, draft_neck_band, draft_hem_band)

GIVEN = {
    "stature": 1660.0,
    "bust_girth": 920.0,
    "waist_girth": 740.0,
    "hip_girth": 980.0,
    "neck_base_girth": 360.0,
    "back_neck_point_to_waist": 405.0,
    "shoulder_length": 130.0,
    "across_back_width": 365.0,
    "armscye_girth": 380.0,
    "upper_arm_girth": 290.0,
    "wrist_girth": 155.0,
    "hand_girth": 186.0,
    "head_girth": 555.0,
}


def soprano(cloth: float = 0.3, rib: float = 0.8, fit: Fit = Fit.SEMI) -> Brief:
    """The brief for cloths of that stretch."""
    return Brief(make_body("soprano", GIVEN), Cloth(stretch_across=cloth), fit, {"rib": Cloth(stretch_across=rib)})


def knit_top(brief: Brief, blocks: Sequence[Step[Any]] = WHOLE, **options: dict[str, Any]) -> Garment:
    """Draft the blocks in turn; options by block, its dashes as underlines."""
    garment = begin_garment(blocks)
    for block in blocks:
        cloth = "rib" if block.name in BANDS else "main"
        asked = block.options(**options.get(block.name.replace("-", "_"), {}))
        garment = cut_new_pieces(garment, block.apply(garment, replace(brief, cut_from=cloth), asked), cloth)
    return garment
