"""Paper: papers and their margins, pieces on a sheet, the sheet on tiles."""

from drafting.paper.papers import PAPERS, Join, Orientation, Paper, PaperPlan, paper_named
from drafting.paper.plan import plan_sheet
from drafting.paper.sheet import Placement, Sheet, SheetPlan, Tile, Tiling

__all__ = [
    "PAPERS",
    "Join",
    "Orientation",
    "Paper",
    "PaperPlan",
    "Placement",
    "Sheet",
    "SheetPlan",
    "Tile",
    "Tiling",
    "paper_named",
    "plan_sheet",
]
