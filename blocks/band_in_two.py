"""A band that finds no room across its cloth in one: cut in two, one for the front and one for the back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from blocks.strips import BandSpec, draw_straight_strip
from drafting.cloth import Cloth
from drafting.garment import Garment, Piece, Run, Seam, Section, Use
from drafting.saying import Name, say, specify
from drafting.trade import TradeValue
from drafting.work.kinds import ENDS

NOT_CUT_FROM = TradeValue(50.0, "mm", "common practice")
"""Of a cloth's width that a strip across it leaves: both selvedges, and the allowances of its ends."""


def part_by_face(garment: Garment, run: Run) -> tuple[Run, Run] | None:
    """Return a closed run in two, what lies on the one face and on the other; None where it goes to and fro."""
    faces = [garment.line(use).face for use in run]
    starts = [i for i, face in enumerate(faces) if face is not faces[i - 1]]
    if len(starts) != 2:
        return None
    one, two = starts
    return run[one:two], (*run[two:], *run[:one])


def needs_two(stuff: Cloth, length: float) -> bool:
    """Return whether a strip of a length (mm) finds no room across a cloth."""
    return length + NOT_CUT_FROM > stuff.width


def draw_two_strips(
    garment: Garment, spec: BandSpec, opening: str, halves: tuple[Run, Run], share: float, width: float
) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    """Return the seen halves of two strips, ``share`` times as long as the edges they lie along, and their seams.

    These are the two that join their ends, and the one that sets both on.
    """
    first, last = ("end-b", "end-a") if spec.below else ("end-a", "end-b")  # of a run, which a strip meets backwards
    pieces, sections = list[Piece](), list[Section]()
    for half in halves:
        face = garment.line(half[0]).face
        own = replace(spec, name=f"{spec.name}-{face}", title=specify(spec.title, Name(str(face))))
        edge = garment.run_length(half)
        pieces.append(draw_straight_strip(own, opening, edge * share, width))
        sections.append(Section((half, (Use(own.name, "band", True),)), (0.0, edge * (share - 1.0))))
    one, two = (piece.name for piece in pieces)
    ends = tuple(_join_ends(spec, first, last, ((one, two), (two, one))))
    return tuple(pieces), (*ends, Seam(spec.name, spec.kind, spec.title.lower(), tuple(sections)))


def _join_ends(spec: BandSpec, first: str, last: str, pairs: tuple[tuple[str, str], ...]) -> Iterator[Seam]:
    """The seams of the ends: each from the sewn edge to the fold."""
    for number, (one, two) in enumerate(pairs, 1):
        plies = (
            (Use(one, last, (last == "end-a") == spec.below),),
            (Use(two, first, (first == "end-a") == spec.below),),
        )
        title = say("ends of the {title:lower}, {which}", title=spec.title, which=str(number))
        yield Seam(f"{spec.name}-end-{number}", ENDS, title, (Section(plies, (0.0, 0.0)),))
