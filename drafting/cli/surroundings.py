"""What surrounds the work and isn't its fault: streams closed, full or read no more, and what a system refuses.

A stream that is closed, or whose reader has gone, is one that nobody reads: what is printed there goes nowhere, and the
work ends with its own status. What was to be read and is lost (a report sent into a file on a full disk) is told on the
other stream, and is status 2 though the files asked for were written.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from drafting.errors import DraftingError
from drafting.refusal import refusal_of
from drafting.text import printable

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer


class CannotPrint(DraftingError):
    """What is printed is lost, for this reason; raised once, and what is printed afterwards goes nowhere."""

    def __init__(self, reason: str, what: str = "what you asked for") -> None:
        self.reason = reason
        super().__init__(f"{what} can't be printed here: {reason}")


class _Outlet(io.FileIO):
    """Where a stream's bytes go; once they can't, nowhere. ``telling``: raises that they are lost."""

    def __init__(self, number: int, *, telling: bool) -> None:
        super().__init__(number, "w", closefd=False)
        self._telling, self._lost = telling, False

    def write(self, data: ReadableBuffer, /) -> int:
        if not self._lost:
            try:
                return self._write_all(data)
            except OSError as error:
                self._lost = True
                if self._telling and not isinstance(error, BrokenPipeError):
                    raise CannotPrint(refusal_of(error)[0]) from None
        return memoryview(data).nbytes

    def _write_all(self, data: ReadableBuffer) -> int:
        """Write, waiting for the reader where the stream is one that doesn't wait by itself."""
        while (count := super().write(data)) is None:
            import select

            select.select([], [self.fileno()], [])
        return count


def open_streams() -> None:
    """Give this process streams that never fail the work; those that are closed go nowhere.

    Their numbers are taken first, else the next file to be opened would take one, and what is said be written into it.
    """
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    sys.stdout = _open_stream(sys.stdout, 1)
    sys.stderr = _open_stream(sys.stderr, 2)


def _open_stream(stream: TextIO | None, number: int) -> TextIO:
    """As the stream is, with another outlet; left alone where it is none of a file's (a console of its own kind)."""
    if stream is None:
        return open(os.devnull, "w", encoding="utf-8")
    if not isinstance(stream, io.TextIOWrapper):
        return stream
    if not isinstance(getattr(stream.buffer, "raw", stream.buffer), io.FileIO):
        return stream
    outlet = io.BufferedWriter(_Outlet(number, telling=number == 1))
    return io.TextIOWrapper(outlet, stream.encoding, stream.errors, line_buffering=stream.line_buffering)


@contextlib.contextmanager
def after_writing(what: str, where: Path) -> Iterator[None]:
    """While a report is printed of what was written: if that can't be printed, the error says that the work is done."""
    try:
        yield
    except CannotPrint as error:
        done = f"{what} is written, in {printable(str(where))}, but its report"
        raise CannotPrint(error.reason, done) from None
