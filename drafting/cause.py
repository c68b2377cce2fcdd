"""What a fault came in with: the change of a job without which, and without those after it, the job hasn't it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace

from drafting.ticket.job import Job, Planned

Faults = Callable[[Job], Collection[str] | None]
"""Tells the codes of a job's faults; None where it can't be drafted, so that nothing can be said of them."""


def causes(job: Job, codes: Collection[str], faults: Faults) -> Mapping[str, Planned]:
    """Return, by its code, the change that each fault came in with.

    The changes are left out one after another, the last taken first, and the whole garment is drafted and judged each
    time, so that bands and sleeves stand on what is there. A fault that is there without any change has no cause here:
    it lies in the blocks, the body or the cloth.
    """
    changes = [planned for planned in job.steps if not planned.is_block]
    left, found = set(codes), dict[str, Planned]()
    for change in reversed(changes):
        job = replace(job, steps=tuple(planned for planned in job.steps if planned is not change))
        still = faults(job) if left else None
        if still is not None:
            found |= dict.fromkeys(left.difference(still), change)
            left.intersection_update(still)
    return found
