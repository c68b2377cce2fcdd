"""A picture made of dots, as a PNG file (ISO/IEC 15948) that goes into a PDF or a page of HTML as it is."""

from __future__ import annotations

import struct
import zlib
from typing import Final

from drafting.record import dataclass

_HEAD: Final = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"
_TRUE_COLOUR: Final = b"\x08\x02\x00\x00\x00"
"""Eight bits for red, green and blue each, not interlaced."""
_MOST: Final = 4096
"""Dots each way at most."""


@dataclass(frozen=True, slots=True)
class PaintedPicture:
    """A picture: its whole file, its dots packed in rows as they stand in it, and how many it is wide and high."""

    file: bytes
    rows: bytes
    wide: int
    high: int


def read_painted(file: bytes) -> PaintedPicture | None:
    """Return a PNG file of plain colours as a picture; None for anything else, or one that is damaged."""
    if not file.startswith(_HEAD) or file[24:29] != _TRUE_COLOUR:
        return None
    wide, high = struct.unpack(">II", file[16:24])
    if not (0 < wide <= _MOST and 0 < high <= _MOST):
        return None
    rows, at = b"", len(_HEAD) - 8
    while at + 12 <= len(file):
        (size,) = struct.unpack(">I", file[at : at + 4])
        rows += file[at + 8 : at + 8 + size] if file[at + 4 : at + 8] == b"IDAT" else b""
        at += 12 + size
    return PaintedPicture(file, rows, wide, high) if _is_whole(rows, (3 * wide + 1) * high) else None


def _is_whole(rows: bytes, size: int) -> bool:
    """Whether what is packed is of that many bytes."""
    try:
        return len(zlib.decompressobj().decompress(rows, size + 1)) == size
    except zlib.error:
        return False
