"""Finishing: from the net garment, on its stitch lines, to pieces with allowances, notches and words, ready to cut."""

from drafting.finishing.allowance import HEM_FULLNESS, narrowed_hems
from drafting.finishing.cutpiece import CutEdge, CutPiece, Mark, Notch, letters_on_paper
from drafting.finishing.earlier import (
    Drawn,
    EarlierDraft,
    Printed,
    Serving,
    call_notches,
    keep_codes,
    keep_letters,
    keep_numbers,
    record_print,
    renumber_notches,
)
from drafting.finishing.finish import finish
from drafting.finishing.plan import FinishPlan, hem_shortage, usual_hem

__all__ = [
    "HEM_FULLNESS",
    "CutEdge",
    "CutPiece",
    "Drawn",
    "EarlierDraft",
    "FinishPlan",
    "Mark",
    "Notch",
    "Printed",
    "Serving",
    "call_notches",
    "finish",
    "hem_shortage",
    "keep_codes",
    "keep_letters",
    "keep_numbers",
    "letters_on_paper",
    "narrowed_hems",
    "record_print",
    "renumber_notches",
    "usual_hem",
]
