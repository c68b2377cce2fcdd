"""Writing several files into a folder together: all beside first, then all renamed, or none.

Whatever happens meanwhile (an error, a full disk, an interruption, an old file held open by a viewer), the folder
holds either all of the old files or all of the new ones.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from drafting.errors import InputError, Problem
from drafting.text import printable

BESIDE = ".blockwright-unfinished-"
"""How the folder is called in which files lie while they are written."""

STALE = 86_400.0
"""Seconds after which what lies beside is no longer being written."""

Making = Callable[[], bytes]
"""Makes what a file is to hold."""


def write_together(folder: Path, files: Mapping[str, Making]) -> None:
    """Write files into a folder, made if need be; InputError, and nothing changed, if they can't be written.

    Each is made when it is its turn. Only the files named are replaced; others in the folder stay.
    """
    made: list[Path] = []
    try:
        _make_folders(folder, made)
        _sweep_old_files(folder)
        with TemporaryDirectory(prefix=BESIDE, dir=folder) as beside:
            for name, make in files.items():
                (Path(beside) / name).write_bytes(make())
            with _hold_interruptions():
                _move_all(Path(beside), folder, list(files))
    except OSError as error:
        _remove_folders(made)
        raise _writing_error(folder, error) from None
    except BaseException:
        _remove_folders(made)
        raise


def write_one(file: Path, text: str) -> None:
    """Write one text file, beside first and then renamed; InputError if it can't be written."""
    write_together(file.parent, {file.name: lambda: text.encode()})


def _make_folders(folder: Path, made: list[Path]) -> None:
    for part in (*reversed(folder.parents), folder):
        if not part.is_dir():
            part.mkdir()
            made.append(part)


def _sweep_old_files(folder: Path) -> None:
    """Take away what a killed run left beside, once it is a day old and no run can still be writing there."""
    for left in folder.glob(f"{BESIDE}*"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > STALE:
                shutil.rmtree(left, ignore_errors=True)


def _remove_folders(made: list[Path]) -> None:
    """Take away the folders made, so far as nothing came to stand in them."""
    with contextlib.suppress(OSError):
        for part in reversed(made):
            part.rmdir()


def _move_all(beside: Path, folder: Path, names: list[str]) -> None:
    """Put new files in the place of old ones; at the first that can't be, put every old one back."""
    kept: list[str] = []
    placed: list[str] = []
    old = beside / "old"
    old.mkdir()
    try:
        for name in names:
            if (folder / name).is_dir():
                raise IsADirectoryError(0, "a folder stands in its place", name)
            with contextlib.suppress(FileNotFoundError):
                os.replace(folder / name, old / name)
                kept.append(name)
            os.replace(beside / name, folder / name)
            placed.append(name)
    except OSError:
        for name in placed:
            os.replace(folder / name, beside / name)
        for name in kept:
            os.replace(old / name, folder / name)
        raise


@contextlib.contextmanager
def _hold_interruptions() -> Iterator[None]:
    """Hold an interruption back for the moment in which files change places, and let it through after."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[int] = []
    before = {
        sign: signal.signal(sign, lambda number, _: held.append(number)) for sign in (signal.SIGINT, signal.SIGTERM)
    }
    try:
        yield
    finally:
        for sign, handler in before.items():
            signal.signal(sign, handler)
        for number in held[:1]:
            signal.raise_signal(number)


def _writing_error(folder: Path, error: OSError) -> InputError:
    from drafting.cli.surroundings import refusal_of

    reason, mend = refusal_of(error)
    name = Path(str(error.filename)).name if error.filename else ""
    about = f" ({printable(name)})" if name and not name.startswith(BESIDE) else ""
    return InputError(
        [
            Problem(
                where=printable(str(folder)),
                read=f"the files can't be written here: {reason}{about}",
                allowed="",
                mend=mend,
            )
        ]
    )
