"""The proof of a garment: every check, the rows they were judged by, and whether it passed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

from drafting.body import Estimate
from drafting.errors import DraftingError
from drafting.garment import Brief, Fact, Garment, Opening, Solve, Surface, glue
from drafting.proof.checks.bands import check_bands
from drafting.proof.checks.body import check_body
from drafting.proof.checks.closures import check_stand
from drafting.proof.checks.cloth import check_cloth
from drafting.proof.checks.cutting import check_cutting
from drafting.proof.checks.darts import check_darts
from drafting.proof.checks.ease import check_ease, ease_rows
from drafting.proof.checks.given import check_given
from drafting.proof.checks.handed import check_handed
from drafting.proof.checks.joins import check_joins, join_rows
from drafting.proof.checks.levels import check_levels
from drafting.proof.checks.names import check_names
from drafting.proof.checks.openings import check_openings, opening_rows
from drafting.proof.checks.outlines import check_outlines
from drafting.proof.checks.puzzle import check_puzzle, check_twice
from drafting.proof.checks.samples import sample
from drafting.proof.checks.seams import check_seams, seam_rows
from drafting.proof.checks.solves import check_solves
from drafting.proof.checks.stride import check_stride
from drafting.proof.checks.zones import check_zones
from drafting.proof.finding import Finding, Severity, gravest_first
from drafting.proof.rows import EaseRow, JoinRow, OpeningRow, SeamRow
from drafting.record import dataclass
from drafting.saying import say
from drafting.work import Task, make_up

if TYPE_CHECKING:
    from drafting.finishing.cutpiece import CutPiece

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Proof:
    """What was proved: findings (errors first), and the tables that they were judged by.

    ``estimated`` gives, by name, how each measurement came about that wasn't taken. ``surface`` is None and the
    tables are empty where a seam speaks of what isn't there.
    """

    findings: tuple[Finding, ...] = ()
    seams: tuple[SeamRow, ...] = ()
    joins: tuple[JoinRow, ...] = ()
    eases: tuple[EaseRow, ...] = ()
    openings: tuple[OpeningRow, ...] = ()
    surface: Surface | None = None
    order: tuple[Task, ...] = ()
    facts: tuple[Fact, ...] = ()
    solves: tuple[Solve, ...] = ()
    estimated: tuple[tuple[str, Estimate], ...] = ()

    @property
    def passed(self) -> bool:
        """Whether nothing found is an error."""
        return not self.of(Severity.ERROR)

    def of(self, severity: Severity) -> tuple[Finding, ...]:
        """Return the findings of one severity."""
        return tuple(finding for finding in self.findings if finding.severity is severity)


class _Checks:
    """The findings so far; a check that can't be made is a finding too. Local to one proof."""

    def __init__(self) -> None:
        self.found: list[Finding] = []

    def run(self, name: str, check: Callable[[], tuple[Finding, ...]]) -> None:
        """Add what a check finds."""
        try:
            self.found += check()
        except DraftingError as error:
            self.failed(name, error)

    def failed(self, name: str, error: DraftingError) -> None:
        """Add that a check couldn't be made."""
        says = say("this couldn't be checked: {error}", error=error.words)
        self.found.append(
            Finding(f"{name}.unproved", Severity.ERROR, name, None, None, says, "mend what it speaks of", "")
        )

    def rows(self, name: str, make: Callable[[], tuple[T, ...]]) -> tuple[T, ...]:
        """Return rows, or none where they can't be made."""
        try:
            return make()
        except DraftingError as error:
            self.failed(name, error)
            return ()


def prove(garment: Garment, brief: Brief, cut: Sequence[CutPiece] | None = None) -> Proof:
    """Prove a garment for the body, cloths and fit it is drafted for, and its cut pieces where they are given.

    Nothing raises and nothing is repaired: all that is wrong with the garment stands in the findings.
    """
    checks = _Checks()
    checks.run("names", lambda: check_names(garment, brief))
    estimated = tuple(brief.body.estimated.items())
    if checks.found:
        return Proof(gravest_first(checks.found), facts=garment.facts, solves=garment.solves, estimated=estimated)
    surface = _surface(garment, brief, checks)
    gaps: tuple[Opening, ...] = surface.openings if surface else ()
    seams = checks.rows("seams", lambda: seam_rows(garment))
    joins = checks.rows("joins", lambda: join_rows(garment, gaps))
    eases = checks.rows("ease", lambda: ease_rows(garment))
    opens = checks.rows("openings", lambda: opening_rows(garment, brief, gaps))
    if surface is not None:
        checks.run("puzzle", lambda: check_puzzle(garment, brief, surface))
    samples = sample(garment)
    checks.run("outlines", lambda: check_outlines(garment, brief, samples))
    checks.run("levels", lambda: check_levels(garment, brief, samples))
    checks.run("handed", lambda: check_handed(garment, brief))
    checks.run("seams", lambda: check_seams(garment, brief, seams))
    checks.run("joins", lambda: check_joins(garment, brief, joins))
    checks.run("darts", lambda: check_darts(garment, brief))
    checks.run("ease", lambda: check_ease(garment, brief, eases))
    checks.run("openings", lambda: check_openings(garment, brief, opens))
    checks.run("given", lambda: check_given(garment, brief))
    checks.run("stride", lambda: check_stride(garment, brief))
    checks.run("bands", lambda: check_bands(garment, brief))
    checks.run("zones", lambda: check_zones(garment, brief))
    checks.run("cloth", lambda: check_cloth(garment, brief))
    checks.run("solves", lambda: check_solves(garment, brief))
    if cut is not None:
        checks.run("cutting", lambda: check_cutting(garment, brief, cut))
        checks.run("closures", lambda: check_stand(garment, cut))
    checks.run("body", lambda: check_body(garment, brief))
    order = checks.rows("order", lambda: make_up(garment))
    return Proof(
        gravest_first(checks.found),
        seams,
        joins,
        eases,
        opens,
        surface,
        order,
        garment.facts,
        garment.solves,
        estimated,
    )


def _surface(garment: Garment, brief: Brief, checks: _Checks) -> Surface | None:
    """Glue the pieces, unless a line is sewn twice: then it isn't known which edges lie together."""
    twice = check_twice(garment, brief)
    checks.found += twice
    try:
        return None if twice else glue(garment)
    except DraftingError as error:
        checks.failed("puzzle", error)
        return None
