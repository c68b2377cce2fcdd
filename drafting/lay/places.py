"""Where each part lies, as a cutter measures it: from the left selvedge, from the cut end, and against the stripe."""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.lay.plan import LaidPart, Lay
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class LaidPlace:
    """Where a part lies (mm).

    ``selvedge``: how far its leftmost point lies from the left selvedge; ``end``: its lowest from the cut end;
    ``stripe``: how far above that lowest point a stripe's edge runs, None where no stripe across ties it, and
    ``repeat`` how far it is from one to the next.
    """

    laid: LaidPart
    selvedge: float
    end: float
    stripe: float | None = None
    repeat: float = 0.0


def find_places(lay: Lay) -> tuple[LaidPlace, ...]:
    """Return where each part of a lay lies, in their order."""
    return tuple(_places(lay))


def _places(lay: Lay) -> Iterator[LaidPlace]:
    repeat = lay.stripe.repeat if lay.stripe is not None and lay.stripe.direction == "across" else 0.0
    for each in lay.laid:
        left, low = (float(low) for low in each.ring.min(axis=0))
        place = (lay.first - low) % repeat if repeat and each.part.key in lay.shifts else None
        if place is not None and math.isclose(place, repeat, abs_tol=TOLERANCE.joint):
            place = 0.0
        yield LaidPlace(each, left + lay.edge, low, place, repeat)
