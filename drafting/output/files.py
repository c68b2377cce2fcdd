"""Whole files only: written beside, then renamed."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path as File


def write_whole(path: str | os.PathLike[str], data: bytes) -> None:
    """Write a file so that it is there whole or not at all.

    The bytes go to a new file in the same folder, which takes the name at the end; on an error or an interruption
    that file is removed and whatever had the name before stays. OSError as the system gives it.
    """
    target = File(path)
    handle, beside = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(beside, 0o666 & ~_umask())
        os.replace(beside, target)
    except BaseException:
        _remove(beside)
        raise


def _umask() -> int:
    """Return the process's mask for new files; reading it means setting it for a moment."""
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def _remove(path: str) -> None:
    try:
        os.unlink(path)
    except FileNotFoundError:
        return
