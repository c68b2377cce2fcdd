"""What doesn't fit: a figure of the garment that misses the body's by more than the trade lets it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from drafting.body import Body
from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding
from drafting.proof.fit.dart_mouths import tell_split_darts
from drafting.proof.fit.levels import tell_moved_levels
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow, figure_words
from drafting.proof.fit.rows import fold_rows
from drafting.saying import Words, say, without_sides
from drafting.sides import sideless


def check_fit(garment: Garment, brief: Brief, rows: Iterable[FitRow]) -> tuple[Finding, ...]:
    """Judge the rows: each that passes its bound is told, and where a change means a level to lie elsewhere."""
    off = _tell_off((row for row in rows if row.beyond), brief.body)
    return (*off, *tell_moved_levels(garment, brief), *tell_split_darts(garment))


def _tell_off(rows: Iterable[FitRow], body: Body) -> Iterator[Finding]:
    """Of rows beyond their bounds: left and right, or front and back, once where figures and mend are alike."""
    alike: dict[object, list[FitRow]] = {}
    for row in rows:
        alike.setdefault((row.name, row.remedy, row.wanted, _of_any(row.offence)), []).append(row)
    for group in alike.values():
        for title, row in fold_rows(group):
            folded = replace(row, title=title, place=sideless(row.place), offence=_of_any(row.offence))
            yield _off(row if title == row.title else folded, body)


def _of_any(offence: Words) -> Words:
    """What is said of a passed bound, of both sides alike."""
    return without_sides(offence)


def _off(row: FitRow, body: Body) -> Finding:
    low, high = row.bounds
    passed, says = (low, "at least") if row.beyond < 0.0 else (high, "at most")
    words = row.offence or say(
        "{title}: {garment}, where {says} {passed} is wanted",
        title=row.title,
        garment=figure_words(row.garment, row.measure, passed),
        says=says,
        passed=figure_words(passed or 0.0, row.measure, row.garment),
    )
    remedy = row.remedy.words(body) if isinstance(row.remedy, Retake) else row.remedy
    code = f"fit.{row.name}"
    return Finding(code, row.severity, row.place, row.garment, passed, words, remedy, row.measure, "", row.wanted)
