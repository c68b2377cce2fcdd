"""The garment against the body: each figure of levels, lengths, widths, shoulders, neck, sleeves, darts and the rest.

All are told, with how far each may differ; what may differ by anything is told, no more.
"""

from drafting.proof.fit.check import check_fit
from drafting.proof.fit.row import BOUND_MET, FitRow, figure_words
from drafting.proof.fit.rows import by_heading, fit_rows, fold_rows

__all__ = ["BOUND_MET", "FitRow", "by_heading", "check_fit", "figure_words", "fit_rows", "fold_rows"]
