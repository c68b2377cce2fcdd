"""The proof as lines of plain text, for a terminal or a printed page."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from itertools import groupby

from drafting.columns import show_alike, show_ease, show_in_column
from drafting.proof.checks.body import ESTIMATED, ESTIMATED_HEADING, estimate_words
from drafting.proof.checks.openings import BAND_AT_SEAM, BAND_SEAM
from drafting.proof.finding import SINCE, Finding, Severity
from drafting.proof.fit import BOUND_MET, FitRow, figure_words, fold_rows
from drafting.proof.lengths import TakenMeasure
from drafting.proof.proof import Proof
from drafting.proof.rows import EaseRow, OpeningRow, SeamRow
from drafting.saying import Unit, render, show_share
from drafting.sides import speak_name
from drafting.text import KEPT, keep_figures
from drafting.tolerance import TOLERANCE

_WORDS = {Severity.ERROR: "ERROR", Severity.WARNING: "warning"}


def proof_lines(
    proof: Proof, unit: Unit = "cm", *, width: int | None = None, concerned: Collection[str] | None = None
) -> tuple[str, ...]:
    """Return the proof as text: the verdict, what is wrong with its remedy, the tables, and notes last.

    No line is longer than ``width`` characters. Of the measurements that were estimated only those in ``concerned``
    are told, in few words; all of them, where it isn't given.
    """
    parts = (
        _verdict(proof),
        _findings(proof, unit),
        _ease(proof.eases, unit, width),
        _show_finished(proof.lengths, unit, width),
        _fit(proof.fit, unit, width),
        _openings(proof.openings, unit, width),
        _seams(proof.seams, unit, width),
        _joins(proof, unit, width),
        _puzzle(proof),
        _notes(proof, unit),
        _estimates(proof, unit, width, concerned),
    )
    return tuple(folded for part in parts for line in part for folded in fold_line(line, width))


def _verdict(proof: Proof) -> Iterator[str]:
    counts = (
        (len(proof.of(Severity.ERROR)), "errors"),
        (len(proof.of(Severity.WARNING)), "warnings"),
        (len(_notes_told(proof)), "notes"),
    )
    said = ", ".join(f"{count} {word[:-1] if count == 1 else word}" for count, word in counts if count) or "none"
    yield f"{'Proven' if proof.passed else 'NOT PROVEN'}. Findings: {said}"


def _findings(proof: Proof, unit: Unit) -> Iterator[str]:
    for finding in (*proof.of(Severity.ERROR), *proof.of(Severity.WARNING)):
        where = f"{finding.where}: " if finding.where else ""
        yield f"{_WORDS[finding.severity]}: {where}{render(finding.sentence, unit)}"
        if remedy := render(finding.remedy, unit):
            yield f"    What helps: {remedy}"
        if finding.since:
            yield f"    {SINCE.format(finding.since)}"


def _notes_told(proof: Proof) -> list[Finding]:
    return [finding for finding in proof.of(Severity.NOTE) if finding.code != ESTIMATED]


def _notes(proof: Proof, unit: Unit) -> Iterator[str]:
    notes = _notes_told(proof)
    if notes:
        yield ""
        yield "Notes"
    for finding in notes:
        sentence, remedy = (render(words, unit) for words in (finding.sentence, finding.remedy))
        yield f"  {sentence}{f'; {remedy}' if remedy else ''}"


def _estimates(proof: Proof, unit: Unit, width: int | None, concerned: Collection[str] | None) -> Iterator[str]:
    rules = dict(proof.estimated)
    told = [
        estimate_words(finding.place, finding.value, rules[finding.place])
        for finding in proof.of(Severity.NOTE)
        if finding.code == ESTIMATED and finding.value is not None and (concerned is None or finding.place in concerned)
    ]
    rows = [(title, render(figure, unit), more) for title, figure, more in told]
    if rows:
        yield ""
        yield ESTIMATED_HEADING
    widths = [max((len(row[i]) for row in rows), default=0) for i in (0, 1)]
    for title, figure, more in rows:
        yield f"  {title.ljust(widths[0])}  {figure.ljust(widths[1])}  {more}".rstrip()


def fold_line(line: str, width: int | None) -> list[str]:
    """Return a line in lines of at most ``width`` characters, the further ones set in a little more than the first."""
    if width is None or len(line) <= width:
        return [line]
    import textwrap

    indent = " " * (len(line) - len(line.lstrip()))
    rows = textwrap.wrap(
        keep_figures(line.strip()),
        width,
        initial_indent=indent,
        subsequent_indent=f"{indent}  ",
        break_on_hyphens=False,
    )
    return [row.replace(KEPT, " ") for row in rows]


def table_lines(
    title: str, head: Sequence[str], rows: Sequence[Sequence[str]], width: int | None = None, words: str = ""
) -> Iterator[str]:
    """Yield a titled table, below ``words`` about it; the first column is set left; nothing for one without rows."""
    if not rows:
        return
    yield ""
    yield title
    if words:
        yield from fold_line(f"  {words}", width)
    yield from (f"  {line}" for line in columns(head, rows, None if width is None else width - 2))


def columns(head: Sequence[str], rows: Sequence[Sequence[str]], width: int | None = None) -> Iterator[str]:
    """Yield rows in columns; cells that are too wide for ``width`` run over several lines."""
    import textwrap

    widths = _fit_widths([max(len(row[i]) for row in (head, *rows)) for i in range(len(head))], width)
    for row in (head, *rows):
        cells = [
            textwrap.wrap(cell, wide, subsequent_indent=" " * 4 if cell.startswith(" ") else "") or [""]
            for cell, wide in zip(row, widths, strict=True)
        ]
        for number in range(max(map(len, cells))):
            parts = [cell[number] if number < len(cell) else "" for cell in cells]
            justified = [
                p.ljust(w) if i == 0 else p.rjust(w) for i, (p, w) in enumerate(zip(parts, widths, strict=True))
            ]
            yield "  ".join(justified).rstrip()


LIMITS = (
    "“At least” and “at most” are the usual limits for this body, allowing for the ticket's changes. What lies beyond "
    "one is told at the top, or under Notes."
)
"""What the limits of the table of fit are."""

_NARROWEST = 9


def _fit_widths(widths: list[int], width: int | None) -> list[int]:
    """Return the widths of columns, the widest made narrower until all of them fit beside each other."""
    over = 0 if width is None else sum(widths) + 2 * (len(widths) - 1) - width
    while over > 0 and max(widths) > _NARROWEST:
        widths[widths.index(max(widths))] -= 1
        over -= 1
    return widths


def _length(value: float, unit: Unit) -> str:
    return "-" if math.isnan(value) else show_in_column(value, unit)


def _ease(rows: Sequence[EaseRow], unit: Unit, width: int | None) -> Iterator[str]:
    head = ("place", "body", "ease asked", "ease", "finished")
    cells = [
        (
            str(row.title or row.measure),
            _length(row.body, unit),
            *(show_ease(row.body, finished, unit) for finished in (row.body + row.asked, row.finished)),
            _length(row.finished, unit),
        )
        for row in rows
    ]
    return table_lines("Ease", head, cells, width)


def _show_finished(rows: Sequence[TakenMeasure], unit: Unit, width: int | None) -> Iterator[str]:
    cells = [(row.title, show_in_column(row.garment, unit)) for row in rows]
    return table_lines("Finished measures", ("measure", "finished"), cells, width)


def _fit(rows: Sequence[FitRow], unit: Unit, width: int | None) -> Iterator[str]:
    """The table of fit, its rows under what they are about; what no row has takes no column.

    A figure that has no bound and is as the body asks has nothing to tell here; it stands in proof.json.
    """
    head = ("measure", "body", "garment", "changed by", "at least", "at most")
    cells: list[tuple[str, ...]] = []
    worth = [row for row in rows if row.chief or row.bounds != (None, None) or abs(row.off) >= TOLERANCE.sewn_length]
    for about, group in groupby(worth, key=lambda row: row.about):
        cells += [(about, *("" for _ in head[1:]))] if about else []
        for title, row in fold_rows(group):
            meant = row.meant if abs(row.meant) > BOUND_MET[row.measure] else None
            figures = (row.body if row.of_body else None, row.garment, meant, *row.bounds)
            cells.append((f"  {render(title, unit)}", *(_figure(figure, row, unit) for figure in figures)))
    told = [i for i in range(len(head)) if any(row[i] not in ("", "-") for row in cells)]
    rows_told = [tuple(row[i] for i in told) for row in cells]
    return table_lines("Against the body", [head[i] for i in told], rows_told, width, LIMITS)


def _figure(figure: float | None, row: FitRow, unit: Unit) -> str:
    if figure is None:
        return "-"
    return show_in_column(figure, unit) if row.measure == "mm" else render(figure_words(figure, row.measure), unit)


_EDGES = {
    "edge": ", its edge",
    "outer edge": ", outer edge of its band",
    "waist": "",
    "waist seam": ", its seam",
    BAND_SEAM: f", at {BAND_SEAM}",
    BAND_AT_SEAM: f", {BAND_AT_SEAM}",
}
"""How an edge of an opening is called beside it."""


def _name_edge(row: OpeningRow) -> str:
    return f"{speak_name(row.opening)}{_EDGES.get(row.edge, f', at the {row.edge}')}"


def _openings(rows: Sequence[OpeningRow], unit: Unit, width: int | None) -> Iterator[str]:
    head = ("opening", "unstretched", "stretch", "opens to", "must pass", "to spare")
    cells = [
        (
            f"{_name_edge(row)}{', closure open' if row.opened else ''}",
            show_in_column(row.length, unit),
            show_share(row.stretch),
            show_in_column(row.reach, unit),
            *(show_in_column(figure, unit) if row.passing else "-" for figure in (row.must_pass, row.spare)),
        )
        for row in rows
    ]
    return table_lines("Openings", head, cells, width)


def _seams(rows: Sequence[SeamRow], unit: Unit, width: int | None) -> Iterator[str]:
    head = ("seam", "lengths", "ease asked", "off")
    cells = [
        (
            _seam_words(row, unit),
            " / ".join(show_alike(row.lengths, unit)),
            " / ".join(show_in_column(ease, unit) for ease in row.asked[1:]) or "-",
            show_in_column(row.off, unit),
        )
        for row in rows
    ]
    return table_lines("Seams", head, cells, width)


def _seam_words(row: SeamRow, unit: Unit) -> str:
    """The title of a seam, as the order of work calls it, and its section where there are several."""
    section = f", section {row.section}" if row.section else ""
    return f"{render(row.title, unit)}{section}" if row.title else row.place


def _joins(proof: Proof, unit: Unit, width: int | None) -> Iterator[str]:
    titles = {row.seam: render(row.title, unit) for row in proof.seams if row.title}
    cells = [
        (
            " to ".join(dict.fromkeys(map(speak_name, (row.before, row.after)))),
            "; ".join(titles.get(seam, speak_name(seam)) for seam in row.across) or "-",
            f"{round(math.degrees(row.angle), 1) + 0.0:.1f} deg",
        )
        for row in proof.joins
    ]
    return table_lines(
        "Joins: how far an edge turns where it crosses a seam", ("from and to", "across", "turns"), cells, width
    )


def _puzzle(proof: Proof) -> Iterator[str]:
    surface = proof.surface
    if surface is None:
        return
    names = ", ".join(speak_name(opening.name) for opening in surface.openings)
    whole = "one garment" if surface.components == 1 else f"{surface.components} garments apart"
    yield ""
    yield f"All seams joined: {whole}, open at {names or 'no place'}"
