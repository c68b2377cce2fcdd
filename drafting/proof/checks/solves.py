"""Solves: what each was asked, what it reached, and what is left."""

from __future__ import annotations

from drafting.garment import Brief, Garment, Solve
from drafting.proof.finding import Finding, Severity
from drafting.saying import mm, say, tape
from drafting.tolerance import TOLERANCE


def check_solves(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge what is left of each solve: more than the sewing tolerance, and two lengths won't agree."""
    return tuple(_finding(solve) for solve in garment.solves if abs(solve.residual) > TOLERANCE.sewn_length)


def _finding(solve: Solve) -> Finding:
    return Finding(
        "solves.left",
        Severity.WARNING,
        solve.name,
        solve.residual,
        TOLERANCE.sewn_length,
        say(
            "{name} was to be {target} and came to {reached}; {residual} is left",
            name=solve.name,
            target=tape(solve.target),
            reached=tape(solve.reached),
            residual=mm(abs(solve.residual), None),
        ),
        "ask for less, or measure again what it is drafted from",
    )
