"""The proof of a garment: every check, the rows they were judged by, and whether it passed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final, TypeVar

from drafting.body import Estimate
from drafting.errors import DraftingError
from drafting.garment import Brief, Fact, Garment, Solve, Surface, glue
from drafting.mending import Advisor, add_mends, advise_nothing
from drafting.proof.check import Check, Evidence
from drafting.proof.checks.adjusts import check_adjusts
from drafting.proof.checks.applied import check_applied
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
from drafting.proof.checks.work import check_work
from drafting.proof.checks.zones import check_zones
from drafting.proof.finding import Finding, Severity, gravest_first
from drafting.proof.fit import FitRow, by_heading, check_fit, fit_rows
from drafting.proof.lengths import TakenMeasure, take_finished
from drafting.proof.rows import EaseRow, JoinRow, OpeningRow, SeamRow
from drafting.record import dataclass
from drafting.saying import Words, say
from drafting.text import show_read
from drafting.work import Task, make_up

if TYPE_CHECKING:
    from drafting.finishing.cutpiece import CutPiece

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Proof:
    """What was proved: findings (errors first), and the tables that they were judged by.

    ``estimated`` gives, by name, how each measurement came about that wasn't taken. ``surface`` is None and the
    tables are empty where a seam speaks of what isn't there. ``lengths`` are those of what is finished.
    """

    findings: tuple[Finding, ...] = ()
    seams: tuple[SeamRow, ...] = ()
    joins: tuple[JoinRow, ...] = ()
    eases: tuple[EaseRow, ...] = ()
    openings: tuple[OpeningRow, ...] = ()
    fit: tuple[FitRow, ...] = ()
    surface: Surface | None = None
    order: tuple[Task, ...] = ()
    facts: tuple[Fact, ...] = ()
    solves: tuple[Solve, ...] = ()
    estimated: tuple[tuple[str, Estimate], ...] = ()
    lengths: tuple[TakenMeasure, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether nothing found is an error."""
        return not self.of(Severity.ERROR)

    def of(self, severity: Severity) -> tuple[Finding, ...]:
        """Return the findings of one severity."""
        return tuple(finding for finding in self.findings if finding.severity is severity)


def _look_at_puzzle(e: Evidence) -> tuple[Finding, ...]:
    return () if e.surface is None else check_puzzle(e.garment, e.brief, e.surface)


def _look_at_cutting(e: Evidence) -> tuple[Finding, ...]:
    return () if e.cut is None else check_cutting(e.garment, e.brief, e.cut)


def _look_at_work(e: Evidence) -> tuple[Finding, ...]:
    return () if e.surface is None else check_work(e.garment, e.brief)


def _look_at_stand(e: Evidence) -> tuple[Finding, ...]:
    return () if e.cut is None else check_stand(e.garment, e.cut)


OWN: Final[tuple[Check, ...]] = (
    Check(
        "puzzle",
        "Glued along their seams, the pieces make the surface meant, with the openings meant.",
        _look_at_puzzle,
        title="pieces join up",
    ),
    Check(
        "outlines",
        "Each cutting line is closed and never crosses itself.",
        lambda e: check_outlines(e.garment, e.brief, e.samples),
    ),
    Check(
        "levels",
        "Bust, waist and hip lines run from edge to edge.",
        lambda e: check_levels(e.garment, e.brief, e.samples),
        title="body levels",
    ),
    Check(
        "adjusts",
        "What is sewn together is lengthened at one place, or not at all.",
        lambda e: check_adjusts(e.garment, e.brief),
        title="lengthen lines",
    ),
    Check(
        "handed",
        "Left and right, front and back are the wearer's.",
        lambda e: check_handed(e.garment, e.brief),
        title="left and right",
    ),
    Check(
        "seams",
        "The layers of a seam are as long as each other and their ease.",
        lambda e: check_seams(e.garment, e.brief, e.seams),
    ),
    Check(
        "joins",
        "Lines run on smoothly where pieces meet across a seam.",
        lambda e: check_joins(e.garment, e.brief, e.joins),
        title="smooth lines",
    ),
    Check(
        "darts",
        "Darts are sewn shut, their legs alike, their points where they may be.",
        lambda e: check_darts(e.garment, e.brief),
    ),
    Check(
        "ease",
        "The pieces hold the ease asked for, and the cloth gives what the body needs beyond.",
        lambda e: check_ease(e.garment, e.brief, e.eases, 1 if e.surface is None else e.surface.components),
    ),
    Check(
        "openings",
        "Head, hands, arms, shoulders and hips pass.",
        lambda e: check_openings(e.garment, e.brief, e.openings),
    ),
    Check(
        "fit",
        "Levels, lengths, widths, shoulders, sleeves and darts suit the body, unless a change says otherwise.",
        lambda e: check_fit(e.garment, e.brief, e.fit),
    ),
    Check(
        "given",
        "Centre front length matches the measured one.",
        lambda e: check_given(e.garment, e.brief),
        title="front length",
    ),
    Check(
        "stride",
        "A hem below the thigh lets the wearer walk.",
        lambda e: check_stride(e.garment, e.brief),
        title="walking room",
    ),
    Check("bands", "Each band is as long as its edge and its cloth want.", lambda e: check_bands(e.garment, e.brief)),
    Check("zones", "Stay tape lies on real edges.", lambda e: check_zones(e.garment, e.brief), title="stay tape"),
    Check(
        "applied",
        "What is sewn on lies within the piece beneath.",
        lambda e: check_applied(e.garment, e.brief),
        title="pockets",
    ),
    Check("cloth", "The cloth serves the design.", lambda e: check_cloth(e.garment, e.brief)),
    Check(
        "solves",
        "Edges drafted to equal length are equal.",
        lambda e: check_solves(e.garment, e.brief),
        title="matching lengths",
    ),
    Check("cutting", "Each piece can be cut, as often as it is needed, from its cloth.", _look_at_cutting),
    Check(
        "work",
        "Sewn in its steps, no edge ends raw and no layer shows its wrong side.",
        _look_at_work,
        title="order of work",
    ),
    Check("closures", "A button stand is wide enough for its buttons.", _look_at_stand, title="button stands"),
    Check(
        "body",
        "Measurements such as no one surveyed has are doubted; what was estimated is told.",
        lambda e: check_body(e.garment, e.brief),
        title="measurements",
    ),
)
"""The checks of every proof, in the order in which they look."""


def _sift_finding(found: object) -> Finding:
    if not isinstance(found, Finding):
        raise TypeError(f"it gives {show_read(found)}, which is no Finding")
    return found


class _Bench:
    """The findings so far; a check that can't be made is a finding too. Local to one proof."""

    def __init__(self) -> None:
        self.found: list[Finding] = []

    def run(self, name: str, look: Callable[[], Iterable[Finding]]) -> None:
        """Add what a check finds."""
        try:
            for each in look():
                self.found.append(_sift_finding(each))
        except DraftingError as error:
            self.add_failure(name, error)
        except Exception as error:  # a check is mostly a package's own: its fault ends no proof
            says = f'the check "{name}" itself fails ({type(error).__name__}: {error})'
            self.add_unproved(name, says, "its maker must put the check right")

    def add_failure(self, name: str, error: DraftingError) -> None:
        """Add that a check couldn't be made."""
        self.add_unproved(name, say("this couldn't be checked: {error}", error=error.words), "put that right")

    def add_unproved(self, name: str, says: Words, remedy: str) -> None:
        """Add an error that leaves a check unproved."""
        self.found.append(Finding(f"{name}.unproved", Severity.ERROR, name, None, None, says, remedy, ""))

    def rows(
        self,
        name: str,
        make: Callable[[], tuple[T, ...]],
        remedy: str = "look whether the shape of each piece is what is meant",
    ) -> tuple[T, ...]:
        """Return rows, or none where they can't be made."""
        try:
            return make()
        except DraftingError as error:
            self.add_failure(name, error)
        except Exception as error:  # a figure of a shape that no rule foresaw: the rest is proved nevertheless
            says = say("its figures couldn't be taken ({fault})", fault=f"{type(error).__name__}: {error}")
            self.add_unproved(name, says, remedy)
        return ()


def prove(
    garment: Garment,
    brief: Brief,
    cut: Sequence[CutPiece] | None = None,
    more: Iterable[Check] = (),
    advisor: Advisor = advise_nothing,
) -> Proof:
    """Prove a garment for the body, cloths and fit it is drafted for, and its cut pieces where they are given.

    ``more`` are checks beside the engine's own; ``advisor`` knows what changes mend. Nothing raises and nothing is
    repaired: all that is wrong with the garment stands in the findings.
    """
    bench = _Bench()
    bench.run("names", lambda: check_names(garment, brief))
    estimated = tuple(brief.body.estimated.items())
    if bench.found:
        return Proof(gravest_first(bench.found), facts=garment.facts, solves=garment.solves, estimated=estimated)
    brought = tuple(more)
    evidence = _gather_evidence(garment, brief, cut, brought, bench)
    for each in (*OWN, *brought):
        bench.run(each.name, partial(each.look, evidence))
    order = bench.rows("order", lambda: make_up(garment))
    lengths = bench.rows("lengths", lambda: tuple(take_finished(garment)))
    return Proof(
        gravest_first(_advise(finding, advisor) for finding in bench.found),
        evidence.seams,
        evidence.joins,
        evidence.eases,
        evidence.openings,
        evidence.fit,
        evidence.surface,
        order,
        garment.facts,
        garment.solves,
        estimated,
        lengths,
    )


def _advise(finding: Finding, advisor: Advisor) -> Finding:
    if finding.wanted is None:
        return finding
    return replace(finding, remedy=add_mends(finding.remedy, finding.wanted, advisor))


def _gather_evidence(
    garment: Garment, brief: Brief, cut: Sequence[CutPiece] | None, more: Sequence[Check], bench: _Bench
) -> Evidence:
    surface = _glue_surface(garment, brief, bench)
    gaps = surface.openings if surface else ()
    return Evidence(
        garment,
        brief,
        cut,
        surface,
        bench.rows("seams", lambda: seam_rows(garment)),
        bench.rows("joins", lambda: join_rows(garment, gaps)),
        bench.rows("ease", lambda: ease_rows(garment)),
        bench.rows("openings", lambda: opening_rows(garment, brief, gaps)),
        _take_fit(garment, brief, more, bench),
        sample(garment),
    )


def _take_fit(garment: Garment, brief: Brief, more: Sequence[Check], bench: _Bench) -> tuple[FitRow, ...]:
    """The table of fit: the engine's rows and those that checks of packages take, each of which may fail by itself."""
    rows = bench.rows("fit", lambda: fit_rows(garment, brief))
    for each in more:
        rows += bench.rows(
            each.name, partial(_take_brought, each, garment, brief), "its maker must put the check right"
        )
    return by_heading(rows)


def _take_brought(each: Check, garment: Garment, brief: Brief) -> tuple[FitRow, ...]:
    found = tuple(each.take(garment, brief)) if each.take else ()
    for row in found:
        if not isinstance(row, FitRow):
            raise TypeError(f"it gives {show_read(row)}, which is no FitRow")
    return tuple(replace(row, about=each.heading) for row in found)


def _glue_surface(garment: Garment, brief: Brief, bench: _Bench) -> Surface | None:
    """Glue the pieces, unless a line is sewn twice: then it isn't known which edges lie together."""
    twice = check_twice(garment, brief)
    bench.found += twice
    try:
        return None if twice else glue(garment)
    except DraftingError as error:
        bench.add_failure("puzzle", error)
        return None
