"""What the start page tells: how to print and join, how to cut, and the usual cautions."""

from __future__ import annotations

from typing import Final

from drafting.cautions import CAUTIONS
from drafting.output.pdf.flow import Para
from drafting.paper import Join, SheetPlan

_PRINT: Final = (
    "Print at 100 % or \u201cactual size\u201d, never fitted to the paper. Print this page first.",
    "Measure the square, across and up, from the middle of one line to the middle of the other.",
    "If a side is off, set the printer to actual size and print again. If it stays off, write into the ticket, under"
    ' [paper], {what} measured: its width as {key}_across = "{wide}", say, its height as {key}_along = "{high}"; then'
    " make the pattern again.",
)
_CORRECTED: Final = (
    "This print is {correction}. Print at 100 % or \u201cactual size\u201d, never fitted to the paper, on that printer"
    " alone. Print this page first.",
    "Measure the square, across and up, from the middle of one line to the middle of the other: it must be right now."
    " If it isn't, take {key}_across and {key}_along out of the ticket, make the pattern again, and measure anew.",
)
_PAGES: Final = (
    "If it is right, print the other pages the same way. Printers drift: hold a tape to the rulers round each page."
)
_BUTT: Final = (
    "Cut off the right and the lower strip of a page along the thin trim line where a neighbour follows. Lay the cut"
    " edge on the neighbour's trim line so that the half-discs make whole discs, and tape. They name the page that has"
    " the other half. Join the pages of a row first, then row to row."
)
_LAP: Final = (
    "Cut off the left and the upper strip of a page along the thin trim line where a neighbour comes before. Lay the"
    " page over the neighbour's trim line so that the half-discs make whole discs, and glue. They name the page that"
    " has the other half. Join the pages of a row first, then row to row."
)
_ONE_DRAFT: Final = "Every page carries the draft mark. Don't join pages whose marks differ."
_WHOLE: Final = (
    "Print at 100 % or \u201cactual size\u201d, never fitted to the paper, on paper that takes the whole sheet.",
    "Measure the square, across and up, from the middle of one line to the middle of the other, before you cut. If a"
    " side is off, the sheet was not printed at its size: print it again, or use the pages for a home printer.",
)
_CUT: Final = (
    "Cut out the pieces along the solid line. Sew on the broken line; what lies between is the allowance.",
    "Lay each piece printed side up, on the right side of the cloth, unless its label says otherwise. Never turn a"
    " piece over unless it says mirrored.",
)


_MEASURED: Final = {"10 cm": ("99 mm", "99.5 mm"), "4 in": ("4 1/16 in", "4 1/8 in")}
"""What a square may have measured, across and along: nothing near the other square, which would be questioned."""


def advise_printing(plan: SheetPlan, square: str) -> list[Para]:
    """Return how to print, measure and join the pages; ``square`` is the side of the test square."""
    full = {"5 cm": "10 cm", "2 in": "4 in"}.get(square, square)
    what = f"what the {square} square" if square == full else f"twice what the {square} square"
    wide, high = _MEASURED[full]
    words = {"what": what, "key": f"square_{full.replace(' ', '')}", "wide": wide, "high": high}
    joining = _BUTT if plan.paper.join is Join.BUTT else _LAP
    says = _CORRECTED if plan.paper.correction else _PRINT
    sentences = (sentence.format(**words, correction=plan.paper.correction) for sentence in says)
    return [Para(sentence) for sentence in (*sentences, _PAGES, *([joining] if plan.pages > 1 else []), _ONE_DRAFT)]


def advise_printing_whole() -> list[Para]:
    """Return how to print and measure the sheet on one page."""
    return [Para(sentence) for sentence in _WHOLE]


def advise_printing_wide(paper: str) -> list[Para]:
    """Return how a copy shop prints the pattern on its paper, and how to measure the print."""
    return [
        Para(f"To print at 100 %, never fitted to the paper, on {paper}."),
        Para(
            "Measure the square, across and up, from the middle of one line to the middle of the other, before you cut."
            " If a side is off, it was not printed at its size: have it printed again."
        ),
        Para("Cut away from yourself; blades, pins and irons hurt. More is told on the start page of pattern.pdf."),
    ]


def advise_making() -> list[Para]:
    """Return how to cut, and the usual cautions."""
    return [Para(sentence) for sentence in (*_CUT, CAUTIONS)]
