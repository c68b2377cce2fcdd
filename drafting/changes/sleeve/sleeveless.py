"""Sleeveless: takes the sleeves off again, so that the armholes are open as they were before one was set in.

Without both, what comes before is drafted as it is without sleeves: a woven's underarm is raised and taken in.
"""

from __future__ import annotations

from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fact,
    Fate,
    Garment,
    Girth,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Stage,
    Use,
    change,
    drop_aims,
    side_option,
    sides_of,
)
from drafting.record import dataclass
from drafting.redraw.sleeves import drop_underarm_title, sleeves_of
from drafting.saying import say
from drafting.work.kinds import ARMHOLE

TOLD_OF_SLEEVES = ("cap_", "sleeve_", "upper_arm_")
"""How the names of facts begin that are told of one sleeve; they end in its side."""


@dataclass(frozen=True, slots=True)
class SleevelessOptions:
    """Options of the change."""

    side: str = side_option("Which sleeves are taken off.")

    @property
    def opened(self) -> frozenset[str]:
        """The armholes that are open again: without both, what comes before is drafted as without sleeves."""
        return frozenset(f"armhole-{side}" for side in sides_of(self.side))


@change(
    "sleeveless",
    "No sleeves: a facing at the neck finishes the armholes too, in one, or else they are open, to be faced, turned or "
    "banded; a woven's are as high as without sleeves.",
    Stage.SLEEVE_SHAPE,
)
def take_off_sleeves(garment: Garment, brief: Brief, o: SleevelessOptions) -> Garment:
    """Take the sleeves asked for off."""
    for sleeve in sleeves_of(garment, o.side):
        garment = _take_off(garment, sleeve)
    return garment


def _take_off(garment: Garment, sleeve: Piece) -> Garment:
    side = sleeve.side
    _refuse_finished(garment, sleeve)
    seams = tuple(seam for seam in (_without_sections(seam, sleeve) for seam in garment.seams) if seam is not None)
    bared = _bare(garment, sleeve)
    bare = replace(
        garment,
        pieces=tuple(bared.get(piece.name, piece) for piece in garment.pieces if piece.name != sleeve.name),
        seams=seams,
        openings=tuple(f"armhole-{side}" if name == f"wrist-{side}" else name for name in garment.openings),
        facts=(*(f for f in garment.facts if not _tells_of(f.name, side)), _fact(side)),
        bared=garment.bared | {side},
        taken_up=garment.taken_up - {"armhole"} if side.other in garment.bared else garment.taken_up,
        solves=tuple(solve for solve in garment.solves if solve.name != f"cap, {side}"),
    )  # fmt: skip
    return drop_aims(bare, [Girth(level.name) for level in sleeve.levels])


def _fact(side: Side) -> Fact:
    return Fact(
        f"sleeveless_{side}", 1.0, "", "choice", say("the {side} sleeve is left out, and what belongs to it", side=side)
    )


def _tells_of(fact: str, side: Side) -> bool:
    return fact.startswith(TOLD_OF_SLEEVES) and fact.endswith(f"_{side}")


def _refuse_finished(garment: Garment, sleeve: Piece) -> None:
    if any(line.role is Role.WRIST and line.fate is Fate.SEWN for line in sleeve.ring):
        raise CannotDraft("side", say("something is sewn to the lower edge of the {title:lower}", title=sleeve.title))
    if any(seam.hangs for seam in garment.seams if _is_sewn_to(seam, sleeve) and seam.kind == ARMHOLE):
        raise CannotDraft("side", say("a layer that hangs is caught in the {side} armhole seam", side=sleeve.side))


def _is_sewn_to(seam: Seam, sleeve: Piece) -> bool:
    return any(use.piece == sleeve.name for use in seam.uses())


def _without_sections(seam: Seam, sleeve: Piece) -> Seam | None:
    """Return a seam without the sections that the sleeve is sewn in by; None where nothing is left of it."""
    kept = tuple(section for section in seam.sections if not _in_section(section, sleeve))
    if len(kept) == len(seam.sections):
        return seam
    return replace(seam, sections=kept, title=drop_underarm_title(seam.title)) if kept else None


def _in_section(section: Section, sleeve: Piece) -> bool:
    return any(use.piece == sleeve.name for run in section.plies for use in run)


def _bare(garment: Garment, sleeve: Piece) -> dict[str, Piece]:
    """Return, by name, the pieces that the sleeve was set into, their armhole lines open and to be turned again."""
    uses = {
        Use(use.piece, use.line)
        for seam in garment.seams
        for section in seam.sections
        if seam.kind == ARMHOLE and _in_section(section, sleeve)
        for run in section.plies
        for use in run
    }
    out = {}
    for name in {use.piece for use in uses} - {sleeve.name}:
        piece = garment.piece(name)
        out[name] = replace(
            piece,
            ring=tuple(
                replace(line, fate=Fate.HEMMED, opening=f"armhole-{sleeve.side}")
                if Use(name, line.name) in uses
                else line
                for line in piece.ring
            ),
        )
    return out
