"""Pieces on the cloth: how they lie, whether stripes meet at the seams, and how much cloth to buy."""

from drafting.lay.parts import Part, parts_of
from drafting.lay.plan import LaidPart, Lay, plan_lays
from drafting.lay.stripes import Match

__all__ = ["LaidPart", "Lay", "Match", "Part", "parts_of", "plan_lays"]
