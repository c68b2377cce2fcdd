"""Writing files into a folder together, and settling what a run that was killed left there."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

from drafting.errors import InputError, Problem
from drafting.folder.journal import Journal, Workplace, clear, finish, is_plain, settle, undo, write_new
from drafting.folder.lock import Telling, hold_signals, lock_folder
from drafting.folder.ours import is_own, is_there, refuse_foreign, refuse_place
from drafting.refusal import refusal_of
from drafting.seal import WORKING
from drafting.text import printable


def write_files(
    folder: Path,
    files: Mapping[str, bytes],
    telling: Telling,
    command: str,
    *,
    over: Collection[str] = (),
    drop: Collection[str] = (),
) -> None:
    """Write files into a folder, made if need be; InputError, and nothing changed, if they can't be written.

    Only files that the ``command`` made, or one of those in ``over``, are written over; those named in ``drop`` are
    taken away, if it was the ``command`` that made them and none of the new ones has their name. ``telling`` is told
    when another run must be waited for.
    """
    with _in_words(folder):
        refuse_place(folder)
    odd = [name for name in files if not is_plain(name)]
    if odd:
        raise InputError([Problem(printable(str(folder)), "a file needs a name of its own", mend="name one")])
    made: list[Path] = []
    with (
        _in_words(folder),
        hold_signals() as held,
        _taking_back(made),
        lock_folder(folder, telling, held, lambda: _make_folders(folder, made)),
        _taking_back(made),  # before the lock goes
    ):
        at = Workplace(folder)
        settle(at)
        refuse_foreign(folder, files, (command, *over))
        gone = [name for name in drop if name not in files and is_own(folder / name, (command,))]
        _exchange(at, files, Journal(tuple(files), tuple(gone), (command, *over)))


def settle_folder(folder: Path, telling: Telling) -> None:
    """Finish or clear away what a run that was killed left in a folder that is to be read.

    InputError where it must be finished and can't be. Costs one look where nothing was left.
    """
    at = Workplace(folder)
    if not os.path.lexists(at.root):
        return
    with _in_words(folder), hold_signals() as held, lock_folder(folder, telling, held):
        try:
            settle(at)
        except OSError:
            if is_there(at.journal):
                raise


def _exchange(at: Workplace, files: Mapping[str, bytes], journal: Journal) -> None:
    """Make the new pattern of the old one, or leave the old one."""
    try:
        write_new(at, files, journal)
    except BaseException:
        _clear_quietly(at)
        raise
    try:
        finish(at, journal)
    except (OSError, InputError):
        _put_back(at, journal)
        _clear_quietly(at)
        raise
    _clear_quietly(at)


def _put_back(at: Workplace, journal: Journal) -> None:
    try:
        undo(at, journal)
    except OSError as error:
        says = f"the new files can't all be put in their places, nor the old ones back: {refusal_of(error)[0]}"
        mend = f"nothing is lost: what isn't in its place lies in {WORKING}, and the next run finishes it"
        raise InputError([Problem(printable(str(at.folder)), says, mend=mend)]) from None


def _clear_quietly(at: Workplace) -> None:
    """Take away what is idle now; where that can't be done, the next run does."""
    for _ in range(2):  # a disk that fails once may not do so twice
        with contextlib.suppress(OSError, InputError):
            clear(at)
            return


def _make_folders(folder: Path, made: list[Path]) -> None:
    for part in (*reversed(folder.parents), folder):
        if not os.path.isdir(part):
            try:
                os.mkdir(part)
            except FileExistsError:
                if not os.path.isdir(part):
                    raise
            else:
                made.append(part)


@contextlib.contextmanager
def _taking_back(made: list[Path]) -> Iterator[None]:
    """Take away the folders made, so far as nothing came to stand in them, if what follows fails."""
    try:
        yield
    except BaseException:
        while made:
            with contextlib.suppress(OSError):
                os.rmdir(made.pop())
        raise


@contextlib.contextmanager
def _in_words(folder: Path) -> Iterator[None]:
    """Tell what a disk refuses as a problem with the folder."""
    try:
        yield
    except OSError as error:
        name = Path(str(error.filename)).name if error.filename else ""
        about = f" ({printable(name)})" if name not in ("", folder.name) and WORKING not in str(error.filename) else ""
        reason, mend = refusal_of(error)
        says = f"the files can't be written here: {reason}{about}"
        raise InputError([Problem(printable(str(folder)), says, mend=mend)]) from None
