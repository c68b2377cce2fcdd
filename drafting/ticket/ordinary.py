"""Reading what someone else names: ordinary files only, and no more of them than is meant.

A pipe that no one writes to would hold the reader for ever, a device never ends, and a file of a system's own (as in
``/proc``) may do either though it calls itself ordinary.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

_NO_WAIT = getattr(os, "O_NONBLOCK", 0)
"""Where there are pipes in the file system, opening one waits for its other end unless told not to."""


class OddFile(Exception):
    """What stands there is no ordinary file, or a larger one than is meant; ``read`` says which."""

    def __init__(self, read: str) -> None:
        super().__init__(read)
        self.read = read


def read_ordinary(path: Path, most: int) -> bytes:
    """Return what an ordinary file holds; OddFile if it isn't one, or holds more than ``most`` bytes.

    OSError or ValueError, as Python raises them, where it isn't there or can't be read. Never are more than ``most``
    bytes read, and one to see that there are more.
    """
    _refuse_odd(path.stat())
    with open(path, "rb", opener=_open_at_once) as file:
        _refuse_odd(os.fstat(file.fileno()))  # another may stand there by now
        data = file.read(most + 1)
    if data is None:  # open, but with nothing to be read as yet
        raise OddFile("this is not an ordinary file")
    if len(data) > most:
        raise OddFile("this file is too large")
    return data


def _open_at_once(path: str, flags: int) -> int:
    return os.open(path, flags | _NO_WAIT)


def _refuse_odd(found: os.stat_result) -> None:
    if stat.S_ISDIR(found.st_mode):
        raise OddFile("this is a folder")
    if not stat.S_ISREG(found.st_mode):
        raise OddFile("this is not an ordinary file")
