"""Output: the drawing of a sheet, and the PDF and SVG files made of it."""

from drafting.output.cover import Cover, plan_cover
from drafting.output.drawing import Drawing, PrintInfo, draw
from drafting.output.files import write_whole
from drafting.output.pdf import pattern_pdf, sheet_pdf, write_pattern_pdf, write_sheet_pdf
from drafting.output.remarks import remarks
from drafting.output.svg import svg, write_svg
from drafting.output.text import clean, missing, width

__all__ = [
    "Cover",
    "Drawing",
    "PrintInfo",
    "clean",
    "draw",
    "missing",
    "pattern_pdf",
    "plan_cover",
    "remarks",
    "sheet_pdf",
    "svg",
    "width",
    "write_pattern_pdf",
    "write_sheet_pdf",
    "write_svg",
    "write_whole",
]
