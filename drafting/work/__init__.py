"""The order of work: steps from the seams, then their words."""

from drafting.work.order import Task, caught_hems, crossings, hems_before_laid, make_up, rank, turned_edges

__all__ = ["Task", "caught_hems", "crossings", "hems_before_laid", "make_up", "rank", "turned_edges"]
