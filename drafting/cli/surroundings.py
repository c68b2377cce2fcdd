"""What surrounds the work and isn't its fault: streams closed, full or read no more, and what a system refuses.

A stream that is closed, or whose reader has gone, is one that nobody reads: what is printed there goes nowhere, and the
work ends with its own status. What was to be read and is lost (a report sent into a file on a full disk) is told on the
other stream, and is status 2 though the files asked for were written.
"""

from __future__ import annotations

import contextlib
import errno
import io
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from drafting.errors import DraftingError
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


def refusal_of(error: OSError) -> tuple[str, str]:
    """Return what a system's refusal means, and what to do about it, for files that were to be read or written."""
    if error.errno == errno.ENOENT and _working_folder_is_gone():
        return "the folder you are in is gone", "go into another folder, and run it again"
    taken = "name a folder elsewhere, or move away what stands there"
    full = "free some room there, or name a folder on another disk"
    viewer = "name a folder that you may write to, or close the files if a viewer holds them open"
    reason = printable(error.strerror or str(error))
    told = {
        errno.EACCES: (reason, viewer),
        errno.EPERM: (reason, viewer),
        errno.EBUSY: (reason, viewer),
        errno.ENOTDIR: ("a file stands where a folder is meant", taken),
        errno.EEXIST: ("a file stands where a folder is meant", taken),
        errno.EISDIR: ("a folder stands where a file is meant", taken),
        errno.ENOSPC: ("the disk is full", full),
        errno.EDQUOT: ("your share of the disk is full", full),
        errno.EFBIG: ("the disk takes no file as large as this", full),
        errno.EROFS: ("the disk can only be read", "name a folder that you may write to"),
        errno.ENAMETOOLONG: ("the name is too long", "choose a shorter one"),
        errno.EIO: (
            "the disk, or the way to it, fails",
            "see that it is still there, or name a folder on another disk",
        ),
        errno.EMFILE: ("too many files are open", "close other programs, and run it again"),
        errno.ENFILE: ("too many files are open", "close other programs, and run it again"),
    }
    return told.get(error.errno or 0, (reason, "name another place, or see that this one can be used"))


def _working_folder_is_gone() -> bool:
    try:
        os.getcwd()
    except OSError:
        return True
    return False
