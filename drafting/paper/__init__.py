"""Paper: papers and their margins, pieces on a sheet, the sheet on tiles."""

from drafting.paper.papers import PAPERS, Join, Orientation, PaperPlan, paper_named
from drafting.paper.plan import plan_sheet
from drafting.paper.sheet import Placement, SheetPlan, Tile, Tiling
from drafting.paper.wide import WidePaper, WidePlan, plan_wide, wide_paper_named

__all__ = [
    "PAPERS",
    "Join",
    "Orientation",
    "PaperPlan",
    "Placement",
    "SheetPlan",
    "Tile",
    "Tiling",
    "WidePaper",
    "WidePlan",
    "paper_named",
    "plan_sheet",
    "plan_wide",
    "wide_paper_named",
]
