"""Pieces laid as the ticket's grain says: their blocks drafted for how the cloth stretches so, their grain turned."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafting.cloth import lies_crosswise, turn_cloth
from drafting.errors import InputError, Problem, close_matches
from drafting.garment import Brief, Garment, Piece, Role
from drafting.garment.deeds import TURNED_IN
from drafting.garment.laying import Laying
from drafting.garment.places import find_worn
from drafting.geometry import Point
from drafting.saying import Words
from drafting.sides import Side, sideless
from drafting.text import show_read
from drafting.ticket.grain import TURNS, GrainAsked
from drafting.ticket.job import Job, Planned


def draft_as_laid(planned: Planned, garment: Garment, job: Job, brief: Brief, options: object) -> Garment:
    """Take a step; a block whose pieces the ticket turns is drafted again for how the cloth stretches so."""
    blocks = (planned.label, planned.step.name) if planned.is_block else ()
    asked = (*job.grain, *_turn_by_stretch(brief, blocks))
    if not blocks:
        brief = _brief_as_laid(brief, [each.laid.angle if each.laid else 0.0 for each in find_worn(garment)])
    made = _note_grain(planned.step.apply(garment, brief, options), garment, asked, blocks)
    if not blocks or not asked:
        return made
    new = (piece for piece in made.pieces if not garment.has_piece(piece.name))
    angles = [piece.laid.angle if piece.laid else 0.0 for piece in new]
    if not any(angles):
        return made
    made = planned.step.apply(garment, _brief_as_laid(brief, angles), options)
    return _note_grain(made, garment, asked, blocks)


def _turn_by_stretch(brief: Brief, blocks: Sequence[str]) -> tuple[GrainAsked, ...]:
    """How a block lies that the ticket doesn't name: crosswise on a knit that stretches along alone."""
    crosswise = Laying(TURNS["crosswise"])
    return tuple(GrainAsked(name, crosswise, "") for name in blocks if lies_crosswise(brief.own_cloth))


def _note_grain(garment: Garment, before: Garment, asked: Sequence[GrainAsked], blocks: Sequence[str]) -> Garment:
    """Return a garment that knows how the ticket lays each piece that is new in it or that the ticket names.

    ``blocks`` are the names of the block that was drafted last, none for a change. Pieces are turned once all is
    drafted (``lay_pieces``): until then their grain is the wearer's height, by which changes go.
    """
    if not asked:
        return garment
    there = {piece.name for piece in before.pieces}
    only_bands = all(_is_band(piece) for piece in garment.pieces if piece.name not in there)
    noted = []
    for piece in garment.pieces:
        own = () if piece.name in there else blocks
        named = _find_laying(piece, asked, own, beside=_is_band(piece) and not only_bands)
        if named is not None and piece.laid is not None:
            named = replace(named, over=piece.laid.over)
        if named is not None and named != piece.laid:
            noted.append(replace(piece, laid=named))
    return garment.with_(pieces=noted) if noted else garment


def _is_band(piece: Piece) -> bool:
    return bool(piece.lines(role=Role.BAND))


def _find_laying(piece: Piece, asked: Sequence[GrainAsked], blocks: Sequence[str], *, beside: bool) -> Laying | None:
    """Return how a piece is laid: as it is named itself, else by its name without its side, else as its block is.

    A band ``beside`` a block's other pieces isn't turned where the ticket names the block.
    """
    for names in ((piece.name,), (sideless(piece.name),), blocks):
        of = [each for each in asked if not each.where] if beside and names is blocks else asked
        named = next((each.laying for each in of if each.is_called(*names)), None)
        if named is not None:
            return named
    return None


def lay_pieces(garment: Garment) -> Garment:
    """Return the garment with the grain of every piece as the ticket lays it."""
    turned = [
        replace(piece, grain=_find_grain(garment, piece, piece.laid), notes=(*piece.notes, *_tell_laying(piece.laid)))
        for piece in garment.pieces
        if piece.laid
    ]
    return garment.with_(pieces=turned) if turned else garment


def _find_grain(garment: Garment, piece: Piece, laying: Laying) -> Point:
    """The grain of a piece; a facing's threads run as its laying turns the piece that it faces, seen from within."""
    faced = [garment.piece(name) for name in sorted(_find_faced(garment, piece))]
    if not faced:
        return laying.grain_of(piece)
    sides = {each.side for each in faced}
    seen = laying.grain_of(replace(faced[0], side=sides.pop() if len(sides) == 1 else Side.NONE))
    return Point(-seen.x, seen.y)


def _find_faced(garment: Garment, facing: Piece) -> set[str]:
    """The names of the pieces that a facing is sewn to and turned inside of; none of what is no facing."""
    turned_in = (section for seam in garment.seams if seam.kind.lay == TURNED_IN for section in seam.sections)
    runs = (section.plies[0] for section in turned_in if any(use.piece == facing.name for use in section.plies[1]))
    return {use.piece for run in runs for use in run}


def _tell_laying(laying: Laying) -> Iterator[Words]:
    """What a cutter is told of a piece that is turned on the cloth, as few look at the arrow alone."""
    usual = next((name for name, angle in TURNS.items() if math.isclose(angle, laying.angle)), "")
    words = {"upright": (), "crosswise": ("Cut crosswise.",), "bias": ("Cut on the bias.",)}
    yield from words.get(usual, (f"Cut askew: the grain stands {math.degrees(laying.angle):.0f} degrees off upright.",))


def _brief_as_laid(brief: Brief, angles: Sequence[float]) -> Brief:
    """Return the brief of a block whose pieces lie at these angles: its cloths as they stretch round the body there.

    Front and back that lie otherwise share what goes round: their mean counts.
    """
    cloths = {name: turn_cloth(cloth, *angles) for name, cloth in brief.cloths.items()}
    return replace(brief, cloth=turn_cloth(brief.cloth, *angles), cloths=cloths)


def refuse_unknown_grain(job: Job, garment: Garment) -> None:
    """Refuse a grain asked for what is neither a block nor a piece of any garment here (InputError)."""
    pieces = {name for piece in garment.pieces for name in (piece.name, sideless(piece.name))}
    blocks = {name for each in job.steps if each.is_block for name in (each.label, each.step.name)}
    known = (*blocks, *pieces)
    problems = [
        Problem(
            each.where,
            f"{show_read(each.name)} names nothing here",
            f"a block ({', '.join(sorted(blocks))}) or a piece ({', '.join(sorted(pieces))})",
            "",
            close_matches(each.name, known),
        )
        for each in job.grain
        if not each.is_called(*known, *job.known_blocks)
    ]
    if problems:
        raise InputError(problems)
