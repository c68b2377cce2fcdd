"""Output: the drawing of a sheet, and the PDF and SVG files made of it."""

from drafting.output.flat_svg import flat_element, flat_svg
from drafting.output.pages.cover import Cover, plan_cover
from drafting.output.pages.pattern import pattern_pdf, sheet_pdf
from drafting.output.pages.wide_page import NOTE, wide_pdf
from drafting.output.pdf.text import missing_characters, text_width
from drafting.output.pictures.drawing import Drawing, PrintInfo, draw_sheet
from drafting.output.remarks import remarks
from drafting.output.svg import svg

__all__ = [
    "NOTE",
    "Cover",
    "Drawing",
    "PrintInfo",
    "draw_sheet",
    "flat_element",
    "flat_svg",
    "missing_characters",
    "pattern_pdf",
    "plan_cover",
    "remarks",
    "sheet_pdf",
    "svg",
    "text_width",
    "wide_pdf",
]
