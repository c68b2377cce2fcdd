"""The command ``make``: from a ticket to a pattern in a folder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from drafting.cli.app import examples
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, NOT_PROVEN, Progress
from drafting.cli.work import DEMO, FROM, TICKET, document_of, run_ticket, ticket_or_demo
from drafting.saying import render
from drafting.units import show_share

if TYPE_CHECKING:
    from drafting.cli.folder import Making
    from drafting.job import Result
    from drafting.output import Cover, Drawing, PrintInfo
    from drafting.paper import SheetPlan

PATTERN, SHEET, DRAWING, PROOF, FITTING = "pattern.pdf", "sheet.pdf", "pattern.svg", "proof.json", "fitting.pdf"


@click.command(
    "make",
    epilog=examples(
        "blockwright make alto.toml",
        "blockwright make --demo --out demo",
        "blockwright make alto.toml --paper 'US Letter'",
        "blockwright make alto.toml --paper '60 x 90 cm'",
        "blockwright make alto-2.toml --since alto-pattern",
    ),
)
@TICKET
@DEMO
@FROM
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="The folder to write into; if not named, TICKET's name with -pattern, in the current folder.",
)
@click.option(
    "--paper",
    default="",
    metavar="SIZE",
    help="The paper in the printer, over what the ticket says: A4, 'US Letter', ...",
)
@click.option(
    "--since",
    type=click.Path(path_type=Path),
    metavar="EARLIER",
    help="Print only the pieces that differ from an earlier draft: its folder, or the proof.json in it.",
)
@click.option("--anyway", is_flag=True, help="Print the pattern even if its proof fails.")
def command(
    ticket: Path | None,
    demo: bool,
    folders: tuple[Path, ...],
    out: Path | None,
    paper: str,
    since: Path | None,
    anyway: bool,
) -> int:
    """Draft TICKET, prove it, and write its pattern into a folder.

    Writes pattern.pdf (pages for a home printer), sheet.pdf (one sheet, true size), pattern.svg and proof.json; for a
    garment of woven cloth or with darts, which is tried on as a toile first, fitting.pdf too.
    A draft that isn't proven prints no pattern; what is wrong and what would mend it is shown, and the status is 1.
    """
    from drafting.cli.summary import print_made, print_unchanged, print_unproven

    asked = ticket_or_demo(ticket, demo)
    result = run_ticket(asked, folders=folders, paper=paper, anyway=anyway, since=since)
    if result.same and len(result.same) == len(result.cut) and (result.proof.passed or anyway):
        print_unchanged(result, str(since))
        return MADE if result.proof.passed else NOT_PROVEN
    if result.sheet is None:
        print_unproven(result, ticket_name="--demo" if demo else str(asked))
        return NOT_PROVEN
    folder = out if out is not None else Path(f"{asked.stem}-pattern")
    told, starts = _write_pattern(result, result.sheet, folder, copy=asked if demo else None)
    with after_writing("the pattern", folder):
        print_made(result, result.sheet, folder, told, starts)
    return MADE if result.proof.passed else NOT_PROVEN


def _write_pattern(result: Result, sheet: SheetPlan, folder: Path, copy: Path | None) -> tuple[tuple[str, ...], int]:
    """Write all files together; return what is worth knowing of the drawing, and how many start pages there are.

    The demo's ticket too, unless one of its name, perhaps altered, is there already.
    """
    from drafting.cli.folder import write_together
    from drafting.output import PrintInfo, draw_sheet, plan_cover, remarks
    from drafting.proof import print_proof

    job = result.job
    sections = print_proof(result.proof, result.garment, job.unit)
    warning = "" if result.proof.passed else "NOT PROVEN: see proof.json before you cut."
    info = PrintInfo(job.title, job.wearer, job.mark, _start_page(result), sections, job.unit, warning)
    drawing = draw_sheet(sheet, info)
    told = remarks(sheet, info, drawing)
    info = replace(info, lines=(*info.lines, *told))
    cover = plan_cover(sheet, info, drawing)
    files = dict(_files(result, sheet, info, drawing, cover))
    if copy is not None and not (folder / copy.name).exists():
        files[copy.name] = copy.read_bytes
    progress = Progress()
    progress("writing the pages")
    try:
        write_together(folder, files)
    finally:
        progress.clear()
    return told, len(cover.pages)


def _files(result: Result, sheet: SheetPlan, info: PrintInfo, drawing: Drawing, cover: Cover) -> Mapping[str, Making]:
    from drafting.cli.work import fitting_file
    from drafting.output import pattern_pdf, sheet_pdf, svg
    from drafting.proof.checks.given import wants_toile

    files: dict[str, Making] = {
        PATTERN: lambda: pattern_pdf(sheet, info, drawing, cover),
        SHEET: lambda: sheet_pdf(sheet, info, drawing),
        DRAWING: lambda: svg(info, drawing).encode(),
        PROOF: lambda: document_of(result).encode(),
    }
    if wants_toile(result.garment, result.job.brief):
        files[FITTING] = lambda: fitting_file(result)
    return files


def _start_page(result: Result) -> tuple[str, ...]:
    """Return what the start page says of the job beside its title: what is unchanged, fit, cloths, estimates."""
    brief = result.job.brief
    cloth = f"Cloth: {brief.cloth.name}, stretch {show_share(brief.cloth.stretch_across)}."
    trim = f"Bands: {brief.trim.name}, stretch {show_share(brief.trim.stretch_across)}."
    kept = ", ".join(f"{piece.code} {piece.title}" for piece in result.same)
    unchanged = (f"Unchanged since the earlier draft, so not printed again: {kept}.",) if kept else ()
    from drafting.cli.summary import used_estimates
    from drafting.proof.checks.cloth import CUTTING

    notes = tuple(
        f"{render(each.sentence, result.job.unit)}." for each in result.proof.findings if each.code == CUTTING
    )
    used = ", ".join(name.replace("_", " ") for name in used_estimates(result))
    guessed = (f"Estimated, for want of a measurement: {used}.",) if used else ()
    return (
        *unchanged,
        f"Fit: {brief.fit}.",
        cloth,
        *([trim] if brief.trim is not brief.cloth else []),
        *notes,
        *result.job.sources.sentences(),
        *guessed,
    )
