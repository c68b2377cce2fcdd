"""Solves: what each was asked, what it reached, and what is left."""

from __future__ import annotations

from drafting.garment import Brief, Garment, Solve
from drafting.proof.finding import Finding, Severity
from drafting.tolerance import TOLERANCE
from drafting.units import Unit, show_length


def check_solves(garment: Garment, brief: Brief, unit: Unit = "cm") -> tuple[Finding, ...]:
    """Judge what is left of each solve: more than the sewing tolerance, and two lengths won't agree."""
    return tuple(_finding(solve, unit) for solve in garment.solves if abs(solve.residual) > TOLERANCE.sewn_length)


def _finding(solve: Solve, unit: Unit) -> Finding:
    return Finding(
        "solves.left",
        Severity.WARNING,
        solve.name,
        solve.residual,
        TOLERANCE.sewn_length,
        f"{solve.name} was to be {show_length(solve.target, unit)} and came to {show_length(solve.reached, unit)}; "
        f"{show_length(abs(solve.residual), 'mm')} is left",
        "ask for less, or measure again what it is drafted from",
    )
