"""The command ``list``: what may stand in a ticket, with units, ranges and sentences."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from drafting.cli.app import examples, refuse_unknown
from drafting.cli.terminal import MADE, print_heading, print_lines, print_table, wrap_text
from drafting.cli.work import FROM
from drafting.saying import render
from drafting.text import printable, show_read

if TYPE_CHECKING:
    from drafting.garment.step import OptionInfo, Step
    from drafting.ticket import Catalogue
    from drafting.units import Unit

T = TypeVar("T")
_UNIT = click.option(
    "--unit", type=click.Choice(["cm", "mm", "in"]), default="cm", help="The unit lengths are shown in."
)
_NAME = click.argument("name", required=False)
_NAMES = click.argument("names", metavar="[NAME]...", nargs=-1)


class Lists(click.Group):
    """The lists; a misspelt one is told with those that it may be."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the list that is asked for."""
        refuse_unknown(ctx, args, "list", self.list_commands(ctx))
        return super().resolve_command(ctx, args)


@click.group(
    "list",
    cls=Lists,
    epilog=examples(
        "blockwright list measurements --unit in",
        "blockwright list blocks",
        "blockwright list blocks knit-bodice",
        "blockwright list cloth",
        "blockwright list inherited alto-2.toml",
        "blockwright list values --from-memory",
    ),
)
def command() -> None:
    """Tell what may stand in a ticket: names, units, ranges, meanings."""


@command.command(
    "measurements", epilog=examples("blockwright list measurements", "blockwright list measurements bust_girth")
)
@_NAMES
@_UNIT
def measurements_(names: tuple[str, ...], unit: Unit) -> int:
    """List a wearer's measurements. It says how each is taken; NAME shows one, several NAMEs each of them."""
    from drafting.body import measurements

    known = measurements()
    for each in [_find_named(name, known, "measurement") for name in names] or known.values():
        term = f"{each.iso_term}, ISO 8559-1 {each.iso_clause}" if each.iso_clause else each.iso_term
        _print_entry(each.name, each.show_range(unit), "needed" if each.needed else "")
        print_lines(wrap_text(each.sentence, "    "))
        print_lines(wrap_text(f"Term: {term}." if term else "No ISO term; common practice.", "    "))
        if names:
            if each.both:
                print_lines(
                    wrap_text(f"If neither side is taken, both are as {each.both}; if one is, the other is.", "    ")
                )
            if each.caution:
                print_lines(wrap_text(f"If it isn't taken: {each.caution}.", "    "))
    return MADE


@command.command("blocks", epilog=examples("blockwright list blocks", "blockwright list blocks knit-bodice --unit in"))
@_NAMES
@_UNIT
def blocks(names: tuple[str, ...], unit: Unit) -> int:
    """List the blocks. NAME shows the options of one, several NAMEs those of each."""
    catalogue = _catalogue()
    return _list_steps(names, unit, "block", catalogue.blocks, catalogue.block)


@command.command("changes", epilog=examples("blockwright list changes", "blockwright list changes lengthen hem"))
@_NAMES
@_UNIT
def changes(names: tuple[str, ...], unit: Unit) -> int:
    """List the changes. NAME shows the options of one, several NAMEs those of each."""
    catalogue = _catalogue()
    return _list_steps(names, unit, "change", catalogue.changes, catalogue.change)


@command.command("checks", epilog=examples("blockwright list checks"))
def checks() -> int:
    """List what every proof sees to. These are the checks of Blockwright itself and of installed packages."""
    from drafting.proof import OWN
    from drafting.ticket import narrowed, unheeded

    for each in (*OWN, *_catalogue().all_checks()):
        _print_entry(each.title or each.name, each.sentence, "")
    _print_entry("hem depth", narrowed.SEES_TO, "")
    _print_entry("ticket", unheeded.SEES_TO, "")
    return MADE


@command.command(
    "designs",
    epilog=examples(
        "blockwright list designs",
        "blockwright list designs knit-top",
        "blockwright list designs --flats designs",
    ),
)
@_NAME
@click.option(
    "--flats",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Write a small picture of each design, seen from in front, into FOLDER, as an SVG file of its name.",
)
def designs(name: str | None, flats: Path | None) -> int:
    """List the designs a ticket may build on. NAME shows one whole, to copy from."""
    from drafting.ticket.reading import read_toml

    catalogue = _catalogue()
    if flats is not None:
        from drafting.cli.flats import write_flats

        if name is not None:
            catalogue.design(name, "")  # refused with close matches where there is none
        asked = sorted(catalogue.designs) if name is None else [name]
        made = write_flats(catalogue, asked, flats)
        print_lines(f"In {printable(str(flats))}: {', '.join(made)}." if made else "No picture was made.")
        return MADE
    if name is not None:
        print_lines(catalogue.design(name, "").read_text(encoding="utf-8").rstrip())
        return MADE
    rows = [(known, str(read_toml(file).get("title", ""))) for known, file in sorted(catalogue.designs.items())]
    print_table(rows)
    return MADE


_ROLLS: Mapping[str, str] = {"cm": '"90 cm", "61 cm"', "mm": '"900 mm", "610 mm"', "in": '"36 in", "24 in", "42 in"'}


@command.command("papers", epilog=examples("blockwright list papers"))
@_UNIT
def papers(unit: Unit) -> int:
    """List papers by name. Any other size can be given as "W x H"."""
    from drafting.paper import PAPERS
    from drafting.units import show_length

    rows = [
        (each.name, show_length(each.width, unit, sixteenths=True), show_length(each.height, unit, sixteenths=True))
        for each in PAPERS
    ]
    print_table(rows, head=("name", "width", "height"), right=(1, 2))
    print_lines('Any other size: size = "60 x 90 cm"')
    print_lines(
        wrap_text(
            f'A copy shop\'s paper, for sheet.pdf: copy_shop = "A0" or "A1", or a roll\'s width, as {_ROLLS[unit]}',
            "",
        )
    )
    return MADE


@command.command("cloth", epilog=examples("blockwright list cloth"))
@_UNIT
def cloth(unit: Unit) -> int:
    """List the keys of [cloth] and of each [cloths.NAME]. It says what [grain] takes, and how stretch is measured."""
    from drafting.cloth import home_method
    from drafting.ticket.grain import GRAIN_HELP
    from drafting.ticket.keys import CLOTH_KEYS, FLAW_KEYS, STRIPE_KEYS

    _print_options(CLOTH_KEYS, unit)
    print_heading("[cloth.stripe]")
    _print_options(STRIPE_KEYS, unit)
    print_heading("[cloth.flaws.NAME], one for each place that no piece may lie on")
    _print_options(FLAW_KEYS, unit)
    print_heading("[grain]")
    print_lines(wrap_text(GRAIN_HELP))
    print_heading("To measure stretch at home")
    print_lines(wrap_text(home_method(unit)))
    return MADE


@command.command("seams", epilog=examples("blockwright list seams --unit in"))
@_UNIT
def seams(unit: Unit) -> int:
    """List the keys of [seams]. They are allowances by kind of seam, and hems."""
    from drafting.ticket.keys import seam_keys

    _print_options(seam_keys(_catalogue().kinds()), unit)
    return MADE


@command.command("paper", epilog=examples("blockwright list paper"))
@_UNIT
def paper(unit: Unit) -> int:
    """List the keys of [paper]. They are its size, margins and joins, and what corrects a printer."""
    from drafting.ticket.keys import PAPER_KEYS

    _print_options(PAPER_KEYS, unit)
    return MADE


@command.command(
    "values",
    epilog=examples("blockwright list values --from-memory", "blockwright list values darted-bodice --unit in"),
)
@_NAME
@_UNIT
@click.option("--from-memory", is_flag=True, help="Begin with the values that nobody has looked up.")
def values(name: str | None, unit: Unit, from_memory: bool) -> int:
    """List the numbers of the trade with their sources. NAME shows one heading, block, change or value.

    What was reckoned, or found by drawing, is shown by NAME alone.
    """
    from drafting.cli.values import tell_values

    tell_values(name, unit, from_memory)
    return MADE


@command.command("inherited", epilog=examples("blockwright list inherited alto-2.toml"))
@click.argument("ticket", type=click.Path(path_type=Path))
@FROM
def list_inherited(ticket: Path, folders: tuple[Path, ...]) -> int:
    """List what TICKET takes over from what it builds on. Each stands with the name by which it is left out."""
    from drafting.cli.inherited import tell_inherited

    tell_inherited(ticket, folders)
    return MADE


def _catalogue() -> Catalogue:
    from drafting.ticket import find_catalogue

    return find_catalogue()


def _list_steps(
    names: tuple[str, ...],
    unit: Unit,
    kind: str,
    known: Iterable[str],
    find: Callable[[str, str], Step[object]],
) -> int:
    if not names:
        rows = [(each, find(each, kind).sentence) for each in sorted(known)]
        print_table(rows) if rows else print_lines(f"No {kind} is installed.")
    for step in [find(name, "") for name in names]:
        if len(names) > 1:
            print_heading(step.name)
        _print_step(step, unit)
    return MADE


def _print_step(step: Step[object], unit: Unit) -> None:
    from drafting.garment.step import options_of

    print_lines(wrap_text(step.sentence, ""))
    if step.needs:
        print_lines(wrap_text(f"Drafted from: {', '.join(step.needs)}.", ""))
    _print_options(options_of(step.options), unit)


_SQUARES: Mapping[str, Unit] = {"10cm": "cm", "4in": "in"}
"""In what a square on the start page is measured, whatever unit is asked for, by the middle of its key."""


def _print_options(infos: Iterable[OptionInfo], asked: Unit) -> None:
    from drafting.ticket.values import figure_words, range_words

    for info in infos:
        unit = _SQUARES.get(info.name.partition("_")[2].partition("_")[0], asked)
        default = "by rule" if info.default is None else figure_words(info, info.default, unit)
        told = "needed" if info.needed else f"if not given: {default}" if default else ""
        more = f"one of {', '.join(info.one_of)}" if info.one_of else told
        _print_entry(info.name, range_words(info, unit), more)
        print_lines(wrap_text(render(info.sentence, unit), "    "))


def _print_entry(name: str, allowed: str, more: str) -> None:
    line = f"{click.style(printable(name), bold=True)}  {printable(allowed)}"
    print_lines(f"{line}  ({printable(more)})" if more else line)


def _find_named(name: str, known: Mapping[str, T], kind: str) -> T:
    from drafting.errors import InputError, Problem, close_matches

    if name not in known:
        close = close_matches(name, known)
        mend = "" if close else f"all of them are told by: blockwright list {kind}s"
        raise InputError([Problem("", f"there is no {kind} {show_read(name)}", "", mend, close)])
    return known[name]
