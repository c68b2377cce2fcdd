"""A check as a value: its name, what it sees to, and the function that looks; and the evidence it looks at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, TypeAlias

from drafting.garment import Brief, Garment, Surface
from drafting.proof.checks.samples import LineSamples
from drafting.proof.finding import Finding
from drafting.proof.fit.row import FitRow
from drafting.proof.rows import EaseRow, JoinRow, OpeningRow, SeamRow
from drafting.record import dataclass

if TYPE_CHECKING:
    from drafting.finishing.cutpiece import CutPiece


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a garment is judged by.

    ``cut`` holds its cut pieces, None where none were made; ``surface`` is None where the pieces can't be glued. The
    rows are what was measured at seams, joins and openings, and of ease.
    """

    garment: Garment
    brief: Brief
    cut: Sequence[CutPiece] | None
    surface: Surface | None
    seams: tuple[SeamRow, ...]
    joins: tuple[JoinRow, ...]
    eases: tuple[EaseRow, ...]
    openings: tuple[OpeningRow, ...]
    fit: tuple[FitRow, ...]
    samples: tuple[tuple[LineSamples, ...], ...]


Look: TypeAlias = Callable[[Evidence], Iterable[Finding]]
Take: TypeAlias = Callable[[Garment, Brief], Iterable[FitRow]]


@dataclass(frozen=True, slots=True)
class Check:
    """One check of a proof: it collects findings, never raises, never repairs.

    ``name`` begins the codes of what it finds ("hem.narrow" is the check hem's); ``sentence`` says what it sees to.
    ``title`` is what it is listed as, where that isn't its name. ``take``, where there is one, takes rows of the table
    of fit, told under ``heading`` and judged with all others.
    """

    name: str
    sentence: str
    look: Look
    heading: str = ""
    take: Take | None = None
    title: str = ""


def check(name: str, sentence: str) -> Callable[[Look], Check]:
    """Return what makes a check of the function that looks, for the entry point ``blockwright.checks``."""
    return lambda look: Check(name, sentence, look)


def fit_figures(name: str, heading: str, sentence: str) -> Callable[[Take], Check]:
    """Return what makes a check of the function that takes figures of a garment, for ``blockwright.checks`` too.

    Its rows stand in the table of fit under ``heading``, and beside the engine's own where that has the heading.
    """
    return lambda take: Check(name, sentence, lambda evidence: (), heading, take)
