"""What ``make`` says when it is done: what was made, how it fits, what was found, where it is, what to do next."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from drafting.cli.terminal import print_heading, print_lines, print_table, wrap_text
from drafting.saying import render, show_length, show_share
from drafting.text import printable

if TYPE_CHECKING:
    from drafting.job import Result
    from drafting.paper import SheetPlan
    from drafting.proof import Finding, Proof
    from drafting.saying import Unit
    from drafting.ticket import Job

CAUTIONS = (
    "Blades, pins, needles and hot irons hurt: cut away from yourself, keep fingers clear of the needle, unplug "
    "machines and irons before you handle or leave them, and keep all of it from children. Follow the makers' and "
    "your local rules."
)
"""The usual cautions, wherever cutting and sewing are spoken of."""


def print_made(result: Result, sheet: SheetPlan, folder: Path, remarks: Sequence[str], starts: int) -> None:
    """Show what was made and where it is.

    ``remarks`` are what is worth knowing of the drawing; ``starts`` is how many start pages there are.
    """
    job, proof = result.job, result.proof
    verdict = click.style("proven", fg="green") if proof.passed else click.style("NOT PROVEN", fg="red", bold=True)
    print_lines(f"{click.style(describe_job(result), bold=True)}: {verdict}, draft mark {job.mark}")
    _print_tables(proof, job.unit)
    _print_findings(proof.findings, job.unit)
    _print_estimates(result)
    first = "the start page" if starts == 1 else f"{starts} start pages"
    print_heading(f"Pages: {starts + sheet.pages} on {job.paper.paper.name}: {first} and {sheet.pages} of pattern")
    printed = [piece for piece in result.cut if piece not in result.same]
    pieces = sum(piece.quantity for piece in printed)
    width, height = (show_length(side, job.unit) for side in (sheet.sheet.width, sheet.sheet.height))
    counted = f"{_count(len(printed), 'pattern piece')}, for {_count(pieces, 'piece')} of cloth"
    print_lines(wrap_text(f"{counted}; joined {width} wide, {height} high."))
    for remark in remarks:
        print_lines(wrap_text(f"Note: {remark}", "  ", "    "))
    _print_same(result)
    _print_files(result, folder)
    _print_next()


def _print_same(result: Result) -> None:
    """Show which pieces are as they were, so that the earlier print serves."""
    if result.same:
        kept = ", ".join(f"{piece.code} {piece.title}" for piece in result.same)
        print_heading("Unchanged since the earlier draft, so not printed again: use the ones you have")
        print_lines(wrap_text(printable(kept)))


def print_unchanged(result: Result, earlier: str) -> None:
    """Show that no piece differs from the earlier draft, so that nothing was printed."""
    print_lines(
        click.style(
            f"{describe_job(result)}: no piece differs from {printable(earlier)}; nothing was written", bold=True
        )
    )
    _print_same(result)


def print_unproven(result: Result, ticket_name: str, *, anyway: bool = True) -> None:
    """Show why nothing was written; ``anyway``: it can be printed as it is."""
    verdict = click.style("not proven, so nothing was written", fg="red", bold=True)
    print_lines(f"{click.style(describe_job(result), bold=True)}: {verdict}")
    _print_findings(result.proof.findings, result.job.unit)
    print_lines()
    print_lines(wrap_text(f"Mend the ticket; or see all of it with: blockwright prove {ticket_name}", ""))
    if anyway:
        print_lines(wrap_text("To print it as it is, add --anyway.", ""))


def describe_job(result: Result) -> str:
    """Return what was drafted, and for whom."""
    job = result.job
    return printable(f"{job.title}, for {job.wearer}" if job.wearer else job.title)


def _print_tables(proof: Proof, unit: Unit) -> None:
    from drafting.proof import tightest_rows

    if proof.eases:
        print_heading("Ease")
        rows = [
            (
                str(row.title or row.measure),
                *(_show_figure(figure, unit) for figure in (row.body, row.got, row.finished)),
            )
            for row in proof.eases
        ]
        print_table(rows, head=("place", "body", "ease", "finished"), right=(1, 2, 3))
    passing = tightest_rows(proof.openings)
    if passing:
        print_heading("Openings, each at its tightest")
        rows = [
            (
                row.opening,
                _show_figure(row.reach, unit),
                f"{row.passing}, {_show_figure(row.must_pass, unit)}",
                show_share(row.stretch),
            )
            for row in passing
        ]
        print_table(rows, head=("opening", "stretches to", "must pass", "at a stretch of"), right=(1, 3))


def _print_findings(findings: Sequence[Finding], unit: Unit) -> None:
    from drafting.proof.checks.body import ESTIMATED
    from drafting.proof.finding import SINCE

    told = [finding for finding in findings if finding.code != ESTIMATED]
    print_heading(f"Findings: {_count_by_severity(told)}")
    for finding in told:
        colour = {"error": "red", "warning": "yellow"}.get(finding.severity.value)
        print_lines(
            f"  {click.style(finding.severity.value, fg=colour, bold=colour is not None)} {printable(finding.place)}"
        )
        print_lines(wrap_text(render(finding.sentence, unit), "    "))
        if finding.remedy:
            print_lines(wrap_text(f"Mend: {render(finding.remedy, unit)}", "    "))
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
    """Show which file each measurement is from, and whose measurements weren't taken."""
    theirs = " and ".join(job.sources.strangers)
    own = f"The measurements of {theirs} are someone else's, so none of them were taken. For the same person, write "
    not_taken = (f"{own}same_person = true under [wearer].",) if theirs else ()
    said = (*job.sources.sentences(), *not_taken)
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


def _print_files(result: Result, folder: Path) -> None:
    from drafting.proof.checks.given import wants_toile

    print_heading("Files")
    rows = [
        (str(folder / "pattern.pdf"), "pages for a home printer"),
        (str(folder / "sheet.pdf"), "the whole on one sheet, true size, for a wide printer"),
        (str(folder / "pattern.svg"), "the whole as a drawing, true size"),
        (str(folder / "proof.json"), "the proof, for other programs"),
    ]
    if wants_toile(result.garment, result.job.brief):
        rows.append((str(folder / "fitting.pdf"), "the fitting sheet, for a toile"))
    print_table(rows)


def _print_next() -> None:
    print_heading("Next")
    steps = (
        "Print page 1 of pattern.pdf at actual size (100 %, no fitting to the page).",
        "Measure its test square: 10 cm and 4 in. If it is off, set the printer to actual size, or give the ticket "
        "what it measured: square_across and square_along under [paper].",
        "How much cloth to buy, and how the pieces lie on it: blockwright lay, with the same ticket.",
        "Print the rest, lay it out as the page map shows, join it at the marks, and cut the pieces out.",
    )
    for number, step in enumerate(steps, start=1):
        print_lines(wrap_text(f"{number}. {step}", "  ", "     "))
    print_lines()
    print_lines(wrap_text(CAUTIONS, ""))


def _show_figure(figure: float, unit: Unit) -> str:
    return "-" if math.isnan(figure) else show_length(figure, unit)


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
