"""The command ``prove``: draft and prove a ticket, and print nothing but the proof."""

from __future__ import annotations

from pathlib import Path

import click

from drafting.cli.app import examples
from drafting.cli.surroundings import after_writing
from drafting.cli.terminal import MADE, NOT_PROVEN, print_lines, terminal_width
from drafting.cli.work import (
    DEMO,
    FROM,
    PROVE,
    TICKET,
    document_of,
    fitting_file,
    refuse_file,
    run_ticket,
    ticket_or_demo,
    write_file,
)
from drafting.text import printable


@click.command(
    "prove",
    epilog=examples(
        "blockwright prove alto.toml",
        "blockwright prove alto.toml --json",
        "blockwright prove --demo",
        "blockwright prove alto.toml --fitting",
        "blockwright prove alto.toml --fitting --out alto-fitting.pdf",
    ),
)
@TICKET
@DEMO
@FROM
@click.option("--json", "as_json", is_flag=True, help="Print the proof as JSON, as it stands in proof.json.")
@click.option(
    "--fitting", is_flag=True, help="Print the fitting sheet: what to look at on the toile, and what answers it."
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE.pdf",
    help="With --fitting: write the sheet as pages to print, with boxes to tick and room for a pen.",
)
@click.option(
    "--json-schema", is_flag=True, help="Print the JSON Schema that describes proof.json, and do nothing else."
)
def command(
    ticket: Path | None,
    demo: bool,
    folders: tuple[Path, ...],
    as_json: bool,
    fitting: bool,
    out: Path | None,
    json_schema: bool,
) -> int:
    """Check the draft of TICKET without printing a pattern.

    Shows every seam's lengths, the ease, what the openings must pass, and all findings with what would mend
    them. Ends with status 0 if the draft is proven and 1 if not.
    """
    import json

    from drafting.cli.summary import describe_job, print_sources, used_estimates
    from drafting.proof import proof_lines, proof_schema

    if json_schema:
        print_lines(json.dumps(proof_schema(), indent=2, ensure_ascii=False))
        return MADE
    if out is not None and not fitting:
        raise click.UsageError("--out goes with --fitting; a pattern is written by: blockwright make")
    asked = ticket_or_demo(ticket, demo)
    if out is not None:
        refuse_file(out, PROVE)
    result = run_ticket(asked, folders=folders, print_it=False)
    job = result.job
    if out is not None:
        write_file(out, fitting_file(result, PROVE), PROVE)
        with after_writing("the fitting sheet", out):
            print_lines(f"The fitting sheet is in {printable(str(out))}.")
    elif fitting:
        from drafting.proof.words.fitting import fitting_lines, fitting_sheet

        head = f"Fitting sheet: {describe_job(result)}; draft mark {job.mark}"
        sheet = fitting_sheet(result.garment, job.brief, job.advise)
        for line in fitting_lines(sheet, job.unit, heading=head, width=terminal_width()):
            print_lines(printable(line))
    elif as_json:
        print_lines(document_of(result).rstrip("\n"))
    else:
        for line in proof_lines(result.proof, job.unit, width=terminal_width(), concerned=used_estimates(result)):
            print_lines(printable(line))
        print_sources(job)
    return MADE if result.proof.passed else NOT_PROVEN
