"""Pieces on the cloth: how they lie, whether stripes meet at the seams, and how much cloth to buy."""

from drafting.lay.parts import parts_of
from drafting.lay.plan import place_stripes, plan_lays
from drafting.lay.spread import LaidPart, Lay

__all__ = ["LaidPart", "Lay", "parts_of", "place_stripes", "plan_lays"]
