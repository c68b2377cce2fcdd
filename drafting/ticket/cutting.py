"""Which piece is cut from which cloth: a block's pieces from the block's, a piece named by itself from its own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafting.errors import InputError, Problem, close_matches
from drafting.finishing.labels import note_again
from drafting.garment import Brief
from drafting.garment.model import MAIN_CLOTH, Garment, Piece
from drafting.sides import Side
from drafting.text import show_read
from drafting.ticket.cloths import CutFrom, fold_name
from drafting.ticket.job import Job, Planned


def cloth_of_step(planned: Planned, job: Job) -> str:
    """Return the name of the cloth that a block's pieces are cut from."""
    named = (each.cloth for each in _once(job) if planned.is_block and _names_block(each, planned))
    return next(named, MAIN_CLOTH)


def _names_block(each: CutFrom, planned: Planned) -> bool:
    return each.is_called(planned.label, planned.step.name)


def cutting_brief(brief: Brief, planned: Planned, job: Job) -> Brief:
    """Return a brief that tells a step what its pieces are cut from."""
    if not job.cut_from:
        return brief
    pieces = {fold_name(each.name): each.cloth for each in _once(job)}
    return replace(brief, cut_from=cloth_of_step(planned, job), pieces=pieces)


def cut_new_pieces(before: Garment, made: Garment, cloth: str) -> Garment:
    """Return a garment whose pieces that weren't there before are cut from a cloth."""
    if cloth == MAIN_CLOTH or before.pieces is made.pieces:
        return made
    there = {piece.name for piece in before.pieces}
    return made.with_(pieces=[replace(piece, cloth=cloth) for piece in made.pieces if piece.name not in there])


def cut_named_pieces(garment: Garment, job: Job) -> Garment:
    """Return a garment whose pieces that the ticket names are cut from the cloths that it names for them."""
    named = ((each.cloth, piece) for each in _once(job) for piece in _find_named(each, garment))
    cut = [replace(piece, cloth=cloth) for cloth, piece in named if piece.cloth != cloth]
    return garment.with_(pieces=cut) if cut else garment


def _once(job: Job) -> list[CutFrom]:
    """What is cut from a cloth, and not once more."""
    return [each for each in job.cut_from if not each.again]


def cut_pieces_again(before: Garment, made: Garment, planned: Planned, job: Job) -> Garment:
    """Return a garment that knows which pieces are cut once more, and from what: those of the step, and those named."""
    there = {piece.name for piece in before.pieces}
    cut = []
    for piece in made.pieces if any(each.again for each in job.cut_from) else ():
        of = (planned.label, planned.step.name) if planned.is_block and piece.name not in there else ()
        names = (piece.name, _without_side(piece), *of)
        more = dict.fromkeys(each.cloth for each in job.cut_from if each.again and each.is_called(*names))
        new = [cloth for cloth in more if cloth not in piece.again]
        if new:
            notes = (note_again(cloth) for cloth in new)
            cut.append(replace(piece, again=(*piece.again, *new), notes=(*piece.notes, *notes)))
    return made.with_(pieces=cut) if cut else made


def _find_named(each: CutFrom, garment: Garment) -> Iterator[Piece]:
    return (piece for piece in garment.pieces if each.is_called(piece.name, _without_side(piece)))


def _without_side(piece: Piece) -> str:
    return piece.name.removesuffix(f"-{piece.side}") if piece.side is not Side.NONE else piece.name


def refuse_unknown(job: Job, garment: Garment) -> None:
    """Refuse what a cloth is to be cut for that is neither a block nor a piece of any garment here (InputError).

    A block that is installed and that this garment hasn't is no slip: a ticket may build on one that had it.
    """
    names = {name for planned in job.steps if planned.is_block for name in (planned.label, planned.step.name)}
    pieces = {name for piece in garment.pieces for name in (piece.name, _without_side(piece))}
    problems = []
    for each in job.cut_from:
        if not each.is_called(*names, *pieces, *job.known_blocks):
            allowed = f"a block ({', '.join(sorted(names))}) or a piece ({', '.join(sorted(pieces))})"
            close = close_matches(each.name, (*names, *pieces))
            problems.append(Problem(each.where, f"{show_read(each.name)} names nothing here", allowed, "", close))
        problems += [
            Problem(each.where, f"{show_read(piece.name)} is cut from {show_read(each.cloth)} already", "another cloth")
            for piece in garment.pieces
            if each.again and each.cloth == piece.cloth and each.cloth in piece.again
        ]
    if problems:
        raise InputError(problems)
