"""The command ``make``: from a ticket to a pattern in a folder, or from several to a folder each."""

from __future__ import annotations

from pathlib import Path

import click

from drafting.cli.app import examples
from drafting.cli.pattern import HowToMake, folder_of, make_pattern
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, NOT_PROVEN
from drafting.cli.work import DEMO, FROM, ticket_or_demo


@click.command(
    "make",
    epilog=examples(
        "blockwright make alto.toml",
        "blockwright make --demo --out demo",
        "blockwright make alto.toml --paper 'US Letter'",
        "blockwright make alto.toml --copy-shop A0",
        "blockwright make alto.toml --copy-shop '36 in'",
        "blockwright make alto.toml --projector light-on-dark",
        "blockwright make alto.toml --dxf",
        "blockwright make alto-2.toml --since alto-pattern",
        "blockwright make alto.toml tenor.toml --out choir",
    ),
)
@click.argument("tickets", type=click.Path(path_type=Path), nargs=-1, metavar="[TICKET]...")
@DEMO
@FROM
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="The folder to write into; if not named, TICKET's name with -pattern, in the current folder. Of several "
    "tickets it is the folder that theirs stand in.",
)
@click.option(
    "--paper",
    "size",
    default="",
    metavar="SIZE",
    help="The paper in the printer, in place of the ticket's: A4, 'US Letter', ...",
)
@click.option(
    "--copy-shop",
    default="",
    metavar="SIZE",
    help="Lay out sheet.pdf for a copy shop's wide paper: A0, A1, or the width of its roll, as '90 cm' or '36 in'.",
)
@click.option(
    "--projector",
    type=click.Choice(["light-on-dark", "dark-on-light"]),
    help="Make projector.pdf too, for a projector or a screen: one page, thick lines, a grid and bars to calibrate by.",
)
@click.option(
    "--dxf",
    is_flag=True,
    help="Make pattern.dxf too, for other programs: one block a piece, layers after AAMA/ASTM, unverified.",
)
@click.option(
    "--since",
    type=click.Path(path_type=Path),
    metavar="EARLIER",
    help="Set the pieces that differ from an earlier draft on pages of their own, changed.pdf: its folder, or the "
    "proof.json in it.",
)
@click.option("--anyway", is_flag=True, help="Print the pattern even if its proof fails.")
def command(
    tickets: tuple[Path, ...],
    demo: bool,
    folders: tuple[Path, ...],
    out: Path | None,
    since: Path | None,
    anyway: bool,
    dxf: bool,
    **paper: str | None,
) -> int:
    """Draft TICKET, prove it, and write its pattern into a folder.

    Writes booklet.pdf and booklet.html (what to buy, how to cut, every step of the work with its pictures), pattern.pdf
    (pages for a home printer), sheet.pdf (one sheet, true size; with --copy-shop laid out for wide
    paper, no piece parted that fits on it), pattern.svg, flat.svg (the
    garment as it will look) and proof.json; for a
    garment of woven cloth or with darts, which is tried on as a toile first, fitting.pdf too. With --since EARLIER also
    changed.pdf, the pages to print of only the pieces that differ. The folder holds one whole pattern: the files of the
    one before are replaced or taken away, and no file that isn't Blockwright's is written over.
    A draft that isn't proven prints no pattern; what is wrong and what would mend it is shown, and the status is 1.
    Of several tickets each has a folder of its own, and a table at the end tells how each went.
    """
    how = HowToMake(folders, {key: said for key, said in paper.items() if said}, since, anyway, dxf, demo)
    if len(tickets) > 1:
        from drafting.cli.several import make_several

        return make_several(tickets, out, how)
    asked = ticket_or_demo(next(iter(tickets), None), demo)
    return _make_one(asked, out if out is not None else folder_of(asked), how)


def _make_one(asked: Path, folder: Path, how: HowToMake) -> int:
    """Make a ticket's pattern, and show all of it that is worth knowing; return the status."""
    from drafting.cli.summary import print_made, print_unchanged, print_unproven

    result, made = make_pattern(asked, folder, how)
    if result.sheet is None:
        print_unproven(result, ticket_name="--demo" if how.demo else str(asked))
    elif made is None:
        print_unchanged(result, str(how.since), folder)
    else:
        with after_writing("the pattern", folder):
            print_made(result, made)
    return MADE if result.proof.passed else NOT_PROVEN
