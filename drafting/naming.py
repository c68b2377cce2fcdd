"""What pieces are called beside an earlier draft: letters, notches' numbers, draft mark; and what stays in print."""

from __future__ import annotations

from dataclasses import replace

from drafting.finishing import (
    EarlierDraft,
    Printed,
    call_notches,
    keep_codes,
    keep_letters,
    keep_numbers,
    record_print,
)
from drafting.finishing.cutpiece import CutPiece
from drafting.finishing.growth import grow_pieces
from drafting.finishing.labels import mark_labels
from drafting.finishing.marks import mitre_numbers, mitre_words
from drafting.garment import Garment, balance_marks
from drafting.ticket.job import Job
from drafting.ticket.mark import mark_job


def keep_names(
    job: Job, garment: Garment, cut: tuple[CutPiece, ...], earlier: EarlierDraft
) -> tuple[Job, Garment, tuple[CutPiece, ...]]:
    """Return the pieces, and the garment, with the letters and notches' numbers that they have on an earlier draft.

    Where these aren't those that they have by themselves, the job that they are of has a mark of its own.
    """
    if not earlier.prints:
        return job, garment, cut
    prints = [record_print(piece, job.paper.scale) for piece in grow_pieces(cut, job.brief)]
    kept = keep_codes(cut, keep_letters(prints, earlier))
    own = {mark.number for mark in garment.find_once(balance_marks)}
    called = keep_numbers(prints, own, earlier)
    others = [(str(number), str(new)) for number, new in sorted(called.items()) if number != new]
    if not others and [piece.code for piece in kept] == [piece.code for piece in cut]:
        return job, garment, cut
    marked = mark_job(job, (*((piece.name, piece.code) for piece in kept), *others))
    told = (replace(each, labels=mark_labels(each.labels, job.mark, marked.mark)) for each in kept)
    numbered = replace(garment, notch_numbers=tuple(sorted(called.items())))
    return marked, numbered, tuple(_tell_anew(call_notches(piece, called), garment, numbered) for piece in told)


def _tell_anew(piece: CutPiece, before: Garment, numbered: Garment) -> CutPiece:
    """A piece whose labels name other pieces' notches by the numbers that these have now."""
    if not piece.tells:
        return piece
    name = piece.stands_for[0]
    new = dict(zip(mitre_words(before, name), mitre_words(numbered, name), strict=True))
    labels = tuple(new.get(label, label) for label in piece.labels)
    return replace(piece, labels=labels, tells=mitre_numbers(numbered, name))


def standing_print(printed: Printed, earlier: EarlierDraft, some_serve: bool) -> Printed:
    """The earlier print where it may still be used, so that small moves of many drafts never add up unseen.

    Where only some serve, the others are asked for apart.
    """
    serving = earlier.find_print(printed)
    if serving is not None and earlier.serves_for(printed):
        if serving.one_of_pair:
            return replace(printed, numbers=serving.numbers, asked=False)
        return replace(serving.printed, asked=False)
    return replace(printed, asked=some_serve)
