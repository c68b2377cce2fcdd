"""Cloth: stretch, recovery, width, stripe; the ease that follows from fit and stretch; bands; refusals."""

from drafting.cloth.band import NARROWEST_BAND, BandRule, band_length, usual_shares
from drafting.cloth.cloth import (
    Cloth,
    Fit,
    Flaw,
    Kind,
    Stripe,
    greatest_reduction,
    hand_passage,
    home_method,
    short_by,
)
from drafting.cloth.ease import EaseTable, ease_for, share_drawn_in
from drafting.cloth.serve import KNIT_NEEDS, ClothNeeds, Refusal, find_refusals
from drafting.cloth.turned import bias_stretch, lies_crosswise, stretch_at, turn_cloth

__all__ = [
    "KNIT_NEEDS",
    "NARROWEST_BAND",
    "BandRule",
    "Cloth",
    "ClothNeeds",
    "EaseTable",
    "Fit",
    "Flaw",
    "Kind",
    "Refusal",
    "Stripe",
    "band_length",
    "bias_stretch",
    "ease_for",
    "find_refusals",
    "greatest_reduction",
    "hand_passage",
    "home_method",
    "lies_crosswise",
    "share_drawn_in",
    "short_by",
    "stretch_at",
    "turn_cloth",
    "usual_shares",
]
