"""Hems that are turned less deep than asked, since they bend too much: told as notes, so that none is a surprise."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.finishing import FinishPlan, narrowed_hems
from drafting.garment import Garment
from drafting.mending import Advisor, add_mends, advise_nothing, situation
from drafting.proof import Finding, Severity
from drafting.saying import Name, say, tape


def find_narrowed(garment: Garment, plan: FinishPlan, advisor: Advisor = advise_nothing) -> Iterator[Finding]:
    """Yield a note for each opening whose hem is turned less deep than the plan, or its block, asks for."""
    remedy = "for a deeper finish, face it with a strip cut to its shape"
    for name, (depth, asked) in narrowed_hems(garment, plan).items():
        yield Finding(
            "hem.narrowed",
            Severity.NOTE,
            name,
            depth,
            asked,
            say(
                "the {name:placed} curves too sharply to be turned {asked} deep: it is turned {depth}",
                name=Name(name),
                asked=tape(asked),
                depth=tape(depth),
            ),
            add_mends("", situation("hem-curved", remedy), advisor) if name == "hem" else remedy,
        )
