"""The garment against the body: levels, the armhole for the arm that goes through it, and how far each may differ."""

from drafting.proof.fit.check import check_fit
from drafting.proof.fit.row import BOUND_MET, FitRow, figure_words
from drafting.proof.fit.rows import fit_rows, fold_rows

__all__ = ["BOUND_MET", "FitRow", "check_fit", "figure_words", "fit_rows", "fold_rows"]
