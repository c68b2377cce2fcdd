"""Where each part lies, as a cutter measures it: from the left selvedge, from the cut end, and against the stripe."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.cloth import Flaw
from drafting.lay.matched import LaidStripe
from drafting.lay.spread import ClothSpread, LaidPart
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


def find_places(spread: ClothSpread, across: LaidStripe | None = None) -> tuple[LaidPlace, ...]:
    """Return where each part of a spread lies, in their order, and against a stripe across."""
    return tuple(_places(spread, across))


def span_from_fold(flaw: Flaw, half: float) -> tuple[float, float]:
    """Return how far a flaw of either layer lies from the fold at least and at most (mm), which lies ``half`` in."""
    ends = (flaw.left - half, flaw.left + flaw.width - half)
    return 0.0 if ends[0] <= 0.0 <= ends[1] else min(map(abs, ends)), max(map(abs, ends))


def find_flaws(spread: ClothSpread) -> Iterator[tuple[float, float, float, float]]:
    """Yield where flaws lie (mm), as the cloth does: left, low, right, top, from its left edge and where it begins."""
    for flaw in spread.flaws:
        span = (flaw.left, flaw.left + flaw.width)
        left, right = span_from_fold(flaw, spread.wide) if spread.folded else span
        yield left, flaw.end, right, flaw.end + flaw.length


def _places(spread: ClothSpread, across: LaidStripe | None) -> Iterator[LaidPlace]:
    repeat = across.stripe.repeat if across else 0.0
    for each in spread.laid:
        left, low = (float(low) for low in each.ring.min(axis=0))
        place = (across.first - low) % repeat if across and each.part.key in across.shifts else None
        if place is not None and math.isclose(place, repeat, abs_tol=TOLERANCE.joint):
            place = 0.0
        yield LaidPlace(each, left + spread.left, low, place, repeat)
