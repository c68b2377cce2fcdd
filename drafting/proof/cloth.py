"""Cloth: whether it serves the design; refused with the figure that fails.

A block states what its design needs as facts: "needs_stretch_low", "needs_stretch_high", "needs_stretch_along",
"needs_recovery" (shares), "needs_knit" and "needs_elastane" (1 or 0); the latest fact of a name counts.
"""

from __future__ import annotations

from drafting.cloth import Kind, Refusal, serves
from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding, Severity

_ASKED = frozenset(
    {
        "needs_stretch_low",
        "needs_stretch_high",
        "needs_stretch_along",
        "needs_recovery",
        "needs_knit",
        "needs_elastane",
    }
)


def check_cloth(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge the main cloth against what the design's facts need; a design that states no need is served by any."""
    needs = {fact.name: fact.value for fact in garment.facts if fact.name in _ASKED}
    if not needs:
        return ()
    refusals = serves(
        brief.cloth,
        needs_kind=Kind.KNIT if needs.get("needs_knit", 1.0) else None,
        needs_stretch=(needs.get("needs_stretch_low", 0.0), needs.get("needs_stretch_high")),
        needs_stretch_along=needs.get("needs_stretch_along", 0.0),
        needs_recovery=needs.get("needs_recovery", 0.0),
        needs_elastane=bool(needs.get("needs_elastane", 0.0)),
    )
    return tuple(_finding(refusal) for refusal in refusals)


def _finding(refusal: Refusal) -> Finding:
    return Finding(
        f"cloth.{refusal.figure}",
        Severity.ERROR,
        "cloth",
        refusal.value,
        refusal.limit,
        refusal.sentence,
        refusal.remedy,
        "share",
    )
