"""Opening a stretch of a seam: its lines are parted at both ends, and what lies between is left unsewn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from drafting.garment import Garment, Line, Piece, Run, Section, Use
from drafting.garment.parting import with_split
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class Edges:
    """A stretch of a seam to be opened: seam, section, and from where to where along its first ply (mm)."""

    seam: str
    section: int
    start: float
    end: float


def opened_edges(garment: Garment, stretches: Iterable[Edges], opening: str) -> tuple[Garment, tuple[Run, Run]]:
    """Open the stretches; returns the two edges, each run from the top down."""
    runs: list[list[Use]] = [[], []]
    for edges in stretches:
        garment, plies = _open(garment, edges, opening)
        for run, ply in zip(runs, plies, strict=True):
            run.extend(use.reversed for use in reversed(ply))
    return garment, (tuple(runs[0]), tuple(runs[1]))


def _open(garment: Garment, edges: Edges, opening: str) -> tuple[Garment, tuple[Run, ...]]:
    """Take a stretch out of a seam's section; what is left of it below and above stays sewn."""
    length = garment.run_length(garment.seam(edges.seam).sections[edges.section].plies[0])
    for share in (edges.start / length, edges.end / length):
        for ply in (0, 1):
            garment = cut_at(garment, edges, ply, share)
    seam = garment.seam(edges.seam)
    section = seam.sections[edges.section]
    parts = [thirds(garment, run, edges.start / length, edges.end / length) for run in section.plies]
    shares = (edges.start / length, 0.0, 1.0 - edges.end / length)
    left = [
        Section(tuple(part[k] for part in parts), tuple(shares[k] * ease for ease in section.ease))
        for k in (0, 2)
        if all(part[k] for part in parts)
    ]
    sections = (*seam.sections[: edges.section], *left, *seam.sections[edges.section + 1 :])
    opened = tuple(part[1] for part in parts)
    garment = _bounding(garment, [use for run in opened for use in run], opening)
    seams = tuple(
        replace(each, sections=sections) if each.name == seam.name else each
        for each in garment.seams
        if each.name != seam.name or sections
    )
    return replace(garment, seams=seams), opened


def cut_at(garment: Garment, edges: Edges, ply: int, share: float) -> Garment:
    """Return the garment with the line of a ply split at a share of its run, unless that is at a joint."""
    run = garment.seam(edges.seam).sections[edges.section].plies[ply]
    at = share * garment.run_length(run)
    for use in run:
        length = garment.line(use).path.length
        if TOLERANCE.joint < at < length - TOLERANCE.joint:
            return with_split(garment, use.piece, use.line, length - at if use.against else at)
        at -= length
    return garment


def thirds(garment: Garment, run: Run, low: float, high: float) -> tuple[Run, Run, Run]:
    """Return the uses of a run below, within and above a stretch given in shares of its length."""
    whole = garment.run_length(run)
    out: tuple[list[Use], list[Use], list[Use]] = ([], [], [])
    at = 0.0
    for use in run:
        length = garment.line(use).path.length
        middle = (at + length / 2.0) / whole
        out[0 if middle < low else 1 if middle < high else 2].append(use)
        at += length
    return tuple(out[0]), tuple(out[1]), tuple(out[2])


def _bounding(garment: Garment, uses: Iterable[Use], opening: str) -> Garment:
    """Let lines bound an opening."""
    wanted = {(use.piece, use.line) for use in uses}

    def marked(piece: Piece, line: Line) -> Line:
        return replace(line, opening=opening) if (piece.name, line.name) in wanted else line

    pieces = [replace(p, ring=tuple(marked(p, ln) for ln in p.ring)) for p in garment.pieces]
    changed = [new for new, old in zip(pieces, garment.pieces, strict=True) if new.ring != old.ring]
    return garment.with_(pieces=changed)
