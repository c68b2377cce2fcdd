"""Hems that are turned less deep than asked, since they bend too much: told as notes, so that none is a surprise."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from drafting.finishing import HEM_FULLNESS, FinishPlan, narrowed_hems
from drafting.garment import Garment
from drafting.mending import Advisor, add_mends, advise_nothing, situation
from drafting.proof import Finding, Severity
from drafting.saying import Name, say, tape

SEES_TO: Final = "Hems are turned as deep as asked, but where they curve too sharply."
"""What is looked at once a proof is made."""


def find_narrowed(garment: Garment, plan: FinishPlan, advisor: Advisor = advise_nothing) -> Iterator[Finding]:
    """Yield a note for each opening whose hem is turned less deep than the plan, or its block, asks for.

    An armhole in cloth that hardly gives is warned of: so narrow a hem frays there, and stands off (common practice).
    """
    remedy = "for a deeper finish, face it with a strip cut to its shape"
    gives = plan.hem_shortage >= HEM_FULLNESS
    for name, (depth, asked) in narrowed_hems(garment, plan).items():
        bare = name.startswith("armhole") and not gives
        curved = "armhole-curved" if bare else "hem-curved" if name == "hem" else ""
        yield Finding(
            "hem.narrowed",
            Severity.WARNING if bare else Severity.NOTE,
            name,
            depth,
            asked,
            say(
                "the {name:placed} curves too sharply to be turned {asked} deep: it is turned {depth}",
                name=Name(name),
                asked=tape(asked),
                depth=tape(depth),
            ),
            add_mends("", situation(curved, remedy), advisor) if curved else remedy,
        )
