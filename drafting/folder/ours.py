"""Telling the program's own files from all others: by their seal, read from their first bytes."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path

from drafting.errors import InputError, Problem
from drafting.record import dataclass
from drafting.seal import SEAL_WITHIN, WORKING, Seal, read_seal
from drafting.text import printable

_MOVE_AWAY = "move it away or give it another name, or name another place to write to"
_PLAINLY = sum(getattr(os, word, 0) for word in ("O_BINARY", "O_NOCTTY", "O_NONBLOCK", "O_NOFOLLOW"))


@dataclass(frozen=True, slots=True)
class Older:
    """A file of another draft that lies in a pattern's folder: its name, the command that made it, its draft's mark."""

    name: str
    command: str
    draft: str


def refuse_foreign(folder: Path, names: Iterable[str], over: Collection[str]) -> None:
    """Do nothing if each name is free, or that of a file as one of the commands ``over`` made it; else InputError.

    All that stand in the way are told. OSError where that can't be found out.
    """
    told = [(folder / name, _foreign(folder / name, over)) for name in names]
    problems = [Problem(printable(str(path)), reason, mend=_MOVE_AWAY) for path, reason in told if reason]
    if problems:
        raise InputError(problems)


def is_there(path: Path) -> bool:
    """Tell whether anything is called so; OSError, not no, where that can't be found out."""
    try:
        os.lstat(path)
    except FileNotFoundError:
        return False
    return True


def is_own(path: Path, over: Collection[str]) -> bool:
    """Tell whether there is a file as one of the commands ``over`` made it."""
    return is_there(path) and not _foreign(path, over)


def is_left(path: Path, named: bool) -> bool:
    """Tell whether a file made ready is this program's: one ``named`` by a journal, half written perhaps, or sealed."""
    return (named and stat.S_ISREG(os.lstat(path).st_mode)) or _seal_of(path) is not None


def refuse_place(folder: Path) -> None:
    """Refuse a folder to write into that a link leads nowhere from, or within a hidden one: what lies there goes."""
    parts = (*folder.parts, *Path(os.path.realpath(folder)).parts)
    if WORKING in map(str.casefold, parts):
        says = f"in {WORKING} this program makes files ready, and takes away what lies there"
        raise InputError([Problem(printable(str(folder)), says, mend="name another place to write to")])
    for part in (*reversed(folder.parents), folder):
        if os.path.islink(part) and not os.path.isdir(part):
            mend = "take it away, or name another place to write to"
            raise InputError([Problem(printable(str(part)), "this is a link, and leads to no folder", mend=mend)])


def refuse_odd(path: Path) -> None:
    """Do nothing if a file of the program's own is a file; InputError if it is a link, a folder or a pipe."""
    mode = os.lstat(path).st_mode
    if not stat.S_ISREG(mode):
        raise InputError(
            [Problem(printable(str(path)), f"{_kind(mode)} of this name is in the way", mend="move it away")]
        )


def find_older(folder: Path, draft: str, command: str) -> tuple[Older, ...]:
    """Return what other commands than ``command`` made in the folder for another draft, by name."""
    found: list[Older] = []
    with contextlib.suppress(OSError):
        for name in sorted(os.listdir(folder)):
            seal = _seal_of(folder / name) if name.endswith(".pdf") else None
            if seal is not None and seal.command != command and seal.draft != draft:
                found.append(Older(name, seal.command, seal.draft))
    return tuple(found)


def _foreign(path: Path, over: Collection[str]) -> str:
    """Why what is called so is none of the files that the commands ``over`` made; "" if it is one, or there is none."""
    try:
        status = os.lstat(path)
    except FileNotFoundError:
        return ""
    if not stat.S_ISREG(status.st_mode):
        return f"{_kind(status.st_mode)} of this name is in the way"
    seal = _read_seal(path)
    if seal is None:
        return "this file isn't one that Blockwright made, and is not written over"
    if seal.size != status.st_size:
        return "this file was changed since Blockwright made it, and is not written over"
    if seal.command not in over:
        return f"this file was made by “blockwright {seal.command}”, and is not written over"
    return ""


def _kind(mode: int) -> str:
    kinds = ((stat.S_ISDIR, "a folder"), (stat.S_ISLNK, "a link"), (stat.S_ISFIFO, "a pipe"))
    return next((words for is_one, words in kinds if is_one(mode)), "a device")


def _seal_of(path: Path) -> Seal | None:
    """The seal of a file that is still as it was made; None for anything else, and what can't be read."""
    with contextlib.suppress(OSError):
        status = os.lstat(path)
        seal = _read_seal(path) if stat.S_ISREG(status.st_mode) else None
        if seal is not None and seal.size == status.st_size:
            return seal
    return None


def _read_seal(path: Path) -> Seal | None:
    return read_seal(read_start(path, SEAL_WITHIN))


def read_start(path: Path, most: int) -> bytes:
    """Return the first bytes of a file; no link is followed, and no pipe waited for."""
    opened = os.open(path, os.O_RDONLY | _PLAINLY)
    try:
        return os.read(opened, most)
    finally:
        os.close(opened)


def real_names(folder: Path) -> Iterator[str]:
    """Yield the names in a folder of the program's own; none if it isn't there, InputError if it is something else."""
    try:
        mode = os.lstat(folder).st_mode
    except FileNotFoundError:
        return
    if not stat.S_ISDIR(mode):
        words = f"{_kind(mode)} of this name is in the way" if not stat.S_ISREG(mode) else "a file is in the way"
        raise InputError([Problem(printable(str(folder)), words, mend="move it away")])
    yield from sorted(os.listdir(folder))
