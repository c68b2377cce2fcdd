"""What tells a maker where an edge is gathered: the seam is matched at both ends of it, and the piece says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drafting.garment import Garment, Piece, Section, Use
from drafting.redraw.opening import SeamStretch, cut_at, thirds
from drafting.saying import Words

__all__ = ["match_ends", "with_note"]


def with_note(piece: Piece, note: Words) -> Piece:
    """Return the piece with a further note, unless it says so already."""
    return piece if note in piece.notes else replace(piece, notes=(*piece.notes, note))


def match_ends(garment: Garment, use: Use, grown: float, ends: tuple[float, float]) -> Garment | None:
    """Return the garment with the seam of a gathered line matched where its gathers start and end.

    ``grown`` is by how much (mm) the line has grown between ``ends``, shares of its length before, in ring direction.
    The section is parted in up to three, so that notches stand there on every ply. None where the line isn't a ply's
    whole run in a section, or another ply doesn't run along all of it.
    """
    for seam in garment.seams:
        for index, section in enumerate(seam.sections):
            for ply, run in enumerate(section.plies):
                if len(run) == 1 and (run[0].piece, run[0].line) == (use.piece, use.line):
                    along = (1.0 - ends[1], 1.0 - ends[0]) if run[0].against else ends
                    length = garment.run_length(run)
                    plain = length - grown
                    own = along[0] * plain / length, 1.0 - (1.0 - along[1]) * plain / length
                    shares = [own if i == ply else along for i in range(len(section.plies))]
                    return _part_section(garment, SeamStretch(seam.name, index, 0.0, 0.0), shares)
    return None


def _part_section(garment: Garment, at: SeamStretch, shares: Sequence[tuple[float, float]]) -> Garment | None:
    """Part a section at two shares of each ply; what a ply is longer in each part is its ease there."""
    for ply, pair in enumerate(shares):
        for share in pair:
            garment = cut_at(garment, at, ply, share)
    seam = garment.seam(at.seam)
    parts = [thirds(garment, run, *pair) for run, pair in zip(seam.sections[at.section].plies, shares, strict=True)]
    made = []
    for plies in zip(*parts, strict=True):
        if any(plies) != all(plies):  # a ply takes no part there, or ends within a hair of it
            return None
        if all(plies):
            lengths = [garment.run_length(run) for run in plies]
            made.append(Section(tuple(plies), tuple(length - lengths[0] for length in lengths)))
    sections = (*seam.sections[: at.section], *made, *seam.sections[at.section + 1 :])
    return garment.with_(seams=[replace(seam, sections=sections)])
