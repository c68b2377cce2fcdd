"""Lines that bend too tightly for their allowance: which they are, and whether they did so in an earlier draft too."""

from __future__ import annotations

from collections.abc import Mapping

from drafting.errors import GeometryError
from drafting.finishing.allowance import hem_depths, net_edges
from drafting.finishing.plan import FinishPlan
from drafting.garment import Face, Garment, Line

Tight = Mapping[tuple[Face, str], float]
"""The allowance (mm) for which there is no room, by the face and the name of a line: its piece may yet be parted."""


def tight_lines(garment: Garment, plan: FinishPlan) -> Tight:
    """Return the lines of a garment along which no cut line can be drawn."""
    rings = net_edges(garment, plan, hem_depths(garment, plan))
    return {
        (line.face, line.name): edge.allowance
        for piece in garment.pieces
        for line, edge in zip(piece.ring, rings[piece.name], strict=True)
        if not _leaves_room(line, edge.allowance)
    }


def still_tight(garment: Garment, tight: Tight) -> bool:
    """Tell whether any of these lines, where the garment has it, leaves no room for the same allowance."""
    named = ((tight.get((line.face, line.name)), line) for piece in garment.pieces for line in piece.ring)
    return any(allowance is not None and not _leaves_room(line, allowance) for allowance, line in named)


def _leaves_room(line: Line, allowance: float) -> bool:
    try:
        line.path.offset(allowance)
    except GeometryError:
        return False
    return True
