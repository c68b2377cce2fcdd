"""What several commands share: reading a ticket, running its job, and the words for the options they have in common."""

from __future__ import annotations

import functools
import os
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

import click

from drafting.cli.terminal import Progress, print_note

if TYPE_CHECKING:
    from drafting.finishing import EarlierDraft
    from drafting.flat import FlatView
    from drafting.job import Result
    from drafting.lay.plan import PlacedStripes
    from drafting.ticket import Catalogue

TICKET = click.argument("ticket", type=click.Path(path_type=Path), required=False)
DEMO = click.option("--demo", is_flag=True, help="Use the demo's ticket: an alto's top with a diagonal overlay.")
FROM = click.option(
    "--from",
    "folders",
    multiple=True,
    type=click.Path(path_type=Path, file_okay=False, exists=True),
    metavar="FOLDER",
    help="A folder that TICKET may build on, besides its own and those below it; may be given again.",
)
DEMO_NAME = "alto"
LARGEST_PROOF = 1_000_000
"""Bytes at most of an earlier draft's proof: those of the catalogue have 35 to 70 kB."""

_PROOF = f"an earlier draft's proof.json, of at most {LARGEST_PROOF // 1000} kB"
MAKE, LAY, PROVE, SCHEMA, LIST, WEAR = "make", "lay", "prove", "schema", "list", "wear"
"""The commands that make files, as the seals of those name them."""


def ticket_or_demo(ticket: Path | None, demo: bool) -> Path:
    """Return the ticket asked for; a usage error if there is none, or both a ticket and the demo."""
    if demo and ticket is not None:
        raise click.UsageError("Name a ticket or give --demo, not both.")
    if ticket is not None:
        return ticket
    if not demo:
        raise click.UsageError("Name a ticket, or give --demo. (A ticket is written with: blockwright new)")
    demos = _catalogue().demos
    if DEMO_NAME not in demos:
        raise click.UsageError("The demo isn't installed. Is the package installed whole?")
    return demos[DEMO_NAME]


def run_ticket(
    ticket: Path,
    *,
    folders: tuple[Path, ...] = (),
    paper: Mapping[str, str] = MappingProxyType({}),
    anyway: bool = False,
    since: Path | None = None,
    over: Path | None = None,
    print_it: bool = True,
) -> Result:
    """Read a ticket and run its job, telling what is being done.

    ``folders`` are those it may build on besides its own; ``paper`` stands over the ticket's [paper], key by key;
    ``since`` is an earlier draft's folder or proof, ``over`` the folder that will be written.
    """
    settle_read(ticket.parent)
    progress = Progress()
    progress("reading the ticket")
    try:
        from drafting.job import run
        from drafting.ticket import read_job

        job = read_job(ticket, _catalogue(), paper=paper, folders=folders)
        earlier = earlier_draft(since, over) if since is not None else None
        return run(job, anyway=anyway, since=earlier, lay=print_it, telling=progress)
    finally:
        progress.clear()


@functools.cache
def _catalogue() -> Catalogue:
    """What is installed doesn't change within a run."""
    from drafting.ticket import find_catalogue

    return find_catalogue()


def draw_views(result: Result) -> tuple[FlatView, ...]:
    """Draw the garment of a result, front and back, and dotted what of an earlier draft's outline lies off it."""
    from drafting.finishing.allowance import hem_depths
    from drafting.flat import draw_flat, lay_over
    from drafting.garment.model import MAIN_CLOTH

    job = result.job
    hems, brief = hem_depths(result.garment, job.finish), job.brief
    cloths = {MAIN_CLOTH: brief.cloth, **brief.cloths}
    tints = {name: cloth.tint for name, cloth in cloths.items() if cloth.tint is not None}
    views = draw_flat(result.garment, brief.body, hems, find_stripes(result), tints)
    return lay_over(views, result.before) if result.before else views


def find_stripes(result: Result) -> Mapping[str, PlacedStripes]:
    """Return how stripes lie on the pieces as the cutting plan places them; nothing where no cloth has any."""
    brief = result.job.brief
    if not any(cloth.stripe for cloth in (brief.cloth, *brief.cloths.values())):
        return {}
    from drafting.lay import place_stripes

    return place_stripes(result.garment, result.cut, brief)


def document_of(result: Result, views: Sequence[FlatView] = ()) -> str:
    """Return the text of proof.json for a result; ``views`` are those of its flat, where it is drawn already."""
    import json

    from drafting.flat import outline_views
    from drafting.proof import AsPrinted, proof_document
    from drafting.seal import seal_file

    job = result.job
    flat = outline_views(views or draw_views(result))
    document = proof_document(
        result.proof,
        title=job.title,
        mark=job.mark,
        unit=job.unit,
        printed=AsPrinted(result.prints, job.paper.tell(), flat),
        measured=job.sources.measured,
        left_behind=job.sources.left_behind,
    )
    text = json.dumps(document, indent=2, ensure_ascii=False) + "\n"
    return seal_file(text.encode(), MAKE, job.mark).decode()


def fitting_file(result: Result, command: str) -> bytes:
    """Return a result's fitting sheet as a PDF, made by a command."""
    from drafting.output import PrintInfo
    from drafting.output.pages.fitting_page import fitting_pdf
    from drafting.proof.words.fitting import fitting_sheet
    from drafting.seal import seal_file

    job = result.job
    info = PrintInfo(job.title, job.wearer, job.mark, unit=job.unit)
    sheet = fitting_sheet(result.garment, job.brief, job.advise)
    return seal_file(fitting_pdf(sheet, info, job.paper), command, job.mark)


def settle_read(folder: Path) -> None:
    """Finish what a run that was killed left undone in a folder that is read, before it is read."""
    from drafting.seal import WORKING

    if os.path.lexists(folder / WORKING):
        from drafting.folder import settle_folder

        settle_folder(folder, print_note)


def write_file(file: Path, data: bytes, command: str) -> None:
    """Write one file, sealed, over none but one of the same command."""
    from drafting.folder import write_files

    write_files(file.parent, {file.name: data}, print_note, command)


def refuse_file(file: Path, command: str, suffix: str = ".pdf") -> None:
    """Refuse, before the work is done, a file to write that isn't named as its kind, or stands there as another's."""
    from drafting.folder import refuse_foreign, refuse_place

    if file.suffix.lower() != suffix:
        raise click.UsageError("Name with --out a FILE that ends in .pdf.")
    refuse_place(file.parent)
    refuse_foreign(file.parent, [file.name], (command,))


def earlier_draft(earlier: Path, over: Path | None = None, option: str = "--since") -> EarlierDraft:
    """Return an earlier draft, as it was printed, read from its folder or its proof.json, which ``option`` names.

    Where that folder is written ``over``, its changed.pdf goes: the pieces that it asked for are asked for once more,
    as no print of them serves; and its flat goes, so that nothing is dotted by it.
    InputError where there is none, or it isn't one that this program wrote.
    """
    import json

    from drafting.errors import InputError, Problem
    from drafting.finishing import EarlierDraft
    from drafting.proof import read_flat, read_prints
    from drafting.ticket.ordinary import OddFile, read_ordinary

    is_folder = earlier.is_dir()
    path = earlier / "proof.json" if is_folder else earlier
    settle_read(path.parent)
    mend = "name the folder of an earlier draft, or the proof.json in it"
    try:
        document = json.loads(read_ordinary(path, LARGEST_PROOF))
        prints = read_prints(document)
        flat = read_flat(document)
        mark, paper = str(document.get("mark", "")), str(document.get("paper", ""))
    except OddFile as odd:
        raise InputError([Problem(f"{option} {path}", odd.read, _PROOF, mend)]) from None
    except OSError as error:
        missing = f"there is no earlier draft ({path.name}) in this folder" if is_folder else "there is no such folder"
        read = missing if isinstance(error, FileNotFoundError) else error.strerror
        raise InputError([Problem(f"{option} {earlier}", read or "can't be read", mend=mend)]) from None
    except (ValueError, TypeError, KeyError, RecursionError):
        raise InputError([Problem(f"{option} {path}", "isn't the proof of an earlier draft", mend=mend)]) from None
    again = over is not None and os.path.realpath(over) == os.path.realpath(path.parent)
    unprinted = frozenset(each.name for each in prints if again and each.asked)
    return EarlierDraft({each.name: each for each in prints}, mark, paper, {} if again else flat, unprinted)


def letter_as_printed(result: Result, ticket: Path, named: Path | None) -> Result:
    """Return a result with the letters that its pattern was printed with, where --since gave it an earlier one's.

    They are in the pattern's folder, the one ``named`` or that which "make" writes; a pattern of another draft there
    changes nothing, and is told of: its paper and this plan don't belong together.
    """
    from drafting.errors import InputError
    from drafting.naming import keep_names

    folder = named if named is not None else Path(f"{ticket.stem}-pattern")
    if named is None and not folder.is_dir():
        beside = ticket.parent / folder.name
        if beside.is_dir():
            print_note(f"the pieces' letters aren't those of the pattern beside the ticket: add --pattern {beside}.")
        return result
    try:
        printed = earlier_draft(folder, option="--pattern")
    except InputError:
        if named is None:
            return result
        raise
    job, garment, cut = keep_names(result.job, result.garment, result.cut, printed)
    if job.mark != printed.mark:
        own, mend = result.job.mark, "cut by neither before the pattern is made anew"
        print_note(f"{folder} has draft mark {printed.mark}, and this plan is of draft mark {own}: {mend}.")
        return result
    return replace(result, job=job, garment=garment, cut=cut)
