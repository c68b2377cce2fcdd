"""The command ``lay``: how the pieces lie on the cloth, and how much to buy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from drafting.cli.app import examples
from drafting.cli.pattern import folder_of
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import (
    MADE,
    NOT_PROVEN,
    Progress,
    ending_early,
    print_heading,
    print_lines,
    print_note,
    print_table,
    wrap_text,
)
from drafting.cli.work import (
    DEMO,
    FROM,
    LAY,
    letter_as_printed,
    refuse_file,
    run_ticket,
    ticket_or_demo,
)
from drafting.text import printable, show_read
from drafting.units import Unit, show_length

if TYPE_CHECKING:
    from drafting.job import Result
    from drafting.lay.buying import ClothToBuy
    from drafting.lay.cutting import CuttingPlan, HowToLay
    from drafting.output import PrintInfo
    from drafting.ticket import Job

ALSO = {"true-size": "-true-size.pdf", "svg": "-true-size.svg", "json": ".json"}
"""What is written beside the plan where it is asked for, and how its name ends."""

NOT_LAID = NOT_PROVEN
"""The status where a piece finds no room on its cloth, or there is too little of that."""


LONGEST_SEARCH = 3600
"""Seconds that may be searched for a shorter lay."""


def _read_seconds(_: click.Context, parameter: click.Parameter, asked: str | None) -> int | None:
    """Read how long is searched: whole seconds, from 1 to an hour of them."""
    read = (asked or "").strip()
    if asked is not None and not (read.isdecimal() and 1 <= int(read[:9]) <= LONGEST_SEARCH):
        says = f"{show_read(asked)} isn't a time to search for: write whole seconds, 1 to {LONGEST_SEARCH}"
        raise click.BadParameter(says, param=parameter)
    return int(read) if read else None


class HowLaid(TypedDict):
    """The options that tell how to lay."""

    also: tuple[str, ...]
    seconds: int | None
    folded: bool
    width: str | None


@click.command(
    "lay",
    epilog=examples(
        "blockwright lay alto.toml",
        "blockwright lay --demo",
        "blockwright lay alto.toml --out alto-cutting.pdf",
        'blockwright lay alto.toml --width "140 cm"',
        "blockwright lay alto.toml --also true-size --also json",
        "blockwright lay alto.toml --folded",
        "blockwright lay alto.toml --time 3",
        "blockwright lay alto.toml tenor.toml",
    ),
)
@click.argument("tickets", type=click.Path(path_type=Path), nargs=-1, metavar="[TICKET]...")
@DEMO
@FROM
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE.pdf",
    help="The file to write; if not named, TICKET's name with -cutting.pdf, in the current folder; of several tickets "
    "the first one's, with how many more.",
)
@click.option(
    "--pattern",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="The folder that TICKET's pattern is in, for its letters; if not named, TICKET's name with -pattern. Of "
    "several tickets the folder that theirs are in, as make was given with --out.",
)
@click.option(
    "--also",
    multiple=True,
    type=click.Choice(tuple(ALSO)),
    help="Write beside it the plan in true size (a PDF, or an SVG drawing), for a projector or a long table, or its "
    "places as data.",
)
@click.option(
    "--time",
    "seconds",
    callback=_read_seconds,
    metavar="SECONDS",
    help="Search so much longer for a shorter lay; by the package spyrrow (of the extra lay), where it is installed, "
    "of cloth that isn't striped, folded, flawed or cut unwashed.",
)
@click.option(
    "--folded",
    is_flag=True,
    help="Lay the cloth folded lengthwise: halves on the fold, pairs through both layers; striped cloth stays single.",
)
@click.option("--width", metavar="WIDTH", help="The main cloth's width, in place of the ticket's.")
def command(
    tickets: tuple[Path, ...],
    demo: bool,
    folders: tuple[Path, ...],
    out: Path | None,
    pattern: Path | None,
    **how: Unpack[HowLaid],
) -> int:
    """Plan how the pieces lie on the cloth, and how much to buy.

    Writes a cutting plan as a PDF to print: each cloth in a single layer, right side up, or folded, every piece drawn
    where it lies, its grain kept; where the ticket gives the cloth a stripe, stripes meet at the seams. A draft that
    isn't proven has no plan, and the status is 1; so it is where a piece finds no room on its cloth, or there is too
    little of it. Ctrl-C during a long
    search takes the best plan found so far. Several tickets are laid together, where their cloths are the same.
    """
    from drafting.folder import write_files
    from drafting.lay.cutting import HowToLay

    if len(tickets) > 1 and (demo or how["folded"]):
        raise click.UsageError("--demo and --folded go with one ticket.")
    for ticket in dict.fromkeys(each for each in tickets if tickets.count(each) > 1):
        print_note(f"{ticket} is named {tickets.count(ticket)} times: as many garments of it are laid.")
    asked = tickets if len(tickets) > 1 else (ticket_or_demo(next(iter(tickets), None), demo),)
    file = out if out is not None else Path(f"{asked[0].stem}{_more(len(asked) - 1)}-cutting.pdf")
    named = [file, *(file.with_name(f"{file.stem}{ALSO[each]}") for each in ALSO if each in how["also"])]
    for each in named:
        refuse_file(each, LAY, ".pdf" if each is file else each.suffix)
    results = []
    for ticket in asked:
        drafted = run_ticket(ticket, folders=folders, print_it=False)
        result = _with_width(
            letter_as_printed(drafted, ticket, _name_folder(pattern, ticket, len(asked))), how["width"]
        )
        if not result.proof.passed:
            from drafting.cli.summary import print_unproven

            print_unproven(result, ticket_name="--demo" if demo else str(ticket), anyway=False)
            return NOT_PROVEN
        results.append(result)
    laid = _plan_cutting(results, HowToLay(how["folded"], how["seconds"] or 0))
    info = _name_plan(results)
    made = {each.name: _make_file(each, file, laid, info, results[0].job) for each in named}
    write_files(file.parent, made, print_note, LAY, drop=[f"{file.stem}{end}" for end in ALSO.values()])
    with after_writing("the cutting plan", file):
        _print_lay(results[0], info, laid, named)
    return MADE if laid.is_whole else NOT_LAID


def _name_folder(named: Path | None, ticket: Path, tickets: int) -> Path | None:
    """The folder that a ticket's pattern is in, where one is named; of several tickets it holds a folder of each."""
    return named / folder_of(ticket) if named is not None and tickets > 1 else named


def _more(others: int) -> str:
    """What is in the name of a plan of several garments, so that none stands in the place of the first one's own."""
    return f"-and-{others}-more" if others else ""


def _plan_cutting(results: Sequence[Result], how: HowToLay) -> CuttingPlan:
    """The plan, its search shown as it goes on and ended by Ctrl-C."""
    from drafting.lay.cutting import plan_cutting
    from drafting.lay.shared import ToLay, tell_owners

    owners = tell_owners([(each.job.wearer, each.job.title) for each in results])
    made = [ToLay(who, each.garment, each.cut, each.job.brief) for who, each in zip(owners, results, strict=True)]
    made = made if len(made) > 1 else [replace(each, owner="") for each in made]
    progress = Progress()
    try:
        with ending_early() as stopped:
            laying = _watch(progress, "laying the pieces on the cloth", stopped)
            searching = _watch(progress, "searching for a shorter lay", stopped)
            return plan_cutting(made, results[0].job.unit, how, laying, searching)
    finally:
        progress.clear()


def _name_plan(results: Sequence[Result]) -> PrintInfo:
    """What the plan is headed by: every garment's title, wearer and draft mark, each once."""
    from drafting.output import PrintInfo

    jobs = [each.job for each in results]
    titles, wearers, marks = (
        ", ".join(dict.fromkeys(filter(None, words)))
        for words in ([j.title for j in jobs], [j.wearer for j in jobs], [j.mark for j in jobs])
    )
    return PrintInfo(titles, wearers, marks, unit=jobs[0].unit)


def _make_file(each: Path, file: Path, laid: CuttingPlan, info: PrintInfo, job: Job) -> bytes:
    """The bytes of one of the files, sealed."""
    from drafting.lay.words import tell_together
    from drafting.output.lay_json import lay_json
    from drafting.output.lay_svg import lay_svg
    from drafting.output.pages.lay_page import lay_pdf, true_size_pdf
    from drafting.seal import seal_file

    lays = laid.lays
    if each == file:
        more = (tell_together(lays, info.unit),) if laid.alone else ()
        made = lay_pdf(lays, info, job.paper, job.advise, more)
    elif each.suffix == ".pdf":
        made = true_size_pdf(lays, info)
    else:
        made = (lay_json if each.suffix == ".json" else lay_svg)(lays, info).encode()
    return seal_file(made, LAY, job.mark)


def _watch(progress: Progress, what: str, stopped: Callable[[], bool]) -> Callable[[float], bool]:
    """What a search tells its share to: it is shown, and the search goes on until it is stopped."""

    def told(share: float) -> bool:
        progress(f"{what}, {100.0 * share:.0f} % (Ctrl-C takes the best so far)")
        return not stopped()

    return told


def _read_width(width: str, unit: Unit) -> float:
    """The width asked for (mm); InputError, in the maker's unit, where it is none or no cloth's."""
    from drafting.cloth.cloth import CLOTH_LIMITS
    from drafting.errors import InputError, Problem
    from drafting.units import parse_length

    read = parse_length(width, unit, where="--width")
    (low, high), _ = CLOTH_LIMITS["width"]
    if not low <= read <= high:
        allowed = f"{show_length(low, unit)} to {show_length(high, unit)}"
        raise InputError([Problem("--width", show_read(width), allowed)])
    return read


def _with_width(result: Result, width: str | None) -> Result:
    """The result with another width of the main cloth; InputError where it is none."""
    if width is None:
        return result
    brief, job = result.job.brief, result.job
    cloth = replace(brief.cloth, width=_read_width(width, job.unit))
    return replace(result, job=replace(job, brief=replace(brief, cloth=cloth)))


def _print_lay(result: Result, info: PrintInfo, laid: CuttingPlan, files: list[Path]) -> None:
    from drafting.cautions import SEE_CAUTIONS
    from drafting.lay.words import describe_spreads

    lays, unit = laid.lays, result.job.unit
    heading = f"{info.title}, for {info.wearer}" if info.wearer else info.title
    print_lines(click.style(f"{printable(heading)}: cutting plan, draft mark {info.mark}", bold=True))
    for says in (says for lay in lays for says in describe_spreads(lay, unit, result.job.advise)):
        print_heading(printable(says.heading))
        print_lines(f"  {click.style(printable(f'{says.buy}.'), bold=True)}")
        for line in (*says.drawn, *says.lines):
            print_lines(wrap_text(printable(line)))
    _print_unlaid(laid)
    if laid.alone:
        _print_together(laid, unit)
    for note in laid.notes:
        print_lines(wrap_text(f"{note}."))
    _print_otherwise(laid, unit)
    _print_bought(laid.bought, unit)
    print_heading("Files")
    kinds = {
        ".json": "where every piece lies, for other programs",
        ".pdf": "the cutting plan, to print at any size",
        ".svg": "the cutting plan in true size, as a drawing",
    }
    grown = "the cutting plan in true size, a page for each cloth"
    told = [grown if file.name.endswith(ALSO["true-size"]) else kinds[file.suffix.lower()] for file in files]
    print_table(list(zip(map(str, files), told, strict=True)))
    print_heading("Next")
    for number, step in enumerate(_next_steps(laid), start=1):
        print_lines(wrap_text(f"{number}. {step}", "  ", "     "))
    print_lines()
    print_lines(wrap_text(SEE_CAUTIONS, ""))


def _print_unlaid(laid: CuttingPlan) -> None:
    """Show how many pieces find no room, if any."""
    missing = sum(len(lay.too_wide) for lay in laid.lays)
    if missing:
        find = (
            "1 piece finds no room on the cloth and is"
            if missing == 1
            else f"{missing} pieces find no room on the cloth and are"
        )
        print_heading(f"NOT ALL LAID: {find} not in this plan")


def _next_steps(laid: CuttingPlan) -> tuple[str, ...]:
    """What is done next: nothing is cut yet where a piece isn't laid or cloth is lacking."""
    from drafting.lay.washing import tell_washing
    from drafting.lay.words import tell_each_laying, tell_longer

    if any(lay.too_wide for lay in laid.lays):
        return ("Don't cut yet: put right what is told above of each piece not laid, and lay anew.",)
    if not laid.is_whole:
        return ("Don't cut yet: there is too little cloth.",)
    washing = tell_washing((lay.kind, lay.cloth) for lay in laid.lays)
    longer = tell_longer(laid.lays) if not laid.how.seconds else ()
    return (*longer, washing, *tell_each_laying(laid.lays), "Cut the pieces out where the plan shows them.")


def _print_together(laid: CuttingPlan, unit: Unit) -> None:
    """Show what garments that are laid together take, and what they would one by one."""
    from drafting.lay.words import tell_together

    print_heading("Laid together")
    print_lines(wrap_text(tell_together(laid.lays, unit)))


def _print_otherwise(laid: CuttingPlan, unit: Unit) -> None:
    """Show which saves cloth, where a cloth can lie folded: a single layer or the fold."""
    from drafting.lay.words import compare_folded

    told = compare_folded(laid.lays, laid.otherwise, unit, asked=laid.how.folded) if laid.otherwise else ()
    if told:
        print_heading("Folded or not")
    for line in told:
        print_lines(wrap_text(line))


def _print_bought(bought: tuple[ClothToBuy, ...], unit: Unit) -> None:
    """Show what the booklet tells beside the laid: the main cloth in a shop's other widths."""
    from drafting.garment.model import MAIN_CLOTH
    from drafting.lay.words import show_bought

    for each in (each for each in bought if each.kind == MAIN_CLOTH):
        print_heading("The main cloth in other widths")
        rows = [(show_length(width, unit), show_bought(length, unit)) for width, length in each.lengths[1:]]
        print_table(rows, head=("wide", "buy at most"))
