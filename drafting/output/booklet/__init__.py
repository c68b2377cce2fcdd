"""The booklet: what to buy, what to cut, and each step of the work with its pictures, on paper and on a screen."""

from drafting.output.booklet.content import Booklet, BookletStep, write_booklet
from drafting.output.booklet.growing import set_pictures
from drafting.output.booklet.page import booklet_html
from drafting.output.booklet.paper import booklet_pdf, sheet_to_read
from drafting.output.booklet.sections import BookletSection, CellTable, tell_measures
from drafting.output.booklet.small import SmallPiece

__all__ = [
    "Booklet",
    "BookletSection",
    "BookletStep",
    "CellTable",
    "SmallPiece",
    "booklet_html",
    "booklet_pdf",
    "set_pictures",
    "sheet_to_read",
    "tell_measures",
    "write_booklet",
]
