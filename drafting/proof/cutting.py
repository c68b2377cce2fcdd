"""Cut pieces: every net piece is cut, in a closed, simple outline that lies round it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding, Severity
from drafting.proof.outlines import outline_findings
from drafting.proof.samples import chords

if TYPE_CHECKING:
    from drafting.finishing.cutpiece import CutPiece


def check_cutting(garment: Garment, brief: Brief, cut: Sequence[CutPiece]) -> tuple[Finding, ...]:
    """Judge the cut pieces: none missing, none cut that isn't there, each outline one that scissors can follow."""
    rings = chords([[edge.path for edge in piece.outline] for piece in cut])
    outlines = (
        finding
        for piece, ring in zip(cut, rings, strict=True)
        for finding in outline_findings(f"cut {piece.name}", ring)
    )
    return (*_served(garment, cut), *outlines)


def _served(garment: Garment, cut: Sequence[CutPiece]) -> Iterator[Finding]:
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
