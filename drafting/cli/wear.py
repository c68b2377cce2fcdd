"""The command ``wear``: the garment draped on a body of the wearer's measurements, before cloth is cut."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from drafting.cli.app import examples
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, NOT_PROVEN, Progress, print_lines, print_note, print_table, wrap_text
from drafting.cli.wear_words import ask_for_more, tell_doubts, tell_grey, tell_unproven
from drafting.cli.work import DEMO, FROM, WEAR, find_stripes, run_ticket, settle_read, ticket_or_demo
from drafting.cli.worn_picture import SMALL
from drafting.text import printable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from drafting.cloth import Cloth
    from drafting.job import Result
    from drafting.proof.words.fitting_folds import Fold
    from drafting.ticket import Job
    from drafting.worn.telling import Document

PICTURE: Final = "worn.png"
MODEL: Final = "worn.glb"
LINES: Final = "worn.svg"
FIGURES: Final = "worn.json"
BOTH: Final = "before-and-after.png"
INSTEAD: Final = "for a drawing of it see flat.svg, which this writes: blockwright make"
"""The mend for what can't be draped."""
NEEDED: Final = ("numba", "scipy")
"""The packages of the extra that drapes."""
LARGEST: Final = 100_000
"""Bytes at most of the figures that are kept."""


@click.command(
    "wear",
    epilog=examples(
        "blockwright wear alto.toml",
        "blockwright wear alto.toml --out alto-worn",
        "blockwright wear alto-full-bust.toml --before alto.toml",
    ),
)
@click.argument("ticket", type=click.Path(path_type=Path), required=False)
@DEMO
@FROM
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="The folder for the picture and its figures; TICKET-worn if nothing is named.",
)
@click.option(
    "--before",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="TICKET",
    help="The same wearer's ticket as it was before a change: both are draped and shown in one picture, "
    "before-and-after.png, and what differs is told.",
)
@click.option("--again", is_flag=True, help="Drape it again though nothing has changed since the last time.")
def command(
    ticket: Path | None, demo: bool, folders: tuple[Path, ...], out: Path | None, before: Path | None, again: bool
) -> int:
    """Drape the garment of TICKET on a body of the wearer's measurements, and show it.

    Writes worn.png: the garment on a dress form of that body, from the front, the side, the back and three quarters,
    and beneath how much of its stretch the cloth gives, in greys; worn.svg, the same views
    in lines; worn.glb, a model to be turned in a viewer; and
    worn-small.png, which the booklet shows that is made of the same draft after this. Stripes lie as they will be cut.
    Tells how far the cloth is stretched at bust, waist and hip. Takes half a minute, with --before a whole one, the
    first time longer. Zips and buttons are draped closed.

    Ends with status 1 if the garment isn't proven, or the drape is void: a seam that stayed open, an arm outside its
    armhole, cloth through the body.
    """
    asked = ticket_or_demo(ticket, demo)
    refuse_without_packages()
    folder = out if out is not None else Path(f"{asked.stem}-worn")
    from drafting.folder import refuse_foreign, refuse_place

    refuse_place(folder)
    refuse_foreign(folder, (PICTURE, SMALL, LINES, MODEL, FIGURES, BOTH), (WEAR,))
    if before is not None:
        from drafting.cli.wear_both import wear_both

        return wear_both(before, asked, folders, folder)
    result = run_ticket(asked, folders=folders, print_it=False)
    document = None if again else _read_kept(folder, name_result(result), result.job.mark)
    if document is None:
        document = _drape(result, folder)
    with after_writing("the picture", folder / PICTURE):
        for sentence in tell_unproven(result, asked):
            print_lines(wrap_text(sentence, "", ""))
        more = (*tell_doubts(result, asked), *tell_grey(result, cloths_of(result.job)))
        _print_worn(document, folder / PICTURE, more)
    return NOT_PROVEN if document["voids"] or not result.proof.passed else MADE


def refuse_without_packages() -> None:
    """Refuse to drape where the extra isn't installed (InputError)."""
    import importlib.util

    from drafting.errors import InputError, Problem, install_words

    lacking = [name for name in NEEDED if importlib.util.find_spec(name) is None]
    if lacking:
        raise InputError([Problem("", f"draping needs {' and '.join(lacking)}", mend=install_words("worn"))])


def _read_kept(folder: Path, drape: str, mark: str) -> Document | None:
    """What was kept of this very garment on this very body; None where there is nothing, or it is of another draft."""
    import json

    from drafting.folder.ours import is_own
    from drafting.seal import SEAL_WITHIN, read_seal
    from drafting.ticket.ordinary import read_ordinary

    if not folder.is_dir():
        return None
    settle_read(folder)
    if not all(is_own(folder / name, (WEAR,)) for name in (PICTURE, LINES, MODEL, FIGURES)):
        return None
    data = read_ordinary(folder / FIGURES, LARGEST)
    document: Document = json.loads(data)
    seal = read_seal(data[:SEAL_WITHIN])
    return document if document.get("drape") == drape and seal is not None and seal.draft == mark else None


def cloths_of(job: Job) -> dict[str, Cloth]:
    """Return the cloths of a job by name."""
    from drafting.garment.model import MAIN_CLOTH

    return {MAIN_CLOTH: job.brief.cloth, **job.brief.cloths}


def name_result(result: Result) -> str:
    """Return the name of a result's drape: garments share it only if they hang alike."""
    from drafting.worn.telling import name_drape

    return name_drape(result.garment, result.job.brief.body, cloths_of(result.job))


def _drape(result: Result, folder: Path) -> Document:
    from drafting.errors import InputError, Problem
    from drafting.folder import write_files
    from drafting.output.worn_svg import worn_svg
    from drafting.saying import render
    from drafting.seal import seal_file
    from drafting.worn.dressing import dress_body
    from drafting.worn.figures import take_figures
    from drafting.worn.form import make_form
    from drafting.worn.mesh import CannotWear
    from drafting.worn.model import write_glb
    from drafting.worn.picture import write_png
    from drafting.worn.scenes import SMALL_DOTS, frame_views, name_views, outline_worn, paint_looks, paint_worn
    from drafting.worn.telling import worn_document, write_document

    job, progress = result.job, Progress()
    cloths = cloths_of(job)
    try:
        worn = dress_body(result.garment, job.brief.body, cloths, progress)
        progress("painting")
        figures = take_figures(worn, job.brief.body, cloths)
        document = worn_document(worn, figures, job.unit, name_result(result), folds_of(result))
        striped = find_stripes(result)
        form = make_form(worn)
        void = bool(document["voids"])
        shown = {
            PICTURE: write_png(paint_worn(worn, cloths, striped, void=void)),
            MODEL: write_glb(worn, cloths, striped, void=void),
        }
        lines = worn_svg(outline_worn(worn, form), frame_views(worn, form), job.title, "VOID" * void, name_views(worn))
        shown[LINES] = lines.encode()
        if not void:
            shown[SMALL] = write_png(paint_looks(worn, form, cloths, striped, SMALL_DOTS))
    except CannotWear as error:
        raise InputError([Problem("", render(error.reason, job.unit), mend=INSTEAD)]) from None
    finally:
        progress.clear()
    made = {**shown, FIGURES: write_document(document)}
    write_files(
        folder, {name: seal_file(data, WEAR, job.mark) for name, data in made.items()}, print_note, WEAR, drop=(SMALL,)
    )
    return document


def folds_of(result: Result) -> Sequence[Fold]:
    """Return what the fitting sheet of a garment looks for, and what answers it: more, where that is asked for."""
    from dataclasses import replace

    from drafting.proof import Severity
    from drafting.proof.words.fitting import fitting_sheet
    from drafting.worn.answers import WARNED_OF

    job = result.job
    asked = {step.step.name: by for step in job.steps if isinstance(by := getattr(step.options, "by", None), float)}
    warned = {WARNED_OF[each.code] for each in result.proof.of(Severity.WARNING) if each.code in WARNED_OF}
    folds = fitting_sheet(result.garment, job.brief, job.advise).folds
    folds = tuple(replace(fold, warned=fold.situation in warned) for fold in folds)
    return ask_for_more(folds, asked, job.unit)


def _print_worn(document: Document, picture: Path, more: Sequence[str]) -> None:
    from drafting.worn.telling import HEAD, level_rows, tell_worn

    if level_rows(document):
        print_table(level_rows(document), head=HEAD)
    for sentence in (*tell_worn(document), *more):
        print_lines(wrap_text(sentence, "", ""))
    print_lines(f"The picture is {printable(str(picture))}; beside it is {MODEL}, a model to be turned in a viewer.")
