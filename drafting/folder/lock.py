"""One writer at a time, and none that is stopped halfway: the lock on a folder, and signals held back.

The folder itself is locked where the system can do that, and nothing is left behind then however a run ends; elsewhere
it is a file in the hidden folder. Either lock goes with the process that holds it.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Final

from drafting.errors import InputError, Problem
from drafting.folder.journal import LOCK_FILE
from drafting.folder.ours import real_names, refuse_odd
from drafting.seal import WORKING
from drafting.text import printable

Telling = Callable[[str], None]
"""Told a sentence that the user should read."""

LONGEST_WAIT: Final = 8.0
"""Seconds that a run waits for another to be done with a folder (from memory: one takes a second)."""

_PAUSE: Final = 0.05
_TRIES: Final = 5

if sys.platform == "win32":
    import msvcrt

    def _lock_opened(opened: int) -> None:
        """Lock an open file; BlockingIOError if another process has it."""
        try:
            msvcrt.locking(opened, msvcrt.LK_NBLCK, 1)
        except PermissionError:
            raise BlockingIOError from None
else:
    import fcntl

    def _lock_opened(opened: int) -> None:
        """Lock an open file or folder; BlockingIOError if another process has it."""
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextlib.contextmanager
def lock_folder(
    folder: Path, telling: Telling, held: Sequence[int], ready: Callable[[], None] = lambda: None
) -> Iterator[None]:
    """Hold a folder's lock; InputError, in a sentence, if another run has it for longer than ``LONGEST_WAIT``.

    ``ready`` sees before each try that the folder is there. A signal among those ``held`` ends the waiting.
    """
    release, until = _try_lock(folder, telling, ready), time.monotonic() + LONGEST_WAIT
    if release is None:
        telling(f"another run is writing into {printable(str(folder))}: waiting for it")
    while release is None:
        if held:
            raise KeyboardInterrupt
        if time.monotonic() > until:
            says = "another run is still writing into this folder"
            raise InputError([Problem(printable(str(folder)), says, mend="wait until it is done, and run this again")])
        time.sleep(_PAUSE)
        release = _try_lock(folder, telling, ready)
    try:
        yield
    finally:
        release()


@contextlib.contextmanager
def hold_signals() -> Iterator[Sequence[int]]:
    """Hold back every signal that asks to stop, and let the first through at the end; yields those that came so far."""
    held: list[int] = []
    if threading.current_thread() is not threading.main_thread():
        yield held
        return
    names = ("SIGINT", "SIGTERM", "SIGHUP")
    signs = [getattr(signal, name) for name in names if hasattr(signal, name)]
    before = {sign: signal.getsignal(sign) for sign in signs}
    heeded = {sign: handler for sign, handler in before.items() if handler not in (signal.SIG_IGN, None)}
    for sign in heeded:
        signal.signal(sign, lambda number, _: held.append(number))
    try:
        yield held
    finally:
        for sign, handler in heeded.items():
            signal.signal(sign, handler)
        for number in held[:1]:
            signal.raise_signal(number)


def _try_lock(folder: Path, telling: Telling, ready: Callable[[], None]) -> Callable[[], None] | None:
    """Lock the folder and return what unlocks it; None if another run has it, or took it away meanwhile."""
    _make_ready(ready)
    try:
        return _lock_directory(folder) if os.name != "nt" else _lock_within(folder)
    except (BlockingIOError, FileNotFoundError):
        return None
    except _NoLocks:
        pass
    try:
        return _lock_within(folder)
    except (BlockingIOError, FileNotFoundError):
        return None
    except OSError:
        telling(f"{printable(str(folder))} can't be locked: see that no other run writes into it meanwhile")
        return lambda: None


def _make_ready(ready: Callable[[], None]) -> None:
    """See that the folder is there: another run may take one away just then, but not each time."""
    for _ in range(_TRIES):
        with contextlib.suppress(FileNotFoundError):
            return ready()
    return ready()


class _NoLocks(Exception):
    """A folder itself can't be locked on this disk."""


def _lock_directory(folder: Path) -> Callable[[], None]:
    opened = os.open(folder, os.O_RDONLY)
    try:
        try:
            _lock_opened(opened)
        except BlockingIOError:
            raise
        except OSError as error:
            raise _NoLocks from error
        if not os.path.samestat(os.fstat(opened), os.stat(folder)):
            raise FileNotFoundError
        _take_left_lock(folder / WORKING)
    except BaseException:
        os.close(opened)
        raise
    return partial(_unlock, opened)


def _take_left_lock(root: Path) -> None:
    """Take out a lock file left by a run that couldn't lock the folder; BlockingIOError if it still holds that."""
    if LOCK_FILE not in real_names(root):
        return
    refuse_odd(root / LOCK_FILE)
    try:
        opened = os.open(root / LOCK_FILE, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
        try:
            _lock_opened(opened)
            os.unlink(root / LOCK_FILE)
        finally:
            _unlock(opened)
    except BlockingIOError:
        raise
    except OSError:  # it does no harm there, and this run has the folder's own lock
        return


def _unlock(opened: int) -> None:
    with contextlib.suppress(OSError):
        os.close(opened)


def _lock_within(folder: Path) -> Callable[[], None]:
    """Lock a file in the hidden folder, made for it."""
    root = folder / WORKING
    with contextlib.suppress(FileExistsError):
        os.mkdir(root)
    if LOCK_FILE in real_names(root):
        refuse_odd(root / LOCK_FILE)
    opened = os.open(root / LOCK_FILE, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0))
    try:
        _lock_opened(opened)
        if not os.path.samestat(os.fstat(opened), os.stat(root / LOCK_FILE)):
            raise FileNotFoundError
    except (BlockingIOError, FileNotFoundError):
        _unlock(opened)
        raise
    except BaseException:
        _release_within(opened, root)
        raise
    return partial(_release_within, opened, root)


def _release_within(opened: int, root: Path) -> None:
    """Take the lock away, and the hidden folder if nothing else is in it; whoever waits for it makes it anew."""
    if os.name == "nt":  # what is open can't be taken away there
        _unlock(opened)
    with contextlib.suppress(OSError):
        os.unlink(root / LOCK_FILE)
        os.rmdir(root)
    if os.name != "nt":
        _unlock(opened)
