"""The proof in the words that are printed with the pattern and in the booklet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from drafting.columns import show_ease, show_in_column
from drafting.proof.finding import OF_FIT, SINCE, Severity
from drafting.proof.fit import FitRow, figure_words, fold_rows
from drafting.proof.proof import Proof
from drafting.proof.rows import OpeningRow
from drafting.saying import Unit, Words, render, say, show_length, span, tape, without_sides
from drafting.sides import speak_name
from drafting.tolerance import TOLERANCE

Section = tuple[Words, tuple[str, ...]]
"""A heading and the lines below it."""


def print_proof(proof: Proof, unit: Unit = "cm", *, short: bool = False) -> tuple[Section, ...]:
    """Return what of the proof a maker wants in words: the verdict, the seams and the openings.

    ``short``: the verdict alone; the figures stand in the booklet. What it warns of is told before (`print_warnings`).
    """
    more = (_FIGURES,) if short else tuple(_count_seams(proof, unit))
    return (("Proof", (*_verdict(proof, unit), *more)),)


def print_warnings(proof: Proof, unit: Unit = "cm") -> tuple[Section, ...]:
    """Return what is to be read before anything is cut: errors and warnings, each with what helps; or nothing."""
    lines = tuple(_warn(proof, unit))
    return ((BEFORE_CUTTING, lines),) if lines else ()


BEFORE_CUTTING: Final = "Before you cut"
"""The heading of what is warned of."""

_GO_TOGETHER = "The pieces go together as meant."

_FIGURES = "Its figures, and what is estimated, stand in the booklet."


def _verdict(proof: Proof, unit: Unit) -> Iterator[str]:
    errors, warnings = proof.of(Severity.ERROR), proof.of(Severity.WARNING)
    fits = proof.fit and not any(finding.code.startswith(OF_FIT) for finding in proof.findings)
    passed = "The pieces go together as meant, and fit the body that they are drafted for." if fits else _GO_TOGETHER
    if errors:
        yield f"NOT PROVEN. Don't cut before that is put right which stands under “{BEFORE_CUTTING}”."
    else:
        yield passed
        if warnings:
            yield f"What it warns of stands under “{BEFORE_CUTTING}”."
    for finding in proof.of(Severity.NOTE):
        if finding.code.startswith(OF_FIT):
            yield f"Note: {render(finding.sentence, unit)}."


def _warn(proof: Proof, unit: Unit) -> Iterator[str]:
    """Yield each error and each warning, with where it came in by a change."""
    named = ((Severity.ERROR, "NOT PROVEN"), (Severity.WARNING, "Warning"))
    for name, finding in ((name, finding) for severity, name in named for finding in proof.of(severity)):
        sentence, remedy = (render(words, unit) for words in (finding.sentence, finding.remedy))
        where = f"{finding.where}: " if finding.where else ""
        since = f" {SINCE.format(finding.since)}." if finding.since else ""
        yield f"{name}: {where}{sentence}. {remedy[:1].upper()}{remedy[1:]}".rstrip(". ") + f".{since}"


def _count_seams(proof: Proof, unit: Unit) -> Iterator[str]:
    if proof.seams:
        # A seam of several sections has a row for each and one for the whole.
        count = len({row.seam for row in proof.seams})
        yield f"All {count} seams match, with their ease." if _all_match(proof) else f"{count} seams are measured."
    for row in tightest_rows(proof.openings):
        spare = f": {show_length(row.spare, unit)} to spare" if row.spare >= 0.0 and not row.opened else ""
        passing = f"{row.passing}, {show_length(row.must_pass, unit)}"
        yield f"{_way_through(row, unit)} {passing}{'' if row.opened else ', must pass'}{spare}."


def _all_match(proof: Proof) -> bool:
    """Whether no seam is off by more than what is sewn true."""
    return all(abs(row.off) <= TOLERANCE.sewn_length for row in proof.seams)


def _way_through(row: OpeningRow, unit: Unit) -> str:
    """How far an opening opens: one with a closure by that; the layer that holds back most may be the zip's own."""
    opening = f"The {speak_name(row.opening)}"
    if row.opened:
        return f"{opening}: its closure opens it for"
    return f"{opening} opens to {show_length(row.reach, unit)};"


def tightest_rows(rows: tuple[OpeningRow, ...]) -> list[OpeningRow]:
    """Return of each opening that something must pass the edge or seam with the least to spare."""
    least: dict[str, OpeningRow] = {}
    for row in rows:
        known = least.get(row.opening)
        if row.passing and (known is None or row.spare < known.spare):
            least[row.opening] = row
    return list(least.values())


def list_finished(proof: Proof, unit: Unit) -> tuple[tuple[str, ...], ...]:
    """Return the finished measures: of each its name, the body's measure, the ease and the garment's.

    Left and right stand once where they are alike.
    """
    alike: dict[tuple[str, ...], list[str]] = {}
    for row in proof.eases:
        ease = show_ease(row.body, row.finished, unit)
        figures = [show_in_column(row.body, unit), ease, show_in_column(row.finished, unit)]
        title = render(without_sides(row.title or row.measure), unit)
        alike.setdefault((title, *figures), []).append(render(row.title or row.measure, unit))
    return tuple((titles[0] if len(titles) == 1 else key[0], *key[1:]) for key, titles in alike.items())


def list_lengths(proof: Proof, unit: Unit) -> tuple[tuple[str, str], ...]:
    """Return how long the finished garment is: of each length its name and its figure."""
    return tuple((row.title, show_in_column(row.garment, unit)) for row in proof.lengths)


def list_against_body(proof: Proof, unit: Unit) -> tuple[tuple[str, ...], ...]:
    """Return the chief figures, and those that changes mean to differ: name, body ("-" of a rule), garment, limits.

    What passes a limit stands in the verdict; "-" where there is none.
    """
    return tuple(_against_body(proof, unit))


def _against_body(proof: Proof, unit: Unit) -> Iterator[tuple[str, ...]]:
    for title, row in fold_rows(row for row in proof.fit if row.chief or row.meant):
        body, own = (render(figure_words(figure, row.measure), unit) for figure in (row.body, row.garment))
        yield render(title, unit), body if row.of_body else "-", own, render(_tell_limits(row), unit)


def _tell_limits(row: FitRow) -> Words:
    least, most = row.bounds
    low, high = (None if bound is None else figure_words(bound, row.measure) for bound in (least, most))
    if low is None or high is None:
        return say("at least {low}", low=low) if low else say("at most {high}", high=high) if high else "-"
    if row.measure == "mm":
        return say("{limits}", limits=span(tape(least or 0.0), tape(most or 0.0)))
    return say("{low} to {high}", low=low, high=high)
