"""Saying things on a terminal: tables, headings, problems; nothing that was read may steer the terminal."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from types import FrameType

import click

from drafting.errors import CannotDraft, DraftingError, InputError, Problem
from drafting.saying import render, show_length
from drafting.text import KEPT, keep_figures, printable

MADE, NOT_PROVEN, BAD_INPUT, FAULT, INTERRUPTED = 0, 1, 2, 3, 130
"""Exit statuses."""

TRACE = "BLOCKWRIGHT_TRACE"
"""The variable of the environment that, set, lets a fault show where in the program it happened."""


def print_lines(text: str = "", *, to_errors: bool = False) -> None:
    """Print one line, or several, of the program's own words."""
    click.echo(text, err=to_errors)


def print_note(text: str) -> None:
    """Print a sentence on the error stream that is worth knowing while the work goes on."""
    print_lines(wrap_text(text, "", ""), to_errors=True)


def print_heading(text: str) -> None:
    """Print a heading with a blank line before it."""
    print_lines()
    print_lines(click.style(printable(text), bold=True))


def print_table(rows: Sequence[Sequence[str]], *, head: Sequence[str] = (), right: Iterable[int] = ()) -> None:
    """Print rows in columns; ``right`` numbers the columns that hold figures."""
    figures = set(right)
    clean = [[printable(cell) for cell in row] for row in ((head, *rows) if head else rows)]
    widths = [max(len(row[i]) for row in clean) for i in range(len(clean[0]))] if clean else []
    for place, row in enumerate(clean):
        cells = [c.rjust(w) if i in figures else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True))]
        line = ("  " + "  ".join(cells)).rstrip()
        print_lines(click.style(line, dim=True) if head and place == 0 else line)


def terminal_width() -> int:
    """Return how long lines are: as wide as the terminal, from 40 to 100; 80 where there is none."""
    import shutil

    return max(40, min(100, shutil.get_terminal_size().columns))


def wrap_text(text: str, indent: str = "  ", rest: str | None = None) -> str:
    """Return text in lines as wide as the terminal; all but the first are indented by ``rest``."""
    import textwrap

    return textwrap.fill(
        keep_figures(printable(text)),
        terminal_width(),
        initial_indent=indent,
        subsequent_indent=indent if rest is None else rest,
        break_on_hyphens=False,
    ).replace(KEPT, " ")


def print_error(error: DraftingError) -> None:
    """Print what is wrong and the mend, on the error stream."""
    if isinstance(error, InputError):
        for problem in error.problems[:MOST_PROBLEMS]:
            _print_problem(problem)
        if len(error.problems) > MOST_PROBLEMS:
            print_lines(f"  and {len(error.problems) - MOST_PROBLEMS} more", to_errors=True)
    elif isinstance(error, CannotDraft):
        _print_refusal(error)
    else:
        print_lines(_in_red(printable(str(error)[:600])), to_errors=True)


def print_trace(error: Exception) -> None:
    """Print where in the program an error arose, on the error stream."""
    import traceback

    print_lines("".join(traceback.format_exception(error)), to_errors=True)


def print_fault(error: Exception) -> None:
    """Print that the program itself is at fault, on the error stream, in one sentence; where, if that is asked for."""
    kind = type(error).__name__
    if os.environ.get(TRACE):
        print_trace(error)
    met = "".join(f", met in {printable(note)}" for note in getattr(error, "__notes__", ())[:1])
    words = (
        f"this is a fault in Blockwright, not in your ticket ({kind}){met}; set {TRACE}=1 and run it again to see where"
    )
    print_lines(wrap_text(words, "", ""), to_errors=True)


def print_system_refusal(error: OSError | MemoryError) -> None:
    """Print that the system stood in the way, on the error stream, in one sentence, and what to do about it."""
    from drafting.refusal import refusal_of

    if os.environ.get(TRACE):
        print_trace(error)
    if isinstance(error, MemoryError):
        where, words, mend = "", "there is too little memory", "close other programs, and run it again"
    else:
        where, (words, mend) = (f"{printable(str(error.filename))}: " if error.filename else ""), refusal_of(error)
    print_lines(_in_red(f"{where}{words}"), to_errors=True)
    print_lines(wrap_text(mend), to_errors=True)


MOST_PROBLEMS = 12
"""How many problems are shown at once."""


def _print_problem(problem: Problem) -> None:
    read = printable(str(problem.read)[:300])
    where = f"{_in_red(printable(problem.where[:300]))}: "
    print_lines(f"{where}{read}" if problem.where else f"{read[:1].upper()}{read[1:]}.", to_errors=True)
    if problem.close:
        print_lines("  did you mean " + printable(" or ".join(problem.close)) + "?", to_errors=True)
    if problem.allowed:
        print_lines(wrap_text(f"allowed: {problem.allowed}"), to_errors=True)
    if problem.mend:
        print_lines(wrap_text(str(problem.mend)), to_errors=True)


def _print_refusal(error: CannotDraft) -> None:
    where = f"{_in_red(printable(error.where))}: " if error.where else ""
    reason = render(error.reason, error.unit)
    print_lines(f"{where}{_in_red(printable(error.step))} can't be drafted: {printable(reason)}", to_errors=True)
    if any(error.because):
        print_lines(wrap_text(f"look at: {printable(error.spoken_because)}"), to_errors=True)
    over = show_length(error.short_by, error.unit)
    if any(figure in "123456789" for figure in over):
        print_lines(wrap_text(f"that is {over} more than can be drafted"), to_errors=True)
    if error.help:
        print_lines(wrap_text(render(error.help, error.unit)), to_errors=True)
    if error.since:
        print_lines(wrap_text(f"it can be drafted without {printable(error.since)}"), to_errors=True)
    if error.write:
        print_lines(wrap_text(f"in the ticket, {error.write}"), to_errors=True)


def _in_red(text: str) -> str:
    return click.style(text, fg="red", bold=True)


class Progress:
    """One line on the error stream that says what is being done; silent where no one watches."""

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty() and os.environ.get("TERM") != "dumb"
        self._said = ""

    def __call__(self, what: str) -> None:
        """Say what is being done now."""
        if self._watched and what != self._said:
            self._said = what
            sys.stderr.write(f"\r\x1b[K{printable(what)} …")
            sys.stderr.flush()

    def clear(self) -> None:
        """Clear the line."""
        if self._watched:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


@contextlib.contextmanager
def ending_early() -> Iterator[Callable[[], bool]]:
    """Take Ctrl-C as a wish to end a search with what it has; what is given tells whether it came.

    A second one ends the command, as ever.
    """
    came = threading.Event()

    def note(number: int, frame: FrameType | None) -> None:
        if came.is_set():
            raise KeyboardInterrupt
        came.set()

    ours = threading.current_thread() is threading.main_thread()
    if not ours or signal.getsignal(signal.SIGINT) is not signal.default_int_handler:  # as where no one may interrupt
        yield came.is_set
        return
    before = signal.signal(signal.SIGINT, note)
    try:
        yield came.is_set
    finally:
        signal.signal(signal.SIGINT, before)
