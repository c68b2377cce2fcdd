"""The small picture of a garment worn that ``wear`` makes, as the booklet of the same draft shows it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from drafting.cli.work import WEAR

if TYPE_CHECKING:
    from drafting.output.painted import PaintedPicture

SMALL: Final = "worn-small.png"
LARGEST: Final = 2_000_000
"""Bytes of it at most."""


def find_picture(folders: Iterable[Path], mark: str) -> PaintedPicture | None:
    """Return the picture of the draft of this mark, from the first of the folders that has one; None if none has.

    It is made only of a drape that isn't void. One that anybody changed, or that can't be read, is left alone.
    """
    for folder in folders:
        try:
            found = _read_picture(folder / SMALL, mark)
        except (OSError, ValueError):
            continue
        if found is not None:
            return found
    return None


def _read_picture(file: Path, mark: str) -> PaintedPicture | None:
    from drafting.folder.ours import is_own
    from drafting.seal import SEAL_WITHIN, read_seal
    from drafting.ticket.ordinary import OddFile, read_ordinary

    if not is_own(file, (WEAR,)):
        return None
    from drafting.output.painted import read_painted

    try:
        data = read_ordinary(file, LARGEST)
    except OddFile:
        return None
    seal = read_seal(data[:SEAL_WITHIN])
    return read_painted(data) if seal is not None and seal.draft == mark else None
