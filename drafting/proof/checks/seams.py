"""Seams: the lengths of the plies, walked along their runs, against the ease that each section states."""

from __future__ import annotations

from collections.abc import Iterable

from drafting.garment import Brief, Garment, Seam
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import SeamRow
from drafting.saying import list_sayings, mm, say, tape
from drafting.tolerance import TOLERANCE


def seam_rows(garment: Garment) -> tuple[SeamRow, ...]:
    """Return a row for every section of every seam, and one for the whole of a seam with several sections."""
    lengths = {(p.name, line.name): line.path.length for p in garment.pieces for line in p.all_lines}
    return tuple(row for seam in garment.seams for row in _rows(seam, lengths))


def _rows(seam: Seam, lengths: dict[tuple[str, str], float]) -> Iterable[SeamRow]:
    several = len(seam.sections) > 1
    sums: list[float] = [0.0] * len(seam.sections[0].plies)
    for number, section in enumerate(seam.sections, 1):
        plies = tuple(sum(lengths[use.piece, use.line] for use in run) for run in section.plies)
        sums = [total + length for total, length in zip(sums, plies, strict=True)]
        yield _row(seam, number if several else 0, plies, section.ease)
    if several and all(run for section in seam.sections for run in section.plies):
        yield _row(seam, 0, tuple(sums), seam.ease)


def _row(seam: Seam, number: int, lengths: tuple[float, ...], asked: tuple[float, ...]) -> SeamRow:
    # A ply that takes no part in this stretch has no length, and nothing to be off by.
    taking = [(length, ease) for i, (length, ease) in enumerate(zip(lengths, asked, strict=True)) if length or not i]
    off = max((length - lengths[0] - ease for length, ease in taking), key=abs)
    return SeamRow(seam.name, seam.title, number, lengths, asked, off)


def check_seams(garment: Garment, brief: Brief, rows: Iterable[SeamRow]) -> tuple[Finding, ...]:
    """Judge the rows: a ply that is off its stated ease by more than the sewing tolerance can't be sewn as stated.

    A seam as a whole is spoken of only where none of its sections is off.
    """
    off = [row for row in rows if abs(row.off) > TOLERANCE.sewn_length]
    in_section = {row.seam for row in off if row.section}
    return tuple(_finding(row) for row in off if row.section or row.seam not in in_section)


def _finding(row: SeamRow) -> Finding:
    plies = list_sayings((tape(length) for length in row.lengths), " and ")
    longer = "longer" if row.off > 0 else "shorter"
    return Finding(
        "seams.length",
        Severity.ERROR,
        row.place,
        row.off,
        TOLERANCE.sewn_length,
        say(
            "the layers of {value} measure {plies}; one is {off} {longer} than the ease that the seam states",
            value=row.title or row.seam,
            plies=plies,
            off=mm(abs(row.off), None),
            longer=longer,
        ),
        "draft the two edges again for each other, or state the ease that is meant",
    )
