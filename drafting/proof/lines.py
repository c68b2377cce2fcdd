"""The proof as lines of plain text, for a terminal or a printed page."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafting.proof.finding import Severity
from drafting.proof.proof import Proof
from drafting.proof.rows import EaseRow, JoinRow, OpeningRow, SeamRow
from drafting.units import Unit, show_length, show_share

_WORDS = {Severity.ERROR: "ERROR", Severity.WARNING: "warning"}


def proof_lines(proof: Proof, unit: Unit = "cm") -> tuple[str, ...]:
    """Return the proof as text: the verdict, what is wrong with its remedy, the tables, and notes last."""
    return tuple(
        line
        for part in (
            _verdict(proof),
            _findings(proof),
            _ease(proof.eases, unit),
            _openings(proof.openings, unit),
            _seams(proof.seams, unit),
            _joins(proof.joins),
            _puzzle(proof),
            _notes(proof),
        )
        for line in part
    )


def _verdict(proof: Proof) -> Iterator[str]:
    counts = ", ".join(
        f"{len(proof.of(s))} {word}" for s, word in zip(Severity, ("errors", "warnings", "notes"), strict=True)
    )
    yield f"Proof {'passed' if proof.passed else 'FAILED'}: {counts}"


def _findings(proof: Proof) -> Iterator[str]:
    for finding in (*proof.of(Severity.ERROR), *proof.of(Severity.WARNING)):
        yield f"{_WORDS[finding.severity]} {finding.code} ({finding.place}): {finding.sentence}"
        if finding.remedy:
            yield f"    {finding.remedy}"


def _notes(proof: Proof) -> Iterator[str]:
    notes = proof.of(Severity.NOTE)
    if notes:
        yield ""
        yield "Notes"
    for finding in notes:
        yield f"  {finding.sentence}"


def table(title: str, head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield a titled table; the first column is set left, figures right; nothing for a table without rows."""
    if not rows:
        return
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head))]
    yield ""
    yield title
    for row in (head, *rows):
        cells = [
            cell.ljust(width) if i == 0 else cell.rjust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  " + "  ".join(cells).rstrip()


def _length(value: float, unit: Unit) -> str:
    return "-" if math.isnan(value) else show_length(value, unit)


def _ease(rows: Sequence[EaseRow], unit: Unit) -> Iterator[str]:
    head = ("measure", "body", "ease asked", "ease", "finished")
    cells = [
        (row.title or row.measure, *(_length(v, unit) for v in (row.body, row.asked, row.got, row.finished)))
        for row in rows
    ]
    return table("Ease", head, cells)


def _openings(rows: Sequence[OpeningRow], unit: Unit) -> Iterator[str]:
    head = ("opening", "relaxed", "stretch", "reaches", "must pass")
    cells = [
        (
            f"{row.opening}: {row.edge}",
            show_length(row.length, unit),
            show_share(row.stretch),
            show_length(row.reach, unit),
            show_length(row.must_pass, unit) if row.passing else "-",
        )
        for row in rows
    ]
    return table("Openings", head, cells)


def _seams(rows: Sequence[SeamRow], unit: Unit) -> Iterator[str]:
    head = ("seam", "lengths", "ease asked", "off")
    cells = [
        (
            row.place,
            " / ".join(show_length(length, unit) for length in row.lengths),
            " / ".join(show_length(ease, unit) for ease in row.asked[1:]) or "-",
            show_length(row.off, "mm"),
        )
        for row in rows
    ]
    return table("Seams", head, cells)


def _joins(rows: Sequence[JoinRow]) -> Iterator[str]:
    cells = [
        (row.place, ", ".join(row.across) or "-", f"{round(math.degrees(row.angle), 1) + 0.0:.1f} deg") for row in rows
    ]
    return table("Joins: how far an edge turns where it crosses a seam", ("from and to", "across", "turns"), cells)


def _puzzle(proof: Proof) -> Iterator[str]:
    surface = proof.surface
    if surface is None:
        return
    names = ", ".join(opening.name for opening in surface.openings)
    yield ""
    yield (
        f"Puzzle: {surface.faces} pieces, {surface.edges} edges, {surface.corners} corners, "
        f"{len(surface.openings)} openings ({names}), in {surface.components} part{'s' * (surface.components != 1)}"
    )
