"""Opening a stretch of a seam: its lines are parted at both ends, and what lies between is left unsewn."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Line, Piece, Role, Run, Section, Use, hanging_pieces
from drafting.record import dataclass
from drafting.redraw.heights import skirt_pieces
from drafting.redraw.mouths import clear_of_darts
from drafting.redraw.parting import with_split
from drafting.saying import say
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class SeamStretch:
    """A stretch of a seam to be opened: seam, section, and from where to where along its first ply (mm)."""

    seam: str
    section: int
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Chain:
    """The seams of a bodice or a skirt at a place, the uppermost first: several where a yoke's seam crosses them."""

    parts: tuple[SeamStretch, ...]

    @property
    def end(self) -> float:
        """The length of all of them (mm)."""
        return math.fsum(part.end for part in self.parts)

    def between(self, low: float, high: float) -> tuple[SeamStretch, ...]:
        """Return what lies between two heights above the lower end of all, the uppermost first."""
        out, at = [], self.end
        for part in self.parts:
            at -= part.end
            start, end = max(low - at, 0.0), min(high - at, part.end)
            if end - start > TOLERANCE.sewn_length:
                out.append(replace(part, start=start, end=end))
        return tuple(out)


def seams_at(garment: Garment, place: str) -> tuple[Chain | None, Chain | None]:
    """Return the seams of the bodice and those of the skirt at a place; CannotDraft where one is in parts."""
    skirt = {piece.name for piece in skirt_pieces(garment)}
    found: dict[bool, list[tuple[float, SeamStretch]]] = {False: [], True: []}
    for seam in garment.seams:
        for i, section in enumerate(seam.sections):
            if not _is_at(garment, section, place):
                continue
            _refuse_overlay(garment, section, place)
            there = found[section.plies[0][0].piece in skirt]
            if len(section.plies) != 2 or any(edges.seam == seam.name for _, edges in there):  # it is open already
                raise CannotDraft(
                    "place", say("the seam at the {place} is broken up, or holds another layer too", place=place),
                    help="choose another place",
                )  # fmt: skip
            edges = SeamStretch(seam.name, i, 0.0, garment.run_length(section.plies[0]))
            there.append((garment.line(section.plies[0][0]).path.bounds[3], edges))
    upper, lower = (tuple(edges for _, edges in sorted(found[each], key=lambda e: -e[0])) for each in (False, True))
    return (Chain(upper) if upper else None), (Chain(lower) if lower else None)


def _refuse_overlay(garment: Garment, section: Section, place: str) -> None:
    """Raise CannotDraft where a layer hangs over the place: neck or hem under it would stay closed."""
    over = hanging_pieces(garment)
    hanging = [garment.piece(run[0].piece).title.lower() for run in section.plies if run and run[0].piece in over]
    if hanging:
        raise CannotDraft(
            "place",
            say(
                "the {hanging} hangs over the {place}, and would hold the garment closed there",
                hanging=hanging[0],
                place=place,
            ),
            help="choose another place, or leave the overlay out",
        )


def _is_at(garment: Garment, section: Section, place: str) -> bool:
    lines = [garment.line(use) for run in section.plies for use in run]
    if place == "back":
        return all(line.role is Role.CENTRE and line.face is Face.BACK for line in lines)
    return all(line.role is Role.SIDE and line.side == place for line in lines)


def open_edges(garment: Garment, stretches: Iterable[SeamStretch], opening: str) -> tuple[Garment, tuple[Run, Run]]:
    """Open the stretches; returns the two edges, each run from the top down."""
    runs: list[list[Use]] = [[], []]
    for edges in stretches:
        garment, plies = _open_seam(garment, edges, opening)
        for run, ply in zip(runs, plies, strict=True):
            run.extend(use.reversed for use in reversed(ply))
    return garment, (tuple(runs[0]), tuple(runs[1]))


def _open_seam(garment: Garment, edges: SeamStretch, opening: str) -> tuple[Garment, tuple[Run, ...]]:
    """Take a stretch out of a seam's section; what is left of it below and above stays sewn."""
    low, high = shares_of(garment, edges)
    for share in (low, high):
        for ply in (0, 1):
            garment = cut_at(garment, edges, ply, share)
    seam = garment.seam(edges.seam)
    section = seam.sections[edges.section]
    parts = [thirds(garment, run, low, high) for run in section.plies]
    left = [
        Section(tuple(part[k] for part in parts), tuple(ease * size for ease in section.ease))
        for k, size in ((0, low), (2, 1.0 - high))
        if all(p[k] for p in parts)
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


def shares_of(garment: Garment, edges: SeamStretch) -> tuple[float, float]:
    """The shares of a section between which it is opened: up to a dart's mouth, where one is near."""
    plies = garment.seam(edges.seam).sections[edges.section].plies
    lengths = [garment.run_length(run) for run in plies]
    found: list[float] = []
    for share in (edges.start / lengths[0], edges.end / lengths[0]):
        if TOLERANCE.joint < share * lengths[0] < lengths[0] - TOLERANCE.joint:
            for run, size in zip(plies, lengths, strict=True):
                share = clear_of_darts(garment, run, share * size) / size
        found.append(share)
    return found[0], found[1]


def cut_at(garment: Garment, edges: SeamStretch, ply: int, share: float) -> Garment:
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
