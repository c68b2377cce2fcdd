"""The garment model: lines, pieces, seams, and what is derived from them (surface, balance marks)."""

from drafting.garment.aims import drop_aims, shift_aim
from drafting.garment.balance import Balance, balance_marks
from drafting.garment.features import Adjust, Drill, Feature, Level, PathFeature, PointFeature, Slit, Zone
from drafting.garment.lines import Fate, Line, Role
from drafting.garment.model import (
    Aim,
    Fact,
    Garment,
    Piece,
    Run,
    Seam,
    Section,
    Solve,
    UnknownLine,
    UnknownPiece,
    Use,
    substitute,
)
from drafting.garment.step import Block, Brief, Change, OptionInfo, Stage, Step, block, change, option, options_of
from drafting.garment.stitches import LOCKSTITCH, OVERLOCK, is_centre, stitch_for, usual_stitch
from drafting.garment.surface import Opening, Surface, glue, hanging_pieces, openings, same_corner
from drafting.sides import Face, Side

__all__ = [
    "LOCKSTITCH",
    "OVERLOCK",
    "Adjust",
    "Aim",
    "Balance",
    "Block",
    "Brief",
    "Change",
    "Drill",
    "Face",
    "Fact",
    "Fate",
    "Feature",
    "Garment",
    "Level",
    "Line",
    "Opening",
    "OptionInfo",
    "PathFeature",
    "Piece",
    "PointFeature",
    "Role",
    "Run",
    "Seam",
    "Section",
    "Side",
    "Slit",
    "Solve",
    "Stage",
    "Step",
    "Surface",
    "UnknownLine",
    "UnknownPiece",
    "Use",
    "Zone",
    "balance_marks",
    "block",
    "change",
    "drop_aims",
    "glue",
    "hanging_pieces",
    "is_centre",
    "openings",
    "option",
    "options_of",
    "same_corner",
    "shift_aim",
    "stitch_for",
    "substitute",
    "usual_stitch",
]
