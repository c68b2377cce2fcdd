"""What ``make`` says when it is done: what was made, how it fits, what was found, where it is, what to do next."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from drafting.cli.terminal import print_heading, print_lines, print_table, wrap_text
from drafting.cloth import Cloth
from drafting.columns import show_ease, show_in_column
from drafting.finishing.growth import cloth_as_cut
from drafting.garment.model import MAIN_CLOTH
from drafting.record import dataclass
from drafting.saying import render, show_length, show_share
from drafting.text import printable

if TYPE_CHECKING:
    from drafting.cli.pattern import SetPages
    from drafting.folder import Older
    from drafting.job import Result
    from drafting.paper import WidePlan
    from drafting.proof import Finding, Proof
    from drafting.saying import Unit
    from drafting.ticket import Job


@dataclass(frozen=True, slots=True, eq=False)
class Made:
    """What make wrote: the names of the files in its folder, the pattern's pages, those of the changed pieces.

    ``compared``: with an earlier draft. ``older`` are files of other drafts that lie there too. ``wide`` is the sheet
    laid out for a copy shop, if it is.
    """

    folder: Path
    names: tuple[str, ...]
    pattern: SetPages
    changed: SetPages | None
    compared: bool
    older: tuple[Older, ...]
    wide: WidePlan | None = None


def print_made(result: Result, made: Made) -> None:
    """Show what was made, where it is, and what to print of it."""
    from drafting.lay.washing import tell_washing

    job, proof = result.job, result.proof
    verdict = tell_verdict(proof)
    verdict = click.style(verdict, fg="green") if proof.passed else click.style(verdict, fg="red", bold=True)
    print_lines(f"{click.style(describe_job(result), bold=True)}: {verdict}, draft mark {job.mark}")
    _print_tables(proof, job.unit)
    print_findings(proof.findings, job.unit)
    _print_estimates(result)
    _print_pages(result, made.pattern, "Pages")
    if made.changed is not None:
        _print_pages(result, made.changed, "To print, changed.pdf")
    if made.compared:
        _print_same(result)
    _print_files(made, job.unit)
    _print_older(made)
    if len(result.same) < len(result.prints):
        washing = tell_washing(_list_cut(result))
        pages = "pattern.pdf" if made.changed is None else "changed.pdf"
        shop = made.wide.tell(result.job.unit) if made.wide is not None and made.changed is None else ""
        print_next(pages, made.pattern.cover.gauge.side, washing, shop)


def tell_verdict(proof: Proof) -> str:
    """Return whether a garment is proven, and how many warnings there are all the same."""
    told = sum(finding.severity.value == "warning" for finding in proof.findings)
    asked = f", {_count(told, 'warning')}" if told else ""
    return f"proven{asked}" if proof.passed else "NOT PROVEN"


def _list_cut(result: Result) -> list[tuple[str, Cloth]]:
    """The cloths that are cut, as they are cut, each with its name in the ticket."""
    brief = result.job.brief
    used = {name for piece in result.cut for name in (piece.cloth, *piece.again)}
    cloths = {MAIN_CLOTH: brief.cloth, **brief.cloths}
    return [(name, cloth_as_cut(name, cloth)) for name, cloth in cloths.items() if name in used]


def _print_pages(result: Result, pages: SetPages, heading: str) -> None:
    """Show how many pages there are, what is on them, and what is worth knowing of their drawing."""
    unit, sheet, starts = result.job.unit, pages.sheet, len(pages.cover.pages)
    first = "the start page" if starts == 1 else f"{starts} start pages"
    paper = ", ".join(part for part in (result.job.paper.paper.name, result.job.paper.correction) if part)
    print_heading(f"{heading}: {starts + sheet.pages} on {paper}: {first} and {sheet.pages} of pattern")
    pieces = sum(piece.quantity for piece in sheet.pieces)
    width, height = (show_length(side, unit) for side in (sheet.sheet.width, sheet.sheet.height))
    counted = f"{_count(len(sheet.pieces), 'pattern piece')}, for {_count(pieces, 'piece')} of cloth"
    print_lines(wrap_text(f"{counted}; joined {width} wide, {height} high."))
    for remark in pages.told:
        print_lines(wrap_text(f"Note: {remark}", "  ", "    "))


def _print_same(result: Result) -> None:
    """Show which pieces are as they were, so that the earlier print serves."""
    if result.on_other_paper:
        print_heading("As in the earlier draft, on other paper: print the whole pattern")
        return
    if not result.same:
        print_heading("No piece is as in the earlier draft: print the whole pattern")
        return
    kept = ", ".join(f"{piece.code} {piece.title}" for piece in result.same)
    whole = len(result.same) == len(result.prints)
    print_heading("Unchanged since the earlier draft: use the ones you have" + (", all of them" if whole else ""))
    for says in (kept, *say_kept(result)):
        print_lines(wrap_text(printable(says)))


def say_kept(result: Result) -> tuple[str, ...]:
    """Return what to know of the earlier prints that serve: which is cut otherwise, and what to write on them.

    And which piece is printed again for its label alone.
    """
    return (*_say_cut_apart(result), *_say_renumbered(result), *_say_told_anew(result))


def _say_cut_apart(result: Result) -> tuple[str, ...]:
    """How the print of a pair that is one no more is used."""
    says = (
        f"{piece.code} {piece.title}: cut 1 by the print of {old.printed.code} {old.printed.title} that you have, "
        f"{'turned over' if old.over else 'right side up'}"
        for piece in result.same
        if (old := result.served[piece.name]).one_of_pair
    )
    told = "; ".join(says)
    return (f"{told}.",) if told else ()


def _say_renumbered(result: Result) -> tuple[str, ...]:
    """What to write on the earlier prints that serve, where the order of work calls their notches otherwise."""
    from drafting.finishing import renumber_notches

    prints = {printed.name: printed for printed in result.prints}
    found = ((piece, renumber_notches(prints[piece.name], piece)) for piece in result.same)
    says = (
        f"{piece.code} {piece.title}: {', '.join(f'{old} is {new} now' for old, new in pairs)}"
        for piece, pairs in found
        if pairs
    )
    told = "; ".join(says)
    return (f"Write the notches' new numbers on the prints that you have. {told}.",) if told else ()


def _say_told_anew(result: Result) -> tuple[str, ...]:
    """Which pieces are as they were, but for a notch that their label names."""
    kept = {piece.name for piece in result.same}
    told = ", ".join(
        f"{piece.code} {piece.title}" for piece in result.cut if piece.name in result.served and piece.name not in kept
    )
    return (f"Printed again, since the label names a notch that has another number now: {told}.",) if told else ()


def print_unchanged(result: Result, earlier: str, folder: Path) -> None:
    """Show that the folder holds this very pattern already, with the pages of what changed, if anything did."""
    says = f"no piece differs from {printable(earlier)}, and {printable(str(folder))} holds this pattern already"
    if result.changed is not None:
        says = f"{printable(str(folder))} holds this pattern already, and changed.pdf what to print of it"
    print_lines(click.style(f"{describe_job(result)}: {says}; nothing was written", bold=True))
    _print_same(result)


def print_unproven(result: Result, ticket_name: str, *, anyway: bool = True) -> None:
    """Show why nothing was written; ``anyway``: it can be printed as it is."""
    verdict = click.style("not proven, so nothing was written", fg="red", bold=True)
    print_lines(f"{click.style(describe_job(result), bold=True)}: {verdict}")
    print_findings(result.proof.findings, result.job.unit)
    print_lines()
    print_lines(wrap_text(f"Change the ticket; or see all of it with: blockwright prove {ticket_name}", ""))
    if anyway:
        print_lines(wrap_text("To print it as it is, add --anyway.", ""))


def describe_job(result: Result) -> str:
    """Return what was drafted, and for whom."""
    job = result.job
    return printable(f"{job.title}, for {job.wearer}" if job.wearer else job.title)


def _print_tables(proof: Proof, unit: Unit) -> None:
    from drafting.proof import tightest_rows
    from drafting.sides import speak_name

    if proof.eases:
        print_heading("Ease")
        eased = [
            (
                str(row.title or row.measure),
                _show_figure(row.body, unit),
                show_ease(row.body, row.finished, unit),
                _show_figure(row.finished, unit),
            )
            for row in proof.eases
        ]
        print_table(eased, head=("place", "body", "ease", "finished"), right=(1, 2, 3))
    passing = tightest_rows(proof.openings)
    if passing:
        print_heading("Openings, each at its tightest")
        rows = [
            (
                speak_name(row.opening),
                "its closure opens it" if row.opened else _show_figure(row.reach, unit),
                f"{row.passing}, {_show_figure(row.must_pass, unit)}",
                "" if row.opened else _show_figure(row.spare, unit),
                "" if row.opened else show_share(row.stretch),
            )
            for row in passing
        ]
        print_table(rows, head=("opening", "opens to", "must pass", "to spare", "at a stretch of"), right=(1, 3, 4))


def print_findings(findings: Sequence[Finding], unit: Unit) -> None:
    """Show what was found, with what helps; what was estimated is shown apart."""
    from drafting.proof.checks.body import ESTIMATED
    from drafting.proof.finding import SINCE

    told = [finding for finding in findings if finding.code != ESTIMATED]
    print_heading(f"Findings: {_count_by_severity(told)}")
    for finding in told:
        colour = {"error": "red", "warning": "yellow"}.get(finding.severity.value)
        where = f" {printable(finding.where)}" if finding.where else ""
        print_lines(f"  {click.style(finding.severity.value, fg=colour, bold=colour is not None)}{where}")
        print_lines(wrap_text(render(finding.sentence, unit), "    "))
        if remedy := render(finding.remedy, unit):
            print_lines(wrap_text(f"What helps: {remedy}", "    "))
        if finding.since:
            print_lines(wrap_text(printable(SINCE.format(finding.since)), "    "))


def _count_by_severity(findings: Iterable[Finding]) -> str:
    counts: dict[str, int] = {}
    for finding in findings:
        counts[finding.severity.value] = counts.get(finding.severity.value, 0) + 1
    return ", ".join(f"{n} {word}{'s' * (n != 1)}" for word, n in counts.items()) or "none"


def _print_estimates(result: Result) -> None:
    """Show where measurements are from, and those that the design used that were not taken, and how sure each is."""
    from drafting.proof.checks.body import ESTIMATED_HEADING, estimate_words

    body, unit = result.job.brief.body, result.job.unit
    told = (estimate_words(name, body[name], body.estimated[name]) for name in used_estimates(result))
    rows = [(title, render(figure, unit), more) for title, figure, more in told]
    print_sources(result.job)
    if not rows:
        return
    print_heading(ESTIMATED_HEADING)
    print_table(rows)
    print_lines("  The rules they follow stand in proof.json.")


def print_sources(job: Job) -> None:
    """Show which file each measurement is from, and whose measurements and fit changes weren't taken."""
    theirs = " and ".join(job.sources.strangers)
    own = f"The measurements of {theirs} are someone else's, so none of them were taken. For the same person, write "
    not_taken = (f"{own}same_person = true under [wearer].",) if theirs else ()
    need = "Where this wearer needs such a fit change, write it under [[changes]], with a figure of their own."
    said = (*not_taken, *job.sources.sentences(), *([need] if job.sources.left_behind else []))
    if said:
        print_heading("Measurements")
    for sentence in said:
        print_lines(wrap_text(sentence))


def used_estimates(result: Result) -> list[str]:
    """Return the measurements that the design used and that were not taken."""
    from drafting.body import measured_apart
    from drafting.ticket.blank import BESIDE_STEPS

    asked = {*BESIDE_STEPS, *(name for planned in result.job.steps for name in planned.step.needs)}
    asked |= {side for both, sides in measured_apart().items() if both in asked for side in sides}
    return [name for name in result.job.brief.body.estimated if name in asked]


FILES = {
    "changed.pdf": "the pieces that changed, for a home printer: print these",
    "pattern.pdf": "pages for a home printer",
    "booklet.pdf": "how to cut and sew it, each step with its pictures, to print",
    "booklet.html": "the same, for a telephone or a tablet beside the machine",
    "sheet.pdf": "the whole on one sheet, true size",
    "projector.pdf": "one page for a projector or a screen, true size",
    "pattern.svg": "the whole as a drawing, true size",
    "pattern.dxf": "the pieces for other programs, AAMA/ASTM-style, unverified",
    "flat.svg": "the garment as it will look, front and back",
    "proof.json": "the proof, for other programs",
    "fitting.pdf": "the fitting sheet, for a toile",
}
"""The files of a pattern, in the order in which they are told, and what each is for."""


def _print_files(made: Made, unit: Unit) -> None:
    uses = FILES if made.wide is None else {**FILES, "sheet.pdf": _tell_wide(made.wide, unit)}
    print_heading("Files")
    print_table([(str(made.folder / name), use) for name, use in uses.items() if name in made.names])


def _tell_wide(wide: WidePlan, unit: Unit) -> str:
    """Return what the sheet for a copy shop takes, and which pieces are too large to lie on it whole."""
    titles = [piece.title for piece in wide.plan.pieces if piece.name in wide.parted]
    joined = f"; joined, as larger than a sheet: {', '.join(titles)}" if titles else ""
    return f"for a copy shop's wide printer: {wide.tell(unit)}{joined}"


def _print_older(made: Made) -> None:
    """Show what lies beside the pattern that another command made for another draft."""
    if made.older:
        print_heading("Of another draft, left as they are: make them again, or put them away")
        again = [
            (str(made.folder / old.name), f"draft mark {old.draft}, by: blockwright {old.command}")
            for old in made.older
        ]
        print_table(again)


def print_next(pages: str, square: str, washing: str, shop: str) -> None:
    """Show what is done with the pattern; ``shop``: the paper that sheet.pdf takes at a copy shop, "" without one."""
    print_heading("Next")
    buying = (
        f"Buy the cloth: the booklet tells how much. {washing}",
        "For the cutting plan run: blockwright lay, with the same ticket.",
    )
    at_home = (
        f"Print page 1 of {pages} at actual size (100 %, no fitting to the page).",
        f"Measure its square, {square} each way. If it is off, set the printer to actual size; that page tells what to "
        "write into the ticket if it stays off.",
        *buying,
        "Print the rest, lay it out as the page map shows, join it at the marks, and cut the pieces out.",
    )
    at_a_shop = (
        f"Take sheet.pdf to a copy shop, to be printed at actual size (100 %): {shop}. Or print pattern.pdf at home, "
        "as its page 1 tells.",
        "Measure its square, each way. If it is off, have it printed again.",
        *buying,
        "Read page 1 of pattern.pdf, and cut the pieces out.",
    )
    for number, step in enumerate(at_a_shop if shop else at_home, start=1):
        print_lines(wrap_text(f"{number}. {step}", "  ", "     "))
    print_lines()
    print_lines("Cautions: see the booklet.")


def print_next_of_several() -> None:
    """Show what is done with the patterns of several tickets."""
    print_heading("Next")
    steps = (
        "Print page 1 of one pattern.pdf at actual size (100 %), and measure its square; it tells what to do if it is "
        "off, for all of them.",
        "For the cloth of all of them together run: blockwright lay, with the same tickets.",
        "Print the rest. Each page says whose it is; keep each wearer's pages together by their draft mark.",
    )
    for number, step in enumerate(steps, start=1):
        print_lines(wrap_text(f"{number}. {step}", "  ", "     "))
    print_lines()
    print_lines("Cautions: see each booklet.")


def _show_figure(figure: float, unit: Unit) -> str:
    return "-" if math.isnan(figure) else show_in_column(figure, unit)


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
