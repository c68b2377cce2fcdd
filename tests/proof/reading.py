"""What tests look for in a proof."""

from __future__ import annotations

from drafting.proof import Finding, Proof, Severity


def grave(proof: Proof) -> tuple[Finding, ...]:
    """Errors and warnings."""
    return tuple(finding for finding in proof.findings if finding.severity is not Severity.NOTE)


def codes(proof: Proof) -> set[str]:
    """The codes of errors and warnings."""
    return {finding.code for finding in grave(proof)}


def one(proof: Proof, code: str, place: str = "") -> Finding:
    """The one finding of that code, at a place that holds that text."""
    found = [finding for finding in proof.findings if finding.code == code and place in finding.place]
    assert len(found) == 1, f"{code} {place}: {[(f.code, f.place) for f in grave(proof)]}"
    return found[0]
