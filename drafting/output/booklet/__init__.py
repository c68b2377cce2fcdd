"""The booklet: what to buy, what to cut, and each step of the work with its pictures, on paper and on a screen."""

from drafting.output.booklet.content import Booklet, BookletStep, SmallPiece, write_booklet
from drafting.output.booklet.page import booklet_html
from drafting.output.booklet.paper import booklet_pdf, sheet_to_read

__all__ = ["Booklet", "BookletStep", "SmallPiece", "booklet_html", "booklet_pdf", "sheet_to_read", "write_booklet"]
