"""Saying things on a terminal: tables, headings, problems; nothing that was read may steer the terminal."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterable, Sequence

import click

from drafting.errors import CannotDraft, DraftingError, InputError, Problem
from drafting.text import printable

MADE, NOT_PROVEN, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
"""Exit statuses."""


def say(text: str = "", *, to_errors: bool = False) -> None:
    """Print one line, or several, of the program's own words; once the reader of a pipe has gone, print nothing."""
    try:
        click.echo(text, err=to_errors)
    except BrokenPipeError:
        give_up_output()


def flush() -> None:
    """Print what is still held back."""
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        give_up_output()


def give_up_output() -> None:
    """Send what is still to be printed nowhere, so that the work itself goes on and ends with its own status."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def heading(text: str) -> None:
    """Print a heading with a blank line before it."""
    say()
    say(click.style(printable(text), bold=True))


def table(rows: Sequence[Sequence[str]], *, head: Sequence[str] = (), right: Iterable[int] = ()) -> None:
    """Print rows in columns; ``right`` numbers the columns that hold figures."""
    figures = set(right)
    clean = [[printable(cell) for cell in row] for row in ((head, *rows) if head else rows)]
    widths = [max(len(row[i]) for row in clean) for i in range(len(clean[0]))] if clean else []
    for place, row in enumerate(clean):
        cells = [c.rjust(w) if i in figures else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True))]
        line = ("  " + "  ".join(cells)).rstrip()
        say(click.style(line, dim=True) if head and place == 0 else line)


def wrapped(text: str, indent: str = "  ", rest: str | None = None) -> str:
    """Return text in lines as wide as the terminal, 100 at most; all but the first are indented by ``rest``."""
    import shutil
    import textwrap

    width = max(40, min(100, shutil.get_terminal_size().columns))
    return textwrap.fill(
        printable(text), width, initial_indent=indent, subsequent_indent=indent if rest is None else rest
    )


def show_error(error: DraftingError) -> None:
    """Print what is wrong and the mend, on the error stream."""
    if isinstance(error, InputError):
        for problem in error.problems[:MOST_PROBLEMS]:
            _show_problem(problem)
        if len(error.problems) > MOST_PROBLEMS:
            say(f"  and {len(error.problems) - MOST_PROBLEMS} more", to_errors=True)
    elif isinstance(error, CannotDraft):
        _show_refusal(error)
    else:
        say(_red(printable(str(error)[:600])), to_errors=True)


MOST_PROBLEMS = 12
"""How many problems are shown at once."""


def _show_problem(problem: Problem) -> None:
    say(f"{_red(printable(problem.where[:300]))}: {printable(problem.read[:300])}", to_errors=True)
    if problem.close:
        say("  did you mean " + printable(" or ".join(problem.close)) + "?", to_errors=True)
    if problem.allowed:
        say(wrapped(f"allowed: {problem.allowed}"), to_errors=True)
    if problem.mend:
        say(wrapped(problem.mend), to_errors=True)


def _show_refusal(error: CannotDraft) -> None:
    say(f"{_red(printable(error.step))} can't be drafted: {printable(error.reason)}", to_errors=True)
    if error.because:
        say(wrapped(f"in the way: {error.because}"), to_errors=True)
    if error.short_by:
        say(wrapped(f"by {error.short_by / 10:.1f} cm"), to_errors=True)
    if error.help:
        say(wrapped(error.help), to_errors=True)


def _red(text: str) -> str:
    return click.style(text, fg="red", bold=True)


class Progress:
    """One line on the error stream that says what is being done; silent where no one watches."""

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty() and os.environ.get("TERM") != "dumb"

    def __call__(self, what: str) -> None:
        """Say what is being done now."""
        if self._watched:
            sys.stderr.write(f"\r\x1b[K{printable(what)} …")
            sys.stderr.flush()

    def done(self) -> None:
        """Clear the line."""
        if self._watched:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
