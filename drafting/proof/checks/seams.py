"""Seams: the lengths of the plies, walked along their runs, against the ease that each section states."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.garment import Brief, Garment, Seam, Use
from drafting.garment.places import gathered_length
from drafting.proof.checks.closures import stretch_least
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import SeamRow
from drafting.saying import list_sayings, mm, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import trade_row


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
    found = (_finding(row) for row in off if row.section or row.seam not in in_section)
    return (*found, *(each for seam in garment.seams for each in _find_overstretched(garment, brief, seam)))


EASED_IN, GATHERED_IN = trade_row(
    (0.15, 0.30), "share", "from memory", "up to a tenth is eased in by hand; more is gathered"
)
"""Of a shorter layer's length, stretched, by which what it is sewn to may be longer without being gathered, and by
which it may be longer in a warning."""


def _find_overstretched(garment: Garment, brief: Brief, seam: Seam) -> Iterator[Finding]:
    """A layer that is stated shorter than what it is sewn to, by more than its cloth gives and is eased in."""
    for section in seam.sections:
        first, *others = section.plies
        for run, ease in zip(others, section.ease[1:], strict=True):
            if not first or not run or ease >= 0.0:
                continue
            length = garment.run_length(run)
            asked = garment.run_length(first) - gathered_length(garment, first)
            reach = math.fsum(garment.line(use).path.length * (1.0 + _give(garment, brief, use)) for use in run)
            if asked > reach * (1.0 + EASED_IN):
                yield _tell_overstretched(seam, length, reach, asked)


def _give(garment: Garment, brief: Brief, use: Use) -> float:
    """How far the cloth of a line stretches as it is sewn: on interfacing not at all."""
    piece = garment.piece(use.piece)
    return 0.0 if piece.interfaced else stretch_least(piece, brief)


def _tell_overstretched(seam: Seam, length: float, reach: float, asked: float) -> Finding:
    return Finding(
        "seams.stretch",
        Severity.ERROR if asked > reach * (1.0 + GATHERED_IN) else Severity.WARNING,
        seam.name,
        asked,
        reach,
        say(
            "a layer of {value} measures {length} and reaches {reach} stretched, and is to be sewn to {asked}: its "
            "cloth doesn't give as much",
            value=seam.title or seam.name,
            length=tape(length),
            reach=tape(reach),
            asked=tape(asked),
        ),
        "draft it longer, or from a cloth with more stretch; where it is little, gather the longer layer to it",
    )


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
