"""A disk that fails or stops at a chosen call, put beneath ``drafting.folder``; and tiny files with seals."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from drafting.errors import InputError
from drafting.folder import settle_folder, write_files
from drafting.seal import SEAL_ROOM, seal_file

MODULES = ("journal", "lock", "ours", "write")
READING = ("lstat", "stat", "fstat", "listdir", "read", "open")
WRITING = ("write", "fsync", "close", "mkdir", "rmdir", "unlink", "replace")
NAMES = ("a.pdf", "b.pdf", "c.json")
DROPPED = "e.pdf"
"""What the old pattern has and the new one hasn't."""


def _do_nothing(_: int) -> None:
    """Stands for forcing down to the disk, which is slow and which nothing here can see."""


class Stopped(BaseException):
    """The process is killed: nothing that it would still do is done."""


@dataclass
class Disk:
    """Stands for ``os``: counts its calls, and at the ``at``-th fails with ``error``, or stops if that is None.

    ``lasting``: all calls from then on do. A write that stops has written half.
    """

    at: int = 0
    error: int | None = None
    lasting: bool = True
    calls: int = 0
    opened: set[int] = field(default_factory=set)

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name) if name != "fsync" else _do_nothing
        return self._counted(name, real) if name in (*READING, *WRITING) else real

    def _counted(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **more: Any) -> Any:
            self.calls += 1
            if self.at and (self.calls == self.at or (self.lasting and self.calls > self.at)):
                self._fail(name, real, args)
            got = real(*args, **more)
            if name == "open":
                self.opened.add(got)
            elif name == "close":
                self.opened.discard(args[0])
            return got

        return call

    def _fail(self, name: str, real: Callable[..., Any], args: tuple[Any, ...]) -> None:
        if self.error is None:
            if name == "write" and self.calls == self.at:
                real(args[0], args[1][: len(args[1]) // 2])
            raise Stopped
        if self.error == errno.ENOSPC and name not in ("write", "mkdir", "open", "fsync"):
            return
        if name == "close":  # a file whose closing fails is closed all the same
            real(*args)
            self.opened.discard(args[0])
        raise OSError(self.error, os.strerror(self.error), str(args[0]))

    @property
    def reached(self) -> bool:
        """Whether the call was come to at which it fails."""
        return self.calls >= self.at


@contextmanager
def beneath(disk: Disk) -> Iterator[Disk]:
    """Put a disk beneath the writing of files; what a stopped process held open is closed, as the system would."""
    with pytest.MonkeyPatch.context() as patch:
        for module in MODULES:
            patch.setattr(f"drafting.folder.{module}.os", disk)
        try:
            yield disk
        finally:
            for opened in disk.opened:
                os.close(opened)


def drawing(text: str, command: str = "make", draft: str = "AAAAAA") -> bytes:
    """Return a tiny file with a seal."""
    return seal_file(f'<?xml version="1.0"?>\n<!-- {SEAL_ROOM} -->\n{text}\n'.encode(), command, draft)


def pattern(text: str, *more: str) -> dict[str, bytes]:
    """Return the files of a tiny pattern."""
    return {name: drawing(f"{text} {name}") for name in (*NAMES, *more)}


def hush(_: str) -> None:
    """Be told nothing."""


def write(folder: Path, text: str, *more: str) -> None:
    """Write a tiny pattern, over another."""
    write_files(folder, pattern(text, *more), hush, "make", drop=(DROPPED,))


def held(folder: Path) -> dict[str, bytes]:
    """Return all that a folder holds, hidden files too, by its path in it."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


NOTES = {"notes.txt": b"mine"}
OLD, NEW = {**pattern("old", DROPPED), **NOTES}, {**pattern("new, and longer,"), **NOTES}


def lay_old(folder: Path) -> None:
    """Make a folder with an older pattern and someone's notes."""
    with beneath(Disk()):
        write(folder, "old", DROPPED)
    (folder / "notes.txt").write_bytes(b"mine")


def write_new(folder: Path, disk: Disk | None = None) -> str:
    """Write the new pattern on a disk; return how that ended: "" if well, "stopped", or what was refused."""
    try:
        with beneath(disk or Disk()):
            write(folder, "new, and longer,")
    except Stopped:
        return "stopped"
    except InputError as error:
        return str(error)
    return ""


def settled(folder: Path) -> dict[str, bytes]:
    """What a folder holds once another command has come to read there; nothing hidden, not even a folder."""
    with beneath(Disk()):
        settle_folder(folder, hush)
    assert not [path for path in folder.rglob("*") if path.is_dir()]
    return held(folder)
