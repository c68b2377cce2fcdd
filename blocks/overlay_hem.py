"""How far an overlay's hem falls: to its caught end in one sweep, from over the arm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from blocks.overlay_lines import UNCAUGHT, Diagonal, Ground, Hang, draw_overlay, side_below
from drafting.garment import Line
from drafting.trade import TradeValue

CAUGHT_LOWER = TradeValue(60.0, "mm", "from memory", "down to above the waist")
"""By which more of the far side seam catches an overlay at most, for its hem to fall to there in one sweep."""
CAUGHT_STEP = TradeValue(5.0, "mm", "from memory", "what is tried")
"""By which more of it is tried."""
HEM_SAGS = TradeValue(4.0, "mm", "from memory", "a hem that dips and rises again looks uneven")
"""By which an overlay's hem may hang lower than its caught end."""


def caught_to_hem(hung: Sequence[tuple[Ground, Diagonal, Hang]], side_drop: float) -> float:
    """Return how much of the far side seam (mm) catches an overlay by rule, whose hem falls to there in one sweep.

    ``hung`` has of each face how it would hang by the rule alone. Where the diagonal ends high, on a high underarm, the
    hem would dip below the caught end and rise to it again: more of the seam catches it then.
    """
    caught = hung[0][2].caught
    below = side_below((ground for ground, _, _ in hung), side_drop)
    most = min(float(CAUGHT_LOWER), below - UNCAUGHT - caught)
    tried = list[tuple[float, float]]()
    for more in range(0, max(int(most), 0) + 1, int(CAUGHT_STEP)):
        sag = max(_sag(draw_overlay(at, line, replace(hang, caught=caught + more))) for at, line, hang in hung)
        if sag <= HEM_SAGS:
            return caught + more
        tried.append((sag, caught + more))
    return min(tried)[1]


def _sag(ring: Sequence[Line]) -> float:
    """By how much (mm) a hem hangs lower than the caught end."""
    hem, caught = (next(line.path for line in ring if line.name == name) for name in ("hem", "caught"))
    return min(caught.start.y, caught.end.y) - hem.bounds[1]
