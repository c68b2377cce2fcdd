"""A garment before and after a change, draped on one body, in one picture: what ``wear --before`` does."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, NOT_PROVEN, Progress, print_lines, print_note, print_table, wrap_text
from drafting.cli.wear import BOTH, INSTEAD, cloths_of, folds_of, name_result
from drafting.cli.wear_words import tell_grey, tell_unproven
from drafting.cli.work import WEAR, find_stripes, run_ticket
from drafting.text import printable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from drafting.job import Result
    from drafting.worn.figures import WornFigures
    from drafting.worn.scenes import Draped


def wear_both(before: Path, after: Path, folders: tuple[Path, ...], folder: Path) -> int:
    """Drape the garments of two tickets of one wearer, show them in one picture, and tell what differs.

    InputError where their bodies differ; the status is 1, and no difference is told, where one of the drapes is void.
    """
    from drafting.errors import InputError, Problem
    from drafting.folder import write_files
    from drafting.saying import render
    from drafting.seal import seal_file
    from drafting.worn.comparing import HEAD_OF_BOTH, compare_rows, tell_changes
    from drafting.worn.figures import take_figures
    from drafting.worn.picture import write_png
    from drafting.worn.scenes import paint_beside
    from drafting.worn.soundness import find_voids
    from drafting.worn.telling import VOID_HELP

    results = [run_ticket(each, folders=folders, print_it=False) for each in (before, after)]
    one, other = (result.job.brief.body for result in results)
    if one.values != other.values or one.rules != other.rules:
        says, mend = "its wearer has other measurements", "name the same wearer's ticket, without the change"
        raise InputError([Problem(printable(str(before)), says, mend=mend)])
    for result, each in zip(results, (before, after), strict=True):
        _refuse_early(result, each)
    if name_result(results[0]) == name_result(results[1]):
        says, mend = f"makes the same garment as {printable(str(after))}", "name the ticket as it was before a change"
        raise InputError([Problem(printable(str(before)), says, mend=mend)])
    names = ("before", "after")
    drapes = {name: _drape_one(result, name) for name, result in zip(names, results, strict=True)}
    job = results[1].job
    voids = [(name, render(words, job.unit)) for name in names for words in find_voids(drapes[name].worn)]
    drapes = {name: replace(each, void=any(name == void for void, _ in voids)) for name, each in drapes.items()}
    write_files(folder, {BOTH: seal_file(write_png(paint_beside(drapes)), WEAR, job.mark)}, print_note, WEAR)
    then, now = (take_figures(each.worn, other, each.cloths) for each in drapes.values())
    with after_writing("the picture", folder / BOTH):
        if not voids:
            print_table(list(compare_rows(then, now, job.unit)), head=HEAD_OF_BOTH)
        told = [each for pair in zip(results, (before, after), strict=True) for each in tell_unproven(*pair)]
        told += [f"The drape {name} is void: {words}. Don't judge the fit by it." for name, words in voids]
        if not voids:
            told += [*_tell_answers(results, (then, now)), *(render(w, job.unit) for w in tell_changes(then, now))]
        else:
            told.append(VOID_HELP)
        told += [*dict.fromkeys(each for r in results for each in tell_grey(r, cloths_of(r.job)))]
        for sentence in told:
            print_lines(wrap_text(sentence, "", ""))
        print_lines(f"The picture is {printable(str(folder / BOTH))}.")
    return NOT_PROVEN if voids or not all(result.proof.passed for result in results) else MADE


def _refuse_early(result: Result, ticket: Path) -> None:
    """Refuse what can't be draped, by its ticket, before anything is (InputError)."""
    from drafting.errors import InputError, Problem
    from drafting.saying import render
    from drafting.worn.mesh import CannotWear
    from drafting.worn.placing import sort_pieces

    try:
        sort_pieces(result.garment)
    except CannotWear as error:
        where = printable(str(ticket))
        raise InputError([Problem(where, render(error.reason, result.job.unit), mend=INSTEAD)]) from None


def _tell_answers(results: Sequence[Result], figures: Sequence[WornFigures]) -> Iterator[str]:
    """Yield what a fitter sees of each, and where the change was its answer, that nothing is seen any more."""
    from drafting.saying import mm, render, say
    from drafting.worn.answers import answer_folds
    from drafting.worn.figures import LIES_OFF, WELL_BEYOND

    before, after = ([render(words, result.job.unit) for words in answer_folds(each, folds_of(result))]
                     for result, each in zip(results, figures, strict=True))  # fmt: skip
    yield from (f"Before: {words}" for words in before)
    yield from (f"After: {words}" for words in after)
    if before and not after:
        yield "After: none of these folds shows any more."
    rises = [each.front_rises for each in figures]
    if abs(rises[1]) > WELL_BEYOND * LIES_OFF:
        by = render(say("{by}", by=mm(abs(rises[1]))), results[1].job.unit)
        yield f"After: the hem still rises {by} {'in front' if rises[1] > 0.0 else 'behind'}, though it isn't cut so."


def _drape_one(result: Result, name: str) -> Draped:
    from drafting.errors import InputError, Problem
    from drafting.saying import render
    from drafting.worn.dressing import dress_body
    from drafting.worn.mesh import CannotWear
    from drafting.worn.scenes import Draped

    job, progress = result.job, Progress()
    cloths = cloths_of(job)
    try:
        worn = dress_body(result.garment, job.brief.body, cloths, lambda words: progress(f"{name}: {words}"))
    except CannotWear as error:
        raise InputError([Problem("", render(error.reason, job.unit), mend=INSTEAD)]) from None
    finally:
        progress.clear()
    return Draped(worn, cloths, find_stripes(result))
