"""The files of a pattern: drafted, proven, drawn on pages and written into a folder together."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from drafting.cli.terminal import Progress, print_note
from drafting.cli.work import MAKE, PROVE, document_of, draw_views, fitting_file, run_ticket, settle_read
from drafting.cli.worn_picture import find_picture
from drafting.record import dataclass
from drafting.saying import render

if TYPE_CHECKING:
    from drafting.cli.summary import Made
    from drafting.finishing.cutpiece import CutPiece
    from drafting.flat import FlatView
    from drafting.folder import Older
    from drafting.job import Result
    from drafting.output import Cover, Drawing, PrintInfo
    from drafting.output.painted import PaintedPicture
    from drafting.paper import SheetPlan, WidePlan

PATTERN, SHEET, DRAWING, FLAT, PROOF = "pattern.pdf", "sheet.pdf", "pattern.svg", "flat.svg", "proof.json"
BOOKLET, BOOKLET_PAGE = "booklet.pdf", "booklet.html"
FITTING, CHANGED, PROJECTOR, DXF = "fitting.pdf", "changed.pdf", "projector.pdf", "pattern.dxf"
"""The files of a pattern: the first seven always, the others where there is something to try on, or to print anew."""


@dataclass(frozen=True, slots=True, eq=False)
class HowToMake:
    """The options that tell how to make a pattern; ``paper`` stands over the ticket's [paper], key by key."""

    folders: tuple[Path, ...]
    paper: Mapping[str, str]
    since: Path | None = None
    anyway: bool = False
    dxf: bool = False
    demo: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class SetPages:
    """A sheet, drawn, with its start pages set; ``told`` is what is worth knowing of the drawing."""

    sheet: SheetPlan
    info: PrintInfo
    drawing: Drawing
    cover: Cover
    told: tuple[str, ...]


def folder_of(ticket: Path) -> Path:
    """Return the folder that a ticket's pattern is written into where none is named."""
    return Path(f"{ticket.stem}-pattern")


def make_pattern(asked: Path, folder: Path, how: HowToMake) -> tuple[Result, Made | None]:
    """Draft and prove a ticket, and write its pattern; nothing is made where it isn't proven, or is there already."""
    from drafting.cli.summary import Made

    result = run_ticket(asked, folders=how.folders, paper=how.paper, anyway=how.anyway, since=how.since, over=folder)
    if result.sheet is None:
        return result, None
    progress = Progress()
    progress("writing the pages")
    try:
        flat = draw_views(result)
        pattern = set_pages(result, result.sheet, flat)
        changed = set_pages(result, result.changed, flat, result.same) if result.changed is not None else None
        wide = _lay_wide(result)
        worn = find_picture((folder, Path(f"{asked.stem}-worn")), result.job.mark)
        files = _files(result, pattern, changed, wide, worn)
        if how.dxf:
            files[DXF] = _dxf_file(result, pattern)
        if how.since is not None and _holds(folder, files):
            return result, None
        older = _write_pattern(result, folder, files, copy=asked if how.demo else None)
    finally:
        progress.clear()
    return result, Made(folder, tuple(files), pattern, changed, how.since is not None, older, wide)


def _write_pattern(result: Result, folder: Path, files: dict[str, bytes], copy: Path | None) -> tuple[Older, ...]:
    """Write all files together; return what else lies in the folder that is of another draft.

    The demo's ticket too, unless one of its name, perhaps altered, is there already.
    """
    from drafting.folder import find_older, write_files

    more = {copy.name: copy.read_bytes()} if copy is not None and not os.path.lexists(folder / copy.name) else {}
    write_files(folder, files | more, print_note, MAKE, over=(PROVE,), drop=(FITTING, CHANGED, PROJECTOR, DXF))
    return find_older(folder, result.job.mark, MAKE)


def set_pages(result: Result, sheet: SheetPlan, flat: tuple[FlatView, ...], kept: Sequence[CutPiece] = ()) -> SetPages:
    """Draw a sheet and set its start pages, with the garment's ``flat`` on them.

    ``kept`` are the pieces that it leaves out, as their earlier print serves. Every page says so then, lest one be
    taken for a page of the whole pattern.
    """
    from drafting.output import PrintInfo, draw_sheet, plan_cover, remarks
    from drafting.proof import print_proof, print_warnings

    job = result.job
    sections = (*print_warnings(result.proof, job.unit), *print_proof(result.proof, job.unit, short=True))
    warning = "" if result.proof.passed else "NOT PROVEN: see proof.json before you cut."
    lines = (*_say_unchanged(result, kept), *_start_page(result))
    title = f"Changed pieces: {job.title}" if kept else job.title
    info = PrintInfo(title, job.wearer, job.mark, lines, sections, job.unit, warning, flat, job.brief.body.called)
    drawing = draw_sheet(sheet, info, result.drawn)
    told = remarks(sheet, info, drawing)
    info = replace(info, lines=(*info.lines, *told))
    return SetPages(sheet, info, drawing, plan_cover(sheet, info, drawing), told)


def _lay_wide(result: Result) -> WidePlan | None:
    """Lay the pieces on the wide paper that the ticket names; None where it names none."""
    from drafting.output import NOTE
    from drafting.paper import plan_wide

    job = result.job
    return plan_wide(result.drawn, job.copy_shop, job.paper.gap, NOTE) if job.copy_shop is not None else None


def _files(
    result: Result, pattern: SetPages, changed: SetPages | None, wide: WidePlan | None, worn: PaintedPicture | None
) -> dict[str, bytes]:
    """Make the bytes of every file of the pattern, each with its seal."""
    from drafting.output import draw_sheet, flat_svg, pattern_pdf, sheet_pdf, svg, wide_pdf
    from drafting.proof.checks.given import wants_toile
    from drafting.seal import seal_file

    sheet, info, drawing, cover = pattern.sheet, pattern.info, pattern.drawing, pattern.cover
    files = {
        PATTERN: pattern_pdf(sheet, info, drawing, cover),
        SHEET: sheet_pdf(sheet, info, drawing) if wide is None else wide_pdf(wide, info, draw_sheet(wide.plan, info)),
        DRAWING: svg(info, drawing).encode(),
        FLAT: flat_svg(info).encode(),
        **_write_booklet(result, pattern, worn),
    }
    if changed is not None:
        files[CHANGED] = pattern_pdf(changed.sheet, changed.info, changed.drawing, changed.cover)
    if result.job.projector != "none":
        from drafting.output.pages.screen_page import Light, projector_pdf

        files[PROJECTOR] = projector_pdf(result.drawn, info, Light(result.job.projector))
    files = {name: seal_file(data, MAKE, result.job.mark) for name, data in files.items()}
    files[PROOF] = document_of(result, info.flat).encode()
    if wants_toile(result.garment, result.job.brief):
        files[FITTING] = fitting_file(result, MAKE)
    return files


def _write_booklet(result: Result, pattern: SetPages, worn: PaintedPicture | None) -> dict[str, bytes]:
    """Make the booklet, for paper and for a screen: it has no word of the pattern's pages."""
    from drafting.finishing.allowance import hem_depths
    from drafting.output.booklet import (
        booklet_html,
        booklet_pdf,
        set_pictures,
        sheet_to_read,
        tell_measures,
        write_booklet,
    )
    from drafting.proof import print_proof, print_warnings

    job = result.job
    lines = tuple(line for line in pattern.info.lines if line not in pattern.told)
    sections = print_proof(result.proof, job.unit)
    info = replace(pattern.info, lines=(*lines, *_say_estimated(result)), sections=sections)
    depths = hem_depths(result.garment, job.finish)
    measured = tell_measures(result.proof, job.unit)
    warned = print_warnings(result.proof, job.unit)
    written = write_booklet(info, result.garment, result.proof.order, result.cut, depths, job.brief, measured, warned)
    size = sheet_to_read(job.paper.paper)
    booklet = set_pictures(replace(written, worn=worn), size)
    return {BOOKLET: booklet_pdf(booklet, size), BOOKLET_PAGE: booklet_html(booklet)}


def _dxf_file(result: Result, pattern: SetPages) -> bytes:
    """Make the bytes of the pieces as a drawing for other programs, with its seal."""
    from drafting.output.dxf import dxf
    from drafting.paper.upright import plan_upright
    from drafting.seal import seal_file

    return seal_file(dxf(plan_upright(result.drawn), pattern.info), MAKE, result.job.mark)


def _holds(folder: Path, files: Mapping[str, bytes]) -> bool:
    """Whether the folder holds just these files already, to the byte."""
    settle_read(folder)
    try:
        return all((folder / name).stat().st_size == len(data) for name, data in files.items()) and all(
            (folder / name).read_bytes() == data for name, data in files.items()
        )
    except OSError:
        return False


def _say_unchanged(result: Result, pieces: Sequence[CutPiece]) -> tuple[str, ...]:
    from drafting.cli.summary import say_kept

    kept = ", ".join(f"{piece.code} {piece.title}" for piece in pieces)
    serves = f"Unchanged since the earlier draft, so that its print serves: {kept}."
    return (serves, *say_kept(result)) if kept else ()


def _start_page(result: Result) -> tuple[str, ...]:
    """Return what the start page says of the job beside its title: fit, cloths."""
    brief = result.job.brief
    from drafting.finishing.labels import name_cloth
    from drafting.proof.checks.cloth import CUTTING

    cloth = f"Cloth: {brief.cloth.tell_give()}."
    cut = {piece.cloth for piece in result.garment.pieces}
    others = (
        f"{name_cloth(name).capitalize()}: {other.tell_give()}." for name, other in brief.cloths.items() if name in cut
    )

    notes = tuple(
        f"{render(each.sentence, result.job.unit)}." for each in result.proof.findings if each.code == CUTTING
    )
    return (
        f"Fit: {brief.fit}.",
        cloth,
        *others,
        *notes,
        *result.job.sources.sentences(),
    )


def _say_estimated(result: Result) -> tuple[str, ...]:
    from drafting.cli.summary import used_estimates

    used = ", ".join(name.replace("_", " ") for name in used_estimates(result))
    return (f"Estimated, for want of a measurement: {used}.",) if used else ()
