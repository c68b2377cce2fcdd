"""Where each part lies, as a cutter measures it: from the left selvedge, from the cut end, and against the stripe."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.cloth import Flaw
from drafting.lay.plan import LaidPart, Lay
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class LaidPlace:
    """Where a part lies (mm).

    ``selvedge``: how far its leftmost point lies from the left selvedge, or from the fold; ``end``: its lowest from
    the cut end; ``stripe``: how far above that lowest point a stripe's edge runs, None where no stripe across ties it,
    and ``repeat`` how far it is from one to the next.
    """

    laid: LaidPart
    selvedge: float
    end: float
    stripe: float | None = None
    repeat: float = 0.0


def find_places(lay: Lay) -> tuple[LaidPlace, ...]:
    """Return where each part of a lay lies, in their order."""
    return tuple(_places(lay))


def span_from_fold(flaw: Flaw, half: float) -> tuple[float, float]:
    """Return how far a flaw of either layer lies from the fold at least and at most (mm), which lies ``half`` in."""
    ends = (flaw.left - half, flaw.left + flaw.width - half)
    return 0.0 if ends[0] <= 0.0 <= ends[1] else min(map(abs, ends)), max(map(abs, ends))


def find_flaws(lay: Lay) -> Iterator[tuple[float, float, float, float]]:
    """Yield where the cloth's flaws lie (mm), as it lies: left, low, right, top, from its left edge and cut end."""
    for flaw in lay.cloth.flaws:
        span = (flaw.left, flaw.left + flaw.width)
        left, right = span_from_fold(flaw, lay.wide) if lay.folded else span
        yield left, flaw.end, right, flaw.end + flaw.length


def _places(lay: Lay) -> Iterator[LaidPlace]:
    across = lay.across
    repeat = across.stripe.repeat if across else 0.0
    for each in lay.laid:
        left, low = (float(low) for low in each.ring.min(axis=0))
        place = (across.first - low) % repeat if across and each.part.key in across.shifts else None
        if place is not None and math.isclose(place, repeat, abs_tol=TOLERANCE.joint):
            place = 0.0
        yield LaidPlace(each, left + lay.left, low, place, repeat)
