"""The edge a band is sewn to: how much it curves, where it has corners, and the stretches between them.

A band is drawn in only where its edge curves towards it: a straight seam needs no reduction, and a corner is turned by
a mitre. So an edge with corners is taken in stretches, from corner to corner and from seam to seam.
"""

from __future__ import annotations

import math

from drafting.garment import Garment, Line, Run, Use
from drafting.geometry import turn
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

MITRED_FROM = TradeValue(math.radians(30.0), "rad", "from memory")
"""Of turn at a point, towards its band, from which an edge has a corner there and the band is mitred."""


def turning(garment: Garment, run: Run) -> float:
    """Return by how much (rad) the opening turns towards the band: about 2 pi for a round neck, 0 for a straight hem.

    Corners within a piece count; where the run crosses a seam it is taken to run on smoothly.
    """
    total = 0.0
    for before, use in zip((run[-1], *run), run, strict=False):
        total += garment.path(use).turning()
        if before.piece == use.piece and len(run) > 1:
            a, b = garment.path(before), garment.path(use)
            if a.end.near(b.start, TOLERANCE.joint):
                total += turn(a.tangent(a.length), b.tangent(0.0))
    return max(0.0, -total)


def corner(garment: Garment, before: Use, after: Use) -> float:
    """Return by how much (rad) an opening's run turns towards its band where it passes between two uses; 0 if smooth.

    The run goes with the rings of its pieces. Where it crosses a seam, the two pieces' corners there are added up, as
    if they lay sewn together.
    """
    one, two = garment.piece(before.piece), garment.piece(after.piece)
    a, b = one.line(before.line), two.line(after.line)
    if one is two and one.after(a.name) is b:
        by = _turn_at(b, a)
    else:
        by = _turn_at(one.after(a.name), a) + _turn_at(b, two.before(b.name)) - math.pi
    return -by if -by > MITRED_FROM else 0.0


def _turn_at(line: Line, before: Line) -> float:
    """How far a ring turns to the left where a line follows another."""
    return turn(before.path.tangent(before.path.length), line.path.tangent(0.0))


def corners(garment: Garment, run: Run, closed: bool) -> tuple[float, ...]:
    """Return the corner (rad, 0 if there is none) at the start of each use of a run.

    The first is 0 where the run isn't ``closed``.
    """
    found = [corner(garment, before, use) for before, use in zip((run[-1], *run), run, strict=False)]
    return tuple(found) if closed else (0.0, *found[1:])


def stretches(garment: Garment, run: Run, at: tuple[float, ...]) -> tuple[Run, ...]:
    """Return a run parted at its corners and wherever it passes to another piece; ``at`` as ``corners`` gives it."""
    out: list[list[Use]] = []
    for use, turned in zip(run, at, strict=True):
        if not out or turned > 0.0 or out[-1][-1].piece != use.piece:
            out.append([])
        out[-1].append(use)
    return tuple(tuple(part) for part in out)
