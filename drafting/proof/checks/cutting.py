"""Cut pieces: every net piece is cut, in a closed, simple outline that lies round it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from drafting.garment import Brief, Garment, hanging_pieces
from drafting.geometry import lengths_along
from drafting.proof.checks.outlines import outline_findings
from drafting.proof.checks.samples import Array, chords
from drafting.proof.finding import Finding, Severity
from drafting.saying import say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

if TYPE_CHECKING:
    from drafting.finishing.cutpiece import CutPiece


SELVEDGES: Final = TradeValue(20.0, "mm", "common practice", "about 1 cm each")
"""Of a cloth's width that its two selvedges take, and no piece should."""


def check_cutting(garment: Garment, brief: Brief, cut: Sequence[CutPiece]) -> tuple[Finding, ...]:
    """Judge the cut pieces: none missing, none cut that isn't there, each outline one that scissors can follow.

    Each must lie between the selvedges of its cloth too, opened out where it is cut on a fold.
    """
    rings = chords([[edge.path for edge in piece.outline] for piece in cut])
    outlines = (
        finding
        for piece, ring in zip(cut, rings, strict=True)
        for finding in outline_findings(f"cut {piece.name}", ring)
    )
    hanging = hanging_pieces(garment)
    wide = (
        _width(piece, ring, brief, not hanging.isdisjoint(piece.stands_for))
        for piece, ring in zip(cut, rings, strict=True)
    )
    return (*_judge_served(garment, cut), *outlines, *(finding for finding in wide if finding is not None))


WHOLE = TradeValue(10.0, "mm", "common practice", "cloth's width is told in whole cm")
"""In steps of what the proof tells a width of cloth, rounded up."""

LAID_OFF = TradeValue(3.0, "mm", "derived", "the search's cells, and half of one")
"""What of a cloth's width a part that fills it can miss, as it is searched for."""


def _width(piece: CutPiece, ring: Array, brief: Brief, hangs: bool) -> Finding | None:
    """Warn of a piece that is wider, across the grain, than its cloth; none that ``hangs`` is parted by a change."""
    cloth = brief.cloth_named(piece.cloth)
    across = lengths_along(ring, piece.grain.right)
    width = float(across.max() - across.min()) * (2.0 if _opens_wide(piece) else 1.0)
    usable = cloth.width * cloth.washed[0] - SELVEDGES
    if width <= usable + TOLERANCE.sewn_length:
        return None
    return Finding(
        "cutting.width",
        Severity.WARNING,
        piece.name,
        width,
        usable,
        say(
            "{title} is {width} wide{value}; {name} is {width_2} wide{washed}, and its selvedges take {selvedges}",
            title=piece.title,
            width=tape(width),
            value=", opened out" if piece.on_fold else "",
            name=cloth.name,
            width_2=tape(cloth.width * cloth.washed[0]),
            washed=" once washed" if cloth.shrink_across else "",
            selvedges=tape(SELVEDGES),
        ),
        say(
            "use a cloth at least {width} wide{part}",
            width=tape(math.ceil((width + LAID_OFF + SELVEDGES) / cloth.washed[0] / WHOLE) * WHOLE),
            part="" if hangs else ", or part the piece by a seam",
        )
        if not piece.is_strip
        else "join it of two lengths, or use a wider cloth",
    )


def _opens_wide(piece: CutPiece) -> bool:
    """Whether it lies on a fold along the grain, so that it is twice as wide when it is opened."""
    fold = next((mark.path for mark in piece.marks if mark.kind == "on-fold"), None)
    return piece.on_fold and fold is not None and abs((fold.end - fold.start).unit.dot(piece.grain.unit)) > 0.5


def _judge_served(garment: Garment, cut: Sequence[CutPiece]) -> Iterator[Finding]:
    net = [piece.name for piece in garment.pieces]
    served = [name for piece in cut for name in piece.stands_for]
    for name in net:
        if name not in served:
            yield _error("missing", name, 0, 1, f"{name} is drafted but never cut", "finish the piece")
    for name in dict.fromkeys(served):
        if name not in net:
            yield _error("unknown", name, 1, 0, f"{name} is cut but not drafted", "finish the garment again")
        elif served.count(name) > 1:
            yield _error("twice", name, served.count(name), 1, f"{name} is cut more than once", "cut it once")


def _error(code: str, place: str, value: float, limit: float, says: str, mend: str) -> Finding:
    return Finding(f"cutting.{code}", Severity.ERROR, place, value, limit, says, mend, "")
